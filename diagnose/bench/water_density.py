"""Density of pure water."""

from diagnose.bench.sum import BenchError

WARMTHS = (0.0, 40.0)  # °C in which it holds


def water_density(temperature: float) -> float:
    """Density of pure water under ordinary air pressure.

    Args:
        temperature: of the water [°C]

    Returns:
        density [g/mL]

    Raises:
        BenchError: water is frozen, or warmer than the formula goes

    Holds: 0 to 40 °C, to 0.00001 g/mL.
    Source: from-memory (the formula agreed on for measures, 2001), checked in the tests against a reference library.

    >>> round(water_density(20), 5)
    0.99821
    """
    low, high = WARMTHS
    if not low <= temperature <= high:
        raise BenchError(f"water is reckoned from {low:g} to {high:g} °C, not at {temperature:.4g} °C")
    apart = (temperature - 3.983035) ** 2 * (temperature + 301.797) / (522528.9 * (temperature + 69.34881))
    return 0.999974950 * (1 - apart)
