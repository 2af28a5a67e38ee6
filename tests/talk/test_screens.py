"""Every screen against the one that is kept, at two widths. `UPDATE_SCREENS=1 pytest tests/talk` keeps new ones."""

import os
import re
from pathlib import Path

import pytest
from rich.cells import cell_len

from diagnose.bands import BANDS

KEPT = Path(__file__).resolve().parents[1] / "screens"
UPDATE = bool(os.environ.get("UPDATE_SCREENS"))
NAMES = (
    "first",
    "full",
    "why",
    "why-not",
    "turn",
    "trace",
    "cyanide-plan",
    "cyanide-first",
    "nothing-told",
    "nothing-explains",
)
BENCH = ("bench-list", "bench-sum", "bench-solution", "bench-full", "bench-asked")
DAY = ("day", "day-list", "day-confirm", "day-confirm-one", "day-learning", "day-enter", "day-talk")
WIDTHS = (80, 50)
LOOKS = ({}, {"plain": True})
CYANIDE_ELSEWHERE = {"symptoms": {"comets": True}, "conditions": {"fixer": "cyanide"}}
ENGINES = ("durable-rules", "plain")
WORDS = "|".join(words for _, words in BANDS)  # the longer ones come first: "very likely" before "likely"
# A word for a probability stands at the end of a title or a label, never inside the craft's own sentences.
WORD = re.compile(rf"(?:: |” is |It is |”, )({WORDS})(?=[,;.]|$)")
NUMBER = re.compile(r"\b[1-9]\d?%")


def flowing(screen: str) -> str:
    """A screen without its line breaks inside paragraphs."""
    return re.sub(r"\s+", " ", screen)


def scrubbed(screen: str) -> str:
    """Without what may differ from machine to machine: which engine fired the rules."""
    return re.sub(rf"^Rules that fired \((?:{'|'.join(ENGINES)})\)", "Rules that fired (ENGINE)", screen)


def test_every_screen_is_listed(all_screens, all_bench_screens, all_day_screens):
    assert all_screens == NAMES
    assert all_bench_screens == BENCH
    assert all_day_screens == DAY


def assert_kept(name, width, everyday, plain):
    """Both looks say what is kept in the file."""
    path = KEPT / f"{name}-{width}.txt"
    assert everyday == plain, "the two looks differ in their words"
    if UPDATE:
        path.parent.mkdir(exist_ok=True)
        path.write_text(everyday, encoding="utf-8")
    assert everyday == path.read_text(encoding="utf-8"), "if this is meant: UPDATE_SCREENS=1 pytest tests/talk -n 0"


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_screen_is_the_one_kept(name, width, draw):
    assert_kept(name, width, *(scrubbed(draw(name, width=width, **look)) for look in LOOKS))


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", BENCH)
def test_screen_of_the_bench_is_the_one_kept(name, width, draw_bench):
    assert_kept(name, width, *(draw_bench(name, width=width, **look) for look in LOOKS))


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", DAY)
def test_screen_of_the_day_is_the_one_kept(name, width, draw_day):
    assert_kept(name, width, *(draw_day(name, width=width, **look) for look in LOOKS))


@pytest.mark.parametrize("name", DAY)
def test_the_days_lines_fit_and_their_words_are_cut_nowhere(name, draw_day):
    screens = {width: draw_day(name, width=width) for width in (96, 30)}
    wide, narrow = (flowing(screen).replace(" ", "") for screen in screens.values())
    assert wide == narrow
    for width, screen in screens.items():
        for line in screen.splitlines():
            assert cell_len(line) <= width or line.startswith("diagnose ")
            assert line == line.rstrip()


def test_no_screen_is_kept_that_is_not_drawn():
    drawn = {f"{name}-{width}.txt" for name in (*NAMES, *BENCH, *DAY) for width in WIDTHS}
    assert {path.name for path in KEPT.iterdir()} <= drawn


@pytest.mark.parametrize("width", [30, 41, 50, 64, 80, 96])
@pytest.mark.parametrize("name", NAMES)
def test_lines_fit_and_end_where_the_words_end(name, width, draw):
    for look in LOOKS:
        for line in draw(name, width=width, **look).splitlines():
            assert cell_len(line) <= width
            assert line == line.rstrip()


@pytest.mark.parametrize("name", NAMES)
def test_only_line_ends_and_letters(name, draw):
    screen = draw(name, width=80)
    assert all(letter == "\n" or letter.isprintable() for letter in screen)
    assert "\n\n\n" not in screen


@pytest.mark.parametrize("name", [name for name in NAMES if name != "trace"])  # rules fire or not; they have no chances
def test_number_stands_beside_its_word(name, draw):
    screen = flowing(draw(name, width=96))
    assert NUMBER.search(screen)
    for found in WORD.finditer(screen):
        assert re.match(r", [1-9]\d?%", screen[found.end() :]), screen[found.start() : found.end() + 20]


@pytest.mark.parametrize("name", ["first", "full", "why", "why-not", "turn", "cyanide-plan", "nothing-told"])
def test_a_word_for_the_probability_is_there_at_all(name, draw):
    """So that the test above cannot pass by finding nothing."""
    assert WORD.search(flowing(draw(name, width=96)))


def test_words_are_cut_nowhere(draw):
    """The same words at every width: nothing is dropped where the screen is narrow."""
    for name in NAMES:
        wide, narrow = (flowing(draw(name, width=width)).replace(" ", "") for width in (96, 30))
        assert wide == narrow


def test_the_benchs_words_are_cut_nowhere(draw_bench):
    for name in BENCH:
        wide, narrow = (flowing(draw_bench(name, width=width)).replace(" ", "") for width in (96, 30))
        assert wide == narrow


def test_first_screen_says_one_action_why_and_how_sure_before_anything_else(draw):
    head = draw("first", width=80).splitlines()[:12]
    assert head[0] in {"Change this before the next pour", "Look at this first"}
    assert any(line.startswith("  Why: ") for line in head)
    assert any(line.startswith(("  How sure: ", "  Do (")) for line in head)


def test_first_screen_is_soon_read(draw):
    for name in ("first", "nothing-told", "nothing-explains"):
        assert len(draw(name, width=80).splitlines()) <= 40


def test_cyanide_is_warned_of_in_the_plan(draw):
    screen = flowing(draw("cyanide-plan", width=80))
    assert "Danger: Cyanide kills." in screen
    assert "Danger: Never let acid meet cyanide." in screen


def test_cyanide_in_the_room_is_warned_of_whatever_is_to_be_done(draw, talk):
    """On the first screen, of the command and of the dialog alike, even where the next action has nothing to do with it."""
    screens = (draw("cyanide-first", width=80), talk([], CYANIDE_ELSEWHERE).screen)
    for screen in map(flowing, screens):
        assert "Danger: Cyanide kills" in screen
        assert "Never let acid meet cyanide" in screen


def test_nothing_told_is_said(draw):
    assert "Nothing has been told of the plate yet" in flowing(draw("nothing-told", width=80))


def test_nothing_explains_is_said(draw):
    assert "Nothing known here fits well." in flowing(draw("nothing-explains", width=80))


def test_sources_stand_with_the_reasons(draw):
    assert re.search(r"\((?:\w+ [^)]+|common-practice|judged)\)", flowing(draw("why", width=80)))
