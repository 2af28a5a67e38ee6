"""How much, key h: it asks for just what is missing, one thing at a time, and says the amount with all that belongs beside it."""

import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagnose.amounts import result_line
from diagnose.answer import diagnose
from diagnose.cli import main
from diagnose.plate import Plate

ROOT = Path(__file__).resolve().parents[2]

# Every plate here is invented. What is advised first wants four things told, one, and none.
ACID = {
    "symptoms": {"fog": {"place": "whole-plate"}, "flashes-up": True},
    "conditions": {"changed_developer": "yes", "developer_acid_short": "yes", "developer_temperature": "19 °C"},
}
WANTED = {
    "developer_volume": "500 mL",
    "developer_acid": "1 %",
    "developer_acid_wanted": "4 %",
    "acetic_percent": "80 %",
}
SAID = [value.split()[0] for value in WANTED.values()]  # a bare number is taken in the unit that is named
DRYING = {"symptoms": {"drying-marks": True}, "conditions": {"wait_before_developer": "9 min"}}
SPIRIT = {
    "symptoms": {"developer-repelled": True, "greasy-film": True},
    "conditions": {"bath_plates": "200 plates", "bath_smells_of_spirit": "yes", "developer_alcohol": "much"},
}
WASH = {
    "symptoms": {"fades-later": True, "yellow-left": False},
    "conditions": {"fixer": "hypo", "wash_time": "1 min"},
    "checks": {"look-from-the-back": "clean"},
}
COMETS = {"symptoms": {"comets": True}}


def plain(text):
    return " ".join(text.split())


def asked_in(screen, knowledge):
    """The conditions whose questions stand on a screen, in order; one is named twice if it is asked twice."""
    text = plain(screen)
    places = [
        (found.start(), name)
        for name in knowledge.conditions
        for found in re.finditer(re.escape(plain(knowledge.conditions[name].ask)), text)
    ]
    return [name for _, name in sorted(places)]


def after(talked, key="h"):
    """What the screen says from the first time the key was typed."""
    return talked.screen.split(f"> {key}\n", 1)[1]


def shown_amount(screen, told, knowledge):
    """The amount of what is advised first, as it must stand on the screen."""
    diagnosis = diagnose(Plate.read(told), knowledge)
    plan = diagnosis.plan
    doses = [diagnosis.dose(action) for action in (plan.first, *plan.together, *plan.then) if action]
    found = next(dose for dose in doses if dose)
    return all(plain(result_line(item, "metric")) in plain(screen) for item in found.worked.amounts)


def test_what_is_advised_wants_what_these_tests_think(knowledge):
    for told, remedy, wants in (
        (ACID, "add-acid-to-developer", tuple(WANTED)),
        (DRYING, "shorten-the-wait", ("room_temperature",)),
        (WASH, "wash-longer-both-sides", ("support",)),
    ):
        diagnosis = diagnose(Plate.read(told), knowledge)
        assert diagnosis.plan.first.id == remedy
        assert diagnosis.dose(diagnosis.plan.first).wants == wants


# Asking ------------------------------------------------------------------


def test_it_asks_for_just_what_is_missing_one_thing_at_a_time(talk, knowledge):
    for count in range(len(WANTED) + 1):
        talked = talk(["h", *SAID[:count]], ACID)
        told = {**ACID["conditions"], **dict(list(WANTED.items())[:count])}
        assert talked.told["conditions"] == told
        screen = after(talked)
        first = screen.split("How much: ")[0]
        assert asked_in(first, knowledge) == list(WANTED)[: count + 1]
        assert ("How much: " in screen) == (count == len(WANTED))
        assert talked.raised is None


def test_each_answer_in_turn_is_all_that_is_asked_at_once(talk, knowledge):
    """One question, then a prompt."""
    screen = after(talk(["h", *SAID], ACID))
    parts = screen.split("> ")
    for part, name in zip(parts, WANTED, strict=False):
        assert asked_in(part, knowledge) == [name]
        assert "Type an amount, such as" in plain(part)


def test_what_was_told_is_not_asked(talk, knowledge):
    for known, value in WANTED.items():
        told = {**ACID, "conditions": {**ACID["conditions"], known: value}}
        left = [name for name in WANTED if name != known]
        talked = talk(["h", *(WANTED[name].split()[0] for name in left)], told)
        assert asked_in(after(talked).split("How much: ")[0], knowledge) == left
        assert talked.told["conditions"] == {**ACID["conditions"], **WANTED}
        assert "How much: " in talked.screen


def test_an_amount_once_told_is_said_at_once(talk, knowledge):
    talked = talk(["h", *SAID, "h"], ACID)
    again = after(talked).split("> h\n")[1]
    assert not set(asked_in(again.split("How much: ")[0], knowledge)) & WANTED.keys()
    assert "How much: " in again
    assert talked.told["conditions"] == {**ACID["conditions"], **WANTED}


def test_a_choice_is_offered_by_number_and_by_name(talk, knowledge):
    for typed in ("1", "2", "aluminium", "glass"):
        talked = talk(["h", typed], WASH)
        offered = knowledge.conditions["support"].options
        assert talked.told["conditions"]["support"] == (typed if typed in offered else list(offered)[int(typed) - 1])
        for number, words in enumerate(offered.values(), start=1):
            assert re.search(rf"^\s+{number} {re.escape(words)}$", after(talked), re.MULTILINE)
        assert "How much: wash: 30 min" in plain(talked.screen)
        assert "Type an amount" not in after(talked).split("How much: ")[0]


def test_a_bare_number_is_taken_in_the_unit_that_was_named(talk):
    talked = talk(["h", *SAID], ACID)
    assert talked.told["conditions"] == {**ACID["conditions"], **WANTED}
    assert "a bare number is taken as mL" in plain(talked.screen)


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        ("plenty", "That is not one of the answers. Just Enter leaves it."),
        ("5 mL", "cannot be right"),
        ("5 parsec", "no unit called"),
        ("5 °c", "mL is wanted"),
        ("-500", "cannot be right"),
        ("12 oz", "which ounce"),
    ],
)
def test_a_slip_is_told_and_asked_again(slip, words, talk, knowledge):
    talked = talk(["h", slip, "500"], ACID)
    said = plain(after(talked).split(f"> {slip}\n")[1].split("> ")[0])
    assert words in said
    assert asked_in(said, knowledge) == []  # heard again, not asked anew
    assert talked.told["conditions"] == {**ACID["conditions"], "developer_volume": "500 mL"}
    assert talk(["h", slip], ACID).told == Plate.read(ACID).told()


def test_an_answer_no_choice_has_is_asked_again(talk):
    talked = talk(["h", "wood", "99", "1"], WASH)
    assert plain(after(talked)).count("That is not one of the answers. Just Enter leaves it.") == 2
    assert talked.told["conditions"]["support"] == "aluminium"


# Leaving and undoing -------------------------------------------------------


@pytest.mark.parametrize("key", ["", "?", "u"])
@pytest.mark.parametrize("count", range(len(WANTED)))
def test_enter_leaves_and_keeps_what_was_told(key, count, talk):
    talked = talk(["h", *SAID[:count], key], ACID)
    assert "Without that no amount can be said. Take half of what you think, and look." in plain(talked.screen)
    assert talked.told["conditions"] == {**ACID["conditions"], **dict(list(WANTED.items())[:count])}
    assert "How much: " not in talked.screen
    assert talked.heard_after_end == 1  # the talk went on


def test_leaving_asks_again_only_when_asked(talk, knowledge):
    talked = talk(["h", "500", "", "h"], ACID)
    again = talked.screen.rsplit("> h\n", 1)[1]
    assert asked_in(again, knowledge) == ["developer_acid"]


def test_q_leaves_the_talk(talk):
    talked = talk(["h", "500", "q", "never read"], ACID)
    assert talked.heard_after_end == 0
    assert "never read" not in talked.screen
    assert "developer_volume=500 mL" in talked.command


@pytest.mark.parametrize("count", range(1, len(WANTED) + 1))
def test_undo_takes_back_one_answer_at_a_time(count, talk):
    leave = [] if count == len(WANTED) else [""]
    states = [Plate.read(ACID).told()["conditions"]]
    for name, value in WANTED.items():
        states.append({**states[-1], name: value})
    for back in range(1, count + 1):
        talked = talk(["h", *SAID[:count], *leave, *["u"] * back], ACID)
        assert talked.told["conditions"] == states[count - back]
        assert talked.screen.count("Taken back.") == back
    talked = talk(["h", *SAID[:count], *leave, *["u"] * (count + 1)], ACID)
    assert talked.told == Plate.read(ACID).told()
    assert "There is nothing to take back." in talked.screen


def test_after_undo_the_amount_is_wanted_again(talk, knowledge):
    talked = talk(["h", *SAID, "u", "h"], ACID)
    assert asked_in(talked.screen.rsplit("> h\n", 1)[1], knowledge) == ["acetic_percent"]


@pytest.mark.parametrize("end", [EOFError, KeyboardInterrupt])
@pytest.mark.parametrize("count", range(len(WANTED) + 1))
def test_the_input_ends_or_is_interrupted_while_it_asks(count, end, talk):
    talked = talk(["h", *SAID[:count]], ACID, end=end)
    assert talked.heard_after_end == 1
    assert isinstance(talked.raised, KeyboardInterrupt) == (end is KeyboardInterrupt)
    words = shlex.split(talked.command)
    for name, value in list(WANTED.items())[:count]:
        assert f"{name}={value}" in words


# The amount ----------------------------------------------------------------


def test_the_amount_stands_there_with_all_that_belongs_beside_it(talk, knowledge):
    screen = plain(after(talk(["h", *SAID], ACID)))
    told = {**ACID, "conditions": {**ACID["conditions"], **WANTED}}
    assert shown_amount(screen, told, knowledge)
    remedy = knowledge.remedies["add-acid-to-developer"]
    assert f"Stop: {plain(remedy.stop)}" in screen
    assert f"You will see: {plain(remedy.see)}" in screen
    amount = screen.index("How much: acetic acid of 80 %: 19 mL (rounded down to a step of 1 mL, as on a syringe)")
    for name in ("acetic-acid", "iron-developer", "cyanide-and-acid"):  # the fixer was not told
        assert screen.index(knowledge.cautions[name].title, screen.index("What percent is your acetic acid")) < amount
    assert "volume: 500 mL (told)" in screen


def test_with_hypo_in_use_it_does_not_speak_of_cyanide(talk, knowledge):
    told = {**ACID, "conditions": {**ACID["conditions"], "fixer": "hypo"}}
    screen = plain(after(talk(["h", *SAID], told)))
    assert "How much: acetic acid" in screen
    assert knowledge.cautions["cyanide-and-acid"].title not in screen
    assert knowledge.cautions["acetic-acid"].title in screen


def test_what_comes_later_is_meant_where_the_first_wants_no_amount(talk, knowledge):
    """Named first, so that nobody measures for the wrong change; and its dangers with it."""
    diagnosis = diagnose(Plate.read(SPIRIT), knowledge)
    assert diagnosis.dose(diagnosis.plan.first) is None
    assert "more-alcohol-in-developer" in {action.id for action in (*diagnosis.plan.together, *diagnosis.plan.then)}
    talked = talk(["h", "500", "2"], SPIRIT)
    screen = plain(after(talked))
    assert screen.startswith(knowledge.remedies["more-alcohol-in-developer"].title)
    assert talked.told["conditions"]["bath_age"] == "used"
    amount = screen.index("How much: ")
    assert screen.index(knowledge.cautions["ether-and-alcohol"].title) < amount
    assert screen.index("no flame, no spark") < amount


def test_an_amount_told_changes_what_is_believed_too(talk, knowledge):
    """The warmth of the room is asked for the minutes, and dries the plate in the reckoning as well."""
    before, then = (
        diagnose(Plate.read(plate), knowledge)
        for plate in (DRYING, {**DRYING, "conditions": {**DRYING["conditions"], "room_temperature": "33 °C"}})
    )
    cause = "holder-and-camera/plate-dried-waiting"
    assert then.posterior.causes[cause] > before.posterior.causes[cause] + 0.2
    talked = talk(["h", "33"], DRYING)
    assert talked.told["conditions"]["room_temperature"] == "33 °C"
    assert "How much: wet from the bath to the developer:" in plain(talked.screen)
    assert then.dose(then.plan.first).worked.amounts[0].value < 9


def test_a_refusal_is_one_line_and_no_amount(talk):
    talked = talk(["h", "500 mL", "9 %", "4 %", "80 %"], ACID)
    screen = plain(after(talked))
    assert "No amount: the developer has 9 % already: put none in" in screen
    assert "How much: " not in screen


def test_nothing_to_measure_is_said(talk, knowledge):
    diagnosis = diagnose(Plate.read(COMETS), knowledge)
    plan = diagnosis.plan
    assert not any(diagnosis.dose(action) for action in (plan.first, *plan.together, *plan.then) if action)
    talked = talk(["h"], COMETS)
    assert "Nothing that is advised here wants an amount." in talked.screen
    assert talked.told == Plate.read(COMETS).told()


def test_the_key_is_named_where_keys_are_named(talk):
    assert "h how much" in plain(talk([], ACID).screen)
    assert "h how much" in plain(talk(["m"], DRYING).screen)


def test_it_is_said_on_fifty_columns(talk):
    talked = talk(["h", *SAID], ACID, width=50)
    assert max(len(line) for line in talked.screen.splitlines() if not line.startswith("diagnose plate")) <= 50


TYPED = [
    "",
    "?",
    "u",
    "h",
    "q",
    "1",
    "2",
    "500",
    "500 ml",
    "4 %",
    "80 %",
    "19 °c",
    "plenty",
    "-3",
    "1e9 ml",
    "[bold]",
    "\x1b[2J",
    "9" * 40,
]


@settings(max_examples=60, suppress_health_check=list(HealthCheck))
@given(lines=st.lists(st.sampled_from(TYPED), max_size=9), plate=st.sampled_from([ACID, DRYING, SPIRIT, WASH, COMETS]))
def test_whatever_is_typed_it_goes_on_or_ends(lines, plate, talk, knowledge):
    talked = talk(["h", *lines], plate, echo=False)
    assert talked.raised is None
    assert talked.heard_after_end == (0 if "q" in lines else 1)
    Plate.read(talked.told)
    assert talked.command
    assert not any(letter != "\n" and not letter.isprintable() for letter in talked.screen)


# From outside ----------------------------------------------------------------


def piped(lines, *options):
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "diagnose", *options],
        input="".join(f"{line}\n" for line in lines),
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        timeout=60,
        cwd=ROOT,
        env={**os.environ, "PYTHONUTF8": "1"},
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout


PIPED = ["plate", "--talk", "--shows", "fog:place=whole-plate", "--shows", "flashes-up"] + [
    part for name, value in ACID["conditions"].items() for part in ("--condition", f"{name}={value}")
]


def test_piped_in_it_asks_and_answers_the_same(knowledge):
    out = piped(["h", *SAID, "q"], *PIPED)
    screen = plain(out)
    told = {**ACID, "conditions": {**ACID["conditions"], **WANTED}}
    assert (
        asked_in(out.split("How much: ")[0], knowledge).count("acetic_percent") == 2
    )  # named on the first screen, and asked
    assert shown_amount(screen, told, knowledge)
    assert knowledge.cautions["cyanide-and-acid"].title in screen[screen.index("What percent is your acetic acid") :]
    assert "\x1b" not in out
    command = shlex.split(out.splitlines()[-1])
    assert command[:3] == ["diagnose", "plate", "--talk"]
    done = CliRunner().invoke(main, [*(word for word in command[1:] if word != "--talk"), "--json"])
    assert done.exit_code == 0
    dose = json.loads(done.stdout)["next_action"]["dose"]
    assert dose["wants"] == []
    assert dose["amounts"][0]["measured"] == 19
    assert "cyanide-and-acid" in dose["cautions"]


def test_piped_in_and_cut_short_it_ends_in_good_order():
    out = piped(["h", "500"], *PIPED)
    assert "How much is in" not in out.splitlines()[-1]
    assert "developer_volume=500 mL" in out.splitlines()[-1]
    assert "How much: " not in out


def test_piped_in_and_left_with_enter_it_goes_on():
    out = plain(piped(["h", "", "q"], *PIPED))
    assert "Without that no amount can be said." in out
    assert "How much: " not in out
