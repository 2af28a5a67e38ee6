"""What every sum of acids and developer keeps to: names that exist, one clear line, no ammonia, quick."""

import re
import tomllib
from pathlib import Path
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench import acetic_acid, bath_acid, developer
from diagnose.bench.measuring import TOOLS
from diagnose.bench.sum import BenchError
from diagnose.units import UNITS

SUMS = (*bath_acid.SUMS, *acetic_acid.SUMS, *developer.SUMS)
EACH = pytest.mark.parametrize("worked_sum", SUMS, ids=lambda item: item.name)
KNOWLEDGE = Path(__file__).resolve().parents[2] / "knowledge"
MARKS = {"exact"}
NAMES = {
    *("acid-for-bath", "alkali-for-bath", "acetic-acid", "thin-acid", "acid-by-parts", "acetic-by-hydrometer"),
    *("developer-iron", "developer-alcohol", "developer-acid", "development-time"),
}
SOUND = {
    "acid-for-bath": {"volume": 1000.0, "present_ph": 5.0, "percent": 68.0},
    "alkali-for-bath": {"volume": 1000.0, "present_ph": 2.5},
    "acetic-acid": {"recipe_volume": 50.0, "recipe_percent": 99.5, "percent": 28.0},
    "thin-acid": {"acid": "nitric", "percent": 68.0, "wanted_percent": 1.0, "volume": 100.0},
    "acid-by-parts": {"acid": "acetic", "percent": 99.5, "acid_volume": 100.0, "water_volume": 800.0},
    "acetic-by-hydrometer": {"gravity": 1.05},
    "developer-iron": {"mass": 50.0, "salt": "dried"},
    "developer-alcohol": {"volume": 500.0, "bath_age": "old"},
    "developer-acid": {"volume": 500.0, "present_percent": 3.0, "wanted_percent": 5.0, "percent": 28.0},
    "development-time": {"temperature": 26.0},
}


def table(name):
    return tomllib.loads((KNOWLEDGE / name).read_text("utf-8"))


def test_the_names_are_these():
    assert {item.name for item in SUMS} == NAMES == set(SOUND)


@EACH
def test_sources_and_cautions_exist(worked_sum):
    sources, cautions = table("sources.toml").keys() | MARKS, table("cautions.toml").keys()
    assert {source.split(" ")[0] for source in worked_sum.sources} <= sources
    assert {*worked_sum.cautions, *worked_sum.reckon(SOUND[worked_sum.name]).cautions} <= cautions
    acid = worked_sum.name not in {"alkali-for-bath", "developer-alcohol", "development-time"}
    assert ("cyanide-and-acid" in worked_sum.cautions) is acid


@EACH
def test_units_tools_and_usual_values(worked_sum):
    for item in worked_sum.asks:
        assert bool(item.unit) != bool(item.choices), item.name
        assert not item.unit or item.unit.casefold() in UNITS
        assert item.usual is None or (not item.complaint(item.usual) and item.usual_because)
    for item in worked_sum.reckon(SOUND[worked_sum.name]).amounts:
        assert item.unit.casefold() in UNITS
        assert item.tool in {"", *TOOLS}
        assert re.fullmatch("[a-z_]+", item.name)


@EACH
@given(st.data())
def test_anything_in_range_gives_amounts_or_one_clear_line(worked_sum, data):
    given_values = {
        item.name: data.draw(st.sampled_from(sorted(item.choices)) if item.choices else st.floats(*item.range))
        for item in worked_sum.asks
    }
    refusal = ""
    try:
        worked = worked_sum.reckon(given_values)
    except BenchError as error:
        refusal = str(error)
    if refusal:
        assert "\n" not in refusal
        assert len(refusal) > 30
        return
    assert worked.amounts
    assert all(item.value >= 0 for item in worked.amounts)
    lines = (*worked.do, *worked.beware)
    assert all(line[-1] == "." and line.isprintable() and len(line) < 260 for line in lines)
    assert len(set(lines)) == len(lines)


@EACH
def test_no_sum_puts_ammonia_in(worked_sum):
    """The word stands only where it is warned of; Mohr's salt, an ammonium salt, has its own warning."""
    for item in worked_sum.asks:
        assert "ammonia" not in item.choices
    if worked_sum.name == "developer-iron":
        return
    worked = worked_sum.reckon(SOUND[worked_sum.name])
    assert not any("ammoni" in item.label for item in worked.amounts)
    assert all(line.startswith("Never ammonia") for line in (*worked.do, *worked.beware) if "ammoni" in line.casefold())


@EACH
def test_a_sum_takes_under_a_millisecond(worked_sum):
    times = []
    for _ in range(5):
        begun = perf_counter()
        for _ in range(20):
            worked_sum.reckon(SOUND[worked_sum.name])
        times.append((perf_counter() - begun) / 20)
    assert min(times) < 0.001 * 3  # three for a slow machine
