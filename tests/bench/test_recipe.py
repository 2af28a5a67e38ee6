"""Recipes scaled: proportion kept, tools that fit, and a clear word where nothing sensible can be said."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.measuring import rounded
from diagnose.bench.quantity import read_quantity, read_strength
from diagnose.bench.recipe import Holding, Part, coarse, exchanged, scaled, strengths, with_acid_at_hand
from diagnose.bench.sum import BenchError
from diagnose.units import UnitError

BATH = (
    Part("silver nitrate", 100, "g"),
    Part("distilled water", 1000, "mL", up_to=True),
    Part("potassium iodide solution", 25, "mL", holds=(Holding("potassium iodide", 10, "g/L"),), never_over=True),
    Part("nitric acid", 3, "drops", percent=36, never_over=True),
)
VOLUMES = st.floats(1, 100_000)
NAMES = ["salt", "spirit", "green crystals", "ready-made syrup", "acid"]
PARTS = st.lists(
    st.tuples(st.sampled_from(NAMES), st.floats(0.001, 5000), st.sampled_from(["g", "mL"]), st.booleans()).map(
        lambda drawn: Part(*drawn[:3], never_over=drawn[3])
    ),
    min_size=1,
    max_size=5,
    unique_by=lambda part: part.name,
)


def amounts(wanted, parts=BATH, makes=1000):
    return {amount.name: amount for amount in scaled(parts, makes, wanted)}


def test_the_recipe_for_its_own_volume_is_the_recipe():
    assert [amount.value for amount in scaled(BATH, 1000, 1000)] == [100, 1000, 25, 3]


def test_names_labels_and_tools():
    made = amounts(2000)
    assert list(made) == ["silver_nitrate", "distilled_water", "potassium_iodide_solution", "nitric_acid"]
    assert [amount.label for amount in made.values()] == [
        "silver nitrate",
        "distilled water, up to",
        "potassium iodide solution",
        "nitric acid (36 %)",
    ]
    assert [amount.tool for amount in made.values()] == ["balance", "cylinder", "cylinder", "drops"]
    assert amounts(1000)["potassium_iodide_solution"].tool == "syringe"


def test_what_can_do_harm_is_rounded_down():
    assert rounded(amounts(650)["nitric_acid"]) == 1  # 1.95 drops
    assert rounded(amounts(659)["potassium_iodide_solution"]) == 16  # 16.48 mL
    assert rounded(amounts(650)["silver_nitrate"]) == 65


@given(PARTS, st.floats(1, 10_000), VOLUMES)
def test_every_part_keeps_its_share(parts, makes, wanted):
    made = scaled(parts, makes, wanted)
    assert [amount.value / wanted for amount in made] == pytest.approx([part.amount / makes for part in parts])
    assert all(amount.value > 0 for amount in made)


@given(PARTS, st.floats(1, 10_000), VOLUMES)
def test_what_was_scaled_is_as_strong_as_before(parts, makes, wanted):
    again = [
        part._replace(amount=amount.value) for part, amount in zip(parts, scaled(parts, makes, wanted), strict=True)
    ]
    before, after = strengths(parts, makes), strengths(again, wanted)
    assert [amount.value for amount in after] == pytest.approx([amount.value for amount in before])
    assert [amount.name for amount in after] == [amount.name for amount in before]


@given(PARTS, VOLUMES, VOLUMES)
def test_more_is_more(parts, one, other):
    less, more = sorted((one, other))
    pairs = zip(scaled(parts, 500, less), scaled(parts, 500, more), strict=True)
    assert all(small.value <= large.value for small, large in pairs)


@given(PARTS, VOLUMES)
def test_what_is_not_called_coarse_is_measured_to_a_twentieth(parts, wanted):
    made = scaled(parts, 1000, wanted)
    told = {line.partition(": ")[0] for line in coarse(made)}
    off = {amount.label: abs(rounded(amount) - amount.value) / amount.value for amount in made}
    assert told == {label for label, share in off.items() if share > 0.05}


def test_what_can_only_be_measured_roughly_is_said():
    assert coarse(scaled(BATH, 1000, 2000)) == ()
    assert coarse(scaled(BATH, 1000, 100)) == (
        "nitric acid (36 %): 0.3 drops, measured as 0 drops; make more at a time to come closer.",
    )


def test_the_contents_of_a_ready_made_liquid_count_not_the_liquid():
    made = {amount.label: (amount.value, amount.unit) for amount in strengths(BATH, 1000)}
    assert made == {"silver nitrate": (100, "g/L"), "potassium iodide": (0.25, "g/L")}


def test_the_same_thing_from_two_bottles_is_added_up():
    parts = (Part("ether", 200, "mL"), Part("plain collodion", 150, "mL", holds=(Holding("ether", 75, "%"),)))
    (ether,) = strengths(parts, 500)
    assert (ether.value, ether.unit) == (62.5, "%")


@pytest.mark.parametrize("wanted", [0, -5, 0.5, 100_001, float("nan"), float("inf")])
def test_a_volume_nobody_makes_is_refused(wanted):
    with pytest.raises(BenchError, match=r"cannot be right; 1 mL to 100 L of a solution is accepted"):
        scaled(BATH, 1000, wanted)


def test_a_solution_without_a_recipe_is_refused():
    with pytest.raises(BenchError, match="nothing to mix here, only strengths to compare"):
        scaled((), 0, 500)


@pytest.mark.parametrize("makes", [0, -1, float("inf"), float("nan")])
def test_a_recipe_that_makes_nothing_is_refused(makes):
    with pytest.raises(BenchError, match="a recipe makes more than nothing"):
        scaled(BATH, makes, 500)


# An acid of another strength, a salt of another form ----------------------------------------------------------------


def test_a_part_is_exchanged_and_the_mark_stays():
    acid = Part("acetic acid", 50, "mL", percent=99.5)
    weak = exchanged(acid, "acetic acid", times=3.604, percent=28)  # 17.38 / 4.824 mol/L
    assert (weak.amount, weak.percent) == (pytest.approx(180.2), 28)
    made = {amount.label: amount.value for amount in scaled((BATH[1], weak), 1000, 500)}
    assert made == {"distilled water, up to": 500, "acetic acid (28 %)": pytest.approx(90.1)}


@given(st.floats(0.01, 100), st.floats(0.1, 1000))
def test_exchanged_and_back_again(times, amount):
    part = Part("hypo", amount, "g")
    back = exchanged(exchanged(part, "dried hypo", times), "hypo", 1 / times)
    assert back.amount == pytest.approx(amount)


@pytest.mark.parametrize(("part", "times"), [(BATH[0], 0), (BATH[0], -1), (BATH[0], float("inf")), (BATH[1], 2)])
def test_what_cannot_be_exchanged_is_refused(part, times):
    with pytest.raises(BenchError, match="cannot be exchanged"):
        exchanged(part, "something", times)


ACETIC = Part("acetic acid", 50, "mL", percent=99.5)
THIN_NITRIC = Part("nitric acid", 0.6, "mL", percent=10, never_over=True)


@given(st.floats(5, 100))
def test_another_strength_brings_the_same_acid(percent):
    changed = with_acid_at_hand(ACETIC, percent)
    assert changed.percent == percent
    assert with_acid_at_hand(changed, 99.5).amount == pytest.approx(50)
    # Acetic acid is nowhere more than 7 % lighter or heavier than water.
    assert changed.amount * percent == pytest.approx(50 * 99.5, rel=0.07)


@given(st.floats(5, 100), st.floats(5, 100))
def test_less_of_a_stronger_acid(one, other):
    weak, strong = sorted((one, other))
    assert with_acid_at_hand(ACETIC, weak).amount >= with_acid_at_hand(ACETIC, strong).amount


@pytest.mark.parametrize(
    ("part", "percent", "words"),
    [
        (THIN_NITRIC, 68, "stronger than the 10 % that goes in by drops; thin it first"),
        (ACETIC, 0, "more than 0 % is accepted"),
        (ACETIC, 101, "%"),
        (ACETIC, -1, "%"),
        (BATH[0], 50, "is no acid told by its strength"),
        (BATH[3], 20, "is no acid told by its strength"),  # in drops
        (Part("acetic acid", 50, "mL"), 50, "is no acid told by its strength"),
    ],
)
def test_an_acid_that_cannot_take_its_place_is_refused(part, percent, words):
    with pytest.raises(BenchError, match=words):
        with_acid_at_hand(part, percent)


def test_an_acid_too_weak_for_the_vessel_is_refused():
    parts = (BATH[1], with_acid_at_hand(ACETIC, 4))
    with pytest.raises(BenchError, match=r"past the mark at 500 mL; take a stronger acid"):
        scaled(parts, 1000, 500)


# Amounts as they are written ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "value", "unit", "up_to"),
    [
        ("12 g", 12, "g", False),
        ("1,5 kg", 1500, "g", False),
        ("118 mL", 118, "mL", False),
        ("3 drops", 3, "drops", False),
        ("3 drachms", 11.664, "g", False),
        ("4 usfloz", 118.294, "mL", False),
        ("to 1 L", 1000, "mL", True),
        (" to  500 mL ", 500, "mL", True),
    ],
)
def test_an_amount_is_read(text, value, unit, up_to):
    quantity = read_quantity(text)
    assert quantity.value == pytest.approx(value, abs=0.001)
    assert (quantity.unit, quantity.up_to) == (unit, up_to)


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("12", UnitError, "has no unit"),
        ("a pinch", UnitError, "cannot read 'a pinch'"),
        ("3 oz", UnitError, "which ounce"),
        ("3 spoons", UnitError, "no unit called 'spoons'"),
        ("12 °C", BenchError, "no amount for this place; write it in g, mL or drops"),
        ("to 12 g", BenchError, "no amount for this place; write it in mL"),
        ("to the mark", UnitError, "cannot read 'the mark'"),
        ("0 g", BenchError, "is nothing; write more than 0"),
        ("-3 g", BenchError, "is nothing; write more than 0"),
        ("", UnitError, "cannot read ''"),
        ("1\n2 g", UnitError, "no unit called '2 g'"),
    ],
)
def test_an_amount_that_cannot_be_read_is_told(text, kind, words):
    with pytest.raises(kind, match=words) as caught:
        read_quantity(text)
    assert str(caught.value).isprintable()


def test_a_strength_is_read_in_one_of_two_units():
    assert read_strength("45 gr/oz")[:2] == (pytest.approx(98.6, abs=0.1), "g/L")
    assert read_strength("8 %")[:2] == (8, "%")
    with pytest.raises(BenchError, match=r"write it in g/L or %"):
        read_strength("8 mL")


@given(st.text(max_size=30))
def test_any_text_is_an_amount_or_one_clear_line(text):
    for read in (read_quantity, read_strength):
        value, words = 1.0, "read"
        try:
            value = read(text).value
        except (BenchError, UnitError) as error:
            words = str(error)
        assert value > 0
        assert words.isprintable()


def test_a_recipe_is_scaled_in_no_time():
    started = time.perf_counter()
    for _ in range(200):
        scaled(BATH, 1000, 750)
    assert (time.perf_counter() - started) / 200 < 0.001
