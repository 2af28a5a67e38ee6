"""A day on which a given fact holds: tests in words turned back into amounts and options."""

import math
from types import SimpleNamespace
from typing import NamedTuple

from diagnose.entries.observed import conditions_in
from diagnose.entries.tests_in_words import Comparison, InState, IsKnown, IsOption, read_test
from diagnose.facts import Facts
from diagnose.reasoning import asking
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.reckoning import reckon
from diagnose.reasoning.weighing import fire, shifts_of
from diagnose.units import read_amount

TRIES = 60  # days drawn until a condition that is worked out from others comes out as wanted
ORDINARY_PART = 0.25  # of an open range beyond a bound, the part nearest to what is ordinary


class Demand(NamedTuple):
    """What one condition must be for a fact to hold.

    Args:
        condition: which
        kind: "over", "under", "is", "is-not", "known" or "unknown"
        value: amount or option
        told: whether the fact needs it to be told, not merely to be so
    """

    condition: str
    kind: str
    value: object
    told: bool


def demands(when, unless, knowledge, rng):
    """What must be for all of `when` and none of `unless` to hold; None if it cannot be turned into conditions."""
    found = []
    for words in when:
        match read_test(words):
            case InState(state):
                ways = knowledge.states[state].way
                way = rng.choice(ways) if ways else None
                inner = demands(way.when, way.unless, knowledge, rng) if way else None
                if inner is None:
                    return None
                found += inner
            case Comparison(condition, sign, amount):
                limit = read_amount(amount, knowledge.conditions[condition].unit)
                found.append(Demand(condition, "over" if sign in {">", ">="} else "under", limit, told=True))
                found += [Demand(source, "known", None, told=True) for source in sources_of(condition, knowledge)]
            case IsOption(condition, option):
                found.append(Demand(condition, "is", option, told=True))
            case IsKnown(condition):
                found.append(Demand(condition, "known", None, told=True))
            case _:
                return None
    for words in unless:
        match read_test(words):
            case Comparison(condition, sign, amount):
                limit = read_amount(amount, knowledge.conditions[condition].unit)
                found.append(Demand(condition, "under" if sign in {">", ">="} else "over", limit, told=False))
            case IsOption(condition, option):
                found.append(Demand(condition, "is-not", option, told=False))
            case IsKnown(condition):
                sources = sources_of(condition, knowledge)
                found.append(Demand(rng.choice(sources) if sources else condition, "unknown", None, told=False))
            case _:
                return None
    return found


def value_of(entry, asked, rng):
    """A value of a condition that meets every demand; None where none does. Without demands, an everyday value."""
    kinds = {demand.kind for demand in asked}
    if "unknown" in kinds and any(demand.told for demand in asked):
        return None
    if entry.kind != "quantity":
        wanted = {demand.value for demand in asked if demand.kind == "is"}
        barred = {demand.value for demand in asked if demand.kind == "is-not"}
        options = [option for option in entry.answers if option not in barred and wanted <= {option}]
        return rng.choice(options) if options else None
    low, high = entry.range or (0.0, 1.0)
    low = max([low, *(demand.value for demand in asked if demand.kind == "over")])
    high = min([high, *(demand.value for demand in asked if demand.kind == "under")])
    if low >= high:
        return None
    everyday = entry.ordinary or (low, high)
    inside = max(low, everyday[0]), min(high, everyday[1])
    if inside[0] < inside[1]:
        return rng.uniform(*inside)
    part = (high - low) * ORDINARY_PART
    # Never the bound itself: "over" is not "at least".
    return (
        rng.uniform(low + part / 100, low + part) if low >= everyday[1] else rng.uniform(high - part, high - part / 100)
    )


def settle(asked, knowledge, rng):
    """Condition -> value meeting all demands on it; None if some condition has none."""
    by_condition = {}
    for demand in asked:
        by_condition.setdefault(demand.condition, []).append(demand)
    worked = {name: wanted for name, wanted in by_condition.items() if not knowledge.conditions[name].is_asked}
    sources = {source for name in worked for source in sources_of(name, knowledge)}
    for _ in range(TRIES if worked else 1):
        values = {
            name: value_of(knowledge.conditions[name], wanted, rng)
            for name, wanted in by_condition.items()
            if name not in worked
        }
        if None in values.values():
            return None
        free = [name for name in sources if {demand.kind for demand in by_condition.get(name, ())} <= {"known"}]
        values |= {name: any_value(knowledge.conditions[name], rng) for name in sorted(free)}
        found = worked_out(values, knowledge) if worked else {}
        if all(_met(demand, found.get(name)) for name, wanted in worked.items() for demand in wanted):
            return values
    return None


def sources_of(condition, knowledge):
    """The conditions another is worked out from; none for one that is asked."""
    entry = knowledge.conditions[condition]
    return [use for use in conditions_in(entry.uses) if use in knowledge.conditions]


def any_value(entry, rng):
    """A value that may well be unusual: everyday ones half the time, else from five times as wide."""
    if entry.kind != "quantity":
        return rng.choice(list(entry.answers))
    low, high = entry.ordinary or entry.range
    if rng.random() < 0.5:
        return rng.uniform(low, high)
    wide = 2 * (high - low)
    return rng.uniform(max(entry.range[0], low - wide), min(entry.range[1], high + wide))


def worked_out(values, knowledge):
    """Condition -> amount, of those that follow from these values by a sum of the bench."""
    craft = SimpleNamespace(knowledge=knowledge)
    craft.reckonings = Craft.reckonings.func(craft)
    amounts = {name: value for name, value in values.items() if knowledge.conditions[name].kind == "quantity"}
    options = {name: value for name, value in values.items() if name not in amounts}
    return {item.condition: item.value for item in reckon(Facts(amounts=amounts, options=options), craft)}


def _met(demand, amount):
    if amount is None:
        return not demand.told
    return {"over": amount > (demand.value or 0), "under": amount < (demand.value or 0)}.get(demand.kind, True)


def of_the_day(knowledge):
    """The conditions that a day has: what is worked out, and what only a dose wants, is none of it."""
    return {
        name: entry for name, entry in knowledge.conditions.items() if entry.is_asked and entry.group != "for-a-dose"
    }


def as_weighed(rng, causes, craft):
    """Every condition drawn as the program itself expects it of a plate with these causes and no others, one by one."""
    values = {}
    for name, entry in of_the_day(craft.knowledge).items():
        chances = asking.everyday_answers(name, entry, craft)
        if any(name in craft.reach[cause] for cause in causes):
            for answer in chances:
                shifts = shifts_of(fire(asking.with_condition(Facts(), name, answer, craft), craft, craft.bulk), craft)
                chances[answer] *= math.exp(sum(shifts.get(cause, 0.0) for cause in causes))
        answer = rng.choices(list(chances), weights=chances.values())[0]
        values[name] = float(answer) if entry.kind == "quantity" else answer
    return values
