"""The plate put against the knowledge: names resolved, amounts in their units, everything wrong said at once."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from diagnose.entries.knowledge import Knowledge
from diagnose.entries.observed import Condition
from diagnose.errors import PlateError, near, printable
from diagnose.plate import DONT_KNOW, LONGEST_TEXT, Plate, day_number, shown
from diagnose.units import UnitError, print_amount, read_amount

UNKNOWN_WORDS = frozenset({DONT_KNOW, "", "unknown", "dont-know", "don't know", "cant-tell"})
MOST_COMPLAINTS = 8


@dataclass(frozen=True)
class Facts:
    """What is known of a plate, in the names of the knowledge.

    Args:
        present, unsure: symptom -> attributes given
        absent: symptoms looked for and not there
        open: symptoms, conditions and checks answered with "don't know"
        amounts: condition -> amount in the condition's own unit
        options: condition -> option
        outcomes: check -> outcome
        tried: (remedy, result) in order
        reckoned: condition -> amount worked out from others [the condition's own unit]
        labels: condition -> the date on the label its age was counted from
        earlier: cause -> log-odds that the earlier plates of the day add for it [nat]; empty without a daybook
    """

    present: dict[str, dict[str, str]] = field(default_factory=dict)
    unsure: dict[str, dict[str, str]] = field(default_factory=dict)
    absent: frozenset[str] = frozenset()
    open: frozenset[str] = frozenset()
    amounts: dict[str, float] = field(default_factory=dict)
    options: dict[str, str] = field(default_factory=dict)
    outcomes: dict[str, str] = field(default_factory=dict)
    tried: tuple[tuple[str, str], ...] = ()
    reckoned: dict[str, float] = field(default_factory=dict)
    labels: dict[str, str] = field(default_factory=dict)
    earlier: Mapping[str, float] = field(default_factory=dict)

    def amount(self, condition: str) -> float | None:
        """A condition's amount, told or worked out; None where there is neither [its unit]."""
        told = self.amounts.get(condition)
        return self.reckoned.get(condition) if told is None else told

    def knows(self, condition: str) -> bool:
        """Whether a condition was given, or could be worked out."""
        return condition in self.amounts or condition in self.options or condition in self.reckoned

    def answered(self, name: str) -> bool:
        """Whether a symptom, condition or check needs no more asking."""
        return (
            name in self.present
            or name in self.absent
            or name in self.unsure
            or name in self.open
            or name in self.outcomes
            or self.knows(name)
        )

    def value_words(self, condition: str, knowledge: Knowledge) -> str:
        """A given condition as it is shown."""
        entry = knowledge.conditions[condition]
        amount = self.amount(condition)
        if amount is not None:
            words = print_amount(amount if condition in self.amounts else float(f"{amount:.3g}"), entry.unit)
            return f"{words}, from its label of {self.labels[condition]}" if condition in self.labels else words
        return entry.answers[self.options[condition]]


def understand(plate: Plate, knowledge: Knowledge) -> Facts:
    """The plate in the names and units of the knowledge.

    Args:
        plate: as it was told
        knowledge: the craft

    Raises:
        PlateError: every name, unit and value that does not fit, with near names and what is accepted
    """
    complaints: list[str] = []
    present: dict[str, dict[str, str]] = {}
    unsure: dict[str, dict[str, str]] = {}
    absent: set[str] = set()
    unknown: set[str] = set()
    for told, item in sorted(plate.symptoms.items()):
        name = _symptom(told, knowledge, complaints)
        if name is None:
            continue
        if name in present or name in unsure or name in absent:
            complaints.append(f"{name} is told twice, as {shown(told)} too; keep one")
            continue
        attributes = _attributes(name, item.attributes, knowledge, unknown, complaints)
        match item.answer:
            case "present":
                present[name] = attributes
            case "unsure":
                unsure[name] = attributes
            case "absent":
                absent.add(name)
            case "cant-tell":
                unknown.add(name)
    labels: dict[str, str] = {}
    amounts, options = _conditions(plate, knowledge, unknown, complaints, labels)
    outcomes = _outcomes(plate, knowledge, unknown, complaints)
    tried = []
    for step in plate.tried:
        if step.remedy in knowledge.remedies:
            tried.append((step.remedy, step.result))
        else:
            complaints.append(_no("remedy", step.remedy, knowledge.remedies))
    if complaints:
        rest = len(complaints) - MOST_COMPLAINTS
        more = f"; and {rest} more" if rest > 0 else ""
        raise PlateError("; ".join(complaints[:MOST_COMPLAINTS]) + more)
    present, unsure = dict(sorted(present.items())), dict(sorted(unsure.items()))  # whatever they were called
    return Facts(
        present, unsure, frozenset(absent), frozenset(unknown), amounts, options, outcomes, tuple(tried), {}, labels
    )


def find_symptom(words: str, knowledge: Knowledge) -> str | None:
    """The symptom a name or synonym means, if exactly one does.

    Args:
        words: a name, title or synonym, in any case, with spaces or hyphens
        knowledge: the craft
    """
    wanted = plain(words)
    if not wanted:
        return None
    for name, symptom in knowledge.symptoms.items():
        if wanted in {plain(name), plain(symptom.title)}:
            return name
    found = [
        name
        for name, symptom in knowledge.symptoms.items()
        if wanted in {plain(synonym) for synonym in (*symptom.synonyms, *symptom.period)}
    ]
    return found[0] if len(found) == 1 else None


def plain(words: str) -> str:
    """Words for comparing: small letters, single spaces, no hyphens or underscores."""
    return " ".join(words.casefold().replace("-", " ").replace("_", " ").split())


def _symptom(told: str, knowledge: Knowledge, complaints: list[str]) -> str | None:
    if told in knowledge.symptoms:
        return told
    name = find_symptom(told, knowledge) if len(told) <= LONGEST_TEXT else None
    if name is None:
        known = [*knowledge.symptoms, *(word for item in knowledge.symptoms.values() for word in item.synonyms)]
        complaints.append(_no("symptom", told, known) + "; `diagnose symptoms` lists them")
    return name


def _attributes(
    name: str, given: Mapping[str, str], knowledge: Knowledge, unknown: set[str], complaints: list[str]
) -> dict[str, str]:
    offered = knowledge.symptoms[name].attributes
    good = {}
    for attribute, value in given.items():
        if attribute not in offered:
            asked = f"it may be told: {', '.join(offered)}" if offered else "it has no attributes"
            complaints.append(f"{name} is not described by {shown(attribute)}; {asked}")
        elif value.strip().casefold() in UNKNOWN_WORDS:
            unknown.add(f"{name}.{attribute}")
        elif value not in offered[attribute]:
            complaints.append(
                f"{name}: no {attribute} called {shown(value)}; use one of: {', '.join(offered[attribute])}"
            )
        else:
            good[attribute] = value
    return good


def _conditions(
    plate: Plate, knowledge: Knowledge, unknown: set[str], complaints: list[str], labels: dict[str, str]
) -> tuple[dict[str, float], dict[str, str]]:
    amounts: dict[str, float] = {}
    options: dict[str, str] = {}
    for name, value in sorted(plate.conditions.items()):
        entry = knowledge.conditions.get(name)
        if entry is None:
            complaints.append(_no("condition", name, knowledge.conditions))
        elif value.strip().casefold() in UNKNOWN_WORDS:
            unknown.add(name)
        elif entry.kind == "quantity":
            made = day_number(value.strip()) if entry.unit == "d" else None
            amount = read_condition(name, value, entry) if made is None else _age(name, value, plate.day, entry)
            if made is not None:
                labels[name] = value.strip()
            if isinstance(amount, str):
                complaints.append(amount)
            else:
                amounts[name] = amount
        elif value.strip().casefold() in entry.answers:
            options[name] = value.strip().casefold()
        else:
            complaints.append(f"{name}: no answer {shown(value)}; use one of: {', '.join(entry.answers)}")
    return amounts, options


def read_condition(name: str, value: str, entry: Condition) -> float | str:
    """An amount for a condition, or the complaint in words.

    Args:
        name: the condition
        value: as typed, such as "82 °F"
        entry: what may be answered
    """
    low, high = entry.range or (-math.inf, math.inf)
    try:
        amount = read_amount(value[:LONGEST_TEXT], entry.unit)
    except UnitError as error:
        return f"{name}: {printable(str(error))}"
    if not low <= amount <= high:
        between = f"{print_amount(low, entry.unit)} to {print_amount(high, entry.unit)}"
        return f"{name}: {shown(value)} cannot be right; anything from {between} is accepted"
    return amount


def _age(name: str, label: str, day: str, entry: Condition) -> float | str:
    """Days from the date on a label to the day of the plate, or the complaint in words."""
    made, today = day_number(label.strip()), day_number(day)
    if made is None or today is None:
        return f'{name}: {shown(label)} is a date; say the day of the plate too, as day = "2026-05-01", or tell the age'
    if made > today:
        return f"{name}: {shown(label)} comes after the day of the plate, {day}"
    return read_condition(name, f"{today - made} d", entry)


def _outcomes(plate: Plate, knowledge: Knowledge, unknown: set[str], complaints: list[str]) -> dict[str, str]:
    outcomes = {}
    for name, value in sorted(plate.checks.items()):
        check = knowledge.checks.get(name)
        if check is None:
            complaints.append(_no("check", name, knowledge.checks))
        elif value.strip().casefold() in UNKNOWN_WORDS:
            unknown.add(name)
        elif value in {outcome.id for outcome in check.outcome}:
            outcomes[name] = value
        elif check.outcome:
            complaints.append(
                f"{name}: no outcome {shown(value)}; use one of: {', '.join(o.id for o in check.outcome)}"
            )
        else:
            complaints.append(f"{name} has no outcomes of its own; give its conditions: {', '.join(check.answers)}")
    return outcomes


def _no(kind: str, name: str, known: Any) -> str:
    hint = near(name[:LONGEST_TEXT], known)
    return f"no {kind} called {shown(name)!r}" + (f"; {hint}" if hint else "")
