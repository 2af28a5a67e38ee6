"""What a review is told of a day: its plates, and what was done to the things between them."""

from collections.abc import Mapping
from typing import NamedTuple

from diagnose.reasoning.weighing import Evidence


class Shown(NamedTuple):
    """One plate of the day.

    Args:
        evidence: from `weighing.gather`, on facts without what was tried
        good: whether it came out well
        uses: kind of thing -> name of the one it was made with; "" where nothing is said
        rests: whether a night lies before it
    """

    evidence: Evidence
    good: bool
    uses: Mapping[str, str]
    rests: bool = False


class Change(NamedTuple):
    """Something done to a thing between two plates.

    Args:
        before: number of the plate it came before, from 0; the number of plates for what came after the last
        thing: to what kind of thing
        name: to which one of its kind
        remedy: the remedy done; "" where the thing was renewed
    """

    before: int
    thing: str
    name: str = ""
    remedy: str = ""
