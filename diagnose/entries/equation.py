"""Chemical equations as a person writes them: read, and counted on both sides.

    AgNO3 + NH4I -> AgI (stays in the film) + NH4NO3
    Fe^2+ + Ag^+ -> Fe^3+ + Ag (the picture)
    AgI + KI <-> KAgI2 (in strong solution only)

A whole number with a blank stands before a formula, a charge after it behind `^`, a few words in brackets after a blank. Round and
square brackets inside a formula group, as in K[Ag(CN)2]. `e^-` is an electron. `<->` says that it can go both ways.
"""

import re
from collections import Counter
from dataclasses import dataclass

# What the wet plate's bottles, plates and waters are made of: a letter mistyped is told, not taken for another element.
ELEMENTS = frozenset(
    (
        "H",
        "C",
        "N",
        "O",
        "S",
        "Cl",
        "Br",
        "I",
        "Li",
        "Na",
        "K",
        "Mg",
        "Ca",
        "Al",
        "Cr",
        "Fe",
        "Cu",
        "Zn",
        "Ag",
        "Cd",
        "Au",
    )
)
ARROWS = ("<->", "->")
_TERM = re.compile(
    r"(?:(?P<count>[1-9]\d*) )?(?P<formula>[A-Za-z0-9()\[\]]+)(?:\^(?P<charge>[1-9]?[+-]))?(?: \((?P<note>[^()]+)\))?"
)
_PIECE = re.compile(r"(?P<open>[(\[])|(?P<close>[)\]])(?P<times>\d*)|(?P<element>[A-Z][a-z]?)(?P<count>\d*)")


class EquationError(ValueError):
    """An equation that cannot be read; the words say why."""


@dataclass(frozen=True)
class Term:
    """One substance of an equation.

    Args:
        count: how many of it
        formula: such as "K[Ag(CN)2]"; "e" for the electron
        charge: in units of the electron's, positive or negative
        note: the words after it
    """

    count: int
    formula: str
    charge: int = 0
    note: str = ""

    @property
    def atoms(self) -> Counter[str]:
        """How many atoms of each element one of it holds."""
        return Counter() if self.formula == "e" else atoms_of(self.formula)


@dataclass(frozen=True)
class Equation:
    """What goes in and what comes out.

    Args:
        before: the left side
        after: the right side
        both_ways: whether it can go back
    """

    before: tuple[Term, ...]
    after: tuple[Term, ...]
    both_ways: bool = False

    def uneven(self) -> dict[str, tuple[int, int]]:
        """What does not come out even: element or "charge" -> how much stands left and right; {} when it balances."""
        left, right = _sum_of(self.before), _sum_of(self.after)
        return {what: (left[what], right[what]) for what in sorted({*left, *right}) if left[what] != right[what]}


def read_equation(text: str) -> Equation:
    """An equation from its text.

    Args:
        text: as the first lines of this file show

    Raises:
        EquationError: it cannot be read; the words say where
    """
    arrow = next((arrow for arrow in ARROWS if f" {arrow} " in text), "")
    sides = text.split(f" {arrow} ") if arrow else []
    if len(sides) != 2:
        raise EquationError("no arrow between two sides")
    before, after = (tuple(_term(part) for part in side.split(" + ")) for side in sides)
    return Equation(before, after, both_ways=arrow == "<->")


def atoms_of(formula: str) -> Counter[str]:
    """How many atoms of each element a formula holds.

    Args:
        formula: without a charge, such as "Fe4[Fe(CN)6]3"

    Raises:
        EquationError: an unknown element, or brackets that do not match

    >>> sorted(atoms_of("K[Ag(CN)2]").items())
    [('Ag', 1), ('C', 2), ('K', 1), ('N', 2)]
    """
    stack: list[Counter[str]] = [Counter()]
    opened: list[str] = []
    place = 0
    while place < len(formula):
        piece = _PIECE.match(formula, place)
        if piece is None:
            raise EquationError(f"{formula!r} is no formula")
        place = piece.end()
        if piece["open"]:
            stack.append(Counter())
            opened.append(piece["open"])
        elif piece["close"]:
            if not opened or opened.pop() + piece["close"] not in {"()", "[]"}:
                raise EquationError(f"the brackets of {formula!r} do not match")
            for element, count in stack.pop().items():
                stack[-1][element] += count * int(piece["times"] or 1)
        elif piece["element"] not in ELEMENTS:
            raise EquationError(f"{formula!r} names no element {piece['element']!r} of this craft")
        else:
            stack[-1][piece["element"]] += int(piece["count"] or 1)
    if opened:
        raise EquationError(f"the brackets of {formula!r} do not match")
    return stack[0]


def _term(text: str) -> Term:
    found = _TERM.fullmatch(text.strip())
    if found is None:
        raise EquationError(f"{text.strip()!r} cannot be read")
    charge = found["charge"] or ""
    size = int(charge[:-1] or 1) if charge else 0
    term = Term(
        int(found["count"] or 1), found["formula"], -size if charge.endswith("-") else size, found["note"] or ""
    )
    if not (term.formula == "e" and term.charge == -1):
        atoms_of(term.formula)
    return term


def _sum_of(side: tuple[Term, ...]) -> Counter[str]:
    total: Counter[str] = Counter()
    for term in side:
        for element, count in term.atoms.items():
            total[element] += term.count * count
        total["charge"] += term.count * term.charge
    return total
