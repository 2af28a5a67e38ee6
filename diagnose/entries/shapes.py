"""What every knowledge entry has in common.

Entries are plain frozen dataclasses, so that a start which finds compiled knowledge never has to load pydantic. The marks below
tell pydantic, when files are read, what a text or a number may be.
"""

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, Literal


@dataclass(frozen=True)
class Text:
    """A mark: what letters and how many of them a text may have.

    Args:
        pattern: every text must match it
        least: fewest letters
        most: most letters
    """

    pattern: str | None = None
    least: int = 0
    most: int = 400

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """The mark in pydantic's terms; only called while files are read."""
        from pydantic_core import core_schema

        del source, handler
        return core_schema.str_schema(
            pattern=self.pattern, min_length=self.least, max_length=self.most, strip_whitespace=True, strict=True
        )


@dataclass(frozen=True)
class Amount:
    """A mark: between what bounds a number lies.

    Args:
        least: smallest
        most: largest
        whole: only whole numbers
    """

    least: float
    most: float
    whole: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """The mark in pydantic's terms; only called while files are read."""
        from pydantic_core import core_schema

        del source, handler
        if self.whole:
            return core_schema.int_schema(ge=int(self.least), le=int(self.most), strict=True)
        return core_schema.float_schema(ge=self.least, le=self.most, strict=True, allow_inf_nan=False)


@dataclass(frozen=True)
class NotEmpty:
    """A mark: how many a list holds at least."""

    least: int = 1

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """The mark in pydantic's terms; only called while files are read."""
        return {**handler(source), "min_length": self.least}


class TrueOrFalse:
    """A mark: true or false, and no word that means so."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """The mark in pydantic's terms; only called while files are read."""
        from pydantic_core import core_schema

        del source, handler
        return core_schema.bool_schema(strict=True)


class OneOrSeveral:
    """A mark: a single text may stand where a list is meant."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """The mark in pydantic's terms; only called while files are read."""
        from pydantic_core import core_schema

        return core_schema.no_info_before_validator_function(
            lambda value: (value,) if isinstance(value, str) else value, handler(source)
        )


def _key_in_file(name: str) -> str:
    """`from` is a word of the language, so its field is called `from_`."""
    return name.rstrip("_")


class Entry:
    """An entry refuses keys it does not know."""

    __pydantic_config__: ClassVar[dict[str, Any]] = {
        "extra": "forbid",
        "str_strip_whitespace": True,
        "alias_generator": _key_in_file,
    }

    def __repr__(self) -> str:
        """One for all: a start makes some thirty kinds of entry, and making each its own costs time."""
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in vars(self).items())})"


_NAME = r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$"
_UNDERSCORED = r"^[a-z][a-z0-9]*(_[a-z0-9]+)*$"
_PRINTABLE = r"^[^\x00-\x1f\x7f]*$"

Slug = Annotated[str, Text(_NAME, most=60)]
AttributeName = Annotated[str, Text(_UNDERSCORED, most=30)]
ConditionName = Annotated[str, Text(_UNDERSCORED, most=60)]
CausePath = Annotated[str, Text(r"^[a-z-]+/[a-z][a-z0-9]*(-[a-z0-9]+)*$", most=120)]
Sentence = Annotated[str, Text(_PRINTABLE, least=3)]
ShortText = Annotated[str, Text(_PRINTABLE, least=1, most=60)]
Substance = Annotated[str, Text(r"^[a-z][a-z0-9]*([ -][a-z0-9]+)*$", most=60)]
SumName = Annotated[str, Text(r"^([a-z][a-z0-9]*(-[a-z0-9]+)*)?$", most=60)]
ResultName = Annotated[str, Text(r"^([a-z][a-z0-9]*(_[a-z0-9]+)*)?$", most=60)]
ShortSentence = Annotated[str, Text(_PRINTABLE, least=2, most=120)]
Note = Annotated[str, Text(_PRINTABLE, most=1000)]
Sources = Annotated[tuple[ShortSentence, ...], NotEmpty()]
Values = Annotated[tuple[Slug, ...], OneOrSeveral()]
TestText = Annotated[str, Text(least=3, most=120)]
Tests = tuple[TestText, ...]
SomeTests = Annotated[tuple[TestText, ...], NotEmpty()]
Word = Annotated[str, Text(r"^[a-z][a-z-]*$", most=30)]
Minutes = Annotated[float, Amount(0, 2000)]
YesOrNo = Annotated[bool, TrueOrFalse()]
Plates = Annotated[int, Amount(0, 5, whole=True)]
Days = Annotated[int, Amount(0, 3650, whole=True)]
# What stands behind a plate: a standing cause stands in one of them, and many an answer holds for as long as it is not renewed.
Thing = Literal[
    "bath",
    "collodion",
    "developer",
    "fixer",
    "holder",
    "camera",
    "room",
    "weather",
    "plates",
    "varnish",
    "light",
    "water",
]
