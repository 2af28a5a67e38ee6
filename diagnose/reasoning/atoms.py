"""The atoms rules are made of, and the atoms a plate brings.

given:room_temperature > 28 °C      a test on a condition that holds
not:bath_strength known             a test on a condition that does not hold; only conditions, never states
state:plate-drying                  a state
seen:comets                         the symptom is there
heard:comets                        the symptom was answered, either way
found:litmus-on-bath=neither-turns  a check came out this way
heard:litmus-on-bath=neither-turns  the check was done, whatever came out
"""

from collections.abc import Iterable
from typing import NamedTuple

from diagnose.entries.knowledge import Knowledge
from diagnose.entries.tests_in_words import Comparison, Found, InState, IsKnown, IsOption, Seen, Test, read_test
from diagnose.facts import Facts
from diagnose.units import read_amount


def atom_of(words: str) -> str:
    """The atom of one test.

    Args:
        words: the test as it stands in a file
    """
    match read_test(words):
        case InState(state):
            return f"state:{state}"
        case Seen(symptom):
            return f"seen:{symptom}"
        case Found(check, outcome):
            return f"found:{check}={outcome}"
        case _:
            return f"given:{words}"


def finding_of(check: str, outcome: str) -> str:
    """The name of a check's outcome as a finding."""
    return f"{check}={outcome}"


class ConditionTest(NamedTuple):
    """A test on a condition, ready to be put to a plate.

    Args:
        words: as in the file
        condition: what it asks about
        sign: ">", ">=", "<", "<=", "is" or "known"
        amount: compared with [the condition's unit]
        option: for "is"
    """

    words: str
    condition: str
    sign: str
    amount: float = 0.0
    option: str = ""

    def holds(self, facts: Facts) -> bool:
        """Whether the plate passes it; a condition that is not known passes nothing."""
        if self.sign == "known":
            return facts.knows(self.condition)
        if self.sign == "is":
            return facts.options.get(self.condition) == self.option
        value = facts.amount(self.condition)
        if value is None:
            return False
        match self.sign:
            case ">":
                return value > self.amount
            case ">=":
                return value >= self.amount
            case "<":
                return value < self.amount
            case _:
                return value <= self.amount


def condition_test(words: str, knowledge: Knowledge) -> ConditionTest | None:
    """The test on a condition these words make, or None where they ask about something else.

    Args:
        words: the test as it stands in a file
        knowledge: for the condition's unit
    """
    test: Test = read_test(words)
    match test:
        case Comparison(condition, sign, amount):
            return ConditionTest(words, condition, sign, read_amount(amount, knowledge.conditions[condition].unit))
        case IsOption(condition, option):
            return ConditionTest(words, condition, "is", option=option)
        case IsKnown(condition):
            return ConditionTest(words, condition, "known")
        case _:
            return None


class TestIndex:
    """The tests on conditions that rules ask about, by condition, so that a plate is put only to those it can pass.

    Args:
        asked: tests some rule asks about
        denied: tests some rule asks the contrary of
    """

    __test__ = False  # not a test case, whatever the name suggests to pytest

    def __init__(self, asked: Iterable[ConditionTest], denied: Iterable[ConditionTest]) -> None:
        self._asked: dict[str, list[ConditionTest]] = {}
        self._denied: dict[str, list[ConditionTest]] = {}
        for test in asked:
            self._asked.setdefault(test.condition, []).append(test)
        for test in denied:
            self._denied.setdefault(test.condition, []).append(test)

    def atoms(self, facts: Facts) -> list[str]:
        """Atoms of every test that holds, and of every denied test that does not, in a fixed order."""
        known = sorted({*facts.amounts, *facts.options, *facts.reckoned})
        atoms = [f"given:{test.words}" for name in known for test in self._asked.get(name, ()) if test.holds(facts)]
        for name, tests in self._denied.items():
            given = facts.knows(name)
            atoms += [f"not:{test.words}" for test in tests if not given or not test.holds(facts)]
        return atoms


def atoms_of_plate(facts: Facts, index: TestIndex, knowledge: Knowledge) -> list[str]:
    """Everything that holds of a plate before any rule fires, in a fixed order.

    Args:
        facts: the plate
        index: tests on conditions
        knowledge: for the outcomes of checks
    """
    atoms = index.atoms(facts)
    atoms += [f"seen:{name}" for name in sorted(facts.present)]
    atoms += [f"heard:{name}" for name in sorted({*facts.present, *facts.absent, *facts.unsure})]
    for check, outcome in sorted(facts.outcomes.items()):
        atoms.append(f"found:{finding_of(check, outcome)}")
        atoms += [f"heard:{finding_of(check, item.id)}" for item in knowledge.checks[check].outcome if not item.normal]
    return atoms
