"""What a hydrometer says of a silver bath, brought to 20 °C.

A hydrometer tells the truth at the warmth it was made for. In a warmer bath the liquid is lighter, so it sinks deeper, and
its own glass is larger, so it rises a little: both are put right here.
"""

from diagnose.bench.rows import between
from diagnose.bench.silver_density import DENSITIES, PERCENTS, density_at, density_at_20, strength_at
from diagnose.bench.sum import BenchError
from diagnose.bench.water_density import water_density

SIXTY_FAHRENHEIT = 140 / 9  # °C, what most hydrometers were made for
GLASS_SWELLING = 0.000025  # of its volume for each °C, soda glass: from-memory


def true_strength(gravity: float, temperature: float, made_for: float = 15.56) -> float:
    """Strength of a bath from its specific gravity.

    Args:
        gravity: as read off, water at `made_for` reading 1 [SG]
        temperature: of the bath [°C]
        made_for: warmth the hydrometer was made for [°C]

    Returns:
        silver nitrate in a litre measured at 20 °C [g/L]

    Raises:
        BenchError: no silver bath has this gravity, or a warmth is outside 0 to 40 °C

    Holds: silver nitrate and water alone, 10 to 35 °C. Alcohol makes it read low, other salts high.
    Source: crc-handbook, from-memory for the glass, judged for the warmth of the salt.

    >>> round(true_strength(1.0882 / 0.998207, 20, made_for=20), 1)   # crc-handbook: 10 % by weight
    108.8
    """
    return strength_by_density(gravity * water_density(made_for), temperature, made_for)


def strength_by_density(density: float, temperature: float, made_for: float = 20.0) -> float:
    """Strength of a bath from a hydrometer marked in grams to the millilitre.

    Args:
        density: as read off [g/mL]
        temperature: of the bath [°C]
        made_for: warmth the hydrometer was made for [°C]

    Returns:
        silver nitrate in a litre measured at 20 °C [g/L]

    Raises:
        BenchError: no silver bath has this density, or the warmth is outside 0 to 40 °C

    Holds: as `true_strength`.
    Source: as `true_strength`.

    >>> round(strength_by_density(1.0882, 20), 1)
    108.8
    """
    return strength_at(density * (1 - GLASS_SWELLING * (temperature - made_for)), temperature)


def marked_strength(marked: float, temperature: float, made_for: float = 15.56) -> float:
    """Strength of a bath from an argentometer, which is marked in strength at once.

    Args:
        marked: as read off, the marks counting a litre at `made_for` [g/L]
        temperature: of the bath [°C]
        made_for: warmth the argentometer was made for [°C]

    Returns:
        silver nitrate in a litre measured at 20 °C [g/L]

    Raises:
        BenchError: the mark is stronger than the table goes, or a warmth is outside 0 to 40 °C

    Holds: as `true_strength`, and as far as its maker marked it rightly.
    Source: as `true_strength`.

    >>> round(marked_strength(90, 28, made_for=20), 1)
    92.8
    """
    at_20 = marked
    for _ in range(4):  # a litre at one warmth is not quite a litre at another: settles at once
        at_20 = marked * density_at_20(at_20) / density_at(at_20, made_for)
    return strength_by_density(density_at(at_20, made_for), temperature, made_for)


def strength_by_percent(percent: float, temperature: float, made_for: float = 20.0) -> float:
    """Strength of a bath from a hydrometer marked in percent by weight.

    Args:
        percent: as read off [% by weight]
        temperature: of the bath [°C]
        made_for: warmth the hydrometer was made for [°C]

    Returns:
        silver nitrate in a litre measured at 20 °C [g/L]

    Raises:
        BenchError: stronger than the table goes, or a warmth is outside 0 to 40 °C

    Holds: as `true_strength`.
    Source: as `true_strength`.

    >>> round(strength_by_percent(8, 20), 1)   # crc-handbook: 1.0690 g/mL
    85.5
    """
    if not PERCENTS[0] <= percent <= PERCENTS[-1]:
        raise BenchError(f"{percent:g} % is outside the table; 0 to {PERCENTS[-1]:g} % by weight is accepted")
    at_20 = 10 * percent * between(percent, PERCENTS, DENSITIES)
    return strength_by_density(density_at(at_20, made_for), temperature, made_for)
