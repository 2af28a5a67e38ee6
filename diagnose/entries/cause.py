"""A cause and everything that hangs on it."""

from dataclasses import dataclass
from typing import Annotated, Literal

from diagnose.entries.shapes import (
    CausePath,
    Entry,
    Note,
    NotEmpty,
    Sentence,
    ShortSentence,
    Slug,
    SomeTests,
    Sources,
    Tests,
    Thing,
    Values,
    Word,
)


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class SymptomLink(Entry):
    """How a cause shows on the plate."""

    from_: Sources
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


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class CheckLink(Entry):
    """How a cause answers a check."""

    from_: Sources
    check: Slug
    outcome: Slug
    seen: Word
    when: Tests = ()
    why: Sentence


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Shift(Entry):
    """A fact about the day that makes a cause likelier or unlikelier."""

    from_: Sources
    when: SomeTests
    unless: Tests = ()
    weight: Word
    group: str = ""
    why: Sentence


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class RuledOut(Entry):
    """A fact that makes a cause all but impossible."""

    from_: Sources
    when: SomeTests
    unless: Tests = ()
    why: Sentence


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Step(Entry):
    """One step of the mechanism, in order; where chemistry happens it names the reactions."""

    from_: Sources
    then: Sentence
    shows: Slug | None = None
    chemistry: Values = ()


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class RemedyLink(Entry):
    """A remedy for this cause and how surely it works."""

    do: Slug
    surely: Word
    when: Tests = ()


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Prevention(Entry):
    """A remedy that keeps the cause away."""

    do: Slug


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class LookAlike(Entry):
    """A cause this one is taken for, and what parts the two."""

    cause: CausePath
    apart: Sentence


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class TreatAlike(Entry):
    """A cause that nothing can part from this one; the same remedies serve both."""

    cause: CausePath
    why: Sentence


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Dissent(Entry):
    """Where the sources differ."""

    from_: Sources
    says: Sentence


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Cause(Entry):
    """Why a plate is spoiled; its name and stage come from the file's path."""

    title: ShortSentence
    brief: ShortSentence
    usual: Word
    kind: Literal["chemistry", "light", "hand"]
    scope: Literal["this-plate", "standing"]
    stands_in: Thing | None = None
    exclusive: Slug | None = None
    symptom: Annotated[tuple[SymptomLink, ...], NotEmpty()]
    check: tuple[CheckLink, ...] = ()
    likelier: tuple[Shift, ...] = ()
    unlikelier: tuple[Shift, ...] = ()
    ruled_out: tuple[RuledOut, ...] = ()
    step: Annotated[tuple[Step, ...], NotEmpty(3)]
    remedy: Annotated[tuple[RemedyLink, ...], NotEmpty()]
    prevent: tuple[Prevention, ...] = ()
    look_alike: tuple[LookAlike, ...] = ()
    treat_alike: tuple[TreatAlike, ...] = ()
    dissent: tuple[Dissent, ...] = ()
    practise: Note = ""
    first_shows: Slug | None = None
