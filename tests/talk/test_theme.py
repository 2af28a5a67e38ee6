"""Safelight: red and amber on black in every cell. Plain: letters only. And what happens where there are no colours."""

import codecs
import io
import json
import os
import re
import subprocess
import sys
from dataclasses import dataclass

import pytest
from rich.text import Text

from diagnose.talk import letters, theme
from diagnose.talk.theme import make_look

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
TYPED = ["fog", "zzzz", "1", "", "w", "?", "nonsense", "m", "1", "u", "t", "1", "1", "s", "comets", "", "?", "?", "q"]
ESCAPE = re.compile(r"\x1b\[([0-9;]*)([A-Za-z])")
COLOUR = re.compile(r"\x1b\[(?:[0-9;]*;)?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:;[0-9;]*)?m")
LETTERS_OF_PLAIN = re.compile(r"[•·…→←≥≤×─-╿■-◿✓✗]")
RED_OR_AMBER = {
    "truecolor": {"38;2;208;32;0", "38;2;224;112;0"},
    "256": {"38;5;160", "38;5;166", "38;5;172", "38;5;202", "38;5;208"},
    "standard": {"31", "33"},
}
BLACK = {"truecolor": {"48;2;0;0;0"}, "256": {"48;5;16", "48;5;0", "40"}, "standard": {"40"}}


@dataclass(frozen=True)
class Cell:
    """One letter as a terminal would show it."""

    letter: str
    front: str
    back: str
    reverse: bool


def cells(output: str) -> list[list[Cell]]:
    """What a terminal shows of an output, line by line; fails on anything but colours and "clear to the end of the line"."""
    lines: list[list[Cell]] = [[]]
    front = back = ""
    reverse = False
    place = 0
    while place < len(output):
        found = ESCAPE.match(output, place)
        if found is None:
            letter = output[place]
            place += 1
            if letter == "\n":
                lines.append([])
            else:
                assert letter.isprintable(), repr(letter)
                lines[-1].append(Cell(letter, front, back, reverse))
            continue
        place = found.end()
        assert found[2] in "mK", found[0]
        codes = found[1].split(";") if found[2] == "m" else []
        while codes:
            code = codes.pop(0)
            if code in {"", "0"}:
                front, back, reverse = "", "", False
            elif code in {"38", "48"}:
                count = {"2": 3, "5": 1}[codes[0]]
                colour = ";".join([code, *codes[: count + 1]])
                codes = codes[count + 1 :]
                front, back = (colour, back) if code == "38" else (front, colour)
            elif code == "7":
                reverse = True
            elif code in {str(number) for number in (*range(30, 38), *range(90, 98))}:
                front = code
            elif code in {str(number) for number in (*range(40, 48), *range(100, 108))}:
                back = code
            else:
                assert code == "1", f"neither a colour nor bold: {code}"
    return lines


def assert_dark(output: str, system: str = "truecolor", width: int | None = None) -> None:
    """Every cell is red or amber on black."""
    lines = cells(output)
    assert any(lines)
    for line in lines:
        for cell in line:
            assert cell.front in RED_OR_AMBER[system], (cell, "".join(item.letter for item in line))
            assert cell.back in BLACK[system], (cell, "".join(item.letter for item in line))
            assert not cell.reverse
        if width is not None and line:
            assert len(line) == width, "".join(item.letter for item in line)


@pytest.fixture(autouse=True)
def _no_wishes_of_the_person(monkeypatch):
    for name in ("NO_COLOR", "FORCE_COLOR", "COLORTERM", "COLUMNS", "LINES"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")


@pytest.mark.parametrize("name", NAMES)
def test_safelight_is_red_and_amber_on_black_in_every_cell(name, draw):
    assert_dark(draw(name, width=60, safelight=True, force_terminal=True, color_system="truecolor"), width=60)


@pytest.mark.parametrize(("system", "term"), [("256", "xterm-256color"), ("standard", "xterm")])
def test_safelight_is_as_dark_where_the_terminal_has_few_colours(system, term):
    """In a process of its own: rich keeps the codes of the first terminal it meets."""
    done = child("--safelight", "demo", FORCE_COLOR="1", TERM=term, COLUMNS="60")
    assert_dark(done.stdout.decode(), system)


def test_safelight_dialog_is_dark_too_what_is_typed_included(talk):
    talked = talk(TYPED, safelight=True, force_terminal=True, color_system="truecolor")
    assert_dark(talked.screen)
    assert "diagnose plate --talk" in ESCAPE.sub("", talked.screen)


def test_safelight_dialog_gives_the_terminal_back_as_it_was(monkeypatch):
    """After each line typed the terminal's own colours are set again, even where the input ends."""
    from diagnose.talk.listening import listen_to_terminal

    out = io.StringIO()
    prompt = make_look(safelight=True, file=out, width=50, force_terminal=True, color_system="truecolor").prompt
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys.stdin, "isatty", lambda: True, raising=False)

    def ended(_prompt):
        raise EOFError

    monkeypatch.setattr("builtins.input", ended)
    with pytest.raises(EOFError):
        listen_to_terminal(prompt)
    assert out.getvalue() == "\x1b[0m"


def test_safelight_beats_no_color_because_it_was_asked_for(draw, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    assert_dark(draw("first", width=60, safelight=True, force_terminal=True, color_system="truecolor"), width=60)


def test_the_parser_of_these_tests_sees_what_it_must_see(draw):
    everyday = draw("first", width=60, force_terminal=True, color_system="truecolor")
    with pytest.raises(AssertionError):
        assert_dark(everyday)
    for slip in ("\x1b[31;40mred\x1b[0m white", "\x1b[7;31;40mreverse\x1b[0m", "\x1b[97;40mbright\x1b[0m"):
        with pytest.raises(AssertionError):
            assert_dark(slip, "standard")


@pytest.mark.parametrize("name", NAMES)
def test_everyday_has_colours_in_a_terminal_and_none_beside_it(name, draw):
    coloured = draw(name, width=60, force_terminal=True, color_system="truecolor")
    assert "\x1b[" in coloured
    bare = draw(name, width=60)
    assert "\x1b" not in bare
    assert ESCAPE.sub("", coloured) == bare


@pytest.mark.parametrize("name", NAMES)
def test_no_color_leaves_no_colour_codes(name, draw, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    assert not COLOUR.search(draw(name, width=60, force_terminal=True, color_system="truecolor"))


@pytest.mark.parametrize("name", NAMES)
def test_plain_has_no_escapes_and_no_symbols_even_in_a_terminal(name, draw):
    screen = draw(name, width=60, plain=True, force_terminal=True, color_system="truecolor")
    assert "\x1b" not in screen
    assert not LETTERS_OF_PLAIN.search(screen)
    for line in screen.splitlines():
        start = line.lstrip()[:1]
        assert start.isascii() or start in "“°", line


@pytest.mark.parametrize("look", [{"plain": True}, {}], ids=["plain", "dumb"])
def test_plain_dialog(look, talk, monkeypatch):
    monkeypatch.setenv("TERM", "dumb")
    talked = talk(TYPED, force_terminal=True, color_system="truecolor", **look)
    assert "\x1b" not in talked.screen
    assert not LETTERS_OF_PLAIN.search(talked.screen)


def test_dumb_terminal_is_plain_even_with_the_safelight(monkeypatch):
    monkeypatch.setenv("TERM", "dumb")
    look = make_look(safelight=True, file=io.StringIO())
    assert look.plain
    assert not look.safelight


def test_width_keeps_within_reason():
    for asked, given in ((5, theme.NARROWEST), (50, 50), (1000, theme.WIDEST)):
        assert make_look(width=asked, file=io.StringIO()).console.width == given


# Where letters cannot be printed -------------------------------------------


def child(*arguments, typed="", **environment):
    env = {name: value for name, value in os.environ.items() if name not in {"NO_COLOR", "FORCE_COLOR", "COLORTERM"}}
    return subprocess.run(
        [sys.executable, "-m", "diagnose", *arguments],
        input=typed.encode(),
        capture_output=True,
        timeout=60,
        check=False,
        env={**env, "TERM": "xterm", "COLUMNS": "80", **environment},
    )


@pytest.mark.parametrize("arguments", [("demo",), ("plate", "comets", "-c", "room_temperature=31 °C", "--full"), ()])
def test_ascii_output_prints_the_nearest_letters(arguments):
    done = child(*arguments, typed="fog\n\n?\n25\nq\n", PYTHONIOENCODING="ascii:strict")
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.isascii()
    assert b"?" not in re.sub(
        rb"\w\?|=\?|\? don't know", b"", done.stdout
    )  # questions, and "don't know"; no letter was lost


def test_json_in_ascii_says_exactly_the_same():
    told = ("plate", "fog", "-c", "room_temperature=31 °C", "--json")
    bare = child(*told, PYTHONIOENCODING="ascii:strict").stdout
    assert bare.isascii()
    assert json.loads(bare) == json.loads(child(*told, PYTHONIOENCODING="utf-8").stdout)


def test_ascii_error_is_said_too():
    done = child("plate", "fog", "-c", "room_temperature=20", PYTHONIOENCODING="ascii:strict")
    assert done.returncode == 1
    assert done.stderr.isascii()
    assert b"write a number and one of: C, F" in done.stderr


@pytest.fixture
def _nearest():
    codecs.register_error("nearest", letters._nearest)


@pytest.mark.usefixtures("_nearest")
def test_the_command_printed_in_ascii_is_read_again():
    """`28 C` stands for `28 °C`."""
    from diagnose.units import read_amount

    assert read_amount("28 °C".encode("ascii", "nearest").decode(), "°C") == 28.0


@pytest.mark.usefixtures("_nearest")
def test_every_letter_of_the_knowledge_has_a_nearest_one(knowledge):
    used = {letter for letter in repr(knowledge) if not letter.isascii()}
    lost = {letter for letter in used if letter.encode("ascii", "nearest") == b"?"}
    assert not lost, "give them a line in letters.NEAREST"


def test_piped_output_has_no_escapes():
    for arguments in (("plate", "fog", "--full"), ("--safelight", "plate", "fog"), ("symptoms", "fog")):
        assert b"\x1b" not in child(*arguments).stdout


def test_a_dumb_terminal_has_its_own_width(monkeypatch):
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    monkeypatch.setenv("TERM", "dumb")
    monkeypatch.setenv("COLUMNS", "50")
    assert make_look(file=Terminal()).console.width == 50


def test_no_letter_that_a_terminal_obeys_is_printed():
    for look in ({}, {"plain": True}, {"safelight": True}):
        out = io.StringIO()
        shown = make_look(file=out, width=60, color_system=None, **look)
        shown.show(Text("a\x1b[2Jb\x9bc\u202ed\x07"))
        shown.line("e\x1b]0;f\u2066g")
        assert all(letter == "\n" or letter.isprintable() for letter in out.getvalue())
        assert "a" in out.getvalue()
