"""Upkeep that the counts call for: only limits that stand in the knowledge, with doses where what they need is known."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from diagnose import phrases
from diagnose.advice.actions import open_checks, owners_of
from diagnose.advice.cautions import cautions_of, cautions_of_answer
from diagnose.daybook.advised import Ahead, Due
from diagnose.daybook.dosed import dosed, warned
from diagnose.entries.cause import Cause
from diagnose.entries.observed import conditions_in
from diagnose.entries.tests_in_words import Comparison, read_test
from diagnose.facts import Facts
from diagnose.reasoning.chaining import Firing
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.reckoning import with_reckoned
from diagnose.reasoning.weighing import fire
from diagnose.units import print_amount

TOUCHED = {"bath": "silver-bath", "collodion": "collodion", "developer": "developer", "fixer": "fixer"}
COUNTED_IN = frozenset({"plates", "d", "g/L", "%"})  # warmth and times are the day's affair, not upkeep
GIVEN, STATE = "given:", "state:"
MOST_TO_DO = 3
SURE_ENOUGH = 0.5  # of a remedy, to be upkeep: judged


class Limit(NamedTuple):
    """A test of the knowledge that a count may pass.

    Args:
        condition: what is counted
        words: the test as it stands in its file
        means: what follows, in words; "" where only a cause grows likelier
    """

    condition: str
    words: str
    means: str


def due_now(
    facts: Facts, why: Mapping[str, str], names: Mapping[str, str], craft: Craft, measures: str
) -> tuple[tuple[Due, ...], tuple[Ahead, ...]]:
    """What is due, and which counts have passed no limit yet.

    Args:
        facts: what the book knows when the day ends
        why: condition -> how the book knows it, in words
        names: kind of thing -> the name of the one in use
        craft: the knowledge made ready
        measures: "metric", "us" or "imperial"
    """
    facts = with_reckoned(facts, craft)
    firing = fire(facts, craft, craft.bulk)
    due = []
    for limits in _by_condition(_passed(firing, craft)).values():
        thing = limits[0][0].condition.partition("_")[0]
        wanted = _due(limits, thing, names.get(thing, ""), facts, firing, why, craft, measures)
        if wanted is not None:
            due.append(wanted)
    over = {item.thing for item in due}
    waiting = [name for name in facts.amounts if name in why and name.partition("_")[0] not in over]
    ahead = (_ahead(condition, facts, why, craft) for condition in waiting)
    return tuple(due), tuple(count for count in ahead if count is not None)


def is_counted(condition: str, craft: Craft) -> bool:
    """Whether a condition is of a kind that upkeep goes by.

    Args:
        condition: its name
        craft: the knowledge made ready
    """
    entry = craft.knowledge.conditions.get(condition)
    return entry is not None and entry.unit in COUNTED_IN and condition.partition("_")[0] in TOUCHED


def _passed(firing: Firing, craft: Craft) -> dict[Limit, list[str]]:
    """Limits that were passed, each with the standing causes that grow likelier by it."""
    behind: dict[str, Limit] = {}
    found: dict[Limit, list[str]] = {}
    for rule in firing.trace:
        note = craft.book.notes[rule.name]
        if note.kind not in {"state", "likelier"}:
            continue
        limit = next((item for atom in rule.when if (item := _limit_in(atom, behind, craft))), None)
        if limit is None:
            continue
        if note.kind == "state":
            behind.setdefault(note.owner, limit._replace(means=limit.means or craft.knowledge.states[note.owner].means))
        elif craft.knowledge.causes[note.owner].stands_in == limit.condition.partition("_")[0]:
            causes = found.setdefault(limit, [])
            if note.owner not in causes:
                causes.append(note.owner)
    return found


def _by_condition(passed: Mapping[Limit, list[str]]) -> dict[str, list[tuple[Limit, list[str]]]]:
    """The limits of one count together, the one that says what follows from it first."""
    found: dict[str, list[tuple[Limit, list[str]]]] = {}
    for limit, causes in passed.items():
        found.setdefault(limit.condition, []).append((limit, causes))
    for limits in found.values():
        limits.sort(key=lambda pair: not pair[0].means)
    return found


def _limit_in(atom: str, behind: Mapping[str, Limit], craft: Craft) -> Limit | None:
    if atom.startswith(STATE):
        return behind.get(atom.removeprefix(STATE))
    if not atom.startswith(GIVEN):
        return None
    words = atom.removeprefix(GIVEN)
    test = read_test(words)
    if isinstance(test, Comparison) and is_counted(test.condition, craft):
        return Limit(test.condition, words, "")
    return None


def _due(
    limits: Sequence[tuple[Limit, Sequence[str]]],
    thing: str,
    name: str,
    facts: Facts,
    firing: Firing,
    why: Mapping[str, str],
    craft: Craft,
    measures: str,
) -> Due | None:
    knowledge, limit = craft.knowledge, limits[0][0]
    causes = list(dict.fromkeys(cause for _, behind in limits for cause in behind))
    wanted = _wanted([knowledge.causes[cause] for cause in causes], thing, firing, craft)
    backed = owners_of("needs", firing, craft)
    lines, first = [], ""
    for remedy in wanted:
        before = open_checks(remedy, facts, craft, backed)
        if before is None:
            continue
        looks = " and ".join(f"“{phrases.told_by(check, knowledge)}”" for check in before)
        first = first or remedy
        lines.append(knowledge.remedies[remedy].title + (f"; look first: {looks}" if looks else ""))
    if not first:
        return None
    amount, of_dose = dosed(first, facts, firing, craft, measures)
    cautions = cautions_of_answer((cautions_of(knowledge.remedies[first], firing, craft), of_dose), firing, craft)
    titles = "; ".join(phrases.lower_first(knowledge.causes[cause].title) for cause in causes[:2])
    return Due(
        thing=thing,
        name=name,
        counted=_counted(limit.condition, facts, why, craft),
        limit=_limit_words(limit),
        therefore=f"Likelier by that: {titles}.",
        do=tuple(lines[:MOST_TO_DO]),
        dose=amount,
        cautions=warned(cautions, craft),
    )


def _wanted(causes: Sequence[Cause], thing: str, firing: Firing, craft: Craft) -> list[str]:
    """Work on the thing itself that would keep these causes away: what can be undone first, then what serves most of them best."""
    barred = owners_of("never", firing, craft)
    worth: dict[str, float] = {}
    surely = craft.knowledge.strengths.surely
    for cause in causes:
        for link in cause.remedy:
            if link.when or surely[link.surely] < SURE_ENOUGH:  # a makeshift, or only for one way it comes about
                continue
            worth[link.do] = worth.get(link.do, 0.0) + surely[link.surely]
        for kept in cause.prevent:
            worth.setdefault(kept.do, 0.0)
    known = craft.knowledge.remedies
    fitting = [name for name in worth if known[name].touches == TOUCHED[thing] and name not in barred]
    return sorted(fitting, key=lambda name: (not known[name].reversible, -worth[name], name))


def _counted(condition: str, facts: Facts, why: Mapping[str, str], craft: Craft) -> str:
    entry = craft.knowledge.conditions[condition]
    value = facts.value_words(condition, craft.knowledge)
    behind = [why[use] for use in conditions_in(entry.uses) if use in why and is_counted(use, craft)]
    told = why.get(condition) or "; ".join(behind)
    said = f"{phrases.spaced(condition)}: {value}"
    return f"{said} ({told})" if told else said


def _limit_words(limit: Limit) -> str:
    test = read_test(limit.words)
    assert isinstance(test, Comparison)
    compared = {">": "over", ">=": "from", "<": "under", "<=": "down to"}[test.sign]
    amount = "1 plate" if test.amount == "1 plates" else test.amount
    return f"{compared} {amount}" + (f": {phrases.lower_first(limit.means)}" if limit.means else "")


def _ahead(condition: str, facts: Facts, why: Mapping[str, str], craft: Craft) -> Ahead | None:
    """The next limit above a count that has passed none."""
    if not is_counted(condition, craft) or craft.knowledge.conditions[condition].unit not in {"plates", "d"}:
        return None
    value = facts.amounts[condition]
    cuts = [
        test.amount
        for test in craft.book.asked
        if test.condition == condition and test.sign in {">", ">="} and test.amount >= value
    ]
    if not cuts:
        return None
    unit = craft.knowledge.conditions[condition].unit
    return Ahead(counted=_counted(condition, facts, why, craft), limit=f"next limit: {print_amount(min(cuts), unit)}")
