"""What simpler reckonings would have said: they are what the exact one must be worth its trouble against."""

from dataclasses import replace

from diagnose.reasoning.weighing import fire, gather, odds_before_findings
from tests.measure.figures import REFUSED, score
from tests.measure.ready import facts_of, plain_craft


def flat(knowledge):
    """The knowledge with every cause as common as every other."""
    word = next(iter(knowledge.strengths.usual))
    causes = {name: replace(cause, usual=word) for name, cause in knowledge.causes.items()}
    return replace(knowledge, causes=causes)


def flat_craft(knowledge):
    return plain_craft(flat(knowledge))


def one_cause_shares(facts, craft):
    """Naive Bayes: exactly one cause, every finding by itself; numbers, links and silence as in the exact reckoning."""
    evidence = gather(facts, fire(facts, craft, craft.bulk), craft)
    odds = odds_before_findings(evidence, craft)
    sure = craft.knowledge.strengths.expect.unsure_explained
    for cause in odds:
        odds[cause] *= evidence.silent.get(cause, 1.0)
        for finding in evidence.findings:
            link = finding.links.get(cause, 0.0)
            there = 1 - (1 - finding.leak) * (1 - link)
            odds[cause] *= {
                "present": there,
                "unsure": sure * there + (1 - sure) * (1 - there),
                "absent": 1 - link,
            }[finding.answer]
    total = sum(odds.values())
    return {cause: value / total for cause, value in odds.items()}


def scored_one_cause(entry, craft):
    """A book entry answered by naive Bayes, scored."""
    facts = facts_of(entry, craft.knowledge)
    if facts is None:
        return REFUSED
    shares = one_cause_shares(facts, craft)
    return score(shares, shares, set(entry["expect"]))
