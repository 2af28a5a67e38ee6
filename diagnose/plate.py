"""The plate in hand: what it shows, what is known of the session, what was checked and tried."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, cast

from diagnose.errors import PlateError, printable

Answer = Literal["present", "absent", "unsure", "cant-tell"]
Result = Literal["no-change", "better", "cured"]
ANSWERS = ("present", "absent", "unsure", "cant-tell")
RESULTS = ("no-change", "better", "cured")
PARTS = ("symptoms", "conditions", "checks", "tried", "story", "day")
DONT_KNOW = "?"
LONGEST_TEXT = 200
LONGEST_STORY = 5000
MOST_ENTRIES = 400
MOST_COMPLAINTS = 5


@dataclass(frozen=True)
class SymptomAnswer:
    """What was said about one symptom.

    Args:
        answer: "present", "absent", "unsure" or "cant-tell"
        attributes: how it looks: place, direction, colour and so on
    """

    answer: Answer = "present"
    attributes: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Tried:
    """A remedy that was tried and what the next plate showed.

    Args:
        remedy: its name
        result: "no-change", "better" or "cured"
    """

    remedy: str
    result: Result


@dataclass(frozen=True)
class Plate:
    """One spoiled plate as it is told, before anything is looked up.

    Args:
        symptoms: name or any synonym -> True, False, "unsure", "cant-tell", or a table with place, colour and so on
        conditions: name -> "28 °C", an option, "yes", "no", or "?" where it is not known
        checks: name -> outcome, or "?" where it could not be told
        tried: tables of remedy and result, in order
        story: anything else, in words; kept, not read
        day: the day the plate was made, as 2026-05-01, wanted where an age is told by the date on a label; "" otherwise

    Raises:
        PlateError: one line for everything that has the wrong shape
    """

    symptoms: Mapping[str, SymptomAnswer] = field(default_factory=dict)
    conditions: Mapping[str, str] = field(default_factory=dict)
    checks: Mapping[str, str] = field(default_factory=dict)
    tried: tuple[Tried, ...] = ()
    story: str = ""
    day: str = ""

    def __post_init__(self) -> None:
        """Take in what may be written in more than one way."""
        wrong: list[str] = []
        values = {
            "symptoms": _table(self.symptoms, "symptoms", _symptom_answer, wrong),
            "conditions": _table(self.conditions, "conditions", _word, wrong),
            "checks": _table(self.checks, "checks", _word, wrong),
            "tried": _tried(self.tried, wrong),
            "story": _story(self.story, wrong),
            "day": _day(self.day, wrong),
        }
        if wrong:
            raise PlateError("; ".join(wrong[:MOST_COMPLAINTS]))
        for name, value in values.items():
            object.__setattr__(self, name, value)

    @classmethod
    def read(cls, told: Mapping[str, Any]) -> "Plate":
        """A plate from a table such as a TOML or JSON file gives.

        Args:
            told: symptoms, conditions, checks, tried, story

        Raises:
            PlateError: everything with the wrong shape, in one line
        """
        if not isinstance(told, Mapping):
            raise PlateError(f"the plate: {shown(told)} has the wrong shape; write a table of {', '.join(PARTS)}")
        strange = [part for part in told if part not in PARTS]
        if strange:
            raise PlateError(f"{shown(strange[0])}: there is no such part; a plate has {', '.join(PARTS)}")
        return cls(**told)

    def told(self) -> dict[str, Any]:
        """The plate as plain tables, the way `read` takes it."""
        return {
            "symptoms": {name: {"answer": item.answer, **item.attributes} for name, item in self.symptoms.items()},
            "conditions": dict(self.conditions),
            "checks": dict(self.checks),
            "tried": [{"remedy": item.remedy, "result": item.result} for item in self.tried],
        } | ({"day": self.day} if self.day else {})


def _table(value: Any, part: str, read: Any, wrong: list[str]) -> dict[str, Any]:
    """One part of a plate: names and what is said of them."""
    if part == "symptoms" and isinstance(value, list | tuple | set | frozenset):
        value = (
            {name: True for name in value if isinstance(name, str)} if all(isinstance(n, str) for n in value) else None
        )
    if not isinstance(value, Mapping):
        wrong.append(f"{part}: {shown(value)} has the wrong shape")
        return {}
    if len(value) > MOST_ENTRIES:
        wrong.append(f"{part}: far too much was written here")
        return {}
    return {_name(name): read(answer, f"{part}.{shown(name)}", wrong) for name, answer in value.items()}


def _name(key: Any) -> str:
    return key if isinstance(key, str) else shown(key)


def _symptom_answer(value: Any, place: str, wrong: list[str]) -> SymptomAnswer:
    if isinstance(value, SymptomAnswer):
        return value
    if isinstance(value, bool):
        return SymptomAnswer("present" if value else "absent")
    table = value if isinstance(value, Mapping) else {"answer": value}
    given = table.get("answer", "present")
    answer = {"yes": "present", "no": "absent", DONT_KNOW: "cant-tell", True: "present", False: "absent"}.get(
        given if isinstance(given, str | bool) else "", given
    )
    if answer not in ANSWERS:
        wrong.append(f"{place}: {shown(given)} is not an answer; use {', '.join(ANSWERS)}, true or false")
        return SymptomAnswer()
    looks = {_name(key): _word(look, f"{place}.{shown(key)}", wrong) for key, look in table.items() if key != "answer"}
    return SymptomAnswer(cast("Answer", answer), dict(sorted(looks.items())))


def _word(value: Any, place: str, wrong: list[str]) -> str:
    """A text, a number or a yes-or-no, as text."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return shown(value)
    if isinstance(value, str):
        return value
    wrong.append(f"{place}: {shown(value)} has the wrong shape")
    return ""


def _tried(value: Any, wrong: list[str]) -> tuple[Tried, ...]:
    if not isinstance(value, list | tuple) or len(value) > MOST_ENTRIES:
        wrong.append(f"tried: {shown(value)} has the wrong shape; write a list of tables with remedy and result")
        return ()
    steps = []
    for number, item in enumerate(value, start=1):
        table = {"remedy": item.remedy, "result": item.result} if isinstance(item, Tried) else item
        if not isinstance(table, Mapping) or set(table) != {"remedy", "result"}:
            wrong.append(f"tried.{number}: {shown(item)} has the wrong shape; write remedy and result")
        elif table["result"] not in RESULTS:
            wrong.append(f"tried.{number}: {shown(table['result'])} is not a result; use {', '.join(RESULTS)}")
        elif not isinstance(table["remedy"], str):
            wrong.append(f"tried.{number}: {shown(table['remedy'])} is not a remedy's name")
        else:
            steps.append(Tried(table["remedy"], cast("Result", table["result"])))
    return tuple(steps)


def _story(value: Any, wrong: list[str]) -> str:
    if not isinstance(value, str) or len(value) > LONGEST_STORY:
        wrong.append("story: write a text of at most 5000 letters")
        return ""
    return value


def _day(value: Any, wrong: list[str]) -> str:
    if value is None or (isinstance(value, str) and (not value or day_number(value) is not None)):
        return value or ""
    wrong.append(f"day: {shown(value)} is not a date; write it as 2026-05-01")
    return ""


def day_number(text: str) -> int | None:
    """A date as a count of days, so that two can be told apart; None if it is none.

    Args:
        text: year, month and day, as 2026-05-01

    >>> day_number("2026-05-01") - day_number("2026-04-01"), day_number("2026-02-30")
    (30, None)
    """
    from datetime import date

    if (
        len(text) != len("2026-05-01") or not text[4] == text[7] == "-"
    ):  # not the other forms Python reads, such as weeks
        return None
    try:
        return date.fromisoformat(text).toordinal()
    except ValueError:
        return None


def shown(value: Any) -> str:
    """A value as it may be put on a screen: short, on one line, without control characters.

    Args:
        value: anything a person typed
    """
    try:
        text = value if isinstance(value, str) else repr(value)
    except (ValueError, RecursionError):  # a number of thousands of figures, lists a thousand deep
        text = "what is written here"
    clean = printable(text)
    return clean if len(clean) <= 60 else clean[:57] + "..."
