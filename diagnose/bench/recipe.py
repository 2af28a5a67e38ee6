"""Recipes of stock solutions: scaled to the volume that is wanted, and the strengths that come of them."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from diagnose.bench.acids import ACIDS, moles_per_litre
from diagnose.bench.measuring import rounded
from diagnose.bench.sum import Amount, BenchError
from diagnose.bench.wording import about, in_words, range_words

LEAST, MOST = 1.0, 100_000.0  # volumes a darkroom may want, judged [mL]
LARGEST_SYRINGE = 50.0  # common practice [mL]
COARSE = 0.05  # rounded further than this share, an amount is no longer the recipe's: judged


class Holding(NamedTuple):
    """What a bought or ready-made liquid brings with it.

    Args:
        name: the substance
        strength: how much of it is in the liquid [unit]
        unit: g/L, or % by volume
    """

    name: str
    strength: float
    unit: str


class Part(NamedTuple):
    """One part of a recipe.

    Args:
        name: in small letters, words parted by blanks or hyphens
        amount: for the volume the whole recipe makes [unit]
        unit: g, mL or drops
        up_to: fill up to this volume, whatever is in the vessel already
        percent: of an acid or other liquid sold in several strengths: the strength meant [% by weight]
        holds: of a ready-made liquid: what is in it
        never_over: rounded down, because more would do harm
    """

    name: str
    amount: float
    unit: str
    up_to: bool = False
    percent: float | None = None
    holds: tuple[Holding, ...] = ()
    never_over: bool = False


def scaled(parts: Sequence[Part], makes: float, wanted: float) -> tuple[Amount, ...]:
    """A recipe for the volume that is wanted.

    Args:
        parts: what goes in
        makes: volume those parts make [mL]
        wanted: volume to be made [mL]

    Returns:
        each part in its own unit, with the tool it is measured out with [g, mL or drops]

    Raises:
        BenchError: there are no parts, the recipe makes nothing, the wanted volume is not 1 mL to 100 L, or the liquids pass
            the mark that is filled up to

    Holds: everything keeps its proportion, the drops too; a drop differs from dropper to dropper.
    Source: exact

    >>> towler = [Part("ferrous sulphate", 11.66, "g"), Part("acetic acid", 11.09, "mL", percent=99.5)]
    >>> [round(amount.value, 1) for amount in scaled(towler, makes=136.8, wanted=1000)]   # 85 g/L, 8 %
    [85.2, 81.1]
    """
    if not parts:
        raise BenchError("there is nothing to mix here, only strengths to compare; choose a solution that has a recipe")
    if not 0 < makes < math.inf:
        raise BenchError(f"the recipe makes {about(makes, 'mL')}; a recipe makes more than nothing")
    if not LEAST <= wanted <= MOST:
        raise BenchError(
            f"{about(wanted, 'mL')} cannot be right; {range_words(LEAST, MOST, 'mL')} of a solution is accepted"
        )
    poured = sum(part.amount for part in parts if part.unit == "mL" and not part.up_to) / makes * wanted
    if poured > wanted and any(part.up_to for part in parts):
        raise BenchError(
            f"the liquids come to {about(poured, 'mL')}, past the mark at {about(wanted, 'mL')}; take a stronger acid"
        )
    return tuple(_amount(part, part.amount * (wanted / makes)) for part in parts)


def strengths(parts: Sequence[Part], makes: float) -> tuple[Amount, ...]:
    """How strong a solution is in each thing that goes in; what is filled up with, and drops, are left out.

    Args:
        parts: what goes in; of a ready-made liquid, what it holds counts
        makes: volume those parts make [mL]

    Returns:
        what is weighed in g/L, liquids in % by volume

    Holds: liquids are taken to add up; spirit and water shrink by up to 4 % when mixed (from memory).
    Source: exact

    >>> bath = [Part("iodide solution", 25, "mL", holds=(Holding("potassium iodide", 10, "g/L"),))]
    >>> strengths(bath, makes=1000)[0].value   # Vogel p. 285: 25 mL of 1 % solution to 1000 of water
    0.25
    """
    found: dict[tuple[str, str], float] = {}
    for part in parts:
        if part.up_to or part.unit not in {"g", "mL"}:
            continue
        own = Holding(part.name, 1000.0, "g/L") if part.unit == "g" else Holding(part.name, 100.0, "%")
        for held in part.holds or (own,):
            key = (held.name, held.unit)
            found[key] = found.get(key, 0.0) + part.amount * held.strength / makes
    return tuple(Amount(_for_scripts(name), name, value, unit) for (name, unit), value in found.items())


def exchanged(part: Part, name: str, times: float, percent: float | None = None) -> Part:
    """The same part with another form of it: dried for crystals, or an acid of another strength.

    Args:
        part: as the recipe has it
        name: what is taken instead
        times: how much of that does the work of one of the first [same unit for same unit]
        percent: strength of what is taken, if it is an acid [% by weight]

    Returns:
        the part to put in its place; where the recipe fills up to the mark, nothing else changes

    Raises:
        BenchError: `times` is nothing, or it is the part that is filled up with

    >>> exchanged(Part("hypo", 200, "g"), "dried hypo", times=0.637).amount
    127.4
    """
    if not 0 < times < math.inf or part.up_to:
        raise BenchError(
            f"{part.name} cannot be exchanged for {times:g} times {name}; take a part that is measured out"
        )
    return part._replace(name=name, amount=part.amount * times, percent=percent)


def with_acid_at_hand(part: Part, percent: float) -> Part:
    """The same part as the acid at hand gives it.

    Args:
        part: an acid with the strength the recipe means
        percent: strength of the acid at hand [% by weight]

    Returns:
        the part to put in its place: as much acid in another volume; the mark that is filled up to stays

    Raises:
        BenchError: it is no acid whose strength is told, the strength cannot be, or the acid at hand is stronger than one
            that goes in by drops

    Holds: at 20 °C.
    Source: crc-handbook density of acetic and nitric acid

    >>> glacial = Part("acetic acid", 50, "mL", percent=99.5)
    >>> round(with_acid_at_hand(glacial, 28).amount)   # 17.38 and 4.824 mol/L
    180
    """
    acid = next((name for name in ACIDS if name in part.name), None)
    if acid is None or part.percent is None or part.unit != "mL":
        raise BenchError(f"{part.name} is no acid told by its strength; only acetic and nitric acid can be exchanged")
    if part.never_over and percent > part.percent:
        raise BenchError(
            f"{part.name} of {percent:g} % is stronger than the {part.percent:g} % that goes in by drops; thin it first"
        )
    at_hand = moles_per_litre(acid, percent)
    if at_hand <= 0:
        raise BenchError(f"{part.name} of {percent:g} % is no acid; more than 0 % is accepted")
    return exchanged(part, part.name, moles_per_litre(acid, part.percent) / at_hand, percent)


def coarse(amounts: Sequence[Amount]) -> tuple[str, ...]:
    """What can only be measured roughly, in words.

    Args:
        amounts: from `scaled`

    Returns:
        one sentence for each amount that rounding changes by more than a twentieth

    >>> coarse([Amount("salt", "salt", 0.026, "g", "balance")])
    ('salt: 0.026 g, measured as 0.03 g; make more at a time to come closer.',)
    """
    return tuple(
        f"{amount.label}: {about(amount.value, amount.unit, 2)}, measured as {in_words(rounded(amount), amount.unit)};"
        " make more at a time to come closer."
        for amount in amounts
        if abs(rounded(amount) - amount.value) > COARSE * amount.value
    )


def _amount(part: Part, value: float) -> Amount:
    percent = "" if part.percent is None else f" ({part.percent:g} %)"
    return Amount(
        name=_for_scripts(part.name),
        label=f"{part.name}{percent}{', up to' if part.up_to else ''}",
        value=value,
        unit=part.unit,
        tool=_tool(part.unit, value),
        never_over=part.never_over,
    )


def _tool(unit: str, value: float) -> str:
    if unit == "mL":
        return "syringe" if value < LARGEST_SYRINGE else "cylinder"
    return {"g": "balance", "drops": "drops"}[unit]


def _for_scripts(name: str) -> str:
    return name.replace(" ", "_").replace("-", "_")
