"""How hard a plate is: how close its look-alikes come, by what is told of it alone."""

import math
from typing import Literal, NamedTuple

from diagnose.reasoning.asking import shares_of
from diagnose.reasoning.weighing import Posterior

Level = Literal["easy", "middle", "hard"]
LEVELS: tuple[Level, ...] = ("easy", "middle", "hard")
EASY_BELOW, HARD_FROM = 4.0, 9.0  # causes that might as well be it: judged, so that each level holds about a third


class Difficulty(NamedTuple):
    """How close the look-alikes come.

    Args:
        level: "easy", "middle" or "hard"
        rivals: as many equally likely causes would leave as much open: 1 where one cause is sure
    """

    level: Level
    rivals: float


def difficulty_of(posterior: Posterior) -> Difficulty:
    """How hard a plate is; whether what is told of it misleads has no part in this.

    Args:
        posterior: what can be believed of it

    Source: the exponential of the entropy, as the effective number of alternatives.
    """
    shares = shares_of(posterior).values()
    rivals = math.exp(-sum(share * math.log(share) for share in shares if share > 0))
    return Difficulty("easy" if rivals < EASY_BELOW else "hard" if rivals >= HARD_FROM else "middle", rivals)
