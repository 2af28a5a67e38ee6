"""Amounts as they can be measured out, and as they are shown."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.measuring import TOOLS, rounded, rounding_words, step_of
from diagnose.bench.showing import MEASURES, shown
from diagnose.bench.sum import Amount
from diagnose.bench.wording import in_words
from diagnose.units import convert, read_amount

AMOUNTS = st.builds(
    lambda value, tool, never_over: Amount(
        "it", "it", 1 + value / 50_000 if tool == "hydrometer" else value, TOOLS[tool][0], tool, never_over
    ),
    st.floats(0, 50_000),
    st.sampled_from(sorted(TOOLS)),
    st.booleans(),
)


@given(AMOUNTS)
def test_rounding_is_within_a_step_and_never_over_where_more_would_harm(amount):
    off = rounded(amount) - amount.value
    assert abs(off) <= step_of(amount) * (1 if amount.never_over else 0.5) + 1e-6
    if amount.never_over:
        assert off <= 1e-6


@given(AMOUNTS)
def test_what_is_measured_stands_on_a_step(amount):
    steps = rounded(amount) / step_of(amount)
    assert math.isclose(steps, round(steps), abs_tol=1e-6)
    assert rounded(amount._replace(value=rounded(amount))) == pytest.approx(rounded(amount), abs=1e-9)


def test_how_it_was_rounded_is_said():
    assert rounding_words(Amount("a", "a", 10.37, "g", "balance")) == "rounded to 0.1 g, as on a darkroom balance"
    assert "rounded down" in rounding_words(Amount("a", "a", 0.4, "mL", "syringe", never_over=True))
    assert not rounding_words(Amount("a", "a", 91.24, "g/L"))


@given(AMOUNTS, st.sampled_from(MEASURES))
def test_what_is_shown_reads_back_as_what_is_measured(amount, measures):
    words = shown(amount, measures)
    assert "e+" not in words
    assert "e-" not in words
    plain = words.rpartition("(")[2].rstrip(")") if measures != "metric" and "(" in words else words
    number, _, unit = plain.partition(" ")
    if amount.unit in {"g", "mL", "s"}:
        back = read_amount(f"{float(number):.6f} {unit}", amount.unit)
        assert back == pytest.approx(rounded(amount), rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(("measures", "unit"), [("us", "gr/oz"), ("imperial", "gr/impoz")])
def test_strength_is_shown_in_grains_to_the_persons_own_ounce(measures, unit):
    words = shown(Amount("s", "strength", 91.24, "g/L"), measures)
    assert words.startswith(f"{convert(91.24, 'g/L', unit):.3g} grains per ")
    assert "(91.2 g/L)" in words


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (20e6, "mL", "20 m³"),
        (2500, "mL", "2.5 L"),
        (900, "mL", "900 mL"),
        (5.6, "f-number", "f/5.6"),
        (1.074, "SG", "1.074"),
    ],
)
def test_units_as_people_write_them(value, unit, words):
    assert in_words(value, unit) == words
