"""Which question would tell most next, for the time it takes.

Information gain on a single-cause reading of the exact marginals: as good as exact gain over sets of causes, and quick
enough to weigh every question anew after each answer.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from diagnose.entries.observed import Condition
from diagnose.facts import Facts
from diagnose.reasoning.atoms import finding_of
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.model import attribute_share
from diagnose.reasoning.weighing import Posterior, fire, shifts_of

UNLISTED = ""  # the share of the belief that lies with nothing listed
LEAST_SHARE = 0.01  # rivals below this share are not asked about ...
LEAST_SHARE_AT_LAST = 0.002  # ... until nothing is left to ask about the others
LOOK_MINUTES, ATTRIBUTE_MINUTES = 0.15, 0.1  # what a look at the plate in hand takes: judged
LEAST_GAIN = 0.004  # bit
SURE = 0.9  # of a leading cause: nothing more need be asked to be surer
TO_WALK_OVER = 0.4  # minutes; to go and stand somewhere else: judged
ORDINARY_SHARE = 0.7  # how often an amount is an ordinary one: judged
PURE_GAIN_AFTER = 8  # questions; from there on time no longer counts


class Question(NamedTuple):
    """Something that could be asked next.

    Args:
        id: symptom, symptom.attribute, condition or check
        kind: "symptom", "attribute", "condition" or "check"
        station: where one stands to answer it: plate, bottles, measure, memory, proving-plate
        minutes: time it takes
        plates: plates it spends
        gain: expected information [bit]
        parts: the two causes it does most to part
        answers: each answer with its chance, in the order they are offered
        likelihoods: answer -> cause (or UNLISTED) -> chance of that answer if the cause alone is at work
    """

    id: str
    kind: str
    station: str
    minutes: float
    plates: int
    gain: float
    parts: tuple[str, ...]
    answers: tuple[tuple[str, float], ...]
    likelihoods: Mapping[str, Mapping[str, float]]


def shares_of(posterior: Posterior) -> dict[str, float]:
    """The belief as shares of one: odds of each cause, and of nothing listed, made to add up to one.

    Args:
        posterior: from `weigh`
    """
    odds = {cause: chance / max(1e-9, 1 - chance) for cause, chance in posterior.causes.items()}
    odds[UNLISTED] = unlisted(posterior) / max(1e-9, 1 - unlisted(posterior))
    total = sum(odds.values()) or 1.0
    return {cause: value / total for cause, value in odds.items()}


def unlisted(posterior: Posterior) -> float:
    """How likely it is that nothing listed is behind it.

    The mean share of the findings that only chance explains, held down by how sure the leading cause is.

    Args:
        posterior: from `weigh`
    """
    if not posterior.leaks:
        return 0.0
    share = sum(posterior.leaks.values()) / len(posterior.leaks)
    return share * (1 - max(posterior.causes.values(), default=0.0))


def questions(
    facts: Facts, posterior: Posterior, craft: Craft, *, asked: int = 0, standing_at: str = ""
) -> list[Question]:
    """Every question still open, the most telling for its time first.

    Args:
        facts: the plate
        posterior: what is believed now
        craft: the knowledge made ready
        asked: how many were asked already; after eight only the gain counts
        standing_at: station of the last question, to spare steps
    """
    found = _telling(facts, posterior, craft, LEAST_SHARE)
    if not found and max(posterior.causes.values(), default=1.0) < SURE:
        found = _telling(facts, posterior, craft, LEAST_SHARE_AT_LAST)
    plate_minutes = craft.knowledge.strengths.expect.plate_minutes

    def worth(question: Question) -> float:
        if asked >= PURE_GAIN_AFTER:
            return question.gain
        walk = 0.0 if question.station in {standing_at, "memory"} else TO_WALK_OVER
        return question.gain / (0.2 + question.minutes + walk + question.plates * plate_minutes)

    return sorted(found, key=lambda question: (-worth(question), question.id))


def _telling(facts: Facts, posterior: Posterior, craft: Craft, least: float) -> list[Question]:
    """Every open question that tells something of the causes with at least such a share of the belief."""
    shares = {cause: share for cause, share in shares_of(posterior).items() if share >= least}
    total = sum(shares.values()) or 1.0
    shares = {cause: share / total for cause, share in shares.items()}
    return [
        question
        for draft in (_symptoms, _attributes, _conditions, _checks)
        for question in draft(facts, shares, craft)
        if question.gain >= LEAST_GAIN
    ]


def answered_with(facts: Facts, question: Question, answer: str, craft: Craft) -> Facts:
    """The plate as it would be after one answer.

    Args:
        facts: the plate
        question: what was asked
        answer: one of its answers
        craft: the knowledge made ready
    """
    match question.kind:
        case "symptom":
            if answer == "yes":
                return replace(facts, present={**facts.present, question.id: {}})
            return replace(facts, absent=facts.absent | {question.id})
        case "attribute":
            symptom, _, attribute = question.id.partition(".")
            return replace(facts, present={**facts.present, symptom: {**facts.present[symptom], attribute: answer}})
        case "condition":
            return with_condition(facts, question.id, answer, craft)
        case _:
            return replace(facts, outcomes={**facts.outcomes, question.id: answer})


def _symptoms(facts: Facts, shares: dict[str, float], craft: Craft) -> Iterator[Question]:
    for name, links in craft.model.plain_links.items():
        if facts.answered(name) or not links.keys() & shares.keys():
            continue
        leak = craft.model.leaks[name]
        yes = {cause: 1 - (1 - leak) * (1 - links.get(cause, 0.0)) for cause in shares}
        no = {cause: 1 - chance for cause, chance in yes.items()}
        yield _question(name, "symptom", "plate", LOOK_MINUTES, 0, {"yes": yes, "no": no}, shares)


def _attributes(facts: Facts, shares: dict[str, float], craft: Craft) -> Iterator[Question]:
    knowledge = craft.knowledge
    for symptom, told in facts.present.items():
        for attribute, values in knowledge.symptoms[symptom].attributes.items():
            if attribute in told or facts.answered(f"{symptom}.{attribute}"):
                continue
            stated = {
                cause: next(
                    (link.attributes.get(attribute, ()) for link in entry.symptom if link.symptom == symptom), ()
                )
                for cause, entry in knowledge.causes.items()
                if cause in shares
            }
            table = {
                value: {
                    cause: attribute_share(stated.get(cause, ()), value, len(values), knowledge) for cause in shares
                }
                for value in values
            }
            yield _question(f"{symptom}.{attribute}", "attribute", "plate", ATTRIBUTE_MINUTES, 0, table, shares)


def _conditions(facts: Facts, shares: dict[str, float], craft: Craft) -> Iterator[Question]:
    wanted = set().union(*(craft.reach.get(cause, frozenset()) for cause in shares))
    now = shifts_of(fire(facts, craft, craft.bulk), craft)
    for name in sorted(wanted):
        if facts.answered(name):
            continue
        entry = craft.knowledge.conditions[name]
        table: dict[str, dict[str, float]] = {}
        for answer, chance in everyday_answers(name, entry, craft).items():
            other = with_condition(facts, name, answer, craft)
            shifts = shifts_of(fire(other, craft, craft.bulk), craft)
            table[answer] = {cause: chance * math.exp(shifts.get(cause, 0.0) - now.get(cause, 0.0)) for cause in shares}
        totals = {cause: sum(row[cause] for row in table.values()) for cause in shares}
        table = {answer: {cause: row[cause] / totals[cause] for cause in shares} for answer, row in table.items()}
        yield _question(name, "condition", entry.station, entry.minutes, 0, table, shares)


def _checks(facts: Facts, shares: dict[str, float], craft: Craft) -> Iterator[Question]:
    for name, check in craft.knowledge.checks.items():
        if not check.outcome or facts.answered(name):
            continue
        table = outcome_chances(name, shares, craft)
        yield _question(name, "check", check.station, check.minutes, check.plates, table, shares)


def outcome_chances(name: str, causes: Mapping[str, float], craft: Craft) -> dict[str, dict[str, float]]:
    """For each outcome of a check, its chance if one cause alone is at work.

    Args:
        name: the check
        causes: causes wanted, UNLISTED among them or not
        craft: the knowledge made ready
    """
    rows = outcome_rows(name, causes, craft)
    ids = [outcome.id for outcome in craft.knowledge.checks[name].outcome]
    return {
        outcome: {cause: row[place] for cause, row in zip(causes, rows, strict=True)}
        for place, outcome in enumerate(ids)
    }


def outcome_rows(name: str, causes: Iterable[str], craft: Craft) -> list[tuple[float, ...]]:
    """For each cause, the chance of each outcome of a check, in the order of the file, if that cause alone is at work.

    Args:
        name: the check
        causes: causes wanted, UNLISTED among them or not
        craft: the knowledge made ready
    """
    known = craft.outcomes.setdefault(name, {})
    return [known.get(cause) or known.setdefault(cause, _outcome_row(name, cause, craft)) for cause in causes]


def _outcome_row(name: str, cause: str, craft: Craft) -> tuple[float, ...]:
    outcomes = craft.knowledge.checks[name].outcome
    raw, none = {}, 1.0
    for outcome in outcomes:
        if not outcome.normal:
            finding = finding_of(name, outcome.id)
            chance = craft.model.check_links.get(finding, {}).get(cause, 0.0)
            raw[outcome.id] = 1 - (1 - craft.model.check_leaks[finding]) * (1 - chance)
            none *= 1 - raw[outcome.id]
    raw |= {outcome.id: none for outcome in outcomes if outcome.normal}
    total = sum(raw.values())
    return tuple(raw[outcome.id] / total for outcome in outcomes)


def _question(
    name: str,
    kind: str,
    station: str,
    minutes: float,
    plates: int,
    table: Mapping[str, Mapping[str, float]],
    shares: dict[str, float],
) -> Question:
    chances = {answer: sum(shares[cause] * row[cause] for cause in shares) for answer, row in table.items()}
    gain = _entropy(chances.values()) - sum(
        share * _entropy(row[cause] for row in table.values()) for cause, share in shares.items()
    )
    return Question(name, kind, station, minutes, plates, gain, _parts(table, shares), tuple(chances.items()), table)


def _parts(table: Mapping[str, Mapping[str, float]], shares: dict[str, float]) -> tuple[str, ...]:
    """The two likely causes whose answers differ most."""
    leading = sorted((cause for cause in shares if cause), key=lambda cause: -shares[cause])[:5]
    best, pair = 0.0, tuple[str, ...]()
    for number, first in enumerate(leading):
        for second in leading[number + 1 :]:
            apart = sum(abs(row[first] - row[second]) for row in table.values()) * math.sqrt(
                shares[first] * shares[second]
            )
            if apart > best:
                best, pair = apart, (first, second)
    return pair


def everyday_answers(name: str, entry: Condition, craft: Craft) -> dict[str, float]:
    """Answers to a condition and how often each is given when nothing is wrong with it.

    Args:
        name: the condition
        entry: what may be answered
        craft: the knowledge made ready
    """
    if entry.kind != "quantity":
        return dict.fromkeys(entry.answers, 1 / len(entry.answers))
    low, high = entry.range or (0.0, 1.0)
    edges = [low, *(cut for cut in craft.cuts.get(name, ()) if low < cut < high), high]
    middles = [(first + second) / 2 for first, second in pairwise(edges)]
    ordinary = entry.ordinary or (low, high)
    inside = [max(0.0, min(second, ordinary[1]) - max(first, ordinary[0])) for first, second in pairwise(edges)]
    total = sum(inside) or 1.0
    return {
        repr(middle): ORDINARY_SHARE * part / total + (1 - ORDINARY_SHARE) / len(middles)
        for middle, part in zip(middles, inside, strict=True)
    }


def with_condition(facts: Facts, name: str, answer: str, craft: Craft) -> Facts:
    """The plate with one condition told.

    Args:
        facts: the plate
        name: the condition
        answer: an option, or an amount in the condition's own unit
        craft: the knowledge made ready
    """
    if craft.knowledge.conditions[name].kind == "quantity":
        return replace(facts, amounts={**facts.amounts, name: float(answer)})
    return replace(facts, options={**facts.options, name: answer})


def _entropy(chances: Iterable[float]) -> float:
    return -sum(chance * math.log2(chance) for chance in chances if chance > 0)
