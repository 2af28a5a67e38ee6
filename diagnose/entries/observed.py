"""What a person can tell: symptoms, conditions, and the states that follow from them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal, get_args

from diagnose.entries.shapes import (
    AttributeName,
    ConditionName,
    Days,
    Entry,
    Minutes,
    Note,
    NotEmpty,
    Plates,
    ResultName,
    Sentence,
    ShortSentence,
    ShortText,
    Slug,
    SomeTests,
    Sources,
    SumName,
    Tests,
    Thing,
    Word,
    YesOrNo,
)

# What can be done to a thing without renewing it; as a daybook logs it.
Treatment = Literal[
    "filtered",
    "sunned",
    "aired",
    "topped-up",
    "acid-added",
    "alkali-added",
    "silver-added",
    "cleaned",
    "mended",
]
TREATMENTS: tuple[Treatment, ...] = get_args(Treatment)
ELSE = ", else "  # in what a sum uses: a condition, and what is taken where it is not told
USUAL = "usual"  # after it: the sum's own usual value


def conditions_in(uses: Mapping[str, str]) -> tuple[str, ...]:
    """What may be a condition among the things a sum uses.

    Args:
        uses: input -> condition or fixed amount, or a condition and what is taken else
    """
    return tuple(use.partition(ELSE)[0] for use in uses.values())


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Beside(Entry):
    """A look that stands near another one, and what parts the two; told once, read from both sides."""

    from_: Sources
    symptom: Slug
    differs: Sentence


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Symptom(Entry):
    """One look of a spoiled plate, named as seen on a positive."""

    title: ShortSentence
    look: Sentence
    synonyms: tuple[ShortSentence, ...] = ()
    period: tuple[ShortSentence, ...] = ()
    few_names: YesOrNo = False
    on_negative: Note = ""
    notice: Word
    among: Word
    first_seen: Slug
    attributes: dict[AttributeName, tuple[Slug, ...]] = field(default_factory=dict)
    beside: tuple[Beside, ...] = ()
    family: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Condition(Entry):
    """One thing about the session: how it is asked and what may be answered, or the sum of the bench it comes from.

    An answer holds for the next plates, too, for as long as it `lasts`: for its plate alone, for its day, or for as long as a
    thing that stands behind the plates is not renewed. Treatments and remedies named in `until` end it, and so does the last of
    `most_days` days, its own day counted.
    """

    ask: ShortSentence
    kind: Literal["quantity", "choice", "yes-no"]
    unit: str = ""
    range: tuple[float, float] | None = None
    ordinary: tuple[float, float] | None = None
    options: dict[Slug, ShortSentence] = field(default_factory=dict)
    group: Literal["", "changed", "for-a-dose"] = ""
    reckoned_by: SumName = ""
    result: ResultName = ""
    uses: dict[ConditionName, ShortText] = field(default_factory=dict)
    lasts: Literal["plate", "day"] | Thing = "plate"
    until: tuple[Slug, ...] = ()
    most_days: Days = 0
    station: Literal["plate", "bottles", "measure", "memory"]
    minutes: Minutes

    @property
    def answers(self) -> dict[str, str]:
        """Every answer of a choice or yes-or-no condition, with its words."""
        return {"yes": "yes", "no": "no"} if self.kind == "yes-no" else dict(self.options)

    @property
    def is_asked(self) -> bool:
        """Whether a person is asked for it; the rest is worked out from other conditions."""
        return not self.reckoned_by


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Way(Entry):
    """One set of tests that brings a state about."""

    from_: Sources
    when: SomeTests
    unless: Tests = ()


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class State(Entry):
    """Something that follows from conditions or from other states."""

    means: ShortSentence
    way: Annotated[tuple[Way, ...], NotEmpty()]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Outcome(Entry):
    """One way a check can come out."""

    id: Slug
    says: ShortSentence
    normal: YesOrNo = False
    among: Word = "uncommon"


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Check(Entry):
    """A look, a measurement or a proving plate that tells causes apart."""

    from_: Sources
    title: ShortSentence
    do: Sentence
    station: Literal["plate", "bottles", "measure", "proving-plate"]
    minutes: Minutes
    plates: Plates = 0
    tells_apart: ShortSentence
    answers: tuple[ConditionName, ...] = ()
    could_clear: tuple[Slug, ...] = ()
    caution: tuple[Slug, ...] = ()
    outcome: tuple[Outcome, ...] = ()
