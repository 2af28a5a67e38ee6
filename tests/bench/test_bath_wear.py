"""What plates do to a bath: least, likely, most in their order, and what the books counted lies among them."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.bench import bath_plates as sums
from diagnose.bench import bath_wear as wear
from diagnose.bench.sum import BenchError

PLATES = st.floats(0, 500)
AREAS = st.floats(20, 1500)
VOLUMES = st.floats(200, 20_000)
STRENGTHS = st.floats(20, 250)


@given(PLATES, AREAS, VOLUMES)
def test_spirit_least_likely_most(plates, area, volume):
    least, likely, most = wear.spirit_share(plates, area, volume)
    assert 0 <= least <= likely <= most <= 100


@given(st.floats(0, 300), st.floats(1, 100), AREAS, st.floats(2000, 20_000))
def test_more_plates_more_spirit_less_strength(plates, more, area, volume):
    assume((plates + more) * area < 200 * volume)
    assert wear.spirit_share(plates + more, area, volume)[1] > wear.spirit_share(plates, area, volume)[1]
    before, after = (wear.strength_today(90, some, area, volume)[1] for some in (plates, plates + more))
    assert after < before or after == 0


@given(PLATES, AREAS, VOLUMES, STRENGTHS)
def test_what_counts_is_area_against_volume(plates, area, volume, strength):
    assert wear.spirit_share(plates, area, volume) == pytest.approx(wear.spirit_share(plates / 2, area, volume / 2))
    assert wear.strength_today(strength, plates, area, volume) == pytest.approx(
        wear.strength_today(strength, plates, 2 * area, 2 * volume), abs=1e-6
    )


@given(PLATES, AREAS, VOLUMES, STRENGTHS)
def test_strength_today_is_never_more_than_it_was(plates, area, volume, strength):
    least, likely, most = wear.strength_today(strength, plates, area, volume)
    assert 0 <= least <= likely + 1e-9
    assert likely <= most + 1e-9
    assert most <= strength + 1e-9


@given(AREAS, VOLUMES, STRENGTHS)
def test_without_plates_nothing_changes(area, volume, strength):
    assert wear.spirit_share(0, area, volume) == (0, 0, 0)
    assert wear.silver_carried_off(0, area, strength) == (0, 0, 0)
    assert wear.strength_today(strength, 0, area, volume) == pytest.approx((strength,) * 3)


@given(st.floats(60, 300), st.floats(0, 20))
def test_spirit_makes_it_read_low_and_the_way_back_is_the_same(strength, spirit):
    reading = wear.reading_with_spirit(strength, spirit)
    assert reading <= strength + 1e-9
    assert wear.strength_behind_spirit(reading, spirit) == pytest.approx(strength, abs=1e-5)


@given(st.floats(60, 300), st.floats(0, 19), st.floats(0.1, 1))
def test_more_spirit_reads_lower(strength, spirit, more):
    assert wear.reading_with_spirit(strength, spirit + more) < wear.reading_with_spirit(strength, spirit)


@pytest.mark.parametrize(
    ("spirit", "low"), [(1, -1.8), (2, -3.6), (3, -5.3), (5, -8.7), (8, -13.4), (10, -16.5), (15, -23.7)]
)
def test_error_of_the_reading_worked_out_before(spirit, low):
    assert wear.reading_with_spirit(90, spirit) - 90 == pytest.approx(low, abs=0.5)


def test_a_bath_worked_to_its_end_lies_within_the_bounds():
    """Wilson 1881: 80 ounces of 79.8 g/L, 180 plates of 363 cm², a third gone, 36.5 g/L and 0.65 g a plate.

    The bounds were laid with this bath in view, so it is no proof; it must stay inside them.
    """
    volume = 80 * 28.4130625 * 5 / 6  # midway between full and a third gone
    least, _, most = wear.strength_today(79.8, 180, 363, volume)
    assert least - 0.5 <= 36.5 <= most
    least, _, most = wear.silver_carried_off(180, 363, (79.8 + 36.5) / 2)
    assert least <= 180 * 0.65 <= most


@pytest.mark.parametrize(
    "work",
    [
        lambda: wear.spirit_share(-1, 234, 1000),
        lambda: wear.spirit_share(1, 234, 0),
        lambda: wear.silver_carried_off(1, 0, 90),
        lambda: wear.strength_today(90, -1, 234, 1000),
        lambda: wear.reading_with_spirit(90, 31),
        lambda: wear.reading_with_spirit(90, -1),
        lambda: wear.reading_with_spirit(5, 20),
        lambda: wear.strength_behind_spirit(589, 10),
    ],
)
def test_what_cannot_be_is_refused(work):
    with pytest.raises(BenchError):
        work()


def test_a_falsified_reading_is_said_to_matter():
    few = sums.SPIRIT_SUM.reckon({"plates": 10, "volume": 2000, "reading": 85})
    many = sums.SPIRIT_SUM.reckon({"plates": 120, "volume": 2000, "reading": 75})
    assert few.value("reads_low_by") < sums.MATTERS < many.value("reads_low_by")
    assert not any("It matters" in line for line in few.beware)
    assert many.beware[0].startswith("It matters")
    assert many.value("true_strength") == pytest.approx(75 + many.value("reads_low_by"))
    assert many.value("reads_low_least") < many.value("reads_low_by") < many.value("reads_low_most")


def test_past_the_table_the_most_is_said_to_be_cut_and_the_likely_refused():
    told = {"plate_size": 234.0, "reading": 80.0}
    cut = sums.SPIRIT_SUM.reckon(told | {"plates": 160, "volume": 1000})
    assert any("past the table" in line for line in cut.beware)
    with pytest.raises(BenchError, match="up to 30 % is reckoned, so count only the plates"):
        sums.SPIRIT_SUM.reckon(told | {"plates": 400, "volume": 1000})


def test_counting_past_half_the_strength_is_doubted():
    told = {"strength": 90.0, "volume": 1000.0}
    assert sums.TODAY_SUM.reckon(told | {"plates": 400}).beware[0].startswith("More than half")
    assert not any("More than half" in line for line in sums.TODAY_SUM.reckon(told | {"plates": 40}).beware)


def test_silver_short_brings_it_back():
    worked = sums.TODAY_SUM.reckon({"strength": 90.0, "volume": 1500.0, "plates": 40})
    assert worked.value("strength") * 1.5 + worked.value("silver_short") == pytest.approx(135)


def test_silver_for_each_plate_is_only_told_where_there_are_plates():
    assert [amount.name for amount in sums.CARRIED_SUM.reckon({"plates": 0}).amounts][-1] != "silver_each"
    worked = sums.CARRIED_SUM.reckon({"plates": 10})
    assert worked.value("silver_each") == pytest.approx(worked.value("silver") / 10)
