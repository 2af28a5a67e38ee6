"""The plate in hand: what it shows, what is known of the session, what was checked and tried."""

from collections.abc import Iterable, Mapping
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, field_validator

from diagnose.errors import PlateError

Answer = Literal["present", "absent", "unsure", "cant-tell"]
Result = Literal["no-change", "better", "cured"]
ANSWERS = ("present", "absent", "unsure", "cant-tell")
RESULTS = ("no-change", "better", "cured")
DONT_KNOW = "?"
LONGEST_TEXT = 200
MOST_ENTRIES = 400


class SymptomAnswer(BaseModel):
    """What was said about one symptom."""

    model_config = ConfigDict(frozen=True, extra="allow", defer_build=True)

    answer: Answer = "present"

    @property
    def attributes(self) -> dict[str, str]:
        """The attributes that were given, such as place or colour."""
        return {name: str(value) for name, value in sorted((self.model_extra or {}).items())}


class Tried(BaseModel):
    """A remedy that was tried and what the next plate showed."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    remedy: str
    result: Result


class Plate(BaseModel):
    """One spoiled plate as it is told, before anything is looked up.

    Args:
        symptoms: name or any synonym -> True, False, "unsure", "cant-tell", or a table with place, colour and so on
        conditions: name -> "28 °C", an option, "yes", "no", or "?" where it is not known
        checks: name -> outcome, or "?" where it could not be told
        tried: remedies tried and what the next plate showed: "no-change", "better" or "cured"

    Raises:
        PlateError: from `Plate.read`, one line for everything that has the wrong shape
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    story: str = Field(default="", max_length=5000)
    symptoms: dict[str, SymptomAnswer] = Field(default={}, max_length=MOST_ENTRIES)
    conditions: dict[str, str] = Field(default={}, max_length=MOST_ENTRIES)
    checks: dict[str, str] = Field(default={}, max_length=MOST_ENTRIES)
    tried: tuple[Tried, ...] = Field(default=(), max_length=MOST_ENTRIES)

    @field_validator("symptoms", mode="before")
    @classmethod
    def _symptom_shapes(cls, value: Any) -> Any:
        if isinstance(value, list | tuple | set | frozenset):
            value = {str(name): True for name in value}
        if not isinstance(value, Mapping):
            return value
        return {str(name): _symptom_answer(answer) for name, answer in value.items()}

    @field_validator("conditions", mode="before")
    @classmethod
    def _condition_shapes(cls, value: Any) -> Any:
        if not isinstance(value, Mapping):
            return value
        return {str(name): _plain(answer) for name, answer in value.items()}

    @classmethod
    def read(cls, told: Mapping[str, Any]) -> "Plate":
        """A plate from a table such as a TOML or JSON file gives.

        Args:
            told: symptoms, conditions, checks, tried, story

        Raises:
            PlateError: everything with the wrong shape, in one line
        """
        try:
            return cls.model_validate(told)
        except ValidationError as error:
            raise PlateError("; ".join(_complaint(item) for item in error.errors(include_url=False)[:5])) from None
        except RecursionError:
            raise PlateError(
                "the plate is nested too deeply; use the tables symptoms, conditions, checks and tried"
            ) from None

    def told(self) -> dict[str, Any]:
        """The plate as plain tables, the way `read` takes it."""
        return {
            "symptoms": {name: {"answer": item.answer, **item.attributes} for name, item in self.symptoms.items()},
            "conditions": dict(self.conditions),
            "checks": dict(self.checks),
            "tried": [{"remedy": item.remedy, "result": item.result} for item in self.tried],
        }


def _symptom_answer(answer: Any) -> Any:
    if isinstance(answer, bool):
        return {"answer": "present" if answer else "absent"}
    if isinstance(answer, str):
        return {"answer": {"yes": "present", "no": "absent", DONT_KNOW: "cant-tell"}.get(answer, answer)}
    if isinstance(answer, Mapping):
        return {str(key): value if isinstance(value, str) else str(_plain(value)) for key, value in answer.items()}
    return answer


def _plain(value: Any) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return repr(value)
    return value


def _complaint(item: Mapping[str, Any]) -> str:
    place = ".".join(shown(part) for part in item["loc"]) or "the plate"
    match item["type"]:
        case "literal_error":
            return f"{place}: {shown(item['input'])} is not an answer; use {item['ctx']['expected']}"
        case "extra_forbidden":
            return f"{place}: there is no such part; a plate has symptoms, conditions, checks, tried and story"
        case "missing":
            return f"{place}: is missing"
        case "too_long" | "string_too_long":
            return f"{place}: far too much was written here"
        case _:
            return f"{place}: {shown(item['input'])} has the wrong shape"


def shown(value: Any) -> str:
    """A value as it may be put on a screen: short, on one line, without control characters.

    Args:
        value: anything a person typed
    """
    try:
        text = value if isinstance(value, str) else repr(value)
    except (ValueError, RecursionError):  # a number of thousands of figures, lists a thousand deep
        text = "what is written here"
    clean = "".join(letter if letter.isprintable() else " " for letter in text)
    return clean if len(clean) <= 60 else clean[:57] + "..."


def tried_of(pairs: Iterable[tuple[str, str]]) -> list[dict[str, str]]:
    """Tried remedies as `Plate.read` takes them.

    Args:
        pairs: remedy and result
    """
    return [{"remedy": remedy, "result": result} for remedy, result in pairs]
