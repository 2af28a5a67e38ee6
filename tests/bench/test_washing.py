"""The last wash."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.sum import BenchError
from diagnose.bench.washing import WASHES, WASHING_TIME, carried_over, changes_for, left_after

WATER, CARRIED = st.floats(20, 50_000), st.floats(0.1, 100)


@given(WATER, CARRIED, st.integers(0, 20))
def test_each_change_leaves_the_same_share_of_what_was_there(water, carried, changes):
    assert left_after(changes + 1, water, carried) == pytest.approx(
        left_after(changes, water, carried) * carried / (carried + water)
    )


@given(st.floats(1, 1e6), WATER, CARRIED)
def test_the_changes_are_enough_and_one_less_is_not(wanted, water, carried):
    changes = changes_for(wanted, water, carried)
    assert left_after(changes, water, carried) <= (1 + 1e-6) / wanted
    if changes:
        assert left_after(changes - 1, water, carried) > (1 - 1e-6) / wanted


@given(st.floats(2, 1e6), WATER, CARRIED, st.floats(1.1, 10))
def test_more_water_never_wants_more_changes(wanted, water, carried, more):
    assert changes_for(wanted, water * more, carried) <= changes_for(wanted, water, carried)


def test_what_cannot_be_is_refused():
    with pytest.raises(BenchError, match="above 0 mL"):
        left_after(2, 0, 5)
    with pytest.raises(BenchError, match="1 or more"):
        changes_for(0.5, 100, 5)
    with pytest.raises(BenchError, match="640 mL or more"):
        WASHING_TIME.reckon({"fixer": "hypo", "support": "glass", "water": 30.0, "plate": 20_000.0})


@pytest.mark.parametrize("fixer", WASHES)
@pytest.mark.parametrize("support", ["glass", "iron", "acrylic"])
def test_times_stand_in_order_and_the_book_is_named(fixer, support):
    worked = WASHING_TIME.reckon({"fixer": fixer, "support": support})
    assert 0 < worked.value("least") <= worked.value("washing_time") <= worked.value("most")
    assert any("Hunt" in line or "Hasluck" in line or "trade" in line for line in worked.beware)
    assert ("cyanide-and-acid" in worked.cautions) is (fixer == "cyanide")


def test_hypo_wants_what_hunt_gives_and_cyanide_less():
    times = {fixer: WASHING_TIME.reckon({"fixer": fixer, "support": "glass"}).value("washing_time") for fixer in WASHES}
    assert times["hypo"] == 30
    assert times["cyanide"] < times["rapid"] < times["hypo"]


def test_each_support_has_its_own_line():
    lines = [WASHING_TIME.reckon({"fixer": "hypo", "support": kind}).do[2] for kind in ("glass", "iron", "acrylic")]
    assert len(set(lines)) == 3


@given(st.sampled_from(sorted(WASHES)), st.floats(20, 5000), st.floats(4, 2000), st.floats(2, 1e6))
def test_no_time_is_shorter_than_its_changes(fixer, water, plate, wanted):
    if water < carried_over(plate):
        return
    worked = WASHING_TIME.reckon({"fixer": fixer, "support": "glass", "water": water, "plate": plate, "wanted": wanted})
    for name in ("least", "washing_time", "most"):
        assert worked.value(name) >= worked.value("changes") * worked.value("each")
    assert worked.value("left") >= wanted * (1 - 1e-6)
    assert any("take longer" in line for line in worked.beware) is (worked.value("washing_time") > WASHES[fixer].usual)


def test_the_permanganate_test_is_for_hypo_and_acid_is_kept_from_cyanide():
    hypo = " ".join(WASHING_TIME.reckon({"fixer": "hypo", "support": "glass"}).do)
    cyanide = " ".join(WASHING_TIME.reckon({"fixer": "cyanide", "support": "glass"}).do)
    assert "permanganate" in hypo
    assert "permanganate" not in cyanide
    assert "Acid comes near neither" in cyanide
