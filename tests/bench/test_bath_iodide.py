"""Silver iodide in the bath: filled it is full, thinned it lets go, and no iodide is made or lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import bath_iodide as sums
from diagnose.bench import silver_iodide
from diagnose.bench.sum import BenchError

STRENGTHS = st.floats(20, 340)
VOLUMES = st.floats(50, 20_000)
SALTS = st.sampled_from(sorted(silver_iodide.IODIDES))


@pytest.mark.parametrize(
    ("strength", "held"), [(60, 0.106), (70, 0.161), (80, 0.231), (90, 0.317), (100, 0.422), (108.8, 0.53)]
)
def test_held_worked_out_before(strength, held):
    assert silver_iodide.iodide_held(strength) == pytest.approx(held, rel=0.01)


@given(st.floats(0, 339), st.floats(0.1, 1))
def test_a_stronger_bath_holds_more(strength, more):
    assert silver_iodide.iodide_held(strength + more) > silver_iodide.iodide_held(strength)


@given(VOLUMES, STRENGTHS, SALTS)
def test_filled_with_any_iodide_it_is_full(volume, strength, salt):
    dose = silver_iodide.iodide_to_fill(volume, strength, salt)
    assert dose >= 0
    assert silver_iodide.silver_iodide_from(dose, salt) == pytest.approx(
        volume / 1000 * silver_iodide.iodide_held(strength)
    )


@given(VOLUMES, STRENGTHS, st.floats(0, 50_000))
def test_what_falls_and_what_stays_is_what_there_was(volume, strength, water):
    falls = silver_iodide.thrown_down(volume, strength, water)
    after = volume + water
    stays = after * silver_iodide.iodide_held(strength * volume / after) / 1000
    assert -1e-12 <= falls <= volume * silver_iodide.iodide_held(strength) / 1000
    assert falls + stays == pytest.approx(volume * silver_iodide.iodide_held(strength) / 1000)


@given(VOLUMES, STRENGTHS, st.floats(1, 10_000), st.floats(1, 10_000))
def test_more_water_brings_down_more(volume, strength, water, more):
    assert silver_iodide.thrown_down(volume, strength, water + more) > silver_iodide.thrown_down(
        volume, strength, water
    )


def test_diluted_to_three_times_most_of_it_falls():
    """The old way of clearing a bath full of iodide; worked out before: 0.268 g of 0.317 g."""
    assert silver_iodide.thrown_down(1000, 90, 2000) == pytest.approx(0.268, abs=0.01)


@pytest.mark.parametrize("strength", [-1, 341, float("nan")])
def test_where_nothing_was_measured_it_is_refused(strength):
    with pytest.raises(BenchError, match="up to 340 g/L is accepted"):
        silver_iodide.iodide_held(strength)


def test_carrying_the_line_on_is_said():
    for work, told in ((sums.TO_ADD, {}), (sums.THINNED, {"water": 500})):
        weak = work.reckon({"volume": 1000, "strength": 90} | told)
        assert any("carried on" in line for line in weak.beware)
    assert not any("carried on" in line for line in sums.TO_ADD.reckon({"volume": 1000, "strength": 200}).beware)


def test_cadmium_brings_its_caution_and_no_other_salt_does():
    told = {"volume": 1000, "strength": 90}
    assert sums.TO_ADD.reckon(told | {"salt": "cadmium"}).cautions == ("cadmium-salts",)
    assert sums.TO_ADD.reckon(told).cautions == ()


def test_the_dose_is_never_rounded_up():
    amounts = sums.TO_ADD.reckon({"volume": 1000, "strength": 90}).amounts
    assert [amount.never_over for amount in amounts if amount.tool] == [True, True]
    solution, dose = amounts[:2]
    assert solution.value == pytest.approx(100 * dose.value)
