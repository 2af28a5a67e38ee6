"""What every knowledge entry has in common."""

from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field


class Entry(BaseModel):
    """A frozen entry that refuses keys it does not know."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", str_strip_whitespace=True, populate_by_name=True, defer_build=True
    )


def _several(value: object) -> object:
    return (value,) if isinstance(value, str) else value


Slug = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=60)]
AttributeName = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*(_[a-z0-9]+)*$", max_length=30)]
ConditionName = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*(_[a-z0-9]+)*$", max_length=60)]
CausePath = Annotated[str, Field(pattern=r"^[a-z-]+/[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=120)]
Sentence = Annotated[str, Field(min_length=3, max_length=400, pattern=r"^[^\x00-\x1f\x7f]*$")]
ShortSentence = Annotated[str, Field(min_length=2, max_length=120, pattern=r"^[^\x00-\x1f\x7f]*$")]
Sources = Annotated[tuple[ShortSentence, ...], Field(min_length=1)]
Values = Annotated[tuple[Slug, ...], BeforeValidator(_several)]
TestText = Annotated[str, Field(min_length=3, max_length=120)]
Tests = tuple[TestText, ...]
Word = Annotated[str, Field(pattern=r"^[a-z][a-z-]*$", max_length=30)]
Minutes = Annotated[float, Field(ge=0, le=2000)]


class Sourced(Entry):
    """An entry that says where it comes from; `from` in the file."""

    from_: Sources = Field(alias="from")
