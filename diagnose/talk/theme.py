"""How the screen looks: everyday colours, red and amber for the darkroom, or plain text."""

import os
import sys
from dataclasses import dataclass
from shutil import get_terminal_size
from typing import IO, Any

from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
from rich.segment import Segment
from rich.style import Style
from rich.theme import Theme

from diagnose.errors import printable

NARROWEST = 30
WIDEST = 96
NAMES = ("title", "act", "why", "faint", "care", "danger", "number", "key")
EVERYDAY = Theme(
    {
        "title": "bold",
        "act": "bold green",
        "why": "default",
        "faint": "dim",
        "care": "yellow",
        "danger": "bold red",
        "number": "cyan",
        "key": "bold",
    },
    inherit=False,
)
# Plates see blue and green: nothing but red and amber, on black, in every cell, and never reversed.
RED, AMBER, BLACK = "#d02000", "#e07000", "#000000"
SAFELIGHT = Theme(
    {
        "title": f"{AMBER} on {BLACK}",
        "act": f"bold {AMBER} on {BLACK}",
        "why": f"{RED} on {BLACK}",
        "faint": f"{RED} on {BLACK}",
        "care": f"{AMBER} on {BLACK}",
        "danger": f"bold {AMBER} on {BLACK}",
        "number": f"{AMBER} on {BLACK}",
        "key": f"bold {RED} on {BLACK}",
    },
    inherit=False,
)
PLAIN = Theme(dict.fromkeys(NAMES, "default"), inherit=False)
TO_LINE_END, AS_BEFORE = "\x1b[K", "\x1b[0m"


@dataclass(frozen=True)
class Look:
    """How things are shown.

    Args:
        console: where they are printed
        safelight: red and amber on black
        plain: no colour, no lines, no symbols: for screen readers and dumb terminals
    """

    console: Console
    safelight: bool = False
    plain: bool = False

    def show(self, *things: RenderableType) -> None:
        """Print things one below the other."""
        for thing in things:
            self.console.print(Blackened(thing) if self.safelight else Trimmed(thing))

    def line(self, text: str) -> None:
        """Print one line as it is, however long, so that it can be copied whole."""
        style = f"{RED} on {BLACK}" if self.safelight else None
        self.console.print(printable(text), soft_wrap=True, style=style)

    @property
    def prompt(self) -> str:
        """What stands before a line to type; on the safelight screen what is typed is red on black, too."""
        if not (self.safelight and self.console.color_system):
            return "> "
        red = Style.parse(f"{RED} on {BLACK}").render(">", color_system=self.console._color_system)  # noqa: SLF001
        return red.partition(">")[0] + TO_LINE_END + "> "

    @property
    def bullet(self) -> str:
        """What stands before an item of a list."""
        return "-" if self.plain or not _can_print("•", self.console) else "•"


class Trimmed:
    """Anything, without blanks at the ends of its lines."""

    def __init__(self, thing: RenderableType) -> None:
        self.thing = thing

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Cut what is blank off the end of each line."""
        for line in console.render_lines(self.thing, options, pad=False):
            while line and not line[-1].text.strip(" "):
                line.pop()
            yield from map(_harmless, line[:-1])
            if line:
                yield _harmless(Segment(line[-1].text.rstrip(" "), line[-1].style))
            yield Segment.line()


class Blackened:
    """Anything, with every cell of every line red or amber on black."""

    def __init__(self, thing: RenderableType) -> None:
        self.thing = thing

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Pad each line to the full width, so that no cell keeps the terminal's own colours."""
        base = Style.parse(f"{RED} on {BLACK}")
        for line in console.render_lines(self.thing, options, style=base, pad=True):
            for segment in line:
                yield _harmless(segment if segment.style else Segment(segment.text, base))
            yield Segment.line()


def _harmless(segment: Segment) -> Segment:
    """The same without letters that a terminal would obey; a person's own words come with any."""
    return segment if segment.text.isprintable() else Segment(printable(segment.text), segment.style)


def make_look(
    *, safelight: bool = False, plain: bool = False, width: int | None = None, file: IO[str] | None = None, **more: Any
) -> Look:
    """A console in the look that is wanted.

    Args:
        safelight: red and amber on black
        plain: no colour, no symbols
        width: columns; the terminal's own, within reason, if not given
        file: where to print; the standard output if not given
        more: handed to the console
    """
    plain = plain or os.environ.get("TERM") == "dumb"
    theme = PLAIN if plain else SAFELIGHT if safelight else EVERYDAY
    console = Console(
        theme=theme,
        file=file or sys.stdout,
        highlight=False,
        markup=False,
        emoji=False,
        no_color=True if plain else False if safelight else None,  # asked for by name, red and amber beat NO_COLOR
        soft_wrap=False,
        **more,
    )
    own = console.width
    if console.is_dumb_terminal:  # rich takes any of them for 80 wide, unless the height is set as well
        own, console.height = get_terminal_size()
    console.width = max(NARROWEST, min(width or own, WIDEST))
    return Look(console, safelight=safelight and not plain, plain=plain)


def _can_print(symbol: str, console: Console) -> bool:
    try:
        symbol.encode(console.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
