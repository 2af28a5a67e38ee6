"""Humid air against two libraries, printed tables and one engineers' example."""

from functools import cache, partial

import psychrolib

from diagnose.bench import wet_window
from diagnose.bench.air import (
    SEA_LEVEL,
    dew_point,
    full_ratio,
    humidity_ratio,
    pressure_at,
    saturation_pressure,
    wet_bulb,
)
from diagnose.bench.evaporation import by_rule
from tests.bench.outside.value import Outside

psychrolib.SetUnitSystem(psychrolib.SI)
PSYCHROLIB = "PsychroLib 2.5.0, ASHRAE Fundamentals 2017, worked in this test"
COOLPROP = "CoolProp 8.0.0, worked in this test"
WARMTHS = (-5, 2, 8, 14, 20, 26, 32, 38, 44, 50)
DAMPS = (2, 10, 25, 40, 50, 60, 75, 90, 100)
HIGH = 79495.0  # Pa, about 2000 m
# So close to freezing a bulb of ice and one of water both balance; which one a library gives hangs on how it searches.
BOTH_BALANCE = 1.5  # °C


def settled(wet):
    return wet < 0 or wet > BOTH_BALANCE


def wet_bulbs():
    for warmth in WARMTHS:
        for damp in DAMPS:
            for pressure in (SEA_LEVEL, HIGH):
                theirs = psychrolib.GetTWetBulbFromRelHum(warmth, damp / 100, pressure)
                ours = partial(wet_bulb, warmth, damp, pressure)
                if settled(ours()) and settled(theirs):
                    what = f"wet bulb at {warmth} °C, {damp} %, {pressure:.0f} Pa"
                    yield Outside(what, f"{PSYCHROLIB}: GetTWetBulbFromRelHum", theirs, 0.002, ours)


def other_psychrolib():
    for warmth in WARMTHS:
        for damp in (2, 25, 60, 90):
            at = f"at {warmth} °C, {damp} %"
            yield Outside(
                f"humidity ratio {at}",
                f"{PSYCHROLIB}: GetHumRatioFromRelHum",
                psychrolib.GetHumRatioFromRelHum(warmth, damp / 100, SEA_LEVEL),
                1e-5,
                partial(humidity_ratio, warmth, damp),
            )
            yield Outside(
                f"dew point {at}",
                f"{PSYCHROLIB}: GetTDewPointFromRelHum",
                psychrolib.GetTDewPointFromRelHum(warmth, damp / 100),
                0.01,
                partial(dew_point, warmth, damp),
            )
    for metres in (-400, 0, 500, 1000, 1600, 2000, 5000):
        theirs = psychrolib.GetStandardAtmPressure(metres)
        yield Outside(f"air pressure at {metres} m", PSYCHROLIB, theirs, 1.0, partial(pressure_at, metres))


@cache
def coolprop(what, warmth, damp, pressure=SEA_LEVEL):
    from CoolProp.CoolProp import HAPropsSI

    return HAPropsSI(what, "T", warmth + 273.15, "R", damp / 100, "P", pressure)


@cache
def steam(warmth):
    from CoolProp.CoolProp import PropsSI

    return PropsSI("P", "T", warmth + 273.15, "Q", 0, "Water")


def furthest(differences):
    return max(differences, key=abs, default=0.0)


def coolprop_wet_bulb(warmth):
    differences = []
    for damp in DAMPS:
        for pressure in (SEA_LEVEL, HIGH):
            ours, theirs = wet_bulb(warmth, damp, pressure), coolprop("B", warmth, damp, pressure) - 273.15
            if settled(ours) and settled(theirs):
                differences.append(ours - theirs)
    assert len(differences) > len(DAMPS)
    return furthest(differences)


def coolprop_dew_point(warmth):
    return furthest(dew_point(warmth, damp) - (coolprop("D", warmth, damp) - 273.15) for damp in DAMPS)


def coolprop_ratio(warmth):
    return furthest(humidity_ratio(warmth, damp) / coolprop("W", warmth, damp) - 1 for damp in DAMPS)


def against_coolprop():
    """Differences, so that the slow library is loaded only when a test runs."""
    for warmth in WARMTHS:
        damps = f"{warmth} °C, 2 to 100 %"
        yield Outside(
            f"furthest difference of wet bulbs at {damps}",
            f"{COOLPROP}: HAPropsSI",
            0.0,
            0.04,
            partial(coolprop_wet_bulb, warmth),
        )
        yield Outside(
            f"furthest difference of dew points at {damps}",
            f"{COOLPROP}: HAPropsSI",
            0.0,
            0.03,
            partial(coolprop_dew_point, warmth),
        )
        # True air carries a little more than an ideal gas would.
        yield Outside(
            f"furthest share of difference of humidity ratios at {damps}",
            f"{COOLPROP}: HAPropsSI",
            0.0,
            0.007,
            partial(coolprop_ratio, warmth),
        )
        if warmth > 0:
            yield Outside(
                f"share of difference of the vapour pressure at {warmth} °C",
                f"{COOLPROP}: IAPWS-95",
                0.0,
                0.0005,
                lambda warmth=warmth: saturation_pressure(warmth) / steam(warmth) - 1,
            )


OUTSIDE = (
    *wet_bulbs(),
    *other_psychrolib(),
    *against_coolprop(),
    Outside("air pressure at 1600 m", "fluids, ATMOSPHERE_1976", 83528, 10, partial(pressure_at, 1600)),
    # ASHRAE Fundamentals ch. 1, worked example: dry bulb 40 °C, wet bulb 20 °C, read off a chart.
    Outside(
        "wet bulb at 40 °C, 14 %",
        "ASHRAE Fundamentals ch. 1, worked example, from memory",
        20,
        0.1,
        partial(wet_bulb, 40, 14),
        seen=False,
    ),
    Outside(
        "humidity ratio at 40 °C, 14 %",
        "ASHRAE Fundamentals ch. 1, worked example, from memory",
        0.0065,
        0.00015,
        partial(humidity_ratio, 40, 14),
        seen=False,
    ),
    Outside(
        "dew point at 40 °C, 14 %",
        "ASHRAE Fundamentals ch. 1, worked example, from memory",
        7,
        0.6,
        partial(dew_point, 40, 14),
        seen=False,
    ),
    Outside(
        "wet bulb at 20 °C, 50 %", "Stull 2011, example, from memory", 13.7, 0.15, partial(wet_bulb, 20, 50), False
    ),
    Outside(
        "most water air carries at 20 °C",
        "ASHRAE Fundamentals ch. 1, table of moist air, from memory",
        0.014758,
        0.0001,
        partial(full_ratio, 20),
        seen=False,
    ),
    *(
        Outside(
            f"vapour pressure over liquid water at {warmth} °C",
            "Smithsonian Meteorological Tables, from memory",
            pressure,
            0.004 * pressure,
            partial(saturation_pressure, warmth, liquid=True),
            seen=False,
        )
        for warmth, pressure in ((-15, 191.18), (-10, 286.27), (-5, 421.48), (0, 610.78))
    ),
    Outside(
        "water leaving 5 m² at 2 m/s, 0.02 against 0.01 kg/kg",
        "engineering pages, worked example of (25 + 19 v) A (xs - x)",
        3.15,
        1e-9,
        partial(by_rule, 0.02, 0.01, 2, 5),
    ),
    # The book does not tell the humidity; an ordinary 50 % is taken. The ordinary ten minutes lean on it too.
    Outside(
        "minutes from bath to developer at 70 °F",
        "Humphrey 1857 p. 133: ten minutes still safe; humidity judged",
        10,
        2,
        partial(wet_window.minutes, 21.1, 50),
    ),
)
