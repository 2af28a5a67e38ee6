"""A value from outside the project that a sum of the bench must give."""

from collections.abc import Callable
from typing import NamedTuple


class Outside(NamedTuple):
    """One check value.

    Args:
        what: what is reckoned, with its inputs
        source: the book, table or library it comes from, with the place
        expected: what that source says
        within: the furthest ours may be from it [the same unit]
        ours: gives what the bench says
        seen: read in the source or printed by the library; False where it is from memory or worked out from the source
    """

    what: str
    source: str
    expected: float
    within: float
    ours: Callable[[], float]
    seen: bool = True
