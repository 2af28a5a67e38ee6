"""Entries as one flat table: a row each, with plain names of columns that a spreadsheet can be written into."""

import csv
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from diagnose.daybook.book import THINGS, BookEntry, PlateEntry
from diagnose.daybook.exchange_cells import (
    armed,
    defused,
    pairs_cell,
    read_pairs,
    read_signs,
    read_tried,
    signs_cell,
    tried_cell,
)
from diagnose.daybook.exchange_problems import Place, Problems
from diagnose.daybook.exchange_tables import KINDS, LONGEST_NAME, entry_table
from diagnose.daybook.exchange_told import find_condition
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import BookError, DiagnoseError, near
from diagnose.facts import plain
from diagnose.plate import Plate, shown

# Column -> what stands in it, as the handbook tells it.
COLUMNS: dict[str, str] = {
    "kind": "plate, work, value or note; may be left empty where the rest of the row tells it",
    "day": "as 2026-05-01; left empty, it is the day of the row above",
    "clock": "as 14:05, or empty",
    "outcome": "of a plate: good or spoiled",
    "signs": "of a plate: any words for them, or numbers of the paper sheet, parted by ; - fog (lower-part); not comets",
    "holder": "of a plate: the name of the holder it was made with, where there are several",
    **{thing: f"the same for the {thing}" for thing in THINGS if thing != "holder"},
    "size": "of a plate: 13x18 cm, whole plate, or the area in cm² as a number",
    "conditions": "of a plate: room_temperature = 28 °C; holder_wiped = no",
    "checks": "of a plate: checks made and how they came out, in the same way",
    "tried": "of a plate: remedies tried and what came of them, in the same way",
    "work": "what was done: new, filtered, sunned and so on",
    "thing": "to what it was done: bath, collodion, developer and so on",
    "name": "to which one of them, where there are several",
    "remedy": "the remedy of the knowledge that it was, if any",
    "amount": "how much: 50 mL",
    "condition": "of a value that stands until it is told anew: which condition",
    "value": "and what it is: 28 °C",
    "confirmed": "the cause that turned out to be behind the plate, once it is known",
    "confirmed_by": "how it is known: cure, check or person",
    "who": "who made it",
    "note": "anything else",
    "story": "of a plate: what was told of it in words",
}
_OTHER_WORDS = {
    "date": "day", "time": "clock", "result": "outcome", "sign": "signs", "symptom": "signs", "symptoms": "signs",
    "notes": "note", "remark": "note", "remarks": "note", "plate size": "size", "condition name": "condition", "done": "work",
}  # fmt: skip
_OTHER_OUTCOMES = {"good": "good", "ok": "good", "bad": "spoiled", "spoiled": "spoiled", "spoilt": "spoiled"}
_CALLED = {"symptoms": "signs", "told": "signs"}
_LARGEST_CELL = 20_000
_MOST_COLUMNS = 300  # judged: every column we know, every condition, and some left empty


def write_csv(entries: Iterable[BookEntry]) -> str:
    """Entries as CSV: separator comma, every cell in quotation marks, lines ended as spreadsheets want it.

    Args:
        entries: in order

    Raises:
        BookError: what was told of a plate has no sense
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for entry in entries:
        row = _row(entry)
        writer.writerow([defused(savable(row.get(column, ""))) for column in COLUMNS])
    return out.getvalue()


def comparable(entry: BookEntry) -> tuple[str, ...]:
    """An entry for finding the same one again: its contents as a row shows them, without numbers and seconds.

    Args:
        entry: any
    """
    try:
        row = _row(entry)
    except BookError:
        return (repr(entry),)
    return tuple(row.get(column, "") for column in COLUMNS)


def read_csv(
    text: str, knowledge: Knowledge, problems: Problems, most: int
) -> tuple[list[dict[str, Any]], Callable[[Sequence[Place]], list[int]]]:
    """The rows of a CSV file as tables, and how to find their lines.

    Args:
        text: with , or ; between cells
        knowledge: the craft
        problems: takes in what is wrong with columns
        most: how many rows are read

    Raises:
        BookError: it is no CSV, or its first row has no names of columns
    """
    problems.columns = _CALLED
    head, _, rest = text.partition("\n")
    skipped = 0
    if head.strip().casefold() in {"sep=;", "sep=,"}:  # a spreadsheet's own hint
        text, skipped = rest, 1
    separator = _separator(text, knowledge)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    columns: list[str] | None = None
    tables: list[dict[str, Any]] = []
    lines: list[int] = []
    day = ""
    old_limit = csv.field_size_limit(_LARGEST_CELL)
    try:
        while True:
            line = reader.line_num + 1 + skipped
            row = next(reader, None)
            if row is None:
                break
            if not any(cell.strip() for cell in row):
                continue
            if columns is None:
                columns = _columns(row, knowledge, line)
                continue
            cells = _cells(row, columns, len(tables), problems)
            day = cells.setdefault("day", day)
            tables.append(_table(cells, knowledge))
            lines.append(line)
            if problems.are_enough:
                break
            if len(tables) > most:
                raise BookError(f"there are more than {most} rows in one file; split it")
    except csv.Error as error:
        raise BookError(f"line {reader.line_num + skipped}: {_csv_words(str(error))}; nothing was taken in") from None
    finally:
        csv.field_size_limit(old_limit)
    if columns is None:
        raise BookError("this file is empty; its first row must have the names of the columns: kind, day, clock ...")

    def lines_of(places: Sequence[Place]) -> list[int]:
        return [lines[int(place[0])] if place and int(place[0]) < len(lines) else 1 for place in places]

    return tables, lines_of


def _row(entry: BookEntry) -> dict[str, str]:
    """An entry as the cells of a row."""
    table = entry_table(entry)
    row = {name: str(value) for name, value in table.items() if name in COLUMNS and not isinstance(value, Mapping)}
    if isinstance(entry, PlateEntry):
        try:
            plate = Plate.read(entry.told)
        except DiagnoseError as error:
            when = f"{entry.moment.day} {entry.moment.clock}".strip()
            raise BookError(f"the plate of {when} cannot be written: {error}") from None
        row["signs"] = signs_cell(plate.symptoms)
        row["conditions"], row["checks"] = pairs_cell(plate.conditions), pairs_cell(plate.checks)
        row["tried"], row["story"] = tried_cell(plate.tried), plate.story
        row |= {thing: name for thing, name in entry.made_with.items() if thing in THINGS}
        row["size"] = "" if entry.size is None else repr(float(entry.size))
    return row


def _columns(row: Sequence[str], knowledge: Knowledge, line: int) -> list[str]:
    """The names of the first row as ours; conditions may have columns of their own."""
    if len(row) > _MOST_COLUMNS:
        raise BookError(f"line {line}: {len(row)} columns are far too many; the first row names kind, day, clock ...")
    columns = []
    wrong = []
    for cell in row:
        name = _column(cell, knowledge)
        if name is None:
            hint = near(plain(cell)[:LONGEST_NAME], [*COLUMNS, *_OTHER_WORDS, *map(plain, knowledge.conditions)])
            wrong.append(f"line {line}: no column called {shown(cell)!r}; {hint or 'use ' + ', '.join(COLUMNS)}")
        elif name and name in columns:
            wrong.append(f"line {line}: the column {name} stands there twice; keep one")
        columns.append(name or "")
    if wrong:
        more = [f"and {len(wrong) - 8} more"] if len(wrong) > 8 else []
        raise BookError("\n".join(["nothing was taken in", *wrong[:8], *more]))
    return columns


def _column(cell: str, knowledge: Knowledge) -> str | None:
    """Our name of a column, "" for an empty one, None for none."""
    words = plain(armed(cell.strip()))
    if not words:
        return ""
    words = _OTHER_WORDS.get(words, words)
    name = words.replace(" ", "_")
    if name in COLUMNS:
        return name
    condition = find_condition(words, knowledge)
    return f"conditions.{condition}" if condition else None


def _separator(text: str, knowledge: Knowledge) -> str:
    """The one of , and ; with which more columns have a name we know."""
    head = text.lstrip("\r\n").partition("\n")[0][:_LARGEST_CELL]
    known = {mark: sum(bool(_column(cell.strip().strip('"'), knowledge)) for cell in head.split(mark)) for mark in ",;"}
    return ";" if known[";"] > known[","] else ","


def _cells(row: Sequence[str], columns: Sequence[str], position: int, problems: Problems) -> dict[str, str]:
    """The cells of a row that have something in them, by column."""
    cells = {}
    for number, cell in enumerate(row):
        column = columns[number] if number < len(columns) else ""
        if not column and cell.strip():
            problems.add(
                (position,),
                f"cell {number + 1}",
                f"{shown(cell)!r} stands under no column; was a separator too many typed?",
            )
        elif cell:
            words = armed(cell)
            kept = words if column in {"note", "story", "who", "name", *THINGS} else words.strip()
            if kept:
                cells[column] = kept
    return cells


def _table(cells: dict[str, str], knowledge: Knowledge) -> dict[str, Any]:
    """The table of an entry from the cells of a row."""
    cells = dict(cells)
    told: dict[str, Any] = {}
    pairs = read_pairs(cells.pop("conditions", ""), knowledge)
    for column in [name for name in cells if name.startswith("conditions.")]:
        pairs[column.partition(".")[2]] = cells.pop(column)
    reads = {
        "symptoms": read_signs(cells.pop("signs", ""), knowledge),
        "conditions": pairs,
        "checks": read_pairs(cells.pop("checks", "")),
        "tried": read_tried(cells.pop("tried", "")),
        "story": cells.pop("story", ""),
    }
    told = {part: value for part, value in reads.items() if value}
    table: dict[str, Any] = {name: value for name, value in cells.items() if name not in THINGS}
    made_with: dict[str, str] = {thing: cells[thing] for thing in THINGS if thing in cells}
    table["kind"] = kind = _kind(table, told, made_with)
    if kind == "plate":
        outcome = table.get("outcome", "spoiled" if "symptoms" in told else "")
        table["outcome"] = _OTHER_OUTCOMES.get(outcome.casefold(), outcome)
    table |= {part: value for part, value in (("told", told), ("made_with", made_with)) if value}
    if isinstance(table.get("size"), str):
        table["size"] = _area(table["size"])
    return table


def _kind(table: Mapping[str, str], told: Mapping[str, Any], made_with: Mapping[str, str]) -> str:
    """What a row is, as it says or as its cells show."""
    kind = plain(table.get("kind", ""))
    if kind:
        return next((name for name in KINDS if kind in {name, f"{name}s"}), table["kind"])
    if "outcome" in table or "symptoms" in told or "size" in table:
        return "plate"
    if "work" in table:
        return "work"
    if "condition" in table:
        return "value"
    return "plate" if told or made_with else "note" if "note" in table else ""


def _area(text: str) -> float | str:
    """A plain number as the area it is [cm²]; anything else as it was written."""
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return text


def savable(text: str) -> str:
    """The text with a sign in the place of what no file can hold.

    Args:
        text: any
    """
    return text.encode("utf-8", "replace").decode("utf-8").replace("\0", "\ufffd")


def _csv_words(error: str) -> str:
    if "limit" in error:
        return f"a cell has over {_LARGEST_CELL} letters, more than can be kept"
    if "unexpected end" in error:
        return "a quotation mark is opened and never closed"
    return "the quotation marks do not fit; save the file anew as CSV from your spreadsheet"
