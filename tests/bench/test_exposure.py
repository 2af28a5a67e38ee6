"""Stops, bellows, light, plate speed and test strips."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import exposure, lens, light, plate_speed, stops, strips
from diagnose.bench.left_out import maybe, pair_told, told
from diagnose.bench.measuring import rounded
from diagnose.bench.sum import BenchError

NUMBERS = st.floats(stops.WIDEST, stops.NARROWEST)
TIMES = st.floats(0.001, 7200)
SPEEDS = st.floats(0.001, 1000)
FOCAL = st.floats(20, 2000)
(EXPOSURE,), (LENS,), (LIGHT,) = exposure.SUMS, lens.SUMS, light.SUMS
(SPEED,), (STRIP,) = plate_speed.SUMS, strips.SUMS


# Worked out beside us by the definitions.
def test_vectors():
    assert stops.stops_between(4, 8) == 2
    assert stops.stops_between(4.5, 5.6) == pytest.approx(0.631, abs=0.001)
    assert exposure.changed_time(6, 4, 5.6) == pytest.approx(11.76)
    assert exposure.changed_time(4, 4, 4, 1, 0.5) == 8
    assert light.stops_by_distance(1, 1.5) == pytest.approx(-1.1699, abs=0.001)
    assert light.stops_by_energy(600, 4800) == 3
    assert lens.extension_for(360, 1500) == pytest.approx(473.68, abs=0.05)


@given(NUMBERS, NUMBERS, NUMBERS)
def test_stops_add_up_and_turn_round(one, two, three):
    assert stops.stops_between(one, two) == pytest.approx(-stops.stops_between(two, one))
    assert stops.stops_between(one, two) + stops.stops_between(two, three) == pytest.approx(
        stops.stops_between(one, three), abs=1e-9
    )


@given(TIMES, st.floats(-10, 10), st.floats(-10, 10), st.floats(0.5, 1))
def test_changes_of_the_time_add_up_and_turn_round(seconds, first, second, power):
    twice = exposure.time_after(exposure.time_after(seconds, first, power), second, power)
    assert twice == pytest.approx(exposure.time_after(seconds, first + second, power), rel=1e-6)
    assert exposure.time_after(seconds, 0, power) == pytest.approx(seconds)


@given(TIMES, st.floats(-10, 10), st.floats(0.5, 1))
def test_more_stops_are_more_time_and_lag_never_spares_any(seconds, change, power):
    assert exposure.time_after(seconds, change + 0.1, power) > exposure.time_after(seconds, change, power)
    if change > 0:
        assert exposure.time_after(seconds, change, power) >= exposure.time_after(seconds, change) - 1e-9


@given(TIMES, NUMBERS, NUMBERS, SPEEDS, SPEEDS)
def test_a_changed_time_puts_the_same_light_on_the_plate(seconds, stop, new, speed, new_speed):
    now = exposure.changed_time(seconds, stop, new, speed, new_speed)
    assert now * new_speed / new**2 == pytest.approx(seconds * speed / stop**2)


@given(FOCAL, st.floats(1.01, 50))
def test_draw_and_size_tell_the_same_factor(focal, times):
    distance = focal * times
    draw = lens.extension_for(focal, distance)
    size = lens.magnification_at(focal, distance)
    assert lens.bellows_factor(draw, focal) == pytest.approx(lens.factor_at(size))
    assert lens.distance_for(focal, draw) == pytest.approx(distance)
    assert 1 / focal == pytest.approx(1 / distance + 1 / draw)


@given(FOCAL, st.floats(0.98, 10), st.floats(1, 2))
def test_more_draw_is_more_time(focal, draw, more):
    factor = lens.bellows_factor(focal * draw, focal)
    assert 1 <= factor <= lens.bellows_factor(focal * draw * more, focal)


@given(st.floats(10, 1e5), st.floats(10, 1e5))
def test_lamps_moved_there_and_back(one, other):
    assert light.stops_by_distance(one, other) == pytest.approx(-light.stops_by_distance(other, one))
    assert light.stops_by_distance(one, one) == 0


@given(st.integers(1, 100), st.floats(-5, 5))
def test_the_pops_needed_are_enough_and_not_one_too_many(pops, won):
    needed = light.pops_needed(pops, won)
    assert needed * 2**won >= pops * (1 - 1e-6)
    assert needed == 1 or (needed - 1) * 2**won < pops


@given(NUMBERS, TIMES, st.floats(0.01, 100))
def test_a_speed_gives_back_its_light(stop, seconds, speed):
    value = plate_speed.light_value(stop, seconds, speed)
    assert plate_speed.speed_from(stop, seconds, value) == pytest.approx(speed)


@given(st.floats(0.1, 600), st.integers(2, 10), st.floats(0.1, 3))
def test_strips_get_what_the_plan_says(shortest, count, step):
    try:
        every, steps = strips.exposures(shortest, count, step), strips.waits(shortest, count, step)
    except BenchError:
        assert shortest * 2 ** (step * (count - 1)) > strips.LONGEST
        return
    assert all(wait > 0 for wait in steps)
    # The strip bared by pull k gets wait k and all that follow.
    got = [math.fsum(steps[number:]) for number in range(count)]
    assert got == pytest.approx(list(reversed(every)))
    assert [stops.stops_of(more / less) for less, more in pairwise(every)] == pytest.approx([step] * (count - 1))


def test_the_usual_plan_would_have_found_the_right_time_of_1863():
    """Holmes tried 2, 5, 15 and 60 s and found 15 right; some strip of ours lies within half a step of it."""
    usual = strips.exposures(2, 5, 1)
    assert min(abs(stops.stops_of(seconds / 15)) for seconds in usual) < 0.5


def test_exposure_time():
    worked = EXPOSURE.reckon({"time": 6.0, "stop": 4.0, "new_stop": 5.6, "light": 1.0})
    assert worked.value("seconds") == pytest.approx(5.88)
    assert rounded(worked.amounts[0]) == 6
    assert worked.value("stops") == pytest.approx(stops.stops_between(4, 5.6) - 1)
    slower = EXPOSURE.reckon({"time": 4.0, "speed": 1.0, "new_speed": 0.5})
    assert slower.value("seconds") == 8
    assert EXPOSURE.reckon({"time": 10.0, "light": -1.0, "lag": "much"}).value("seconds") > 22


@pytest.mark.parametrize(("seconds", "said"), [(0.25, "shutter"), (240.0, "wet-window")])
def test_very_short_and_very_long_exposures_are_doubted(seconds, said):
    assert any(said in doubt for doubt in EXPOSURE.reckon({"time": seconds}).beware)
    assert not any(said in doubt for doubt in EXPOSURE.reckon({"time": 10.0}).beware)


def test_a_short_exposure_is_not_rounded_away_by_the_clock():
    assert rounded(stops.seconds_to_give("seconds", "expose", 0.4)) == 0.4
    assert rounded(stops.seconds_to_give("seconds", "expose", 12.3)) == 12


def test_bellows_factor_three_ways():
    by_draw = LENS.reckon({"focal_length": 300.0, "extension": 450.0, "time": 2.0})
    by_size = LENS.reckon({"magnification": 0.5, "time": 2.0})
    by_distance = LENS.reckon({"focal_length": 300.0, "subject_distance": 900.0, "time": 2.0})
    for worked in (by_draw, by_size, by_distance):
        assert worked.value("factor") == pytest.approx(2.25)
        assert worked.value("seconds") == pytest.approx(4.5)
        assert worked.value("stops") == pytest.approx(1.17, abs=0.01)
    assert by_distance.value("extension") == pytest.approx(450)
    assert "not worth" in LENS.reckon({"magnification": 0.05}).do[0]


def test_light_change():
    worked = LIGHT.reckon({"distance": 2000.0, "new_distance": 1000.0, "energy": 2400.0, "new_energy": 600.0})
    assert worked.value("stops") == pytest.approx(0)
    assert "same light" in worked.do[0]
    more = LIGHT.reckon({"energy": 4800.0, "new_energy": 2400.0, "pops": 2.0, "new_pops": 2.0})
    assert more.value("stops") == pytest.approx(-1)
    assert more.value("pops_needed") == 4
    assert more.do[0].startswith("Open the lens by 1.0 stop ")
    lamp = LIGHT.reckon({"distance": 1000.0, "new_distance": 1500.0, "time": 4.0})
    assert lamp.value("seconds") == pytest.approx(9)
    assert all(amount.name != "pops_needed" for amount in lamp.amounts)


def test_plate_speed_three_ways():
    by_ev = SPEED.reckon({"stop": 4.0, "time": 4.0, "ev": 10.0})
    by_lux = SPEED.reckon({"stop": 4.0, "time": 4.0, "lux": 2560.0})
    known = {"known_stop": 4.0, "known_time": 1 / 64, "known_speed": 100.0}
    by_known = SPEED.reckon({"stop": 4.0, "time": 4.0, **known})
    for worked in (by_ev, by_lux, by_known):
        assert worked.value("speed") == pytest.approx(100 * 16 / 4 / 1024)
        assert worked.value("light") == pytest.approx(10)
    assert "ISO 0.39" in by_ev.do[0]
    assert "260 times" in by_ev.do[1]
    assert "check the reading" in by_ev.beware[0]
    assert "check the reading" not in SPEED.reckon({"stop": 4.0, "time": 1.0, "ev": 10.0}).beware[0]


def test_the_plan_of_a_test_strip():
    worked = STRIP.reckon({})
    assert [worked.value(f"wait_{number}") for number in range(1, 6)] == [16, 8, 4, 2, 2]
    assert [worked.value(f"strip_{number}") for number in range(1, 6)] == [32, 16, 8, 4, 2]
    assert worked.value("longest") == 32
    assert "at 16, 24, 28, 30 s" in worked.do[1]
    assert "wet-window" in STRIP.reckon({"shortest": 8.0}).beware[-1]
    assert "under a second" in STRIP.reckon({"shortest": 0.5}).beware[-1]


@pytest.mark.parametrize(
    ("asked", "given", "said"),
    [
        (EXPOSURE, {"time": 5.0, "stop": 4.0}, "new_stop is missing"),
        (EXPOSURE, {"time": 5.0, "new_speed": 4.0}, "speed is missing"),
        (EXPOSURE, {"time": 5.0, "stop": 0.1, "new_stop": 4.0}, "f/0.5 or more"),
        (EXPOSURE, {"time": 5000.0, "light": -10.0}, "stop up"),
        (EXPOSURE, {"time": 0.01, "light": 10.0}, "stop down"),
        (EXPOSURE, {"time": 0.0}, "0.001 s"),
        (LENS, {"focal_length": 300.0}, "tell one of"),
        (LENS, {"focal_length": 300.0, "magnification": 1.0, "extension": 600.0}, "only one"),
        (LENS, {"extension": 300.0}, "tell focal_length"),
        (LENS, {"focal_length": 300.0, "extension": 200.0}, "shorter than"),
        (LENS, {"focal_length": 300.0, "subject_distance": 250.0}, "move back"),
        (LIGHT, {}, "nothing has changed"),
        (LIGHT, {"distance": 1000.0}, "new_distance is missing"),
        (LIGHT, {"pops": 1.5, "new_pops": 2.0}, "whole pops"),
        (LIGHT, {"energy": 100.0, "new_energy": 200.0, "time": 3.0}, "leave time out"),
        (LIGHT, {"distance": 1e-5, "new_distance": 1000.0}, "10 mm or more"),
        (SPEED, {"stop": 4.0, "time": 4.0}, "one way"),
        (SPEED, {"stop": 4.0, "time": 4.0, "ev": 10.0, "lux": 100.0}, "one way"),
        (SPEED, {"stop": 4.0, "time": 4.0, "known_stop": 4.0}, "all three"),
        (SPEED, {"stop": 0.5, "time": 7000.0, "ev": 20.0}, "no plate has that"),
        (STRIP, {"strips": 4.5}, "whole number"),
        (STRIP, {"shortest": 60.0, "strips": 10.0}, "fewer strips"),
    ],
)
def test_what_does_not_go_together_is_refused_in_one_line(asked, given, said):
    with pytest.raises(BenchError, match=said) as error:
        asked.reckon(given)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize(
    "work",
    [
        lambda: stops.stops_of(0),
        lambda: stops.stops_of(math.inf),
        lambda: stops.stops_between(4, 0.2),
        lambda: exposure.time_after(0, 1),
        lambda: exposure.time_after(5, 1, 0.2),
        lambda: exposure.speed_gain(0, 1),
        lambda: lens.factor_at(-0.5),
        lambda: lens.distance_for(300, 300),
        lambda: lens.bellows_factor(300, 0),
        lambda: light.stops_by_distance(0, 1),
        lambda: light.stops_by_pops(0, 1),
        lambda: plate_speed.light_value(4, 0),
        lambda: plate_speed.light_value_of(0),
        lambda: strips.exposures(0, 5, 1),
        lambda: strips.exposures(2, 1, 1),
    ],
)
def test_the_functions_refuse_what_cannot_be(work):
    with pytest.raises(BenchError):
        work()


def test_what_may_be_left_out():
    asked = maybe("stop", "Which stop", "f-number", 64)
    assert asked.usual == 0
    assert not asked.complaint(0.0)
    assert asked.complaint(100.0)
    assert not told("stop", 0, 0.5, "f-number")
    assert not pair_told("stop", 0, 0, 0.5, "f-number")
    with pytest.raises(BenchError, match=r"f/0\.5 or more"):
        told("stop", 0.1, 0.5, "f-number")
    with pytest.raises(BenchError, match=r"^stop is missing"):
        pair_told("stop", 0, 4, 0.5, "f-number")


@pytest.mark.parametrize(("value", "said"), [(526.3, "530"), (0.1914, "0.19"), (1.0, "1"), (0.00123, "0.0012")])
def test_two_figures(value, said):
    assert stops.two_figures(value) == said
