"""Fixer in use: plates it clears, the clearing rule, and what is never reckoned for cyanide."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import fixer
from diagnose.bench.sum import BenchError

STRENGTH, AREA, VOLUME = st.floats(20, 800), st.floats(4, 20_000), st.floats(20, 100_000)


@given(STRENGTH, AREA)
def test_least_likely_and_most_stand_in_order_and_go_with_strength_and_size(strength, area):
    least, likely, most = fixer.plates_per_litre(strength, area)
    assert 0 < least < likely < most
    assert fixer.plates_per_litre(2 * strength, 2 * area) == pytest.approx((least, likely, most))


@given(st.sampled_from(["hypo", "rapid"]), STRENGTH, VOLUME, AREA)
def test_twice_the_fixer_clears_twice_the_plates(kind, strength, volume, area):
    one, two = (fixer.fixer_plates(kind, strength, litres, area) for litres in (volume, 2 * volume))
    assert two == pytest.approx(tuple(2 * plates for plates in one))
    assert one == tuple(sorted(one))


def test_the_bare_sum_leaves_ten_times_what_the_halide_binds():
    """Two of hypo to one of silver halide, by weight: at the most a tenth of the hypo is bound."""
    halide = 0.0921 * 20 / 1000 * 234 / 1000  # moles on a plate of 13 x 18 cm
    _, _, most = fixer.plates_per_litre(200, 234)
    assert most * halide * 2 * 248.172 == pytest.approx(20, rel=1e-3)


def test_silver_in_spent_hypo_stays_near_what_rapid_fixer_is_given():
    """Two ways of thinking, one answer within a third: stock of hypo, and silver to the litre."""
    for hypo, rapid in zip(
        fixer.fixer_plates("hypo", 200, 1000, 234), fixer.fixer_plates("rapid", 0, 1000, 234), strict=True
    ):
        assert hypo == pytest.approx(rapid, rel=1 / 3)


def test_no_plate_and_no_such_fixer():
    with pytest.raises(BenchError, match="some area"):
        fixer.plates_per_litre(200, 0)
    with pytest.raises(BenchError, match="hypo and rapid"):
        fixer.fixer_plates("cyanide", 20, 1000, 234)


def left(**given_inputs):
    return fixer.FIXER_LEFT.reckon(given_inputs)


@given(st.sampled_from(["hypo", "rapid"]), st.floats(0, 500), st.floats(0, 500))
def test_every_plate_cleared_is_one_less_until_none_is_left(kind, cleared, more):
    names = ("plates_left_least", "plates_left", "plates_left_most")
    fewer = left(kind=kind, cleared=cleared + more)
    for name in names:
        before = left(kind=kind, cleared=cleared).value(name)
        assert fewer.value(name) == pytest.approx(max(0.0, before - more), abs=1e-6)


@given(st.floats(5, 600), st.floats(0.2, 5))
def test_it_is_spent_when_clearing_takes_twice_as_long(fresh, times):
    worked = left(kind="hypo", clearing_fresh=fresh, clearing_now=fresh * times)
    spent = fresh * times >= 2 * fresh
    assert (worked.do[0] == fixer.SPENT_WORDS) is spent
    assert (worked.value("plates_left_most") == 0) is spent
    assert any(amount.name == "fixing_time" for amount in worked.amounts) is not spent
    assert any("Quicker than fresh" in line for line in worked.beware) is (fresh * times < fresh)


def test_fix_for_twice_the_clearing_time():
    worked = left(kind="rapid", clearing_fresh=60.0, clearing_now=75.0)
    assert worked.value("fixing_time") == 150
    assert worked.value("slower") == 1.25


def test_a_count_run_out_is_a_hint_and_not_a_verdict():
    worked = left(kind="hypo", cleared=70.0)
    assert worked.value("plates_left") == 0 < worked.value("plates_left_most")
    assert worked.do[0] == fixer.NEAR_END


@pytest.mark.parametrize("kind", ["hypo", "rapid", "cyanide"])
def test_one_clearing_time_alone_is_refused(kind):
    with pytest.raises(BenchError, match="give both"):
        left(kind=kind, clearing_now=60.0)


def test_no_plate_clears_at_once():
    with pytest.raises(BenchError, match="1 s or more"):
        left(kind="hypo", clearing_fresh=0.5, clearing_now=30.0)


def test_for_cyanide_only_clearing_times_are_compared():
    with pytest.raises(BenchError, match="only clearing times"):
        left(kind="cyanide")
    for now in (40.0, 80.0):
        worked = left(kind="cyanide", clearing_fresh=30.0, clearing_now=now)
        assert [amount.name for amount in worked.amounts] == ["slower"]
        assert {"cyanide", "cyanide-and-acid"} <= set(worked.cautions)
        words = " ".join((*worked.do, *worked.beware))
        assert "jar of its own" in words
        assert "silver jar" not in words
    assert worked.do[0].startswith("Spent")


def test_rapid_fixer_is_kept_from_cyanide():
    assert "cyanide-and-acid" in left(kind="rapid").cautions
    assert "cyanide-and-acid" not in left(kind="hypo").cautions
