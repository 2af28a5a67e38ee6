"""One plate to practise on: what is told of it, and what truly was the matter."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, Protocol, TypeVar

Thing = TypeVar("Thing")
Origin = Literal["drawn", "book"]


class Chance(Protocol):
    """What is needed of a generator of chance, such as `random.Random` with a seed; the talk brings it."""

    def random(self) -> float:
        """From 0 to 1."""
        ...

    def uniform(self, a: float, b: float) -> float:
        """From a to b."""
        ...

    def choice(self, seq: Sequence[Thing]) -> Thing:
        """One of them."""
        ...

    def choices(self, population: Sequence[Thing], weights: Sequence[float]) -> list[Thing]:
        """One of them, by weight, in a list."""
        ...

    def sample(self, population: Sequence[Thing], k: int) -> list[Thing]:
        """So many of them, each once."""
        ...


@dataclass(frozen=True, kw_only=True)
class Exercise:
    """One plate to practise on.

    Args:
        name: what it is called again: seed and number, or the day and number of a plate of the book
        origin: "drawn" from the knowledge, or a plate of the "book"
        causes: what truly was the matter; of a plate of the book the one cause that was confirmed
        told: symptoms and conditions, as `Plate.read` takes them
        sign: the symptom that is drawn, and that the student names; always one of those told
        looks: attribute -> value of that symptom
        support: "metal" or "glass"
        seed: of the drawing
        confirmed_by: of a plate of the book: "cure", "check" or "person"
    """

    name: str
    origin: Origin
    causes: tuple[str, ...]
    told: Mapping[str, Any]
    sign: str
    looks: Mapping[str, str] = field(default_factory=dict)
    support: str = "metal"
    seed: int = 0
    confirmed_by: str = ""
