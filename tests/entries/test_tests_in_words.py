"""The six forms of a test, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.entries.tests_in_words import (
    Comparison,
    Found,
    InState,
    IsKnown,
    IsOption,
    Seen,
    TestError,
    read_test,
)

WORD = st.from_regex(r"[a-z][a-z0-9]{0,8}", fullmatch=True)
SLUG = st.lists(WORD, min_size=1, max_size=3).map("-".join)
CONDITION = st.lists(WORD, min_size=1, max_size=3).map("_".join)
SIGN = st.sampled_from([">", "<", ">=", "<="])


@pytest.mark.parametrize(
    ("words", "test"),
    [
        ("room_temperature > 28 °C", Comparison("room_temperature", ">", "28 °C")),
        ("bath_strength <= 45 gr/oz", Comparison("bath_strength", "<=", "45 gr/oz")),
        ("clearing_time >= 2,5 min", Comparison("clearing_time", ">=", "2,5 min")),
        ("fixer is cyanide", IsOption("fixer", "cyanide")),
        ("support is japanned-iron", IsOption("support", "japanned-iron")),
        ("bath_strength known", IsKnown("bath_strength")),
        ("plate-drying", InState("plate-drying")),
        ("comets seen", Seen("comets")),
        ("oyster-shell-marks seen", Seen("oyster-shell-marks")),
        ("litmus-on-bath found red-turns-blue", Found("litmus-on-bath", "red-turns-blue")),
    ],
)
def test_each_form_is_read(words, test):
    assert read_test(words) == test


@pytest.mark.parametrize(
    "words",
    [
        "",
        " ",
        "the room is cold",
        "room temperature > 28 °C",
        "room-temperature > 28 °C",
        "room_temperature>28 °C",
        "room_temperature = 28 °C",
        "room_temperature > ",
        "Room_temperature > 28 °C",
        "room_temperature > 28 °C\n",
        "not plate-drying",
        "plate-drying and hot-day",
        "plate--drying",
        "-plate",
        "fixer is",
        "fixer is potassium cyanide",
        "comets not seen",
        "litmus-on-bath found",
        "litmus_on_bath found red",
        "плита",
        "plate-drying\x1b[2J",
    ],
)
def test_anything_else_is_refused_with_the_forms_shown(words):
    with pytest.raises(TestError, match=r'write it like "room_temperature > 28 °C"') as caught:
        read_test(words)
    assert str(caught.value).startswith(f"cannot read {words!r}; ")


@given(SLUG, SLUG)
def test_slugs_are_read_back(first, second):
    assert read_test(f"{first} found {second}") == Found(first, second)
    assert read_test(f"{first} seen") == Seen(first)
    assert read_test(first) == InState(first)


@given(CONDITION, SIGN, st.integers(-50, 500), SLUG)
def test_conditions_are_read_back(condition, sign, number, option):
    assert read_test(f"{condition} {sign} {number} °C") == Comparison(condition, sign, f"{number} °C")
    assert read_test(f"{condition} is {option}") == IsOption(condition, option)
    assert read_test(f"{condition} known") == IsKnown(condition)


def read_or_words(text):
    try:
        return read_test(text), ""
    except TestError as error:
        return None, str(error)


@given(st.text())
def test_any_text_is_a_test_or_refused_on_one_printable_line(text):
    test, words = read_or_words(text)
    assert (test is None) == bool(words)
    assert words.isprintable()
