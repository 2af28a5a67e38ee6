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
        value = facts.amounts.get(self.condition)
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


def atoms_of_plate(
    facts: Facts, asked: Iterable[ConditionTest], denied: Iterable[ConditionTest], knowledge: Knowledge
) -> list[str]:
    """Everything that holds of a plate before any rule fires, in a fixed order.

    Args:
        facts: the plate
        asked: tests on conditions some rule asks about
        denied: tests on conditions some rule asks the contrary of
        knowledge: for the outcomes of checks
    """
    atoms = [f"given:{test.words}" for test in asked if test.holds(facts)]
    atoms += [f"not:{test.words}" for test in denied if not test.holds(facts)]
    atoms += [f"seen:{name}" for name in sorted(facts.present)]
    atoms += [f"heard:{name}" for name in sorted({*facts.present, *facts.absent, *facts.unsure})]
    for check, outcome in sorted(facts.outcomes.items()):
        atoms.append(f"found:{finding_of(check, outcome)}")
        atoms += [f"heard:{finding_of(check, item.id)}" for item in knowledge.checks[check].outcome if not item.normal]
    return atoms
