"""Silver and water put to a bath: what was wanted comes out, nothing is lost, nothing is negative."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.bench import bath_making as making
from diagnose.bench import bath_mending as mending
from diagnose.bench import bath_mixing as mixing
from diagnose.bench import bath_strength as sums
from diagnose.bench.bath_weighed import WEIGHED, strength_from_chloride
from diagnose.bench.silver_density import density_at_20
from diagnose.bench.sum import BenchError

VOLUMES = st.floats(50, 20_000)
STRENGTHS = st.floats(5, 250)


def mixed(volume, strength, silver, water):
    """Strength and volume of a bath after silver [g] and water [mL] went in, by weight alone: a way of its own."""
    salt = volume * strength / 1000 + silver
    liquid = volume * density_at_20(strength) - volume * strength / 1000 + water * density_at_20(0)
    after = mixing.mixed_strength(salt, liquid / density_at_20(0))
    return after, (salt + liquid) / density_at_20(after)


# Worked out beforehand with another program, by weight.
@pytest.mark.parametrize(
    ("told", "silver", "after"),
    [
        ((1000, 70, 90), 20.33, 1003.66),
        ((1000, 80, 90), 10.16, 1001.82),
        ((2000, 60, 90), 61.0, 2011.08),
        ((1500, 75, 100), 38.18, 1506.81),
        ((1000, 90, 90), 0, 1000),
    ],
)
def test_silver_worked_out_before(told, silver, after):
    assert mending.silver_to_add(*told) == pytest.approx((silver, after), abs=0.02)


@pytest.mark.parametrize(
    ("told", "water", "after"), [((1000, 110, 90), 222.3, 1222.2), ((2000, 120, 100), 400.3, 2400)]
)
def test_water_worked_out_before(told, water, after):
    assert mending.water_to_add(*told) == pytest.approx((water, after), abs=0.1)


@pytest.mark.parametrize(("told", "silver"), [((900, 75, 1000, 90), 22.5), ((1800, 82, 2000, 90), 32.4)])
def test_restoring_worked_out_before(told, silver):
    assert mending.restore(*told)[0] == pytest.approx(silver, abs=1e-6)


@given(VOLUMES, STRENGTHS, STRENGTHS)
def test_silver_put_in_gives_the_strength_wanted(volume, strength, wanted):
    strength, wanted = sorted((strength, wanted))
    silver, after = mending.silver_to_add(volume, strength, wanted)
    assert silver >= volume * (wanted - strength) / 1000 - 1e-6
    assert mixed(volume, strength, silver, 0) == pytest.approx((wanted, after), rel=0.001)


@given(VOLUMES, STRENGTHS, STRENGTHS)
def test_water_put_in_gives_the_strength_wanted(volume, strength, wanted):
    wanted, strength = sorted((strength, wanted))
    water, after = mending.water_to_add(volume, strength, wanted)
    assert water >= 0
    assert mixed(volume, strength, 0, water) == pytest.approx((wanted, after), rel=0.001)


@given(VOLUMES, STRENGTHS, st.floats(1.05, 3), STRENGTHS)
def test_restored_it_has_volume_and_strength(volume, strength, more, wanted):
    assume(wanted >= strength)
    silver, water = mending.restore(volume, strength, volume * more, wanted)
    assert silver >= 0
    assert water >= 0
    assert mixed(volume, strength, silver, water) == pytest.approx((wanted, volume * more), rel=0.001)


@given(VOLUMES, STRENGTHS, STRENGTHS, st.floats(5, 300))
def test_stock_put_in_gives_the_strength_wanted(volume, strength, wanted, more):
    strength, wanted = sorted((strength, wanted))
    stock = wanted + more
    amount, after = mixing.stock_to_add(volume, strength, wanted, stock)
    assert amount >= -1e-9
    assert volume * strength + amount * stock == pytest.approx(after * wanted, rel=1e-3)
    assert after == pytest.approx(volume + amount, rel=0.005)


@given(VOLUMES, st.floats(20, 250), st.floats(1, 100))
def test_thinned_and_strengthened_again_it_is_as_before(volume, strength, less):
    wanted = max(5, strength - less)
    _, thin = mending.water_to_add(volume, strength, wanted)
    silver, after = mending.silver_to_add(thin, wanted, strength)
    assert (after * strength - silver * 1000) / thin == pytest.approx(wanted, abs=1e-6)
    assert mixed(thin, wanted, silver, 0)[0] == pytest.approx(strength, abs=0.3)


@given(st.floats(10, 20_000), st.floats(5, 300))
def test_a_new_bath_has_the_strength_it_was_made_for(volume, wanted):
    silver, water = mixing.new_bath(volume, wanted)
    assert mixing.mixed_strength(silver, water) == pytest.approx(wanted, rel=0.001)


def test_grains_to_the_ounce_of_water_are_weaker_than_to_the_ounce_of_solution():
    grains, ounce = 0.06479891, 28.4130625
    assert mixing.mixed_strength(240 * grains, 8 * ounce) == pytest.approx(67.65, abs=0.2)  # an old English recipe
    assert mixing.mixed_strength(240 * grains, 8 * ounce) < 1000 * 240 * grains / (8 * ounce)


@given(st.floats(1, 300), st.floats(1, 100))
def test_weighed_silver_is_the_silver_that_was_there(strength, sample):
    chloride = strength * sample / 1000 / 1.18528  # iupac: a gram of chloride is 1.18528 g of nitrate
    assert strength_from_chloride(chloride, sample) == pytest.approx(strength, rel=1e-4)


@pytest.mark.parametrize(
    ("sum_", "told", "words"),
    [
        (sums.STRENGTHEN, {"volume": 1000, "strength": 95, "wanted": 90}, "already stronger than 90 g/L; water-to-add"),
        (sums.THIN, {"volume": 1000, "strength": 85, "wanted": 90}, "already weaker than 90 g/L; silver-to-add"),
        (sums.RESTORE, {"volume": 900, "strength": 120, "wanted_volume": 1000, "wanted": 90}, "makes 1200 mL of it"),
        (sums.RESTORE, {"volume": 1000, "strength": 70, "wanted_volume": 1001, "wanted": 90}, "ask for 1004 mL"),
        (making.FROM_STOCK, {"volume": 1000, "strength": 95, "wanted": 90, "stock": 300}, "already stronger"),
        (making.FROM_STOCK, {"volume": 1000, "strength": 70, "wanted": 90, "stock": 90}, "take a stronger stock"),
        (making.RECIPE, {"silver": 100, "water": 100}, "50 % by weight; up to 40 % is accepted"),
        (WEIGHED, {"chloride": 50, "sample": 10}, "look at the sample and the balance again"),
        (sums.STRENGTHEN, {"volume": 1000, "strength": 70, "wanted": 400}, "400 g/L cannot be right"),
    ],
)
def test_what_does_not_go_together_is_refused_with_what_to_do(sum_, told, words):
    with pytest.raises(BenchError, match=words.replace("(", r"\(")) as refused:
        sum_.reckon(told)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    "work",
    [
        lambda: mending.water_to_add(100, 0, 0),
        lambda: mixing.mixed_strength(-1, 10),
        lambda: mixing.mixed_strength(1, 0),
        lambda: strength_from_chloride(1, 0),
        lambda: mending.silver_to_add(100, 100, 700),
    ],
)
def test_the_plain_functions_refuse_too(work):
    with pytest.raises(BenchError):
        work()


def test_asking_for_what_the_refusal_names_works():
    told = {"volume": 1000, "strength": 70, "wanted_volume": 1003.7, "wanted": 90}
    assert sums.RESTORE.reckon(told).value("water") == pytest.approx(0, abs=0.1)


def test_a_bath_that_wants_no_silver_is_told_so():
    worked = sums.RESTORE.reckon({"volume": 900, "strength": 100, "wanted_volume": 1000, "wanted": 90})
    assert worked.value("silver") == pytest.approx(0, abs=1e-9)
    assert "no silver nitrate" in worked.do[0]


def test_what_thinning_brings_down_and_strengthening_takes_up_is_said():
    thin = sums.THIN.reckon({"volume": 1000, "strength": 110, "wanted": 70})
    assert any("milky" in line for line in thin.beware)
    strong = sums.STRENGTHEN.reckon({"volume": 1000, "strength": 60, "wanted": 100})
    assert any("more silver iodide" in line for line in strong.beware)
    same = sums.STRENGTHEN.reckon({"volume": 1000, "strength": 90, "wanted": 90})
    assert not any("iodide" in line for line in same.beware)


def test_a_strength_no_book_works_with_is_doubted():
    told = {"volume": 1000, "strength": 90}
    doubt = "stronger than the books"
    assert any(doubt in line for line in sums.STRENGTHEN.reckon(told | {"wanted": 140}).beware)
    assert not any(doubt in line for line in sums.STRENGTHEN.reckon(told | {"wanted": 120}).beware)


def test_a_little_chloride_is_doubted():
    assert any("larger sample" in line for line in WEIGHED.reckon({"chloride": 0.2, "sample": 2}).beware)
    plenty = WEIGHED.reckon({"chloride": 0.76, "sample": 10})
    assert not any("larger sample" in line for line in plenty.beware)
    assert plenty.value("strength") == pytest.approx(90, abs=0.2)
    assert plenty.value("give_or_take") == pytest.approx(2.1, abs=0.1)
