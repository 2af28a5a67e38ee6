"""Counts of few plates, told honestly: exact chances, intervals, and what may be said of them."""

import math
from collections.abc import Iterable

NORMAL_95 = 1.959963984540054  # of a normal variable 95 in 100 lie within so many standard deviations
TELLING, HINTING = 0.05, 0.25  # judged, as is the next
CLEAR = 0.01
ROUNDING = 1 + 1e-9


def parted_by_chance(first_with: int, first: int, second_with: int, second: int) -> tuple[float, float]:
    """How often chance alone would part two counts so far, or further.

    Args:
        first_with: so many of the first group have it
        first: plates in that group
        second_with: so many of the second group have it
        second: plates in that group

    Returns:
        that chance, two-sided, and the least it could have been with as many plates in all having it

    Source: the exact test for two by two counts with fixed margins (Fisher 1935).

    >>> [round(chance, 4) for chance in parted_by_chance(8, 8, 0, 6)]
    [0.0003, 0.0003]
    >>> parted_by_chance(1, 2, 1, 2)[0]
    1.0
    """
    having = first_with + second_with
    low, high = max(0, having - second), min(having, first)
    ways = [math.comb(first, low) * math.comb(second, having - low)]
    for count in range(low, high):  # whole numbers all the way, so nothing is lost however many plates
        ways.append(ways[-1] * (first - count) * (having - count) // ((count + 1) * (second - having + count + 1)))
    total = sum(ways)
    here, fewest = ways[first_with - low], min(ways)
    return (
        sum(way for way in ways if way <= here) / total,
        sum(way for way in ways if way <= fewest) / total,
    )


def corrected(chances: list[tuple[float, float]]) -> list[float]:
    """Chances for having looked at many things, counting only looks that could have told as much.

    Args:
        chances: (chance, the least it could have been) of each look

    Source: Tarone 1990: a look whose clearest outcome is still chancier than the one in hand cannot have misled.

    >>> corrected([(0.01, 0.001), (0.5, 0.3)])
    [0.01, 1.0]
    """
    return [min(1.0, chance * sum(least <= chance * ROUNDING for _, least in chances)) for chance, _ in chances]


def chance_words(chance: float, *, too_few: bool) -> str:
    """What a corrected chance amounts to.

    Args:
        chance: corrected
        too_few: not even the clearest count would tell
    """
    if too_few:
        return "too few plates to tell"
    if chance <= CLEAR:
        return "hardly chance"
    if chance <= TELLING:
        return "unlikely to be chance"
    return "a hint; may be chance" if chance <= HINTING else "may well be chance"


def share_interval(count: int, of: int) -> tuple[float, float]:
    """Between which shares the true one lies, 95 times in 100.

    Args:
        count: so many
        of: of so many

    Source: Wilson 1927, the score interval.

    >>> [round(end, 2) for end in share_interval(3, 10)]
    [0.11, 0.6]
    >>> share_interval(0, 0)
    (0.0, 1.0)
    """
    if not of:
        return 0.0, 1.0
    share, square = count / of, NORMAL_95**2
    middle = (share + square / (2 * of)) / (1 + square / of)
    half = NORMAL_95 / (1 + square / of) * math.sqrt(share * (1 - share) / of + square / (4 * of * of))
    return max(0.0, middle - half), min(1.0, middle + half)


def bits(chances: Iterable[float]) -> float:
    """How much is open among things of which one is true [bit].

    Args:
        chances: adding up to one

    >>> bits([0.5, 0.5])
    1.0
    """
    return -sum(chance * math.log2(chance) for chance in chances if chance > 0) + 0.0
