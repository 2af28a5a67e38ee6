"""What a day's review says: frozen values that screens, the page and the JSON record all show alike."""

from dataclasses import asdict, dataclass
from typing import Any, Literal

from diagnose.daybook.advised import Ahead, Due, Likely, Trial


@dataclass(frozen=True, kw_only=True)
class ByWhom:
    """How one person fared.

    Args:
        who: "" for the owner of the book
        plates, spoiled: counted
    """

    who: str
    plates: int
    spoiled: int


@dataclass(frozen=True, kw_only=True)
class WorkLine:
    """Something that was done to the things behind the plates.

    Args:
        before: number of the plate it came before; one more than there are plates where none came after it
        day, clock: when
        thing, name: to what
        words: what was done, in words
    """

    before: int
    day: str
    clock: str
    thing: str
    name: str
    words: str


@dataclass(frozen=True, kw_only=True)
class Pattern:
    """A standing cause that runs through some of the plates.

    Args:
        likely: the cause
        brief: one line on it
        thing, name: what it stands in
        onset: number of the plate at which it was most likely first at work
        onset_least, onset_most: plates between which it began, four times in five
        plates: numbers of the plates it was likelier than not at work on
        ended_before: number of the plate from which it was gone; None where it was still at work on the last
        ended_by: what ended it, in words; "" where the book has nothing that could have
        untested: what was done about it after the last plate, in words; "" for nothing
        helps: a remedy for it by title, while it is at work
    """

    likely: Likely
    brief: str
    thing: str
    name: str
    onset: int
    onset_least: int
    onset_most: int
    plates: tuple[int, ...]
    ended_before: int | None
    ended_by: str
    untested: str
    helps: str


@dataclass(frozen=True, kw_only=True)
class PlateLine:
    """One plate.

    Args:
        number: its place in the review, from 1
        entry: its number in the book
        day, clock: when
        good: whether it came out well
        signs: what it showed
        then: the diagnosis given at the time; None where none was
        now: what is believed after the whole day; None for a good plate
        changed: whether that is another cause
        confirmed: the cause that turned out to be behind it, by its title
        who, note: as in the book
        made_with: things used, in words
        unread: what of it this knowledge could not read; "" for nothing
    """

    number: int
    entry: int
    day: str
    clock: str
    good: bool
    signs: tuple[str, ...]
    then: Likely | None
    now: Likely | None
    changed: bool
    confirmed: str
    who: str
    note: str
    made_with: tuple[str, ...]
    unread: str


@dataclass(frozen=True, kw_only=True)
class Shared:
    """What spoiled and good plates do or do not have in common.

    Args:
        what: one or more things that were true of the very same plates, in words
        spoiled_with, spoiled: of so many spoiled plates of which it is known so many have it
        good_with, good: the same for good plates
        chance: how often chance alone would part them so far: Fisher's exact test, two-sided
        corrected: the same, for as many looks as were taken (Tarone's count of those that could have shown anything)
        too_few: not even the clearest count of so few plates would tell
        words: what that amounts to
    """

    what: tuple[str, ...]
    spoiled_with: int
    spoiled: int
    good_with: int
    good: int
    chance: float
    corrected: float
    too_few: bool
    words: str


@dataclass(frozen=True, kw_only=True)
class Counted:
    """A sign that spoiled plates have in common.

    Args:
        what: the sign
        plates: spoiled plates that show it
        place: where most of them show it, in words; "" where that was not told
        placed: plates that show it there
    """

    what: str
    plates: int
    place: str
    placed: int


@dataclass(frozen=True, kw_only=True)
class Bar:
    """One bar of the Pareto.

    Args:
        cause: its name; "" for all others together
        title: what it is called
        standing: whether it stands until put right
        plates: spoiled plates expected of it: the sum of its probabilities
        share: part of all that is expected, from 0 to 1
        so_far: share of this bar and those before it
    """

    cause: str
    title: str
    standing: bool
    plates: float
    share: float
    so_far: float


@dataclass(frozen=True, kw_only=True)
class Cost:
    """What the spoiled plates cost.

    Args:
        plates: how many
        minutes: time on them, at the knowledge's minutes for a plate [min]
        silver: silver nitrate they carried off: least, likely, most [g]; None where there is nothing to count
        area: of all spoiled plates [cm²]
        sizes_known: of how many of them the size was noted
        strength: of the bath that was reckoned with [g/L]
        strength_known: whether it was told
    """

    plates: int
    minutes: float
    silver: tuple[float, float, float] | None
    area: float
    sizes_known: int
    strength: float
    strength_known: bool


@dataclass(frozen=True, kw_only=True)
class Stretch:
    """One day, week or month of the trend.

    Args:
        label: its date or dates
        plates, spoiled: counted
        share: spoiled of all
        least, most: between which the true share lies with 95 %: Wilson's interval
        standing: standing causes likelier than not to have been at work
        at_the_time: whether those are the diagnoses given at the time, not this review's
        here: whether it is part of what is reviewed
    """

    label: str
    plates: int
    spoiled: int
    share: float
    least: float
    most: float
    standing: tuple[str, ...]
    at_the_time: bool
    here: bool


@dataclass(frozen=True, kw_only=True)
class Review:
    """A day, or some days, of plates.

    Args:
        knowledge_version: what it was reviewed with
        first, last: dates
        story: of an invented day; "" for the person's own
        plates, good, spoiled: counted
        by: who made them, where there were several
        patterns: standing causes likelier than not, likeliest first
        second: the likeliest standing cause beside them; None where there is none to speak of
        none_standing: probability that no standing cause was at work
        plate_level: causes of single plates that are likelier than not on some plate
        works: what was done meanwhile
        lines: plate by plate
        remarks: notes on the day, with their times
        shared: what parts spoiled plates from good ones, clearest first
        looks: how many different things were compared
        signs: what spoiled plates show, most often first
        bars: the Pareto
        cost: of the spoiled plates
        trend: by day, week or month, oldest first
        stretch: what a row of it is
        due: upkeep that is due
        ahead: counts that have not passed a limit
        trial: the test for tomorrow
    """

    knowledge_version: str
    first: str
    last: str
    story: str
    plates: int
    good: int
    spoiled: int
    by: tuple[ByWhom, ...]
    patterns: tuple[Pattern, ...]
    second: Likely | None
    none_standing: float
    plate_level: tuple[Bar, ...]
    works: tuple[WorkLine, ...]
    lines: tuple[PlateLine, ...]
    remarks: tuple[str, ...]
    shared: tuple[Shared, ...]
    looks: int
    signs: tuple[Counted, ...]
    bars: tuple[Bar, ...]
    cost: Cost
    trend: tuple[Stretch, ...]
    stretch: Literal["day", "week", "month"]
    due: tuple[Due, ...]
    ahead: tuple[Ahead, ...]
    trial: Trial


def review_record(review: Review) -> dict[str, Any]:
    """The review as it goes out: plain tables and lists, ready for JSON.

    Args:
        review: of some days
    """
    return asdict(review)
