"""What was told of a plate, put against the knowledge when it is taken in."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from diagnose.daybook.exchange_problems import Place, Problems
from diagnose.daybook.exchange_words import keepable, text_meant
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError, near
from diagnose.facts import find_symptom, plain, understand
from diagnose.plate import PARTS, Plate, day_number, shown

LONGEST_NAME = 200
ITEMS = ("symptoms", "conditions", "checks")


def read_told(told: Any, place: Place, day: str, knowledge: Knowledge, problems: Problems) -> dict[str, Any]:
    """What was told of a plate, its signs under the names of the knowledge, all else as it was told.

    Args:
        told: symptoms, conditions, checks, tried and story, as `Plate.read` takes them
        place: of the entry
        day: of the plate
        knowledge: the craft
        problems: takes in everything wrong, an item each
    """
    here = (*place, "told")
    if not isinstance(told, Mapping):
        problems.add(here, "told", f"{shown(told)} has the wrong shape; write a table of {', '.join(PARTS)}")
        return {}
    if not told:
        return {}
    if not _keepable(told):
        problems.add(here, "told", "there is a sign in it that is no letter and cannot be kept; write it anew")
        return {}
    dated = {**told, "day": day} if day and _has_label_date(told) and not told.get("day") else dict(told)
    try:
        plate = Plate.read(dated)
        understand(plate, knowledge)
    except PlateError as error:
        _one_by_one(dated, str(error), here, day, knowledge, problems)
        return {}
    if not isinstance(dated.get("symptoms"), Mapping | None):
        dated["symptoms"] = dict.fromkeys(plate.symptoms, True)
    if dated.get("symptoms"):
        dated["symptoms"] = {sign_named(name, knowledge) or name: item for name, item in dated["symptoms"].items()}
    return dated


def condition_value(
    table: Mapping[str, Any], place: Place, day: str, knowledge: Knowledge, problems: Problems
) -> tuple[str, str]:
    """A condition and what was told of it.

    Args:
        table: an entry with condition and value
        place: of the entry
        day: of the entry
        knowledge: the craft
        problems: takes in what is wrong
    """
    told = text_meant(table.get("condition", ""), (*place, "condition"), "condition", problems, LONGEST_NAME)
    value = text_meant(table.get("value", ""), (*place, "value"), "value", problems, LONGEST_NAME)
    condition = find_condition(told, knowledge)
    if condition is None:
        hint = near(told, knowledge.conditions)
        no = f"no condition called {shown(told)!r}" if told else "no condition is told"
        problems.add((*place, "condition"), "condition", f"{no}; {hint}" if hint else no)
        return told, value
    if value:
        try:
            understand(Plate(conditions={condition: value}, day=day), knowledge)
        except PlateError as error:
            problems.add((*place, "value"), "value", str(error))
    return condition, value


def cause_meant(value: Any, place: Place, knowledge: Knowledge, problems: Problems) -> str:
    """A cause by its full name or its last part; "" for none.

    Args:
        value: as read
        place: where it stands
        knowledge: the craft
        problems: takes in what is wrong
    """
    text = text_meant(value, place, "confirmed", problems, LONGEST_NAME).strip()
    if not text or text in knowledge.causes:
        return text
    found = [cause for cause in knowledge.causes if cause.partition("/")[2] == text]
    if len(found) == 1:
        return found[0]
    hint = near(text, [*knowledge.causes, *(cause.partition("/")[2] for cause in knowledge.causes)])
    no = f"no cause called {shown(text)!r}"
    problems.add(place, "confirmed", f"{no}; {hint}" if hint else f"{no}; leave it out while it is not known")
    return ""


def find_condition(words: str, knowledge: Knowledge) -> str | None:
    """The condition that a name means, with spaces, hyphens or underscores.

    Args:
        words: such as "room temperature"
        knowledge: the craft
    """
    return words if words in knowledge.conditions else _conditions(knowledge).get(plain(words))


@lru_cache(maxsize=2000)
def sign_named(words: str, knowledge: Knowledge) -> str | None:
    """The sign that a name, title or synonym means, if exactly one does; a whole archive asks for few.

    Args:
        words: as written
        knowledge: the craft
    """
    return words if words in knowledge.symptoms else find_symptom(words, knowledge)


@lru_cache(maxsize=4)
def _conditions(knowledge: Knowledge) -> dict[str, str]:
    return {plain(name): name for name in knowledge.conditions}


def _one_by_one(
    told: dict[str, Any], whole: str, here: Place, day: str, knowledge: Knowledge, problems: Problems
) -> None:
    """Everything wrong, an item of the table at a time, so that each has its line."""
    before = problems.count
    for part, value in told.items():
        items = value.items() if part in ITEMS and isinstance(value, Mapping) else [(None, value)]
        for name, item in items:
            alone = {part: value if name is None else {name: item}}
            if part != "day" and day_number(day) is not None:
                alone["day"] = day
            try:
                understand(Plate.read(alone), knowledge)
            except PlateError as error:
                problems.add((*here, part) if name is None else (*here, part, name), str(part), str(error))
    if problems.count == before:  # nothing is wrong with any one of them, only with all together
        problems.add(here, "told", whole)


def _has_label_date(told: Mapping[str, Any]) -> bool:
    conditions = told.get("conditions")
    values = conditions.values() if isinstance(conditions, Mapping) else ()
    return any(isinstance(value, str) and day_number(value.strip()) is not None for value in values)


def _keepable(value: Any) -> bool:
    """Whether every text in tables and lists can be kept."""
    if isinstance(value, str):
        return keepable(value)
    if isinstance(value, Mapping):
        return all(_keepable(key) and _keepable(item) for key, item in value.items())
    return all(map(_keepable, value)) if isinstance(value, list | tuple) else True
