"""How hard ether, alcohol and water press to leave their liquid: the pressure of vapour at rest over it."""

import math

from diagnose.bench.sum import BenchError

FREEZING = 273.15  # 0 °C [K]
# Base-ten Antoine constants for Pa and K. Checked by us against CoolProp within these warmths [°C].
ETHER_ANTOINE, ETHER_RANGE = (9.10962, 1090.64, -41.95), (-10.0, 55.0)
ETHANOL_ANTOINE, ETHANOL_RANGE = (10.33675, 1648.22, -42.232), (-10.0, 55.0)
WATER_RANGE = (0.0, 55.0)


def ether(temperature: float) -> float:
    """Pressure of ether vapour over pure diethyl ether.

    Args:
        temperature: warmth of the liquid [°C]

    Returns:
        pressure [Pa]

    Raises:
        BenchError: outside -10 to 55 °C

    Holds: -10 to 55 °C, 0.1 to 0.4 % low against CoolProp.
    Source: antoine-poling diethyl ether; the boiling point 34.6 °C of ntp-ether gives one atmosphere.

    >>> round(ether(20) / 1000, 1)   # ntp-ether: 442 mmHg, 58.9 kPa
    58.6
    """
    return _antoine(temperature, ETHER_ANTOINE, ETHER_RANGE, "ether")


def ethanol(temperature: float) -> float:
    """Pressure of alcohol vapour over pure ethanol.

    Args:
        temperature: warmth of the liquid [°C]

    Returns:
        pressure [Pa]

    Raises:
        BenchError: outside -10 to 55 °C

    Holds: -10 to 55 °C; within 0.7 % of CoolProp from 10 °C upwards, 2.3 % low at -10 °C.
    Source: antoine-poling ethanol.

    >>> round(ethanol(20))   # niosh-pocket-guide: 44 mmHg, 5866 Pa
    5861
    """
    return _antoine(temperature, ETHANOL_ANTOINE, ETHANOL_RANGE, "alcohol")


def water(temperature: float) -> float:
    """Pressure of water vapour over water: what damp air can hold at most.

    Args:
        temperature: warmth of the water [°C]

    Returns:
        pressure [Pa]

    Raises:
        BenchError: outside 0 to 55 °C

    Holds: 0 to 55 °C, no more than 0.32 % from CoolProp (low in the middle).
    Source: from-memory (the Magnus formula); checked against coolprop and PsychroLib.

    >>> round(water(25))   # coolprop: 3170 Pa
    3160
    """
    _check(temperature, WATER_RANGE, "water")
    return 611.2 * math.exp(17.62 * temperature / (243.12 + temperature))


def _antoine(
    temperature: float, constants: tuple[float, float, float], limits: tuple[float, float], liquid: str
) -> float:
    _check(temperature, limits, liquid)
    first, second, third = constants
    return float(10 ** (first - second / (temperature + FREEZING + third)))


def _check(temperature: float, limits: tuple[float, float], liquid: str) -> None:
    low, high = limits
    if not low <= temperature <= high:
        raise BenchError(
            f"the vapour of {liquid} is reckoned from {low:g} to {high:g} °C only, and {temperature:g} °C is not within it"
        )
