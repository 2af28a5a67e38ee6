"""An amount in words: the unit as people write it, large amounts in larger units, a range with its unit said once."""

import math

from diagnose.units import convert

# Unit -> (from so much on, the larger unit): large amounts without long rows of noughts, where it needs no long fraction.
_LARGER = {
    "mL": ((1e6, "m³"), (2000.0, "L")),
    "g": ((2000.0, "kg"),),
    "mm": ((2000.0, "m"),),
    "cm²": ((10_000.0, "m²"),),
    "s": ((7200.0, "h"), (300.0, "min")),
}
_WORDS = {
    "gr": "grains",
    "gr/oz": "grains per US fl oz",
    "gr/impoz": "grains per imperial fl oz",
    "usfloz": "US fl oz",
    "impfloz": "imperial fl oz",
    "usminims": "US minims",
    "impminims": "imperial minims",
    "f-number": "",
    "number": "",
    "SG": "",
    "pH": "",
    "EV": "",
    "ISO": "",
    "degrees C": "°C",
    "degrees F": "°F",
}
_BEFORE = {"f-number": "f/", "pH": "pH ", "ISO": "ISO ", "EV": "EV "}
_ONE = {"plates": "plate", "drops": "drop", "stops": "stop"}


def in_words(value: float, unit: str) -> str:
    """An amount in one unit, with the unit as people write it.

    Args:
        value: the amount [unit]
        unit: its unit

    >>> in_words(5.6, "f-number"), in_words(2500, "mL"), in_words(4, "pH"), in_words(5, "number")
    ('f/5.6', '2.5 L', 'pH 4', '5')
    """
    for least, larger in _LARGER.get(unit, ()):
        fewer = convert(value, unit, larger)
        if abs(value) >= least and math.isclose(fewer, round(fewer, 3), abs_tol=1e-9):
            value, unit = fewer, larger
            break
    words = _ONE.get(unit, unit) if abs(value) == 1 else unit
    words = _WORDS.get(words, words)
    return f"{_BEFORE.get(unit, '')}{_figures(value)}{' ' if words else ''}{words}"


def about(value: float, unit: str, figures: int = 3) -> str:
    """An amount as a sentence says it.

    Args:
        value: the amount [unit]
        unit: its unit
        figures: how many are worth reading

    >>> about(98.76, "g", 2), about(280_420, "mL")
    ('99 g', '280 L')
    """
    return in_words(to_figures(value, figures), unit)


def to_figures(value: float, figures: int, *, down: bool = False) -> float:
    """A number with no more figures than are worth reading.

    Args:
        value: any number
        figures: how many
        down: never more than it is

    >>> to_figures(8.08, 2), to_figures(0.2248, 3, down=True)
    (8.1, 0.224)
    """
    near = float(f"{value:.{figures}g}")
    if not down or near <= value or not value:
        return near
    step = 10.0 ** (math.floor(math.log10(abs(value))) - figures + 1)
    return round(near - step, 12)


def range_words(low: float, high: float, unit: str) -> str:
    """A range in words, the unit said once where both ends have the same.

    Args:
        low: the least [unit]
        high: the most, which may be infinite [unit]
        unit: of both

    >>> range_words(2, 40, "°C"), range_words(0.5, 512, "f-number"), range_words(0, 10_000, "mm")
    ('2 to 40 °C', 'f/0.5 to f/512', '0 to 10 m')
    """
    if math.isinf(high):
        return f"{in_words(low, unit)} or more"
    return joined_by("to", in_words(low, unit), in_words(high, unit))


def joined_by(word: str, low: str, high: str) -> str:
    """Two amounts in words, the unit said once where both have the same.

    Args:
        word: what stands between them
        low: as from `in_words`
        high: as from `in_words`

    >>> joined_by("and", "13 s", "26 s"), joined_by("and", "900 mL", "2.5 L")
    ('13 and 26 s', '900 mL and 2.5 L')
    """
    number, _, unit = low.partition(" ")
    same = unit and (high.endswith(f" {unit}") or number == "0")
    return f"{number if same and number[0] in '-0123456789' else low} {word} {high}"


def _figures(value: float) -> str:
    """A number without needless figures and never with an exponent.

    >>> _figures(1234567.0), _figures(0.00012), _figures(-0.0)
    ('1234567', '0.00012', '0')
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".") if abs(value) < 1e15 else f"{value:.3g}"
    return "0" if text in {"-0", ""} else text
