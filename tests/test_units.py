"""Amounts: the exact definitions, what people type, and nothing but UnitError for the rest."""

import math
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.units import UNITS, UnitError, accepted, convert, print_amount, read_amount

KINDS = sorted({unit.kind for unit in UNITS.values()})
BY_KIND = {kind: sorted({unit.name for unit in UNITS.values() if unit.kind == kind}) for kind in KINDS}
SAME_KIND = st.sampled_from(KINDS).flatmap(lambda kind: st.tuples(*[st.sampled_from(BY_KIND[kind])] * 2))
AMOUNT = st.floats(-1e6, 1e6)

GRAIN = Fraction("64.79891") / 1000  # g, exact since 1959
US_OUNCE = Fraction("231") * Fraction("2.54") ** 3 / 128 / 1000  # L, a gallon is 231 cubic inches
IMPERIAL_OUNCE = Fraction("4.54609") / 160  # L, Weights and Measures Act 1985


@given(AMOUNT, SAME_KIND)
def test_there_and_back_is_the_same_amount(value, units):
    first, second = units
    assert math.isclose(convert(convert(value, first, second), second, first), value, rel_tol=1e-9, abs_tol=1e-6)


@given(AMOUNT, AMOUNT, SAME_KIND)
def test_more_stays_more(one, other, units):
    assume(abs(one - other) > 1e-3)
    assert (one < other) == (convert(one, *units) < convert(other, *units))


@given(st.integers(-999_999, 999_999), st.sampled_from(sorted({unit.name for unit in UNITS.values()})))
def test_text_amount_text_is_stable(thousandths, unit):
    text = print_amount(thousandths / 1000, unit)
    assert print_amount(read_amount(text, unit), unit) == text
    assert read_amount(text, unit) == pytest.approx(thousandths / 1000, abs=1e-9)


@pytest.mark.parametrize("grains", [1, 30, 45, 60])
def test_grains_to_the_ounce_follow_the_exact_definitions(grains):
    assert convert(grains, "gr/oz", "g/L") == pytest.approx(float(grains * GRAIN / US_OUNCE), rel=1e-14)
    assert convert(grains, "gr/impoz", "g/L") == pytest.approx(float(grains * GRAIN / IMPERIAL_OUNCE), rel=1e-14)


def test_an_imperial_ounce_is_the_smaller_one():
    assert convert(45, "gr/impoz", "g/L") > convert(45, "gr/oz", "g/L")
    assert convert(1, "gr/oz", "gr/impoz") == pytest.approx(float(IMPERIAL_OUNCE / US_OUNCE), rel=1e-14)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [(32, 0), (212, 100), (-40, -40), (60, Fraction(140, 9)), (82, Fraction(250, 9))]
)
def test_fahrenheit(fahrenheit, celsius):
    assert read_amount(f"{fahrenheit} °F", "°C") == pytest.approx(float(celsius), abs=1e-12)
    assert convert(float(celsius), "°C", "°F") == pytest.approx(fahrenheit, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "wanted", "value"),
    [
        ("28 °C", "°C", 28.0),
        ("28°C", "°C", 28.0),
        (" 28  c ", "°C", 28.0),
        ("-5 celsius", "°C", -5.0),
        ("+5 degC", "°C", 5.0),
        ("82F", "°C", 250 / 9),
        ("2,5 min", "s", 150.0),
        ("2.5 min", "s", 150.0),
        ("2,5 min.", "s", 150.0),
        ("90 secs", "min", 1.5),
        ("1 hr", "min", 60.0),
        ("2 weeks", "d", 14.0),
        ("1 year", "months", 12.0),
        ("98,6 g/l", "g/L", 98.6),
        ("45 Gr/Oz", "gr/oz", 45.0),
        ("50 %", "%", 50.0),
        ("50pct", "%", 50.0),
        ("140 plates", "plates", 140.0),
        ("140", "plates", 140.0),
        ("1 plate", "plates", 1.0),
    ],
)
def test_amounts_as_people_write_them(text, wanted, value):
    assert read_amount(text, wanted) == pytest.approx(value, rel=1e-12)


@given(st.integers(0, 10**6), st.integers(0, 999))
def test_a_decimal_comma_is_a_decimal_point(whole, part):
    assume(not (0 < whole < 1000 and part >= 100))  # 1,500 can be read two ways
    assert read_amount(f"{whole},{part} s", "s") == read_amount(f"{whole}.{part} s", "s")


@pytest.mark.parametrize(
    ("text", "wanted", "says"),
    [
        ("28", "°C", "'28' has no unit; write a number and one of: °C, °F"),
        ("warm", "°C", "cannot read 'warm' as an amount; write a number and one of: °C, °F"),
        ("", "s", "cannot read '' as an amount; write a number and one of: s, min, h, d, weeks, months, years"),
        ("5 g/L", "°C", "g/L measures strength, but °C is wanted; write a number and one of: °C, °F"),
        ("5 furlongs", "s", "no unit called 'furlongs'; write a number and one of: s,"),
        ("1,500 s", "s", "'1,500 s' can be read two ways"),
        ("1.000,5 s", "s", "no unit called ',5 s'; write a number and one of: s,"),
        ("nan °C", "°C", "cannot read 'nan °C'"),
        ("inf °C", "°C", "cannot read 'inf °C'"),
        ("1e5 s", "s", "no unit called 'e5 s'"),
        ("1" * 400 + " s", "s", "cannot read '1111"),
        ("28 °C\x1b[2J", "°C", "no unit called '°C\\x1b[2J'"),
        ("--5 °C", "°C", "cannot read '--5 °C'"),
    ],
)
def test_the_rest_is_refused_with_what_is_accepted(text, wanted, says):
    with pytest.raises(UnitError) as caught:
        read_amount(text, wanted)
    assert str(caught.value).startswith(says)
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(("unit", "wanted"), [("furlong", "s"), ("s", "furlong"), ("", "s"), ("s", "g/L")])
def test_units_that_do_not_fit_are_refused(unit, wanted):
    with pytest.raises(UnitError):
        convert(1, unit, wanted)


def test_what_is_accepted_names_every_unit_of_the_kind_once():
    assert accepted("°F") == "write a number and one of: °C, °F"
    assert accepted("number") == "write a plain number"
    for kind in KINDS:
        if kind == "number":
            continue
        words = accepted(BY_KIND[kind][0])
        names = words.rpartition(": ")[2] if ": " in words else words.removeprefix("write a plain number (").rstrip(")")
        assert sorted(names.split(", ")) == BY_KIND[kind]


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (28.0, "°C", "28 °C"),
        (1 / 3, "g/L", "0.333 g/L"),
        (-0.0001, "°C", "0 °C"),
        (100.0, "%", "100 %"),
        (-40.5, "°F", "-40.5 °F"),
    ],
)
def test_amounts_are_printed_short(value, unit, text):
    assert print_amount(value, unit) == text


HOSTILE = st.one_of(
    st.text(),
    st.text(alphabet="0123456789.,+-eE°CFsgr/oz \n\x1b\u202e\x00٣²Ⅷ"),
    st.sampled_from(["5 ", "-", "1e999 s", "0x10 s", "5 s 5 s", "5\n°C", "٢٨ °C"]),
)


def amount_or_words(call, *arguments):
    try:
        return call(*arguments), ""
    except UnitError as error:
        return None, str(error)


@given(HOSTILE, st.sampled_from(sorted({unit.name for unit in UNITS.values()})))
def test_any_text_is_an_amount_or_a_unit_error_on_one_line(text, wanted):
    value, words = amount_or_words(read_amount, text, wanted)
    if value is None:
        assert words.isprintable()
        assert len(words) < 300
    else:
        assert math.isfinite(value)


@given(st.text(), st.text(), st.floats())
def test_any_unit_converts_or_is_refused(unit, wanted, value):
    _, words = amount_or_words(convert, value, unit, wanted)
    assert words.isprintable()


@pytest.mark.parametrize(
    ("told", "area"),
    [
        ("13x18 cm", 234),
        ("4 x 5 in", 20 * 6.4516),
        ("whole plate", 6.5 * 8.5 * 6.4516),
        ("130 × 180 mm", 234),
        ("234 cm2", 234),
    ],
)
def test_a_plate_is_told_by_its_size(told, area):
    assert read_amount(told, "cm²") == pytest.approx(area)


@pytest.mark.parametrize(
    ("told", "unit", "value"),
    [
        ("f/5.6", "f-number", 5.6),
        ("pH 4", "pH", 4),
        ("1.074", "SG", 1.074),
        ("9.5", "EV", 9.5),
        ("9 1/2", "°Bé", 9.5),
        ("9.5 Baumé", "°Bé", 9.5),
        ("9.5 EV", "EV", 9.5),
        ("2500", "lux", 2500),
        ("2500 lx", "lux", 2500),
        ("5", "number", 5),
        ("5 strips", "number", 5),
        ("3 pops", "number", 3),
    ],
)
def test_what_nobody_writes_a_unit_for(told, unit, value):
    assert read_amount(told, unit) == value


@pytest.mark.parametrize(
    ("told", "unit", "value"),
    [
        ("1/125 s", "s", 0.008),
        ("1/2 s", "s", 0.5),
        ("2 1/2 min", "s", 150),
        (".5 s", "s", 0.5),
        (",5 s", "s", 0.5),
        ("3 US fl oz", "mL", 3 * 29.5735295625),
        ("3 imperial fl oz", "mL", 3 * 28.4130625),
        ("0.1 mol/l", "mol/L", 0.1),
    ],
)
def test_parts_and_ounces_as_people_write_them(told, unit, value):
    assert read_amount(told, unit) == pytest.approx(value)


@pytest.mark.parametrize(
    ("told", "room"), [("4x3x2.5 m", 30), ("400 by 300 by 250 cm", 30), ("10 x 10 × 8 ft", 800 * 0.3048**3)]
)
def test_a_room_is_told_by_its_three_sides(told, room):
    assert read_amount(told, "m³") == pytest.approx(room)


@pytest.mark.parametrize("told", ["1/0 s", "0/0 s"])
def test_a_part_of_nothing_is_no_amount(told):
    with pytest.raises(UnitError, match="is not an amount"):
        read_amount(told, "s")


@pytest.mark.parametrize("told", ["3 oz", "3 ounces", "3 floz", "3 fl oz"])
@pytest.mark.parametrize("wanted", ["mL", "g"])
def test_a_bare_ounce_is_asked_back(told, wanted):
    with pytest.raises(UnitError, match="which ounce"):
        read_amount(told, wanted)


EXACT = {  # from the international yard and pound agreement 1959, the US gallon of 231 in³ and the UK gallon of 4.54609 L
    "usfloz": US_OUNCE * 1000, "impfloz": IMPERIAL_OUNCE * 1000, "usminims": US_OUNCE * 1000 / 480,
    "impminims": IMPERIAL_OUNCE * 1000 / 480, "lb": Fraction("453.59237"), "avoz": Fraction("28.349523125"),
    "apoz": Fraction("31.1034768"), "drachms": Fraction("3.8879346"), "in": Fraction("25.4"), "ft³": Fraction("28316.846592"),
}  # fmt: skip


@pytest.mark.parametrize("unit", EXACT)
def test_old_units_follow_their_exact_definitions(unit):
    first = next(item.name for item in UNITS.values() if item.kind == UNITS[unit.casefold()].kind and item.factor == 1)
    assert convert(1, unit, first) == pytest.approx(float(EXACT[unit]), rel=1e-12)
