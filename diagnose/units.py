"""Amounts with units: read them, turn them into the unit that is wanted, print them."""

import math
import re
from typing import NamedTuple

from diagnose.errors import DiagnoseError

GRAIN_GRAMS = 0.06479891  # exact, international yard and pound agreement 1959
US_OUNCE_LITRES = 0.0295735295625  # exact, from the US gallon of 231 cubic inches
IMPERIAL_OUNCE_LITRES = 0.0284130625  # exact, UK Weights and Measures Act 1985
US_OUNCE, IMPERIAL_OUNCE = US_OUNCE_LITRES * 1000, IMPERIAL_OUNCE_LITRES * 1000  # mL
INCH_MM, FOOT_MM, MILE_M = 25.4, 304.8, 1609.344  # exact, the same agreement


class UnitError(DiagnoseError):
    """An amount cannot be read, or has a unit of the wrong kind."""


class Unit(NamedTuple):
    """One unit.

    Args:
        name: as it is printed
        kind: what it measures; only units of one kind turn into each other
        factor: size in the first unit of its kind
        offset: added after the factor (only temperatures need it)
    """

    name: str
    kind: str
    factor: float
    offset: float = 0.0


_TABLE = {
    ("°C", "C", "degC", "celsius"): Unit("°C", "temperature", 1.0),
    ("°F", "F", "degF", "fahrenheit"): Unit("°F", "temperature", 5 / 9, -160 / 9),
    ("s", "sec", "secs", "second", "seconds"): Unit("s", "time", 1.0),
    ("min", "mins", "minute", "minutes"): Unit("min", "time", 60.0),
    ("h", "hr", "hrs", "hour", "hours"): Unit("h", "time", 3600.0),
    ("d", "day", "days"): Unit("d", "time", 86400.0),
    ("week", "weeks", "wk"): Unit("weeks", "time", 604800.0),
    ("month", "months"): Unit("months", "time", 2629746.0),
    ("year", "years"): Unit("years", "time", 31556952.0),
    ("g/L", "g/l", "gram/litre"): Unit("g/L", "strength", 1.0),
    ("gr/oz", "gr/USoz", "grains/oz", "grains per US fl oz"): Unit("gr/oz", "strength", GRAIN_GRAMS / US_OUNCE_LITRES),
    ("gr/impoz", "gr/UKoz", "grains per imperial fl oz"): Unit(
        "gr/impoz", "strength", GRAIN_GRAMS / IMPERIAL_OUNCE_LITRES
    ),
    ("mol/L",): Unit("mol/L", "moles in a litre", 1.0),
    ("%", "percent", "pct"): Unit("%", "percent", 1.0),
    ("plates", "plate"): Unit("plates", "count", 1.0),
    ("g", "gram", "grams"): Unit("g", "mass", 1.0),
    ("mg",): Unit("mg", "mass", 0.001),
    ("kg",): Unit("kg", "mass", 1000.0),
    ("gr", "grain", "grains"): Unit("gr", "mass", GRAIN_GRAMS),
    ("apdr", "drachm", "drachms"): Unit("drachms", "mass", 60 * GRAIN_GRAMS),
    ("apoz",): Unit("apoz", "mass", 480 * GRAIN_GRAMS),
    ("avoz",): Unit("avoz", "mass", 437.5 * GRAIN_GRAMS),
    ("lb", "pound", "pounds"): Unit("lb", "mass", 7000 * GRAIN_GRAMS),
    ("mL", "cc", "cm3", "millilitre", "millilitres"): Unit("mL", "volume", 1.0),
    ("L", "litre", "litres", "liter", "liters"): Unit("L", "volume", 1000.0),
    ("m3", "m³"): Unit("m³", "volume", 1e6),
    ("ft3", "ft³"): Unit("ft³", "volume", FOOT_MM**3 / 1000),
    ("usfloz", "US fl oz"): Unit("usfloz", "volume", US_OUNCE),
    ("impfloz", "ukfloz", "imperial fl oz"): Unit("impfloz", "volume", IMPERIAL_OUNCE),
    ("usfldr",): Unit("usfldr", "volume", US_OUNCE / 8),
    ("impfldr", "ukfldr"): Unit("impfldr", "volume", IMPERIAL_OUNCE / 8),
    ("usminim", "usminims", "US minims"): Unit("usminims", "volume", US_OUNCE / 480),
    ("impminim", "impminims", "imperial minims"): Unit("impminims", "volume", IMPERIAL_OUNCE / 480),
    ("uspint", "uspints"): Unit("uspints", "volume", US_OUNCE * 16),
    ("imppint", "imppints"): Unit("imppints", "volume", IMPERIAL_OUNCE * 20),
    ("mm",): Unit("mm", "length", 1.0),
    ("cm",): Unit("cm", "length", 10.0),
    ("m", "metre", "metres", "meter", "meters"): Unit("m", "length", 1000.0),
    ("in", "inch", "inches"): Unit("in", "length", INCH_MM),
    ("ft", "foot", "feet"): Unit("ft", "length", FOOT_MM),
    ("cm2", "cm²"): Unit("cm²", "area", 1.0),
    ("m2", "m²"): Unit("m²", "area", 10_000.0),
    ("in2", "in²"): Unit("in²", "area", INCH_MM**2 / 100),
    ("m/s",): Unit("m/s", "air speed", 1.0),
    ("km/h",): Unit("km/h", "air speed", 1 / 3.6),
    ("mph",): Unit("mph", "air speed", MILE_M / 3600),
    ("degrees C",): Unit("degrees C", "warmth apart", 1.0),
    ("degrees F",): Unit("degrees F", "warmth apart", 5 / 9),
    ("SG",): Unit("SG", "specific gravity", 1.0),
    ("°Bé", "Bé", "°Be", "Be", "Baumé", "Baume"): Unit("°Bé", "degrees Baumé", 1.0),
    ("pH",): Unit("pH", "acidity", 1.0),
    ("f-number",): Unit("f-number", "aperture", 1.0),
    ("ISO",): Unit("ISO", "plate speed", 1.0),
    ("stops", "stop"): Unit("stops", "stops", 1.0),
    ("times",): Unit("times", "ratio", 1.0),
    ("drops", "drop"): Unit("drops", "drops", 1.0),
    ("number", "pops", "pop", "strips", "strip"): Unit("number", "number", 1.0),
    ("EV",): Unit("EV", "light value", 1.0),
    ("lux", "lx"): Unit("lux", "light", 1.0),
    ("ppm",): Unit("ppm", "share of the air", 1.0),
    ("W s", "Ws", "J"): Unit("W s", "flash energy", 1.0),
}
UNITS: dict[str, Unit] = {name.casefold(): unit for names, unit in _TABLE.items() for name in names}
# What nobody writes a unit for: "pH 4", "f/5.6", "1.074", "12 plates".
BARE_NUMBER_KINDS = frozenset(
    {
        "count", "specific gravity", "acidity", "aperture", "plate speed", "stops", "ratio", "drops", "number",
        "light value", "light", "degrees Baumé",
    }
)  # fmt: skip
# The trade's sizes in inches: common practice, and they differ a little from maker to maker.
PLATE_SIZES = {
    "ninth plate": (2.0, 2.5),
    "sixth plate": (2.75, 3.25),
    "quarter plate": (3.25, 4.25),
    "half plate": (4.25, 5.5),
    "whole plate": (6.5, 8.5),
}
OUNCES = frozenset({"oz", "ounce", "ounces", "floz", "fl oz", "fl. oz"})
_SIZE = re.compile(
    r"(\d{1,4}(?:[.,]\d{1,4})?)\s*(?:x|×|by)\s*(\d{1,4}(?:[.,]\d{1,4})?)\s*(mm|cm|in|inch|inches)", re.IGNORECASE
)
_SIDE = r"(\d{1,4}(?:[.,]\d{1,4})?)"
_ROOM = re.compile(
    rf"{_SIDE}\s*(?:x|×|by)\s*{_SIDE}\s*(?:x|×|by)\s*{_SIDE}\s*(cm|m|metres?|meters?|ft|foot|feet)", re.IGNORECASE
)
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}$")
_NUMBER = r"[+-]?(?:\d{1,12}(?:[.,]\d{1,12})?|[.,]\d{1,12})"
_FRACTION = r"(?:\d{1,4} +)?\d{1,6}/\d{1,6}"
_AMOUNT = re.compile(rf"({_FRACTION}|{_NUMBER})\s*(.{{0,30}})", re.DOTALL)
_BARE = re.compile(rf"{_FRACTION}|{_NUMBER}")


def convert(value: float, unit: str, wanted: str) -> float:
    """An amount in another unit of the same kind.

    Args:
        value: the amount [unit]
        unit: unit it is in
        wanted: unit it is wanted in

    Returns:
        the amount [wanted]

    Raises:
        UnitError: a unit is unknown, or the two measure different things

    >>> round(convert(60, "°F", "°C"), 1)   # Humphrey 1857 p. 132: 60 °F
    15.6
    >>> round(convert(45, "gr/oz", "g/L"), 1)   # 45 grains to the US ounce
    98.6
    """
    old, new = _unit(unit), _unit(wanted)
    if old.kind != new.kind:
        raise UnitError(f"{old.name} measures {old.kind}, but {new.name} is wanted; {accepted(wanted)}")
    return (value * old.factor + old.offset - new.offset) / new.factor


def read_amount(text: str, wanted: str) -> float:
    """An amount as a person writes it, in the unit that is wanted.

    Args:
        text: such as "28 °C", "82F", "45 gr/oz" or "2,5 min"
        wanted: unit to return it in

    Returns:
        the amount [wanted]

    Raises:
        UnitError: no number, no unit, or a unit of another kind; the message says what is accepted

    >>> read_amount("2,5 min", "s")
    150.0
    """
    if _unit(wanted).kind == "area" and (area := _plate_area(text)):
        return convert(area, "cm²", wanted)
    if _unit(wanted).kind == "volume" and (room := _ROOM.fullmatch(text.strip())):
        side = convert(1, room[4], "cm")
        return convert(math.prod(float(room[i].replace(",", ".")) * side for i in (1, 2, 3)), "mL", wanted)
    match = _AMOUNT.fullmatch(_without_label(text.strip(), wanted))
    if match is None:
        raise UnitError(f"cannot read {_shown(text)} as an amount; {accepted(wanted)}")
    if _THOUSANDS.match(match[1]):
        raise UnitError(f"{_shown(text)} can be read two ways; write the number without the comma, or with a point")
    number, unit = _number(match[1]), match[2].strip().rstrip(".")
    if number is None:
        raise UnitError(f"{_shown(text)} is not an amount; {accepted(wanted)}")
    if not unit:
        if takes_bare_numbers(wanted):
            return number
        raise UnitError(f"{_shown(text)} has no unit; {accepted(wanted)}")
    if unit.casefold() in OUNCES:
        raise UnitError(
            f"{_shown(text)}: which ounce? Write usfloz or impfloz for liquids, avoz (as bought) or apoz (480 grains) by weight"
        )
    if unit.casefold() not in UNITS:
        raise UnitError(f"no unit called {_shown(unit)}; {accepted(wanted)}")
    value = convert(number, unit, wanted)
    if not math.isfinite(value):
        raise UnitError(f"{_shown(text)} is not an amount; {accepted(wanted)}")
    return value


def is_bare(text: str) -> bool:
    """Whether a person wrote a number and nothing else.

    Args:
        text: as it was typed

    >>> is_bare("2,5"), is_bare("1/125"), is_bare("2.5 min")
    (True, True, False)
    """
    return _BARE.fullmatch(text.strip()) is not None


def takes_bare_numbers(wanted: str) -> bool:
    """Whether nobody writes a unit here.

    Args:
        wanted: the unit
    """
    return _unit(wanted).kind in BARE_NUMBER_KINDS


def accepted(wanted: str) -> str:
    """What may be written where this unit is wanted, in words.

    Args:
        wanted: any unit of the kind
    """
    kind = _unit(wanted).kind
    names = dict.fromkeys(unit.name for unit in UNITS.values() if unit.kind == kind)
    if kind == "area":
        return f"write a size such as 13x18 cm, 4x5 in or whole plate, or a number and one of: {', '.join(names)}"
    if kind in BARE_NUMBER_KINDS:
        return "write a plain number" if kind == "number" else f"write a plain number ({', '.join(names)})"
    return f"write a number and one of: {', '.join(names)}"


def print_amount(value: float, unit: str) -> str:
    """An amount as it is shown: at most three figures after the point, no trailing zeros.

    Args:
        value: the amount [unit]
        unit: its unit

    >>> print_amount(28.0, "°C")
    '28 °C'
    """
    number = f"{value:.3f}".rstrip("0").rstrip(".")
    return f"{'0' if number == '-0' else number} {unit}"


def _number(text: str) -> float | None:
    """A number as it is written, "2,5", ".5", "1/125" or "2 1/2"; None for a part of nothing."""
    whole, _, part = text.rpartition(" ") if "/" in text else ("", "", text.replace(",", "."))
    if "/" not in part:
        return float(part)
    over, under = part.split("/")
    return float(whole or 0) + float(over) / float(under) if float(under) else None


def _plate_area(text: str) -> float | None:
    """The area of a plate told by its size [cm²]."""
    words = " ".join(text.casefold().replace("-", " ").split())
    if words in PLATE_SIZES:
        width, height = PLATE_SIZES[words]
        return width * height * INCH_MM**2 / 100
    match = _SIZE.fullmatch(words)
    if match is None:
        return None
    side = {"mm": 0.1, "cm": 1.0}.get(match[3], INCH_MM / 10)
    return float(match[1].replace(",", ".")) * float(match[2].replace(",", ".")) * side**2


def _without_label(text: str, wanted: str) -> str:
    """Text such as "f/5.6" or "pH 4" without what stands before the number."""
    kind = _unit(wanted).kind
    before = {"aperture": ("f/", "f"), "acidity": ("ph",)}.get(kind, ())
    for label in before:
        if text.casefold().startswith(label):
            return text[len(label) :].strip()
    return text


def _unit(name: str) -> Unit:
    try:
        return UNITS[name.strip().casefold()]
    except KeyError:
        raise UnitError(f"no unit called {_shown(name)}") from None


def _shown(text: str) -> str:
    return repr(text if len(text) <= 40 else text[:37] + "...")
