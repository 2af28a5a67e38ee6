"""A sum of the bench as it goes out: the published shape of its JSON, alone and as the dose of a remedy."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from diagnose.advice.dosing import Dose
from diagnose.bench.measuring import rounded, rounding_words
from diagnose.bench.sum import Amount, Asked, Sum, Worked
from diagnose.entries.knowledge import Knowledge


@dataclass(frozen=True, kw_only=True)
class AmountRecord:
    """One result: as worked out, and as it can be measured."""

    name: str
    label: str
    value: float
    unit: str
    measured: float
    rounding: str


@dataclass(frozen=True, kw_only=True)
class TakenRecord:
    """One thing the sum was given; `told_by` is "" where the usual value was taken."""

    name: str
    value: float | str
    unit: str
    told_by: str
    usual_because: str


@dataclass(frozen=True, kw_only=True)
class WantedRecord:
    """Something that must still be told before the sum can be worked."""

    id: str
    ask: str


@dataclass(frozen=True, kw_only=True)
class BenchCautionRecord:
    """What can hurt, and the usual care."""

    id: str
    title: str
    say: str
    level: str


@dataclass(frozen=True, kw_only=True)
class SumRecord:
    """A sum that was worked."""

    sum: str
    title: str
    amounts: list[AmountRecord]
    do: list[str]
    keeps: str
    beware: list[str]
    taken: list[TakenRecord]
    formula: str
    holds: str
    accuracy: str
    sources: list[str]
    cautions: list[BenchCautionRecord]


@dataclass(frozen=True, kw_only=True)
class DoseRecord:
    """The dose of a remedy: worked out, or what must still be told for it, or why none is given."""

    sum: str
    title: str
    amounts: list[AmountRecord]
    do: list[str]
    keeps: str
    beware: list[str]
    taken: list[TakenRecord]
    cautions: list[str]
    wants: list[WantedRecord]
    refused: str
    formula: str
    holds: str
    accuracy: str
    sources: list[str]


def sum_record(
    sum_: Sum, worked: Worked, taken: Mapping[str, tuple[float | str, str]], knowledge: Knowledge
) -> SumRecord:
    """A sum as it goes out.

    Args:
        sum_: which
        worked: its result
        taken: input -> (value in its unit, who told it; "" for the usual)
        knowledge: the cautions' words
    """
    names = dict.fromkeys((*sum_.cautions, *worked.cautions))
    return SumRecord(
        sum=sum_.name,
        title=sum_.title,
        amounts=[_amount(amount) for amount in worked.amounts],
        do=list(worked.do),
        keeps=worked.keeps,
        beware=list(worked.beware),
        taken=taken_records((sum_.asked(name), value, told_by) for name, (value, told_by) in taken.items()),
        formula=sum_.formula,
        holds=sum_.holds,
        accuracy=sum_.accuracy,
        sources=list(sum_.sources),
        cautions=[
            BenchCautionRecord(id=name, title=caution.title, say=caution.say, level=caution.level)
            for name in names
            for caution in (knowledge.cautions[name],)
        ],
    )


def dose_record(dose: Dose, knowledge: Knowledge) -> DoseRecord:
    """A dose as it goes out.

    Args:
        dose: from `Diagnosis.dose`
        knowledge: how conditions are asked
    """
    worked = dose.worked or Worked(())
    return DoseRecord(
        sum=dose.sum.name,
        title=dose.sum.title,
        amounts=[_amount(amount) for amount in worked.amounts],
        do=list(worked.do),
        keeps=worked.keeps,
        beware=list(worked.beware),
        taken=taken_records(dose.taken),
        cautions=list(dose.cautions),
        wants=[WantedRecord(id=name, ask=knowledge.conditions[name].ask) for name in dose.wants],
        refused=dose.refused,
        formula=dose.sum.formula,
        holds=dose.sum.holds,
        accuracy=dose.sum.accuracy,
        sources=list(dose.sum.sources),
    )


def _amount(amount: Amount) -> AmountRecord:
    return AmountRecord(
        name=amount.name,
        label=amount.label,
        value=amount.value,
        unit=amount.unit,
        measured=rounded(amount),
        rounding=rounding_words(amount),
    )


def taken_records(taken: Iterable[tuple[Asked, float | str, str]]) -> list[TakenRecord]:
    """What a sum was given, as it goes out.

    Args:
        taken: what was asked, its value in the sum's unit, and who told it ("" for the usual)
    """
    return [
        TakenRecord(
            name=asked.name,
            value=value,
            unit=asked.unit,
            told_by=told_by,
            usual_because="" if told_by else asked.usual_because,
        )
        for asked, value, told_by in taken
        if told_by or not asked.if_known
    ]
