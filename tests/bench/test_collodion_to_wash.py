"""What holds for every sum from collodion to the last wash: amounts, words, sources, cautions, speed."""

import math
import tomllib
from pathlib import Path
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import (
    collodion,
    collodion_salts,
    cyanide_fume,
    fixer,
    hypo,
    room_vapour,
    washing,
)
from diagnose.bench.measuring import TOOLS, rounded
from diagnose.bench.sum import BenchError
from diagnose.units import UNITS

MODULES = (collodion, collodion_salts, hypo, fixer, washing, room_vapour, cyanide_fume)
SUMS = {item.name: item for module in MODULES for item in module.SUMS}
KNOWLEDGE = Path(__file__).resolve().parents[2] / "knowledge"
SOURCES = set(tomllib.loads((KNOWLEDGE / "sources.toml").read_text("utf-8"))) | {"exact"}
CAUTIONS = set(tomllib.loads((KNOWLEDGE / "cautions.toml").read_text("utf-8")))
MILLISECOND, GENEROUS = 0.001, 20


def inputs(wanted):
    """Any inputs the sum accepts one by one."""
    return st.fixed_dictionaries(
        {item.name: answers(item) for item in wanted.asks if item.usual is None},
        optional={item.name: answers(item) for item in wanted.asks if item.usual is not None},
    )


def outcome(wanted, given_inputs):
    try:
        return wanted.reckon(given_inputs), ""
    except BenchError as error:
        return None, str(error)


def answers(item):
    return st.sampled_from(sorted(item.choices)) if item.choices else st.floats(*item.range)


def test_every_sum_is_there_once():
    assert len(SUMS) == sum(len(module.SUMS) for module in MODULES)
    assert set(SUMS) == {
        "thin-collodion", "setting-time", "collodion-salts", "hypo-for-fixer", "fixer-left", "washing-time",
        "ether-in-room", "cyanide-warning",
    }  # fmt: skip


@pytest.mark.parametrize("name", SUMS)
@given(st.data())
def test_it_gives_sound_amounts_or_one_clear_line(name, data):
    given_inputs = data.draw(inputs(SUMS[name]))
    worked, refused = outcome(SUMS[name], given_inputs)
    if worked is None:
        assert refused.isprintable()
        assert any(word in refused for word in ("give", "tell", "accepted", "mix fresh")), refused
        return
    assert worked.amounts
    names = [amount.name for amount in worked.amounts]
    assert len(set(names)) == len(names)
    for amount in worked.amounts:
        assert math.isfinite(amount.value)
        assert amount.value >= -1e-9 * max(1, *(abs(other.value) for other in worked.amounts)), amount
        assert math.isfinite(rounded(amount))
        assert amount.unit.casefold() in UNITS
        assert not amount.tool or TOOLS[amount.tool][0] == amount.unit
    for line in (*worked.do, *worked.beware):
        assert line[0].isupper(), line
        assert line.endswith("."), line
        assert len(line) <= 125, line
    assert set(worked.cautions) <= CAUTIONS
    assert len(set(worked.cautions + SUMS[name].cautions)) == len(worked.cautions + SUMS[name].cautions)
    assert worked.do
    assert worked.beware


@pytest.mark.parametrize("name", SUMS)
def test_sources_and_cautions_are_in_the_knowledge(name):
    assert {source.split()[0] for source in SUMS[name].sources} <= SOURCES
    assert set(SUMS[name].cautions) <= CAUTIONS


@pytest.mark.parametrize("name", SUMS)
def test_what_is_usual_is_accepted_and_says_why(name):
    for item in SUMS[name].asks:
        if item.usual is not None:
            assert not item.complaint(item.usual)
            assert item.usual_because
        assert item.ask.rstrip(".").endswith(("?", "timed", "fixers", "%")), item.ask


@pytest.mark.parametrize("name", SUMS)
def test_a_sum_takes_no_time(name):
    told = {
        "thin-collodion": {"volume": 180.0, "lost": 20.0, "ether_share": 50.0},
        "setting-time": {"temperature": 25.0},
        "collodion-salts": {"volume": 500.0, "ammonium_iodide": 9.0},
        "hypo-for-fixer": {"volume": 1000.0},
        "fixer-left": {"kind": "hypo"},
        "washing-time": {"fixer": "hypo", "support": "glass"},
        "ether-in-room": {"room": 20.0},
        "cyanide-warning": {"room": 20.0},
    }[name]
    times = []
    for _ in range(20):
        start = perf_counter()
        SUMS[name].reckon(told)
        times.append(perf_counter() - start)
    assert min(times) < MILLISECOND * GENEROUS
    assert sorted(times)[10] < MILLISECOND * GENEROUS
