"""The frame of the knowledge: stages, sources, strengths, attributes, cautions."""

from typing import Literal

from pydantic import Field

from diagnose.entries.shapes import Entry, Sentence, ShortSentence, Slug, Sourced, Tests, Word


class Stage(Entry):
    """One stage of the work."""

    title: ShortSentence
    first_step: Slug


class Source(Entry):
    """Where a fact comes from."""

    title: ShortSentence | Sentence
    kind: Literal["book", "report", "standard-work", "mark"]
    author: str = ""
    year: str = ""
    edition: str = ""
    read: str = ""
    note: str = ""


class Expect(Entry):
    """The knobs of the weighing, one each."""

    causes_per_plate: float = Field(gt=0, lt=5)
    ruled_out: float = Field(gt=0, lt=0.1)
    most_from_conditions: float = Field(gt=1, le=1000)
    unsure_explained: float = Field(gt=0.5, lt=1)
    stated_attribute: float = Field(gt=0, lt=1)
    plate_minutes: float = Field(gt=0, le=120)


class Strengths(Entry):
    """Words and the number behind each."""

    seen: dict[Word, float]
    usual: dict[Word, float]
    among: dict[Word, float]
    notice: dict[Word, float]
    weight: dict[Word, float]
    surely: dict[Word, float]
    expect: Expect


class Attribute(Entry):
    """One way a symptom is described, and the words allowed."""

    ask: ShortSentence
    values: dict[Slug, ShortSentence]


class CautionWay(Entry):
    """A circumstance in which a caution shows itself."""

    when: Tests = ()
    unless: Tests = ()
    stages_too: bool = False


class Caution(Sourced):
    """What can hurt, and the usual care."""

    title: ShortSentence
    say: Sentence
    level: Literal["danger", "care"]
    stages: tuple[Slug, ...] = ()
    adds: tuple[Slug, ...] = ()
    way: tuple[CautionWay, ...] = ()
