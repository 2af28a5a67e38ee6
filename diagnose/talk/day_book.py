"""Keeping plates and remarks: one command, one entry, said back in one line."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from diagnose.advice.planning import MODES
from diagnose.daybook.book import (
    Moment,
    NoteEntry,
    Outcome,
)
from diagnose.daybook.naming import thing_named
from diagnose.daybook.recording import given_by, plate_entry
from diagnose.daybook.using import in_use
from diagnose.errors import PlateError
from diagnose.facts import understand
from diagnose.plate import Plate, shown
from diagnose.talk.around import Around
from diagnose.talk.book_keys import offered_briefly
from diagnose.talk.clock import moment_of, now
from diagnose.talk.day_keeping import Options, keep, note_of
from diagnose.talk.telling import tell

if TYPE_CHECKING:
    from diagnose.answer import Diagnosis
    from diagnose.daybook.known import Known
    from diagnose.daybook.store import Store


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
            note=note_of(options["note"]),
        )
        keep(store, around, entry)


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
        known, diagnosis = _diagnosis(plate, store, moment, made_with, around, mode)
        entry = plate_entry(
            moment, "spoiled", plate.told(), around.knowledge, made_with=made_with, given=given_by(diagnosis)
        )
        (number,) = store.add(entry)
    said = [f"Kept in your daybook as number {number}."]
    said += [offered_briefly(known.offered, around.knowledge)] if known.offered else []
    print(*said, sep="\n", file=sys.stderr)  # noqa: T201 - beside the answer, which may be piped
    return diagnosis


def keep_note(around: Around, words: str, options: Options) -> None:
    """Keep a remark.

    Args:
        around: book and screen
        words: the remark
        options: clock, day, who
    """
    entry = NoteEntry(moment=moment_of(options["day"], options["clock"]), note=note_of(words), who=options["who"])
    with around.opened() as store:
        keep(store, around, entry)


def _diagnosis(
    plate: Plate, store: "Store", moment: Moment, made_with: Mapping[str, str], around: Around, mode: str = MODES[0]
) -> "tuple[Known, Diagnosis]":
    from diagnose.daybook.known import diagnose_with, known_of

    known = known_of(store.read(), around.knowledge, moment, made_with, store.setting, plate)
    return known, diagnose_with(plate, known, mode, around.measures)[1]


def _named(texts: Iterable[str]) -> Iterable[tuple[str, str]]:
    for text in texts:
        thing, equals, name = text.partition("=")
        if not equals:
            raise PlateError(f"cannot read {shown(text)!r}; write it like holder=B")
        yield thing_named(thing), name.strip()
