"""What to put to a silver bath to make it stronger, weaker or fuller: weights are reckoned, so nothing is lost on the way."""

import math

from diagnose.bench.silver_density import DENSITIES, density_at_20, water_in
from diagnose.bench.sum import BenchError
from diagnose.bench.wording import about, in_words

WATER = DENSITIES[0]  # g/mL at 20 °C


def silver_to_add(volume: float, strength: float, wanted: float) -> tuple[float, float]:
    """Dry silver nitrate that brings a bath up to strength.

    Args:
        volume: of the bath at 20 °C [mL]
        strength: silver nitrate now [g/L]
        wanted: silver nitrate afterwards, not below `strength` [g/L]

    Returns:
        silver nitrate to add [g], volume afterwards [mL]

    Raises:
        BenchError: wanted weaker than it is, or outside the table

    Holds: up to 590 g/L; the salt's own room is counted, so it is a little more than volume times difference.
    Source: crc-handbook, exact.

    >>> silver, after = silver_to_add(1000, 70, 90)
    >>> round(silver, 1), round(after)
    (20.3, 1004)
    """
    if wanted < strength:
        raise BenchError(
            f"the bath is {strength:.4g} g/L, already stronger than {wanted:.4g} g/L; water-to-add makes it weaker"
        )
    after = volume * water_in(strength) / water_in(wanted)
    return (after * wanted - volume * strength) / 1000, after


def water_to_add(volume: float, strength: float, wanted: float) -> tuple[float, float]:
    """Distilled water that brings a bath down to strength.

    Args:
        volume: of the bath at 20 °C [mL]
        strength: silver nitrate now [g/L]
        wanted: silver nitrate afterwards, above 0 and not above `strength` [g/L]

    Returns:
        water to add [mL], volume afterwards [mL]

    Raises:
        BenchError: wanted stronger than it is, or outside the table

    Holds: up to 590 g/L.
    Source: crc-handbook, exact; robinson_abney1881 p. 24.

    >>> water, after = water_to_add(1000, 110, 90)
    >>> round(water), round(after)
    (222, 1222)
    """
    if wanted > strength:
        raise BenchError(
            f"the bath is {strength:.4g} g/L, already weaker than {wanted:.4g} g/L; silver-to-add makes it stronger"
        )
    if not wanted > 0:
        raise BenchError("no amount of water makes it 0 g/L; 5 g/L or more is accepted")
    after = volume * strength / wanted
    return max(0.0, (after * density_at_20(wanted) - volume * density_at_20(strength)) / WATER), after


def restore(volume: float, strength: float, wanted_volume: float, wanted: float) -> tuple[float, float]:
    """Silver nitrate and water that bring a bath back to volume and strength together.

    Args:
        volume: of the bath at 20 °C [mL]
        strength: silver nitrate now [g/L]
        wanted_volume: of the bath afterwards [mL]
        wanted: silver nitrate afterwards [g/L]

    Returns:
        silver nitrate to add [g], water to add [mL]

    Raises:
        BenchError: it holds more silver or more water already, or a strength is outside the table

    Holds: up to 590 g/L.
    Source: crc-handbook, exact.

    >>> silver, water = restore(900, 75, 1000, 90)
    >>> round(silver, 1), round(water)
    (22.5, 96)
    """
    silver = (wanted_volume * wanted - volume * strength) / 1000
    water = (wanted_volume * water_in(wanted) - volume * water_in(strength)) / WATER
    if silver < -1e-9:
        raise BenchError(
            f"it holds {about(-silver, 'g')} more silver nitrate than {about(wanted_volume, 'mL', 4)} at {wanted:.4g} g/L does; "
            f"water-to-add makes {about(volume * strength / wanted, 'mL', 4)} of it"
        )
    if water < -1e-9:
        least = volume * water_in(strength) / water_in(wanted)
        raise BenchError(
            f"it fills more than {about(wanted_volume, 'mL', 4)} once the silver is in; "
            f"ask for {in_words(math.ceil(least), 'mL')} or more, "
            "or pour some off first"
        )
    return max(silver, 0.0), max(water, 0.0)
