"""Vapour pressures: the library's equations of state, and refusal where the constants do not reach."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import vapour_pressure
from diagnose.bench.sum import BenchError

LIQUIDS = {
    "DiethylEther": (vapour_pressure.ether, vapour_pressure.ETHER_RANGE),
    "Ethanol": (vapour_pressure.ethanol, vapour_pressure.ETHANOL_RANGE),
    "Water": (vapour_pressure.water, vapour_pressure.WATER_RANGE),
}


@pytest.mark.parametrize("name", LIQUIDS)
def test_it_keeps_near_the_equations_of_state_over_its_whole_range(name):
    from CoolProp.CoolProp import PropsSI

    pressure, (low, high) = LIQUIDS[name]
    for step in range(41):
        warmth = max(low + (high - low) * step / 40, 0.05 if name == "Water" else low)
        printed = PropsSI("P", "T", warmth + 273.15, "Q", 0, name)
        part = {"DiethylEther": 0.005, "Ethanol": 0.023, "Water": 0.0033}[name]
        if name == "Ethanol" and warmth >= 10:
            part = 0.007
        assert pressure(warmth) == pytest.approx(printed, rel=part), warmth


@given(st.sampled_from(sorted(LIQUIDS)), st.floats(0, 54), st.floats(0.01, 1))
def test_warmer_presses_harder(name, warmth, more):
    pressure, _ = LIQUIDS[name]
    assert 0 < pressure(warmth) < pressure(warmth + more)


@given(st.floats(-10, 55))
def test_ether_always_presses_harder_than_alcohol(warmth):
    assert vapour_pressure.ether(warmth) > 5 * vapour_pressure.ethanol(warmth)


@pytest.mark.parametrize("name", LIQUIDS)
@pytest.mark.parametrize("beyond", [-0.1, 0.1, float("nan")])
def test_outside_its_range_it_says_the_range(name, beyond):
    pressure, (low, high) = LIQUIDS[name]
    with pytest.raises(BenchError, match=f"from {low:g} to {high:g} °C"):
        pressure(low + beyond if beyond < 0 else high + beyond)
