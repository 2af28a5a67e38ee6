"""A talk that keeps its plate: by itself, amended as answers come, left out by one key, and wiser for what the book knows."""

import json
import os
import re
import shlex
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from diagnose.daybook.store import open_store
from diagnose.talk import book_in_hand

CHECKOUT = Path(__file__).resolve().parents[2]
FOGGED = {"symptoms": {"fog": True}}
DIRTY = {"symptoms": {"oyster-shell-marks": True}, "conditions": {"holder_wiped": "no"}}
# Everything here is invented.


def flowing(screen: str) -> str:
    return re.sub(r"\s+", " ", screen)


def number_kept(talked) -> str:
    words = shlex.split(talked.command)
    return words[words.index("--kept") + 1]


# Kept by itself ------------------------------------------------------------


def test_a_plate_is_kept_by_itself_with_the_first_screen(talk_with_book, kept):
    talked = talk_with_book([], FOGGED)
    (plate,) = kept().plates
    assert not plate.good
    assert plate.told["symptoms"] == {"fog": {"answer": "present"}}
    assert (plate.moment.day, plate.moment.clock) == ("2026-05-21", "15:30")
    assert plate.given.causes
    assert "This plate goes into your daybook; key x keeps it out." in talked.screen
    assert "Kept in your daybook as number 1." in talked.screen
    assert number_kept(talked) == "1"


def test_it_is_kept_before_the_first_question_is_answered(talk_with_book, private_book):
    seen = []

    def lines():
        with open_store(private_book) as store:
            seen.append(len(store.read().plates))
        yield "?"

    talk_with_book(lines(), FOGGED)
    assert seen == [1]


def test_answers_amend_the_one_entry(talk_with_book, kept, day):
    talked = talk_with_book(["?", "?", "s", "comets", "", "?"], FOGGED)
    (plate,) = kept().plates
    assert plate.told["symptoms"] == talked.told["symptoms"]
    assert len(plate.told["symptoms"]) >= 2
    day("undo")
    assert not kept().entries  # a talk is one thing to take back


@pytest.mark.parametrize(
    ("lines", "end"), [([], KeyboardInterrupt), (["q"], EOFError), ([""], EOFError), (["", "q"], EOFError)]
)
def test_a_talk_of_nothing_keeps_nothing(lines, end, talk_with_book, kept):
    talked = talk_with_book(lines, end=end)
    assert not any(talked.told.values())
    assert not kept().entries
    assert "Kept in your daybook" not in talked.screen


@pytest.mark.parametrize("end", [EOFError, KeyboardInterrupt])
@pytest.mark.parametrize("lines", [["fog"], ["fog", ""], ["fog", "", "?"], ["fog", "", "t", "1"]])
def test_a_talk_broken_off_keeps_its_plate(lines, end, talk_with_book, kept):
    talked = talk_with_book(lines, end=end)
    (plate,) = kept().plates
    assert plate.told["symptoms"] == talked.told["symptoms"]
    assert number_kept(talked) == "1"


def test_what_was_in_use_goes_with_it_even_where_it_is_broken_off_at_once(day, talk_with_book, kept):
    day("took", "holder", "--name", "B")
    talk_with_book(["fog"], end=KeyboardInterrupt)
    assert kept().plates[0].made_with == {"holder": "B"}


# Taken up again ------------------------------------------------------------


def test_the_printed_command_amends_and_never_doubles(talk_with_book, kept, run):
    talked = talk_with_book(["?"], FOGGED)
    words = shlex.split(talked.command)
    done = run(*words[1:], typed="s\ncomets\n\nq\n")
    assert done.code == 0
    (plate,) = kept().plates
    assert set(plate.told["symptoms"]) == set(talked.told["symptoms"]) | {"comets"}
    assert plate.moment.clock == "15:30"
    assert "--kept 1" in done.out


def test_the_number_alone_is_enough(talk_with_book, kept, run):
    talk_with_book(["?"], DIRTY)
    before = kept().plates[0].told
    done = run("plate", "--kept", "1", typed="s\ncomets\n\nq\n")
    (plate,) = kept().plates
    assert set(plate.told["symptoms"]) == {*before["symptoms"], "comets"}
    assert plate.told["conditions"] == before["conditions"]
    assert "Put the plate away first" not in done.out


@pytest.mark.parametrize("number", ["2", "99"])
def test_a_number_that_is_no_spoiled_plate_is_never_written_over(number, day, kept, run):
    day("bad", "fog")
    day("good")
    done = run("plate", "--kept", number, typed="comets\n\nq\n")
    assert f"Number {number} of your daybook is no spoiled plate. This will be a new one." in done.words
    assert [plate.good for plate in kept().plates] == [False, True, False]


def test_what_was_confirmed_and_noted_stays_when_a_talk_goes_on(day, kept, run):
    day("bad", "fog", "--note", "north light", "--who", "Ada")
    day("confirm", "1", "over-developed")
    run("plate", "--kept", "1", typed="s\ncomets\n\nq\n")
    (plate,) = kept().plates
    assert (plate.note, plate.who, plate.confirmed) == ("north light", "Ada", "development/over-developed")
    assert "comets" in plate.told["symptoms"]


def test_two_talks_at_once_keep_two_plates(talk_with_book, kept):
    def another():
        talk_with_book(["?"], DIRTY)
        yield "?"

    talk_with_book(another(), FOGGED)
    first, second = kept().plates
    assert {*first.told["symptoms"], *second.told["symptoms"]} >= {"fog", "oyster-shell-marks"}


def test_kill_nine_loses_nothing_that_was_shown(kept, run):
    talk = subprocess.Popen(
        [sys.executable, "-m", "diagnose", "plate", "fog", "--talk"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=CHECKOUT, text=True,
    )  # fmt: skip
    for line in talk.stdout:
        if "To be surer" in line:
            break
    talk.kill()
    talk.communicate()
    (plate,) = kept().plates
    assert "fog" in plate.told["symptoms"]
    run("plate", "--kept", str(plate.number), typed="s\ncomets\n\nq\n")
    (plate,) = kept().plates
    assert {"fog", "comets"} <= set(plate.told["symptoms"])


# Left out, put right -------------------------------------------------------


def test_key_x_takes_it_out_of_the_book(talk_with_book, kept, private_book):
    talked = talk_with_book(["x", "?", "x", "?"], FOGGED)
    assert not kept().entries
    assert talked.screen.count("This plate is left out of your book.") == 1
    assert "This plate is left out of your book already." in talked.screen
    assert "Kept in your daybook" not in talked.screen
    command = shlex.split(talked.screen.splitlines()[-1])
    assert command[:3] == ["diagnose", "--no-book", "plate"]
    assert "--kept" not in command


def test_key_x_takes_out_a_plate_that_was_taken_up_again(talk_with_book, kept):
    talk_with_book([], FOGGED)
    talk_with_book(["x"], FOGGED, number=1)
    assert not kept().entries


def test_what_the_book_knows_is_offered_in_plain_words(day, talk_with_book, kept):
    day("set", "room_temperature=28 °C")
    day("mixed", "bath", "1 L")
    talked = talk_with_book([], FOGGED)
    assert "From your book: room 28 °C; 0 plates through the bath; bath new." in flowing(talked.screen)
    assert "room_temperature" not in talked.screen
    plate = kept().plates[0]
    assert "conditions" not in plate.told  # the book will know them again by itself
    assert "room_temperature" not in talked.command


def test_no_more_than_four_things_stand_in_the_first_line(day, talk_with_book):
    day(
        "set",
        "room_temperature=28 °C",
        "room_humidity=40 %",
        "bath_acid=nitric",
        "fixer=hypo",
        "support=glass",
        "safe_light=yes",
    )
    line = flowing(talk_with_book([], FOGGED).screen).split("From your book: ")[1].split(" Key b")[0]
    assert line.count(";") == 4
    assert line.endswith("; and 2 more.")


def test_what_the_book_knows_counts(day, talk_with_book):
    alone = talk_with_book([], FOGGED).dialog.diagnosis().posterior.causes
    day("set", "room_temperature=36 °C", "developer_temperature=30 °C")
    hot = talk_with_book([], FOGGED).dialog.diagnosis()
    assert hot.facts.amounts["room_temperature"] == 36
    assert hot.posterior.causes["development/warm-developer"] > alone["development/warm-developer"]


def test_key_b_puts_right_what_the_book_says(day, talk_with_book, kept):
    day("set", "room_temperature=28 °C")
    talked = talk_with_book(["b", "1", "warm", "999", "20", "b", ""], FOGGED)
    assert "1 room 28 °C (told today at 15:30)" in talked.screen
    assert "That is not one of the answers; just Enter leaves it as it is." in talked.screen
    assert "cannot be right" in talked.screen
    assert "Noted: room 20 °C." in talked.screen
    assert "1 room 28 °C (told today at 15:30) - now: room 20 °C" in flowing(talked.screen)
    assert kept().plates[0].told["conditions"] == {"room_temperature": "20 °C"}
    assert talked.dialog.diagnosis().facts.amounts["room_temperature"] == 20
    assert "room_temperature=20 °C" in shlex.split(talked.command)


def test_key_b_takes_dont_know_and_one_of_several(day, talk_with_book):
    day("set", "bath_acid=nitric", "room_temperature=28 °C")
    talked = talk_with_book(["b", "1", "?", "b", "2", "3"], FOGGED)
    assert talked.told["conditions"] == {"room_temperature": "?", "bath_acid": "none"}
    assert "room_temperature" not in talked.dialog.diagnosis().facts.amounts


def test_what_is_not_known_has_not_changed(day, talk_with_book):
    day("good", "-c", "light=window")
    told = FOGGED | {"conditions": {"light": "?"}}
    assert "light" not in flowing(talk_with_book(["b"], told).screen.split("From your book. ")[1].split(">")[0])


def test_what_was_put_right_can_be_taken_back(day, talk_with_book, kept):
    day("set", "room_temperature=28 °C")
    talked = talk_with_book(["b", "1", "20", "u", "u", "?"], FOGGED)
    assert talked.told["conditions"] == {}
    assert talked.dialog.diagnosis().facts.amounts["room_temperature"] == 28


def test_without_anything_from_the_book(talk_with_book):
    talked = talk_with_book(["b"], FOGGED)
    assert "Nothing of this plate comes from your book." in talked.screen
    assert "From your book:" not in talked.screen


def test_more_marks_what_comes_from_the_book(day, talk_with_book):
    day("set", "room_temperature=28 °C")
    more = talk_with_book(["m"], DIRTY).screen
    assert "room temperature: 28 °C (from your book)" in more
    assert "holder wiped: no\n" in more


# Tried ---------------------------------------------------------------------


def test_a_good_plate_after_a_change_is_kept_too(talk_with_book, kept):
    talked = talk_with_book(["t", "1", "3"], DIRTY)
    spoiled, good = kept().plates
    assert (spoiled.good, good.good) == (False, True)
    (step,) = spoiled.told["tried"]
    assert step["result"] == "cured"
    assert good.told == {}
    assert good.moment.at > spoiled.moment.at
    assert "Kept in your daybook as numbers 1 and 2." in talked.screen


def test_a_cure_confirms_only_where_one_cause_is_left(talk_with_book, kept, knowledge):
    from diagnose.daybook.learning import newly_confirmed

    talk_with_book(["t", "1", "3"], FOGGED)
    spoiled = kept().plates[0]
    assert spoiled.confirmed == ""  # fog alone has too many causes for one cure to single one out
    assert not newly_confirmed(kept(), knowledge)


def test_a_cure_that_singles_out_confirms(talk_with_book, kept, day):
    talk_with_book(["t", "1", "3"], {"symptoms": {"unsharp": True}})
    spoiled, good = kept().plates
    assert (spoiled.confirmed, spoiled.confirmed_by) == ("holder-and-camera/movement", "cure")
    assert good.confirmed == ""
    assert "Learned from 1 plate with a confirmed cause" in day("learning").out


def test_a_cure_of_a_plate_that_was_left_out_teaches_nothing(talk_with_book, kept):
    talk_with_book(["x", "t", "1", "3"], {"symptoms": {"unsharp": True}})
    assert not kept().entries


def test_no_better_makes_the_next_plate_one_of_its_own(talk_with_book, kept):
    talked = talk_with_book(["t", "1", "1", "?"], FOGGED)
    first, second = kept().plates
    assert [step["result"] for step in first.told["tried"]] == ["no-change"]
    assert "tried" not in second.told
    assert second.told["symptoms"]["fog"] == {"answer": "present"}
    assert number_kept(talked) == "2"
    again = talk_with_book(["?"], talked.told, number=2)
    assert len(kept().plates) == 2
    assert "tried" not in kept().plates[1].told
    assert len(again.told["tried"]) == 1


# Earlier plates ------------------------------------------------------------


def test_earlier_plates_change_the_ranking_and_the_account_says_so(day, run):
    telling = ("plate", "oyster shells:place=lower-part", "--json")
    before = {cause["id"]: cause["probability"] for cause in json.loads(run(*telling).out)["causes"]}
    day("good", "--with", "holder=A", "--at", "14:00")
    for clock in ("14:10", "14:20", "14:30"):
        day("bad", "oyster shells:place=lower-part", "--with", "holder=B", "--at", clock)
    done = run(*telling, "--keep")
    after = {cause["id"]: cause["probability"] for cause in json.loads(done.out)["causes"]}
    assert "Kept in your daybook as number 5." in done.err
    assert after["holder-and-camera/dirty-holder"] > before["holder-and-camera/dirty-holder"]
    why = run("plate", "oyster shells:place=lower-part", "--why", "dirty-holder", "--keep")
    assert "The earlier plates of the day speak for it" in why.out


def test_without_keep_nothing_is_kept_or_asked_of_the_book(run, private_book):
    assert run("plate", "fog").code == 0
    assert not private_book.exists()
    assert run("--no-book", "plate", "fog", "--talk", typed="q\n").code == 0
    assert not private_book.exists()


def test_keep_says_what_it_took_from_the_book(day, run, kept):
    day("set", "room_temperature=28 °C")
    done = run("plate", "fog", "--keep", "--full")
    assert done.code == 0
    assert "From your book: room 28 °C." in " ".join(done.err.split())
    assert kept().plates[0].told == {"symptoms": {"fog": {"answer": "present"}}}


# A book that cannot be had -------------------------------------------------


def test_a_book_that_cannot_be_opened_costs_one_line_and_never_the_answer(private_book, talk_with_book):
    private_book.write_bytes(b"something else, and long enough to be read as such")
    talked = talk_with_book(["?", "t", "1", "3"], FOGGED)
    assert flowing(talked.screen).count("Nothing is kept of this plate: ") == 1
    assert "What it may be" in talked.screen
    assert "Good. Keep it that way." in talked.screen
    assert "Kept in your daybook" not in talked.screen
    assert "--kept" not in talked.command
    assert private_book.read_bytes().startswith(b"something else")


def test_a_fault_of_the_book_is_no_fault_of_the_talk(monkeypatch, talk_with_book):
    def broken(_place):
        raise ZeroDivisionError

    monkeypatch.setattr(book_in_hand, "open_book", broken)
    talked = talk_with_book(["?"], FOGGED)
    assert "the daybook cannot be used now (ZeroDivisionError)" in flowing(talked.screen)
    assert "What it may be" in talked.screen


def test_a_book_that_does_not_answer_is_not_waited_for(monkeypatch, talk_with_book):
    never = threading.Event()
    monkeypatch.setattr(book_in_hand, "open_book", lambda _place: never.wait(20))
    monkeypatch.setattr(book_in_hand, "PATIENCE", 0.05)
    talked = talk_with_book(["?", "b", "x"], FOGGED)
    never.set()
    assert flowing(talked.screen).count("Nothing is kept of this plate: it does not answer") == 1
    assert "What it may be" in talked.screen


def test_a_book_that_is_lost_on_the_way_costs_one_line(private_book, talk_with_book):
    def lines():
        yield "?"
        private_book.unlink()
        private_book.mkdir()
        yield from ("?", "?", "t", "1", "1", "q")

    talked = talk_with_book(lines(), FOGGED)
    assert flowing(talked.screen).count("This could not be written into your book: ") == 1
    assert "--kept" not in talked.command


# Quick first ---------------------------------------------------------------

LOADED = "any(name.partition('.')[0] in {'sqlalchemy', 'alembic', 'sqlite3'} for name in sys.modules)"


def child(code: str, **environment: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False, cwd=CHECKOUT,
        env={**os.environ, **environment},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_an_answer_in_one_go_loads_no_library_of_the_book():
    code = f"""
import sys
from diagnose import cli
sys.argv = ["diagnose", "plate", "fog"]
try:
    cli.run()
except SystemExit:
    print("loaded:", {LOADED})
"""
    assert child(code).splitlines()[-1] == "loaded: False"


def test_the_first_prompt_of_the_talk_is_there_before_the_book_is_loaded():
    code = f"""
import sys
from diagnose.talk import dialog, listening, book_in_hand
from diagnose import cli
begin = book_in_hand.BookInHand.begin
def watched(self):
    print("began:", {LOADED}, flush=True)
    begin(self)
book_in_hand.BookInHand.begin = watched
def listen(prompt):
    listening.calls = getattr(listening, "calls", 0) + 1
    return "fog" if listening.calls == 1 else "" if listening.calls == 2 else "q"
listening.listen_to_terminal = listen
sys.argv = ["diagnose"]
try:
    cli.run()
except SystemExit:
    print("ended:", {LOADED})
"""
    lines = child(code).splitlines()
    began = lines.index("began: False")
    assert any("Put the plate away first." in line for line in lines[:began])
    assert not any("Noted: Fog." in line for line in lines[:began])
    assert lines[-1] == "ended: True"


def test_nothing_of_a_library_is_loaded_where_no_book_is_wanted():
    code = f"""
import sys
from diagnose import cli
sys.argv = ["diagnose", "--no-book", "plate", "fog", "--talk"]
sys.stdin = open("/dev/null")
try:
    cli.run()
except SystemExit:
    print("loaded:", {LOADED})
"""
    assert child(code).splitlines()[-1] == "loaded: False"
