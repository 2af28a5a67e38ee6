"""An entry of the book as a plain table, and a table read back into an entry."""

import math
from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from typing import Any, cast, get_args

from diagnose.daybook.book import (
    OUTCOMES,
    THINGS,
    WORKS,
    BookEntry,
    Confirmed,
    Given,
    Moment,
    NoteEntry,
    Outcome,
    PlateEntry,
    Thing,
    ValueEntry,
    Work,
    WorkEntry,
)
from diagnose.daybook.exchange_problems import Place, Problems
from diagnose.daybook.exchange_told import cause_meant, condition_value, read_told
from diagnose.daybook.exchange_words import amount_said, clock_meant, day_meant, one_of, text_meant
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import near, printable
from diagnose.plate import LONGEST_STORY, shown
from diagnose.units import UnitError, read_amount

KINDS: dict[str, type[BookEntry]] = {"plate": PlateEntry, "work": WorkEntry, "value": ValueEntry, "note": NoteEntry}
PRIVATE = ("who", "note")  # what a person may want to keep back; the story of a plate with them
LONGEST_NAME = 200
LARGEST_PLATE = 20_000.0  # judged: over a metre square [cm²]
NOT_FOUND = -(10**15)
FURTHEST = 10**11  # judged: some three thousand years from 1970 [s]
_OWN = {kind: tuple(item.name for item in fields(form)) for kind, form in KINDS.items()}
FIELDS = {
    kind: ("kind", "day", "clock", "at", *(name for name in names if name not in {"number", "moment"}))
    for kind, names in _OWN.items()
}


def kind_of(entry: BookEntry) -> str:
    """What an entry is called in a file.

    Args:
        entry: any
    """
    return next(kind for kind, form in KINDS.items() if isinstance(entry, form))


def entry_table(entry: BookEntry) -> dict[str, Any]:
    """An entry as a plain table; what is as usual is left out, and so is the book's own number.

    Args:
        entry: any
    """
    kind = kind_of(entry)
    table: dict[str, Any] = {"kind": kind, "day": entry.moment.day}
    if entry.moment.clock:
        table["clock"] = entry.moment.clock
    table["at"] = entry.moment.at
    for name in _OWN[kind]:
        value = getattr(entry, name)
        if isinstance(value, Given):
            table[name] = {item.name: getattr(value, item.name) for item in fields(value)}
            table[name]["causes"] = dict(value.causes)
        elif name not in {"number", "moment"} and value not in (None, "", {}):
            table[name] = dict(value) if isinstance(value, Mapping) else value
    if kind == "value":
        table.setdefault("value", "")  # an empty one takes the value back
    return table


def without_private(entry: BookEntry) -> BookEntry | None:
    """An entry without notes, stories and who it was; None for a note, of which nothing would be left.

    Args:
        entry: any
    """
    if isinstance(entry, NoteEntry):
        return None
    if isinstance(entry, PlateEntry):
        told = {part: value for part, value in entry.told.items() if part != "story"}
        return replace(entry, told=told, who="", note="")
    return replace(entry, who="", note="") if isinstance(entry, WorkEntry) else entry


def read_entry(table: Any, place: Place, knowledge: Knowledge, problems: Problems) -> BookEntry | None:
    """An entry from a table; its moment has no seconds yet where the table gives none.

    Args:
        table: as read from a file
        place: where in the file it stands
        knowledge: the craft
        problems: takes in everything wrong

    Returns:
        the entry, its moment `at` NOT_FOUND where it has yet to be worked out; None where something is wrong
    """
    if not isinstance(table, Mapping):
        problems.add(place, "", f"{shown(table)} is not an entry; write a table with kind, day and so on")
        return None
    before = problems.count
    kind = one_of(table.get("kind"), KINDS, (*place, "kind"), "kind", problems)
    if not kind:
        return None
    for name in table:
        if name not in FIELDS[kind]:
            hint = near(str(name)[:LONGEST_NAME], FIELDS[kind]) or f"it may have {', '.join(FIELDS[kind])}"
            problems.add((*place, name), shown(name), f"a {kind} has no such field; {hint}")
    moment = _moment(table, place, problems)
    entry = _READERS[kind](table, place, moment, knowledge, problems)
    return entry if problems.count == before else None


def _moment(table: Mapping[str, Any], place: Place, problems: Problems) -> Moment:
    day = day_meant(table.get("day"), (*place, "day"), problems)
    clock = clock_meant(table.get("clock", ""), (*place, "clock"), problems)
    at = table.get("at", NOT_FOUND)
    if isinstance(at, bool) or not isinstance(at, int) or (at != NOT_FOUND and abs(at) > FURTHEST):
        problems.add(
            (*place, "at"), "at", f"{shown(at)} is not a count of seconds; leave it out, day and clock will do"
        )
        at = NOT_FOUND
    return Moment(at, day, clock)


def _plate(
    table: Mapping[str, Any], place: Place, moment: Moment, knowledge: Knowledge, problems: Problems
) -> PlateEntry:
    confirmed_by = table.get("confirmed_by", "")
    if confirmed_by not in get_args(Confirmed):
        accepted = ", ".join(filter(None, get_args(Confirmed)))
        problems.add((*place, "confirmed_by"), "confirmed_by", f"{shown(confirmed_by)} is not one of {accepted}")
        confirmed_by = ""
    return PlateEntry(
        moment=moment,
        outcome=cast("Outcome", one_of(table.get("outcome"), OUTCOMES, (*place, "outcome"), "outcome", problems)),
        told=read_told(table.get("told", {}), place, moment.day, knowledge, problems),
        made_with=_made_with(table.get("made_with", {}), place, problems),
        size=_size(table.get("size"), place, problems),
        given=_given(table.get("given"), (*place, "given"), problems),
        confirmed=cause_meant(table.get("confirmed", ""), (*place, "confirmed"), knowledge, problems),
        confirmed_by=cast("Confirmed", confirmed_by),
        who=_text(table, "who", place, problems, LONGEST_NAME),
        note=_text(table, "note", place, problems),
    )


def _work(
    table: Mapping[str, Any], place: Place, moment: Moment, knowledge: Knowledge, problems: Problems
) -> WorkEntry:
    remedy = _text(table, "remedy", place, problems, LONGEST_NAME)
    if remedy and remedy not in knowledge.remedies:
        hint = near(remedy, knowledge.remedies) or "leave it out where it was none of the knowledge's"
        problems.add((*place, "remedy"), "remedy", f"no remedy called {shown(remedy)!r}; {hint}")
    return WorkEntry(
        moment=moment,
        work=cast("Work", one_of(table.get("work"), WORKS, (*place, "work"), "work", problems)),
        thing=cast("Thing", one_of(table.get("thing"), THINGS, (*place, "thing"), "thing", problems)),
        name=_text(table, "name", place, problems, LONGEST_NAME),
        remedy=remedy,
        amount=amount_said(table.get("amount", ""), (*place, "amount"), problems),
        who=_text(table, "who", place, problems, LONGEST_NAME),
        note=_text(table, "note", place, problems),
    )


def _value(
    table: Mapping[str, Any], place: Place, moment: Moment, knowledge: Knowledge, problems: Problems
) -> ValueEntry:
    condition, value = condition_value(table, place, moment.day, knowledge, problems)
    name = _text(table, "name", place, problems, LONGEST_NAME)
    return ValueEntry(moment=moment, condition=condition, value=value, name=name)


def _note(table: Mapping[str, Any], place: Place, moment: Moment, _: Knowledge, problems: Problems) -> NoteEntry:
    note = _text(table, "note", place, problems)
    if not note:
        problems.add((*place, "note"), "note", "there are no words here; write the note")
    return NoteEntry(moment=moment, note=note, who=_text(table, "who", place, problems, LONGEST_NAME))


def _text(table: Mapping[str, Any], name: str, place: Place, problems: Problems, most: int = LONGEST_STORY) -> str:
    return text_meant(table.get(name, ""), (*place, name), name, problems, most)


def _made_with(value: Any, place: Place, problems: Problems) -> dict[str, str]:
    if not isinstance(value, Mapping):
        problems.add((*place, "made_with"), "made_with", f"{shown(value)} has the wrong shape; write a table of names")
        return {}
    made = {}
    for thing, name in value.items():
        here = (*place, "made_with", thing)
        if thing not in THINGS:
            hint = near(str(thing)[:LONGEST_NAME], THINGS) or f"use {', '.join(THINGS)}"
            problems.add(here, "made_with", f"there is no thing called {shown(thing)!r}; {hint}")
        else:
            made[thing] = text_meant(name, here, thing, problems, LONGEST_NAME)
    return made


def _size(value: Any, place: Place, problems: Problems) -> float | None:
    if value is None:
        return None
    here = (*place, "size")
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        problems.add(here, "size", f"{shown(value)} is not a size; write 13x18 cm, or the area in cm² as a number")
        return None
    try:
        area = read_amount(value, "cm²") if isinstance(value, str) else float(value)
    except UnitError as error:
        problems.add(here, "size", printable(str(error)))
        return None
    except OverflowError:
        area = math.inf
    if not 0 < area <= LARGEST_PLATE:
        problems.add(here, "size", f"{shown(value)} cannot be right; anything up to {LARGEST_PLATE:g} cm² is accepted")
        return None
    return area


def _given(value: Any, place: Place, problems: Problems) -> Given | None:
    if value is None:
        return None
    if not isinstance(value, Mapping) or not set(value) <= {item.name for item in fields(Given)}:
        problems.add(place, "given", "it has the wrong shape; write a table of version, causes, first and unlisted")
        return None
    causes = value.get("causes", {})
    shares = [*causes.values(), value.get("unlisted", 0.0)] if isinstance(causes, Mapping) else [math.nan]
    if not all(isinstance(share, int | float) and not isinstance(share, bool) and 0 <= share <= 1 for share in shares):
        problems.add(place, "given", "the causes and unlisted want a probability each, a number from 0 to 1")
        return None
    return Given(
        version=text_meant(value.get("version", ""), (*place, "version"), "given", problems, LONGEST_NAME),
        causes={
            text_meant(cause, (*place, "causes"), "given", problems, LONGEST_NAME): share
            for cause, share in causes.items()
        },
        first=text_meant(value.get("first", ""), (*place, "first"), "given", problems, LONGEST_NAME),
        unlisted=value.get("unlisted", 0.0),
    )


_READERS: dict[str, Callable[[Mapping[str, Any], Place, Moment, Knowledge, Problems], BookEntry]] = {
    "plate": _plate,
    "work": _work,
    "value": _value,
    "note": _note,
}
