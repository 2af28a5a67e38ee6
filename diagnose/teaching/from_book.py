"""Plates of the daybook with a confirmed cause, as exercises."""

from collections.abc import Callable, Iterator

from diagnose.daybook.book import Book, PlateEntry
from diagnose.daybook.confirming import confirmed_cause, followed, told_on
from diagnose.errors import BookError, DiagnoseError
from diagnose.facts import Facts, understand
from diagnose.plate import Plate
from diagnose.reasoning.craft import Craft
from diagnose.teaching.exercise import Exercise
from diagnose.teaching.sampling import DRAWN


def exercises_of(book: Book, craft: Craft) -> Iterator[Exercise]:
    """Every spoiled plate whose cause is confirmed, in order; without notes, names and whatever gave the cause away.

    Checks and remedies tried are held back: they are how the cause was found out.

    Args:
        book: the daybook
        craft: the knowledge made ready, with the rates of the books
    """
    for entry, cured_by in followed(book, craft):
        confirmed = confirmed_cause(entry, craft, cured_by)
        facts = _facts_of(entry, craft) if confirmed else None
        if confirmed is None or facts is None or not facts.present:
            continue
        notice = craft.model.notice
        sign = max(facts.present, key=lambda symptom: (notice[symptom], symptom))
        told = Plate.read({**told_on(entry), "checks": {}, "tried": []}).told()
        yield Exercise(
            name=f"{entry.moment.day} number {entry.number}",
            origin="book",
            causes=(confirmed.cause,),
            told=told,
            sign=sign,
            looks={name: value for name, value in facts.present[sign].items() if name in DRAWN},
            support="glass" if facts.options.get("support") in {"glass", "acrylic"} else "metal",
            seed=entry.number,
            confirmed_by=confirmed.how,
        )


def from_book(book: Book, craft: Craft, count: int, shuffle: Callable[[list[Exercise]], None]) -> list[Exercise]:
    """Some of those plates, in an order that says nothing.

    Args:
        book: the daybook
        craft: as for `exercises_of`
        count: how many at most
        shuffle: puts a list in an order of chance

    Raises:
        BookError: no plate of the book has a confirmed cause
    """
    found = list(exercises_of(book, craft))
    if not found:
        raise BookError(
            "no plate of your daybook has a confirmed cause yet: a cure, a decisive check, or `diagnose day confirm` makes one"
        )
    shuffle(found)
    return found[:count]


def _facts_of(entry: PlateEntry, craft: Craft) -> Facts | None:
    """The plate without what gave the cause away; None where it is told in words the knowledge no longer has."""
    try:
        return understand(Plate.read({**told_on(entry), "checks": {}, "tried": []}), craft.knowledge)
    except DiagnoseError:
        return None
