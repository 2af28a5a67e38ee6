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
    Thing,
    ValueEntry,
    WorkEntry,
)
from diagnose.daybook.naming import THING_WORDS, WORK_OF_COMMAND, thing_named
from diagnose.daybook.recording import given_by, plate_entry
from diagnose.daybook.using import MADE_WITH, in_use
from diagnose.errors import PlateError, near
from diagnose.facts import understand
from diagnose.plate import LONGEST_TEXT, Plate, shown
from diagnose.talk.around import Around
from diagnose.talk.clock import moment_of, now
from diagnose.talk.day_words import said
from diagnose.talk.telling import tell
from diagnose.units import UnitError, read_amount

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.daybook.store import Store

Options = Mapping[str, Any]
LONGEST_NOTE = 5000


def keep_plate(outcome: Outcome, signs: Iterable[str], options: Options, around: Around) -> None:
    """Keep one plate.

    Args:
        outcome: "good" or "spoiled"
        signs: what it shows
        options: clock, day, who, note, made_with, condition
        around: book and screen

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


def keep_told(plate: Plate, mode: str, around: Around) -> "Diagnosis":
    """Diagnose a plate that was told in one go, with what the book knows, and keep it.

    Args:
        plate: as told
        mode: how the plan is made
        around: book and screen
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


def keep_note(words: str, options: Options, around: Around) -> None:
    """Keep a remark.

    Args:
        words: the remark
        options: clock, day, who
        around: book and screen
    """
    entry = NoteEntry(moment=moment_of(options["day"], options["clock"]), note=_note(words), who=options["who"])
    with around.opened() as store:
        _keep(store, around, entry)


def keep_work(command: str, thing: str, amount: str, options: Options, around: Around) -> None:
    """Keep what was done to what stands behind the plates.

    Args:
        command: the command's name, such as "mixed"
        thing: as typed
        amount: as typed; "" where none was told
        options: name, clock, day, who, note
        around: book and screen

    Raises:
        PlateError: there is no such thing
    """
    moment = moment_of(options["day"], options["clock"])
    known = _thing(thing)
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


def keep_remedy(remedy: str, options: Options, around: Around) -> None:
    """Keep that a remedy was carried out.

    Args:
        remedy: its name
        options: name, clock, day, who, note
        around: book and screen

    Raises:
        PlateError: there is no such remedy
    """
    from diagnose.daybook.context import thing_of_remedy

    known = around.knowledge.remedies
    if remedy not in known:
        raise PlateError(
            f"no remedy called {shown(remedy)!r}; {near(remedy, known) or 'answers name them with --json'}"
        )
    moment = moment_of(options["day"], options["clock"])
    thing = thing_of_remedy(remedy, around.knowledge)
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


def keep_values(values: Iterable[str], options: Options, around: Around) -> None:
    """Keep what holds until it changes.

    Args:
        values: NAME=VALUE, of conditions, or of things by their names
        options: clock, day
        around: book and screen

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
    entries = [ValueEntry(moment=moment, condition=MADE_WITH + thing, value=name) for thing, name in uses.items()]
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
        around.say(f"Kept as number {number}: {said(entry, around.knowledge)}", "act")


def _diagnosis(
    plate: Plate, store: "Store", moment: Moment, made_with: Mapping[str, str], around: Around, mode: str = MODES[0]
) -> "tuple[Plate, Diagnosis]":
    from diagnose.daybook.known import diagnose_with, known_of

    known = known_of(store.read(), around.knowledge, moment, made_with, store.setting)
    return diagnose_with(plate, known, mode, around.measures)


def _thing(words: str) -> Thing:
    known = thing_named(words)
    if known is None:
        every = [word for several in THING_WORDS.values() for word in several]
        raise PlateError(
            f"nothing here is called {shown(words)!r}; {near(words[:100], every) or 'say one of'}: {', '.join(THINGS)}"
        )
    return known


def _named(texts: Iterable[str]) -> Iterable[tuple[str, str]]:
    for text in texts:
        thing, equals, name = text.partition("=")
        if not equals:
            raise PlateError(f"cannot read {shown(text)!r}; write it like holder=B")
        yield _thing(thing), name.strip()


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
