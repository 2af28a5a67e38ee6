"""Amounts as a darkroom can measure them out: rounded to what balance, syringe, cylinder or clock shows."""

import math
from typing import NamedTuple

from diagnose.bench.sum import Amount
from diagnose.bench.wording import to_figures


class Step(NamedTuple):
    """How finely a tool shows an amount.

    Args:
        below: amounts below this are read so finely [unit of the tool]
        step: the step [the same unit]
    """

    below: float
    step: float


# Common practice, no source: a balance reading 0.01 g, syringes of 1, 10 and 50 mL, cylinders of 100 mL and more.
TOOLS: dict[str, tuple[str, tuple[Step, ...], str]] = {
    "balance": ("g", (Step(1, 0.01), Step(100, 0.1), Step(math.inf, 1)), "a darkroom balance"),
    "syringe": ("mL", (Step(1, 0.01), Step(10, 0.1), Step(math.inf, 1)), "a syringe"),
    "cylinder": ("mL", (Step(100, 1), Step(500, 5), Step(math.inf, 10)), "a measuring cylinder"),
    "drops": ("drops", (Step(math.inf, 1),), "whole drops"),
    "hydrometer": ("SG", (Step(math.inf, 0.001),), "a hydrometer"),
    "clock": ("s", (Step(60, 1), Step(300, 5), Step(math.inf, 30)), "a clock"),
    "plates": ("plates", (Step(math.inf, 1),), "whole plates"),
}
# What is only looked at is still read no finer than this: nobody sees a smaller part of a stop or of a colour on pH paper.
READ_TO = {"stops": 1, "EV": 1, "pH": 1}  # figures after the point


def step_of(amount: Amount) -> float:
    """The step an amount is rounded to [its unit]; 0 where it is only looked at.

    Args:
        amount: a result
    """
    if amount.tool not in TOOLS:
        return 0.0
    _, steps, _ = TOOLS[amount.tool]
    return next(step.step for step in steps if abs(amount.value) < step.below)


def rounded(amount: Amount) -> float:
    """An amount as it can be measured [its unit].

    Args:
        amount: a result

    >>> rounded(Amount("add", "silver nitrate", 10.373, "g", "balance"))
    10.4
    >>> rounded(Amount("acid", "acid", 0.437, "mL", "syringe", never_over=True))
    0.43
    """
    step = step_of(amount)
    if not step and amount.unit in READ_TO:
        return round(amount.value, READ_TO[amount.unit])
    if not step:
        return to_figures(amount.value, amount.figures, down=amount.never_over)
    count = amount.value / step
    whole = math.floor(count + 1e-9) if amount.never_over else math.floor(count + 0.5)
    return round(whole * step, 6)


def rounding_words(amount: Amount) -> str:
    """How an amount was rounded, in words; "" where it is only looked at.

    Args:
        amount: a result
    """
    step = step_of(amount)
    if not step:
        return ""
    unit, _, tool = TOOLS[amount.tool]
    if amount.tool in {"drops", "plates"}:
        return f"in {tool}, {'rounded down' if amount.never_over else 'rounded'}"
    how = "rounded down to a step of" if amount.never_over else "rounded to"
    return f"{how} {step:g} {unit}, as on {tool}"
