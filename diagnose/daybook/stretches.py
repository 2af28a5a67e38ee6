"""What stood behind the plates of many days: weighed a stretch of whole days at a time, and put together.

Over a week the inference may take all plates together. Over a year it may not: it allows two standing causes at most, and a
year has more than two.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from diagnose.daybook.patterns import plates_with
from diagnose.reasoning.craft import Craft

if TYPE_CHECKING:
    from diagnose.reasoning.serial import Change, DayBelief, Shown, Standing

MOST_TOGETHER = 60  # plates weighed together, unless one day has more: judged


def weigh_days(
    plates: "Sequence[Shown]", changes: "Sequence[Change]", days: Sequence[str], craft: Craft
) -> "DayBelief":
    """The belief about any number of days.

    Args:
        plates: in order
        changes: what was done to the things between them
        days: the date of each plate
        craft: the knowledge made ready
    """
    from diagnose.reasoning.serial import weigh_day

    ends = stretches(days)
    if len(ends) < 2:
        return weigh_day(plates, changes, craft)
    beliefs, start = [], 0
    for end in ends:
        last = end == len(plates)
        inside = [
            change._replace(before=change.before - start)
            for change in changes
            if start <= change.before < end or (last and change.before >= end)
        ]
        beliefs.append(weigh_day(plates[start:end], inside, craft))
        start = end
    return _together(beliefs, [shown.uses for shown in plates], craft)


def stretches(days: Sequence[str]) -> list[int]:
    """Where each stretch of whole days ends, as a number of plates.

    Args:
        days: the date of each plate

    >>> stretches(["a"] * 50 + ["b"] * 20 + ["c"] * 10)
    [50, 80]
    """
    ends = [place for place in range(1, len(days)) if days[place] != days[place - 1]]
    found: list[int] = []
    for place, end in enumerate(ends):
        following = ends[place + 1] if place + 1 < len(ends) else len(days)
        if following - (found[-1] if found else 0) > MOST_TOGETHER:
            found.append(end)
    return [*found, len(days)]


def _together(beliefs: "Sequence[DayBelief]", uses: Sequence[Mapping[str, str]], craft: Craft) -> "DayBelief":
    """Stretches one after another: a cause is as likely as in the stretch that shows it best."""
    from diagnose.reasoning.serial import DayBelief

    counts = [len(belief.plates) for belief in beliefs]
    rows: dict[tuple[str, str], list[Standing | None]] = {}
    for number, belief in enumerate(beliefs):
        for item in belief.standing:
            rows.setdefault((item.cause, item.name), [None] * len(beliefs))[number] = item
    standing = [_joined(key, row, counts, uses, craft) for key, row in rows.items()]
    standing.sort(key=lambda item: (-item.at_work, item.cause, item.name))
    none = 1.0
    for belief in beliefs:
        none *= belief.none_standing
    return DayBelief(
        tuple(standing),
        tuple(chances for belief in beliefs for chances in belief.plates),
        none,
        sum(belief.log_likelihood for belief in beliefs),
    )


def _joined(
    key: tuple[str, str],
    row: "Sequence[Standing | None]",
    counts: Sequence[int],
    uses: Sequence[Mapping[str, str]],
    craft: Craft,
) -> "Standing":
    from diagnose.reasoning.serial import Standing

    onset: list[float] = []
    active: list[float] = []
    there = 0.0  # at the last plate made with the thing so far
    for item, count in zip(row, counts, strict=True):
        onset += [chance * (1 - there) for chance in item.onset] if item else [0.0] * count
        start = len(active)
        active += item.active if item else (0.0,) * count
        if item is not None:
            used = plates_with(item, uses[start : start + count], craft.knowledge)
            there = item.active[used[-1]] if used else there
    return Standing(*key, max(item.at_work for item in row if item), tuple(onset), tuple(active))
