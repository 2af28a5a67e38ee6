"""Can the tests in the files be read, and can they ever hold?"""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from diagnose.entries.read import Draft
from diagnose.entries.tests_in_words import (
    Comparison,
    Found,
    InState,
    IsKnown,
    IsOption,
    Seen,
    Test,
    TestError,
    read_test,
)
from diagnose.errors import DiagnoseError, Problem, near
from diagnose.units import UNITS, accepted, read_amount

Place = tuple[str | int, ...]
TEST_FIELDS = ("when", "unless", "never_when", "dose_when")


def every_test(draft: Draft) -> Iterator[tuple[str, str, Place, str, str]]:
    """Every test: kind and name of its entry, place, field, words."""
    for kind in ("causes", "remedies", "states", "cautions"):
        for name, entry in draft.entries[kind].items():
            yield from ((kind, name, place, field, words) for place, field, words in _tests_in(entry, ()))


def tests(draft: Draft) -> Iterator[Problem]:
    """Tests that cannot be read, name something unknown, or can never hold."""
    for kind, name, place, field, words in every_test(draft):
        file, line = draft.line(kind, name, *place, field)
        try:
            problem = _fault(read_test(words), draft)
        except TestError as error:
            yield Problem(file, line, *str(error).split("; ", 1))
            continue
        if problem:
            yield Problem(file, line, *problem)


def unless_on_state(draft: Draft) -> Iterator[Problem]:
    """An `unless` on a state would fire before the state is derived."""
    for kind, name, place, field, words in every_test(draft):
        test = _read(words)
        if field in {"unless", "never_when"} and isinstance(test, InState) and field == "unless":
            file, line = draft.line(kind, name, *place, field)
            yield Problem(
                file,
                line,
                f"`unless` cannot stand on the state {words!r}",
                "put the state's own conditions here instead",
            )


def circles(draft: Draft) -> Iterator[Problem]:
    """States that need themselves, and states no condition can bring about."""
    states = draft.entries["states"]
    reachable: set[str] = set()
    while True:
        more = {
            name
            for name, state in states.items()
            if name not in reachable
            and any(
                all(not isinstance(test := _read(words), InState) or test.state in reachable for words in way.when)
                for way in state.way
            )
        }
        if not more:
            break
        reachable |= more
    for name in states:
        if name not in reachable:
            file, line = draft.line("states", name)
            yield Problem(
                file,
                line,
                f"the state {name!r} can never come about",
                "break the circle of states that need each other",
            )


def tested_names(draft: Draft) -> set[tuple[str, str]]:
    """Every (kind, name) some test asks about."""
    found: set[tuple[str, str]] = set()
    for _, _, _, _, words in every_test(draft):
        match _read(words):
            case Comparison(condition) | IsOption(condition) | IsKnown(condition):
                found.add(("conditions", condition))
            case InState(state):
                found.add(("states", state))
            case Seen(symptom):
                found.add(("symptoms", symptom))
            case Found(check):
                found.add(("checks", check))
    return found


def _read(words: str) -> Test | None:
    try:
        return read_test(words)
    except TestError:
        return None


def _fault(test: Test, draft: Draft) -> tuple[str, str] | None:
    match test:
        case InState(state):
            return _unknown("state", state, draft.entries["states"])
        case Seen(symptom):
            return _unknown("symptom", symptom, draft.entries["symptoms"])
        case Found(check, outcome):
            entry = draft.entries["checks"].get(check)
            outcomes = [item.id for item in entry.outcome] if entry else []
            return _unknown("check", check, draft.entries["checks"]) or _unknown("outcome", outcome, outcomes)
        case IsKnown(condition):
            return _unknown("condition", condition, draft.entries["conditions"])
        case IsOption(condition, option):
            entry = draft.entries["conditions"].get(condition)
            if entry is None:
                return _unknown("condition", condition, draft.entries["conditions"])
            if entry.kind == "quantity":
                return f"{condition!r} is an amount, not a choice", f'write "{condition} > ... {entry.unit}"'
            return _unknown("answer", option, entry.answers)
        case Comparison():
            return _comparison_fault(test, draft)


def _comparison_fault(test: Comparison, draft: Draft) -> tuple[str, str] | None:
    entry = draft.entries["conditions"].get(test.condition)
    if entry is None:
        return _unknown("condition", test.condition, draft.entries["conditions"])
    if entry.kind != "quantity":
        return (
            f"{test.condition!r} is not an amount",
            f'write "{test.condition} is ..." with one of: {", ".join(entry.answers)}',
        )
    if entry.unit.casefold() not in UNITS or entry.range is None:
        return None  # told by the check on conditions
    try:
        value = read_amount(test.amount, entry.unit)
    except DiagnoseError as error:
        words, _, fix = str(error).partition("; ")
        return words, fix or accepted(entry.unit)
    low, high = entry.range
    if not low <= value <= high:
        return (
            f"{test.amount} is outside the range of {test.condition!r}",
            f"stay between {low:g} and {high:g} {entry.unit}",
        )
    return None


def _unknown(kind: str, name: str, known: Any) -> tuple[str, str] | None:
    if name in known:
        return None
    return f"no {kind} called {name!r}", near(name, known) or f"use a {kind} that exists"


def _tests_in(entry: Any, place: Place) -> Iterator[tuple[Place, str, str]]:
    for field in (part.name for part in fields(entry)):
        value = getattr(entry, field)
        if field in TEST_FIELDS:
            yield from ((place, field, words) for words in value)
        elif field == "needs":
            yield from ((place, field, words) for group in value for words in group)
        elif isinstance(value, tuple):
            for number, item in enumerate(value):
                if is_dataclass(item):
                    yield from _tests_in(item, (*place, field, number))
