"""Humid air: what must hold everywhere, and what is refused."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from diagnose.bench.air import (
    COLDEST,
    WARMEST,
    dew_point,
    full_ratio,
    humidity_ratio,
    pressure_at,
    saturation_pressure,
    wet_bulb,
)
from diagnose.bench.sum import BenchError
from diagnose.bench.wet_bulb import SUMS

WARMTHS = st.floats(COLDEST, WARMEST)
DAMPS = st.floats(1, 100)
PRESSURES = st.floats(54_000, 105_000)
(SUM,) = SUMS


@given(WARMTHS, DAMPS, PRESSURES)
@example(0.0, 36.0, 101325.0)
@example(5.0, 35.0, 101325.0)
def test_dew_point_then_wet_bulb_then_air(warmth, damp, pressure):
    assert dew_point(warmth, damp) <= wet_bulb(warmth, damp, pressure) + 0.01
    assert wet_bulb(warmth, damp, pressure) <= warmth
    assert wet_bulb(warmth, damp, pressure, liquid=True) <= warmth


@given(st.floats(0.1, WARMEST), PRESSURES)
def test_full_air_has_no_wet_bulb_of_its_own(warmth, pressure):
    assert wet_bulb(warmth, 100, pressure) == pytest.approx(warmth, abs=1e-6)
    assert dew_point(warmth, 100) == pytest.approx(warmth, abs=1e-6)


@given(WARMTHS, DAMPS)
def test_the_dew_point_puts_back_the_humidity(warmth, damp):
    back = 100 * saturation_pressure(dew_point(warmth, damp)) / saturation_pressure(warmth)
    assert back == pytest.approx(damp, rel=2e-4)


@given(WARMTHS, DAMPS, DAMPS)
def test_damper_air_is_wetter_in_every_figure(warmth, one, other):
    less, more = sorted((one, other))
    assert humidity_ratio(warmth, less) <= humidity_ratio(warmth, more) <= full_ratio(warmth) + 1e-15
    assert dew_point(warmth, less) <= dew_point(warmth, more) + 1e-6
    assert wet_bulb(warmth, less, liquid=True) <= wet_bulb(warmth, more, liquid=True) + 1e-6


@given(WARMTHS, WARMTHS, DAMPS)
def test_warmer_air_has_a_warmer_wet_bulb(one, other, damp):
    cool, warm = sorted((one, other))
    assert wet_bulb(cool, damp, liquid=True) <= wet_bulb(warm, damp, liquid=True) + 1e-6


@given(WARMTHS, DAMPS, PRESSURES)
def test_a_wet_bulb_balances_the_warmth(warmth, damp, pressure):
    """The printed balance, put the other way round: the wet bulb gives back the water in the air."""
    wet = wet_bulb(warmth, damp, pressure, liquid=True)
    taken = (2501 + 1.86 * warmth - 4.186 * wet) * humidity_ratio(warmth, damp, pressure, liquid=True)
    given_up = (2501 - 2.326 * wet) * full_ratio(wet, pressure, liquid=True) - 1.006 * (warmth - wet)
    assert taken == pytest.approx(given_up, abs=1e-6)


@given(st.floats(-100, 100), st.floats(-100, 100))
def test_vapour_pressure_rises_with_warmth(one, other):
    cool, warm = sorted((one, other))
    assert saturation_pressure(cool) <= saturation_pressure(warm)


def test_ice_and_water_meet_at_freezing():
    assert saturation_pressure(-1e-9) == pytest.approx(saturation_pressure(0.0), rel=2e-4)
    assert saturation_pressure(-10) < saturation_pressure(-10, liquid=True)


@given(st.floats(-400, 5000), st.floats(-400, 5000))
def test_air_thins_with_height(one, other):
    low, high = sorted((one, other))
    assert pressure_at(low) >= pressure_at(high)


@pytest.mark.parametrize(
    ("work", "told"),
    [
        (lambda: wet_bulb(51, 50), "51 °C"),
        (lambda: wet_bulb(-6, 50), "-5 to 50 °C"),
        (lambda: wet_bulb(20, 0.5), "1 to 100 %"),
        (lambda: dew_point(20, 101), "101 %"),
        (lambda: humidity_ratio(20, 50, 20_000), "50000 to 110000 Pa"),
        (lambda: humidity_ratio(float("nan"), 50), "-5 to 50 °C"),
        (lambda: full_ratio(60), "60 °C"),
        (lambda: pressure_at(9000), "5000 m"),
        (lambda: saturation_pressure(120), "-100 to 100 °C"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(work, told):
    with pytest.raises(BenchError, match=told) as error:
        work()
    assert "\n" not in str(error.value)


def test_the_sum_says_what_it_doubts():
    ordinary = SUM.reckon({"temperature": 20.0, "humidity": 50.0})
    assert ordinary.value("wet_bulb") == pytest.approx(13.78, abs=0.01)
    assert ordinary.value("cooling") == pytest.approx(20 - ordinary.value("wet_bulb"))
    assert not any("frost" in doubt for doubt in ordinary.beware)
    dry = SUM.reckon({"temperature": 10.0, "humidity": 2.0})
    assert abs(dry.value("wet_bulb")) < 1
    for word in ("frost", "ice or water", "hygrometers"):
        assert any(word in doubt for doubt in dry.beware), word


def test_height_lowers_the_wet_bulb_by_less_than_a_degree_for_each_thousand_metres():
    for warmth, damp in ((20, 50), (35, 10), (50, 10)):
        low, high = (
            SUM.reckon({"temperature": warmth, "humidity": damp, "altitude": metres}).value("wet_bulb")
            for metres in (0.0, 1000.0)
        )
        assert 0 < low - high < 1
