"""The plain-Python engine: a counter for each rule. Oracle of the tests, engine of bulk work, and the announced fallback."""

import heapq
from collections.abc import Collection, Sequence

from diagnose.reasoning.chaining import Firing, Rule, well_formed


class PlainChainer:
    """Ground forward chaining by counting the atoms each rule still waits for."""

    engine = "plain Python"

    def __init__(self, rules: Sequence[Rule]) -> None:
        well_formed(rules)
        self._rules = tuple(rules)
        self._waiting = [len(set(rule.when)) for rule in rules]
        self._askers: dict[str, list[int]] = {}
        for number, rule in enumerate(rules):
            for atom in dict.fromkeys(rule.when):
                self._askers.setdefault(atom, []).append(number)

    def run(self, atoms: Collection[str]) -> Firing:
        """Fire everything that follows from the atoms.

        Args:
            atoms: what holds at the start
        """
        waiting = self._waiting.copy()
        facts: set[str] = set()
        ready: list[int] = []

        def take(atom: str) -> None:
            if atom in facts:
                return
            facts.add(atom)
            for number in self._askers.get(atom, ()):
                waiting[number] -= 1
                if not waiting[number]:
                    heapq.heappush(ready, number)

        for atom in atoms:
            take(atom)
        trace = []
        while ready:
            rule = self._rules[heapq.heappop(ready)]
            trace.append(rule)
            if rule.then:
                take(rule.then)
        return Firing(tuple(trace), frozenset(facts), self.engine)
