"""Exact noisy-OR with leak: sums over all sets of causes, by which positive findings are explained so far.

Every term is positive, so nothing cancels. A table holds one weight for each set of open findings that is already explained;
a cause, a leak or a group of exclusive causes moves weight from "unexplained" to "explained"; a finding whose causes are all
done is closed and drops out of the table. A backward pass gives every marginal. (Variable elimination; the form and its
accuracy were compared with brute force, with an independent library and with 60-digit arithmetic.)
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

MOST_EXACT = 14  # positive findings kept; above it the least telling are set aside, and that is said


class Variable(NamedTuple):
    """Something that is off, or on in one of several ways.

    Args:
        off: weight of being off
        on: for each way: its weight, and finding number -> chance that it alone brings the finding about
    """

    off: float
    on: tuple[tuple[float, Mapping[int, float]], ...]


class Marginals(NamedTuple):
    """Exact posteriors.

    Args:
        total: probability of the findings
        on: for each variable, for each of its ways, the probability that it is on
    """

    total: float
    on: tuple[tuple[float, ...], ...]


def marginals(variables: Sequence[Variable], finals: Sequence[tuple[float, float]]) -> Marginals:
    """The exact posterior of every variable given the positive findings.

    Args:
        variables: causes, exclusive groups and leaks
        finals: for each positive finding, the weight of its being explained and of its not being: (1, 0) for a plain
            present finding, such as (0.8, 0.2) for an unsure one
    """
    plan = _plan(variables, len(finals))
    table = [1.0]
    kept: list[list[float]] = []
    for step, number, bits in plan:
        if step == _OPEN:
            table += [0.0] * len(table)
        elif step == _CLOSE:
            table = _close(table, bits[0], finals[number])
        else:
            kept.append(table)
            table = through(table, variables[number], plan_bits(variables[number], bits))
    total = table[0]
    on: list[tuple[float, ...]] = [()] * len(variables)
    back = [1.0]
    for step, number, bits in reversed(plan):
        if step == _OPEN:
            back = back[: len(back) // 2]
        elif step == _CLOSE:
            back = _unclose(back, bits[0], finals[number])
        else:
            before = kept.pop()
            variable = variables[number]
            places = plan_bits(variable, bits)
            after = [variable.off * value for value in back]
            shares = []
            for (weight, _), links in zip(variable.on, places, strict=True):
                moved = back.copy()
                for bit, chance in links:
                    spread_back(moved, bit, chance)
                shares.append(weight * sum(f * g for f, g in zip(before, moved, strict=True)) / total if total else 0.0)
                for place, value in enumerate(moved):
                    after[place] += weight * value
            on[number] = tuple(shares)
            back = after
    linked = {number for step, number, _ in plan if step == _VARIABLE}
    for number, variable in enumerate(variables):
        if number not in linked:
            whole = variable.off + sum(weight for weight, _ in variable.on)
            on[number] = tuple(weight / whole for weight, _ in variable.on)
            total *= whole
    return Marginals(total, tuple(on))


_OPEN, _VARIABLE, _CLOSE = range(3)
_Plan = list[tuple[int, int, tuple[int, ...]]]


def plan_bits(variable: Variable, bits: tuple[int, ...]) -> list[list[tuple[int, float]]]:
    """For each way of a variable, the table bits it moves and with what chance.

    Args:
        variable: the variable
        bits: the bit of each finding it touches, in the order of its sorted findings
    """
    at = dict(zip(sorted(_touched(variable)), bits, strict=True))
    return [[(at[finding], chance) for finding, chance in sorted(links.items())] for _, links in variable.on]


def widest(variables: Sequence[Variable], findings: int) -> int:
    """How many findings are open at once, at most: the table has two to that power places.

    Args:
        variables: as for `marginals`
        findings: number of positive findings
    """
    width = most = 0
    for step, _, _ in _plan(variables, findings):
        width += (step == _OPEN) - (step == _CLOSE)
        most = max(most, width)
    return most


def _plan(variables: Sequence[Variable], findings: int) -> _Plan:
    """Steps in an order that keeps the table small: always finish the finding that opens the fewest others."""
    touches = [_touched(variable) for variable in variables]
    askers: list[set[int]] = [set() for _ in range(findings)]
    for number, found in enumerate(touches):
        for finding in found:
            askers[finding].add(number)
    open_bits: list[int] = []
    waiting, done = set(range(findings)), set[int]()
    plan: _Plan = []
    while waiting:

        def newly_opened(finding: int) -> tuple[int, int]:
            need = {finding}.union(*(touches[number] for number in askers[finding] - done))
            return len(need - set(open_bits)), finding

        finding = min(waiting, key=newly_opened)
        for number in sorted(askers[finding] - done):
            for needed in sorted(touches[number]):
                if needed not in open_bits:
                    open_bits.append(needed)
                    plan.append((_OPEN, needed, ()))
            plan.append((_VARIABLE, number, tuple(open_bits.index(item) for item in sorted(touches[number]))))
            done.add(number)
        if finding not in open_bits:
            open_bits.append(finding)
            plan.append((_OPEN, finding, ()))
        plan.append((_CLOSE, finding, (open_bits.index(finding),)))
        open_bits.remove(finding)
        waiting.remove(finding)
    return plan


def _touched(variable: Variable) -> set[int]:
    ways = [links for _, links in variable.on if links]
    return set().union(*ways) if ways else set()


def through(table: list[float], variable: Variable, places: list[list[tuple[int, float]]]) -> list[float]:
    """The table after a variable was put through it.

    Args:
        table: weight of each set of findings explained so far
        variable: a cause, an exclusive group or a leak
        places: from `plan_bits`
    """
    after = [variable.off * value for value in table]
    for (weight, _), links in zip(variable.on, places, strict=True):
        moved = [weight * value for value in table]
        for bit, chance in links:
            spread(moved, bit, chance)
        for place, value in enumerate(moved):
            after[place] += value
    return after


def spread(table: list[float], bit: int, chance: float) -> None:
    """Move weight from "unexplained" to "explained" at one bit, in place.

    Args:
        table: weight of each set of findings explained so far
        bit: the finding's
        chance: part of the weight that moves
    """
    step = 1 << bit
    for base in range(0, len(table), step * 2):
        for place in range(base, base + step):
            table[place + step] += chance * table[place]
            table[place] *= 1 - chance


def spread_back(table: list[float], bit: int, chance: float) -> None:
    """The same for a table of what is still to come, in place.

    Args:
        table: weight of everything later, for each set of findings explained so far
        bit: the finding's
        chance: part of the weight that moves
    """
    step = 1 << bit
    for base in range(0, len(table), step * 2):
        for place in range(base, base + step):
            table[place] = (1 - chance) * table[place] + chance * table[place + step]


def _close(table: list[float], bit: int, final: tuple[float, float]) -> list[float]:
    explained, unexplained = final
    step = 1 << bit
    closed = []
    for base in range(0, len(table), step * 2):
        closed += [explained * table[place + step] + unexplained * table[place] for place in range(base, base + step)]
    return closed


def _unclose(back: list[float], bit: int, final: tuple[float, float]) -> list[float]:
    explained, unexplained = final
    step = 1 << bit
    wide: list[float] = []
    for base in range(0, len(back), step):
        block = back[base : base + step]
        wide += [unexplained * value for value in block]
        wide += [explained * value for value in block]
    return wide
