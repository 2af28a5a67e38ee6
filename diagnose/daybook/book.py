"""What a daybook holds: plates, what was done to the things behind them, and values that stand until they change."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal, get_args

Outcome = Literal["good", "spoiled"]
Confirmed = Literal["", "cure", "check", "person"]
# What stands behind a plate; a standing cause stands in one of them, and each may be there more than once, by name.
Thing = Literal[
    "bath",
    "collodion",
    "developer",
    "fixer",
    "holder",
    "camera",
    "room",
    "weather",
    "plates",
    "varnish",
    "light",
    "water",
]
Work = Literal[
    "taken",  # one that was there already was taken into use; nothing is done to it
    "new",  # mixed, opened, bought or brought into use: everything that stood in the old one ends with it
    "filtered",
    "sunned",
    "aired",
    "topped-up",
    "acid-added",
    "alkali-added",
    "silver-added",
    "cleaned",
    "mended",  # a remedy of the knowledge, named in `remedy`
]
THINGS: tuple[Thing, ...] = get_args(Thing)
WORKS: tuple[Work, ...] = get_args(Work)
OUTCOMES: tuple[Outcome, ...] = get_args(Outcome)
USUAL = ""  # the name of the one thing of its kind where nobody has named several


@dataclass(frozen=True, order=True)
class Moment:
    """When something was, told so that it can be put in order and be read.

    Args:
        at: seconds since 1970 began, in universal time [s]
        day: the date where it happened, as 2026-05-01
        clock: the time where it happened, as 14:05; "" where it was not noted
    """

    at: int
    day: str
    clock: str = ""


@dataclass(frozen=True)
class Given:
    """The diagnosis that was given for a plate.

    Args:
        version: of the knowledge
        causes: cause -> probability, the leading ones
        first: remedy or check that was named first; "" where none was
        unlisted: probability that nothing known was behind it
    """

    version: str
    causes: Mapping[str, float] = field(default_factory=dict)
    first: str = ""
    unlisted: float = 0.0


@dataclass(frozen=True, kw_only=True)
class PlateEntry:
    """One plate of the book. No sitter is ever named.

    Args:
        number: the book's own running number; 0 until it is kept
        moment: when it was made
        outcome: "good" or "spoiled"
        told: symptoms, conditions, checks and tried, as `Plate.read` takes them; for good plates mostly empty
        made_with: kind of thing -> name of the one that was used
        size: area [cm²]; None where it was not noted
        given: the diagnosis given at the time
        confirmed: the cause that turned out to be behind it; "" while it is not known
        confirmed_by: "cure", "check" or "person"
        who: who made it; "" for the owner of the book
        note: anything else about the work
    """

    number: int = 0
    moment: Moment
    outcome: Outcome
    told: Mapping[str, Any] = field(default_factory=dict)
    made_with: Mapping[str, str] = field(default_factory=dict)
    size: float | None = None
    given: Given | None = None
    confirmed: str = ""
    confirmed_by: Confirmed = ""
    who: str = ""
    note: str = ""

    @property
    def good(self) -> bool:
        """Whether it came out well."""
        return self.outcome == "good"

    def uses(self, thing: str) -> str:
        """The name of the thing of a kind that it was made with."""
        return self.made_with.get(thing, USUAL)


@dataclass(frozen=True, kw_only=True)
class WorkEntry:
    """Something done to what stands behind the plates.

    Args:
        number: the book's own running number; 0 until it is kept
        moment: when
        work: what was done
        thing: to what
        name: to which one, where there are several
        remedy: the remedy of the knowledge it was, where it was one
        amount: how much, as told: "50 mL"; of a new thing how much there is of it
        who, note: as for a plate
    """

    number: int = 0
    moment: Moment
    work: Work
    thing: Thing
    name: str = USUAL
    remedy: str = ""
    amount: str = ""
    who: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class ValueEntry:
    """A condition that was told once and stands until it is told anew, its thing is renewed, or its day ends.

    Args:
        number: the book's own running number; 0 until it is kept
        moment: when it was told
        condition: which
        value: as told; "" takes it back
        name: of which one of the things it is true, where there are several
    """

    number: int = 0
    moment: Moment
    condition: str
    value: str
    name: str = USUAL


@dataclass(frozen=True, kw_only=True)
class NoteEntry:
    """A remark on the day, for the person's own eyes.

    Args:
        number: the book's own running number; 0 until it is kept
        moment: when
        note: the words
        who: who wrote it
    """

    number: int = 0
    moment: Moment
    note: str
    who: str = ""


BookEntry = PlateEntry | WorkEntry | ValueEntry | NoteEntry


@dataclass(frozen=True)
class Book:
    """Everything in a daybook, or a part of it.

    Args:
        entries: in the order in which they happened; those of one moment in the order in which they were kept
    """

    entries: tuple[BookEntry, ...] = ()

    def __post_init__(self) -> None:
        """Put the entries in order, however they came in."""
        ordered = tuple(sorted(self.entries, key=lambda entry: (entry.moment.at, entry.number or math.inf)))
        object.__setattr__(self, "entries", ordered)

    @property
    def plates(self) -> tuple[PlateEntry, ...]:
        """The plates alone, in order."""
        return tuple(entry for entry in self.entries if isinstance(entry, PlateEntry))

    @property
    def works(self) -> tuple[WorkEntry, ...]:
        """What was done to the things, in order."""
        return tuple(entry for entry in self.entries if isinstance(entry, WorkEntry))

    @property
    def days(self) -> tuple[str, ...]:
        """Every day that has an entry, in order."""
        return tuple(dict.fromkeys(entry.moment.day for entry in self.entries))

    def until(self, moment: Moment) -> "Book":
        """What had happened before a moment, that moment included.

        Args:
            moment: the last one that counts
        """
        return Book(tuple(entry for entry in self.entries if entry.moment.at <= moment.at))

    def between(self, first: str, last: str) -> "Book":
        """What happened on some days.

        Args:
            first: the first date
            last: the last date; it counts, too
        """
        return Book(tuple(entry for entry in self.entries if first <= entry.moment.day <= last))

    def also(self, *entries: BookEntry) -> "Book":
        """The same book with more in it.

        Args:
            entries: in any order
        """
        return Book((*self.entries, *entries))


def numbered(entry: BookEntry, number: int) -> BookEntry:
    """An entry with the running number the book gave it.

    Args:
        entry: any
        number: from 1
    """
    return replace(entry, number=number)
