"""What plates do to a silver bath: the spirit they bring, the silver they carry off, what strength is left.

All of it is counted from plates, and workers differ: every figure comes as least, likely and most.
"""

from math import exp

from diagnose.bench.rows import between
from diagnose.bench.silver_density import DENSITIES, density_at_20, strength_at_20, water_in
from diagnose.bench.sum import BenchError

WATER = DENSITIES[0]  # g/mL at 20 °C
# For each 1000 cm² of plate, least, likely, most:
# alcohol that gets into the bath [mL]. Judged: 20 mL of collodion cover 1000 cm² (vogel_lehrbuch p. 285), half of it
# alcohol; most of the ether and some of the alcohol is gone before the dip.
SPIRIT = (3.0, 6.0, 10.0)
# bath that runs off with the plates [mL]: vogel_lehrbuch p. 285 counts 8 g; a bath worked to its end, topped up by
# nobody, lost more than twice that, filters and drying up included (wilson1881 Fogging part 6). The least is judged.
CARRIED = (5.0, 8.0, 20.0)
# silver nitrate that the salts of the collodion bind [g]: 20 mL of a collodion with 0.08 to 0.12 mol/L of salts take
# 0.27 to 0.41 g; the most is what wilson1881's bath asks for. Judged.
BOUND = (0.2, 0.35, 0.7)
# Alcohol in water [% by volume, SG at 60 °F]: usp29.
ALCOHOL = (
    *((0, 1.0), (1, 0.9985), (2, 0.997), (3, 0.9956), (4, 0.9941), (5, 0.9927), (6, 0.9914), (7, 0.9901), (8, 0.9888)),
    *((9, 0.9875), (10, 0.9862), (12, 0.9838), (15, 0.9802), (20, 0.9744), (25, 0.9685), (30, 0.9622)),
)
MOST_SPIRIT = ALCOHOL[-1][0]  # %


def spirit_share(plates: float, plate_area: float, volume: float) -> tuple[float, float, float]:
    """How much of the bath is alcohol, counted from its plates.

    Args:
        plates: since the bath was new, or last freed from alcohol [plates]
        plate_area: of one plate [cm²]
        volume: of the bath [mL]

    Returns:
        least, likely, most [% by volume]

    Raises:
        BenchError: no bath, or less than no plates

    Holds: a covered bath, its volume much the same, since spirit comes in as bath drips away; what dries off an open one
        is not counted, nor is ether.
    Source: judged, upon vogel_lehrbuch p. 285.

    >>> [round(share, 1) for share in spirit_share(50, 234, 2000)]
    [1.7, 3.4, 5.7]
    """
    area = _thousands(plates, plate_area, volume)
    least, likely, most = (100 * (1 - exp(-area * taken / volume)) for taken in SPIRIT)
    return least, likely, most


def reading_with_spirit(strength: float, spirit: float) -> float:
    """What a hydrometer shows of a bath with alcohol in it.

    Args:
        strength: silver nitrate that is really in it [g/L]
        spirit: alcohol in it [% by volume]

    Returns:
        what it reads as, at 20 °C [g/L]

    Raises:
        BenchError: more than 30 % alcohol, or so light that it reads less than water

    Holds: 0 to 30 %; as if alcohol lightened the bath's water as it lightens plain water. Never tried on a bath here.
    Source: usp29 and crc-handbook; that the two may be put together is judged.

    >>> round(reading_with_spirit(90, 5), 1)
    81.3
    """
    return strength_at_20(density_at_20(strength) - _lighter(strength, spirit))


def strength_behind_spirit(reading: float, spirit: float) -> float:
    """Strength of a bath with alcohol in it, from what its hydrometer shows.

    Args:
        reading: strength the hydrometer gave, at 20 °C [g/L]
        spirit: alcohol in it [% by volume]

    Returns:
        silver nitrate that is really in it [g/L]

    Raises:
        BenchError: more than 30 % alcohol, or stronger than the table goes

    Holds: as `reading_with_spirit`, of which it is the way back.
    Source: as `reading_with_spirit`.

    >>> round(strength_behind_spirit(81.3, 5), 1)
    90.0
    """
    seen, strength = density_at_20(reading), reading
    for _ in range(8):  # the water share hardly changes, so it settles at once
        strength = strength_at_20(seen + _lighter(strength, spirit))
    return strength


def silver_carried_off(plates: float, plate_area: float, strength: float) -> tuple[float, float, float]:
    """Silver nitrate that plates take out of a bath.

    Args:
        plates: how many [plates]
        plate_area: of one plate [cm²]
        strength: of the bath meanwhile [g/L]

    Returns:
        least, likely, most [g]

    Raises:
        BenchError: less than no plates

    Holds: dripping from plate and holder, filters, and what the collodion binds.
    Source: vogel_lehrbuch p. 285, wilson1881 Fogging part 6; judged between them.

    >>> [round(silver, 1) for silver in silver_carried_off(10, 234, 90)]
    [1.5, 2.5, 5.8]
    """
    area = _thousands(plates, plate_area, 1.0)
    least, likely, most = (
        area * (carried * strength / 1000 + bound) for carried, bound in zip(CARRIED, BOUND, strict=True)
    )
    return least, likely, most


def strength_today(strength: float, plates: float, plate_area: float, volume: float) -> tuple[float, float, float]:
    """What strength is left of a bath after plates, nothing having been put to it.

    What drips off takes silver and water alike, so strength falls only by what the collodion binds, and by the alcohol
    that takes the place of bath.

    Args:
        strength: when it was measured [g/L]
        plates: since then [plates]
        plate_area: of one plate [cm²]
        volume: of the bath, between what it was and what it is [mL]

    Returns:
        least, likely, most [g/L]

    Raises:
        BenchError: no bath, or less than no plates

    Holds: not topped up, little dried up; until half its strength is gone.
    Source: judged, upon vogel_lehrbuch p. 285 and wilson1881 Fogging part 6.

    >>> [round(left) for left in strength_today(90, 50, 234, 2000)]
    [81, 85, 87]
    """
    area = _thousands(plates, plate_area, volume)
    most, likely, least = (
        max(0.0, (strength + 1000 * bound / taken) * exp(-area * taken / volume) - 1000 * bound / taken)
        for bound, taken in zip(BOUND, SPIRIT, strict=True)
    )
    return least, likely, most


def _lighter(strength: float, spirit: float) -> float:
    """How much lighter alcohol makes a bath [g/mL]."""
    if not 0 <= spirit <= MOST_SPIRIT:
        raise BenchError(f"{spirit:.3g} % alcohol is outside the table; 0 to {MOST_SPIRIT} % is accepted")
    gravity = between(spirit, [share for share, _ in ALCOHOL], [gravity for _, gravity in ALCOHOL])
    return water_in(strength) / WATER * (1 - gravity)


def _thousands(plates: float, plate_area: float, volume: float) -> float:
    """Thousands of square centimetres of plate."""
    if not (plates >= 0 and plate_area > 0 and volume > 0):
        raise BenchError("plates are counted from 0 up, and both plate and bath must be larger than nothing")
    return plates * plate_area / 1000
