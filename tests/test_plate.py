"""The plate as it is told: any shape is read, or everything wrong with it is told in one printable line."""

from dataclasses import FrozenInstanceError

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose import Plate
from diagnose.errors import PlateError
from diagnose.plate import MOST_ENTRIES, SymptomAnswer, Tried, shown

TOLD = {
    "story": "Comets from below.",
    "symptoms": {"comets": {"place": "lower-part"}, "fog": False, "pinholes": "unsure", "flat picture": "?"},
    "conditions": {"room_temperature": "28 °C", "bath_plates": 30, "gloves_worn": True, "fixer": "?"},
    "checks": {"litmus-on-bath": "stays-blue"},
    "tried": [{"remedy": "filter-the-bath", "result": "no-change"}],
}


def error_of(told):
    with pytest.raises(PlateError) as caught:
        Plate.read(told)
    words = str(caught.value)
    assert words.isprintable()
    assert len(words) < 1500
    return words


def test_a_plate_is_read():
    plate = Plate.read(TOLD)
    assert {name: item.answer for name, item in plate.symptoms.items()} == {
        "comets": "present",
        "fog": "absent",
        "pinholes": "unsure",
        "flat picture": "cant-tell",
    }
    assert plate.symptoms["comets"].attributes == {"place": "lower-part"}
    assert plate.conditions == {"room_temperature": "28 °C", "bath_plates": "30", "gloves_worn": "yes", "fixer": "?"}
    assert plate.tried[0].result == "no-change"


def test_told_is_what_read_takes():
    plate = Plate.read(TOLD)
    again = Plate.read(plate.told())
    assert again.told() == plate.told()
    assert again.symptoms["comets"].attributes == {"place": "lower-part"}


@pytest.mark.parametrize("symptoms", [["comets", "fog"], ("comets", "fog"), {"comets", "fog"}])
def test_a_bare_list_of_symptoms_is_enough(symptoms):
    assert {name: item.answer for name, item in Plate.read({"symptoms": symptoms}).symptoms.items()} == {
        "comets": "present",
        "fog": "present",
    }


@pytest.mark.parametrize(
    ("answer", "meant"),
    [
        (True, "present"),
        (False, "absent"),
        ("yes", "present"),
        ("no", "absent"),
        ("?", "cant-tell"),
        ("unsure", "unsure"),
        ("cant-tell", "cant-tell"),
        ({"answer": "absent"}, "absent"),
        ({}, "present"),
    ],
)
def test_the_ways_to_answer(answer, meant):
    assert Plate.read({"symptoms": {"fog": answer}}).symptoms["fog"].answer == meant


def test_a_plate_cannot_be_changed():
    with pytest.raises(FrozenInstanceError):
        Plate.read(TOLD).story = "another"


def test_everything_wrong_is_told_in_one_line():
    words = error_of(
        {
            "symptoms": {"fog": "perhaps"},
            "conditions": {"room_temperature": ["28"]},
            "checks": "all of them",
            "tried": [{"remedy": "filter-the-bath", "result": "worse"}, {"result": "cured"}],
        }
    )
    for part in (
        "symptoms.fog: perhaps is not an answer; use present, absent, unsure, cant-tell",
        "conditions.room_temperature: ['28'] has the wrong shape",
        "checks: all of them has the wrong shape",
        "tried.1: worse is not a result; use no-change, better, cured",
        "tried.2: {'result': 'cured'} has the wrong shape; write remedy and result",
    ):
        assert part in words


def test_a_part_that_does_not_exist_names_those_that_do():
    assert error_of({"weather": "fair"}) == (
        "weather: there is no such part; a plate has symptoms, conditions, checks, tried, story, day"
    )


def test_a_plate_may_be_made_from_its_own_values():
    plate = Plate(
        symptoms={"fog": SymptomAnswer("absent")}, tried=(Tried("filter-the-bath", "better"),), checks={"x": "?"}
    )
    assert plate == Plate.read(plate.told())


def deep(depth):
    value = "x"
    for _ in range(depth):
        value = [value]
    return value


WRONG_SHAPES = {
    "nothing": None,
    "a list": [],
    "a word": "fog",
    "a table of numbers": {1: 2},
    "no symptoms": {"symptoms": None},
    "symptoms in a word": {"symptoms": "fog"},
    "answer nothing": {"symptoms": {"fog": None}},
    "answer a number": {"symptoms": {"fog": 1}},
    "answer not a number": {"symptoms": {"fog": float("nan")}},
    "answer half a letter": {"symptoms": {"fog": "\ud800"}},
    "conditions in a word": {"conditions": "warm"},
    "condition nothing": {"conditions": {"room_temperature": None}},
    "check nothing": {"checks": {"litmus-on-bath": None}},
    "tried in a word": {"tried": "everything"},
    "tried with more": {"tried": [{"remedy": "x", "result": "cured", "when": "now"}]},
    "a very long story": {"story": "x" * 5001},
    "a story in numbers": {"story": 5},
    "too many symptoms": {"symptoms": {f"symptom {number}": True for number in range(MOST_ENTRIES + 1)}},
    "too many conditions": {"conditions": {f"condition {number}": "?" for number in range(MOST_ENTRIES + 1)}},
    "too much tried": {"tried": [{"remedy": "x", "result": "cured"}] * (MOST_ENTRIES + 1)},
    "an answer of 5000 figures": {"symptoms": {"fog": 10**5000}},
    "a name of 5000 figures": {10**5000: True},
    "symptoms in tables": {"symptoms": [{"fog": True}]},
    "symptoms in lists": {"symptoms": [["fog"]]},
    "a symptom of 5000 figures": {"symptoms": {10**5000: None}},
    "deep symptoms": {"symptoms": deep(100_000)},
    "deep conditions": {"conditions": deep(100_000)},
    "a deep place": {"symptoms": {"fog": {"place": deep(100_000)}}},
    "a terminal's title": {"\x1b]0;title\x07": True},
    "an escape for an answer": {"symptoms": {"\x1b[2J": {"answer": "\x1b[2J"}}},
    "a turned name": {"conditions": {"\u202e": ["\x00"]}},
}


@pytest.mark.parametrize("shape", WRONG_SHAPES)
def test_wrong_shapes_are_told(shape):
    assert error_of(WRONG_SHAPES[shape])


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("fog", "fog"),
        ("a\x1b[31mb\nc\u202e", "a [31mb c "),
        ("x" * 61, "x" * 57 + "..."),
        (3.5, "3.5"),
        (["\n"], "['\\n']"),
    ],
)
def test_values_are_shown_on_one_short_line(value, text):
    assert shown(value) == text


def test_what_cannot_even_be_written_out_is_shown_too():
    assert shown(10**5000) == shown(deep(100_000)) == "what is written here"


ANYTHING = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.text(max_size=10),
        st.text(alphabet="\x1b\x07\x00\n\r\u202e\ud800[2J;"),
        st.binary(max_size=4),
        st.sampled_from([10**400, -(10**400), float("inf"), "present", "?", "yes", "x" * 10_000]),
    ),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6) | st.integers(), inner, max_size=4),
    max_leaves=12,
)
PARTS = st.sampled_from(["symptoms", "conditions", "checks", "tried", "story", "\x1b[2J"])


def plate_or_words(told):
    try:
        return Plate.read(told), ""
    except PlateError as error:
        return None, str(error)


@given(st.dictionaries(PARTS, ANYTHING, max_size=5) | ANYTHING)
def test_anything_is_a_plate_or_one_printable_line(told):
    plate, words = plate_or_words(told)
    if plate is None:
        assert words
        assert words.isprintable()
        assert len(words) < 1500
    else:
        assert Plate.read(plate.told()).told() == plate.told()
