"""Any name a student may type."""

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.entries.compiled import read_knowledge as reading
from diagnose.errors import PlateError
from diagnose.talk.explaining_why import meant
from diagnose.teaching.naming import named, slip


@pytest.mark.parametrize(
    ("words", "causes", "symptoms"),
    [
        ("fog", (), ("fog",)),
        ("Oyster Shells", (), ("oyster-shell-marks",)),
        ("oyster-shells", (), ("oyster-shell-marks",)),
        ("silver-bath/weak-bath", ("silver-bath/weak-bath",), ()),
        ("weak bath", ("silver-bath/weak-bath",), ()),
        ("The silver bath is too weak", ("silver-bath/weak-bath",), ()),
        ("moss-like marks from the edge", (), ("oyster-shell-marks",)),
        ("iodide full", ("silver-bath/bath-full-of-iodide",), ()),
        ("", (), ()),
        ("the of in", (), ()),
        ("quux", (), ()),
    ],
)
def test_a_name_is_found(words, causes, symptoms, knowledge):
    found = named(words, knowledge)
    assert (found.causes, found.symptoms) == (causes, symptoms)


def test_every_name_of_the_knowledge_means_what_it_names(knowledge):
    for name, entry in knowledge.causes.items():
        for words in (name, name.partition("/")[2], entry.title):
            assert name in named(words, knowledge).causes, words
    for name, entry in knowledge.symptoms.items():
        for words in (name, entry.title):
            assert named(words, knowledge).symptoms == (name,), words
        for words in (*entry.synonyms, *entry.period):
            assert named(words, knowledge).symptoms, words


def test_a_whole_name_goes_before_a_part_of_one(knowledge):
    assert len(named("spots", knowledge).all) == 1
    assert len(named("cold", knowledge).all) > 1


def test_a_slip_is_told_with_what_is_near(knowledge):
    assert "'pinholes'" in slip(["pinhoels"], knowledge)
    assert "'oyster shells'" in slip(["oyster shels", "shels"], knowledge)
    assert "diagnose symptoms" in slip(["qqqqqqqq"], knowledge)


def test_words_without_quotation_marks_are_one_name(knowledge):
    assert [found.symptoms for found in meant(("oyster", "shells"), knowledge)] == [("oyster-shell-marks",)]
    assert [found.causes for found in meant(("weak-bath", "hot-bath"), knowledge)] == [
        ("silver-bath/weak-bath",),
        ("silver-bath/hot-bath",),
    ]


@pytest.mark.parametrize(
    "names", [("pinhoels",), ("fog", "pinhoels"), ("oyster", "shels"), ("\x1b[31m" * 50,), ("x" * 5000,)]
)
def test_what_nobody_knows_is_one_clear_line(names, knowledge):
    with pytest.raises(PlateError, match="no cause or sign called") as told:
        meant(names, knowledge)
    assert str(told.value).isprintable()
    assert len(str(told.value)) < 300


read_knowledge = cache(reading)


@given(st.lists(st.text(max_size=40), min_size=1, max_size=3))
def test_whatever_is_typed_is_found_or_told_in_one_line(names):
    told = ""
    try:
        found = meant(tuple(names), read_knowledge())
    except PlateError as error:
        found, told = [], str(error)
    assert all(one.all for one in found)
    assert told.isprintable()
    assert bool(found) != bool(told)
