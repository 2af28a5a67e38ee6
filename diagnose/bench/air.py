"""Humid air: vapour pressure, humidity ratio, wet bulb, dew point, pressure with altitude."""

import math
from collections.abc import Callable

from diagnose.bench.sum import BenchError
from diagnose.units import print_amount

SEA_LEVEL = 101325.0  # Pa, standard atmosphere
WATER_TO_AIR = 0.621945  # molar mass of water over that of dry air
COLDEST, WARMEST = -5.0, 50.0  # °C
DRIEST, DAMPEST = 1.0, 100.0  # %
LEAST_PRESSURE, MOST_PRESSURE = 50_000.0, 110_000.0  # Pa
LOWEST, HIGHEST = -400.0, 5000.0  # m
WET_BULB_FALL = 45.0  # degrees C; in the accepted range no wet bulb lies so far below the air
COLDEST_FACE = -60.0  # °C; a wet thing may be colder than the air
COLDEST_DEW = -70.0  # °C; below the dew point of the coldest and driest accepted air
NEAR_ENOUGH = 1e-7  # °C

# ln(pressure in Pa) over kelvin: -1st power, 0th, 1st, 2nd, 3rd, 4th, and the logarithm.
ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)


def saturation_pressure(temperature: float, *, liquid: bool = False) -> float:
    """Vapour pressure of air that can hold no more water, by the form of Hyland and Wexler.

    Args:
        temperature: of the air [°C], -100 to 100
        liquid: over water that stays liquid below freezing, instead of over ice

    Returns:
        the pressure [Pa]

    Raises:
        BenchError: outside -100 to 100 °C

    Holds: ice -100 to 0 °C, water 0 to 100 °C; water below 0 °C is carried on past its fit, within 0.2 % down to -15 °C.
    Source: ashrae_fundamentals ch. 1; psychrolib GetSatVapPres.

    >>> round(saturation_pressure(20), -1)   # printed tables of steam: 2339 Pa
    2340.0
    """
    if not -100 <= temperature <= 100:
        raise BenchError(f"vapour pressure is known from -100 to 100 °C, not at {print_amount(temperature, '°C')}")
    inverse, constant, first, second, third, fourth, log = ICE if temperature < 0 and not liquid else WATER
    kelvin = temperature + 273.15
    powers = constant + kelvin * (first + kelvin * (second + kelvin * (third + kelvin * fourth)))
    return math.exp(inverse / kelvin + powers + log * math.log(kelvin))


def humidity_ratio(temperature: float, humidity: float, pressure: float = SEA_LEVEL, *, liquid: bool = False) -> float:
    """How much water the air carries.

    Args:
        temperature: of the air [°C], -5 to 50
        humidity: relative [%], 1 to 100
        pressure: of the air [Pa], 50000 to 110000
        liquid: count humidity over water that stays liquid below freezing

    Returns:
        water over dry air [g/g]

    Raises:
        BenchError: outside these ranges

    Holds: air as an ideal gas; true air carries 0.4 to 0.6 % more.
    Source: ashrae_fundamentals ch. 1; psychrolib GetHumRatioFromRelHum.

    >>> round(humidity_ratio(25, 50), 6)   # PsychroLib: 0.009881
    0.009881
    """
    _check(temperature, humidity, pressure)
    return _ratio(saturation_pressure(temperature, liquid=liquid) * humidity / 100, pressure)


def full_ratio(temperature: float, pressure: float = SEA_LEVEL, *, liquid: bool = False) -> float:
    """How much water air can carry at most, as it does right at a wet face.

    Args:
        temperature: of the air or the wet face [°C], -60 to 50
        pressure: of the air [Pa], 50000 to 110000
        liquid: over water that stays liquid below freezing

    Returns:
        water over dry air [g/g]

    Raises:
        BenchError: outside these ranges

    Source: ashrae_fundamentals ch. 1; psychrolib GetSatHumRatio.

    >>> round(full_ratio(20), 4)   # printed tables: 0.0147
    0.0147
    """
    _check(temperature, DAMPEST, pressure, coldest=COLDEST_FACE)
    return _ratio(saturation_pressure(temperature, liquid=liquid), pressure)


def wet_bulb(temperature: float, humidity: float, pressure: float = SEA_LEVEL, *, liquid: bool = False) -> float:
    """How cool a wet thing gets in moving air.

    Args:
        temperature: of the air [°C], -5 to 50
        humidity: relative [%], 1 to 100
        pressure: of the air [Pa], 50000 to 110000
        liquid: the water stays liquid below freezing, as on a plate; otherwise it freezes, as on a thermometer

    Returns:
        the wet bulb [°C]

    Raises:
        BenchError: outside these ranges

    Assumes: where an iced and a liquid bulb would both balance, the liquid one is given.
    Source: ashrae_fundamentals ch. 1; psychrolib GetTWetBulbFromRelHum.

    >>> round(wet_bulb(20, 50), 2)   # PsychroLib: 13.78
    13.78
    """
    ratio = humidity_ratio(temperature, humidity, pressure, liquid=liquid)
    lowest = temperature - WET_BULB_FALL

    def over_water(wet: float) -> float:
        held = _ratio(saturation_pressure(wet, liquid=liquid), pressure)
        given = (2501 - 2.326 * wet) * held - 1.006 * (temperature - wet)
        return given / (2501 + 1.86 * temperature - 4.186 * wet) - ratio

    def over_ice(wet: float) -> float:
        held = _ratio(saturation_pressure(wet), pressure)
        given = (2830 - 0.24 * wet) * held - 1.006 * (temperature - wet)
        return given / (2830 + 1.86 * temperature - 2.1 * wet) - ratio

    if liquid:
        return _crossing(over_water, lowest, temperature)
    if temperature >= 0 and over_water(0.0) <= 0:
        return _crossing(over_water, 0.0, temperature)
    return _crossing(over_ice, lowest, min(temperature, 0.0))


def dew_point(temperature: float, humidity: float) -> float:
    """At what warmth of a thing dew, or below freezing frost, settles on it.

    Args:
        temperature: of the air [°C], -5 to 50
        humidity: relative [%], 1 to 100

    Returns:
        the dew point [°C]

    Raises:
        BenchError: outside these ranges

    Source: ashrae_fundamentals ch. 1; psychrolib GetTDewPointFromRelHum.

    >>> round(dew_point(30, 50), 2)   # PsychroLib: 18.447
    18.45
    """
    _check(temperature, humidity, SEA_LEVEL)
    wanted = math.log(saturation_pressure(temperature) * humidity / 100)
    return _crossing(lambda dew: math.log(saturation_pressure(dew)) - wanted, COLDEST_DEW, temperature)


def pressure_at(altitude: float) -> float:
    """Pressure of the air at an altitude, in the standard atmosphere.

    Args:
        altitude: above the sea [m], -400 to 5000

    Returns:
        the pressure [Pa]

    Raises:
        BenchError: outside this range

    Source: ashrae_fundamentals ch. 1; psychrolib GetStandardAtmPressure.

    >>> round(pressure_at(1600))   # PsychroLib: 83523
    83523
    """
    if not LOWEST <= altitude <= HIGHEST:
        raise BenchError(f"altitude goes from {LOWEST:g} to {HIGHEST:g} m, not {print_amount(altitude, 'm')}")
    return SEA_LEVEL * math.pow(1 - 2.25577e-5 * altitude, 5.2559)


def _ratio(vapour: float, pressure: float) -> float:
    return WATER_TO_AIR * vapour / (pressure - vapour)


def _check(temperature: float, humidity: float, pressure: float, coldest: float = COLDEST) -> None:
    for what, value, low, high, unit in (
        ("air", temperature, coldest, WARMEST, "°C"),
        ("humidity", humidity, DRIEST, DAMPEST, "%"),
        ("air pressure", pressure, LEAST_PRESSURE, MOST_PRESSURE, "Pa"),
    ):
        if not low <= value <= high:
            raise BenchError(f"{what} of {print_amount(value, unit)}: {low:g} to {high:g} {unit} is accepted")


def _crossing(rises: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising curve passes zero: a straight cut across the bracket, the end that stays put given half its weight."""
    low_value, high_value = rises(low), rises(high)
    if high_value <= 0:  # saturated air: only rounding parts it from zero
        return high
    while high - low > NEAR_ENOUGH:
        middle = high - high_value * (high - low) / (high_value - low_value)
        value = rises(middle)
        if abs(value) < 1e-14:
            return middle
        if value > 0:
            high, high_value, low_value = middle, value, low_value / 2
        else:
            low, low_value, high_value = middle, value, high_value / 2
    return (low + high) / 2
