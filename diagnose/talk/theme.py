"""How the screen looks: everyday colours, red and amber for the darkroom, or plain text."""

import os
import sys
from dataclasses import dataclass
from typing import IO, Any

from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
from rich.segment import Segment
from rich.style import Style
from rich.theme import Theme

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
RED, AMBER = "#d02000", "#e07000"
SAFELIGHT = Theme(
    {
        "title": f"{AMBER} on black",
        "act": f"bold {AMBER} on black",
        "why": f"{RED} on black",
        "faint": f"{RED} on black",
        "care": f"{AMBER} on black",
        "danger": f"bold {AMBER} on black",
        "number": f"{AMBER} on black",
        "key": f"bold {RED} on black",
    },
    inherit=False,
)
PLAIN = Theme(dict.fromkeys(NAMES, "default"), inherit=False)


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
            self.console.print(Blackened(thing) if self.safelight else thing)

    @property
    def bullet(self) -> str:
        """What stands before an item of a list."""
        return "-" if self.plain or not _can_print("•", self.console) else "•"


class Blackened:
    """Anything, with every cell of every line red or amber on black."""

    def __init__(self, thing: RenderableType) -> None:
        self.thing = thing

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Pad each line to the full width, so that no cell keeps the terminal's own colours."""
        base = Style.parse(f"{RED} on black")
        for line in console.render_lines(self.thing, options, style=base, pad=True):
            for segment in line:
                yield segment if segment.style else Segment(segment.text, base)
            yield Segment.line()


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
        no_color=True if plain else None,
        soft_wrap=False,
        **more,
    )
    console.width = max(NARROWEST, min(width or console.width, WIDEST))
    return Look(console, safelight=safelight and not plain, plain=plain)


def _can_print(symbol: str, console: Console) -> bool:
    try:
        symbol.encode(console.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
