"""The rule engine: durable-rules' core, driven so that its measured traps cannot be reached. The only import of durable-rules.

Only whole numbers of our own making reach the core: no text, no amounts, no user's words. One session a plate, opened by a
boot rule (a session in which nothing fired is not safe to delete), deleted whole at the end; nothing is ever retracted; no
host, no threads, no timers. Amounts are compared in Python before they become atoms.
"""

import contextlib
import itertools
import threading
from collections.abc import Collection, Sequence
from typing import Any

import durable_rules_engine as core

from diagnose.entries.limits import MOST_CONDITIONS_A_RULE, MOST_RULES
from diagnose.errors import ChainError, LimitError
from diagnose.reasoning.chaining import Firing, Rule, well_formed

TOKENS_A_GROUP = 50  # the core loops for ever past 511 values under one test
MOST_TOKENS = 500 * TOKENS_A_GROUP  # so the groups, which are values under one test too, stay below that
RULES_A_TOKEN = 200  # the core dies at 256 rules sharing one condition
BOOT = 0
SESSION = "1"
_ruleset_numbers = itertools.count()


def within_limits(rules: Sequence[Rule]) -> None:
    """Refuse more or wider rules than the core can safely hold.

    Args:
        rules: in order

    Raises:
        LimitError: in words
    """
    if len(rules) > MOST_RULES:
        raise LimitError(f"{len(rules)} rules; the rule engine can safely hold {MOST_RULES}")
    for rule in rules:
        if (width := len(set(rule.when))) > MOST_CONDITIONS_A_RULE:
            raise LimitError(
                f"the rule {rule.name!r} has {width} tests; the rule engine can safely hold {MOST_CONDITIONS_A_RULE}"
            )


class DurableChainer:
    """Ground forward chaining on durable-rules.

    Args:
        rules: in the order they should be tried

    Raises:
        LimitError: more or wider rules than the core can safely hold
    """

    engine = "durable-rules"

    def __init__(self, rules: Sequence[Rule]) -> None:
        well_formed(rules)
        self._rules = tuple(rules)
        self._lock = threading.Lock()
        self._handle: int | None = None
        self._tokens: dict[str, list[int]] = {}
        self._messages: dict[str, tuple[str, ...]] = {}
        self._definition = self._compile()
        self._open()

    def _compile(self) -> str:
        """The rules as the core's own text. Written by hand: every part is a whole number."""
        within_limits(self._rules)
        numbers = itertools.count(1)
        uses: dict[str, int] = {}
        parts = [f'"r0":{{"all":[{_condition(0, BOOT)}]}}']
        for number, rule in enumerate(self._rules, start=1):
            atoms = tuple(dict.fromkeys(rule.when))
            conditions = []
            for place, atom in enumerate(atoms):
                tokens = self._tokens.setdefault(atom, [])
                used = uses.get(atom, 0)
                if used % RULES_A_TOKEN == 0:
                    tokens.append(next(numbers))
                uses[atom] = used + 1
                conditions.append(_condition(place, tokens[-1]))
            parts.append(f'"r{number}":{{"all":[{",".join(conditions)}]}}')
        tokens_in_all = sum(map(len, self._tokens.values()))
        if tokens_in_all >= MOST_TOKENS:
            raise LimitError(f"{tokens_in_all} different tests; the rule engine can safely hold {MOST_TOKENS - 1}")
        self._messages = {atom: tuple(_fact(token) for token in tokens) for atom, tokens in self._tokens.items()}
        return "{" + ",".join(parts) + "}"

    def _open(self) -> None:
        """Give the core the rules, and let the boot rule fire once in a session that is thrown away.

        A session in which nothing has fired yet is not safe to delete: the core frees what it never set. After this one its
        place, which every later session takes over, is set, so that an interrupt may end any session at any point.
        """
        handle = core.create_ruleset(f"plates{next(_ruleset_numbers)}", self._definition)
        _, offset = core.assert_fact(handle, _fact(BOOT))
        core.start_action_for_state(handle, offset)
        core.complete_and_start_action(handle, offset)
        core.delete_state(handle, SESSION)
        self._handle = handle

    def run(self, atoms: Collection[str]) -> Firing:
        """Fire everything that follows from the atoms.

        Args:
            atoms: what holds at the start

        Raises:
            ChainError: the core did something it must not do
        """
        with self._lock:
            if self._handle is None:
                self._open()
            handle = self._handle
            try:
                trace, facts = self._fire(handle, atoms)
            finally:
                with contextlib.suppress(
                    core.error
                ):  # no session: the boot fact itself failed, and that is what is raised
                    core.delete_state(handle, SESSION)
        return Firing(tuple(trace), frozenset(facts), self.engine)

    def _fire(self, handle: Any, atoms: Collection[str]) -> tuple[list[Rule], set[str]]:
        """One plate, from the boot fact to the last rule.

        Apart from the `with` and the `try` around it: Python 3.13 leaves the turn of a loop out of the block it stands in, so an
        interrupt just there would skip them both and leave the lock held for ever.
        """
        facts: set[str] = set()
        trace: list[Rule] = []
        offset = self._begin(handle)
        for atom in atoms:
            self._take(handle, atom, facts)
        started = core.start_action_for_state(handle, offset)
        message = started[1] if started else None
        while message is not None:
            number = _rule_number(message)
            if number:
                rule = self._rules[number - 1]
                trace.append(rule)
                if rule.then:
                    self._take(handle, rule.then, facts)
            message = core.complete_and_start_action(handle, offset)
        return trace, facts

    def _begin(self, handle: Any) -> int:
        """Open the session; a session left by an interrupt between two calls is thrown away first."""
        for _ in range(2):
            result, offset = core.assert_fact(handle, _fact(BOOT))
            if result == 0:
                return int(offset)
            core.delete_state(handle, SESSION)
        raise ChainError(f"the rule engine would not open a session (result {result})")

    def _take(self, handle: Any, atom: str, facts: set[str]) -> None:
        if atom in facts:
            return
        facts.add(atom)
        for message in self._messages.get(atom, ()):
            result = core.assert_fact(handle, message)[0]
            if result:
                raise ChainError(f"the rule engine took {atom!r} with result {result}")

    def close(self) -> None:
        """Give the core's memory back; a later run opens it again."""
        with self._lock:
            if self._handle is not None:
                core.delete_ruleset(self._handle)
                self._handle = None

    def __del__(self) -> None:
        handle = self.__dict__.get("_handle")  # not there if the rules were refused
        if handle is not None and core is not None:  # modules are emptied before objects when the program ends
            core.delete_ruleset(handle)

    def __getstate__(self) -> tuple[Rule, ...]:
        """Only the rules travel to another process; the core's handle means nothing there."""
        return self._rules

    def __setstate__(self, rules: tuple[Rule, ...]) -> None:
        self.__init__(rules)  # type: ignore[misc]


def _condition(place: int, token: int) -> str:
    return f'{{"m{place}":{{"$and":[{{"g":{token // TOKENS_A_GROUP}}},{{"t":{token}}}]}}}}'


def _fact(token: int) -> str:
    return f'{{"id":"f{token}","sid":"{SESSION}","g":{token // TOKENS_A_GROUP},"t":{token}}}'


def _rule_number(message: str) -> int:
    """The number in '{"r17":...'."""
    return int(message[3 : message.index('"', 3)])
