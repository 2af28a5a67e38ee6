"""The dialog, driven by typed lines: every key, every way out, and whatever a cold hand may type."""

import json
import os
import re
import shlex
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from diagnose.cli import main
from diagnose.plate import Plate
from diagnose.talk.listening import listen_to_terminal, pick
from diagnose.talk.telling import tell

# A whole talk: a sign by its number, one by a synonym, a reason, answers of every kind, a slip, undo, more, a remedy tried.
WHOLE_TALK = [
    "1",
    "oyster shells",
    "",
    "w",
    "1",
    "?",
    "n",
    "u",
    "nonsense",
    "m",
    "s",
    "comets",
    "",
    "1",
    "t",
    "1",
    "1",
    "?",
]
KEYS = ["", "?", "w", "u", "s", "m", "t", "h", "y", "n", "1", "2", "3", "9", "fog", "comets", "20", "31 °c", "q"]
HOSTILE = [
    "\x1b[2J\x1b[31m", "\x00", "\r", "\x9b31m", "\u202e", "'; rm -rf /", "$(reboot)", "0000012", "1" * 5000, "²", "١", "-1",
    "1e999", "nan", "inf °c", "1,5 min", "9" * 12 + " °c", "%s %n", "{0}", "[bold]", ":smile:", "no", "yes", "present", "ß",
    "--help", "comets:place=scattered", "a" * 3000, "🂡", "\ud800",
]  # fmt: skip


def retold(command: str) -> dict:
    """The plate a printed command tells, read by the command line's own parser."""
    words = shlex.split(command)
    assert words[:2] == ["diagnose", "plate"]
    program = click.Context(main, info_name="diagnose", **main.context_settings)
    given_ = main.commands["plate"].make_context("plate", words[2:], parent=program).params
    return tell(
        given_["file"],
        present=(*given_["signs"], *given_["shows"]),
        absent=given_["not_there"],
        unsure=given_["unsure"],
        unknown=given_["cannot_tell"],
        conditions=given_["condition"],
        checks=given_["checks"],
        tried=given_["tried"],
    ).told()


def assert_printed_back(talked) -> None:
    """What was entered stands at the end as a command that tells the same plate; nothing entered, no command."""
    if any(talked.told.values()):
        assert talked.screen.rstrip().splitlines()[-1] == talked.command
        assert "--talk" in shlex.split(talked.command)
        assert retold(talked.command) == talked.told
    else:
        assert not talked.command


def shown_after(talked, typed: str) -> str:
    """What the screen says between a typed line and the next prompt."""
    return talked.screen.split(f"> {typed}\n", 1)[1].split("> ", 1)[0]


# Choosing ------------------------------------------------------------------


def test_a_sign_by_its_number(talk):
    talked = talk(["1"])
    first = re.search(r"^  1 ([^:]+):", talked.screen, re.MULTILINE)[1]
    assert f"Noted: {first}." in talked.screen
    assert len(talked.told["symptoms"]) == 1


@pytest.mark.parametrize("word", ["oyster shells", "Oyster-Shell Marks", "  OYSTERS  ", "oyster_shell_marks"])
def test_a_sign_by_any_of_its_names(word, talk):
    assert talk([word]).told["symptoms"] == {"oyster-shell-marks": {"answer": "present"}}


def test_a_word_for_several_signs_lists_them_to_choose_from(talk):
    talked = talk(["edge", "2"])
    listed = re.findall(r"^  (\d) ", shown_after(talked, "edge"), re.MULTILINE)
    assert listed[:2] == ["1", "2"]
    assert len(talked.told["symptoms"]) == 1


def test_an_unknown_word_is_met_with_other_words(talk):
    talked = talk(["xyzzyplugh"])
    assert "No sign is called that." in shown_after(talked, "xyzzyplugh")
    assert not talked.told["symptoms"]


def test_a_sign_told_already_under_another_name_is_told_once(talk):
    told = {"symptoms": {"oyster shells": {"colour": "silvery"}}}
    talked = talk(["s", "oyster-shell-marks", ""], told)
    assert talked.told["symptoms"] == {"oyster shells": {"answer": "present", "colour": "silvery"}}


def test_yes_and_no(talk):
    for typed, word in (("y", "yes"), ("n", "no"), ("1", "yes"), ("2", "no"), ("yes", "yes"), ("NO", "no")):
        assert pick(typed.casefold(), ["yes", "no"]) == word
    assert pick("y", ["yes", "no", "perhaps"]) is None
    assert pick("3", ["yes", "no"]) is None
    assert pick("0", ["yes", "no"]) is None
    assert pick("0000012", ["yes", "no"]) is None


def answer_until(talk, wanted, told):
    """Say "don't know" until a question of a wanted kind is put; returns the lines typed so far and the question."""
    lines: list[str] = []
    while len(lines) < 40:
        talked = talk(lines, told)
        assert talked.dialog.rests == 0, "no such question is put"
        question = talked.dialog.put_so_far[-1]
        if wanted(question, talked.dialog.knowledge):
            return lines, question
        lines.append("?")
    raise AssertionError("no end of questions")


def is_amount(question, knowledge):
    return question in knowledge.conditions and knowledge.conditions[question].kind == "quantity"


FOGGED = {"symptoms": {"fog": True}}
COMETS = {"symptoms": {"comets": True}}


def test_why_a_question_is_asked_leaves_it_open(talk):
    talked = talk(["w", "w", "?"], FOGGED)
    assert re.search(r"It (parts|tells|says)", shown_after(talked, "w"))
    assert talked.dialog.answers == talked.dialog.put_so_far[:1]


def test_dont_know_is_taken_and_kept(talk):
    talked = talk(["?"], FOGGED)
    name = talked.dialog.answers[0]
    told = talked.told
    assert "?" in (told["conditions"].get(name), told["checks"].get(name)) or told["symptoms"][name] == {
        "answer": "cant-tell"
    }


@pytest.mark.parametrize("slip", ["warm", "", "999999 °c", "3 furlongs", "-", "1,2,3", "0x10", "°c"])
def test_a_bad_amount_is_asked_again(slip, talk):
    lines, question = answer_until(talk, is_amount, FOGGED)
    talked = talk([*lines, slip, "?"], FOGGED)
    assert talked.dialog.put_so_far.count(question) == 1  # not put anew: said what is wrong, and heard again
    assert talked.dialog.answers[-1] == question
    assert talked.told["conditions"][question] == "?"
    said = talk([*lines, slip], FOGGED).screen.split("> ")[-2]
    assert re.search(rf"(That is not one of the answers|{question}: )", said)


def test_a_bare_amount_is_taken_in_the_unit_that_was_named(talk, knowledge):
    lines, question = answer_until(talk, is_amount, FOGGED)
    low, high = knowledge.conditions[question].range
    number = f"{(low + high) / 2:g}"
    talked = talk([*lines, number], FOGGED)
    assert talked.told["conditions"][question] == f"{number} {knowledge.conditions[question].unit}"


def test_how_a_sign_looks_is_kept_with_the_sign(talk):
    lines, question = answer_until(talk, lambda name, knowledge: "." in name, COMETS)
    symptom, _, attribute = question.partition(".")
    assert attribute in talk([*lines, "1"], COMETS).told["symptoms"][symptom]


# Keys ----------------------------------------------------------------------


def test_undo_restores_exactly(talk):
    lines = ["1", "comets", "", "?", "?", "1"]
    states = [talk(lines[:count]).told for count in range(len(lines) + 1)]
    for count in range(4, len(lines) + 1):
        steps = len(lines[3:count])
        undone = talk([*lines[:count], *["u"] * steps])
        assert undone.told == states[3]
        assert shown_after(undone, "u").startswith("Taken back.")
    assert talk(["1", "comets", "u"]).told == states[1]
    assert talk(["1", "comets", "u", "u"]).told == states[0]
    assert talk(["1", "comets", "", "u", "u", "u"]).told == states[0]


def test_undo_of_nothing_is_said(talk):
    assert "There is nothing to take back." in talk(["u"]).screen
    assert "There is nothing to take back." in talk(["", "u"]).screen


def test_undo_leaves_what_the_command_line_told(talk):
    talked = talk(["u", "u", "?", "u", "u"], FOGGED)
    assert talked.told == Plate.read(FOGGED).told()


def test_another_sign(talk):
    talked = talk(["s", "comets", "", "?"], FOGGED)
    assert list(talked.told["symptoms"])[:2] == ["fog", "comets"]
    assert len(talked.dialog.answers) == 1


def test_more_shows_the_rest(talk):
    more = shown_after(talk(["m"], FOGGED), "m")
    for heading in ("What was told", "What it may be", "What would change this answer"):
        assert heading in more


@pytest.mark.parametrize(("key", "result"), [("1", "no-change"), ("2", "better"), ("3", "cured")])
def test_a_remedy_tried(key, result, talk, knowledge):
    told = {"symptoms": {"oyster-shell-marks": True}, "conditions": {"holder_wiped": "no"}}
    talked = talk(["t", "1", key], told)
    (step,) = talked.told["tried"]
    assert step["result"] == result
    assert step["remedy"] in knowledge.remedies
    assert ("Good. Keep it that way." in talked.screen) == (result == "cured")
    assert talked.heard_after_end == (0 if result == "cured" else 1)  # a good plate ends the talk
    assert_printed_back(talked)


def test_tried_can_be_left_without_an_answer(talk):
    told = {"symptoms": {"oyster-shell-marks": True}}
    for lines in (["t", ""], ["t", "1", ""], ["t", "?"], ["t", "1", "u"], ["t", "zz", "99", ""]):
        assert talk(lines, told).told["tried"] == []


def test_leaving(talk):
    for lines in (["q"], ["", "q"], ["1", "q"], ["fog", "", "q"], ["1", "", "s", "q"], ["1", "", "t", "q"]):
        talked = talk([*lines, "never read", "never read"])
        assert talked.heard_after_end == 0
        assert_printed_back(talked)


def test_keys_count_in_capitals_and_with_blanks(talk):
    talked = talk(["  Q  "])
    assert talked.heard_after_end == 0


def test_a_screen_in_which_nothing_changed_is_one_line(talk):
    talked = talk(["s", "", "s", ""], FOGGED)
    assert talked.screen.count("\nStill: ") == 2
    assert re.search(r"^Still: .+ \([a-z ]+, \d+%\)$", talked.screen, re.MULTILINE)


# Every way out -------------------------------------------------------------


@pytest.mark.parametrize("end", [EOFError, KeyboardInterrupt])
@pytest.mark.parametrize("count", range(len(WHOLE_TALK) + 1))
def test_the_input_ends_or_is_interrupted_anywhere(count, end, talk):
    talked = talk(WHOLE_TALK[:count], end=end)
    assert talked.heard_after_end == 1
    assert isinstance(talked.raised, KeyboardInterrupt) == (end is KeyboardInterrupt)
    assert_printed_back(talked)


def test_the_whole_talk_gets_somewhere(talk):
    """So that the test above cannot pass by leaving at the first line."""
    talked = talk(WHOLE_TALK)
    assert len(talked.told["symptoms"]) >= 3
    assert len(talked.dialog.answers) >= 3
    assert talked.told["tried"]


def test_interrupted_while_it_reckons(talk, monkeypatch):
    """Not only at the prompt."""
    from diagnose.talk import dialog

    reckon = dialog.diagnose
    calls = []

    def slow(*given_, **more):
        calls.append(1)
        if len(calls) == 2:
            raise KeyboardInterrupt
        return reckon(*given_, **more)

    monkeypatch.setattr(dialog, "diagnose", slow)
    talked = talk(["fog", "", "?", "?"])
    assert isinstance(talked.raised, KeyboardInterrupt)
    assert_printed_back(talked)


def test_the_printed_command_run_whole_gives_the_same_plate(talk):
    talked = talk(WHOLE_TALK, mode="find-out")
    words = shlex.split(talked.command)
    assert "--find-out" in words
    done = CliRunner().invoke(main, [*(word for word in words[1:] if word != "--talk"), "--json"])
    assert done.exit_code == 0
    answer = json.loads(done.stdout)
    assert answer["plate"] == talked.told
    assert answer["mode"] == "find-out"


def test_the_printed_command_takes_the_talk_up_where_it_was(talk):
    before = talk(WHOLE_TALK)
    after = talk([], retold(before.command))
    assert after.told == before.told
    assert after.dialog.put_so_far[:1] not in [[answer] for answer in before.dialog.answers]


def test_nothing_entered_prints_no_command(talk):
    assert not talk([]).command
    assert not talk(["", "q"]).command


@pytest.mark.parametrize("told", [{}, FOGGED, {"symptoms": {"crystal-marks": True}}], ids=["nothing", "fog", "unknown"])
def test_everything_dont_know_ends_with_something_to_do(told, talk, knowledge):
    talked = talk(["?"] * 150, told)
    assert talked.dialog.rests >= 1
    assert re.search(
        r"^(Change this before the next pour|Look at this first|Nothing to change yet)$", talked.screen, re.MULTILINE
    )
    resting = re.sub(r"\s+", " ", talked.screen)
    assert re.search(
        r"(sure enough to act on|No question left would change what to do first|best that can be said so far)"
        r"\. Try it, then say t\.",
        resting,
    )
    assert "s another sign" in resting


@pytest.mark.parametrize("answer", ["?", "1", "2"])
@pytest.mark.parametrize("sign", ["fog", "comets", "film-lifting"])
def test_nothing_is_asked_twice(sign, answer, talk):
    """An amount is met with "don't know" where a number will not do."""
    talked = talk([sign, "", *[line for _ in range(75) for line in (answer, "?")]])
    assert len(set(talked.dialog.answers)) == len(talked.dialog.answers)
    assert len(set(talked.dialog.put_so_far)) == len(talked.dialog.put_so_far)
    assert talked.dialog.rests


# Whatever is typed ---------------------------------------------------------

LINES = st.lists(
    st.one_of(st.sampled_from(KEYS), st.sampled_from(KEYS), st.sampled_from(HOSTILE), st.text(max_size=12)), max_size=10
)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(lines=LINES, look=st.sampled_from([{}, {"plain": True}, {"width": 50}]))
@example(lines=HOSTILE, look={})
@example(lines=["fog", "", *HOSTILE], look={})
@example(lines=["fog", "", "t", *HOSTILE, "1", *HOSTILE, "1"], look={})
def test_nothing_typed_breaks_the_dialog(lines, look, talk):
    talked = talk(lines, echo=False, **look)  # what the terminal itself echoes is not ours
    assert talked.raised is None
    assert all(letter == "\n" or letter.isprintable() for letter in talked.screen)
    assert_printed_back(talked)


@settings(max_examples=5, deadline=None, suppress_health_check=list(HealthCheck))
@given(lines=st.lists(st.sampled_from([key for key in KEYS if key not in {"m", "q"}]), min_size=1, max_size=7))
def test_as_many_undos_as_changes_lead_back_to_the_start(lines, talk):
    talked = talk(lines, FOGGED)
    if talked.heard_after_end == 0:  # a good plate ended the talk
        return
    changes = len(talked.dialog.past)
    undone = talk([*lines, "", "", *["u"] * (changes + 4)], FOGGED)
    assert undone.told == Plate.read(FOGGED).told()


# At a real terminal --------------------------------------------------------


def test_piped_input_is_read_line_by_line_and_ends(monkeypatch):
    import io

    monkeypatch.setattr(sys, "stdin", io.StringIO("fog\nq"))
    assert listen_to_terminal("> ") == "fog\n"
    assert listen_to_terminal("> ") == "q"
    with pytest.raises(EOFError):
        listen_to_terminal("> ")


def at_terminal(*options):
    pexpect = pytest.importorskip("pexpect")
    if not hasattr(pexpect, "spawn"):
        pytest.skip("no pseudo-terminals here")
    env = {name: value for name, value in os.environ.items() if name not in {"COLUMNS", "LINES", "NO_COLOR"}}
    return pexpect.spawn(
        sys.executable,
        ["-m", "diagnose", *options],
        dimensions=(40, 50),
        encoding="utf-8",
        timeout=20,
        echo=True,
        cwd=Path(__file__).resolve().parents[2],
        env={**env, "TERM": "xterm-256color", "PYTHONWARNINGS": ""},
    )


def widths_of(screen: str) -> list[int]:
    bare = re.sub(r"\x1b\[[0-9;]*[A-Za-z]", "", screen).replace("\r", "")
    return [len(line) for line in bare.splitlines() if not line.startswith("diagnose plate")]


def test_a_talk_at_a_terminal_of_fifty_columns():
    person = at_terminal()
    seen = ""
    for typed in ("oyster shells", "", "w", "?", "u", "m", "q"):
        person.expect("> ")
        seen += person.before
        person.sendline(typed)
    person.expect("To go on with this plate later:")
    seen += person.before
    rest = person.read()
    person.close()
    assert person.exitstatus == 0
    assert "diagnose plate --talk --kept 1 --shows oyster-shell-marks" in rest
    assert "Noted: Oyster-shell marks from the edge." in re.sub(r"\x1b\[[0-9;]*m", "", seen)
    assert max(widths_of(seen)) <= 50


def test_control_c_at_a_terminal():
    person = at_terminal("--safelight")
    person.expect("> ")
    person.sendline("fog")
    person.expect("Noted")
    person.expect("> ")
    person.sendintr()
    rest = person.read()
    person.close()
    assert person.exitstatus == 130
    assert "diagnose --safelight plate --talk --kept 1 --shows fog" in rest
    assert "Traceback" not in rest


def test_control_d_at_a_terminal():
    person = at_terminal()
    person.expect("> ")
    person.sendeof()
    rest = person.read()
    person.close()
    assert person.exitstatus == 0
    assert "Traceback" not in rest
