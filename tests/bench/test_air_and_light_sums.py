"""Every sum of air and exposure, whatever it is told: an answer or one clear line, and quickly."""

import math
import re
import tomllib
from pathlib import Path
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.bench import exposure, lens, light, plate_speed, strips, wet_bulb, wet_window
from diagnose.bench.measuring import TOOLS, rounded
from diagnose.bench.sum import BenchError
from diagnose.units import UNITS

SUMS = [one for module in (wet_bulb, wet_window, exposure, lens, light, plate_speed, strips) for one in module.SUMS]
KNOWLEDGE = Path(__file__).resolve().parents[2] / "knowledge"
SOURCES = tomllib.loads((KNOWLEDGE / "sources.toml").read_text("utf-8")).keys() | {"exact"}
CAUTIONS = tomllib.loads((KNOWLEDGE / "cautions.toml").read_text("utf-8")).keys()
PRINTED = {unit.name for unit in UNITS.values()}
# One thing told that makes the sum worth working, where the usual answers alone are none.
ORDINARY = {
    "wet-bulb": {"temperature": 22.0, "humidity": 45.0},
    "wet-window": {"temperature": 22.0, "humidity": 45.0, "wait": 5.0},
    "exposure-time": {"time": 6.0, "stop": 4.0, "new_stop": 5.6},
    "bellows-factor": {"focal_length": 300.0, "extension": 360.0, "time": 6.0},
    "light-change": {"energy": 2400.0, "new_energy": 4800.0},
    "plate-speed": {"stop": 4.0, "time": 4.0, "ev": 10.0},
    "test-strip": {},
}
every_sum = pytest.mark.parametrize("one", SUMS, ids=lambda one: one.name)


def answers(one):
    """Anything the questions let pass, mostly with a few of them left out."""
    asked = {}
    for item in one.asks:
        value = st.sampled_from(sorted(item.choices)) if item.choices else st.floats(*item.range)
        asked[item.name] = value if item.usual is None else st.one_of(st.just(item.usual), value)
    return st.fixed_dictionaries(asked)


def answer(one, told):
    try:
        return one.reckon(told)
    except BenchError as error:
        return str(error)


@every_sum
@settings(max_examples=150, deadline=None)
@given(st.data())
def test_it_answers_or_says_in_one_line_why_not(one, data):
    told = data.draw(answers(one))
    worked = answer(one, told)
    if isinstance(worked, str):
        assert re.fullmatch(r"[^\n]{15,200}", worked)
        return
    assert all(math.isfinite(amount.value) and math.isfinite(rounded(amount)) for amount in worked.amounts)
    assert len({amount.name for amount in worked.amounts}) == len(worked.amounts)
    # Stops, a dew point and a wet bulb may lie below nothing; no other amount can.
    assert all(amount.value >= 0 for amount in worked.amounts if amount.unit not in {"stops", "EV", "°C"})
    assert all(re.fullmatch(r"[A-Z][^\n]+[.]", line) for line in (*worked.do, *worked.beware))


@every_sum
def test_what_it_asks_and_says_is_whole(one):
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", one.name)
    assert {source.split()[0] for source in one.sources} <= SOURCES
    assert set(one.cautions) <= CAUTIONS
    for item in one.asks:
        assert re.fullmatch(r"[a-z]+(_[a-z]+)*", item.name)
        assert item.ask.endswith("?")
        assert bool(item.choices) != bool(item.unit in PRINTED)
        assert item.usual is None or (not item.complaint(item.usual) and item.usual_because)
    worked = one.reckon(ORDINARY[one.name])
    for amount in worked.amounts:
        assert amount.unit in PRINTED
        assert not amount.tool or TOOLS[amount.tool][0] == amount.unit


@every_sum
def test_it_takes_less_than_a_millisecond(one):
    told = ORDINARY[one.name]
    best = math.inf
    for _ in range(7):
        start = perf_counter()
        for _ in range(20):
            one.reckon(told)
        best = min(best, (perf_counter() - start) / 20)
    assert best < 1e-3
