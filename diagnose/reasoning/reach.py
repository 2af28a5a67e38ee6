"""Which conditions can move which causes, straight or through states."""

from diagnose.entries.cause import CheckLink, RuledOut, Shift, SymptomLink
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.observed import conditions_in
from diagnose.entries.tests_in_words import Comparison, InState, IsKnown, IsOption, read_test
from diagnose.reasoning.rules import RuleBook


def conditions_of_states(knowledge: Knowledge) -> dict[str, frozenset[str]]:
    """For each state, every condition it can come from.

    Args:
        knowledge: checked knowledge
    """
    found: dict[str, set[str]] = {name: set() for name in knowledge.states}
    needs: dict[str, set[str]] = {name: set() for name in knowledge.states}
    for name, state in knowledge.states.items():
        for way in state.way:
            for words in (*way.when, *way.unless):
                test = read_test(words)
                if isinstance(test, InState):
                    needs[name].add(test.state)
                elif isinstance(test, Comparison | IsOption | IsKnown):
                    found[name].add(test.condition)
    changed = True
    while changed:
        changed = False
        for name, others in needs.items():
            before = len(found[name])
            found[name].update(*(found[other] for other in others))
            changed = changed or len(found[name]) > before
    return {name: frozenset(conditions) for name, conditions in found.items()}


def conditions_of_causes(knowledge: Knowledge) -> dict[str, frozenset[str]]:
    """For each cause, every condition that can move it.

    Args:
        knowledge: checked knowledge
    """
    of_state = conditions_of_states(knowledge)
    reached = {}
    for name, cause in knowledge.causes.items():
        shifts: tuple[Shift | RuledOut, ...] = (*cause.likelier, *cause.unlikelier, *cause.ruled_out)
        links: tuple[SymptomLink | CheckLink, ...] = (*cause.symptom, *cause.check)
        tests = [words for shift in shifts for words in (*shift.when, *shift.unless)]
        tests += [words for link in links for words in link.when]
        conditions: set[str] = set()
        for words in tests:
            match read_test(words):
                case InState(state):
                    conditions |= of_state[state]
                case Comparison(condition) | IsOption(condition) | IsKnown(condition):
                    conditions.add(condition)
                case _:
                    pass
        reached[name] = frozenset(conditions)
    return {name: _told(conditions, knowledge) for name, conditions in reached.items()}


def _told(conditions: frozenset[str], knowledge: Knowledge) -> frozenset[str]:
    """The same with every condition that is worked out replaced by those it is worked out from."""
    found = set(conditions)
    for name in conditions:
        entry = knowledge.conditions[name]
        if not entry.is_asked:
            found.discard(name)
            for use in conditions_in(entry.uses):
                if use in knowledge.conditions and knowledge.conditions[use].group != "for-a-dose":
                    found.add(use)
    return frozenset(found)


def cut_points(book: RuleBook, knowledge: Knowledge) -> dict[str, tuple[float, ...]]:
    """For each measured condition, every amount at which something changes, in order [its unit].

    Those are the amounts some test compares it with. What a sum is worked out from changes its result all the way, so it is
    cut where its ordinary values begin and end besides.

    Args:
        book: the rules
        knowledge: says which conditions come from which sums
    """
    points: dict[str, set[float]] = {}
    for entry in knowledge.conditions.values():
        for name in conditions_in(entry.uses):
            low, high = getattr(knowledge.conditions.get(name), "ordinary", None) or (0.0, 0.0)
            if low < high:
                points.setdefault(name, set()).update((low, high))
    for test in (*book.asked, *book.denied):
        if test.sign in {">", ">=", "<", "<="}:
            points.setdefault(test.condition, set()).add(test.amount)
    return {name: tuple(sorted(values)) for name, values in points.items()}
