"""What all sums of the silver bath share: whatever is told within bounds, an answer or one clear line."""

import math
from timeit import repeat

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import bath_iodide, bath_making, bath_plates, bath_reading, bath_scales, bath_strength, bath_weighed
from diagnose.bench.measuring import rounded
from diagnose.bench.sum import BenchError

MODULES = (bath_reading, bath_scales, bath_strength, bath_making, bath_weighed, bath_plates, bath_iodide)
SUMS = {item.name: item for module in MODULES for item in module.SUMS}
MARKS = {"exact", "from-memory", "common-practice", "judged"}
ORDINARY = {
    "reading": 1.074,
    "temperature": 20.0,
    "marked": 9.0,
    "volume": 1000.0,
    "strength": 80.0,
    "wanted": 90.0,
    "wanted_volume": 1200.0,
    "stock": 300.0,
    "silver": 100.0,
    "water": 1000.0,
    "chloride": 0.7,
    "sample": 10.0,
    "plates": 50.0,
    "degrees": 10.0,
}


def ordinary(item):
    told = {}
    for asked in item.asks:
        if asked.usual is None:
            told[asked.name] = next(iter(asked.choices)) if asked.choices else ORDINARY[asked.name]
    if item.name == "water-to-add":
        told["wanted"] = 60.0
    return told


def inputs(item):
    return st.fixed_dictionaries(
        {
            asked.name: st.sampled_from(sorted(asked.choices)) if asked.choices else st.floats(*asked.range)
            for asked in item.asks
        }
    )


def tried(item, told):
    """The result and "", or None and the line that refused it."""
    try:
        return item.reckon(told), ""
    except BenchError as error:
        return None, str(error)


def test_every_name_is_one_sums_own():
    assert len(SUMS) == sum(len(module.SUMS) for module in MODULES)


@pytest.mark.parametrize("item", SUMS.values(), ids=SUMS)
def test_whatever_is_told_within_bounds_gives_amounts_or_one_line(item):
    @given(inputs(item))
    def whatever(told):
        worked, refused = tried(item, told)
        if worked is None:
            assert refused.isprintable()
            assert 20 < len(refused) < 260
            return
        assert worked.amounts
        assert len({amount.name for amount in worked.amounts}) == len(worked.amounts)
        for amount in worked.amounts:
            assert math.isfinite(amount.value), amount
            assert amount.value >= -1e-9, amount
            assert math.isfinite(rounded(amount))
        for line in (*worked.do, *worked.beware):
            assert line.isprintable()
            assert line[0].isupper()
            assert line.endswith(".")

    whatever()


@pytest.mark.parametrize("item", SUMS.values(), ids=SUMS)
def test_an_ordinary_case_is_answered_quickly(item):
    told = ordinary(item)
    assert item.reckon(told).amounts[0].value > 0
    best = min(repeat(lambda: item.reckon(told), number=10, repeat=3)) / 10
    assert best < 0.005  # a millisecond, and a slow machine


@pytest.mark.parametrize("item", SUMS.values(), ids=SUMS)
def test_its_sources_and_cautions_are_known_and_silver_nitrate_is_always_warned_of(item, knowledge):
    for source in item.sources:
        assert source in MARKS or source.partition(" ")[0] in knowledge.sources, source
    every = {*item.cautions, *item.reckon(ordinary(item)).cautions}
    assert every <= set(knowledge.cautions)
    assert "silver-nitrate" in item.cautions


@pytest.mark.parametrize("item", SUMS.values(), ids=SUMS)
def test_no_step_ever_takes_ammonia_acid_or_a_flame(item):
    """Spirit, silver and ammonia or hot acid make what explodes."""
    words = " ".join(item.reckon(ordinary(item)).do).casefold()
    assert not {"ammonia", "acid", "boil"} & set(words.replace(",", " ").replace(".", " ").split())
    if "flame" in words:
        assert "no flame" in words
