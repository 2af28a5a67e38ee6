"""Conditions that follow from others by a sum of the bench; worked out before any rule fires."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from diagnose.entries.knowledge import Knowledge
from diagnose.entries.observed import ELSE, USUAL, Condition, conditions_in
from diagnose.facts import Facts
from diagnose.reasoning.craft import Craft
from diagnose.units import convert, read_amount

if TYPE_CHECKING:  # most plates need no sum, and a diagnosis must start quickly
    from diagnose.bench.sum import Asked, Sum

Given = dict[str, float | str]


class Reckoned(NamedTuple):
    """One condition that was worked out.

    Args:
        condition: which
        value: its amount [its unit]
        sum: by which sum
        taken: input of the sum -> (value in the sum's unit, condition it was told by; "" where the usual was taken)
    """

    condition: str
    value: float
    sum: "Sum"
    taken: dict[str, tuple[float | str, str]]


def with_reckoned(facts: Facts, craft: Craft) -> Facts:
    """The plate with every condition that can be worked out; what was told outright stands.

    Args:
        facts: the plate
        craft: the knowledge made ready
    """
    found = {item.condition: item.value for item in reckon(facts, craft)}
    return replace(facts, reckoned=found) if found or facts.reckoned else facts


def reckon(facts: Facts, craft: Craft) -> tuple[Reckoned, ...]:
    """Every condition that can be worked out from what was told, in the order of the file.

    Args:
        facts: the plate
        craft: the knowledge made ready
    """
    found: list[Reckoned] = []
    if facts.reckoned:  # what an earlier telling gave is not to be trusted
        facts = replace(facts, reckoned={})
    told = facts.amounts.keys() | facts.options.keys()
    for name, entry, needed in craft.reckonings:
        if name in told or not needed <= told or told.isdisjoint(conditions_in(entry.uses)):
            continue
        item = _reckoned(name, entry, facts, craft.knowledge)
        if item is not None:
            found.append(item)
    return tuple(found)


def inputs(
    sum_: "Sum", uses: Mapping[str, str], facts: Facts, knowledge: Knowledge
) -> tuple[Given, dict[str, str], tuple[str, ...]]:
    """What a sum asks, filled from a plate.

    Args:
        sum_: from the bench
        uses: input -> condition that tells it; after ", else " what is taken where it is not told, a fixed amount or "usual"
            for the sum's own; or a fixed amount alone
        facts: the plate
        knowledge: units of the conditions

    Returns:
        input -> value, input -> condition that told it, and the conditions still to be told
    """
    given: Given = {}
    sources: dict[str, str] = {}
    missing: list[str] = []
    for asked in sum_.asks:
        use, _, other = uses.get(asked.name, "").partition(ELSE)
        if not use:
            continue
        if use not in knowledge.conditions:
            given[asked.name] = fixed(asked, use)
        elif (value := _told(asked, use, facts, knowledge)) is not None:
            given[asked.name] = value
            sources[asked.name] = use
        elif not other:
            missing += _asked_for(use, facts, knowledge)
        elif other != USUAL:
            given[asked.name] = fixed(asked, other)
    return given, sources, tuple(missing)


def refusal(condition: str, facts: Facts, craft: Craft) -> str:
    """Why a condition cannot be worked out although all it wants is told, in one line; "" where nothing refuses it.

    Args:
        condition: which
        facts: the plate
        craft: the knowledge made ready
    """
    from diagnose.bench.quick import quick_sum
    from diagnose.bench.sum import BenchError

    entry = craft.knowledge.conditions.get(condition)
    if entry is None or entry.is_asked or facts.knows(condition):
        return ""
    given, _, missing = inputs(quick_sum(entry.reckoned_by), entry.uses, facts, craft.knowledge)
    if missing:
        return ""
    try:
        _worked(entry.reckoned_by, entry.result, tuple(sorted(given.items())))
    except BenchError as error:
        return str(error)
    return ""


def fixed(asked: "Asked", words: str) -> float | str:
    """A fixed input as it stands in a file.

    Args:
        asked: what the sum asks
        words: an amount with its unit, or a choice

    Raises:
        UnitError: it cannot be read
    """
    return words if asked.choices else read_amount(words, asked.unit)


def _reckoned(name: str, entry: Condition, facts: Facts, knowledge: Knowledge) -> Reckoned | None:
    from diagnose.bench.quick import quick_sum
    from diagnose.bench.sum import BenchError

    sum_ = quick_sum(entry.reckoned_by)
    given, sources, missing = inputs(sum_, entry.uses, facts, knowledge)
    if missing:
        return None
    try:
        found = _worked(sum_.name, entry.result, tuple(sorted(given.items())))
    except BenchError:  # what was told cannot be put through the sum; the rules that need no sum still stand
        return None
    if found is None:
        return None
    value, unit = found
    every = sum_.taken(given)
    return Reckoned(
        name,
        convert(value, unit, entry.unit),
        sum_,
        {key: (value, sources.get(key, "")) for key, value in every.items()},
    )


@lru_cache(maxsize=4096)
def _worked(name: str, result: str, given: tuple[tuple[str, float | str], ...]) -> tuple[float, str] | None:
    """The wanted result of a sum and its unit; kept, because weighing a question asks for the same again and again.

    None where the sum does not give that result, as `wet-window` gives no share where the wait is nothing.
    """
    from diagnose.bench.quick import quick_sum

    worked = quick_sum(name).reckon(dict(given))
    return next(((item.value, item.unit) for item in worked.amounts if item.name == result), None)


def _asked_for(condition: str, facts: Facts, knowledge: Knowledge) -> list[str]:
    """What a person must tell for a condition: itself, or what it is worked out from."""
    entry = knowledge.conditions[condition]
    if entry.is_asked:
        return [condition]
    needed = (use for use in entry.uses.values() if ELSE not in use and use in knowledge.conditions)
    return [use for use in needed if not facts.knows(use)]


def _told(asked: "Asked", condition: str, facts: Facts, knowledge: Knowledge) -> float | str | None:
    if asked.choices:
        return facts.options.get(condition)
    amount = facts.amount(condition)
    return None if amount is None else convert(amount, knowledge.conditions[condition].unit, asked.unit)
