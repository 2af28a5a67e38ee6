"""The next step a student may pick, and the minutes it loses against the one the tool would take."""

from collections.abc import Sequence
from operator import mul
from typing import NamedTuple

from diagnose import phrases
from diagnose.advice.actions import Action, checks_action, remedies_now, with_cautions
from diagnose.advice.planning import LEAST_BELIEF, MOST_WEIGHED, expected_cost
from diagnose.answer import Diagnosis
from diagnose.reasoning.asking import outcome_rows, shares_of

LEAST_SAVED = 0.5  # minutes a look saves on average, under which it tells nothing worth having: judged
LOOKS_OFFERED, REMEDIES_OFFERED, MOST_OFFERED = 3, 4, 7


class Step(NamedTuple):
    """Something a student may do next.

    Args:
        action: the check or remedy
        minutes: until the fault is put right, on average, if this is done first and the best after it [min]
        first: what must be looked at before it may be done; its minutes are counted in
        idle: whether it is a look that would hardly change what is done next
    """

    action: Action
    minutes: float
    first: tuple[str, ...]
    idle: bool = False


def steps_for(diagnosis: Diagnosis) -> tuple[Step, ...]:
    """What is offered: the leading checks and remedies, and what the tool would do, by their titles.

    Args:
        diagnosis: of the plate, changing one thing at a time
    """
    knowledge = diagnosis.craft.knowledge
    shares = shares_of(diagnosis.posterior)
    causes = [cause for cause, share in shares.items() if cause and share >= LEAST_BELIEF]
    belief = [shares[cause] for cause in causes]
    remedies = remedies_now(diagnosis.facts, shares, diagnosis.firing, diagnosis.craft)
    leading = sorted(remedies, key=lambda action: -action.helps)[:MOST_WEIGHED]
    weighed = _Weighed(diagnosis, causes, belief, leading)
    looks = [
        weighed.look(checks_action(name, 0.0, diagnosis.craft))
        for name, check in knowledge.checks.items()
        if check.outcome and not diagnosis.facts.answered(name)
    ]
    looks.sort(key=lambda step: (step.minutes, step.action.id))
    treatments = [weighed.remedy(action) for action in leading]
    first = diagnosis.plan.first
    chosen = {step.action.id: step for step in [*looks[:LOOKS_OFFERED], *treatments[:REMEDIES_OFFERED]]}
    if first is not None and first.id not in chosen:
        while len(chosen) >= MOST_OFFERED:
            chosen.popitem()
        chosen[first.id] = weighed.look(first) if first.kind == "check" else weighed.remedy(first)
    return tuple(sorted(chosen.values(), key=lambda step: phrases.action_title(step.action, knowledge)))


def best_of(steps: Sequence[Step], diagnosis: Diagnosis) -> Step | None:
    """The step the tool would take, else the one that takes the fewest minutes.

    Args:
        steps: from `steps_for`
        diagnosis: of the plate
    """
    first = diagnosis.plan.first
    named = [step for step in steps if first is not None and step.action.id == first.id]
    return named[0] if named else min(steps, key=lambda step: step.minutes, default=None)


def cautions_beside(step: Step | None, diagnosis: Diagnosis) -> tuple[str, ...]:
    """The titles of what must stand beside a step, the dangerous first.

    Args:
        step: one of them; None for none
        diagnosis: of the plate
    """
    if step is None:
        return ()
    named = with_cautions(step.action, diagnosis.firing, diagnosis.craft).cautions
    return tuple(diagnosis.craft.knowledge.cautions[name].title for name in named)


def minutes_lost(chosen: Step, best: Step) -> float:
    """What a step loses on average against the tool's [min]; 0 where it is as good, or better by this sum.

    Args:
        chosen: the student's
        best: from `best_of`
    """
    return max(0.0, chosen.minutes - best.minutes)


class _Weighed:
    """The minutes to expect after each step, by the sum the plan itself is made with."""

    def __init__(self, diagnosis: Diagnosis, causes: list[str], belief: list[float], leading: list[Action]) -> None:
        self.diagnosis, self.causes, self.belief, self.leading = diagnosis, causes, belief, leading
        cures = diagnosis.craft.model.cures
        self.rows = {
            action.id: [cures.get(action.id, {}).get(cause, 0.0) for cause in causes]
            for action in [*leading, *([diagnosis.plan.first] if diagnosis.plan.first else [])]
        }

    def options(self, looked_at: frozenset[str], without: str = "") -> list[tuple[float, Sequence[float]]]:
        """The remedies that may be done, each with its cost and its chances."""
        return [
            (action.cost, self.rows[action.id])
            for action in self.leading
            if action.id != without and not set(action.first) - looked_at
        ]

    def look(self, action: Action) -> Step:
        """A check first: what it costs, and what is left to do after each outcome."""
        craft = self.diagnosis.craft
        outcomes = craft.knowledge.checks[action.id].outcome
        rows = outcome_rows(action.id, self.causes, craft)
        columns = list(zip(*rows, strict=True)) or [()] * len(outcomes)
        opened, allowed = self.options(frozenset({action.id})), self.options(frozenset())
        after = sum(
            expected_cost(list(map(mul, self.belief, column)), allowed if outcome.normal else opened)
            for outcome, column in zip(outcomes, columns, strict=True)
        )
        saved = expected_cost(self.belief, allowed) - after
        return Step(action, action.cost * sum(self.belief) + after, (), saved < LEAST_SAVED)

    def remedy(self, action: Action) -> Step:
        """A remedy first, after whatever must be looked at before it; then the rest where it did not help."""
        checks = self.diagnosis.craft.knowledge.checks
        before = sum(checks_action(name, 0.0, self.diagnosis.craft).cost for name in action.first if name in checks)
        left = [weight * (1 - sure) for weight, sure in zip(self.belief, self.rows[action.id], strict=True)]
        after = expected_cost(left, self.options(frozenset(action.first), action.id))
        return Step(action, (before + action.cost) * sum(self.belief) + after, action.first)
