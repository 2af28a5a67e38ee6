"""Entries written into the book and said back."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from diagnose.daybook.book import (
    BookEntry,
)
from diagnose.daybook.said_back import said_back
from diagnose.errors import PlateError
from diagnose.talk.around import Around
from diagnose.talk.clock import today

if TYPE_CHECKING:
    from diagnose.daybook.store import Store

Options = Mapping[str, Any]
LONGEST_NOTE = 5000


def keep(store: "Store", around: Around, *entries: BookEntry) -> None:
    """Write entries, all or none, and say each back.

    Args:
        store: the book
        around: the screen
        entries: in order
    """
    numbers = store.add(*entries)
    for number, entry in zip(numbers, entries, strict=True):
        around.say(f"Kept as number {number}: {dated(entry, around)}", "act")


def dated(entry: BookEntry, around: Around) -> str:
    """An entry in words, with its day where that is not today.

    Args:
        entry: any
        around: for the craft's words
    """
    words, moment = said_back(entry, around.knowledge), entry.moment
    return f"{moment.day} {words}" if moment.clock and moment.day != today() else words


def note_of(text: str) -> str:
    """A note as it was typed.

    Args:
        text: the note

    Raises:
        PlateError: it is far too long
    """
    if len(text) > LONGEST_NOTE:
        raise PlateError(f"the note is too long; {LONGEST_NOTE} letters are kept at most")
    return text
