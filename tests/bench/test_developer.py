"""The developer: its iron, alcohol and acid, and its time against its warmth."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.bench.acids import moles_per_litre
from diagnose.bench.developer import (
    DEVELOPER_ACID,
    DEVELOPER_ALCOHOL,
    DEVELOPER_IRON,
    DEVELOPMENT_TIME,
    SUMS,
    equal_time_at_20,
    time_at,
)
from diagnose.bench.developer_iron import SALTS, same_iron
from diagnose.bench.developer_mix import ALCOHOL_WANTED
from diagnose.bench.sum import BenchError

SALT_NAMES = st.sampled_from(sorted(SALTS))
VOLUMES = st.floats(20, 20_000)
TEMPERATURES = st.floats(-10, 60)


@given(st.floats(0.1, 5000), SALT_NAMES, SALT_NAMES)
def test_iron_there_and_back(mass, recipe_salt, salt):
    there = same_iron(mass, recipe_salt, salt)
    assert there > 0
    assert same_iron(there, salt, recipe_salt) == pytest.approx(mass)
    if recipe_salt != salt:
        given_values = {"mass": mass, "recipe_salt": recipe_salt, "salt": salt}
        assert DEVELOPER_IRON.reckon(given_values).value("mass") == pytest.approx(there)


def test_less_is_weighed_of_the_drier_salt():
    masses = [same_iron(50, "heptahydrate", salt) for salt in ("anhydrous", "dried", "heptahydrate", "double-salt")]
    assert masses == sorted(masses)
    assert masses[0] == pytest.approx(50 * 0.5464, abs=0.01)  # share of anhydrous salt in the crystals, periodictable


def test_the_same_salt_is_refused():
    with pytest.raises(BenchError, match="the same salt"):
        DEVELOPER_IRON.reckon({"mass": 50, "salt": "heptahydrate"})


def test_doubts_of_the_iron_salts():
    def doubts(salt):
        return DEVELOPER_IRON.reckon({"mass": 50, "salt": salt})

    assert "ammonia-and-silver" in doubts("double-salt").cautions
    assert any("waste acid" in line for line in doubts("double-salt").beware)
    assert not doubts("dried").cautions
    assert any("a few percent of doubt" in line for line in doubts("dried").beware)
    assert not any("a few percent of doubt" in line for line in doubts("anhydrous").beware)
    other_way = DEVELOPER_IRON.reckon({"mass": 50, "recipe_salt": "dried", "salt": "heptahydrate"})
    assert any("a few percent of doubt" in line for line in other_way.beware)
    assert not any("dissolves slowly" in line for line in other_way.beware)


@given(VOLUMES, st.sampled_from(sorted(ALCOHOL_WANTED)), st.floats(0, 30), st.floats(60, 100))
def test_with_its_alcohol_a_developer_holds_what_was_wanted(volume, age, present, strength):
    given_values = {"volume": volume, "bath_age": age, "present_percent": present, "alcohol_percent": strength}
    wanted = ALCOHOL_WANTED[age]
    if present >= wanted:
        with pytest.raises(BenchError, match="put none in"):
            DEVELOPER_ALCOHOL.reckon(given_values)
        return
    add = DEVELOPER_ALCOHOL.reckon(given_values).value("alcohol")
    assert add > 0
    held = 100 * (volume * present / 100 + add * strength / 95) / (volume + add)
    assert held == pytest.approx(wanted)


@pytest.mark.parametrize(("age", "parts"), [("new", 1), ("used", 3), ("old", 5)])
def test_alcohol_by_the_parts_of_the_book(age, parts):
    """Wilkinson: iron 10, acid 4, water 70, alcohol 1 to 5 as the bath ages."""
    worked = DEVELOPER_ALCOHOL.reckon({"volume": 84, "bath_age": age})
    assert worked.value("alcohol") == pytest.approx(parts)
    assert any("may want none" in line for line in worked.beware) == (age == "new")


def test_the_range_of_alcohol_is_the_books():
    assert [round(share, 1) for share in ALCOHOL_WANTED.values()] == [1.2, 3.4, 5.6]


@given(VOLUMES, st.floats(0, 19), st.floats(0.01, 20), st.floats(30, 100))
def test_with_its_acid_a_developer_holds_what_was_wanted(volume, present, more, percent):
    wanted = present + more
    assume(wanted <= 20)
    given_values = {"volume": volume, "present_percent": present, "wanted_percent": wanted, "percent": percent}
    add = DEVELOPER_ACID.reckon(given_values).value("acid")
    assert add > 0
    glacial = add * moles_per_litre("acetic", percent) / moles_per_litre("acetic", 99.5)
    assert 100 * (volume * present / 100 + glacial) / (volume + add) == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("present", "wanted", "percent", "words"),
    [
        (5, 5, 99.5, "put none in"),
        (5, 3, 99.5, "put none in"),
        (1, 8, 5, "too weak to bring"),
        (1, 21, 28, "20 % is acc"),
    ],
)
def test_acid_is_refused(present, wanted, percent, words):
    with pytest.raises(BenchError, match=words):
        DEVELOPER_ACID.reckon({"volume": 500, "present_percent": present, "wanted_percent": wanted, "percent": percent})


def test_acid_in_a_developer_is_told_as_glacial():
    worked = DEVELOPER_ACID.reckon({"volume": 95, "present_percent": 0, "wanted_percent": 5, "percent": 99.5})
    assert worked.value("acid") == pytest.approx(5)
    strong = DEVELOPER_ACID.reckon({"volume": 95, "present_percent": 0, "wanted_percent": 9, "percent": 28})
    assert any("about 8 %" in line for line in strong.beware)
    assert any("thins the iron" in line for line in strong.beware)


def test_fifteen_seconds_at_30_degrees():
    assert time_at(15, 20, 30, 1.9) == pytest.approx(7.895, abs=0.01)
    assert DEVELOPMENT_TIME.reckon({"temperature": 30}).value("likely") == pytest.approx(7.895, abs=0.01)


@given(st.floats(0, 600), TEMPERATURES)
def test_least_likely_and_most_stand_in_order(seconds, temperature):
    least, likely, most = equal_time_at_20(seconds, temperature)
    assert 0 <= least <= likely <= most
    assert equal_time_at_20(seconds, 20) == (seconds, seconds, seconds)
    assert likely == pytest.approx(time_at(seconds, temperature, 20, 1.9))
    if seconds:
        assert (likely >= seconds) == (temperature >= 20) or likely == pytest.approx(seconds)


@given(st.floats(0.1, 600), TEMPERATURES, st.floats(0.1, 20))
def test_a_warmer_developer_does_more_in_the_same_time(seconds, temperature, more):
    assume(temperature + more <= 60)
    colder, warmer = equal_time_at_20(seconds, temperature), equal_time_at_20(seconds, temperature + more)
    assert all(cold < warm for cold, warm in zip(colder, warmer, strict=True) if cold > 0)


@given(st.floats(2, 300), st.floats(2, 40))
def test_the_sum_undoes_itself(usual_time, temperature):
    worked = DEVELOPMENT_TIME.reckon({"temperature": temperature, "usual_time": usual_time})
    assert worked.value("least") <= worked.value("likely") <= worked.value("most")
    _, likely, _ = equal_time_at_20(worked.value("likely"), temperature)
    assert likely == pytest.approx(usual_time)


@pytest.mark.parametrize(
    ("seconds", "temperature"), [(-1, 20), (15, 90), (15, -40), (float("nan"), 20), (15, float("nan"))]
)
def test_what_is_no_development_is_refused(seconds, temperature):
    with pytest.raises(BenchError, match="is no development"):
        equal_time_at_20(seconds, temperature)


def test_doubts_of_the_time():
    def told(temperature, words):
        return any(words in line for line in DEVELOPMENT_TIME.reckon({"temperature": temperature}).beware)

    assert all(told(temperature, "from memory") for temperature in (2, 20, 40))
    assert told(9, "a guess")
    assert told(31, "a guess")
    assert not told(18, "a guess")
    assert told(13, "never over a flame")
    assert not told(15, "never over a flame")
    assert told(30, "no hand is even")
    assert not told(20, "no hand is even")


def test_every_sum_has_the_caution_for_acid_and_cyanide():
    assert all(
        "cyanide-and-acid" in item.cautions for item in SUMS if item.name in {"developer-acid", "developer-iron"}
    )
    assert all("iron-developer" in item.cautions for item in SUMS)
    assert "ether-and-alcohol" in DEVELOPER_ALCOHOL.cautions
