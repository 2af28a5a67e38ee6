"""Knowledge -> ground rules. Every test, state, likelier, ruled-out, gate and link is one rule; a fired rule is one note."""

from collections.abc import Iterator
from typing import NamedTuple

from diagnose.entries.cause import RuledOut, Shift
from diagnose.entries.knowledge import Knowledge
from diagnose.reasoning.atoms import ConditionTest, atom_of, condition_test, finding_of
from diagnose.reasoning.chaining import Rule


class Note(NamedTuple):
    """What a rule stands for, once it has fired.

    Args:
        kind: "state", "symptom", "check", "likelier", "unlikelier", "ruled_out", "remedy", "needs", "never" or "caution"
        owner: the cause, state, remedy or caution the rule belongs to
        number: which of the owner's links of this kind
    """

    kind: str
    owner: str
    number: int


class RuleBook(NamedTuple):
    """Every rule of the knowledge.

    Args:
        rules: in order: states first, then causes, remedies, cautions
        notes: rule name -> what it stands for
        asked: tests on conditions that rules ask about
        denied: tests on conditions that rules ask the contrary of
    """

    rules: tuple[Rule, ...]
    notes: dict[str, Note]
    asked: tuple[ConditionTest, ...]
    denied: tuple[ConditionTest, ...]


def write_rules(knowledge: Knowledge) -> RuleBook:
    """All rules of the knowledge, in a fixed order.

    Args:
        knowledge: checked knowledge
    """
    rules: list[Rule] = []
    notes: dict[str, Note] = {}
    asked: dict[str, ConditionTest] = {}
    denied: dict[str, ConditionTest] = {}
    for name, note, when, unless, then in _lines(knowledge):
        atoms = []
        for words in when:
            atoms.append(atom_of(words) if not words.startswith("heard:") else words)
            test = None if words.startswith("heard:") else condition_test(words, knowledge)
            if test:
                asked[words] = test
        for words in unless:
            test = condition_test(words, knowledge)
            if test is None:
                raise ValueError(f"{name}: `unless` stands on conditions only, not on {words!r}")
            denied[words] = test
            atoms.append(f"not:{words}")
        rules.append(Rule(name, tuple(dict.fromkeys(atoms)), then))
        notes[name] = note
    return RuleBook(
        tuple(rules), notes, tuple(asked[words] for words in sorted(asked)), tuple(denied[w] for w in sorted(denied))
    )


Line = tuple[str, Note, tuple[str, ...], tuple[str, ...], str]


def _lines(knowledge: Knowledge) -> Iterator[Line]:
    for name in sorted(knowledge.states):
        for number, way in enumerate(knowledge.states[name].way):
            yield f"states/{name} way {number + 1}", Note("state", name, number), way.when, way.unless, f"state:{name}"
    for name in sorted(knowledge.causes):
        yield from _cause_lines(name, knowledge)
    for name in sorted(knowledge.remedies):
        remedy = knowledge.remedies[name]
        for number, tests in enumerate(remedy.needs):
            yield f"remedies/{name} needs {number + 1}", Note("needs", name, number), tests, (), ""
        for number, words in enumerate(remedy.never_when):
            yield f"remedies/{name} never {number + 1}", Note("never", name, number), (words,), (), ""
    for name in sorted(knowledge.cautions):
        for number, caution_way in enumerate(knowledge.cautions[name].way):
            note = Note("caution", name, number)
            yield f"cautions/{name} way {number + 1}", note, caution_way.when, caution_way.unless, ""


def _cause_lines(name: str, knowledge: Knowledge) -> Iterator[Line]:
    cause = knowledge.causes[name]
    for number, link in enumerate(cause.symptom):
        when = (f"heard:{link.symptom}", *link.when)
        yield f"causes/{name} symptom {number + 1}", Note("symptom", name, number), when, (), ""
    for number, found in enumerate(cause.check):
        when = (f"heard:{finding_of(found.check, found.outcome)}", *found.when)
        yield f"causes/{name} check {number + 1}", Note("check", name, number), when, (), ""
    facts: tuple[tuple[str, tuple[Shift | RuledOut, ...]], ...] = (
        ("likelier", cause.likelier),
        ("unlikelier", cause.unlikelier),
        ("ruled_out", cause.ruled_out),
    )
    for kind, shifts in facts:
        for number, shift in enumerate(shifts):
            yield f"causes/{name} {kind} {number + 1}", Note(kind, name, number), shift.when, shift.unless, ""
    for number, remedy in enumerate(cause.remedy):
        if remedy.when:
            yield f"causes/{name} remedy {number + 1}", Note("remedy", name, number), remedy.when, (), ""
