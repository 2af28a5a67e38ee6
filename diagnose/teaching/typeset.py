"""Equations as they are printed: charges set high and, where wanted, numbers of atoms set low."""

import re

HIGH = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")
LOW = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_CHARGE = re.compile(r"\^([1-9]?[+-])")
_ATOMS = re.compile(r"(?<=[A-Za-z)\]])\d+")


def typeset(equation: str, *, low: bool = False) -> str:
    """An equation as it is printed.

    Args:
        equation: as the knowledge writes it
        low: set the numbers of atoms low, too; left as they are they read well on any screen

    >>> typeset("Fe^2+ + Ag^+ -> Fe^3+ + Ag"), typeset("AgNO3 + KI -> AgI + KNO3", low=True)
    ('Fe²⁺ + Ag⁺ -> Fe³⁺ + Ag', 'AgNO₃ + KI -> AgI + KNO₃')
    """
    high = _CHARGE.sub(lambda found: found[1].translate(HIGH), equation)
    return _ATOMS.sub(lambda found: found[0].translate(LOW), high) if low else high
