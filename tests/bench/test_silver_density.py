"""Density and strength of a silver bath: there and back, rising, and no further than the table goes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import silver_density as bath
from diagnose.bench.rows import between
from diagnose.bench.sum import BenchError
from diagnose.bench.water_density import water_density

STRENGTHS = st.floats(0, bath.STRONGEST)
WARMTHS = st.floats(0, 40)


@given(STRENGTHS)
def test_strength_to_density_and_back(strength):
    assert bath.strength_at_20(bath.density_at_20(strength)) == pytest.approx(strength, abs=1e-6)


@given(STRENGTHS, WARMTHS)
def test_the_same_at_any_warmth(strength, temperature):
    assert bath.strength_at(bath.density_at(strength, temperature), temperature) == pytest.approx(strength, abs=1e-6)


@given(st.floats(0.998207, 1.4742), st.floats(0.0001, 0.1))
def test_a_denser_bath_is_a_stronger_one(density, more):
    assert bath.strength_at_20(min(density + more, 1.4743)) > bath.strength_at_20(density)


@given(STRENGTHS, st.floats(5, 35), st.floats(0.5, 5))
def test_a_warmer_bath_is_a_lighter_one(strength, temperature, warmer):
    assert bath.density_at(strength, temperature + warmer) < bath.density_at(strength, temperature)


@given(STRENGTHS)
def test_at_20_the_correction_is_nothing_and_leaves_no_doubt(strength):
    assert bath.warmth_doubt(strength, 20) == pytest.approx(0, abs=1e-6)
    assert bath.density_at(strength, 20, bath.MOST_SWELLING) == pytest.approx(bath.density_at_20(strength))


@given(st.floats(1, 400), st.floats(0, 10), st.floats(0.1, 10))
def test_doubt_grows_away_from_20(strength, apart, more):
    assert bath.warmth_doubt(strength, 20 + apart + more) > bath.warmth_doubt(strength, 20 + apart)


@given(STRENGTHS)
def test_water_and_silver_make_up_the_weight(strength):
    silver = 10 * bath.percent_by_weight(strength) * bath.density_at_20(strength)
    assert silver == pytest.approx(strength, abs=1e-9)
    assert bath.water_in(strength) + strength / 1000 == pytest.approx(bath.density_at_20(strength))


def test_another_way_to_the_same_densities():
    """The fitted formula by apparent volumes, worked out apart from the table: they stay within its stated error."""
    for strength in (20, 60, 90, 120, 200):
        for temperature in (10, 15, 25, 30, 35):
            moles = strength / bath.NITRATE_MASS
            for _ in range(5):
                room = 26.638 + 3.343 * moles**0.5 + 0.10 * (temperature - 20)
                dense = (
                    water_density(temperature) + moles * (bath.NITRATE_MASS - room * water_density(temperature)) / 1000
                )
                moles = strength / bath.NITRATE_MASS * dense / bath.density_at_20(strength)
            assert bath.density_at(strength, temperature) == pytest.approx(dense, abs=0.0004)


@pytest.mark.parametrize("density", [0.9, 0.998, 1.475, 13.6])
def test_what_is_no_silver_bath_is_refused_in_words(density):
    with pytest.raises(BenchError, match=r"no silver bath weighs .* is accepted"):
        bath.strength_at_20(density)


@pytest.mark.parametrize("strength", [-0.001, 590, float("nan")])
def test_strengths_outside_the_table_are_refused(strength):
    with pytest.raises(BenchError, match=r"0 to 589 g/L of silver nitrate is accepted"):
        bath.density_at_20(strength)


@pytest.mark.parametrize("temperature", [-0.1, 40.1, float("nan")])
def test_frozen_and_hot_water_are_refused(temperature):
    with pytest.raises(BenchError, match=r"from 0 to 40 °C"):
        water_density(temperature)


@pytest.mark.parametrize("at", [0.999, 3.001, float("nan")])
def test_a_table_is_not_read_past_its_ends(at):
    with pytest.raises(ValueError, match="outside the table"):
        between(at, (1, 2, 3), (1, 2, 3))


def test_the_ends_of_a_table_belong_to_it():
    assert [between(at, (1, 2, 3), (5, 7, 11)) for at in (1, 2, 3)] == [5, 7, 11]
