"""Conditions in a few plain words: what the book knows of the next plate, and what was told of one.

A condition that `condition_names` has no words for is called by its own name with blanks, which most of them can bear.
"""

from collections.abc import Callable, Iterable, Mapping

from diagnose.daybook.condition_names import AGES, CHANGED, SENTENCES, YES_OR_NO
from diagnose.daybook.saying import counted
from diagnose.daybook.standing import FromBook
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.units import UnitError, read_amount

LONGEST_VALUE = 60  # letters of what was told
MINUTES_UP_TO, HOURS_UP_TO = 1.0, 48.0  # h; from here on the larger unit is said


def said(condition: str, value: str, knowledge: Knowledge) -> str:
    """A condition and its answer in a few words.

    Args:
        condition: its name
        value: as told
        knowledge: for the answers' words

    >>> said("bath_new", "no", Knowledge.__new__(Knowledge))
    'bath no longer new'
    """
    answer = value.strip().casefold()
    if condition in YES_OR_NO and answer in {"yes", "no"}:
        return YES_OR_NO[condition][answer == "no"]
    if condition in CHANGED and answer in {"yes", "no"}:
        same = "changed" if answer == "yes" else "the same"
        return f"{CHANGED[condition]} {same} since the last good plate"
    if condition in AGES and (days := _amount(value, "d")) is not None:
        age = f"{counted(days, 'day')} old" if round(days) else "of today"
        return f"{AGES[condition]} {age}"
    if condition == "collodion_rested" and (hours := _amount(value, "h")) is not None:
        return f"collodion has stood {_span(hours)}"
    words = _answer(condition, value, knowledge)
    if condition.endswith("_plates") and (plates := _amount(value, "plates")) is not None:
        words = counted(plates, "plate")
    sentence = SENTENCES.get(condition)
    if sentence is None:
        entry = knowledge.conditions.get(condition)
        return f"{condition.replace('_', ' ')}{' ' if entry and entry.kind == 'quantity' else ': '}{words}"
    return sentence.replace("{}", words)


def with_reason(item: FromBook, knowledge: Knowledge) -> str:
    """What the book knows, with where it comes from, and nothing said twice.

    Args:
        item: from `from_book`
        knowledge: for the answers' words
    """
    why = printable(item.words)
    for doubled in (f"{item.value} ", "it was "):
        why = why.removeprefix(doubled)
    if item.condition in CHANGED and item.value == "no":
        return said(item.condition, item.value, knowledge)
    if item.condition in CHANGED:
        if why.startswith(("another ", "the ")):  # what it is of stands in it
            return why
        return f"{CHANGED[item.condition]} changed: {why}"
    return f"{said(item.condition, item.value, knowledge)} ({why})"


def gathered(items: Iterable[FromBook], words: Callable[[FromBook], str]) -> list[str]:
    """Everything the book knows, what changed first, what did not change together at the end, and nothing twice.

    Args:
        items: from `from_book`
        words: one of them in words
    """
    items = list(items)
    aged = any(item.condition == "collodion_age" for item in items)
    items = [item for item in items if not (aged and _long_stood(item))]
    same = [item for item in items if item.condition in CHANGED and item.value == "no"]
    others = sorted((item for item in items if item not in same), key=lambda item: item.condition not in CHANGED)
    said_of = [words(item) for item in others]
    if not same:
        return said_of
    return [*said_of, f"as for the last good plate: {', '.join(CHANGED[item.condition] for item in same)}"]


def told_briefly(conditions: Mapping[str, str], knowledge: Knowledge) -> list[str]:
    """What was told of a plate, each in a few words.

    Args:
        conditions: as `Plate` has them
        knowledge: for the answers' words
    """
    return [said(name, value, knowledge) for name, value in conditions.items()]


def _answer(condition: str, value: str, knowledge: Knowledge) -> str:
    entry = knowledge.conditions.get(condition)
    words = entry.answers.get(value.strip().casefold(), value) if entry else value
    clean = printable({"?": "not known"}.get(words.strip(), words)).strip()
    return clean if len(clean) <= LONGEST_VALUE else f"{clean[: LONGEST_VALUE - 3]}..."


def _long_stood(item: FromBook) -> bool:
    """Whether a collodion has stood for days, which its age says as well."""
    hours = _amount(item.value, "h") if item.condition == "collodion_rested" else None
    return hours is not None and hours >= HOURS_UP_TO


def _amount(value: str, unit: str) -> float | None:
    try:
        return read_amount(value, unit)
    except UnitError:
        return None


def _span(hours: float) -> str:
    if hours < MINUTES_UP_TO:
        return counted(hours * 60, "minute")
    return counted(hours, "hour") if hours < HOURS_UP_TO else counted(hours / 24, "day")
