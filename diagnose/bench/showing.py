"""Amounts as they are shown: rounded to what can be measured, in the units a person works in."""

from diagnose.bench.measuring import rounded
from diagnose.bench.sum import Amount
from diagnose.units import UNITS, convert

MEASURES = ("metric", "us", "imperial")
# Kind of unit -> units to choose from, the largest that gives at least `1` (or the last) is taken.
_WANTED: dict[str, dict[str, tuple[str, ...]]] = {
    "metric": {"volume": ("L", "mL")},
    "us": {
        "mass": ("lb", "gr"),
        "volume": ("usfloz", "usminims"),
        "strength": ("gr/oz",),
        "temperature": ("°F",),
        "warmth apart": ("degrees F",),
        "length": ("ft", "in"),
        "area": ("in²",),
        "air speed": ("mph",),
    },
    "imperial": {
        "mass": ("lb", "gr"),
        "volume": ("impfloz", "impminims"),
        "strength": ("gr/impoz",),
        "temperature": ("°F",),
        "warmth apart": ("degrees F",),
        "length": ("ft", "in"),
        "area": ("in²",),
        "air speed": ("mph",),
    },
}
_LITRES_FROM = 2000.0  # mL
_WORDS = {
    "gr": "grains",
    "gr/oz": "grains per US fl oz",
    "gr/impoz": "grains per imperial fl oz",
    "usfloz": "US fl oz",
    "impfloz": "imperial fl oz",
    "usminims": "US minims",
    "impminims": "imperial minims",
    "f-number": "",
    "SG": "",
    "pH": "",
    "degrees C": "°C apart",
    "degrees F": "°F apart",
}
_BEFORE = {"f-number": "f/", "pH": "pH ", "ISO": "ISO "}


def shown(amount: Amount, measures: str = "metric") -> str:
    """A result as it is shown: what can be measured first, then the same in the person's own units.

    Args:
        amount: a result
        measures: "metric", "us" or "imperial"

    >>> shown(Amount("add", "silver nitrate", 10.373, "g", "balance"))
    '10.4 g'
    >>> shown(Amount("add", "silver nitrate", 10.373, "g", "balance"), "us")
    '160 grains (10.4 g)'
    """
    plain = in_words(rounded(amount), amount.unit)
    other = _other(amount, measures)
    return f"{other} ({plain})" if other else plain


def in_words(value: float, unit: str) -> str:
    """An amount in one unit, with the unit as people write it.

    Args:
        value: the amount [unit]
        unit: its unit

    >>> in_words(5.6, "f-number"), in_words(2500, "mL"), in_words(4, "pH")
    ('f/5.6', '2.5 L', 'pH 4')
    """
    if unit == "mL" and value >= 1e6:
        value, unit = value / 1e6, "m³"
    elif unit == "mL" and value >= _LITRES_FROM:
        value, unit = value / 1000, "L"
    if unit == "plates" and value == 1:
        unit = "plate"
    if unit == "ISO":
        return f"ISO {_figures(value)}"
    words = _WORDS.get(unit, unit)
    return f"{_BEFORE.get(unit, '')}{_figures(value)}{' ' if words else ''}{words}"


def _other(amount: Amount, measures: str) -> str:
    """The amount in the person's own units; "" where those are the same."""
    if measures == "metric" or amount.unit.casefold() not in UNITS:
        return ""
    choices = _WANTED[measures].get(UNITS[amount.unit.casefold()].kind, ())
    if amount.unit in choices:
        return ""
    for unit in choices:
        value = convert(amount.value, amount.unit, unit)
        if abs(value) >= 1 or unit == choices[-1]:
            return in_words(float(f"{value:.3g}"), unit)
    return ""


def _figures(value: float) -> str:
    """A number without needless figures and never with an exponent.

    >>> _figures(1234567.0), _figures(0.00012), _figures(-0.0)
    ('1234567', '0.00012', '0')
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text
