"""Amounts with units: read them, turn them into the unit that is wanted, print them."""

import math
import re
from typing import NamedTuple

from diagnose.errors import DiagnoseError

GRAIN_GRAMS = 0.06479891  # exact, international yard and pound agreement 1959
US_OUNCE_LITRES = 0.0295735295625  # exact, from the US gallon of 231 cubic inches
IMPERIAL_OUNCE_LITRES = 0.0284130625  # exact, UK Weights and Measures Act 1985


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
    ("gr/oz", "gr/USoz", "grains/oz"): Unit("gr/oz", "strength", GRAIN_GRAMS / US_OUNCE_LITRES),
    ("gr/impoz", "gr/UKoz"): Unit("gr/impoz", "strength", GRAIN_GRAMS / IMPERIAL_OUNCE_LITRES),
    ("%", "percent", "pct"): Unit("%", "percent", 1.0),
    ("plates", "plate"): Unit("plates", "count", 1.0),
}
UNITS: dict[str, Unit] = {name.casefold(): unit for names, unit in _TABLE.items() for name in names}
BARE_NUMBER_KINDS = frozenset({"count"})
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}$")
_AMOUNT = re.compile(r"([+-]?\d{1,12}(?:[.,]\d{1,12})?)\s*(.{0,20})", re.DOTALL)


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
    match = _AMOUNT.fullmatch(text.strip())
    if match is None:
        raise UnitError(f"cannot read {_shown(text)} as an amount; {accepted(wanted)}")
    if _THOUSANDS.match(match[1]):
        raise UnitError(f"{_shown(text)} can be read two ways; write the number without the comma, or with a point")
    number, unit = float(match[1].replace(",", ".")), match[2].strip().rstrip(".")
    if not unit:
        if _unit(wanted).kind in BARE_NUMBER_KINDS:
            return number
        raise UnitError(f"{_shown(text)} has no unit; {accepted(wanted)}")
    if unit.casefold() not in UNITS:
        raise UnitError(f"no unit called {_shown(unit)}; {accepted(wanted)}")
    value = convert(number, unit, wanted)
    if not math.isfinite(value):
        raise UnitError(f"{_shown(text)} is not an amount; {accepted(wanted)}")
    return value


def accepted(wanted: str) -> str:
    """What may be written where this unit is wanted, in words.

    Args:
        wanted: any unit of the kind
    """
    kind = _unit(wanted).kind
    names = dict.fromkeys(unit.name for unit in UNITS.values() if unit.kind == kind)
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


def _unit(name: str) -> Unit:
    try:
        return UNITS[name.strip().casefold()]
    except KeyError:
        raise UnitError(f"no unit called {_shown(name)}") from None


def _shown(text: str) -> str:
    return repr(text if len(text) <= 40 else text[:37] + "...")
