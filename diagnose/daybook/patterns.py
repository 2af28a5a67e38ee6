"""The one pattern behind a day: which standing cause began where, and what ended it."""

from collections.abc import Container, Mapping, Sequence
from typing import TYPE_CHECKING

from diagnose.advice.actions import BATH
from diagnose.bands import band
from diagnose.daybook.advised import Likely
from diagnose.daybook.book import USUAL, WorkEntry
from diagnose.daybook.reviewed import Pattern
from diagnose.daybook.told import work_words
from diagnose.daybook.works import deeds, remedy_of
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable

if TYPE_CHECKING:
    from diagnose.reasoning.serial import DayBelief, Standing

AT_WORK = 0.5  # a cause is spoken of as the pattern from here on: likelier than not
MOST_PATTERNS = 3
ONSET_SHARE = 0.8  # of the onset's chance lies between the two plates that are named
ENDED_BY = 0.4  # how far the belief must fall at a work that is named as the end: judged
WORTH_NAMING = 0.02  # a second best below this is not spoken of


def likely(cause: str, probability: float, knowledge: Knowledge, name: str = "") -> Likely:
    """A cause with its probability and word.

    Args:
        cause: its name
        probability: from 0 to 1
        knowledge: titles
        name: of the thing it stands in, where there are several
    """
    entry = knowledge.causes.get(cause)
    if entry is None:  # of an older version of the knowledge
        return Likely(cause=cause, title=cause.replace("/", ": "), probability=probability, words=band(probability))
    title = f"{entry.title} (“{printable(name)}”)" if name else entry.title
    return Likely(cause=cause, title=title, probability=probability, words=band(probability))


def plates_with(standing: "Standing", uses: Sequence[Mapping[str, str]], knowledge: Knowledge) -> list[int]:
    """The plates made with the thing a cause stands in; on the others it was not at work, but it was not over either.

    Args:
        standing: the cause
        uses: of each plate: kind of thing -> name
        knowledge: what it stands in
    """
    thing = knowledge.causes[standing.cause].stands_in or ""
    return [place for place, used in enumerate(uses) if used.get(thing, USUAL) == standing.name]


def patterns_of(
    belief: "DayBelief",
    works: Sequence[tuple[int, WorkEntry]],
    uses: Sequence[Mapping[str, str]],
    knowledge: Knowledge,
) -> tuple[Pattern, ...]:
    """The standing causes that are likelier than not, the likeliest first.

    Args:
        belief: of the whole day
        works: what was done, each with the index of the plate it came before
        uses: of each plate: kind of thing -> name
        knowledge: the craft
    """
    leading = [standing for standing in belief.standing if standing.at_work > AT_WORK][:MOST_PATTERNS]
    return tuple(_pattern(standing, works, plates_with(standing, uses, knowledge), knowledge) for standing in leading)


def second_best(belief: "DayBelief", shown: int, knowledge: Knowledge) -> Likely | None:
    """The likeliest standing cause that is not spoken of as the pattern.

    Args:
        belief: of the whole day
        shown: how many are spoken of
        knowledge: titles
    """
    rest = belief.standing[shown : shown + 1]
    if not rest or rest[0].at_work < WORTH_NAMING:
        return None
    return likely(rest[0].cause, rest[0].at_work, knowledge, rest[0].name)


def helps_against(cause: str, knowledge: Knowledge, besides: Container[str] = ()) -> str:
    """The title of the first remedy of a cause that may be named by itself; "" where there is none.

    What treats the bath for good is not: it waits for the looks that must come before it.

    Args:
        cause: its name
        knowledge: the craft
        besides: remedies that are not wanted
    """
    for link in knowledge.causes[cause].remedy:
        remedy = knowledge.remedies[link.do]
        if link.do not in besides and not link.when and not (remedy.touches == BATH and not remedy.reversible):
            return remedy.title
    return ""


def concerns(work: WorkEntry, cause: str, name: str, knowledge: Knowledge) -> bool:
    """Whether a work could have put a standing cause right.

    Args:
        work: from the book
        cause: the standing cause
        name: of the thing it stands in
        knowledge: what it stands in, and its remedies
    """
    entry = knowledge.causes[cause]
    if work.thing == entry.stands_in and work.name != name:
        return False
    remedy = remedy_of(work)
    return any(link.do == remedy for link in entry.remedy) or (work.thing == entry.stands_in and "new" in deeds(work))


def _pattern(
    standing: "Standing", works: Sequence[tuple[int, WorkEntry]], used: Sequence[int], knowledge: Knowledge
) -> Pattern:
    entry = knowledge.causes[standing.cause]
    count = len(standing.active)
    onset = max(range(count), key=lambda place: standing.onset[place])
    least, most = _where(standing.onset, onset)
    plates = tuple(place + 1 for place, chance in enumerate(standing.active) if chance > AT_WORK)
    fitting = [(before, work) for before, work in works if concerns(work, standing.cause, standing.name, knowledge)]
    ended, ended_by = _end(standing.active, used, onset, fitting, knowledge)
    after = [work_words(work, knowledge) for before, work in fitting if before > used[-1]]
    return Pattern(
        likely=likely(standing.cause, standing.at_work, knowledge, standing.name),
        brief=entry.brief,
        thing=entry.stands_in or "",
        name=standing.name,
        onset=onset + 1,
        onset_least=least + 1,
        onset_most=most + 1,
        plates=plates,
        ended_before=ended,
        ended_by=ended_by,
        untested="; ".join(after) if ended is None else "",
        helps=helps_against(standing.cause, knowledge) if ended is None else "",
    )


def _where(onset: Sequence[float], peak: int) -> tuple[int, int]:
    """The fewest plates in a row, the likeliest among them, that hold most of the onset's chance."""
    wanted = ONSET_SHARE * sum(onset)
    least = most = peak
    held = onset[peak]
    while held < wanted and (least > 0 or most < len(onset) - 1):
        before = onset[least - 1] if least > 0 else -1.0
        after = onset[most + 1] if most < len(onset) - 1 else -1.0
        if before >= after:
            least -= 1
            held += before
        else:
            most += 1
            held += after
    return least, most


def _end(
    active: Sequence[float],
    used: Sequence[int],
    onset: int,
    works: Sequence[tuple[int, WorkEntry]],
    knowledge: Knowledge,
) -> tuple[int | None, str]:
    """From which plate made with the thing it was gone, and which work ended it."""
    if active[used[-1]] > AT_WORK:
        return None, ""
    falls: dict[int, float] = {}
    for work_before, _ in works:
        before = [place for place in used if onset <= place < work_before]
        after = [place for place in used if place >= work_before]
        if before and after:
            falls[work_before] = active[before[-1]] - active[after[0]]
    best = max(falls, key=lambda place: falls[place], default=0)
    if best and falls[best] >= ENDED_BY:
        said = dict.fromkeys(work_words(work, knowledge) for work_before, work in works if work_before == best)
        return next(place for place in used if place >= best) + 1, " and ".join(said)
    last = max((place for place in used if active[place] > AT_WORK), default=None)
    return (next(place for place in used if place > last) + 1, "") if last is not None else (None, "")


def plate_causes(plates: Sequence[Mapping[str, float]], knowledge: Knowledge) -> list[tuple[str, float]]:
    """The cause each plate's belief leads with; "" for a plate without any.

    Args:
        plates: cause -> probability, a plate each
        knowledge: for causes it still has
    """
    found = []
    for chances in plates:
        known = {cause: chance for cause, chance in chances.items() if cause in knowledge.causes}
        best = max(known, key=lambda cause: (known[cause], cause), default="")
        found.append((best, known.get(best, 0.0)))
    return found
