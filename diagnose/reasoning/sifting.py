"""Only the rules a plate could fire are handed to the rule engine: a start need not compile the rest.

A rule with a condition that no other rule concludes, and that the plate does not bring, can never fire on that plate. What is
left, some dozens of a thousand or more, fires in the same order and leaves the same trace as the whole set would.
"""

import threading
from collections.abc import Collection, Sequence

from diagnose.reasoning.chaining import Firing, Rule, well_formed
from diagnose.reasoning.firing import DurableChainer, within_limits


class SiftedChainer:
    """durable-rules on the rules a plate could fire.

    Args:
        rules: in the order they should be tried

    Raises:
        LimitError: more or wider rules than the core can safely hold
    """

    engine = DurableChainer.engine

    def __init__(self, rules: Sequence[Rule]) -> None:
        well_formed(rules)
        within_limits(rules)
        concluded = {rule.then for rule in rules if rule.then}
        self._rules = tuple(rules)
        self._brought = [frozenset(rule.when) - concluded for rule in rules]
        self._lock = threading.Lock()
        self._kept: tuple[list[Rule], DurableChainer] | None = None

    def run(self, atoms: Collection[str]) -> Firing:
        """Fire everything that follows from the atoms.

        Args:
            atoms: what holds at the start
        """
        given = frozenset(atoms)
        chosen = [rule for rule, brought in zip(self._rules, self._brought, strict=True) if brought <= given]
        with self._lock:
            if self._kept is None or self._kept[0] != chosen:
                if self._kept is not None:
                    self._kept[1].close()
                self._kept = chosen, DurableChainer(chosen)
            return self._kept[1].run(atoms)

    def __getstate__(self) -> tuple[Rule, ...]:
        """Only the rules travel to another process."""
        return self._rules

    def __setstate__(self, rules: tuple[Rule, ...]) -> None:
        self.__init__(rules)  # type: ignore[misc]
