"""What is still open about the standing causes when the day ends, and what a test would tell of it."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from diagnose.advice.actions import Action, checks_action, cost_of
from diagnose.daybook.patterns import plates_with
from diagnose.daybook.small_numbers import bits
from diagnose.facts import Facts
from diagnose.reasoning.asking import SURE, TO_WALK_OVER, outcome_chances
from diagnose.reasoning.craft import Craft

if TYPE_CHECKING:
    from diagnose.reasoning.serial import Change, DayBelief, Standing

Hypothesis = tuple[str, str]  # a standing cause, and the name of the thing it stands in
NONE: Hypothesis = ("", "")
LEAST_SHARE = 0.01  # of the doubt: what is less likely is left to "none"
# With nothing standing at work two plates in three come out well, before the day is counted; with a standing cause one in
# ten does all the same. Both weigh as much as three plates: judged.
GOOD_ELSE, GOOD_ALL_THE_SAME, WEIGHT = 2 / 3, 0.1, 3.0
MENDED = frozenset(
    {"cured", "comes-right", "gone"}
)  # outcomes of proving plates that a plate without any fault gives, too
GOOD, SPOILED = "good", "spoiled"


class Doubt(NamedTuple):
    """What may stand behind tomorrow's first plate.

    Args:
        shares: hypothesis -> its share; NONE among them; adding up to one. Rivals for the same marks shut each other out, so
            their probabilities are shares as they are; only where they add up to more than one are they scaled
        good: hypothesis -> chance that a plate comes out well, nothing being changed
        settled: standing causes so sure that nothing need be asked of them
    """

    shares: dict[Hypothesis, float]
    good: dict[Hypothesis, float]
    settled: tuple[Hypothesis, ...] = ()

    @property
    def open(self) -> float:
        """How much is open [bit]."""
        return bits(self.shares.values())


class Experiment(NamedTuple):
    """Something that would tell more.

    Args:
        kind: "check", "remedy" or "plate"
        action: the check or remedy; None for a plate with nothing changed
        minutes: everything it costs, plates among it [min]
        table: outcome -> hypothesis -> chance
        gain: what it tells, on average [bit]
    """

    kind: str
    action: Action | None
    minutes: float
    table: dict[str, dict[Hypothesis, float]]
    gain: float


def doubt_after(
    belief: "DayBelief",
    changes: Sequence["Change"],
    good: Sequence[bool],
    uses: Sequence[Mapping[str, str]],
    craft: Craft,
) -> Doubt:
    """What is open when the day ends, with what was done after its last plate counted in.

    Args:
        belief: of the whole day
        changes: what was done
        good: whether each plate came out well
        uses: of each plate: kind of thing -> name
        craft: the knowledge made ready
    """
    at_end = {
        (item.cause, item.name): _at_end(item, changes, used[-1], craft)
        for item in belief.standing
        if (used := plates_with(item, uses, craft.knowledge))
    }
    chances = {
        (item.cause, item.name): _good_with(item, good)
        for item in belief.standing
        if at_end.get((item.cause, item.name), 0.0) >= LEAST_SHARE
    }
    settled = tuple(key for key in chances if at_end[key] >= SURE)
    rest = {key: at_end[key] for key in chances if key not in settled}
    none = max(0.0, 1 - sum(rest.values())) or math.prod(1 - chance for chance in rest.values())
    whole = none + sum(rest.values())
    shares = {key: chance / whole for key, chance in rest.items()} | {NONE: none / whole}
    chances[NONE] = _good_without(belief, good)
    if settled:  # whatever else is there or not, plates are spoiled as long as this goes on
        chances[NONE] = min(chances[key] for key in (NONE, *settled))
    return Doubt(shares, {key: chances[key] for key in shares}, settled)


def experiments(doubt: Doubt, facts: Facts, remedies: Sequence[Action], craft: Craft) -> Iterator[Experiment]:
    """Every single change, look or plate that would tell anything.

    Args:
        doubt: what is open
        facts: what is known at the end of the day
        remedies: those that may be tried as things stand
        craft: the knowledge made ready
    """
    plate = {
        GOOD: dict(doubt.good),
        SPOILED: {key: 1 - chance for key, chance in doubt.good.items()},
    }
    yield _experiment("plate", None, cost_of(0, 0, craft), plate, doubt)
    for action in remedies:
        cures = craft.model.cures.get(action.id, {})
        good = {
            key: chance + cures.get(key[0], 0.0) * max(0.0, doubt.good[NONE] - chance) if key != NONE else chance
            for key, chance in doubt.good.items()
        }
        table = {GOOD: good, SPOILED: {key: 1 - chance for key, chance in good.items()}}
        yield _experiment("remedy", action, action.cost, table, doubt)
    for name, check in craft.knowledge.checks.items():
        if check.outcome and not facts.answered(name):
            action = checks_action(name, 0.0, craft)
            yield _experiment("check", action, action.cost + TO_WALK_OVER, _check_table(name, doubt, craft), doubt)


def told(shares: Mapping[Hypothesis, float], row: Mapping[Hypothesis, float]) -> tuple[float, dict[Hypothesis, float]]:
    """How likely an outcome is, and what is believed after it.

    Args:
        shares: before
        row: hypothesis -> chance of the outcome
    """
    joint = {key: share * row[key] for key, share in shares.items()}
    total = sum(joint.values())
    return total, {key: value / total for key, value in joint.items()} if total else dict(shares)


def _experiment(
    kind: str, action: Action | None, minutes: float, table: dict[str, dict[Hypothesis, float]], doubt: Doubt
) -> Experiment:
    left = 0.0
    for row in table.values():
        chance, after = told(doubt.shares, row)
        left += chance * bits(after.values())
    return Experiment(kind, action, minutes, table, max(0.0, doubt.open - left))


def _check_table(name: str, doubt: Doubt, craft: Craft) -> dict[str, dict[Hypothesis, float]]:
    """The chance of each outcome; a changed plate may come out well by itself, not only because the change cured it."""
    by_cause = outcome_chances(name, {cause: 0.0 for cause, _ in doubt.shares}, craft)
    table = {outcome: {key: row[key[0]] for key in doubt.shares} for outcome, row in by_cause.items()}
    mended = [outcome for outcome in table if outcome in MENDED]
    if not craft.knowledge.checks[name].plates or not mended:
        return table
    for key, well in doubt.good.items():
        by_itself = well / len(mended)
        for outcome, row in table.items():
            row[key] = row[key] * (1 - well) + (by_itself if outcome in MENDED else 0.0)
    return table


def _at_end(standing: "Standing", changes: Sequence["Change"], last: int, craft: Craft) -> float:
    """How likely a cause is still at work in its thing, after what was done since the last plate made with that."""
    left = standing.active[last]
    for change in changes:
        if change.before > last and change.name == standing.name:
            left *= 1 - _put_right(change, standing.cause, craft)
    return left


def _good_with(standing: "Standing", good: Sequence[bool]) -> float:
    """Chance of a good plate with a cause at work, from the day's plates on which it was."""
    total = sum(standing.active)
    spoiled = sum(chance for chance, well in zip(standing.active, good, strict=True) if not well)
    return 1 - (spoiled + WEIGHT * (1 - GOOD_ALL_THE_SAME)) / (total + WEIGHT)


def _put_right(change: "Change", cause: str, craft: Craft) -> float:
    """How surely a change put a cause right; what is renewed ends with the old."""
    if change.remedy:
        return craft.model.cures.get(change.remedy, {}).get(cause, 0.0)
    return 1.0 if craft.knowledge.causes[cause].stands_in == change.thing else 0.0


def _good_without(belief: "DayBelief", good: Sequence[bool]) -> float:
    """Chance of a good plate with nothing standing at work, from the day's plates on which nothing was."""
    well = total = 0.0
    for place, fine in enumerate(good):
        free = 1.0
        for standing in belief.standing:
            free *= 1 - standing.active[place]
        total += free
        well += free * fine
    return (well + WEIGHT * GOOD_ELSE) / (total + WEIGHT)
