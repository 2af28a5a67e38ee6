"""Stops: doublings of the light; and seconds as they can be given."""

import math

from diagnose.bench.sum import Amount, BenchError

WIDEST, NARROWEST = 0.5, 512.0  # f-numbers; no lens in air is wider than f/0.5
BY_CLOCK = 5.0  # s; shorter exposures are counted or left to a shutter, so they are not rounded to the clock
BY_HAND = 1.0  # s; nobody takes a cap off and on evenly in less
LONG = 60.0  # s; the books' working times end about here


def stops_of(ratio: float) -> float:
    """How many stops a ratio of light or time is.

    Args:
        ratio: of two amounts of light, or of two times [times]

    Returns:
        doublings, below 0 where it is less than before [stops]

    Raises:
        BenchError: the ratio is not above 0

    Source: exact, by definition.

    >>> stops_of(8)
    3.0
    """
    if not 0 < ratio < math.inf:
        raise BenchError(f"a ratio of {ratio:g}: more than 0 is wanted")
    return math.log2(ratio)


def stops_between(first: float, second: float) -> float:
    """How many stops darker the second stop of a lens is.

    Args:
        first: the stop before [f-number]
        second: the stop now [f-number]

    Returns:
        stops of light lost, below 0 where the second is wider [stops]

    Raises:
        BenchError: no lens has such a stop

    Holds: numbers engraved on a lens are rounded: 5.6 is 5.66, 11 is 11.3; that is up to 0.08 stops.
    Source: exact, by definition.

    >>> stops_between(4, 8)
    2.0
    """
    for number in (first, second):
        if not WIDEST <= number <= NARROWEST:
            raise BenchError(f"f/{number:g} is no stop of a lens; f/{WIDEST:g} to f/{NARROWEST:g} is accepted")
    return 2 * math.log2(second / first)


def seconds_to_give(name: str, label: str, seconds: float) -> Amount:
    """An exposure as it is given: by the clock where it is long enough.

    Args:
        name: for scripts
        label: for people
        seconds: the exposure [s]
    """
    return Amount(name, label, seconds, "s", "clock" if seconds >= BY_CLOCK else "", figures=2)


def two_figures(value: float) -> str:
    """A number as it is said, with two figures.

    Args:
        value: any number

    >>> two_figures(526.3), two_figures(0.1914)
    ('530', '0.19')
    """
    return f"{float(f'{value:.2g}'):.6f}".rstrip("0").rstrip(".")


def doubts_of(seconds: float) -> tuple[str, ...]:
    """What is doubtful about very short and very long exposures.

    Args:
        seconds: the exposure [s]
    """
    if seconds < BY_HAND:
        return ("Nobody works a cap evenly in less than a second: take a shutter, a smaller stop or less light.",)
    if seconds > LONG:
        return (
            "Over a minute plates may gain more slowly than the clock says; that has not been checked.",
            "The plate dries meanwhile: count the exposure into the wait of wet-window.",
        )
    return ()
