"""How heavy a silver bath is, and how strong it must be to be so heavy.

Strength is always told for 20 °C: grams of silver nitrate in a litre measured at 20 °C.
"""

from diagnose.bench.rows import between
from diagnose.bench.sum import BenchError
from diagnose.bench.water_density import water_density

NITRATE_MASS = 169.872  # g/mol, silver nitrate
# Silver nitrate in water [% by weight, g/mL at 20 °C]: crc-handbook, with pure water (0 %) put in front.
TABLE = (
    *((0.0, 0.998207), (0.5, 1.0027), (1.0, 1.0070), (2.0, 1.0154), (3.0, 1.0239), (4.0, 1.0327), (5.0, 1.0417)),
    *((6.0, 1.0506), (7.0, 1.0597), (8.0, 1.0690), (9.0, 1.0785), (10.0, 1.0882), (12.0, 1.1079), (14.0, 1.1284)),
    *((16.0, 1.1496), (18.0, 1.1715), (20.0, 1.1942), (22.0, 1.2177), (24.0, 1.2420), (26.0, 1.2672), (28.0, 1.2933)),
    *((30.0, 1.3204), (32.0, 1.3487), (34.0, 1.3780), (36.0, 1.4087), (38.0, 1.4407), (40.0, 1.4743)),
)
PERCENTS = tuple(percent for percent, _ in TABLE)
DENSITIES = tuple(density for _, density in TABLE)
STRENGTHS = tuple(10 * percent * density for percent, density in TABLE)  # g/L
STRONGEST = STRENGTHS[-1]
# Swelling of the dissolved salt with warmth [mL/mol for each degree]: no measured value was found. Silver nitrate is
# taken to be like sodium, potassium and ammonium nitrate and nitric acid, 0.06 to 0.13; all nitrates lie in 0.04 to 0.13.
SWELLING, LEAST_SWELLING, MOST_SWELLING = 0.10, 0.04, 0.13
TRUSTED_WARMTHS = (10.0, 35.0)  # °C
ROUNDING = 1e-6  # g/mL, so that the ends of the table are still in it


def strength_at_20(density: float) -> float:
    """How strong a bath is that has this density at 20 °C.

    Args:
        density: of the bath at 20 °C [g/mL]

    Returns:
        silver nitrate [g/L]

    Raises:
        BenchError: lighter than water, or heavier than the strongest solution of the table

    Holds: silver nitrate and water alone, 0 to 590 g/L; to 0.1 g/L between the rows, the rows themselves to 0.4 g/L.
    Source: crc-handbook.

    >>> round(strength_at_20(1.0882), 1)   # 10 % by weight
    108.8
    """
    return strength_at(density, 20.0)


def density_at_20(strength: float) -> float:
    """How dense a bath of this strength is at 20 °C.

    Args:
        strength: silver nitrate [g/L]

    Returns:
        density [g/mL]

    Raises:
        BenchError: stronger than the table goes

    Holds: as `strength_at_20`, of which it is the way back.
    Source: crc-handbook.

    >>> round(density_at_20(108.82), 4)
    1.0882
    """
    return density_at(strength, 20.0)


def strength_at(density: float, temperature: float, swelling: float = SWELLING) -> float:
    """How strong a bath is that has this density at this warmth.

    Args:
        density: of the bath at its own warmth [g/mL]
        temperature: of the bath [°C]
        swelling: how the salt swells with warmth [mL/mol for each degree]

    Returns:
        silver nitrate in a litre measured at 20 °C [g/L]

    Raises:
        BenchError: no bath of silver nitrate and water has this density, or the warmth is outside 0 to 40 °C

    Holds: 10 to 35 °C; away from 20 °C the swelling of the salt is taken from other nitrates, see `warmth_doubt`.
    Source: crc-handbook at 20 °C, judged for the warmth.
    """
    densities = _densities(temperature, swelling)
    if not densities[0] - ROUNDING <= density <= densities[-1] + ROUNDING:
        raise BenchError(
            f"no silver bath weighs {density:.4f} g/mL at {temperature:g} °C; {densities[0]:.4f} (plain water) to "
            f"{densities[-1]:.4f} (40 % by weight) is accepted, so read it again"
        )
    return _strength_near(density, temperature, swelling)


def density_at(strength: float, temperature: float, swelling: float = SWELLING) -> float:
    """How dense a bath is at a warmth.

    Args:
        strength: silver nitrate in a litre measured at 20 °C [g/L]
        temperature: of the bath [°C]
        swelling: how the salt swells with warmth [mL/mol for each degree]

    Returns:
        density at that warmth [g/mL]

    Raises:
        BenchError: stronger than the table goes, or the warmth is outside 0 to 40 °C

    Holds: as `strength_at`, of which it is the way back.
    Source: crc-handbook at 20 °C, judged for the warmth.
    """
    if not 0 <= strength <= STRONGEST:
        raise BenchError(
            f"{strength:.4g} g/L is outside the table; 0 to {int(STRONGEST)} g/L of silver nitrate is accepted"
        )
    return between(strength, STRENGTHS, _densities(temperature, swelling))


def warmth_doubt(strength: float, temperature: float) -> float:
    """How far the correction for warmth may be out.

    Args:
        strength: silver nitrate [g/L]
        temperature: of the bath [°C]

    Returns:
        the furthest the strength may be off, either way [g/L]

    Raises:
        BenchError: as `density_at`

    Holds: 10 to 35 °C; laid out by the swelling of other nitrates, from the least to the most.
    Source: judged.

    >>> round(warmth_doubt(90, 30), 1), round(warmth_doubt(90, 20), 1)
    (0.4, 0.0)
    """
    here = density_at(strength, temperature)
    bounds = (LEAST_SWELLING, MOST_SWELLING)
    return max(abs(_strength_near(here, temperature, swelling) - strength) for swelling in bounds)


def percent_by_weight(strength: float) -> float:
    """Grams of silver nitrate in 100 g of the bath.

    Args:
        strength: silver nitrate [g/L]

    Returns:
        percent by weight [%]

    Raises:
        BenchError: stronger than the table goes

    Holds: 0 to 590 g/L.
    Source: crc-handbook.

    >>> round(percent_by_weight(108.82), 2)
    10.0
    """
    return strength / (10 * density_at_20(strength))


def water_in(strength: float) -> float:
    """How much water stands in a bath.

    Args:
        strength: silver nitrate [g/L]

    Returns:
        grams of water in a millilitre of the bath at 20 °C [g/mL]

    Raises:
        BenchError: stronger than the table goes

    Holds: 0 to 590 g/L.
    Source: crc-handbook.

    >>> round(water_in(108.82), 3)   # 90 % of 1.0882
    0.979
    """
    return density_at_20(strength) - strength / 1000


def _densities(temperature: float, swelling: float) -> tuple[float, ...]:
    """The table's densities at another warmth [g/mL]: water and salt swell each for itself, no weight is lost."""
    water = 1 / water_density(temperature) - 1 / water_density(20.0)
    salt = swelling * (temperature - 20.0) / NITRATE_MASS
    return tuple(1 / (1 / dense + (1 - share / 100) * water + share / 100 * salt) for share, dense in TABLE)


def _strength_near(density: float, temperature: float, swelling: float) -> float:
    """As `strength`, but no further than the table goes."""
    densities = _densities(temperature, swelling)
    return between(min(max(density, densities[0]), densities[-1]), densities, STRENGTHS)
