"""The account behind a probability: every term that moved a cause, with its weight and its source."""

import math
from collections.abc import Iterable
from typing import NamedTuple

from diagnose.reasoning.atoms import finding_of
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.weighing import Evidence, Finding, Posterior, weigh

NAT_TO_DECIBAN = 10 / math.log(10)
SURE = 1e-12
DAYBOOK = "your-daybook"  # named as the source of what was learned from it


class Receipt(NamedTuple):
    """One term of a cause's account.

    Args:
        about: the finding, condition, remedy tried, or "how-common", "earlier-plates", "not-mentioned", "together"
        kind: "prior", "symptom", "check", "condition", "tried", "earlier", "silent" or "together"
        answer: for findings "present", "absent" or "unsure"; else ""
        rule: the rule that fired, "" where none did
        why: the mechanism in words, "" where the cause is not linked to it
        decibans: weight of evidence: ten times the decimal logarithm of what it multiplies the odds by
        source: where it comes from
        rates: of how common a cause is in a studio: chance on a spoiled plate (there, in the books); None otherwise
    """

    about: str
    kind: str
    answer: str
    rule: str
    why: str
    decibans: float
    source: tuple[str, ...]
    rates: tuple[float, float] | None = None


def log_odds(probability: float) -> float:
    """Natural log-odds, safe at the ends.

    Args:
        probability: from 0 to 1
    """
    held = min(1 - SURE, max(SURE, probability))
    return math.log(held) - math.log1p(-held)


def accounts(
    causes: Iterable[str], evidence: Evidence, posterior: Posterior, craft: Craft
) -> dict[str, tuple[Receipt, ...]]:
    """The account of each cause; its terms add up to the cause's log-odds exactly.

    Args:
        causes: whose accounts are wanted
        evidence: from `gather`
        posterior: from `weigh`
        craft: the knowledge made ready

    Weights of findings are differences of exact posteriors with and without the finding. They do not add up by themselves, because
    causes explain each other away; what is left stands in a last term, "together".
    """
    wanted = list(causes)
    without = {finding.name: weigh(evidence, craft, without=(finding.name,)) for finding in evidence.findings}
    unsilenced = weigh(evidence, craft, silent=False) if evidence.silent else posterior
    books = {}
    for cause in wanted:
        here = log_odds(posterior.causes[cause])
        terms = [_how_common(cause, craft)]
        terms += _shift_terms(cause, evidence, craft)
        for finding in evidence.findings:
            weight = here - log_odds(without[finding.name].causes[cause])
            terms.append(_finding_term(cause, finding, weight, craft))
        if evidence.silent:
            weight = here - log_odds(unsilenced.causes[cause])
            terms.append(Receipt("not-mentioned", "silent", "", "", "", weight, ("judged",)))
        rest = here - sum(term.decibans for term in terms)
        terms.append(Receipt("together", "together", "", "", "", rest, ()))
        books[cause] = tuple(term._replace(decibans=term.decibans * NAT_TO_DECIBAN) for term in terms)
    return books


def _how_common(cause: str, craft: Craft) -> Receipt:
    odds, books = craft.model.base[cause], craft.model.books
    if books is None:
        return Receipt("how-common", "prior", "", "", "", math.log(odds), ("judged",))
    rates = odds / (1 + odds), books[cause] / (1 + books[cause])
    return Receipt("how-common", "prior", "", "", "", math.log(odds), ("judged", DAYBOOK), rates)


def _shift_terms(cause: str, evidence: Evidence, craft: Craft) -> list[Receipt]:
    terms = []
    entry = craft.knowledge.causes[cause]
    for shift in evidence.shifts.get(cause, ()):
        if shift.note.kind == "tried":
            remedy = craft.knowledge.remedies[shift.rule]
            terms.append(Receipt(shift.rule, "tried", "", "", remedy.title, shift.log_odds, ("judged",)))
        elif shift.note.kind == "earlier":
            terms.append(Receipt("earlier-plates", "earlier", "", "", "", shift.log_odds, ()))
        else:
            link = getattr(entry, shift.note.kind)[shift.note.number]
            about = " and ".join(link.when)
            terms.append(Receipt(about, "condition", "", shift.rule, link.why, shift.log_odds, link.from_))
    return terms


def _finding_term(cause: str, finding: Finding, weight: float, craft: Craft) -> Receipt:
    entry = craft.knowledge.causes[cause]
    kind = "check" if "=" in finding.name else "symptom"
    if kind == "symptom":
        linked = [(n, link.why, link.from_) for n, link in enumerate(entry.symptom) if link.symptom == finding.name]
    else:
        linked = [
            (n, link.why, link.from_)
            for n, link in enumerate(entry.check)
            if finding_of(link.check, link.outcome) == finding.name
        ]
    if not linked:
        return Receipt(finding.name, kind, finding.answer, "", "", weight, ("judged",))
    number, why, sources = linked[0]
    return Receipt(finding.name, kind, finding.answer, f"causes/{cause} {kind} {number + 1}", why, weight, sources)
