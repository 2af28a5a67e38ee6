"""What a person can tell: symptoms, conditions, and the states that follow from them."""

from typing import Annotated, Literal

from pydantic import Field

from diagnose.entries.shapes import (
    AttributeName,
    ConditionName,
    Entry,
    Minutes,
    Sentence,
    ShortSentence,
    Slug,
    Sourced,
    Tests,
    Word,
)


class Symptom(Entry):
    """One look of a spoiled plate, named as seen on a positive."""

    title: ShortSentence
    look: Sentence
    synonyms: tuple[ShortSentence, ...] = ()
    period: tuple[ShortSentence, ...] = ()
    on_negative: str = ""
    notice: Word
    among: Word
    first_seen: Slug
    attributes: dict[AttributeName, tuple[Slug, ...]] = {}
    family: str = ""


class Condition(Entry):
    """One thing about the session: how it is asked and what may be answered."""

    ask: ShortSentence
    kind: Literal["quantity", "choice", "yes-no"]
    unit: str = ""
    range: tuple[float, float] | None = None
    ordinary: tuple[float, float] | None = None
    options: dict[Slug, ShortSentence] = {}
    group: Literal["", "changed"] = ""
    station: Literal["plate", "bottles", "measure", "memory"]
    minutes: Minutes

    @property
    def answers(self) -> dict[str, str]:
        """Every answer of a choice or yes-or-no condition, with its words."""
        return {"yes": "yes", "no": "no"} if self.kind == "yes-no" else dict(self.options)


class Way(Sourced):
    """One set of tests that brings a state about."""

    when: Annotated[Tests, Field(min_length=1)]
    unless: Tests = ()


class State(Entry):
    """Something that follows from conditions or from other states."""

    means: ShortSentence
    way: Annotated[tuple[Way, ...], Field(min_length=1)]


class Outcome(Entry):
    """One way a check can come out."""

    id: Slug
    says: ShortSentence
    normal: bool = False
    among: Word = "uncommon"


class Check(Sourced):
    """A look, a measurement or a proving plate that tells causes apart."""

    title: ShortSentence
    do: Sentence
    station: Literal["plate", "bottles", "measure", "proving-plate"]
    minutes: Minutes
    plates: int = Field(default=0, ge=0, le=5)
    tells_apart: ShortSentence
    answers: tuple[ConditionName, ...] = ()
    could_clear: tuple[Slug, ...] = ()
    caution: tuple[Slug, ...] = ()
    outcome: tuple[Outcome, ...] = ()
