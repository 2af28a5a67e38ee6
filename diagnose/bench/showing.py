"""Amounts as they are shown: rounded to what can be measured, in the units a person works in."""

from diagnose.bench.measuring import rounded
from diagnose.bench.sum import Amount
from diagnose.bench.wording import in_words, to_figures
from diagnose.units import UNITS, convert

MEASURES = ("metric", "us", "imperial")
# Kind of unit -> units to choose from: the first that gives at least `1`, or what _FROM says, or the last.
_ALIKE = {
    "mass": ("lb", "gr"),
    "temperature": ("°F",),
    "warmth apart": ("degrees F",),
    "length": ("ft", "in"),
    "area": ("in²",),
    "air speed": ("mph",),
}
_WANTED: dict[str, dict[str, tuple[str, ...]]] = {
    "us": {**_ALIKE, "volume": ("usfloz", "usminims"), "strength": ("gr/oz",)},
    "imperial": {**_ALIKE, "volume": ("impfloz", "impminims"), "strength": ("gr/impoz",)},
}
_FROM = {"ft": 6.0}  # a draw of bellows is told in inches, a studio in feet
_ROOMS = {"m³": "ft³", "m": "ft"}  # what is told in these is told in these, never in ounces or inches


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
    other = in_own_units(amount.value, amount.unit, measures, figures=amount.figures, down=amount.never_over)
    return f"{other} ({plain})" if other else plain


def own_unit(unit: str, measures: str) -> str:
    """The unit a person tells such an amount in.

    Args:
        unit: as it is asked
        measures: "metric", "us" or "imperial"

    >>> own_unit("g/L", "us"), own_unit("m³", "imperial"), own_unit("%", "us")
    ('gr/oz', 'ft³', '%')
    """
    if measures == "metric" or unit.casefold() not in UNITS:
        return unit
    choices = _WANTED[measures].get(UNITS[unit.casefold()].kind, (unit,))
    if unit in _ROOMS:
        return _ROOMS[unit]
    return choices[0] if choices[0] not in {"lb", "ft"} else choices[-1]


def in_own_units(value: float, unit: str, measures: str, *, figures: int = 3, down: bool = False) -> str:
    """An amount in the person's own units; "" where those are the same.

    Args:
        value: the amount [unit]
        unit: its unit
        measures: "metric", "us" or "imperial"
        figures: how many are worth reading
        down: never more than it is

    >>> in_own_units(0.2248, "g", "us"), in_own_units(0.2248, "g", "us", figures=2, down=True)
    ('3.47 grains', '3.4 grains')
    """
    if measures == "metric" or unit.casefold() not in UNITS:
        return ""
    choices = (_ROOMS[unit],) if unit in _ROOMS else _WANTED[measures].get(UNITS[unit.casefold()].kind, ())
    if unit in choices:
        return ""
    for choice in choices:
        other = convert(value, unit, choice)
        if abs(other) >= _FROM.get(choice, 1) or choice == choices[-1]:
            return in_words(to_figures(other, figures, down=down), choice)
    return ""
