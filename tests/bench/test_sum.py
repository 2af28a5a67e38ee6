"""What every sum shares: what it asks, what it takes as usual, and what it refuses in one line."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked


def doubled(volume: float, kind: str) -> Worked:
    if kind == "none" and volume > 5:
        raise BenchError("more than nothing cannot be doubled so; 5 mL at most")
    return Worked((Amount("twice", "twice as much", 2 * volume, "mL", "syringe"),))


DOUBLED = Sum(
    name="doubled",
    title="Twice as much",
    asks=(
        Asked(name="volume", ask="How much is there?", unit="mL", range=(0, 100)),
        Asked(name="kind", ask="Of what kind?", choices={"some": "some", "none": "none"}, usual="some"),
    ),
    work=doubled,
    formula="twice the volume",
    holds="always",
    accuracy="exact",
    sources=("exact",),
)


def test_what_is_left_out_is_taken_as_usual():
    assert DOUBLED.taken({"volume": 3.0}) == {"volume": 3.0, "kind": "some"}
    assert DOUBLED.reckon({"volume": 3.0}).value("twice") == 6


def test_only_what_has_no_usual_value_is_missing():
    assert [asked.name for asked in DOUBLED.missing({})] == ["volume"]
    assert DOUBLED.missing({"volume": 1.0}) == ()


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({}, "doubled wants volume: How much is there?"),
        ({"volume": -1.0}, "volume: -1 mL cannot be right; 0 to 100 mL is accepted"),
        ({"volume": 101.0}, "volume: 101 mL cannot be right"),
        ({"volume": math.nan}, "is not an amount"),
        ({"volume": "much"}, "is not an amount"),
        ({"volume": 1.0, "kind": "sum"}, "kind: no answer 'sum'; use one of: some, none"),
        ({"volum": 1.0}, "did you mean 'volume'"),
        ({"volume": 6.0, "kind": "none"}, "5 mL at most"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(told, words):
    with pytest.raises(BenchError, match=words.replace("?", r"\?")) as refused:
        DOUBLED.reckon(told)
    assert "\n" not in str(refused.value)


@given(st.text(max_size=300))
def test_nothing_typed_puts_a_control_character_into_the_complaint(name):
    with pytest.raises(BenchError) as refused:
        DOUBLED.reckon({name: 1.0, "volume": -1.0})
    assert str(refused.value).isprintable()
