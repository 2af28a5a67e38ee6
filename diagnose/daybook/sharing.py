"""What spoiled plates have and good ones have not: every count of two by two, and whether it could be chance."""

from collections.abc import Iterator, Mapping, Sequence
from statistics import median
from typing import NamedTuple

from diagnose.daybook.book import PlateEntry, WorkEntry
from diagnose.daybook.reviewed import Counted, Shared
from diagnose.daybook.small_numbers import TELLING, chance_words, corrected, parted_by_chance
from diagnose.daybook.told import PLACE, named, work_words
from diagnose.errors import printable
from diagnose.facts import Facts
from diagnose.phrases import spaced
from diagnose.reasoning.craft import Craft
from diagnose.units import print_amount

FEWEST_EACH = 2  # of spoiled and of good plates, before two counts are put beside each other: judged
MOST_SHOWN = 8
MOST_SIGNS = 5
MOST_CUTS = 4  # of one amount; the ones nearest its middle
NEAR = 15  # plates before and after a work that are held against each other: judged
CHANGED = "changed"
GROWING = frozenset({"plates", "d", "h"})
MOST_TOGETHER = 4  # things named as true of the very same plates


Count = tuple[list[str], int, int, int, int]


class Feature(NamedTuple):
    """Something that may be true of a plate.

    Args:
        words, otherwise: what it is called where it is so, and where it is not
        having: whether it is so of each plate; None where that is not known
    """

    words: str
    otherwise: str
    having: tuple[bool | None, ...]


def shared_by(
    plates: Sequence[PlateEntry],
    facts: Sequence[Facts],
    works: Sequence[tuple[int, WorkEntry]],
    craft: Craft,
) -> tuple[tuple[Shared, ...], int]:
    """What parts spoiled plates from good ones, the clearest first, and how many different things were compared.

    Args:
        plates: in order
        facts: what is known of each
        works: what was done, each with the index of the plate it came before
        craft: the knowledge made ready
    """
    good = [plate.good for plate in plates]
    together: dict[tuple[bool | None, ...], list[Feature]] = {}
    for feature in (*_conditions(facts, craft), *_things(plates), *_order(plates, works, craft)):
        turned = tuple(None if has is None else not has for has in feature.having)
        if turned in together:  # the same split, told from its other side
            together[turned].append(Feature(feature.otherwise, feature.words, turned))
        else:
            together.setdefault(feature.having, []).append(feature)
    counts = [count for same in together.values() if (count := _counted(same, good))]
    chances = [parted_by_chance(*count[1:]) for count in counts]
    found = [
        _shared(count, chance, least, fair)
        for count, (chance, least), fair in zip(counts, chances, corrected(chances), strict=True)
    ]
    found.sort(key=lambda item: (item.too_few, item.corrected, item.chance, -item.spoiled, item.what))
    return tuple(found[:MOST_SHOWN]), len(counts)


def common_signs(facts: Sequence[Facts], craft: Craft) -> tuple[Counted, ...]:
    """What the spoiled plates show, most often first, and where most of them show it.

    Args:
        facts: of the spoiled plates
        craft: the knowledge made ready
    """
    counts: dict[str, int] = {}
    places: dict[str, dict[str, int]] = {}
    for plate in facts:
        for name, looks in plate.present.items():
            counts[name] = counts.get(name, 0) + 1
            if place := looks.get(PLACE):
                where = places.setdefault(name, {})
                where[place] = where.get(place, 0) + 1
    knowledge = craft.knowledge
    found = []
    for name in sorted(counts, key=lambda name: (-counts[name], name))[:MOST_SIGNS]:
        where = places.get(name, {})
        best = max(where, key=lambda place: (where[place], place), default="")
        words = knowledge.attributes[PLACE].values[best] if best else ""
        found.append(
            Counted(what=knowledge.symptoms[name].title, plates=counts[name], place=words, placed=where.get(best, 0))
        )
    return tuple(found)


def _counted(same: list[Feature], good: Sequence[bool]) -> Count | None:
    """How many spoiled and how many good plates have it; None where there are too few of either to put side by side."""
    having = same[0].having
    spoiled = [has for has, well in zip(having, good, strict=True) if has is not None and not well]
    fine = [has for has, well in zip(having, good, strict=True) if has is not None and well]
    if min(len(spoiled), len(fine)) < FEWEST_EACH or len({*spoiled, *fine}) < 2:
        return None
    if sum(spoiled) * len(fine) >= sum(fine) * len(spoiled):
        return [feature.words for feature in same], sum(spoiled), len(spoiled), sum(fine), len(fine)
    others = len(spoiled) - sum(spoiled), len(fine) - sum(fine)
    return [feature.otherwise for feature in same], others[0], len(spoiled), others[1], len(fine)


def _shared(count: Count, chance: float, least: float, fair: float) -> Shared:
    words, spoiled_with, spoiled, good_with, good = count
    too_few = least > TELLING
    return Shared(
        what=tuple(dict.fromkeys(words))[:MOST_TOGETHER],
        spoiled_with=spoiled_with,
        spoiled=spoiled,
        good_with=good_with,
        good=good,
        chance=chance,
        corrected=fair,
        too_few=too_few,
        words=chance_words(fair, too_few=too_few),
    )


def _conditions(facts: Sequence[Facts], craft: Craft) -> Iterator[Feature]:
    """Every answer given, and every amount cut where the knowledge cuts it, or in the middle."""
    for name, entry in craft.knowledge.conditions.items():
        if entry.group == CHANGED:  # tells of the plate before, not of this one
            continue
        if entry.kind == "quantity":
            yield from _amounts(name, [plate.amount(name) for plate in facts], craft)
        else:
            calls = {option: f"{spaced(name)}: {words}" for option, words in entry.answers.items()}
            yield from _each([plate.options.get(name) for plate in facts], calls)


def _amounts(name: str, amounts: Sequence[float | None], craft: Craft) -> Iterator[Feature]:
    """An amount over or under each of its cuts; of cuts that part the plates alike, the last."""
    entry = craft.knowledge.conditions[name]
    known = [amount for amount in amounts if amount is not None]
    if (entry.unit in GROWING or not entry.is_asked) and known in (sorted(known), sorted(known, reverse=True)):
        return  # it only counts the plates as they come: that is the order, which is looked at by itself
    found = {}
    for cut in _cuts(known, craft.cuts.get(name, ())):
        said = print_amount(float(f"{cut:.3g}"), entry.unit)
        having = tuple(None if amount is None else amount > cut for amount in amounts)
        found[having] = Feature(f"{spaced(name)} over {said}", f"{spaced(name)} at most {said}", having)
    yield from found.values()


def _cuts(amounts: list[float], points: Sequence[float]) -> list[float]:
    """Where amounts are cut: at the knowledge's own points that lie inside, else in the middle."""
    if len(set(amounts)) < 2:
        return []
    low, high, middle = min(amounts), max(amounts), median(amounts)
    inside = [cut for cut in points if low <= cut < high]
    nearest = sorted(sorted(inside, key=lambda cut: abs(cut - middle))[:MOST_CUTS])
    return nearest or [middle if middle < high else max(amount for amount in amounts if amount < high)]


def _things(plates: Sequence[PlateEntry]) -> Iterator[Feature]:
    """Which one of several things was used, who made the plate, how large it was."""
    for thing in dict.fromkeys(kind for plate in plates for kind in plate.made_with):
        names = [plate.made_with.get(thing) for plate in plates]
        calls = {
            name: named(thing, name) if name else f"the usual {named(thing, name)}"
            for name in names
            if name is not None
        }
        yield from _each(names, calls)
    makers = [plate.who for plate in plates]
    yield from _each(makers, {who: f"made by {printable(who) or 'the owner of the book'}" for who in makers})
    sizes = [plate.size for plate in plates]
    for cut in _cuts([size for size in sizes if size is not None], ()):
        said = print_amount(float(f"{cut:.4g}"), "cm²")
        having = tuple(None if size is None else size > cut for size in sizes)
        yield Feature(f"plate over {said}", f"plate of at most {said}", having)


def _each(values: Sequence[str | None], calls: Mapping[str, str]) -> Iterator[Feature]:
    """One of several values against all others; of two, each is the other's contrary."""
    different = sorted({value for value in values if value is not None})
    if len(different) < 2:
        return
    for one in different[:1] if len(different) == 2 else different:
        otherwise = calls[different[1]] if len(different) == 2 else f"other than {calls[one]}"
        yield Feature(calls[one], otherwise, tuple(None if value is None else value == one for value in values))


def _order(plates: Sequence[PlateEntry], works: Sequence[tuple[int, WorkEntry]], craft: Craft) -> Iterator[Feature]:
    """Shortly before or after each work, and first of its day or not."""
    for before, work in works:
        if 0 < before < len(plates):
            when = f" at {work.moment.clock}" if work.moment.clock else f" on {work.moment.day}"
            said = f"{work_words(work, craft.knowledge)}{when}"
            having = tuple(place < before if abs(place + 0.5 - before) < NEAR else None for place in range(len(plates)))
            yield Feature(f"made before: {said}", f"made after: {said}", having)
    days = [plate.moment.day for plate in plates]
    if len(set(days)) > 1:
        first = tuple(not place or days[place - 1] != day for place, day in enumerate(days))
        yield Feature("first plate of its day", "not the first plate of its day", first)
