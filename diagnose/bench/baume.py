"""Two old scales of degrees, as specific gravity."""

from diagnose.bench.rows import between
from diagnose.bench.sum import BenchError

# Degrees of an old American scale, against water at 62 °F: towler1864_hydrometers.
TOWLER = (
    *((0, 1.000), (1, 1.007), (2, 1.013), (3, 1.020), (4, 1.027), (5, 1.034), (6, 1.041), (7, 1.048), (8, 1.056)),
    *((9, 1.063), (10, 1.070), (11, 1.078), (12, 1.085), (13, 1.094), (14, 1.101), (15, 1.109), (16, 1.118)),
    *((17, 1.126), (20, 1.152)),
)
TOWLER_MADE_FOR = 150 / 9  # °C, 62 °F


def gravity_of_towler(degrees: float) -> float:
    """Specific gravity of a degree on Towler's scale.

    Args:
        degrees: as read off [degrees Baumé]

    Returns:
        specific gravity, water at 62 °F being 1 [SG]

    Raises:
        BenchError: outside his table

    Holds: 0 to 20 degrees.
    Source: towler1864_hydrometers.

    >>> gravity_of_towler(10)
    1.07
    """
    if not 0 <= degrees <= TOWLER[-1][0]:
        raise BenchError(f"{degrees:g} degrees is outside Towler's scale; 0 to {TOWLER[-1][0]} is accepted")
    return between(degrees, [degree for degree, _ in TOWLER], [gravity for _, gravity in TOWLER])


def gravity_of_us_baume(degrees: float) -> float:
    """Specific gravity of a degree on the later American scale for heavy liquids.

    Args:
        degrees: as read off [degrees Baumé]

    Returns:
        specific gravity, water at 60 °F being 1 [SG]

    Raises:
        BenchError: no liquid for this scale

    Holds: 0 to 70 degrees.
    Source: household1881_gravity.

    >>> round(gravity_of_us_baume(10), 5)
    1.07407
    """
    if not 0 <= degrees <= 70:
        raise BenchError(f"{degrees:g} degrees is outside the scale; 0 to 70 is accepted")
    return 145 / (145 - degrees)
