"""Reading between the rows of a table."""

from bisect import bisect_right
from collections.abc import Sequence


def between(at: float, given: Sequence[float], wanted: Sequence[float]) -> float:
    """What stands beside a figure in a table, on the straight line between its two rows.

    Args:
        at: the figure, between the first and the last of `given`
        given: one column, rising
        wanted: the other column, as long

    Returns:
        the figure of the other column

    Raises:
        ValueError: the figure is outside the table

    Source: exact.

    >>> between(2.5, (1, 2, 3), (10, 20, 40))
    30.0
    """
    if not given[0] <= at <= given[-1]:
        raise ValueError(f"{at:g} is outside the table, which goes from {given[0]:g} to {given[-1]:g}")
    row = min(bisect_right(given, at), len(given) - 1)
    share = (at - given[row - 1]) / (given[row] - given[row - 1])
    return wanted[row - 1] * (1 - share) + wanted[row] * share
