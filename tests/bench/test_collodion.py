"""Thinning collodion and its setting time."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import collodion, vapour_pressure
from diagnose.bench.sum import BenchError

VOLUME, SHARE, ETHER = st.floats(1, 20_000), st.floats(0.5, 50), st.floats(20, 90)
WARMTH = st.floats(-10, 55)


@given(VOLUME, SHARE, ETHER)
def test_thinning_adds_the_share_in_the_proportion_of_the_recipe(volume, share, ether_share):
    ether, alcohol = collodion.thinning(volume, share, ether_share)
    assert ether + alcohol == pytest.approx(volume * share / 100)
    assert ether / (ether + alcohol) == pytest.approx(ether_share / 100)


@given(VOLUME, st.floats(0.001, 1), ETHER)
def test_what_left_adds_up_and_putting_it_back_gives_the_recipe(volume, part, ether_share):
    lost = volume * part
    ether, alcohol = collodion.evaporated(volume, lost, ether_share)
    assert ether >= 0
    assert alcohol >= -1e-9 * volume
    assert ether + alcohol == pytest.approx(lost)
    left = (volume + lost) * ether_share / 100 - ether
    assert left >= -1e-9 * volume
    assert (left + ether) / (volume + lost) == pytest.approx(ether_share / 100)


@given(ETHER, st.floats(0.01, 0.9), st.floats(1.05, 1.5))
def test_the_first_of_the_loss_is_richest_in_ether(ether_share, part, more):
    first, _ = collodion.evaporated(100, 100 * part / more, ether_share)
    later, _ = collodion.evaporated(100 * (1 + part / more) - 100 * part, 100 * part, ether_share)
    assert first / (100 * part / more) >= later / (100 * part) - 1e-9


@pytest.mark.parametrize("ether_share", [30, 50, 62.5, 75])
def test_the_loss_agrees_with_small_steps(ether_share):
    """The closed form against leaving drop by drop, each drop by the pressures over the liquid as it stands."""
    whole, lost, steps = 200.0, 60.0, 40_000
    ether, alcohol = whole * ether_share / 100, whole * (100 - ether_share) / 100
    ether_moles, alcohol_moles = 0.7135 / 74.123, 0.7893 / 46.069
    for _ in range(steps):
        out_ether = ether * ether_moles * vapour_pressure.ether(20) / ether_moles
        out_alcohol = alcohol * alcohol_moles * vapour_pressure.ethanol(20) / alcohol_moles
        drop = lost / steps / (out_ether + out_alcohol)
        ether -= drop * out_ether
        alcohol -= drop * out_alcohol
    assert collodion.evaporated(whole - lost, lost, ether_share)[0] == pytest.approx(
        whole * ether_share / 100 - ether, rel=1e-3
    )


@given(st.floats(3, 300), WARMTH, WARMTH, WARMTH)
def test_setting_times_go_round_and_fall_with_warmth(known, first, second, third):
    there = collodion.setting_time(known, first, second)
    assert collodion.setting_time(there, second, first) == pytest.approx(known)
    assert collodion.setting_time(there, second, third) == pytest.approx(collodion.setting_time(known, first, third))
    if second < third - 1e-6:
        assert there > collodion.setting_time(known, first, third)


def test_at_the_known_warmth_it_is_the_known_time():
    assert collodion.setting_time(22, 19, 19) == 22


def test_thinning_wants_a_loss_or_a_share_but_not_both():
    given_both = {"volume": 200.0, "ether_share": 50.0, "lost": 10.0, "share": 5.0}
    for wrong in (given_both, {"volume": 200.0, "ether_share": 50.0}):
        with pytest.raises(BenchError, match=r"lost.*share"):
            collodion.THIN_COLLODION.reckon(wrong)


def test_the_proportion_has_to_be_told():
    with pytest.raises(BenchError, match="ether_share"):
        collodion.THIN_COLLODION.reckon({"volume": 200.0, "lost": 10.0})


def test_more_than_half_gone_is_no_longer_mended():
    with pytest.raises(BenchError, match="more than half"):
        collodion.THIN_COLLODION.reckon({"volume": 90.0, "lost": 100.0, "ether_share": 50.0})
    collodion.THIN_COLLODION.reckon({"volume": 100.0, "lost": 100.0, "ether_share": 50.0})


def test_a_loss_is_put_back_mostly_as_ether_and_it_says_so():
    worked = collodion.THIN_COLLODION.reckon({"volume": 180.0, "lost": 20.0, "ether_share": 50.0})
    assert worked.value("ether") > 8 * worked.value("alcohol")
    assert worked.value("volume_after") == pytest.approx(200)
    assert any("nearly all ether" in line for line in worked.beware)


def test_a_thinned_collodion_says_how_far_its_salts_fall():
    worked = collodion.THIN_COLLODION.reckon({"volume": 200.0, "share": 25.0, "ether_share": 50.0})
    assert worked.amounts[0].value == worked.value("alcohol") == 25
    assert any("80 %" in line for line in worked.beware)


def test_setting_starts_from_humphrey_and_from_the_persons_own_time():
    book = collodion.SETTING_TIME.reckon({"temperature": 15.56})
    assert book.value("setting_time") == 30
    own = collodion.SETTING_TIME.reckon({"temperature": 25.0, "known": 20.0, "known_temperature": 25.0})
    assert own.value("setting_time") == pytest.approx(20)
    assert own.value("shortest") < 20 < own.value("longest")
    assert any("20 s at 25 °C" in line for line in own.do)


def test_an_own_time_without_its_warmth_is_named():
    worked = collodion.SETTING_TIME.reckon({"temperature": 25.0, "known": 20.0})
    assert any("tell the warmth" in line for line in worked.beware)
    assert not any("tell the warmth" in line for line in collodion.SETTING_TIME.reckon({"temperature": 25.0}).beware)


@pytest.mark.parametrize(("warmth", "said"), [(2.0, True), (20.0, False), (40.0, True)])
def test_beyond_its_range_it_says_so(warmth, said):
    worked = collodion.SETTING_TIME.reckon({"temperature": warmth})
    assert any("Nobody pours well" in line for line in worked.beware) is said
