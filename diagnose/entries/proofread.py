"""Checks between files: names, tests, sense and limits, all reported at once."""

from collections.abc import Callable, Iterator
from pathlib import Path

from diagnose.entries import (
    proof_limits,
    proof_names,
    proof_sense,
    proof_solutions,
    proof_sums,
    proof_teaching,
    proof_tests,
)
from diagnose.entries.files import read_files
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.read import Draft, draft_knowledge
from diagnose.errors import KnowledgeError, Problem

CHECKS: dict[str, Callable[[Draft], Iterator[Problem]]] = {
    "strength words are known and sensible": proof_sense.strengths,
    "conditions are complete": proof_sense.conditions,
    "answers last as long as they can": proof_sense.lasting,
    "names lead somewhere": proof_names.links,
    "sources exist": proof_names.sources,
    "attributes exist": proof_names.attributes,
    "tests can be read and asked": proof_tests.tests,
    "`unless` stands on conditions only": proof_tests.unless_on_state,
    "states do not run in a circle": proof_tests.circles,
    "checks have one normal outcome": proof_sense.outcomes,
    "a link says something": proof_sense.empty_links,
    "nothing is linked twice": proof_sense.doubled_links,
    "no symptom before its cause": proof_sense.too_early,
    "steps show symptoms of their cause": proof_sense.steps,
    "no two causes look the same": proof_sense.twins,
    "causes of one look can be parted": proof_sense.parted,
    "nothing contradicts itself": proof_sense.contradictions,
    "risky remedies have a reason and a caution": proof_sense.interlocks,
    "sums are given what they ask": proof_sums.sums,
    "recipes can be measured out": proof_solutions.amounts,
    "recipes carry their cautions": proof_solutions.cautions,
    "recipes can be mixed safely": proof_solutions.mixing,
    "recipes agree with the strengths told": proof_solutions.strengths,
    "signs have their neighbours": proof_teaching.neighbours,
    "signs have their names": proof_teaching.names,
    "equations come out even": proof_teaching.equations,
    "a cause first shows after it is born": proof_teaching.first_shows,
    "every entry is used": proof_names.unused,
    "rules fit the engine": proof_limits.limits,
    "files are short": proof_limits.long_files,
}


def proofread(draft: Draft) -> list[Problem]:
    """Every problem of a draft, from single files and between them.

    Args:
        draft: from `draft_knowledge`
    """
    if "strengths" not in draft.entries["strengths"]:
        return sorted({*draft.problems})
    found = [problem for check in CHECKS.values() for problem in check(draft)]
    return sorted({*draft.problems, *found})


def check_folders(*folders: Path) -> list[Problem]:
    """Every problem of a knowledge folder and of folders laid over it.

    Args:
        folders: knowledge folders, the main one first
    """
    try:
        return proofread(draft_knowledge(read_files(folders)))
    except KnowledgeError as error:
        return list(error.problems)


def judged_links(knowledge: Knowledge) -> tuple[list[str], int]:
    """Links that rest on judgement alone: the debt to be paid with sources or counts.

    Args:
        knowledge: checked knowledge

    Returns:
        where each stands, and how many links there are in all
    """
    found, total = [], 0
    for name, cause in knowledge.causes.items():
        for field in ("symptom", "check", "likelier", "unlikelier", "ruled_out"):
            for number, link in enumerate(getattr(cause, field), start=1):
                total += 1
                if set(link.from_) == {"judged"}:
                    found.append(f"causes/{name}.toml: {field} {number}: {link.why}")
    return found, total
