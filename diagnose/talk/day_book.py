"""Keeping the daybook: one command, one entry, said back in one line."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from diagnose.advice.planning import MODES
from diagnose.daybook.book import (
    THINGS,
    BookEntry,
    Moment,
    NoteEntry,
    Outcome,
    ValueEntry,
    WorkEntry,
)
from diagnose.daybook.naming import WORK_OF_COMMAND, thing_named
from diagnose.daybook.recording import given_by, plate_entry
from diagnose.daybook.said_back import said_back
from diagnose.daybook.using import in_use
from diagnose.errors import PlateError, near
from diagnose.facts import understand
from diagnose.plate import LONGEST_TEXT, Plate, shown
from diagnose.talk.around import Around
from diagnose.talk.clock import moment_of, now
from diagnose.talk.telling import tell
from diagnose.units import UnitError, read_amount

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.daybook.store import Store

Options = Mapping[str, Any]
LONGEST_NOTE = 5000


def keep_plate(around: Around, outcome: Outcome, signs: Iterable[str], options: Options) -> None:
    """Keep one plate.

    Args:
        around: book and screen
        outcome: "good" or "spoiled"
        signs: what it shows
        options: clock, day, who, note, made_with, condition

    Raises:
        PlateError: something told cannot be used; nothing is kept
        BookError: the book cannot be written
    """
    moment = moment_of(options["day"], options["clock"])
    plate = tell(None, present=signs, conditions=options["condition"], day=options["day"])
    understand(plate, around.knowledge)
    named = dict(_named(options["made_with"]))
    with around.opened() as store:
        book = store.read()
        made_with = {**in_use(book, moment), **named}
        given = None
        if outcome == "spoiled":
            given = given_by(_diagnosis(plate, store, moment, made_with, around)[1])
        entry = plate_entry(
            moment,
            outcome,
            plate.told(),
            around.knowledge,
            made_with=made_with,
            given=given,
            who=options["who"],
            note=_note(options["note"]),
        )
        _keep(store, around, entry)


def keep_told(around: Around, plate: Plate, mode: str) -> "Diagnosis":
    """Diagnose a plate that was told in one go, with what the book knows, and keep it.

    Args:
        around: book and screen
        plate: as told
        mode: how the plan is made
    """
    import sys

    moment = now()
    with around.opened() as store:
        made_with = in_use(store.read(), moment)
        fuller, diagnosis = _diagnosis(plate, store, moment, made_with, around, mode)
        entry = plate_entry(
            moment, "spoiled", fuller.told(), around.knowledge, made_with=made_with, given=given_by(diagnosis)
        )
        (number,) = store.add(entry)
    print(f"Kept in your daybook as number {number}.", file=sys.stderr)  # noqa: T201 - beside the answer, which may be piped
    return diagnosis


def keep_note(around: Around, words: str, options: Options) -> None:
    """Keep a remark.

    Args:
        around: book and screen
        words: the remark
        options: clock, day, who
    """
    entry = NoteEntry(moment=moment_of(options["day"], options["clock"]), note=_note(words), who=options["who"])
    with around.opened() as store:
        _keep(store, around, entry)


def keep_work(around: Around, command: str, thing: str, amount: str, options: Options) -> None:
    """Keep what was done to what stands behind the plates.

    Args:
        around: book and screen
        command: the command's name, such as "mixed"
        thing: as typed
        amount: as typed; "" where none was told
        options: name, clock, day, who, note

    Raises:
        PlateError: there is no such thing
    """
    moment = moment_of(options["day"], options["clock"])
    known = thing_named(thing)
    entry = WorkEntry(
        moment=moment,
        work=WORK_OF_COMMAND[command],
        thing=known,
        name=options["name"],
        amount=_amount(amount),
        who=options["who"],
        note=_note(options["note"]),
    )
    with around.opened() as store:
        if not entry.name and entry.work != "new":
            entry = replace(entry, name=in_use(store.read(), moment).get(known, ""))
        _keep(store, around, entry)


def keep_remedy(around: Around, remedy: str, options: Options) -> None:
    """Keep that a remedy was carried out.

    Args:
        around: book and screen
        remedy: its name
        options: name, clock, day, who, note

    Raises:
        PlateError: there is no such remedy
    """
    from diagnose.daybook.works import things_of

    known = around.knowledge.remedies
    if remedy not in known:
        raise PlateError(
            f"no remedy called {shown(remedy)!r}; {near(remedy, known) or 'answers name them with --json'}"
        )
    moment = moment_of(options["day"], options["clock"])
    things = things_of(remedy, around.knowledge)
    if not things:
        raise PlateError(f"{remedy} is done to no one thing; keep it with `diagnose day note`")
    thing = thing_named(things[0])
    with around.opened() as store:
        name = options["name"] or in_use(store.read(), moment).get(thing, "")
        entry = WorkEntry(
            moment=moment,
            work="mended",
            thing=thing,
            name=name,
            remedy=remedy,
            who=options["who"],
            note=_note(options["note"]),
        )
        _keep(store, around, entry)


def keep_values(around: Around, values: Iterable[str], options: Options) -> None:
    """Keep what holds until it changes.

    Args:
        around: book and screen
        values: NAME=VALUE, of conditions, or of things by their names
        options: clock, day

    Raises:
        PlateError: something cannot be used; nothing is kept
    """
    moment = moment_of(options["day"], options["clock"])
    told = [text.partition("=") for text in values]
    for name, equals, _ in told:
        if not equals:
            raise PlateError(f'cannot read {shown(name)!r}; write it like room_temperature="28 °C" or holder=B')
    conditions = {name.strip(): value.strip() for name, _, value in told}
    # "light" and "fixer" are things as well as conditions: what the condition accepts is meant first.
    uses = {name: value for name, value in conditions.items() if name in THINGS and not _answers(name, value, around)}
    others = {name: value for name, value in conditions.items() if name not in uses}
    understand(
        Plate(conditions={name: value for name, value in others.items() if value}, day=moment.day), around.knowledge
    )
    entries: list[BookEntry] = [
        WorkEntry(moment=moment, work="taken", thing=thing_named(thing), name=name) for thing, name in uses.items()
    ]
    with around.opened() as store:
        used = in_use(store.read(), moment)
        for name, value in others.items():
            lasts = around.knowledge.conditions[name].lasts if name in around.knowledge.conditions else ""
            entries.append(ValueEntry(moment=moment, condition=name, value=value, name=used.get(lasts, "")))
        _keep(store, around, *entries)


def _keep(store: "Store", around: Around, *entries: BookEntry) -> None:
    """Write the entries and say each back."""
    numbers = store.add(*entries)
    for number, entry in zip(numbers, entries, strict=True):
        around.say(f"Kept as number {number}: {said_back(entry, around.knowledge)}", "act")


def _diagnosis(
    plate: Plate, store: "Store", moment: Moment, made_with: Mapping[str, str], around: Around, mode: str = MODES[0]
) -> "tuple[Plate, Diagnosis]":
    from diagnose.daybook.known import diagnose_with, known_of

    known = known_of(store.read(), around.knowledge, moment, made_with, store.setting)
    return diagnose_with(plate, known, mode, around.measures)


def _named(texts: Iterable[str]) -> Iterable[tuple[str, str]]:
    for text in texts:
        thing, equals, name = text.partition("=")
        if not equals:
            raise PlateError(f"cannot read {shown(text)!r}; write it like holder=B")
        yield thing_named(thing), name.strip()


def _answers(name: str, value: str, around: Around) -> bool:
    """Whether a condition of that name accepts the value."""
    if name not in around.knowledge.conditions:
        return False
    try:
        understand(Plate(conditions={name: value}), around.knowledge)
    except PlateError:
        return False
    return True


def _amount(text: str) -> str:
    if not text:
        return ""
    try:
        read_amount(text[:LONGEST_TEXT], "mL")
    except UnitError as error:
        raise PlateError(f"{shown(text)}: {error}; write it like 500 mL") from None
    return text


def _note(text: str) -> str:
    if len(text) > LONGEST_NOTE:
        raise PlateError(f"the note is too long; {LONGEST_NOTE} letters are kept at most")
    return text
