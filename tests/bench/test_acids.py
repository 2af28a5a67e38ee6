"""Percent, density and mol per litre of nitric and acetic acid; thinning and mixing."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.acids import (
    ACIDS,
    WATER_DENSITY,
    density,
    moles_per_litre,
    percent_mixed,
    percents_at_density,
    thinned,
    volume_before,
)
from diagnose.bench.sum import BenchError

KINDS = st.sampled_from(sorted(ACIDS))
SHARES = st.floats(0.01, 1.0)
VOLUMES = st.floats(1, 5000)


@given(KINDS, SHARES, SHARES, VOLUMES)
def test_acid_thinned_has_the_strength_that_was_wanted(acid, share, part, volume):
    percent = share * ACIDS[acid].most
    strong, water = thinned(acid, percent, part * percent, volume)
    assert strong >= 0
    assert water >= -1e-9 * volume
    assert percent_mixed(acid, percent, strong, max(water, 0)) == pytest.approx(part * percent, rel=1e-9)
    weight = strong * density(acid, percent) + water * WATER_DENSITY
    assert weight == pytest.approx(volume * density(acid, part * percent), rel=1e-9)


@given(KINDS, SHARES, VOLUMES, VOLUMES)
def test_a_mixture_lies_between_water_and_the_acid(acid, share, acid_volume, water_volume):
    percent = share * ACIDS[acid].most
    assert 0 < percent_mixed(acid, percent, acid_volume, water_volume) < percent


@given(KINDS, SHARES, SHARES)
def test_more_percent_is_more_acid_in_a_litre(acid, one, other):
    low, high = sorted((one, other))
    if high - low > 1e-9:
        assert moles_per_litre(acid, low * ACIDS[acid].most) < moles_per_litre(acid, high * ACIDS[acid].most)


@given(VOLUMES, st.floats(0.01, 20), SHARES)
def test_what_is_in_the_strong_one_is_in_the_weak_one(volume, strength, part):
    strong = volume_before(volume, strength, part * strength)
    assert strong * strength == pytest.approx(volume * part * strength)
    assert strong <= volume * (1 + 1e-12)


def test_a_litre_of_one_molar_from_68_percent():
    # 66.0 mL, worked out from the density model of Laliberté (another body of work, but the same density).
    assert volume_before(1000, moles_per_litre("nitric", 68), 1.0) == pytest.approx(66.0, abs=0.7)


def test_a_litre_of_28_percent_from_glacial():
    # 277.5 mL, worked out from the CRC table.
    assert thinned("acetic", 99.5, 28, 1000)[0] == pytest.approx(277.5, abs=1.5)


@given(SHARES)
def test_acetic_acid_read_backwards_finds_the_strength_again(share):
    percent = 100 * share
    found = percents_at_density("acetic", density("acetic", percent))
    assert any(abs(one - percent) < 1e-6 for one in found)
    assert len(found) <= 2


def test_gravity_alone_cannot_tell_glacial_from_42_percent():
    weak, strong = percents_at_density("acetic", density("acetic", 99.5))
    assert (round(weak), round(strong, 1)) == (42, 99.5)
    peak = max(ACIDS["acetic"].table, key=lambda point: point[1])
    assert peak[0] == 80  # the table's nearest point to the true peak at 78 %
    assert percents_at_density("acetic", 1.2) == ()
    assert len(percents_at_density("acetic", 1.02)) == len(percents_at_density("nitric", 1.2)) == 1


@pytest.mark.parametrize("acid", sorted(ACIDS))
def test_a_point_left_out_of_the_table_is_found_between_its_neighbours(acid):
    """How far straight lines are out, at double the spacing: at most half a percent."""
    table = ACIDS[acid].table
    for (low, light), (percent, true), (high, heavy) in zip(table, table[1:], table[2:], strict=False):
        guess = light + (heavy - light) * (percent - low) / (high - low)
        assert guess == pytest.approx(true, rel=0.005)
    assert all(high > low for (low, _), (high, _) in pairwise(table))


@pytest.mark.parametrize(
    ("work", "words"),
    [
        (lambda: density("nitric", 72), "fumes"),
        (lambda: density("acetic", 101), "stronger than pure"),
        (lambda: density("acetic", -1), "cannot be right"),
        (lambda: thinned("acetic", 28, 30, 100), "only makes it weaker"),
        (lambda: volume_before(100, 1, 2), "only makes it weaker"),
        (lambda: volume_before(100, 0, 0), "only makes it weaker"),
        (lambda: percent_mixed("acetic", 28, 0, 0), "nothing is mixed"),
    ],
)
def test_what_cannot_be_is_refused(work, words):
    with pytest.raises(BenchError, match=words):
        work()
