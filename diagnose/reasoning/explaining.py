"""Why this, why not that, and what would change the answer."""

from typing import NamedTuple

from diagnose.facts import Facts
from diagnose.reasoning.asking import Question, answered_with
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.receipts import Receipt
from diagnose.reasoning.weighing import Posterior, fire, gather, weigh

CLEARLY = 1.25  # how far ahead another cause must come out before an answer is said to turn it: judged


class ChainStep(NamedTuple):
    """One step of the mechanism, joined to the plate.

    Args:
        then: what happens
        shows: the symptom it brings about, if any
        seen: "present", "absent", "unsure", or "" where it was not told
        source: where it comes from
    """

    then: str
    shows: str | None
    seen: str
    source: tuple[str, ...]


class Contrast(NamedTuple):
    """One term in which two causes differ.

    Args:
        about: the finding or fact
        for_first, for_second: what each cause's account says of it, None where it says nothing
        decibans: how much it speaks for the first against the second
    """

    about: str
    for_first: Receipt | None
    for_second: Receipt | None
    decibans: float


class Turn(NamedTuple):
    """An answer that would put another cause first.

    Args:
        question: what would have to be asked
        answer: the answer that turns it
        chance: how likely that answer is
        leader: the cause that would lead then
        probability: with what probability
    """

    question: Question
    answer: str
    chance: float
    leader: str
    probability: float


def chain(cause: str, facts: Facts, craft: Craft) -> tuple[ChainStep, ...]:
    """The mechanism of a cause, each step joined to what was seen.

    Args:
        cause: whose mechanism
        facts: the plate
        craft: the knowledge made ready
    """
    return tuple(
        ChainStep(step.then, step.shows, seen_as(step.shows, facts), step.from_)
        for step in craft.knowledge.causes[cause].step
    )


def seen_as(symptom: str | None, facts: Facts) -> str:
    """How a symptom was answered."""
    if symptom in facts.present:
        return "present"
    if symptom in facts.unsure:
        return "unsure"
    return "absent" if symptom in facts.absent else ""


def why_not(first: tuple[Receipt, ...], second: tuple[Receipt, ...], most: int = 3) -> tuple[Contrast, ...]:
    """The terms that put one cause before another, the weightiest first.

    Args:
        first: account of the cause that stands higher
        second: account of the rival
        most: how many terms to give
    """
    left, right = _by_term(first), _by_term(second)
    contrasts = []
    for key in dict.fromkeys((*left, *right)):
        a, b = left.get(key), right.get(key)
        difference = (a.decibans if a else 0.0) - (b.decibans if b else 0.0)
        contrasts.append(Contrast(key[1], a, b, difference))
    return tuple(sorted((item for item in contrasts if item.decibans > 0.5), key=lambda item: -item.decibans)[:most])


def _by_term(account: tuple[Receipt, ...]) -> dict[tuple[str, str, int], Receipt]:
    """Terms by what they are about; the same thing told twice stays two terms."""
    terms: dict[tuple[str, str, int], Receipt] = {}
    for item in account:
        count = sum(1 for kind, about, _ in terms if (kind, about) == (item.kind, item.about))
        terms[item.kind, item.about, count] = item
    return terms


def turns(found: list[Question], facts: Facts, posterior: Posterior, craft: Craft, most: int = 3) -> tuple[Turn, ...]:
    """Answers that would put another cause first, the likeliest first.

    Args:
        found: questions, best first
        facts: the plate
        posterior: what is believed now
        craft: the knowledge made ready
        most: how many to give
    """
    leader = max(posterior.causes, key=lambda cause: posterior.causes[cause])
    result = []
    for question in found[:8]:
        for answer, chance in question.answers:
            if chance < 0.02:
                continue
            other = answered_with(facts, question, answer, craft)
            then = weigh(gather(other, fire(other, craft, craft.bulk), craft), craft)
            new = max(then.causes, key=lambda cause: then.causes[cause])
            if new != leader and then.causes[new] >= CLEARLY * then.causes[leader]:
                result.append(Turn(question, answer, chance, new, then.causes[new]))
    return tuple(sorted(result, key=lambda turn: -turn.chance)[:most])
