"""A day on which a given fact holds: tests in words turned back into amounts and options."""

import math
from typing import NamedTuple

from diagnose.entries.tests_in_words import Comparison, InState, IsKnown, IsOption, read_test
from diagnose.facts import Facts
from diagnose.reasoning import asking
from diagnose.reasoning.weighing import fire, shifts_of
from diagnose.units import read_amount

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
                found.append(Demand(condition, "unknown", None, told=False))
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
    values = {name: value_of(knowledge.conditions[name], wanted, rng) for name, wanted in by_condition.items()}
    return None if None in values.values() else values


def as_weighed(rng, causes, craft):
    """Every condition drawn as the program itself expects it of a plate with these causes and no others, one by one."""
    values = {}
    for name, entry in craft.knowledge.conditions.items():
        chances = asking._everyday(name, entry, craft)
        if any(name in craft.reach[cause] for cause in causes):
            for answer in chances:
                shifts = shifts_of(fire(asking._with_condition(Facts(), name, answer, craft), craft, craft.bulk), craft)
                chances[answer] *= math.exp(sum(shifts.get(cause, 0.0) for cause in causes))
        answer = rng.choices(list(chances), weights=chances.values())[0]
        values[name] = float(answer) if entry.kind == "quantity" else answer
    return values
