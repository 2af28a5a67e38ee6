"""What parts spoiled plates from good ones: counted right, told from the spoiled plates' side, honest about few."""

import pytest

from diagnose.daybook.review import review
from diagnose.reasoning.craft import craft_of
from tests.daybook.invented_days import FOG, book, plate, value, work


@pytest.fixture(scope="module")
def shared(knowledge):
    craft = craft_of(knowledge)
    return lambda *rows: {one.what[0]: one for one in review(book(*rows), craft).shared}


def rows_with(condition, spoiled, good):
    """Plates in turn, each with its answer."""
    made = [plate(10 * n, FOG, conditions={condition: said}) for n, said in enumerate(spoiled)]
    return [*made, *[plate(500 + 10 * n, conditions={condition: said}) for n, said in enumerate(good)]]


def test_answers_are_counted_on_both_sides(shared):
    found = shared(*rows_with("holder_wiped", ["no"] * 6 + ["yes"], ["yes"] * 7 + ["no"]))
    one = found["holder wiped: no"]
    assert (one.spoiled_with, one.spoiled, one.good_with, one.good) == (6, 7, 1, 8)
    assert one.words == "a hint; may be chance" or one.corrected <= 0.05
    assert "holder wiped: yes" not in found


def test_few_plates_are_called_too_few(shared):
    one = shared(*rows_with("holder_wiped", ["no"] * 2, ["yes"] * 2))["holder wiped: no"]
    assert one.too_few
    assert one.words == "too few plates to tell"


def test_one_plate_of_a_kind_is_not_compared(shared):
    assert not shared(*rows_with("holder_wiped", ["no"], ["yes"] * 8))


def test_unknown_is_not_counted_as_no(shared):
    rows = rows_with("holder_wiped", ["no"] * 5, ["yes"] * 5)
    one = shared(*rows, *[plate(900 + n) for n in range(9)])["holder wiped: no"]
    assert one.good == 5


def test_amounts_are_cut_where_the_knowledge_cuts_them(shared):
    hot, cool = ["29 °C", "30 °C", "31 °C", "29 °C", "32 °C"], ["20 °C", "26 °C", "19 °C", "26 °C", "18 °C"]
    one = shared(*rows_with("room_temperature", hot, cool))["room temperature over 27 °C"]
    assert (one.spoiled_with, one.good_with) == (5, 0)


def test_amounts_are_told_from_the_spoiled_side(shared):
    cold, cool = ["10 °C", "11 °C", "9 °C", "12 °C"], ["20 °C", "19 °C", "21 °C", "18 °C"]
    found = shared(*rows_with("room_temperature", cold, cool))
    assert any("at most" in what for what in found)
    assert not any("over" in what for what in found)


def test_things_that_always_went_together_are_told_as_one(shared):
    bad = [plate(10 * n, FOG, made_with={"holder": "B", "collodion": "new"}) for n in range(5)]
    well = [plate(100 + 10 * n, made_with={"holder": "A", "collodion": "old"}) for n in range(5)]
    found = shared(*bad, *well)
    one = found["plate holder “B”"]
    assert "collodion “new”" in one.what


def test_before_and_after_a_work(shared):
    bad = [plate(10 * n, FOG) for n in range(6)]
    well = [plate(100 + 10 * n) for n in range(6)]
    found = shared(*bad, work(70, "filtered", "bath"), *well)
    one = found["made before: silver bath filtered at 10:10"]
    assert (one.spoiled_with, one.good_with) == (6, 0)
    assert one.words == "hardly chance"


def test_counts_that_only_grow_are_the_order_and_not_told_again(shared):
    filtered = work(-30, "filtered", "bath")
    rows = [plate(10 * n) for n in range(6)] + [plate(100 + 10 * n, FOG) for n in range(6)]
    assert not any("bath plates" in what for what in shared(filtered, *rows))


def test_what_stands_in_the_book_counts_for_good_plates_too(shared):
    bad = [plate(10 + 10 * n, FOG) for n in range(5)]
    well = [plate(110 + 10 * n) for n in range(5)]
    found = shared(value(0, "light", "window"), *bad, value(100, "light", "daylight"), *well)
    one = next(one for what, one in found.items() if what.startswith("light"))
    assert (one.spoiled_with, one.spoiled, one.good_with, one.good) == (5, 5, 0, 5)
