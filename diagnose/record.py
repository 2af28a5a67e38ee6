"""The answer as it goes out: the published shape of the JSON, and how a diagnosis is put into it."""

from dataclasses import dataclass, field
from typing import Literal

from diagnose import phrases
from diagnose.advice.actions import Action
from diagnose.answer import Diagnosis
from diagnose.bands import band
from diagnose.entries.knowledge import Knowledge
from diagnose.reasoning.asking import Question
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.receipts import Receipt
from diagnose.reasoning.reckoning import Reckoned
from diagnose.sum_record import DoseRecord, TakenRecord, dose_record, taken_records


@dataclass(frozen=True, kw_only=True)
class TriedTable:
    """A remedy tried, and what the next plate showed."""

    remedy: str
    result: Literal["no-change", "better", "cured"]


@dataclass(frozen=True, kw_only=True)
class PlateTable:
    """A plate as it may come in."""

    __pydantic_config__ = {"extra": "forbid"}

    story: str = ""
    day: str = ""
    symptoms: dict[str, bool | Literal["present", "absent", "unsure", "cant-tell"] | dict[str, str]] = field(
        default_factory=dict
    )
    conditions: dict[str, str | bool | float] = field(default_factory=dict)
    checks: dict[str, str] = field(default_factory=dict)
    tried: list[TriedTable] = field(default_factory=list)


CAUSES_TOLD = 5
QUESTIONS_TOLD = 5


@dataclass(frozen=True, kw_only=True)
class ReceiptRecord:
    """One term of a cause's account."""

    about: str
    words: str
    decibans: float
    source: list[str]
    rule: str = ""


@dataclass(frozen=True, kw_only=True)
class CauseRecord:
    """A cause, how likely it is, and why."""

    id: str
    title: str
    stage: str
    brief: str
    kind: Literal["chemistry", "light", "hand"]
    probability: float
    words: str
    receipts: list[ReceiptRecord]


@dataclass(frozen=True, kw_only=True)
class UnlistedRecord:
    """How likely it is that nothing known here is behind it."""

    probability: float
    words: str
    unexplained: list[str]


@dataclass(frozen=True, kw_only=True)
class SplitRecord:
    """Chemistry, light or hand; adds up to one."""

    chemistry: float
    light: float
    hand: float


@dataclass(frozen=True, kw_only=True)
class ActionRecord:
    """Something to do: a remedy or a check; `helps` is the chance that it puts the fault right, null for a check."""

    id: str
    kind: Literal["remedy", "check"]
    title: str
    say: str
    why: str
    see: str
    stop: str
    helps: float | None
    minutes: float
    plates: int
    reversible: bool
    cautions: list[str]
    dose: DoseRecord | None
    needs_first: list[str]


@dataclass(frozen=True, kw_only=True)
class QuestionRecord:
    """Something worth asking next."""

    id: str
    kind: str
    ask: str
    why: str
    minutes: float
    plates: int
    station: str
    answers: list[str]


@dataclass(frozen=True, kw_only=True)
class TraceRecord:
    """One rule that fired, and the facts it fired on."""

    rule: str
    because: list[str]


@dataclass(frozen=True, kw_only=True)
class CautionRecord:
    """What can hurt, and the usual care."""

    id: str
    title: str
    say: str
    level: Literal["danger", "care"]


@dataclass(frozen=True, kw_only=True)
class ReckonedRecord:
    """A condition worked out by a sum of the bench before any rule fired."""

    condition: str
    value: float
    unit: str
    words: str
    sum: str
    taken: list[TakenRecord]
    formula: str
    accuracy: str
    sources: list[str]


@dataclass(frozen=True, kw_only=True)
class AnswerRecord:
    """The whole answer."""

    knowledge_version: str
    engine: str
    mode: Literal["sitter-waiting", "find-out"]
    plate: dict[str, object]
    causes: list[CauseRecord]
    none_of_these: UnlistedRecord
    split: SplitRecord
    next_action: ActionRecord | None
    together: list[ActionRecord]
    plan: list[ActionRecord]
    next_questions: list[QuestionRecord]
    reckoned: list[ReckonedRecord]
    trace: list[TraceRecord]
    cautions: list[CautionRecord]
    notices: list[str]


def answer_record(diagnosis: Diagnosis) -> AnswerRecord:
    """A diagnosis as it goes out.

    Args:
        diagnosis: from `diagnose`
    """
    craft, chosen = diagnosis.craft, diagnosis.plan
    leading = diagnosis.ranking[:CAUSES_TOLD]
    books = diagnosis.account(*(cause for cause, _ in leading))
    return AnswerRecord(
        knowledge_version=craft.knowledge.version,
        engine=diagnosis.firing.engine,
        mode="find-out" if diagnosis.mode == "find-out" else "sitter-waiting",
        plate=diagnosis.plate.told(),
        causes=[_cause(cause, chance, diagnosis, books) for cause, chance in leading],
        none_of_these=UnlistedRecord(
            probability=diagnosis.unlisted,
            words=phrases.unlisted(diagnosis.unlisted, told=bool(diagnosis.facts.present or diagnosis.facts.unsure)),
            unexplained=[name for name, share in diagnosis.posterior.leaks.items() if share >= 0.5],
        ),
        split=SplitRecord(**diagnosis.split),
        next_action=action_record(chosen.first, diagnosis) if chosen.first else None,
        together=[action_record(action, diagnosis) for action in chosen.together],
        plan=[action_record(action, diagnosis) for action in (*chosen.then, *chosen.later)],
        next_questions=[question_record(question, craft) for question in diagnosis.worth_asking(most=QUESTIONS_TOLD)],
        reckoned=[_reckoned(item, craft.knowledge) for item in diagnosis.reckoned],
        trace=[
            TraceRecord(
                rule=rule.name, because=[phrases.atom(atom, diagnosis.facts, craft.knowledge) for atom in rule.when]
            )
            for rule in diagnosis.firing.trace
        ],
        cautions=[
            CautionRecord(id=name, title=caution.title, say=caution.say, level=caution.level)
            for name in diagnosis.cautions()
            for caution in (craft.knowledge.cautions[name],)
        ],
        notices=[
            notice
            for notice in (craft.notice, phrases.set_aside(diagnosis.posterior.set_aside, craft.knowledge))
            if notice
        ],
    )


def action_record(action: Action, diagnosis: Diagnosis) -> ActionRecord:
    """An action as it goes out.

    Args:
        action: from the plan
        diagnosis: whose plan it is
    """
    craft, dose = diagnosis.craft, diagnosis.dose(action)
    say, see, stop = phrases.doing(action, craft.knowledge)
    return ActionRecord(
        id=action.id,
        kind="check" if action.kind == "check" else "remedy",
        title=phrases.action_title(action, craft.knowledge),
        say=say,
        why=phrases.action_why(action, craft.knowledge),
        see=see,
        stop=stop,
        helps=None if action.kind == "check" else action.helps,
        minutes=action.minutes,
        plates=action.plates,
        reversible=action.reversible,
        cautions=list(action.cautions),
        dose=dose_record(dose, craft.knowledge) if dose else None,
        needs_first=list(action.first),
    )


def question_record(question: Question, craft: Craft) -> QuestionRecord:
    """A question as it goes out.

    Args:
        question: from `worth_asking`
        craft: the knowledge made ready
    """
    return QuestionRecord(
        id=question.id,
        kind=question.kind,
        ask=phrases.question(question, craft.knowledge),
        why=phrases.why_ask(question, craft.knowledge),
        minutes=question.minutes,
        plates=question.plates,
        station=question.station,
        answers=phrases.answers(question, craft.knowledge),
    )


def _reckoned(found: Reckoned, knowledge: Knowledge) -> ReckonedRecord:
    entry = knowledge.conditions[found.condition]
    return ReckonedRecord(
        condition=found.condition,
        value=found.value,
        unit=entry.unit,
        words=entry.ask,
        sum=found.sum.name,
        taken=taken_records((found.sum.asked(name), value, source) for name, (value, source) in found.taken.items()),
        formula=found.sum.formula,
        accuracy=found.sum.accuracy,
        sources=list(found.sum.sources),
    )


def _cause(cause: str, chance: float, diagnosis: Diagnosis, books: dict[str, tuple[Receipt, ...]]) -> CauseRecord:
    knowledge = diagnosis.craft.knowledge
    entry = knowledge.causes[cause]
    return CauseRecord(
        id=cause,
        title=entry.title,
        stage=knowledge.stage_of(cause),
        brief=entry.brief,
        kind=entry.kind,
        probability=chance,
        words=band(chance),
        receipts=[
            ReceiptRecord(
                about=item.about,
                words=phrases.receipt(item, diagnosis.facts, knowledge),
                decibans=item.decibans,
                source=list(item.source),
                rule=item.rule,
            )
            for item in books[cause]
        ],
    )
