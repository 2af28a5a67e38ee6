"""Readings of every scale, and what warmth does to them."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import bath_reading as sums
from diagnose.bench import bath_scales, baume, hydrometer
from diagnose.bench.silver_density import density_at
from diagnose.bench.sum import BenchError
from diagnose.bench.water_density import water_density

STRENGTHS = st.floats(10, 300)
WARMTHS = st.floats(5, 38)
MADE_FOR = st.sampled_from([15.0, hydrometer.SIXTY_FAHRENHEIT, 17.5, 20.0, 25.0])


def shown(strength, temperature, made_for):
    """What a true hydrometer would show: the liquid's density, its own glass grown or shrunk."""
    return density_at(strength, temperature) / (1 - 0.000025 * (temperature - made_for)) / water_density(made_for)


# Worked out beforehand by another formula (glass left out), hence the width.
@pytest.mark.parametrize(
    ("reading", "temperature", "made_for", "strength", "within"),
    [
        (1.072, 28, 20, 89.7, 0.8),
        (1.070, 30, 20, 88.2, 0.8),
        (1.078, 10, 20, 91.3, 0.8),
        (1.075, 15.56, 15.56, 90.0, 0.6),
        (1.0769, 10, 20, 90, 0.8),
        (1.0715, 30, 20, 90, 0.8),
        (1.0695, 35, 20, 90, 0.8),
        (1.0746, 20, 20, 90, 0.4),
        (1.06, 20, 20, 72.2, 0.4),
    ],
)
def test_readings_worked_out_before(reading, temperature, made_for, strength, within):
    assert hydrometer.true_strength(reading, temperature, made_for) == pytest.approx(strength, abs=within)


@given(STRENGTHS, WARMTHS, MADE_FOR)
def test_a_true_hydrometer_gives_the_strength_back_at_any_warmth(strength, temperature, made_for):
    reading = shown(strength, temperature, made_for)
    assert hydrometer.true_strength(reading, temperature, made_for) == pytest.approx(strength, abs=1e-6)


@given(STRENGTHS, st.floats(10, 38), MADE_FOR, st.floats(0.1, 2))  # below, water itself hardly swells
def test_the_same_reading_in_a_warmer_bath_means_more_silver(strength, temperature, made_for, warmer):
    reading = shown(strength, temperature, made_for)
    assert hydrometer.true_strength(reading, temperature + warmer, made_for) > strength


@given(STRENGTHS, MADE_FOR)
def test_an_argentometer_is_right_at_the_warmth_it_was_made_for(marked, made_for):
    assert hydrometer.marked_strength(marked, made_for, made_for) == pytest.approx(marked, rel=0.003)
    assert hydrometer.marked_strength(marked, 20, 20) == pytest.approx(marked, abs=1e-6)


@given(STRENGTHS, WARMTHS)
def test_marks_and_gravity_agree_on_one_bath(strength, temperature):
    marked = hydrometer.marked_strength(strength, temperature, 20)
    by_gravity = hydrometer.true_strength(density_at(strength, 20) / water_density(20), temperature, 20)
    by_percent = hydrometer.strength_by_percent(100 * strength / 1000 / density_at(strength, 20), temperature, 20)
    assert marked == pytest.approx(by_gravity, abs=1e-6)
    assert marked == pytest.approx(by_percent, rel=0.002)  # the two run between the same rows on different lines


def test_warmth_is_worth_about_four_tenths_of_a_gram_for_a_degree():
    each = (hydrometer.marked_strength(90, 30, 20) - 90) / 10
    assert each == pytest.approx(0.4, abs=0.1)


@given(st.floats(2, 16), st.floats(0.1, 4))
def test_more_degrees_more_weight_and_the_two_scales_differ(degrees, more):
    for scale in (baume.gravity_of_towler, baume.gravity_of_us_baume):
        assert scale(degrees + more) > scale(degrees)
    assert baume.gravity_of_us_baume(degrees) > baume.gravity_of_towler(degrees)


@pytest.mark.parametrize(
    "work",
    [
        lambda: baume.gravity_of_towler(21),
        lambda: baume.gravity_of_towler(-1),
        lambda: baume.gravity_of_us_baume(-1),
        lambda: baume.gravity_of_us_baume(145),
        lambda: hydrometer.strength_by_percent(41, 20),
        lambda: hydrometer.strength_by_percent(-1, 20),
        lambda: hydrometer.true_strength(0.99, 20),
        lambda: hydrometer.true_strength(1.07, 50),
        lambda: hydrometer.marked_strength(600, 20),
    ],
)
def test_what_cannot_be_is_refused_in_words(work):
    with pytest.raises(BenchError, match=r"accepted|from 0 to 40 °C"):
        work()


def test_a_warm_bath_is_said_to_be_stronger_than_it_looks():
    worked = sums.BY_GRAVITY.reckon({"reading": 1.072, "temperature": 28})
    assert worked.amounts[0].name == "strength"
    assert worked.value("strength") > worked.value("warmth_unminded") + 3
    assert any("bath-spirit" in line for line in worked.beware)


def test_grams_to_the_millilitre_are_not_specific_gravity():
    plain = {"reading": 1.0727, "temperature": 20, "made_for": 20}
    by_weight = sums.BY_GRAVITY.reckon(plain | {"scale": "density"}).value("strength")
    assert by_weight == pytest.approx(90, abs=0.1)
    assert by_weight - sums.BY_GRAVITY.reckon(plain).value("strength") == pytest.approx(2.2, abs=0.2)


@pytest.mark.parametrize("temperature", [5, 37])
def test_outside_the_trusted_warmth_it_says_so_first(temperature):
    worked = sums.BY_GRAVITY.reckon({"reading": 1.072, "temperature": temperature})
    assert "outside 10 to 35 °C" in worked.beware[0]


@pytest.mark.parametrize("temperature", [10, 15, 20, 30, 35])
def test_inside_it_does_not(temperature):
    worked = sums.BY_GRAVITY.reckon({"reading": 1.072, "temperature": temperature})
    assert not any("outside" in line for line in worked.beware)


def test_doubt_is_least_at_20():
    doubts = [sums.BY_GRAVITY.reckon({"reading": 1.072, "temperature": t}).value("give_or_take") for t in (10, 20, 30)]
    assert min(doubts) == doubts[1] == pytest.approx(1.0, abs=0.1)


def test_degrees_of_two_scales():
    old = bath_scales.BY_DEGREES.reckon({"degrees": 10.0, "scale": "towler", "temperature": 18}).value("strength")
    later = bath_scales.BY_DEGREES.reckon({"degrees": 10.0, "scale": "us", "temperature": 18}).value("strength")
    half = bath_scales.BY_DEGREES.reckon({"degrees": 9.5, "scale": "us", "temperature": 18}).value("strength")
    assert later - old == pytest.approx(5, abs=0.5)
    assert half == pytest.approx(old, abs=1)


@given(st.floats(0, 39), WARMTHS)
def test_percent_rises_with_the_reading_or_is_refused(marked, temperature):
    told = {"marked": marked, "temperature": temperature}
    if 2 <= marked <= 38:
        assert bath_scales.BY_PERCENT.reckon(told).value("percent_by_weight") == pytest.approx(marked, abs=1.2)
        return
    with suppress(BenchError):
        assert bath_scales.BY_PERCENT.reckon(told).value("percent_by_weight") == pytest.approx(marked, abs=1.2)
