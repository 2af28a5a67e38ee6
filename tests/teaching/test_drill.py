"""A whole drill by typed lines: every key, every way out, the screens, and nothing told before the student has said."""

import io
import os
import random
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from diagnose.daybook.book import Book, Moment, PlateEntry
from diagnose.errors import BookError
from diagnose.reasoning.craft import craft_of
from diagnose.talk import drilling
from diagnose.talk.drill_picture import Ways, in_blocks, ways_of
from diagnose.talk.drilling import Drill, Wanted
from diagnose.talk.guessing import as_sure, causes_called
from diagnose.talk.theme import make_look
from diagnose.teaching.looks import draw, pictures_can_be_drawn
from diagnose.teaching.records import read_lines
from diagnose.teaching.repetition import WAITS
from diagnose.teaching.session import plate_of

KEPT = Path(__file__).parent / "screens"
WORDS = Ways(blocks=False, folder=None, note="")
DIRTY, IRON = "holder-and-camera/dirty-holder", "development/developer-too-strong"
# A whole drill: causes by number and by word, each way of saying how sure, a reason, a step, going back, the account, not knowing.
WHOLE = [
    "w", "1 likely", "2", "55", "u", "too much iron", "3", "", "w", "1", "u", "2", "w", "1", "", "w", "",
    "?", "?", "", "",
]  # fmt: skip
KEYS = [
    "", "?", "w", "u", "q", "p", "1", "2", "3", "9", "70", "1 likely", "2 30 %", "bath", "fog", "nonsense", "\x1b[2J", "²",
    "\ud800",
]  # fmt: skip


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def practise(craft):
    """Type these lines into a drill; what is on the screen then, and the drill."""

    def typed_in(lines, book=None, ways=WORDS, before=(), look=None, **wanted):
        out = io.StringIO()
        typed = iter(lines)

        def listen(prompt):
            out.write(prompt)
            for line in typed:
                out.write(f"{line}\n")
                return line
            raise EOFError

        looks = make_look(file=out, **{"width": 80, **(look or {})})
        drill = Drill(craft, looks, listen, Wanted(**{"seed": "may", "count": 2, **wanted}), ways, book, before)
        drill.run()
        return drill, out.getvalue()

    return typed_in


def after(screen, typed, times=1):
    """What the screen says from the so-many-th time something was typed to the next prompt."""
    return screen.split(f"> {typed}\n", times)[times].split("> ", 1)[0]


@pytest.mark.parametrize("width", [80, 50])
def test_the_screens_of_a_drill_are_the_ones_kept(practise, width):
    """`UPDATE_SCREENS=1 python -m pytest tests/teaching -n 0` keeps new ones."""
    screens = [practise(WHOLE, look={"width": width, **look})[1] for look in ({}, {"plain": True})]
    assert screens[0].replace(" ·", ";") == screens[1]
    path = KEPT / f"drill-{width}.txt"
    screen = re.sub(r"> .*", "> ...", screens[1])
    if os.environ.get("UPDATE_SCREENS"):
        path.parent.mkdir(exist_ok=True)
        path.write_text(screen, "utf-8")
    assert screen == path.read_text("utf-8")
    assert all(cell_len(line) <= width for line in screen.splitlines())
    assert all(letter == "\n" or letter.isprintable() for letter in screen)


def test_nothing_is_told_before_the_student_has_said(practise, craft):
    exercise, diagnosis = plate_of(random.Random, craft, "may", 1)
    _, screen = practise(["1 likely", "", "1"], count=1)
    for cause in exercise.causes:
        assert craft.knowledge.causes[cause].brief not in screen
    assert "What it was" not in screen
    assert str(round(100 * diagnosis.ranking[0][1])) + "%" not in screen


def test_what_was_typed_is_what_is_scored(practise, craft):
    drill, screen = practise(WHOLE)
    first, second = drill.answers
    assert [name.sure for name in first.named] == [0.7, 0.4]
    assert first.named[1].cause == IRON
    assert first.reason
    assert first.step
    assert first.lost is not None
    assert (second.named, second.points, second.reason, second.step) == ((), 0, "", "")
    assert "No cause named: 0 points." in screen
    exercise, _ = plate_of(random.Random, craft, "may", 1)
    assert (first.exercise, first.causes) == (exercise.name, exercise.causes)


def test_the_same_seed_is_the_same_drill(practise):
    first = practise(WHOLE)[1]
    assert practise(WHOLE)[1] == first
    assert practise([], seed="june")[1] not in first


def test_without_a_seed_what_was_missed_comes_back(practise, monkeypatch):
    monkeypatch.setattr(drilling, "fresh_seed", lambda: "fresh")
    drill, screen = practise(["?", "?", "", ""] * 6, seed="", count=6)
    number, first = next((place, answer) for place, answer in enumerate(drill.answers) if answer.missed)
    assert "To come back in 3 plates" in screen
    assert min(first.missed) in drill.answers[number + WAITS[0] + 1].causes


def test_a_seed_keeps_its_plates_whatever_was_missed(practise, craft):
    drill, screen = practise(["?", "?", "", ""] * 5, count=5)
    assert drill.memory.waiting
    for number, answer in enumerate(drill.answers, start=1):
        assert answer.exercise == f"may/{number}"
        assert answer.causes == plate_of(random.Random, craft, "may", number)[0].causes
    assert "To come back" not in screen


def test_answers_are_on_the_disk_before_the_truth_is_shown(practise, tmp_path):
    file = tmp_path / "class.jsonl"
    practise(["1 sure", "", "?", "?"], count=1, keep=str(file), student="Anna", day="2026-05-01")
    (kept,) = read_lines(file.read_text("utf-8"), "f").answers
    assert (kept.student, kept.day, kept.named[0].sure) == ("Anna", "2026-05-01", 0.95)


def test_leaving_before_answering_keeps_nothing(practise, tmp_path):
    file = tmp_path / "class.jsonl"
    drill, screen = practise(["1 sure", "", "q"], keep=str(file))
    assert not drill.answers
    assert not file.exists()
    assert "answered" not in screen


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=15)
@given(st.lists(st.sampled_from(KEYS), max_size=25))
def test_whatever_is_typed_is_answered(practise, lines):
    drill, _ = practise(lines)
    assert len(drill.answers) <= 2
    for answer in drill.answers:
        assert len({name.cause for name in answer.named}) == len(answer.named) <= 3


def test_how_sure_is_said_in_every_way():
    assert [as_sure(typed) for typed in ("sure", "2", "3", "4", "100", "12%", "1 %", "")] == [
        0.95, 0.7, 0.4, 0.04, 1.0, 0.12, 0.01, None,
    ]  # fmt: skip
    assert [as_sure(typed) for typed in ("-1", "101", "0", "1e9", "²", "nan", "9" * 40)] == [None] * 7


def test_a_cause_is_found_by_a_word_of_its_title_first(knowledge):
    assert causes_called("dirty-holder", knowledge) == [DIRTY]
    found = causes_called("holder", knowledge)
    assert 1 < len(found) <= 9
    assert "holder" in knowledge.causes[found[0]].title.casefold()
    assert causes_called("zebra", knowledge) == []
    assert causes_called("  ", knowledge) == []


def test_plates_of_the_book_hold_back_what_gave_them_away(practise, craft):
    book = Book(
        (
            plate_entry(1, confirmed=DIRTY, by="person", checks={"wipe-test": "?"}),
            plate_entry(2),
            plate_entry(3, good=True),
        )
    )
    drill, screen = practise(["1 sure", "", "?", "?", "", ""], book=book, seed="")
    (answer,) = drill.answers
    assert answer.origin == "book"
    assert answer.causes == (DIRTY,)
    assert "the photographer's own word" in screen
    assert "a sitter's name" not in screen
    assert "The same plates again" not in screen


def test_a_book_without_a_confirmed_cause_says_how_to_get_one(practise):
    with pytest.raises(BookError, match="diagnose day confirm"):
        practise([], book=Book((plate_entry(1),)))


def plate_entry(number, confirmed="", by="", good=False, checks=None):
    told = {"symptoms": {"oyster-shell-marks": True}, "conditions": {"holder_wiped": "no"}, "checks": checks or {}}
    return PlateEntry(
        number=number,
        moment=Moment(1_777_000_000 + number, "2026-05-01", "10:00"),
        outcome="good" if good else "spoiled",
        told={} if good else told,
        confirmed=confirmed,
        confirmed_by=by,
        note="a sitter's name",
    )


pictured = pytest.mark.skipif(not pictures_can_be_drawn(), reason="needs the extra [pictures]")


@pictured
def test_a_drawing_is_written_where_it_was_asked_for(practise, tmp_path):
    ways = ways_of(make_look(file=io.StringIO(), width=80), str(tmp_path / "new"))
    drill, screen = practise(["fog", "?", "?", "", ""], ways=ways, count=1)
    assert (tmp_path / "new" / "plate-1.png").read_bytes().startswith(b"\x89PNG")
    assert "Drawn in" in screen
    assert drill.answers[0].sign_named == "fog"


@pictured
def test_a_drawn_sign_is_not_named_before_the_student_has(practise, craft, tmp_path):
    ways = Ways(blocks=False, folder=tmp_path, note="")
    for number in range(1, 4):
        exercise, _ = plate_of(random.Random, craft, f"drawn{number}", 1)
        _, screen = practise(["?", "1 sure", ""], ways=ways, count=1, seed=f"drawn{number}")
        assert f"- {craft.knowledge.symptoms[exercise.sign].title}" not in screen
        assert "What is drawn" in screen


@pictured
def test_a_sign_taken_for_another_is_set_beside_it(practise, craft, tmp_path):
    exercise, _ = plate_of(random.Random, craft, "may", 1)
    other = "comets" if exercise.sign != "comets" else "fog"
    _, screen = practise([other, "?", "?", "", ""], ways=Ways(False, tmp_path, ""), count=1)
    said = " ".join(screen.split())
    assert f"The sign: {craft.knowledge.symptoms[exercise.sign].title}" in said
    assert f"You took it for: {craft.knowledge.symptoms[other].title}" in said


@pictured
def test_what_parts_a_sign_from_the_one_it_was_taken_for_is_said(practise, craft, tmp_path):
    number, near = next(
        (number, entry.beside[0])
        for number in range(40)
        if (entry := craft.knowledge.symptoms[plate_of(random.Random, craft, f"near{number}", 1)[0].sign]).beside
    )
    _, screen = practise(
        [near.symptom, "?", "?", "", ""], ways=Ways(False, tmp_path, ""), count=1, seed=f"near{number}"
    )
    assert f"To tell them apart: {near.differs}" in " ".join(screen.split())


def test_what_parts_a_wrong_cause_from_the_right_one_is_said(practise, craft):
    exercise, _ = plate_of(random.Random, craft, "may", 1)
    alike = craft.knowledge.causes[exercise.causes[0]].look_alike[0]
    _, screen = practise([alike.cause.partition("/")[2], "1", "", "?", "?", "", ""], count=1)
    assert f"To tell them apart: {alike.apart}" in " ".join(screen.split())


@pictured
def test_under_the_safelight_a_drawing_is_amber_alone():
    blocks = in_blocks(draw("fog", {}, 1), 24, safelight=True)
    for span in blocks.spans:
        for colour in (span.style.color, span.style.bgcolor):
            red, green, blue = colour.triplet
            assert blue == 0
            assert green <= red


@pytest.mark.parametrize("look", [{"plain": True}, {}])
def test_where_no_colours_are_there_are_words(look):
    found = ways_of(make_look(file=io.StringIO(), width=80, **look), "")
    assert not found.drawn
    assert bool(found.note) == (not look)


def test_without_the_extra_one_line_says_how_to_get_it(practise, monkeypatch, tmp_path):
    monkeypatch.setattr("diagnose.talk.drill_picture.pictures_can_be_drawn", lambda: False)
    ways = ways_of(make_look(file=io.StringIO(), width=80), str(tmp_path / "pictures"))
    _, screen = practise(["1 sure", "", "?", "?", "", ""], ways=ways, count=1)
    assert " ".join(screen.split()).count("pip install numpy pillow") == 1
    assert "What it was" in screen
    assert not (tmp_path / "pictures").exists()
