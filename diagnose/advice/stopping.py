"""When to stop asking: when one cause is sure enough, or when no answer could change what to do first."""

from itertools import islice

from diagnose.advice.actions import remedies_now
from diagnose.facts import Facts
from diagnose.reasoning.asking import SURE, Question, answered_with, shares_of
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.weighing import Posterior, fire, gather, weigh

MOST_TRIED = 8  # questions looked into; each needs the whole reckoning once an answer
LEAST_CHANCE = 0.05


def worth_asking(
    found: list[Question],
    facts: Facts,
    posterior: Posterior,
    craft: Craft,
    leading: str | None,
    *,
    most: int = MOST_TRIED,
) -> list[Question]:
    """The leading questions that could still change what to do first.

    Args:
        found: questions, best first
        facts: the plate
        posterior: what is believed now
        craft: the knowledge made ready
        leading: the remedy that leads now
        most: how many are wanted; no more are looked into

    Returns:
        the questions worth asking, in the same order; [] means: stop
    """
    if max(posterior.causes.values(), default=0.0) >= SURE:
        return []
    matter = (question for question in found[:MOST_TRIED] if _could_change(question, facts, craft, leading))
    return list(islice(matter, most))


def leading_remedy(facts: Facts, craft: Craft) -> tuple[str | None, Posterior]:
    """The remedy that leads for a plate, whatever must be looked at before it.

    Args:
        facts: the plate
        craft: the knowledge made ready
    """
    firing = fire(facts, craft, craft.bulk)
    posterior = weigh(gather(facts, firing, craft), craft)
    best = remedies_now(facts, shares_of(posterior), firing, craft)
    return (best[0].id if best else None), posterior


def _could_change(question: Question, facts: Facts, craft: Craft, leading: str | None) -> bool:
    return any(
        leading_remedy(answered_with(facts, question, answer, craft), craft)[0] != leading
        for answer, chance in sorted(question.answers, key=lambda pair: pair[1])
        if chance >= LEAST_CHANCE
    )
