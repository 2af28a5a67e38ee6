"""Every error a person can cause: what is wrong, where, and what to do about it."""

from collections.abc import Iterable
from typing import NamedTuple


class DiagnoseError(Exception):
    """Something the person at the keyboard can put right."""

    exit_code = 1


class PlateError(DiagnoseError):
    """The description of the plate cannot be read."""


class BookError(DiagnoseError):
    """The daybook, or what is to go into it, cannot be used; several problems stand a line each."""


class BatchError(DiagnoseError):
    """Many plates at once cannot be answered as asked."""


class PicturesMissing(DiagnoseError):  # noqa: N818 - named as one says it
    """Something is to be drawn, and the drawing libraries are not installed."""


class Problem(NamedTuple):
    """One thing wrong with a knowledge file.

    Args:
        file: path below the knowledge folder
        line: line number, 1 where the whole file is meant
        words: what is wrong
        fix: what to do about it
        level: "error" stops the file from being used, "note" is housekeeping
    """

    file: str
    line: int
    words: str
    fix: str = ""
    level: str = "error"

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.words}" + (f" -> {self.fix}" if self.fix else "")


class KnowledgeError(DiagnoseError):
    """The knowledge files have problems; all of them are listed."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        count = len(self.problems)
        first = f", first: {self.problems[0]}" if self.problems else ""
        super().__init__(f"the knowledge files have {count} problem{'s' if count != 1 else ''}{first}")


class LimitError(DiagnoseError):
    """A set of rules is larger than the rule engine can safely hold."""


class ChainError(Exception):
    """The rule engine did something it must not do: a bug, never a person's slip."""


def printable(text: str) -> str:
    """Text as it may be put on a screen: on one line, without control characters.

    Args:
        text: anything, a person's own words among them
    """
    return "".join(letter if letter.isprintable() else " " for letter in text)


def near(name: str, known: Iterable[str], count: int = 3) -> str:
    """A hint with the nearest known names.

    Args:
        name: what was written
        known: every name that would have been accepted
        count: how many names to offer at most

    Returns:
        "did you mean ...?", or "" when nothing is near
    """
    import difflib

    found = difflib.get_close_matches(name, list(known), n=count, cutoff=0.55)
    return f"did you mean {' or '.join(repr(item) for item in found)}?" if found else ""
