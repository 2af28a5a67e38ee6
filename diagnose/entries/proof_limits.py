"""Does the knowledge fit the rule engine, and are the files short enough to read?"""

from collections.abc import Iterator

from diagnose.entries.limits import (
    MOST_CONDITIONS_A_RULE,
    MOST_CONDITIONS_IN_ALL,
    MOST_LINES_A_FILE,
    MOST_RULES,
    MOST_SYMPTOMS_A_CAUSE,
)
from diagnose.entries.read import Draft
from diagnose.errors import Problem


def rule_widths(draft: Draft) -> Iterator[tuple[str, str, tuple[str | int, ...], int]]:
    """Every rule the files will turn into: kind and name of the entry, place, number of conditions."""
    for name, cause in draft.entries["causes"].items():
        for field in ("symptom", "check"):
            for number, link in enumerate(getattr(cause, field)):
                yield "causes", name, (field, number), 1 + len(link.when)
        for field in ("likelier", "unlikelier", "ruled_out"):
            for number, shift in enumerate(getattr(cause, field)):
                yield "causes", name, (field, number), len(shift.when) + len(shift.unless)
        for number, link in enumerate(cause.remedy):
            if link.when:
                yield "causes", name, ("remedy", number), len(link.when)
    for name, state in draft.entries["states"].items():
        for number, way in enumerate(state.way):
            yield "states", name, ("way", number), len(way.when) + len(way.unless)
    for name, remedy in draft.entries["remedies"].items():
        for tests in remedy.needs:
            yield "remedies", name, ("needs",), len(tests)
        for _ in remedy.never_when:
            yield "remedies", name, ("never_when",), 1
    for name, caution in draft.entries["cautions"].items():
        for number, way in enumerate(caution.way):
            yield "cautions", name, ("way", number), len(way.when) + len(way.unless)


def limits(draft: Draft) -> Iterator[Problem]:
    """Rules too wide, or too many of them."""
    rules = conditions = 0
    for kind, name, place, width in rule_widths(draft):
        rules, conditions = rules + 1, conditions + width
        if width > MOST_CONDITIONS_A_RULE:
            file, line = draft.line(kind, name, *place)
            words = f"{width} tests in one place; the rule engine can safely hold {MOST_CONDITIONS_A_RULE}"
            yield Problem(file, line, words, "make a state of some of them")
    if rules > MOST_RULES:
        yield Problem(
            "causes", 1, f"{rules} rules in all; the rule engine can safely hold {MOST_RULES}", "take weak links out"
        )
    if conditions > MOST_CONDITIONS_IN_ALL:
        words = f"{conditions} tests in all; the rule engine stays quick up to {MOST_CONDITIONS_IN_ALL}"
        yield Problem("causes", 1, words, "take weak links out")
    for name, cause in draft.entries["causes"].items():
        if len(cause.symptom) > MOST_SYMPTOMS_A_CAUSE:
            file, line = draft.line("causes", name, "symptom", MOST_SYMPTOMS_A_CAUSE)
            yield Problem(
                file, line, f"{len(cause.symptom)} symptoms in one cause", "it is two causes, or some links are weak"
            )


def long_files(draft: Draft) -> Iterator[Problem]:
    """Files nobody will read to the end."""
    for kind, most in MOST_LINES_A_FILE.items():
        for name in draft.entries[kind]:
            file, _ = draft.line(kind, name)
            last = max(draft.lines[file].values())
            if last > most:
                yield Problem(
                    file, last, f"the file has more than {most} lines", "shorten it, or split the cause in two"
                )
