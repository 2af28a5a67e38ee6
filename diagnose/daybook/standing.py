"""What the book knows by itself of the next plate: answers that still hold, and what can be counted."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from diagnose.daybook.book import Book, Moment
from diagnose.daybook.changed import changes
from diagnose.daybook.counting import counted_conditions
from diagnose.daybook.saying import days_between, when
from diagnose.daybook.shelf import Shelf, Told
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.observed import Condition
from diagnose.facts import read_condition
from diagnose.plate import day_number
from diagnose.units import UnitError, read_amount


class FromBook(NamedTuple):
    """A condition the book can answer.

    Args:
        condition: which
        value: as a plate takes it
        words: why: "34 plates since it was filtered on 20 May"
    """

    condition: str
    value: str
    words: str


def from_book(
    book: Book,
    knowledge: Knowledge,
    moment: Moment,
    made_with: Mapping[str, str],
    told: Mapping[str, str] | None = None,
) -> tuple[FromBook, ...]:
    """Every condition the book can answer for a plate that is not in it yet.

    Args:
        book: the plates, works and values before it; what comes after the moment does not count
        knowledge: the craft
        moment: when the plate is made
        made_with: kind of thing -> name of the one it is made with
        told: conditions told of the plate itself, as text; they win, and are held against those of the last good plate

    Returns:
        what fits the knowledge, in the order of its conditions
    """
    return answers_of(Shelf(knowledge, book.until(moment).entries), moment, made_with, told)


def answers_of(
    shelf: Shelf,
    moment: Moment,
    made_with: Mapping[str, str],
    told: Mapping[str, str] | None = None,
    *,
    changed: bool = True,
) -> tuple[FromBook, ...]:
    """The same from a shelf that has been shown everything before the plate.

    Args:
        shelf: what stands behind the plate
        moment: when the plate is made
        made_with: kind of thing -> name of the one it is made with
        told: conditions told of the plate itself, as text
        changed: whether to tell what changed since the last good plate, too
    """
    own = told or {}
    found: dict[str, tuple[str, str]] = {}
    for name, value, words in _carried(shelf, moment, made_with):
        found[name] = value, words
    for name, value, words in counted_conditions(shelf, moment, made_with):
        found[name] = value, words
    if changed:
        for name, value, words in changes(shelf, moment, made_with, own):
            found[name] = value, words
    return tuple(
        FromBook(name, *found[name])
        for name, entry in shelf.knowledge.conditions.items()
        if name in found and name not in own and readable(name, found[name][0], entry)
    )


def readable(name: str, value: str, entry: Condition) -> bool:
    """Whether a value is one the condition takes.

    Args:
        name: the condition
        value: as text
        entry: what may be answered
    """
    if entry.kind == "quantity":
        return not isinstance(read_condition(name, value, entry), str)
    return value.strip().casefold() in entry.answers


def _carried(shelf: Shelf, moment: Moment, made_with: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    """Answers told before that still hold; ages have grown since."""
    for name in dict.fromkeys(name for name, _ in shelf.told):
        entry, told = shelf.knowledge.conditions[name], shelf.standing(name, moment, made_with)
        if told is None or entry.unit == "plates" or name == "bath_new":  # these are counted
            continue
        said = f"told {when(told.mark.moment, moment)}"
        if entry.unit == "d":
            age = _age(told, moment)
            if age is not None:
                yield name, f"{age:g} d", f"{told.value} {said}"
        else:
            yield name, told.value, said


def _age(told: Told, moment: Moment) -> float | None:
    """An age in days, told before or by the date on a label, as it is now [d]; None where it cannot be read."""
    if day_number(told.value) is not None:
        return days_between(told.value, moment.day)
    since = days_between(told.mark.moment.day, moment.day)
    try:
        return None if since is None else read_amount(told.value, "d") + since
    except UnitError:
        return None
