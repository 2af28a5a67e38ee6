"""A remedy: the one thing to change."""

from typing import Literal

from pydantic import Field

from diagnose.entries.shapes import Minutes, Sentence, ShortSentence, Slug, Sourced, Tests

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


class Remedy(Sourced):
    """What to do, what it costs, and what has to be known first."""

    title: ShortSentence
    say: Sentence
    see: str = ""
    stop: str = ""
    stage: str = ""
    minutes: Minutes
    plates: int = Field(default=0, ge=0, le=5)
    reversible: bool
    touches: Touches
    adds: tuple[Adds, ...] = ()
    needs: tuple[Tests, ...] = ()
    never_when: Tests = ()
    dose: str | None = None
    uses: dict[str, str] = {}
    caution: tuple[Slug, ...] = ()

    @property
    def risky(self) -> bool:
        """Doctoring that a finding must support before it may come first."""
        return self.touches == "silver-bath" and not self.reversible
