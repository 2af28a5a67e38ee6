"""Mixing hypo."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.hypo import ANHYDROUS, HYPO_FOR_FIXER, STRENGTHS, hypo_density, hypo_mass
from diagnose.bench.sum import BenchError


@given(st.floats(1, 80), st.floats(50, 100_000))
def test_what_is_weighed_gives_the_percent_again(percent, volume):
    crystals, dry = hypo_mass(percent, volume), hypo_mass(percent, volume, anhydrous=True)
    assert crystals / volume * 100 == pytest.approx(percent)
    assert dry / ANHYDROUS == pytest.approx(crystals)
    assert dry < crystals


def test_density_as_the_notes_work_it_out_from_the_table():
    assert hypo_density(200) == pytest.approx(1.0969, abs=0.001)
    assert hypo_density(0) == pytest.approx(0.9982)


@given(st.floats(0, 860), st.floats(0.1, 5))
def test_stronger_is_denser(strength, more):
    assert hypo_density(strength) < hypo_density(strength + more)


@pytest.mark.parametrize("strength", STRENGTHS)
def test_the_line_has_no_jump_at_a_row(strength):
    if 0 < strength < STRENGTHS[-1]:
        assert hypo_density(strength - 1e-6) == pytest.approx(hypo_density(strength + 1e-6), abs=1e-6)


@pytest.mark.parametrize("strength", [-1.0, 900.0])
def test_off_the_table_it_says_what_is_accepted(strength):
    with pytest.raises(BenchError, match="0 to 868 g/L"):
        hypo_density(strength)


@given(st.floats(1, 80), st.floats(50, 100_000))
def test_crystals_bring_their_own_water(percent, volume):
    """The same fixer from either hypo: what the crystals weigh more is water, and is left out of the water."""
    crystals = HYPO_FOR_FIXER.reckon({"volume": volume, "percent": percent})
    dry = HYPO_FOR_FIXER.reckon({"volume": volume, "percent": percent, "form": "anhydrous"})
    assert crystals.value("hypo") + crystals.value("water") == pytest.approx(dry.value("hypo") + dry.value("water"))
    assert 0 < crystals.value("water") < dry.value("water") <= volume


@pytest.mark.parametrize(
    ("percent", "words"), [(10.0, "Below 20 %"), (50.0, "clears no faster"), (75.0, "throw crystals")]
)
def test_doubts_by_strength(percent, words):
    told = HYPO_FOR_FIXER.reckon({"volume": 1000.0, "percent": percent}).beware
    assert any(words in line for line in told)
    assert not any(words in line for line in HYPO_FOR_FIXER.reckon({"volume": 1000.0, "percent": 25.0}).beware)


def test_the_hydrometer_line_carries_the_figure():
    assert any("1.099" in line for line in HYPO_FOR_FIXER.reckon({"volume": 1000.0}).do)


def test_the_whole_table_serves_the_whole_range_asked():
    low, high = HYPO_FOR_FIXER.asked("percent").range
    assert STRENGTHS[0] <= low * 10 < high * 10 <= STRENGTHS[-1]
