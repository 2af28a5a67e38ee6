"""Whether a book is whole, in plain words."""

import json
from typing import Any

from sqlalchemy import Connection, Text, select, text, type_coerce

from diagnose.daybook.connecting import Door
from diagnose.daybook.keeping import KIND_WORDS, KINDS, TABLES, entry_of
from diagnose.daybook.tables import ENTRIES, KEPT, OPERATIONS
from diagnose.errors import BookError, printable

MOST = 50  # more is not read by anyone


def problems_of(door: Door) -> list[str]:
    """Everything wrong with a book.

    Args:
        door: to the book

    Returns:
        sentences; none where the book is whole
    """
    found: list[str] = []
    for part in (_file, _entries, _versions) if door.file is not None else (_entries, _versions):
        try:
            found += door.reading(part)
        except BookError as error:
            found.append(str(error))
    found = list(dict.fromkeys(found))
    return found if len(found) <= MOST else [*found[:MOST], f"and {len(found) - MOST} more"]


def _file(connection: Connection) -> list[str]:
    """The file itself: SQLite reads every page of it."""
    told = connection.execute(text("PRAGMA integrity_check")).scalars().all()
    found = [f"the file is damaged: {printable(str(line))}" for line in told if line != "ok"]
    astray = connection.execute(text("PRAGMA foreign_key_check")).all()
    return found + [f"{KIND_WORDS.get(row[0], row[0])} in row {row[1]} belongs to nothing" for row in astray]


def _entries(connection: Connection) -> list[str]:
    """Every version of every entry can be read, and says nothing the book does not know."""
    found = []
    for kind, table in KEPT.items():
        names = ("at", "day", "clock", *KINDS[kind][1])
        columns = [type_coerce(table.c[name], Text) if name in TABLES else table.c[name] for name in names]
        for number, *values in connection.execute(select(table.c.number, *columns)):
            if (words := _wrong(kind, number, dict(zip(names, values, strict=True)))) is not None:
                found.append(f"entry {number}, {KIND_WORDS[kind]}: {words}")
    return found


def _wrong(kind: str, number: int, row: dict[str, Any]) -> str | None:
    for field in row.keys() & set(TABLES):
        if type(row[field]) is str:
            try:
                row[field] = json.loads(row[field])
            except (ValueError, RecursionError):
                return f"what stands under {field} cannot be read"
    try:
        entry_of(kind, number, row)
    except ValueError as error:
        return printable(str(error))
    return None


def _versions(connection: Connection) -> list[str]:
    """Every number has its entry, and of each the version that is read is the newest that was not taken back."""
    undone = {row.number: row.undone for row in connection.execute(select(OPERATIONS))}
    kinds = {row.number: row.kind for row in connection.execute(select(ENTRIES))}
    found, seen = [], set()
    for kind, table in KEPT.items():
        standing: dict[int, int] = {}
        read: dict[int, list[int]] = {}
        for number, operation, kept in connection.execute(select(table.c.number, table.c.operation, table.c.kept)):
            seen.add(number)
            if kinds.get(number) != kind:
                found.append(
                    f"entry {number} is listed as {KIND_WORDS.get(kinds.get(number, ''), 'nothing')}, yet it is {KIND_WORDS[kind]}"
                )
            if not undone.get(operation, True):
                standing[number] = max(standing.get(number, 0), operation)
            if kept:
                read.setdefault(number, []).append(operation)
        wrong = {
            n for n in standing.keys() | read.keys() if read.get(n, []) != ([standing[n]] if n in standing else [])
        }
        found += [f"of entry {number} not the newest version is read" for number in sorted(wrong)]
    return found + [
        f"entry {number} is listed, yet there is nothing under it" for number in sorted(kinds.keys() - seen)
    ]
