"""The numbers behind the knowledge, worked out once: base odds, link chances, exclusive groups."""

import math
from collections.abc import Mapping
from typing import NamedTuple

from diagnose.entries.cause import SymptomLink
from diagnose.entries.knowledge import Knowledge
from diagnose.reasoning.atoms import finding_of


class Model(NamedTuple):
    """Numbers of one version of the knowledge.

    Args:
        knowledge: what they were worked out from
        base: cause -> odds before anything is told, scaled so that a plate has the expected number of causes
        groups: causes by exclusive group; a cause of no group stands alone
        plain_links: symptom -> cause -> chance, of links that hold whatever the conditions
        leaks: symptom -> chance of showing for no listed reason
        notice: symptom -> chance of being told unasked
        check_links: finding of a check -> cause -> chance
        check_leaks: finding of a check -> chance of coming out so for no listed reason
        cures: remedy -> cause -> chance of putting it right (links that need a condition are left to the fired rules)
        books: cause -> odds as the books have them, where `base` holds those of a studio instead; None where it does not
    """

    knowledge: Knowledge
    base: dict[str, float]
    groups: tuple[tuple[str, ...], ...]
    plain_links: dict[str, dict[str, float]]
    leaks: dict[str, float]
    notice: dict[str, float]
    check_links: dict[str, dict[str, float]]
    check_leaks: dict[str, float]
    cures: dict[str, dict[str, float]]
    books: dict[str, float] | None = None


def link_chance(link: SymptomLink, attributes: dict[str, str], knowledge: Knowledge) -> float:
    """Chance that a cause alone brings the symptom about, in the place, direction and colour that were told.

    Args:
        link: the cause's link
        attributes: what was told of the symptom's look; anything not told costs nothing
        knowledge: for strengths, and the values each attribute may take

    Source: form from noisy-OR with multi-valued findings; the share of a stated value is `stated_attribute`, judged.
    """
    chance = knowledge.strengths.seen[link.seen]
    offered = knowledge.symptoms[link.symptom].attributes
    for attribute, value in attributes.items():
        chance *= attribute_share(link.attributes.get(attribute, ()), value, len(offered[attribute]), knowledge)
    return chance


def attribute_share(stated: tuple[str, ...], value: str, count: int, knowledge: Knowledge) -> float:
    """How often a symptom shows one value of an attribute, given the values stated for its cause.

    Args:
        stated: values the cause tends to; none means any
        value: the value told
        count: how many values there are
        knowledge: for the share of stated values
    """
    if not stated or len(stated) >= count:
        return 1 / count
    share = knowledge.strengths.expect.stated_attribute
    return share / len(stated) if value in stated else (1 - share) / (count - len(stated))


def leak_of(symptom: str, attributes: dict[str, str], model: Model) -> float:
    """Chance that a symptom shows, as told, for no listed reason."""
    leak = model.leaks[symptom]
    for attribute in attributes:
        leak /= len(model.knowledge.symptoms[symptom].attributes[attribute])
    return leak


def work_out(knowledge: Knowledge) -> Model:
    """The numbers of the knowledge.

    Args:
        knowledge: checked knowledge
    """
    strengths = knowledge.strengths
    plain: dict[str, dict[str, float]] = {}
    checks: dict[str, dict[str, float]] = {}
    cures: dict[str, dict[str, float]] = {}
    groups: dict[str, list[str]] = {}
    for name in sorted(knowledge.causes):
        cause = knowledge.causes[name]
        groups.setdefault(cause.exclusive or name, []).append(name)
        for link in cause.symptom:
            if not link.when:
                join(plain.setdefault(link.symptom, {}), name, strengths.seen[link.seen])
        for found in cause.check:
            if not found.when:
                join(checks.setdefault(finding_of(found.check, found.outcome), {}), name, strengths.seen[found.seen])
        for remedy in cause.remedy:
            if not remedy.when:
                join(cures.setdefault(remedy.do, {}), name, strengths.surely[remedy.surely])
    return Model(
        knowledge,
        _base_odds(knowledge),
        tuple(tuple(members) for members in groups.values()),
        plain,
        {name: strengths.among[symptom.among] for name, symptom in knowledge.symptoms.items()},
        {name: strengths.notice[symptom.notice] for name, symptom in knowledge.symptoms.items()},
        checks,
        {
            finding_of(name, outcome.id): strengths.among[outcome.among]
            for name, check in knowledge.checks.items()
            for outcome in check.outcome
            if not outcome.normal
        },
        cures,
    )


def join(chances: dict[str, float], name: str, chance: float) -> None:
    """Add one more independent way for a cause to bring a finding about."""
    chances[name] = 1 - (1 - chances.get(name, 0.0)) * (1 - chance)


def _base_odds(knowledge: Knowledge) -> dict[str, float]:
    """Odds of each cause, all scaled by one number so that their chances add up to the expected number of causes."""
    usual = {name: knowledge.strengths.usual[cause.usual] for name, cause in knowledge.causes.items()}
    return scaled_odds(usual, knowledge.strengths.expect.causes_per_plate)


def scaled_odds(shares: Mapping[str, float], wanted: float) -> dict[str, float]:
    """Odds in these proportions, all scaled by one number so that their chances add up as wanted.

    Args:
        shares: cause -> how common it is, each under one
        wanted: causes a plate has on average
    """
    odds = {name: share / (1 - share) for name, share in shares.items()}
    wanted = min(wanted, 0.9 * len(odds))
    low, high = 1e-6, 1e6
    for _ in range(80):
        middle = math.sqrt(low * high)
        expected = sum(value * middle / (1 + value * middle) for value in odds.values())
        low, high = (middle, high) if expected < wanted else (low, middle)
    return {name: value * low for name, value in odds.items()}
