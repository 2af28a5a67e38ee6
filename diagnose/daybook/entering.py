"""The paper sheet typed in at the desk: short lines in plain words, each an entry of the book."""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import NamedTuple, cast

from diagnose.daybook.book import (
    BookEntry,
    Moment,
    NoteEntry,
    Outcome,
    PlateEntry,
    Thing,
    ValueEntry,
    WorkEntry,
)
from diagnose.daybook.codes import mark
from diagnose.daybook.entering_draft import Draft
from diagnose.daybook.entering_parts import Part, parts_of
from diagnose.daybook.entering_words import NOTE_WORDS, UNDO_WORDS, phrases
from diagnose.daybook.exchange_words import FIRST_DAY, LAST_DAY, amount_wrong, clock_in
from diagnose.daybook.said_back import said_back
from diagnose.daybook.works import TOUCHED
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError, printable
from diagnose.facts import understand
from diagnose.plate import Plate, day_number, shown
from diagnose.units import UnitError, read_amount

LONGEST_LINE = 1000
LONGEST_NAME = 100
_ROW = re.compile(r"\d{1,2}(?:[.)]\s+|\s+(?=\d{1,2}:\d\d))", re.ASCII)
_CLOCK = re.compile(r"(\d{1,2}[:.h]\d\d|\d{4})(?:\s*(?:-\s+|:\s+)|\s+|$)", re.ASCII)
_DAY = re.compile(r"(?:day|date|on)?\s*[:=]?\s*(\d{1,4}[-./]\d{1,2}[-./]\d{1,4})", re.IGNORECASE | re.ASCII)
_NOTE = re.compile(
    rf"(?<![^\s;,])(?:{'|'.join(sorted(NOTE_WORDS, key=len, reverse=True))})(?![\w-])\s*[:=,-]?\s*", re.IGNORECASE
)
_LEGEND = re.compile(r"(?:legend|sheet)\s+([a-z]{3})", re.IGNORECASE)
_ONLY: dict[str, Thing] = {"sunned": "bath", "silver-added": "bath"}


class Desk(NamedTuple):
    """What stands from line to line while a sheet is typed in.

    Args:
        day: the date of the sheet; "" until it is told
        at: seconds of the last entry [s]; 0 before the first of the day
        made_with: kind of thing -> name of the one in use, until another is told
        size: area of the plates [cm²]; None until it is told
        who: who makes them; "" for the owner of the book
    """

    day: str = ""
    at: int = 0
    made_with: Mapping[str, str] = {}
    size: float | None = None
    who: str = ""


class Entered(NamedTuple):
    """What came of one line.

    Args:
        desk: what stands from here on; as it was where there are problems
        entries: what to keep, in order; none where there are problems
        problems: what was not understood, in words
        said: what was understood, in words
        undo: the last line is to be taken back
    """

    desk: Desk
    entries: tuple[BookEntry, ...] = ()
    problems: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    undo: bool = False


def read_line(text: str, desk: Desk, knowledge: Knowledge, at_of: Callable[[str, str], int]) -> Entered:
    """One line of the paper sheet.

    Args:
        text: such as "14:20 bad comets, fog lower-part; 4 s f/4; holder B", "filtered bath" or "day 2026-05-01"
        desk: what stands from the lines before
        knowledge: the craft
        at_of: day and clock ("" where none was noted) -> seconds since 1970 in universal time [s]
    """
    line = " ".join(printable(text[: 2 * LONGEST_LINE]).split())
    if not line:
        return Entered(desk)
    if len(line) > LONGEST_LINE:
        return _no(desk, f"this line is too long: at most {LONGEST_LINE} letters are read")
    if line.casefold() in UNDO_WORDS:
        return Entered(desk, undo=True, said=("the last line is taken back",))
    if found := _DAY.fullmatch(line):
        return _new_day(found[1], desk)
    if found := _LEGEND.fullmatch(line):
        return _legend(found[1].upper(), desk, knowledge)
    line = _ROW.sub("", line, count=1) if _ROW.match(line) else line
    clock, line = _clock(line)
    if clock is None:
        return _no(desk, f"{shown(line.split()[0])} is not a time of day; write it as 14:05")
    line, note = _note(line)
    known = phrases(knowledge)
    drafts = []
    for parts in _statements(parts_of(line.rstrip(".! "), known)):
        draft = Draft(knowledge)
        draft.read(parts)
        drafts.append(draft)
    return _entered(drafts, clock, note, desk, knowledge, at_of)


def _entered(
    drafts: list[Draft], clock: str, note: str, desk: Desk, knowledge: Knowledge, at_of: Callable[[str, str], int]
) -> Entered:
    """The entries of a line: first what was done, then the plate."""
    problems = [problem for draft in drafts for problem in draft.problems]
    works = [draft for draft in drafts if draft.work]
    rest = _together([draft for draft in drafts if not draft.work], knowledge, problems)
    after = _carried(desk, rest, problems)
    moment = Moment(0, desk.day, clock)
    entries: list[BookEntry] = []
    for draft in works:
        if work := _work(draft, moment, after, problems, note="" if rest.is_plate else note):
            entries.append(work)
            if work.work == "new" and work.name:
                after = after._replace(made_with={**after.made_with, work.thing: work.name})
    if rest.is_plate or rest.stop or (clock and "exposure_time" in rest.conditions):
        if plate := _plate(rest, moment, after, problems, note):
            entries.append(plate)
    else:
        entries += [
            ValueEntry(moment=moment, condition=name, value="" if value == "?" else value)
            for name, value in _sound(rest.conditions, desk.day, knowledge, problems).items()
        ]
        if note and not works:
            entries.append(NoteEntry(moment=moment, note=note, who=after.who))
    if not problems and clock and not entries:
        problems.append("nothing is said but the time; write good, or bad and the signs")
    if not problems and entries and not desk.day:
        problems.append("which day was it? Write it first, as in day 2026-05-01")
    if problems:
        return _no(desk, *problems)
    at = desk.at if desk.at and not clock else at_of(desk.day, clock) if entries else desk.at
    timed = tuple(replace(entry, moment=replace(moment, at=at)) for entry in entries)
    said = tuple(said_back(entry, knowledge) for entry in timed) or _said_carried(after, desk)
    return Entered(after._replace(at=at), timed, said=said)


def _together(drafts: list[Draft], knowledge: Knowledge, problems: list[str]) -> Draft:
    """What several statements say of one plate."""
    whole = Draft(knowledge)
    for draft in drafts:
        if draft.outcome and whole.outcome and draft.outcome != whole.outcome:
            problems.append("both good and bad are said of this plate; keep one")
        whole.outcome = draft.outcome or whole.outcome
        whole.signs |= draft.signs
        whole.conditions |= draft.conditions
        whole.made_with |= draft.made_with
        whole.size, whole.stop = draft.size or whole.size, draft.stop or whole.stop
        whole.who = draft.who or whole.who
    return whole


def _plate(rest: Draft, moment: Moment, after: Desk, problems: list[str], note: str) -> PlateEntry | None:
    seen = [name for name, item in rest.signs.items() if item["answer"] in {"present", "unsure"}]
    outcome = rest.outcome or ("spoiled" if seen else "")
    if not outcome:
        problems.append("how did the plate come out? Write good, or bad and the signs")
        return None
    told: dict[str, object] = {}
    if rest.signs:
        told["symptoms"] = rest.signs
    if conditions := _sound(rest.conditions, moment.day, rest.knowledge, problems):
        told["conditions"] = conditions
        if any(day_number(value) is not None for value in conditions.values()):
            told["day"] = moment.day
    return PlateEntry(
        moment=moment,
        outcome=cast("Outcome", outcome),
        told=told,
        made_with=dict(after.made_with),
        size=after.size,
        who=after.who,
        note="; ".join(filter(None, (rest.stop, note))),
    )


def _work(draft: Draft, moment: Moment, desk: Desk, problems: list[str], note: str) -> WorkEntry | None:
    things = dict(draft.things)
    usual = _ONLY.get(draft.work or "")
    if draft.remedy and not things:
        usual = TOUCHED.get(draft.knowledge.remedies[draft.remedy].touches)
    if not things and usual:
        things = {usual: None}
    if len(things) > 1:
        problems.append(f"one thing a line, please: {' and '.join(things)} are named here")
    if not things:
        problems.append(f"{draft.work} what? Write it after, as in filtered bath or mixed developer 500 mL")
    if draft.amount and (wrong := amount_wrong(draft.amount)):
        problems.append(wrong)
    if len(things) != 1 or draft.work is None:
        return None
    ((thing, name),) = things.items()
    if draft.signs or draft.conditions:
        problems.append("write what you did and what was seen or measured on two lines, or with a semicolon between")
    return WorkEntry(
        moment=moment,
        work=draft.work,
        thing=thing,
        name=desk.made_with.get(thing, "") if name is None else name,
        remedy=draft.remedy,
        amount=draft.amount,
        who=draft.who or desk.who,
        note=note,
    )


def _carried(desk: Desk, rest: Draft, problems: list[str]) -> Desk:
    """What stands from this line on."""
    size = desk.size
    if rest.size:
        try:
            size = read_amount(rest.size, "cm²")
        except UnitError as error:
            problems.append(printable(str(error)))
    long = [name for name in (*rest.made_with.values(), rest.who) if len(name) > LONGEST_NAME]
    problems += [f"{shown(name)}: this name is too long" for name in long]
    named = [*desk.made_with.items(), *rest.made_with.items()]
    made_with = {thing: name for thing, name in dict[str, str](named).items() if name}
    return desk._replace(made_with=made_with, size=size, who=rest.who or desk.who)


def _sound(conditions: Mapping[str, str], day: str, knowledge: Knowledge, problems: list[str]) -> dict[str, str]:
    """Conditions as they were told; what does not fit goes to the problems."""
    for name, value in conditions.items():
        try:
            understand(Plate(conditions={name: value}, day=day), knowledge)
        except PlateError as error:
            problems.append(str(error))
    return dict(conditions)


def _statements(parts: list[Part]) -> list[list[Part]]:
    """Parts between semicolons."""
    statements: list[list[Part]] = [[]]
    for part in parts:
        if part.sort == "mark" and part.text == ";":
            statements.append([])
        else:
            statements[-1].append(part)
    return [statement for statement in statements if statement]


def _clock(line: str) -> tuple[str | None, str]:
    """The time a line begins with and the rest of it; "" where it begins with none, None where it is none that can be."""
    found = _CLOCK.match(line)
    if not found:
        return "", line
    digits = found[1]
    clock = clock_in(f"{digits[:2]}:{digits[2:]}" if digits.isdigit() else digits)
    return (clock, line[found.end() :]) if clock else (None, line)


def _note(line: str) -> tuple[str, str]:
    """A line without its note, and the note: all that follows the word, save within quotation marks."""
    for found in _NOTE.finditer(line):
        if line[: found.start()].count('"') % 2 == 0:
            return line[: found.start()].rstrip(";, "), line[found.end() :].strip()
    return line, ""


def _new_day(text: str, desk: Desk) -> Entered:
    if day_number(text) is None or not FIRST_DAY <= text <= LAST_DAY:
        return _no(desk, f"{shown(text)} is not a day that can be right; write it as 2026-05-01")
    if text == desk.day:
        return Entered(desk, said=(f"the day is {text}",))
    return Entered(desk._replace(day=text, at=0), said=(f"the day is {text}",))


def _legend(told: str, desk: Desk, knowledge: Knowledge) -> Entered:
    """Whether the numbers of a printed sheet are still those that are read here."""
    if told == mark(knowledge):
        return Entered(desk, said=("the numbers of this sheet are read as they are printed",))
    return _no(
        desk,
        f"legend {told} is not the one that is read now, {mark(knowledge)}: its numbers mean other signs; write them in words",
    )


def _said_carried(after: Desk, before: Desk) -> tuple[str, ...]:
    """What stands from here on, where a line said nothing else."""
    changed = [f"{thing} {name}" for thing, name in after.made_with.items() if before.made_with.get(thing) != name]
    changed += [f"{thing} as usual" for thing in before.made_with if thing not in after.made_with]
    changed += [f"plates of {after.size:.0f} cm²"] if after.size != before.size else []
    changed += [f"made by {after.who}"] if after.who != before.who else []
    return (f"from here on: {', '.join(changed)}",) if changed else ("nothing new is said here",)


def _no(desk: Desk, *problems: str) -> Entered:
    return Entered(desk, problems=tuple(dict.fromkeys(printable(problem) for problem in problems)))
