"""Amounts and cautions that stand beside what a review advises."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from diagnose.advice.dosing import dose_of
from diagnose.daybook.advised import Dosed, Warned
from diagnose.facts import Facts
from diagnose.reasoning.craft import Craft

if TYPE_CHECKING:
    from diagnose.reasoning.chaining import Firing


def dosed(
    remedy: str, facts: Facts, firing: "Firing", craft: Craft, measures: str
) -> tuple[Dosed | None, tuple[str, ...]]:
    """How much a remedy takes, in words, and the cautions of its sum; None where it needs none.

    Args:
        remedy: its name
        facts: what is known
        firing: the fired rules
        craft: the knowledge made ready
        measures: "metric", "us" or "imperial"
    """
    dose = dose_of(remedy, facts, firing, craft)
    if dose is None:
        return None, ()
    if dose.worked is None:
        wants = tuple(craft.knowledge.conditions[name].ask for name in dose.wants)
        return Dosed(lines=(), wants=wants, beware=(dose.refused,) if dose.refused else ()), dose.cautions
    from diagnose import amounts

    lines = tuple(amounts.result_line(amount, measures) for amount in dose.worked.amounts if not amount.aside)
    return Dosed(lines=lines, wants=(), beware=dose.worked.beware), dose.cautions


def warned(names: Iterable[str], craft: Craft) -> tuple[Warned, ...]:
    """Cautions in words.

    Args:
        names: in order
        craft: the knowledge made ready
    """
    known = craft.knowledge.cautions
    return tuple(Warned(title=known[name].title, say=known[name].say, level=known[name].level) for name in names)
