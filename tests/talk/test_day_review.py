"""The review on the terminal, against the screens that are kept. `UPDATE_SCREENS=1 pytest tests/talk` keeps new ones."""

import io
import os
import re
from pathlib import Path

import pytest
from rich.cells import cell_len

from diagnose.bands import BANDS
from diagnose.daybook.book import Book, Moment, PlateEntry
from diagnose.daybook.demonstration import DAY, STORY, demonstration_book
from diagnose.daybook.review import review
from diagnose.reasoning.craft import craft_of
from diagnose.talk.day_review import show_review
from diagnose.talk.theme import make_look

KEPT = Path(__file__).resolve().parents[1] / "daybook" / "screens"
UPDATE = bool(os.environ.get("UPDATE_SCREENS"))
LOOKS = {"": {}, "plain-": {"plain": True}}
WORDS = "|".join(words for _, words in BANDS)


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def demonstrated(craft):
    return review(demonstration_book(), craft, DAY, DAY, story=STORY)


def drawn(one, *, full=False, width=80, **look):
    out = io.StringIO()
    show_review(one, make_look(file=out, width=width, **look), full)
    return out.getvalue()


def flowing(screen):
    return re.sub(r"\s+", " ", screen)


@pytest.mark.parametrize("width", [80, 50])
@pytest.mark.parametrize("full", [False, True], ids=["brief", "full"])
@pytest.mark.parametrize("look", LOOKS)
def test_screen_is_the_one_kept(demonstrated, look, full, width):
    screen = drawn(demonstrated, full=full, width=width, **LOOKS[look])
    path = KEPT / f"{look}{'full' if full else 'brief'}-{width}.txt"
    if UPDATE:
        path.parent.mkdir(exist_ok=True)
        path.write_text(screen, encoding="utf-8")
    assert screen == path.read_text(encoding="utf-8"), "if this is meant: UPDATE_SCREENS=1 pytest tests/talk -n 0"


@pytest.mark.parametrize("width", [30, 41, 50, 64, 96])
@pytest.mark.parametrize("look", LOOKS)
def test_lines_fit_and_end_where_the_words_end(demonstrated, look, width):
    for line in drawn(demonstrated, full=True, width=width, **LOOKS[look]).splitlines():
        assert cell_len(line) <= width
        assert line == line.rstrip()


def test_pattern_and_test_come_before_everything_else(demonstrated):
    screen = drawn(demonstrated)
    places = [screen.index(said) for said in ("17 plates", "Two patterns", "One test for tomorrow", "Upkeep due")]
    assert places == sorted(places)
    assert len(screen.splitlines()) <= 65


def test_number_stands_beside_its_word(demonstrated):
    screen = flowing(drawn(demonstrated, full=True, width=96))
    found = re.findall(rf"(?:: |\()({WORDS}), (\d+)%", screen)
    assert len(found) > 10
    assert not re.search(rf": ({WORDS})(?!, \d)[;.]", screen)


def test_one_mark_a_plate_told_apart_by_letter(demonstrated):
    strip = next(line for line in drawn(demonstrated).splitlines() if re.match(r" +1 .?[oX]", line))
    assert strip.count("o") == demonstrated.good
    assert strip.count("X") == demonstrated.spoiled
    assert strip.count("|") == len({work.before for work in demonstrated.works})


def test_onset_is_marked_below_its_plate(demonstrated):
    lines = drawn(demonstrated).splitlines()
    row = next(number for number, line in enumerate(lines) if re.match(r" +1 .?[oX]", line))
    marked = [place for place, letter in enumerate(lines[row + 1]) if letter == "^"]
    plates = [place for place, letter in enumerate(lines[row]) if letter in "oX"]
    assert [plates.index(place) + 1 for place in marked] == [pattern.onset for pattern in demonstrated.patterns]


def test_strip_breaks_into_rows_that_go_on_counting(craft):
    rows = [
        PlateEntry(number=n + 1, moment=Moment(1_780_300_800 + 600 * n, "2026-06-01"), outcome="good")
        for n in range(45)
    ]
    for width, starts in ((80, [1, 21, 41]), (40, [1, 11, 21, 31, 41])):
        screen = drawn(review(Book(tuple(rows)), craft), width=width)
        assert [int(found) for found in re.findall(r"^ +(\d+)  o", screen, re.MULTILINE)] == starts


def test_plain_look_names_the_plates_instead_of_drawing_them(demonstrated):
    screen = drawn(demonstrated, full=True, plain=True)
    assert "Spoiled: 3, 7, 9-12, 16-17" in screen
    assert not re.search("[█#^]", screen)


def test_everything_is_there_on_request(demonstrated):
    screen = flowing(drawn(demonstrated, full=True, width=96))
    for line in demonstrated.lines:
        assert f"{line.number} {line.clock} {'good' if line.good else 'spoiled'}" in screen
    for caution in demonstrated.trial.cautions:
        assert flowing(caution.say) in screen
    for row in demonstrated.trend:
        assert row.label in screen


def test_foul_words_reach_no_terminal(craft):
    foul = "\x1b]0;owned\x07\u202e\x1b[2J"
    rows = [
        PlateEntry(
            moment=Moment(1_780_300_800 + 600 * n, "2026-06-01", "10:00"),
            outcome="spoiled" if n else "good",
            told={"symptoms": {"fog": True}} if n else {},
            who=foul if n % 2 else "x",
            note=foul,
            made_with={"holder": foul if n % 2 else "A"},
        )
        for n in range(6)
    ]
    for look in LOOKS.values():
        screen = drawn(review(Book(tuple(rows)), craft, story=foul), full=True, **look)
        assert all(letter == "\n" or letter.isprintable() for letter in screen)


def test_safelight_shows_no_cell_of_another_colour(demonstrated):
    out = io.StringIO()
    look = make_look(file=out, width=80, safelight=True, force_terminal=True, color_system="truecolor")
    show_review(demonstrated, look, full=True)
    colours = set(re.findall(r"[34]8;2;(\d+;\d+;\d+)", out.getvalue()))
    assert colours == {"208;32;0", "224;112;0", "0;0;0"}


def test_empty_book_reads_well(craft):
    assert "No plate in the book" in drawn(review(Book(), craft))
