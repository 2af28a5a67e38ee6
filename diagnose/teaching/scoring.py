"""What an answer is worth: a proper score of how sure the student was, against what truly was the matter."""

from collections.abc import Collection, Sequence
from typing import NamedTuple

FULL = 100.0
MOST_NAMED = 3
# What the words stand for; shown beside them wherever they are offered. Judged.
HOW_SURE = {"sure": 0.95, "likely": 0.70, "unsure": 0.40}


class Named(NamedTuple):
    """One cause a student named.

    Args:
        cause: "stage/name"
        sure: the chance the student gives it [0 to 1]
    """

    cause: str
    sure: float


class Mark(NamedTuple):
    """What one named cause earned.

    Args:
        cause: "stage/name"
        sure: the chance that was given
        right: whether it was at work
        points: what it earned
    """

    cause: str
    sure: float
    right: bool
    points: float


def points(sure: float, *, right: bool) -> float:
    """What naming one cause earns.

    Args:
        sure: the chance that was given [0 to 1]
        right: whether it was at work

    Source: the quadratic score (Brier 1950), moved so that a cause that is not named earns nothing: whatever one believes, no other
    number earns more on average than the chance one really gives the cause.

    >>> points(0.7, right=True), points(0.7, right=False)
    (91.0, -49.0)
    """
    earned = 1 - (1 - sure) ** 2 if right else -(sure**2)
    return round(FULL * earned, 6)


def marks(named: Sequence[Named], truth: Collection[str]) -> tuple[Mark, ...]:
    """Each cause that was named with what it earned; the points add up to the score of the plate.

    Causes are scored one by one, because a plate may have two: naming the three one believes most, each with one's own chance, is
    the best that can be done.

    Args:
        named: at most three, each once
        truth: the causes at work
    """
    return tuple(
        Mark(cause, sure, cause in truth, points(sure, right=cause in truth))
        for cause, sure in dict(named[:MOST_NAMED]).items()
    )


def score(named: Sequence[Named], truth: Collection[str]) -> float:
    """The points of a plate: at most 100 for each cause at work, 0 for naming nothing.

    Args:
        named: at most three, each once
        truth: the causes at work
    """
    return sum(mark.points for mark in marks(named, truth))


def by_belief(chances: Sequence[tuple[str, float]]) -> tuple[Named, ...]:
    """The report that is best for whoever believes this: what the tool would have answered.

    Args:
        chances: every cause with its chance, the likeliest first
    """
    return tuple(Named(cause, chance) for cause, chance in chances[:MOST_NAMED])
