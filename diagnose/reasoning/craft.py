"""Knowledge made ready to reason with: numbers, rules, and an engine to fire them."""

from dataclasses import dataclass
from functools import cached_property

from diagnose.entries.knowledge import Knowledge
from diagnose.entries.observed import Condition
from diagnose.reasoning.atoms import TestIndex
from diagnose.reasoning.chaining import Chainer
from diagnose.reasoning.engines import best_chainer
from diagnose.reasoning.matching import PlainChainer
from diagnose.reasoning.model import Model, work_out
from diagnose.reasoning.reach import conditions_of_causes, cut_points
from diagnose.reasoning.rules import RuleBook, write_rules


@dataclass(frozen=True, eq=False)
class Craft:
    """Everything needed to diagnose one plate after another.

    Args:
        knowledge: the entries
        model: their numbers
        book: their rules
        index: their tests on conditions, by condition
        engine: fires the rules for the plate in hand
        bulk: the plain twin, for weighing "what if" and for whole days
        notice: one line to announce where the engine is not durable-rules
    """

    knowledge: Knowledge
    model: Model
    book: RuleBook
    index: TestIndex
    engine: Chainer
    bulk: PlainChainer
    notice: str

    @cached_property
    def reach(self) -> dict[str, frozenset[str]]:
        """Cause -> conditions that can move it."""
        return conditions_of_causes(self.knowledge)

    @cached_property
    def cuts(self) -> dict[str, tuple[float, ...]]:
        """Measured condition -> amounts some test compares it with [the condition's unit]."""
        return cut_points(self.book, self.knowledge)

    @cached_property
    def reckonings(self) -> tuple[tuple[str, Condition, frozenset[str]], ...]:
        """The conditions that come from sums of the bench, in the order of the file, with those that must be told for them."""
        return tuple(
            (name, entry, frozenset(use for use in entry.uses.values() if use in self.knowledge.conditions))
            for name, entry in self.knowledge.conditions.items()
            if entry.reckoned_by
        )

    @cached_property
    def outcomes(self) -> dict[str, dict[str, tuple[float, ...]]]:
        """Check -> cause -> chance of each of its outcomes, as far as `asking` has worked them out; no plate changes them."""
        return {}

    @cached_property
    def clearing(self) -> dict[str, tuple[str, ...]]:
        """Remedy -> checks that could spare it, as far as `actions` has looked them up; no plate changes them."""
        return {}


_ready: dict[str, Craft] = {}
_MOST_READY = 4


def craft_of(knowledge: Knowledge) -> Craft:
    """The knowledge made ready; done once for each version.

    Args:
        knowledge: checked knowledge
    """
    found = _ready.get(knowledge.version)
    if found is None or found.knowledge is not knowledge:
        found = make_craft(knowledge)
        if len(_ready) >= _MOST_READY:
            _ready.clear()
        _ready[knowledge.version] = found
    return found


def plain_craft(knowledge: Knowledge) -> Craft:
    """The knowledge made ready with the plain engine for everything, as bulk work wants it: the same answers, sooner.

    Args:
        knowledge: checked knowledge
    """
    book = write_rules(knowledge)
    plain = PlainChainer(book.rules)
    return Craft(knowledge, work_out(knowledge), book, TestIndex(book.asked, book.denied), plain, plain, "")


def make_craft(knowledge: Knowledge) -> Craft:
    """The knowledge made ready, afresh.

    Args:
        knowledge: checked knowledge
    """
    book = write_rules(knowledge)
    engine, notice = best_chainer(book.rules)
    index = TestIndex(book.asked, book.denied)
    return Craft(knowledge, work_out(knowledge), book, index, engine, PlainChainer(book.rules), notice)
