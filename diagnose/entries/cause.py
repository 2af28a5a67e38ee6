"""A cause and everything that hangs on it."""

from typing import Annotated, Literal

from pydantic import Field

from diagnose.entries.shapes import CausePath, Entry, Sentence, ShortSentence, Slug, Sourced, Tests, Values, Word


class SymptomLink(Sourced):
    """How a cause shows on the plate."""

    symptom: Slug
    seen: Word
    place: Values = ()
    direction: Values = ()
    colour: Values = ()
    depth: Values = ()
    first_seen: Values = ()
    when: Tests = ()
    why: Sentence

    @property
    def attributes(self) -> dict[str, tuple[str, ...]]:
        """The attributes this link states, by name."""
        stated = {
            "place": self.place,
            "direction": self.direction,
            "colour": self.colour,
            "depth": self.depth,
            "first_seen": self.first_seen,
        }
        return {name: values for name, values in stated.items() if values}


class CheckLink(Sourced):
    """How a cause answers a check."""

    check: Slug
    outcome: Slug
    seen: Word
    when: Tests = ()
    why: Sentence


class Shift(Sourced):
    """A fact about the day that makes a cause likelier or unlikelier."""

    when: Annotated[Tests, Field(min_length=1)]
    unless: Tests = ()
    weight: Word
    group: str = ""
    why: Sentence


class RuledOut(Sourced):
    """A fact that makes a cause all but impossible."""

    when: Annotated[Tests, Field(min_length=1)]
    unless: Tests = ()
    why: Sentence


class Step(Sourced):
    """One step of the mechanism, in order."""

    then: Sentence
    shows: Slug | None = None


class RemedyLink(Entry):
    """A remedy for this cause and how surely it works."""

    do: Slug
    surely: Word
    when: Tests = ()


class Prevention(Entry):
    """A remedy that keeps the cause away."""

    do: Slug


class LookAlike(Entry):
    """A cause this one is taken for, and what parts the two."""

    cause: CausePath
    apart: Sentence


class Dissent(Sourced):
    """Where the sources differ."""

    says: Sentence


StandsIn = Literal[
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


class Cause(Entry):
    """Why a plate is spoiled; its name and stage come from the file's path."""

    title: ShortSentence
    brief: ShortSentence
    usual: Word
    kind: Literal["chemistry", "light", "hand"]
    scope: Literal["this-plate", "standing"]
    stands_in: StandsIn | None = None
    exclusive: Slug | None = None
    symptom: Annotated[tuple[SymptomLink, ...], Field(min_length=1)]
    check: tuple[CheckLink, ...] = ()
    likelier: tuple[Shift, ...] = ()
    unlikelier: tuple[Shift, ...] = ()
    ruled_out: tuple[RuledOut, ...] = ()
    step: Annotated[tuple[Step, ...], Field(min_length=2)]
    remedy: Annotated[tuple[RemedyLink, ...], Field(min_length=1)]
    prevent: tuple[Prevention, ...] = ()
    look_alike: tuple[LookAlike, ...] = ()
    dissent: tuple[Dissent, ...] = ()
