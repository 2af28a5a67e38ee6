"""How much of it: the dose of a remedy, worked out from what was told, or what must still be told for it."""

from typing import TYPE_CHECKING, NamedTuple

from diagnose.advice.cautions import standing
from diagnose.entries.observed import conditions_in
from diagnose.facts import Facts
from diagnose.reasoning.atoms import condition_test
from diagnose.reasoning.chaining import Firing
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.reckoning import inputs, refusal, with_reckoned

if TYPE_CHECKING:
    from diagnose.bench.sum import Asked, Sum, Worked


class Dose(NamedTuple):
    """The sum behind a remedy.

    Args:
        remedy: whose dose it is
        sum: the sum of the bench
        taken: input -> (value in the sum's unit, condition that told it; "" for a fixed or usual value)
        worked: what came out; None while something is missing or the sum refuses
        wants: conditions still to be told
        refused: why no dose can be given, in words; "" otherwise
        cautions: of the sum and its result, those that have something to say here
    """

    remedy: str
    sum: "Sum"
    taken: "tuple[tuple[Asked, float | str, str], ...]"
    worked: "Worked | None"
    wants: tuple[str, ...]
    refused: str = ""
    cautions: tuple[str, ...] = ()


def dose_of(remedy: str, facts: Facts, firing: Firing, craft: Craft) -> Dose | None:
    """The dose of a remedy; None where it needs none.

    Args:
        remedy: its name
        facts: the plate
        firing: the fired rules
        craft: the knowledge made ready
    """
    entry = craft.knowledge.remedies[remedy]
    if not entry.dose or not all(_holds(words, facts, craft) for words in entry.dose_when):
        return None
    from diagnose.bench.sum import BenchError
    from diagnose.entries.sums import find_sum

    sum_ = find_sum(entry.dose, craft.knowledge.solutions)
    facts = with_reckoned(facts, craft)
    given, sources, wants = inputs(sum_, entry.uses, facts, craft.knowledge)
    if wants:
        told = tuple((sum_.asked(name), value, sources.get(name, "")) for name, value in given.items())
        return Dose(remedy, sum_, told, None, wants)
    for use in conditions_in(entry.uses):
        if refused := refusal(use, facts, craft):
            return Dose(remedy, sum_, (), None, (), refused)
    try:
        every = sum_.taken(given)
        taken = tuple((item, every[item.name], sources.get(item.name, "")) for item in sum_.asks)
        worked = sum_.work(**every)
        return Dose(remedy, sum_, taken, worked, (), "", standing((*sum_.cautions, *worked.cautions), firing, craft))
    except BenchError as error:
        return Dose(remedy, sum_, (), None, (), str(error))


def _holds(words: str, facts: Facts, craft: Craft) -> bool:
    """Whether a test on a condition holds; tests on anything else are refused by the proofreader."""
    test = condition_test(words, craft.knowledge)
    return test is not None and test.holds(facts)
