"""A remedy: the one thing to change."""

from dataclasses import dataclass, field
from typing import Literal

from diagnose.entries.shapes import (
    ConditionName,
    Entry,
    Minutes,
    Note,
    Plates,
    Sentence,
    ShortSentence,
    ShortText,
    Slug,
    Sources,
    SumName,
    Tests,
    YesOrNo,
)

Touches = Literal[
    "nothing",
    "plate",
    "collodion",
    "silver-bath",
    "holder",
    "camera",
    "exposure",
    "developer",
    "fixer",
    "wash",
    "varnish",
    "room",
    "hand",
]
Adds = Literal["acid", "alkali", "water", "silver", "ether-alcohol", "alcohol", "iodine", "iodide"]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Remedy(Entry):
    """What to do, what it costs, and what has to be known first."""

    from_: Sources
    title: ShortSentence
    say: Sentence
    see: Note = ""
    stop: Note = ""
    stage: str = ""
    minutes: Minutes
    plates: Plates = 0
    reversible: YesOrNo
    touches: Touches
    adds: tuple[Adds, ...] = ()
    needs: tuple[Tests, ...] = ()
    never_when: Tests = ()
    dose: SumName = ""
    uses: dict[ConditionName, ShortText] = field(default_factory=dict)
    dose_when: Tests = ()
    caution: tuple[Slug, ...] = ()

    @property
    def risky(self) -> bool:
        """Doctoring that a finding must support before it may come first."""
        return self.touches == "silver-bath" and not self.reversible
