"""Acetic acid of another strength, acid thinned and mixed, and what a hydrometer cannot tell."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.acetic_acid import ACETIC_ACID, ACETIC_BY_HYDROMETER, ACID_BY_PARTS, SUMS, THIN_ACID, same_acid
from diagnose.bench.acids import ACIDS, density, moles_per_litre
from diagnose.bench.sum import BenchError

PERCENTS = st.floats(3, 100)
VOLUMES = st.floats(0.1, 5000)


def same(recipe_volume, recipe_percent, percent):
    return ACETIC_ACID.reckon({"recipe_volume": recipe_volume, "recipe_percent": recipe_percent, "percent": percent})


@given(VOLUMES, PERCENTS, PERCENTS)
def test_as_much_acid_goes_in_as_the_recipe_means(volume, recipe_percent, percent):
    worked = same(volume, recipe_percent, percent)
    put_in = worked.value("acid") * moles_per_litre("acetic", percent)
    assert put_in == pytest.approx(volume * moles_per_litre("acetic", recipe_percent))
    water = {item.name: item.value for item in worked.amounts}
    total = water["acid"] - water.get("less_water", 0) + water.get("more_water", 0)
    assert total == pytest.approx(volume)
    assert all(item.value >= 0 for item in worked.amounts)
    assert not {"less_water", "more_water"} <= set(water)


@given(VOLUMES, PERCENTS, PERCENTS, PERCENTS)
def test_acid_swapped_twice_is_acid_swapped_once(volume, one, two, three):
    there = same_acid(same_acid(volume, one, two), two, three)
    assert there == pytest.approx(same_acid(volume, one, three))


def test_a_name_is_never_taken_for_a_strength():
    assert all(item.usual is None for item in ACETIC_ACID.asks)
    assert any("No. 8" in line for line in same(10, 99.5, 28).beware)
    with pytest.raises(BenchError, match="is not an amount"):
        same(10, 99.5, "No. 8")
    with pytest.raises(BenchError, match="wants percent"):
        ACETIC_ACID.reckon({"recipe_volume": 10, "recipe_percent": 99.5})
    # The two acids of that name are a factor of two and a half apart.
    assert same(100, 99.5, 12).value("acid") / same(100, 99.5, 30).value("acid") == pytest.approx(2.5, abs=0.1)


def test_weak_acid_is_told_to_be_mostly_water():
    assert any("mostly water" in line for line in same(10, 99.5, 4.5).beware)
    assert not any("mostly water" in line for line in same(10, 99.5, 28).beware)


@given(st.sampled_from(sorted(ACIDS)), st.floats(0.01, 1), st.floats(0.05, 0.99), st.floats(10, 5000))
def test_thin_acid_read_by_its_parts_is_as_strong_as_wanted(acid, share, part, volume):
    percent = max(share * ACIDS[acid].most, 1.01)
    worked = THIN_ACID.reckon(
        {"acid": acid, "percent": percent, "wanted_percent": max(part * percent, 0.05), "volume": volume}
    )
    again = ACID_BY_PARTS.work(acid, percent, worked.value("acid"), worked.value("water"))
    assert again.value("percent") == pytest.approx(max(part * percent, 0.05))
    assert worked.do[0].startswith("Water first")
    assert "Never water into acid" in worked.do[0]
    assert worked.cautions == (f"{acid}-acid",)
    assert worked.amounts[0].name == "water"


@pytest.mark.parametrize(
    ("acid", "percent", "wanted", "words"),
    [
        ("acetic", 28, 30, "only makes it weaker"),
        ("acetic", 28, 28, "use it as it is"),
        ("nitric", 80, 10, "fumes"),
    ],
)
def test_thinning_is_refused(acid, percent, wanted, words):
    with pytest.raises(BenchError, match=words):
        THIN_ACID.reckon({"acid": acid, "percent": percent, "wanted_percent": wanted, "volume": 100})


def test_the_gap_in_the_table_is_told():
    def told(percent):
        worked = THIN_ACID.reckon({"acid": "nitric", "percent": percent, "wanted_percent": 1, "volume": 100})
        return any("no point" in line for line in worked.beware)

    assert told(53)
    assert not told(36)
    assert not told(68)


def test_no_sum_thins_sulphuric_acid():
    with pytest.raises(BenchError, match="use one of: nitric, acetic"):
        THIN_ACID.reckon({"acid": "sulphuric", "percent": 10, "wanted_percent": 1, "volume": 100})


@given(st.floats(50, 97).filter(lambda percent: abs(percent - 80) > 3) | st.floats(97, 100))
def test_the_hydrometer_gives_both_strengths_and_the_way_to_part_them(percent):
    gravity = density("acetic", percent) / 0.9982
    worked = ACETIC_BY_HYDROMETER.reckon({"gravity": gravity})
    found = (worked.value("weaker"), worked.value("stronger"))
    assert min(abs(one - percent) for one in found) < 1e-6
    weak, strong = map(float, re.findall(r"\d\.\d{3}", worked.do[1]))
    assert weak < strong


def test_a_gravity_no_acetic_acid_has():
    assert [item.name for item in ACETIC_BY_HYDROMETER.reckon({"gravity": 1.02}).amounts] == ["percent"]
    with pytest.raises(BenchError, match=r"no acetic acid reads 1\.08; 1 to 1\.070 is accepted"):
        ACETIC_BY_HYDROMETER.reckon({"gravity": 1.08})


def test_every_sum_has_the_caution_for_acid_and_cyanide():
    assert all("cyanide-and-acid" in item.cautions for item in SUMS)
