"""Entries of the daybook to and from text: JSON and TOML carry everything, CSV what a spreadsheet can show."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any, Literal, get_args

from diagnose.daybook.book import Book, BookEntry
from diagnose.daybook.exchange_csv import comparable, read_csv, savable, write_csv
from diagnose.daybook.exchange_json import read_json, write_json
from diagnose.daybook.exchange_problems import Place, Problems
from diagnose.daybook.exchange_tables import NOT_FOUND, entry_table, read_entry, without_private
from diagnose.daybook.exchange_toml import read_toml, write_toml
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import BookError
from diagnose.plate import shown

Form = Literal["json", "toml", "csv"]
FORMS: tuple[Form, ...] = get_args(Form)
FORM = 1  # of the files; to be raised when an older program could no longer read them
# Judged: the plates of ten busy years, and what is read in well under a minute; TOML reads slowly.
MOST_ENTRIES = 100_000
LARGEST = {"json": 40_000_000, "csv": 40_000_000, "toml": 8_000_000}


def write_entries(book: Book, form: Form, *, strip_notes: bool = False) -> str:
    """A daybook, or a part of it, as text.

    Args:
        book: the entries
        form: "json", "toml" or "csv"
        strip_notes: leave out every note, story and name of a person

    Raises:
        BookError: a plate of the book cannot be written
    """
    entries: Iterable[BookEntry] = book.entries
    if strip_notes:
        entries = (kept for entry in book.entries if (kept := without_private(entry)) is not None)
    if form == "csv":
        return write_csv(entries)
    tables = (_savable(entry_table(entry)) for entry in entries)
    return write_json(tables, FORM) if form == "json" else write_toml(tables, FORM)


def read_entries(
    text: str, form: Form, knowledge: Knowledge, at_of: Callable[[str, str], int]
) -> tuple[BookEntry, ...]:
    """Every entry of a file, in its order; or none, and everything that is wrong.

    Args:
        text: the file
        form: "json", "toml" or "csv"
        knowledge: the craft
        at_of: day and clock ("" where none was noted) -> seconds since 1970 in universal time [s]; the edge knows the time zone

    Raises:
        BookError: a line for each problem
    """
    if len(text) > LARGEST[form]:
        raise BookError(f"this file is far too large: {len(text)} letters, and {LARGEST[form]} are read; split it")
    clean = text.removeprefix("\ufeff")
    problems = Problems()
    if form == "csv":
        tables, lines_of = read_csv(clean, knowledge, problems, MOST_ENTRIES)
        places: list[Place] = [(position,) for position in range(len(tables))]
    else:
        told, lines_of = read_json(clean) if form == "json" else read_toml(clean)
        tables, above = _entries_of(told)
        places = [(*above, position) for position in range(len(tables))]
    if len(tables) > MOST_ENTRIES:
        raise BookError(f"there are {len(tables)} entries in one file, and {MOST_ENTRIES} are read; split it")
    found = [
        read_entry(table, place, knowledge, problems)
        for table, place in zip(tables, places, strict=True)
        if not problems.are_enough
    ]
    problems.refuse(lines_of)
    return in_time((entry for entry in found if entry is not None), at_of)


def in_time(entries: Iterable[BookEntry], at_of: Callable[[str, str], int]) -> tuple[BookEntry, ...]:
    """The same entries with the seconds that were not told.

    Args:
        entries: in the order of their file
        at_of: day and clock -> seconds since 1970 in universal time [s]

    Returns:
        in the same order; an entry without a clock stands at the moment of the one before it on its day
    """
    timed: list[BookEntry] = []
    for entry in entries:
        moment = entry.moment
        if moment.at == NOT_FOUND:
            before = timed[-1].moment if timed and timed[-1].moment.day == moment.day else None
            at = before.at if before and not moment.clock else at_of(moment.day, moment.clock)
            entry = replace(entry, moment=replace(moment, at=at))  # noqa: PLW2901 - the same one, completed
        timed.append(entry)
    return tuple(timed)


def without_known(entries: Sequence[BookEntry], book: Book) -> tuple[tuple[BookEntry, ...], int]:
    """Entries that a book does not have yet, and how many it has: those of the same moment and with the same contents.

    Args:
        entries: read from a file
        book: what is there already

    Returns:
        the new ones in their order, and the count of the others
    """
    there = Counter(map(comparable, book.entries))
    new = []
    for entry in entries:
        key = comparable(entry)
        if there[key]:
            there[key] -= 1
        else:
            new.append(entry)
    return tuple(new), len(entries) - len(new)


def text_of(raw: bytes) -> str:
    """The text of a file.

    Args:
        raw: its bytes, UTF-8 with or without a byte order mark

    Raises:
        BookError: it is not UTF-8, or far too large
    """
    if len(raw) > 4 * max(LARGEST.values()):
        raise BookError(f"this file is far too large: {len(raw)} bytes; split it")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise BookError(f"line {line}: this is not UTF-8 text; save the file anew as UTF-8") from None


def form_of(name: str) -> Form:
    """The form that the end of a file's name tells.

    Args:
        name: of a file

    Raises:
        BookError: it tells none
    """
    end = name.rpartition(".")[2].casefold()
    for form in FORMS:
        if end == form:
            return form
    raise BookError(f"{shown(name)}: the name must end in .json, .toml or .csv, so that the form is known")


def _entries_of(told: Any) -> tuple[list[Any], Place]:
    """The list of entries in what was read, and its place."""
    if isinstance(told, list):
        return told, ()
    if not isinstance(told, dict) or not told.keys() & {"entries", "daybook"}:
        what = "there is no list called entries in it" if isinstance(told, dict) else f"{shown(told)} is none"
        raise BookError(f"this is no daybook: {what}; `diagnose day export` shows the form")
    form = told.get("daybook", FORM)
    if isinstance(form, bool) or not isinstance(form, int) or form < 1:
        raise BookError(f"daybook = {shown(form)}: this is no form of a daybook; write {FORM}")
    if form > FORM:
        raise BookError(f"this file is of form {form}, and this program reads up to {FORM}; use a newer version of it")
    strange = [name for name in told if name not in {"daybook", "entries"}]
    if strange:
        raise BookError(f"{shown(strange[0])}: there is no such part; a daybook has daybook and entries")
    entries = told.get("entries", [])
    if not isinstance(entries, list):
        raise BookError(f"entries: {shown(entries)} has the wrong shape; write a list of tables")
    return entries, ("entries",)


def _savable(value: Any) -> Any:
    """The same with every text one that a file can hold."""
    if isinstance(value, str):
        return savable(value)
    if isinstance(value, dict):
        return {_savable(key): _savable(item) for key, item in value.items()}
    return [_savable(item) for item in value] if isinstance(value, list | tuple) else value
