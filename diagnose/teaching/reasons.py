"""Whether the sign or fact a student names really speaks for the cause: right for the right reason, or only right."""

from typing import Literal, NamedTuple

from diagnose.answer import Diagnosis
from diagnose.facts import Facts
from diagnose.reasoning.receipts import NAT_TO_DECIBAN, Receipt, log_odds
from diagnose.reasoning.weighing import suppose

Verdict = Literal["", "strongest", "speaks", "hardly", "against"]
AS_GOOD = 0.7  # of the strongest weight, from which a reason counts as good as it: judged
LEAST_DECIBANS = 1.0  # below which a fact hardly speaks at all: a quarter more or less of the odds


class Reason(NamedTuple):
    """What a student's reason is worth.

    Args:
        about: the symptom, or the condition, that was named; "" where none was
        verdict: "strongest" as good as the strongest there is, "speaks" for the cause but others more, "hardly" at all,
            or "against" it; "" where none was named, or where nothing told speaks for the cause
        decibans: how much it speaks for the cause
        strongest: the symptom or condition that speaks most for it; "" where nothing told does
        account: the term of the cause's account that says why; None where nothing told speaks for it
    """

    about: str
    verdict: Verdict
    decibans: float
    strongest: str
    account: Receipt | None


def told_reasons(facts: Facts) -> tuple[str, ...]:
    """Everything told of a plate that could be a reason: its signs, then its conditions.

    Args:
        facts: the plate
    """
    return (*facts.present, *facts.unsure, *facts.amounts, *facts.options)


def reason_for(cause: str, about: str, diagnosis: Diagnosis) -> Reason:
    """A reason, weighed by what would be believed of the cause without it.

    Args:
        cause: that was named
        about: symptom or condition; "" where none was named
        diagnosis: of the plate
    """
    weights = {name: weight_of(name, cause, diagnosis) for name in told_reasons(diagnosis.facts)}
    strongest = max(weights, key=lambda name: weights[name], default="")
    if not strongest or weights[strongest] < LEAST_DECIBANS:
        return Reason(about, "", weights.get(about, 0.0), "", None)
    verdict: Verdict = _verdict(weights[about], weights[strongest]) if about in weights else ""
    account = _term_for(strongest, weights[strongest], cause, diagnosis)
    return Reason(about, verdict, weights.get(about, 0.0), strongest, account)


def weight_of(about: str, cause: str, diagnosis: Diagnosis) -> float:
    """How much a sign or a condition, with everything that follows from it, speaks for a cause [deciban].

    Args:
        about: symptom or condition
        cause: "stage/name"
        diagnosis: of the plate
    """
    facts = diagnosis.facts
    changes = {
        part: {name: value for name, value in getattr(facts, part).items() if name != about}
        for part in ("present", "unsure", "amounts", "options")
    }
    _, without = suppose(facts, diagnosis.craft, reckoned={}, **changes)
    return NAT_TO_DECIBAN * (log_odds(diagnosis.posterior.causes[cause]) - log_odds(without.causes[cause]))


def _term_for(about: str, weight: float, cause: str, diagnosis: Diagnosis) -> Receipt | None:
    """The term of the account that says why: the sign's own, or of the conditions' the one nearest in weight."""
    account = diagnosis.account(cause)[cause]
    own = [item for item in account if item.kind == "symptom" and item.about == about]
    others = [item for item in account if item.kind == "condition" and item.decibans > 0]
    return own[0] if own else min(others, key=lambda item: abs(item.decibans - weight), default=None)


def _verdict(weight: float, most: float) -> Verdict:
    if weight >= AS_GOOD * most:
        return "strongest"
    if weight >= LEAST_DECIBANS:
        return "speaks"
    return "hardly" if weight > -LEAST_DECIBANS else "against"
