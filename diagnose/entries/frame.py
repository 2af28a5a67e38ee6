"""The frame of the knowledge: stages, sources, strengths, attributes, cautions."""

from dataclasses import dataclass
from typing import Annotated, Literal

from diagnose.entries.shapes import Amount, Entry, Note, Sentence, ShortSentence, Slug, Sources, Tests, Word, YesOrNo


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Stage(Entry):
    """One stage of the work."""

    title: ShortSentence
    first_step: Slug
    reached: Annotated[float, Amount(0.01, 1)] = 1.0


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Source(Entry):
    """Where a fact comes from."""

    title: ShortSentence | Sentence
    kind: Literal["book", "report", "standard-work", "mark"]
    author: Note = ""
    year: Note = ""
    edition: Note = ""
    read: Note = ""
    note: Note = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Expect(Entry):
    """The knobs of the weighing, one each."""

    causes_per_plate: Annotated[float, Amount(0.01, 5)]
    ruled_out: Annotated[float, Amount(0.000001, 0.1)]
    most_from_conditions: Annotated[float, Amount(1.01, 1000)]
    unsure_explained: Annotated[float, Amount(0.51, 0.99)]
    stated_attribute: Annotated[float, Amount(0.01, 0.99)]
    plate_minutes: Annotated[float, Amount(0.1, 120)]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Strengths(Entry):
    """Words and the number behind each."""

    seen: dict[Word, float]
    usual: dict[Word, float]
    among: dict[Word, float]
    notice: dict[Word, float]
    weight: dict[Word, float]
    surely: dict[Word, float]
    expect: Expect


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Attribute(Entry):
    """One way a symptom is described, and the words allowed."""

    ask: ShortSentence
    values: dict[Slug, ShortSentence]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class CautionWay(Entry):
    """A circumstance in which a caution shows itself."""

    when: Tests = ()
    unless: Tests = ()
    stages_too: YesOrNo = False


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Caution(Entry):
    """What can hurt, and the usual care."""

    from_: Sources
    title: ShortSentence
    say: Sentence
    level: Literal["danger", "care"]
    stages: tuple[Slug, ...] = ()
    adds: tuple[Slug, ...] = ()
    way: tuple[CautionWay, ...] = ()
