"""Evaporation from the wet face of a plate."""

from diagnose.bench.air import full_ratio, humidity_ratio, wet_bulb
from diagnose.bench.sum import BenchError

STRONGEST_WIND = 15.0  # m/s


def evaporation(temperature: float, humidity: float, air_speed: float = 0.0) -> float:
    """How fast water leaves a wet face that has cooled to the wet bulb.

    Args:
        temperature: of the air [°C], -5 to 50
        humidity: relative [%], 1 to 100
        air_speed: along the face [m/s], 0 to 15

    Returns:
        water leaving a square metre in a minute [g]

    Raises:
        BenchError: outside these ranges

    Holds: as a ratio; the value itself is good to a factor of about two. The film stays liquid below 0 °C.
    Source: evaporation_rule (25 + 19 v) A (xs - x); ashrae_fundamentals ch. 1.

    >>> round(evaporation(20, 50), 2)
    1.07
    """
    if not 0 <= air_speed <= STRONGEST_WIND:
        raise BenchError(f"air speed of {air_speed:g} m/s: 0 to {STRONGEST_WIND:g} m/s is accepted")
    wet = wet_bulb(temperature, humidity, liquid=True)
    carried = humidity_ratio(temperature, humidity, liquid=True)
    return by_rule(full_ratio(wet, liquid=True), carried, air_speed) * 1000 / 60


def by_rule(at_the_face: float, carried: float, air_speed: float, area: float = 1.0) -> float:
    """The engineers' rule for a wet surface.

    Args:
        at_the_face: water over dry air, as much as air at the warmth of the face can hold [g/g]
        carried: water over dry air in the room [g/g]
        air_speed: along the face [m/s]
        area: of the face [m²]

    Returns:
        water leaving in an hour [kg], never below 0

    Source: evaporation_rule.

    >>> round(by_rule(0.02, 0.01, 2, 5), 2)   # the rule's own example
    3.15
    """
    return max(0.0, (25 + 19 * air_speed) * area * (at_the_face - carried))
