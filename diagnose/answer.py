"""One plate in, one diagnosis out: the call a script makes."""

from collections.abc import Mapping
from dataclasses import replace

from diagnose.advice.actions import Action, remedies_now
from diagnose.advice.cautions import cautions_of_answer
from diagnose.advice.dosing import Dose, dose_of
from diagnose.advice.planning import MODES, Plan, plan, share_by_kind
from diagnose.advice.stopping import worth_asking
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError, near
from diagnose.facts import Facts, understand
from diagnose.plate import Plate
from diagnose.reasoning.asking import SURE, Question, questions, shares_of, unlisted
from diagnose.reasoning.chaining import Firing
from diagnose.reasoning.craft import Craft, craft_of
from diagnose.reasoning.receipts import Receipt, accounts
from diagnose.reasoning.reckoning import Reckoned, reckon, with_reckoned
from diagnose.reasoning.weighing import Evidence, Posterior, fire, gather, weigh


class Diagnosis:
    """What is believed of one plate and what to do about it.

    Args:
        plate: as it was told
        facts: as it was understood
        craft: the knowledge made ready
        mode: "sitter-waiting" or "find-out"
        measures: "metric", "us" or "imperial": how amounts are told to people; records are always metric
    """

    def __init__(self, plate: Plate, facts: Facts, craft: Craft, mode: str, measures: str = "metric") -> None:
        self.plate, self.facts, self.craft, self.mode = plate, with_reckoned(facts, craft), craft, mode
        self.measures = measures
        self.firing: Firing = fire(self.facts, craft)
        self.evidence: Evidence = gather(self.facts, self.firing, craft)
        self.posterior: Posterior = weigh(self.evidence, craft)
        self.plan: Plan = plan(self.facts, self.posterior, self.firing, craft, mode)

    @property
    def ranking(self) -> list[tuple[str, float]]:
        """Every cause with its probability, the likeliest first."""
        return sorted(self.posterior.causes.items(), key=lambda pair: (-pair[1], pair[0]))

    @property
    def unlisted(self) -> float:
        """How likely it is that nothing known here is behind it."""
        return unlisted(self.posterior)

    @property
    def split(self) -> dict[str, float]:
        """Chemistry, light or hand; adds up to one."""
        return share_by_kind(self.posterior, self.craft)

    @property
    def sure_enough(self) -> bool:
        """Whether one cause leads so clearly that asking on is idle."""
        return self.ranking[0][1] >= SURE

    def account(self, *causes: str) -> dict[str, tuple[Receipt, ...]]:
        """The account of each cause; its terms add up to the cause's log-odds."""
        return accounts(causes, self.evidence, self.posterior, self.craft)

    def questions(self, *, asked: int = 0, standing_at: str = "") -> list[Question]:
        """Every open question, the most telling for its time first."""
        return questions(self.facts, self.posterior, self.craft, asked=asked, standing_at=standing_at)

    def worth_asking(self, *, asked: int = 0, standing_at: str = "", most: int = 5) -> list[Question]:
        """The leading questions that could still change what to do first, at most so many; [] means: stop asking."""
        best = remedies_now(self.facts, shares_of(self.posterior), self.firing, self.craft)
        found = self.questions(asked=asked, standing_at=standing_at)
        leading = best[0].id if best else None
        return worth_asking(found, self.facts, self.posterior, self.craft, leading, most=most)

    @property
    def reckoned(self) -> tuple[Reckoned, ...]:
        """Every condition that was worked out by a sum of the bench."""
        return reckon(self.facts, self.craft)

    def dose(self, action: Action) -> Dose | None:
        """How much an action takes; None where it needs no sum."""
        return dose_of(action.id, self.facts, self.firing, self.craft) if action.kind == "remedy" else None

    def cautions(self) -> tuple[str, ...]:
        """Every caution of the answer, those of its amounts among them, the dangerous ones first."""
        actions = [
            action for action in (self.plan.first, *self.plan.together, *self.plan.then, *self.plan.later) if action
        ]
        doses = [dose for action in actions if (dose := self.dose(action))]
        named = (*(action.cautions for action in actions), *(dose.cautions for dose in doses))
        return cautions_of_answer(named, self.firing, self.craft)


def diagnose(
    plate: Plate | dict[str, object],
    knowledge: Knowledge,
    *,
    mode: str = MODES[0],
    measures: str = "metric",
    earlier: Mapping[str, float] | None = None,
    craft: Craft | None = None,
) -> Diagnosis:
    """Why a plate came out spoiled, and what to do next.

    Args:
        plate: a `Plate`, or a table with symptoms, conditions, checks and tried
        knowledge: from `read_knowledge`
        mode: "sitter-waiting" bundles quick changes; "find-out" changes one thing a plate
        measures: "metric", "us" or "imperial": how amounts are told to people
        earlier: cause -> log-odds that the earlier plates of the day add for it [nat]; none without a daybook
        craft: the knowledge made ready with a studio's own rates; made from `knowledge` if not given

    Raises:
        PlateError: everything in the plate that cannot be understood, in one line
    """
    if mode not in MODES:
        raise PlateError(f"no mode called {mode!r}; use {' or '.join(MODES)}; {near(mode, MODES)}")
    told = plate if isinstance(plate, Plate) else Plate.read(plate)
    facts = understand(told, knowledge)
    if earlier:
        facts = replace(facts, earlier=earlier)
    return Diagnosis(told, facts, craft or craft_of(knowledge), mode, measures)
