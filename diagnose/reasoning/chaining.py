"""The contract of forward chaining: ground rules in, facts and a trace out. Two engines keep it."""

from collections.abc import Collection, Sequence
from typing import NamedTuple, Protocol


class Rule(NamedTuple):
    """One ground rule: when all of its atoms hold, its conclusion holds.

    Args:
        name: file it comes from, part, number
        when: atoms that must all hold
        then: atom concluded, or "" for a rule that only leaves its mark in the trace
    """

    name: str
    when: tuple[str, ...]
    then: str = ""


class Firing(NamedTuple):
    """What came of one plate.

    Args:
        trace: rules in the order they fired
        facts: every atom that holds at the end, given and derived
        engine: which engine fired them
    """

    trace: tuple[Rule, ...]
    facts: frozenset[str]
    engine: str


class Chainer(Protocol):
    """Fires a fixed set of rules on one plate after another.

    Both engines fire the lowest-numbered rule that is ready, take its conclusion in, and look again from the lowest.
    """

    engine: str

    def run(self, atoms: Collection[str]) -> Firing:
        """Fire everything that follows from the atoms.

        Args:
            atoms: what holds at the start; atoms no rule asks about are kept among the facts and otherwise ignored
        """
        ...


def well_formed(rules: Sequence[Rule]) -> None:
    """Refuse rules neither engine could fire the same way.

    Args:
        rules: in order

    Raises:
        ValueError: a rule without atoms, or two rules of one name
    """
    names: set[str] = set()
    for rule in rules:
        if not rule.when:
            raise ValueError(f"the rule {rule.name!r} has no atoms: it would always fire")
        if rule.name in names:
            raise ValueError(f"two rules are called {rule.name!r}")
        names.add(rule.name)
