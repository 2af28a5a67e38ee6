"""Silver iodide: how much of it a bath of silver nitrate holds, and what iodides make of it there."""

from diagnose.bench.silver_density import NITRATE_MASS
from diagnose.bench.sum import BenchError

SILVER_IODIDE_MASS = 234.773  # g/mol
# Iodide -> grams that bring one mole of iodine: iupac-weights.
IODIDES = {"potassium": 166.003, "ammonium": 144.944, "cadmium": 366.223 / 2}
HELD, HELD_AT, RISE = 0.53, 108.8, 2.70  # g/L in a bath of so many g/L; how steeply it rises with strength
DOUBT = 0.3  # of the figure, either way
LEAST_KNOWN, MOST_KNOWN = 108.8, 340.0  # g/L: the two strengths that were measured


def iodide_held(strength: float) -> float:
    """How much silver iodide a bath can hold.

    Args:
        strength: silver nitrate [g/L]

    Returns:
        silver iodide [g/L]

    Raises:
        BenchError: outside 0 to 340 g/L

    Holds: fitted through two measured strengths, 109 and 340 g/L; below 109 g/L it is carried on. To 30 %.
    Source: jones1911 silver iodide, iodide_dissertation image 72; the line between them is judged.

    >>> iodide_held(108.8)
    0.53
    """
    if not 0 <= strength <= MOST_KNOWN:
        raise BenchError(
            f"how much iodide a bath of {strength:.4g} g/L holds is not known; up to {MOST_KNOWN:g} g/L is accepted"
        )
    return HELD * float((strength / HELD_AT) ** RISE)


def silver_iodide_from(iodide: float, salt: str = "potassium") -> float:
    """Silver iodide that an iodide makes in the bath.

    Args:
        iodide: the iodide [g]
        salt: a name of `IODIDES`

    Returns:
        silver iodide [g]

    Source: iupac-weights.

    >>> round(silver_iodide_from(0.25), 3)
    0.354
    """
    return iodide * SILVER_IODIDE_MASS / IODIDES[salt]


def silver_taken_by(iodide: float, salt: str = "potassium") -> float:
    """Silver nitrate that an iodide uses up in the bath.

    Args:
        iodide: the iodide [g]
        salt: a name of `IODIDES`

    Returns:
        silver nitrate [g]

    Source: iupac-weights.

    >>> round(silver_taken_by(0.25), 3)
    0.256
    """
    return iodide * NITRATE_MASS / IODIDES[salt]


def iodide_to_fill(volume: float, strength: float, salt: str = "potassium") -> float:
    """How much iodide fills a bath that has none.

    Args:
        volume: of the bath [mL]
        strength: silver nitrate [g/L]
        salt: a name of `IODIDES`

    Returns:
        the iodide [g]

    Raises:
        BenchError: as `iodide_held`

    Holds: as `iodide_held`.
    Source: as `iodide_held`.

    >>> round(iodide_to_fill(1000, 90), 2)   # vogel_lehrbuch p. 285 takes 0.25 g to 100 g silver nitrate
    0.22
    """
    return volume / 1000 * iodide_held(strength) * IODIDES[salt] / SILVER_IODIDE_MASS


def thrown_down(volume: float, strength: float, water: float) -> float:
    """Silver iodide that falls out when a bath full of it is thinned.

    Args:
        volume: of the bath [mL]
        strength: silver nitrate [g/L]
        water: put to it [mL]

    Returns:
        silver iodide [g]

    Raises:
        BenchError: as `iodide_held`

    Holds: as `iodide_held`; the bath held all it could.
    Source: as `iodide_held`.

    >>> round(thrown_down(1000, 90, 2000), 2)
    0.27
    """
    after = volume + water
    return max(0.0, (volume * iodide_held(strength) - after * iodide_held(strength * volume / after)) / 1000)
