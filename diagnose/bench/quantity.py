"""Amounts and strengths as a recipe writes them."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from diagnose.bench.sum import BenchError
from diagnose.errors import printable
from diagnose.units import UNITS, read_amount

QUANTITIES: Mapping[str, str] = {"mass": "g", "volume": "mL", "drops": "drops"}  # kind of unit -> unit used here
STRENGTHS: Mapping[str, str] = {"strength": "g/L", "percent": "%"}  # "%" is always by volume here
_NUMBER_AND_UNIT = re.compile(r"\s*[-+]?[\d.,]+\s*(.*?)\s*", re.DOTALL)


class Quantity(NamedTuple):
    """An amount or a strength as a recipe writes it.

    Args:
        value: the number [unit]
        unit: g, mL or drops; of a strength g/L or % by volume
        up_to: fill up to this volume, whatever is in the vessel already
    """

    value: float
    unit: str
    up_to: bool = False


def read_quantity(text: str) -> Quantity:
    """The amount of one part as a recipe writes it.

    Args:
        text: such as "12 g", "118 mL", "3 drops", "2 drachms", or "to 1 L" for filling up to the mark

    Returns:
        the amount [g, mL or drops]

    Raises:
        BenchError: it measures no weight, volume or drops, or is nothing at all
        UnitError: no number, or no unit that is known

    >>> read_quantity("to 1 L")
    Quantity(value=1000.0, unit='mL', up_to=True)
    """
    first, _, rest = text.strip().partition(" ")
    up_to = first == "to"
    return _read(rest if up_to else text, {"volume": "mL"} if up_to else QUANTITIES)._replace(up_to=up_to)


def read_strength(text: str) -> Quantity:
    """A strength as a recipe writes it.

    Args:
        text: such as "45 gr/oz", "98.6 g/L", or "8 %" by volume

    Returns:
        the strength [g/L, or % by volume]

    Raises:
        BenchError: it measures no strength, or is nothing at all
        UnitError: no number, or no unit that is known

    >>> round(read_strength("45 gr/oz").value, 1)   # Humphrey 1857 p. 64: 45 grains to the US ounce
    98.6
    """
    return _read(text, STRENGTHS)


def _read(text: str, kinds: Mapping[str, str]) -> Quantity:
    match = _NUMBER_AND_UNIT.fullmatch(text)
    unit = UNITS.get(match[1].rstrip(".").casefold()) if match else None
    wanted = next(iter(kinds.values())) if unit is None else kinds.get(unit.kind)
    shown = repr(printable(text[:40]))
    if wanted is None:
        *others, last = kinds.values()
        units = f"{', '.join(others)} or {last}" if others else last
        raise BenchError(f"{shown} is no amount for this place; write it in {units}")
    value = read_amount(text, wanted)
    if value <= 0:
        raise BenchError(f"{shown} is nothing; write more than 0, or take the line out")
    return Quantity(value, wanted)
