"""How common each cause is in one studio, learned from confirmed plates only; the books' rates stand beside it."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from diagnose.daybook.book import Book, Moment, PlateEntry
from diagnose.daybook.confirming import Confirmation, confirmed_cause, followed
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import BookError
from diagnose.plate import day_number, shown
from diagnose.reasoning.craft import Craft, craft_of
from diagnose.reasoning.model import scaled_odds, work_out

__all__ = ["Confirmation", "Rates", "confirmed_cause", "newly_confirmed", "rates", "rates_rows", "with_rates"]

# Both chosen on simulated studios kept apart from those the figures are taken on (tests/measure/learning.py): 20 and 80 trust a
# hundred plates spread over a hundred causes too much, and forget an old room too slowly.
HALF_AFTER = 40.0  # confirmed plates after which one counts half
BOOKS_WEIGH = 40.0  # confirmed plates the rates of the books are worth
MOST_SHARE = 0.4  # of all faults, for one cause, however often it was confirmed: judged
LEAST_OF_BOOK = 0.1  # of the books' share, below which no cause is taken however seldom it was confirmed: judged
OFF = frozenset({"off", "no", "false", "0"})  # what switches learning off, as a setting


@dataclass(frozen=True)
class Rates:
    """How common the causes are in a studio, beside what the books say.

    Args:
        book: cause -> share of all faults, as the books have it; adds up to one
        studio: the same as learned from the studio; adds up to one
        counts: cause -> confirmed plates, older ones counting less
        confirmed: cause -> confirmed plates, each counting as one
        since: from when on plates count; "" for always
        on: whether learning is switched on
    """

    book: Mapping[str, float]
    studio: Mapping[str, float]
    counts: Mapping[str, float] = field(default_factory=dict)
    confirmed: Mapping[str, int] = field(default_factory=dict)
    since: str = ""
    on: bool = True

    @property
    def plates(self) -> int:
        """How many confirmed plates they rest on."""
        return sum(self.confirmed.values())

    @property
    def weight(self) -> float:
        """The same with older plates counting less."""
        return math.fsum(self.counts.values())


class RateRow(NamedTuple):
    """One cause, as the books and as the studio have it.

    Args:
        cause: "stage/name"
        title: as it is called
        book, studio: share of all faults
        confirmed: plates of the studio it was confirmed on
    """

    cause: str
    title: str
    book: float
    studio: float
    confirmed: int


def rates(book: Book, knowledge: Knowledge, *, on: bool = True, since: str = "", kept_only: bool = False) -> Rates:
    """How common each cause is in the studio whose book this is.

    Args:
        book: the daybook
        knowledge: what the books say
        on: whether learning is switched on; off gives the books' rates
        since: from when on plates count: a date, or seconds since 1970 began, as text; "" for always
        kept_only: count only what the entries say is confirmed, without looking for cures and checks anew; quick, and the
            same where `newly_confirmed` is kept in the book as it goes

    Returns:
        shares of all faults: (A share in the books + n) / (A + N), n and N counted with decay

    Raises:
        BookError: `since` is neither a date nor seconds

    Source: counts with a Dirichlet prior; decay by a half-life in confirmed plates (West and Harrison 1997, discounting).
    """
    if since and not since.isdecimal() and day_number(since) is None:
        raise BookError(f"learning counts from {shown(since)!r}, which is no date; write it as 2026-05-01")
    found: list[str] = []
    if on and kept_only:
        found = [entry.confirmed for entry in book.plates if entry.confirmed_by and _counts(entry.moment, since)]
    elif on:
        found = [item.cause for entry, item in _confirmed(book, knowledge) if _counts(entry.moment, since)]
    return replace(rates_from(found, knowledge), since=since, on=on)


def rates_from(
    found: Sequence[str], knowledge: Knowledge, *, books_weigh: float = BOOKS_WEIGH, half_after: float = HALF_AFTER
) -> Rates:
    """How common each cause is where these were confirmed.

    Args:
        found: confirmed causes, the oldest first; those the knowledge no longer has are passed over
        knowledge: what the books say
        books_weigh: confirmed plates the books' rates are worth
        half_after: confirmed plates after which one counts half
    """
    base = work_out(knowledge).base
    chances = {cause: odds / (1 + odds) for cause, odds in base.items()}
    total = math.fsum(chances.values())
    shares = {cause: chance / total for cause, chance in chances.items()}
    counts: dict[str, float] = {}
    confirmed: dict[str, int] = {}
    for age, cause in enumerate(reversed([cause for cause in found if cause in base])):
        counts[cause] = counts.get(cause, 0.0) + 2 ** (-age / half_after)
        confirmed[cause] = confirmed.get(cause, 0) + 1
    return Rates(shares, _studio_shares(shares, counts, books_weigh), counts, confirmed)


def newly_confirmed(book: Book, knowledge: Knowledge) -> tuple[PlateEntry, ...]:
    """The plates whose cause is confirmed by what the book tells but not yet written down, with it written in.

    Args:
        book: the daybook
        knowledge: the craft
    """
    return tuple(
        replace(entry, confirmed=item.cause, confirmed_by=item.how)
        for entry, item in _confirmed(book, knowledge)
        if not entry.confirmed
    )


def with_rates(craft: Craft, learned: Rates) -> Craft:
    """The same knowledge made ready, weighing with a studio's rates; its rules are not built anew.

    Args:
        craft: the knowledge made ready
        learned: from `rates`; without a confirmed plate, or switched off, the craft comes back as it was
    """
    if not learned.on or not learned.plates:
        return craft
    expect = craft.knowledge.strengths.expect.causes_per_plate
    books = craft.model.books or craft.model.base
    total = math.fsum(odds / (1 + odds) for odds in books.values())
    wanted = {cause: min(learned.studio.get(cause, 0.0) * total, 0.9) for cause in books}
    ready = replace(craft, model=craft.model._replace(base=scaled_odds(wanted, expect), books=books))
    for name in craft.__dict__.keys() - ready.__dict__.keys():  # worked out once already, and none of it rests on rates
        ready.__dict__[name] = craft.__dict__[name]
    return ready


def rates_rows(learned: Rates, knowledge: Knowledge) -> tuple[RateRow, ...]:
    """The causes that were confirmed, and those that never were although the books' rates let one expect it.

    The most common in the studio stand first. A cause of neither kind was only made a little rarer, like all of them.

    Args:
        learned: from `rates`
        knowledge: how causes are called
    """
    return tuple(
        RateRow(cause, knowledge.causes[cause].title, share, learned.studio[cause], learned.confirmed.get(cause, 0))
        for cause, share in sorted(learned.book.items(), key=lambda pair: (-learned.studio[pair[0]], pair[0]))
        if cause in learned.confirmed or share * learned.weight >= 1
    )


def learning_on(setting: str | None) -> bool:
    """Whether learning is switched on.

    Args:
        setting: the setting "learning" as it is kept; None where nobody set it
    """
    return (setting or "").strip().casefold() not in OFF


def _confirmed(book: Book, knowledge: Knowledge) -> list[tuple[PlateEntry, Confirmation]]:
    craft = craft_of(knowledge)
    found = ((entry, confirmed_cause(entry, craft, cured_by)) for entry, cured_by in followed(book, craft))
    return [(entry, item) for entry, item in found if item is not None]


def _counts(moment: Moment, since: str) -> bool:
    """Whether a moment is not before the one from which plates count."""
    if not since:
        return True
    return moment.at >= int(since) if since.isdecimal() else moment.day >= since


def _studio_shares(book: Mapping[str, float], counts: Mapping[str, float], books_weigh: float) -> dict[str, float]:
    """Shares with the counts mixed in, none beyond its bounds; what the bounds take or give is made up for by the others."""
    weight = books_weigh + math.fsum(counts.values())
    shares = {cause: (books_weigh * share + counts.get(cause, 0.0)) / weight for cause, share in book.items()}
    held: dict[str, float] = {}
    while True:
        free = math.fsum(share for cause, share in shares.items() if cause not in held)
        scale = (1 - math.fsum(held.values())) / free if free else 1.0
        beyond = {
            cause: min(max(share * scale, LEAST_OF_BOOK * book[cause]), max(MOST_SHARE, book[cause]))
            for cause, share in shares.items()
            if cause not in held
        }
        beyond = {cause: bound for cause, bound in beyond.items() if not math.isclose(bound, shares[cause] * scale)}
        if not beyond or len(held) + len(beyond) == len(shares):
            return {cause: held.get(cause, share * scale) for cause, share in shares.items()}
        held |= beyond
