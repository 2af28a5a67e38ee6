"""Entries of the daybook as rows of plain values, and back; nothing else is ever kept."""

import math
import re
from collections.abc import Callable, Mapping
from typing import Any, get_args

from diagnose.daybook.book import (
    OUTCOMES,
    THINGS,
    WORKS,
    BookEntry,
    Confirmed,
    Given,
    Moment,
    NoteEntry,
    PlateEntry,
    ValueEntry,
    WorkEntry,
)
from diagnose.errors import BookError, printable
from diagnose.plate import day_number

CONFIRMED: tuple[Confirmed, ...] = get_args(Confirmed)
# The kinds of entries, each with a table of its own, and the fields that stand in columns of their own besides the moment's.
KINDS: Mapping[str, tuple[type[BookEntry], tuple[str, ...]]] = {
    "plates": (
        PlateEntry,
        ("outcome", "told", "made_with", "size", "given", "confirmed", "confirmed_by", "who", "note"),
    ),
    "works": (WorkEntry, ("work", "thing", "name", "remedy", "amount", "who", "note")),
    "values": (ValueEntry, ("condition", "value", "name")),
    "notes": (NoteEntry, ("note", "who")),
}
KIND_WORDS = {"plates": "a plate", "works": "something done", "values": "a value", "notes": "a note"}
TABLES = ("told", "made_with", "given")  # fields that hold tables; all others hold plain words, save the size
WHOLE = 2**62  # whole numbers beyond it fit no database, and are no seconds of anyone's life
DEEPEST = 20  # tables within tables; a plate has three
CLOCK = re.compile(r"([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?", re.ASCII)
# What no database keeps: the empty letter, and halves of letters that came without their other half.
UNKEEPABLE = re.compile("[\0\ud800-\udfff]")


def kind_of(entry: BookEntry) -> str:
    """The table an entry belongs to.

    Args:
        entry: any

    Raises:
        BookError: it is no entry of a daybook
    """
    for kind, (shape, _) in KINDS.items():
        if type(entry) is shape:
            return kind
    raise BookError(f"{printable(repr(entry))[:60]} is no entry of a daybook")


def keepable(text: str) -> str:
    r"""Text as the book keeps it: letters that no database takes become a question mark in a diamond.

    Args:
        text: as it was typed or pasted

    >>> keepable("silver\0bath"), keepable("\ud83d\ude00"), keepable("half \ud83d")
    ('silver�bath', '😀', 'half �')
    """
    if UNKEEPABLE.search(text) is None:
        return text
    joined = text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    return joined.replace("\0", "\ufffd")


def row_of(entry: BookEntry) -> dict[str, Any]:
    """The row in which an entry is kept, without its number.

    Args:
        entry: any

    Raises:
        BookError: a value that the book does not know, in one line
    """
    _, fields = KINDS[kind_of(entry)]
    try:
        moment = entry.moment
        row = {"at": moment.at, "day": moment.day, "clock": moment.clock}
        for field in fields:
            value = getattr(entry, field)
            if isinstance(value, Given):
                value = {
                    "version": value.version,
                    "causes": value.causes,
                    "first": value.first,
                    "unlisted": value.unlisted,
                }
            row[field] = _plain(value, field) if field in TABLES else keepable(value) if type(value) is str else value
        _check(row)
    except (ValueError, AttributeError) as error:
        raise BookError(f"this entry cannot be kept: {error}") from None
    return row


def entry_of(kind: str, number: int, row: Mapping[str, Any]) -> BookEntry:
    """The entry that a row keeps.

    Args:
        kind: the table it came from
        number: the running number
        row: its values by column

    Raises:
        ValueError: what is wrong with the row, in a few words
    """
    shape, fields = KINDS[kind]
    _check({"at": row["at"], "day": row["day"], "clock": row["clock"]} | {field: row[field] for field in fields})
    values = {field: row[field] for field in fields}
    if (given := values.get("given")) is not None:
        values["given"] = Given(given["version"], given["causes"], given["first"], given["unlisted"])
    return shape(number=number, moment=Moment(row["at"], row["day"], row["clock"]), **values)


def _check(row: Mapping[str, Any]) -> None:
    """Every value is one that the book knows, whichever way it goes."""
    for field, value in row.items():
        test, wanted = _WANTED.get(field, _WORDS)
        if not test(value):
            raise ValueError(f"{field} is {_shown(value)}; it must be {wanted}")


def _plain(value: Any, place: str, depth: int = 0) -> Any:
    """A value as JSON holds it: tables, lists, words, numbers, yes and no."""
    if isinstance(value, str):
        return keepable(value)
    if value is None or isinstance(value, bool) or (isinstance(value, int) and abs(value) < WHOLE):
        return value
    if isinstance(value, float) and math.isfinite(value):
        return value
    if depth < DEEPEST and isinstance(value, Mapping):
        if not all(isinstance(key, str) for key in value):
            raise ValueError(f"{place} has a name in it that is not a word")
        return {keepable(key): _plain(item, place, depth + 1) for key, item in value.items()}
    if depth < DEEPEST and isinstance(value, list | tuple):
        return [_plain(item, place, depth + 1) for item in value]
    raise ValueError(f"{place} holds {_shown(value)}, which cannot be written down")


def _shown(value: Any) -> str:
    if isinstance(value, int) and abs(value) >= WHOLE:
        return "a number that is far too long"
    text = printable(value if isinstance(value, str) else repr(value))
    return f"'{text[:60]}{'...' if len(text) > 60 else ''}'" if isinstance(value, str) else text[:60]


def _is_number(value: Any) -> bool:
    return type(value) in {int, float} and math.isfinite(value)


def _is_given(value: Any) -> bool:
    return value is None or (
        isinstance(value, dict)
        and type(value.get("version")) is str
        and type(value.get("first")) is str
        and _is_number(value.get("unlisted"))
        and isinstance(causes := value.get("causes"), dict)
        and all(map(_is_number, causes.values()))
    )


def _is_made_with(value: Any) -> bool:
    return isinstance(value, dict) and all(key in THINGS and type(name) is str for key, name in value.items())


def _one_of(words: tuple[str, ...]) -> tuple[Callable[[Any], bool], str]:
    """The test for a closed list of words, and the list in words."""
    named = ", ".join(words[1:] if not words[0] else words) + (" or nothing" if not words[0] else "")
    return (lambda value: type(value) is str and value in words), f"one of {named}"


_WORDS = (lambda value: type(value) is str), "words"
# Field -> its test and what is wanted, in words; every other field holds words.
_WANTED: Mapping[str, tuple[Callable[[Any], bool], str]] = {
    "at": (lambda value: type(value) is int and abs(value) < WHOLE, "a whole number of seconds"),
    "day": (
        lambda value: type(value) is str and value.isascii() and day_number(value) is not None,
        "a date such as 2026-05-01",
    ),
    "clock": (
        lambda value: type(value) is str and (not value or CLOCK.fullmatch(value) is not None),
        "a time such as 14:05, or nothing",
    ),
    "outcome": _one_of(OUTCOMES),
    "told": (lambda value: isinstance(value, dict), "a table"),
    "made_with": (_is_made_with, f"a table of names for {', '.join(THINGS)}"),
    "size": (lambda value: value is None or (_is_number(value) and value >= 0), "an area [cm²], or nothing"),
    "given": (_is_given, "a table of version, causes, first and unlisted, or nothing"),
    "confirmed_by": _one_of(CONFIRMED),
    "work": _one_of(WORKS),
    "thing": _one_of(THINGS),
}
