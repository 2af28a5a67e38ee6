"""What the shell may complete: signs, conditions, checks, remedies, causes, sums."""

from diagnose.bench.sum import Asked
from diagnose.errors import DiagnoseError


def complete_symptoms(_context: object, _parameter: object, incomplete: str) -> list[str]:
    """Symptoms that begin with what was typed."""
    return _complete("symptoms", incomplete)


def complete_conditions(_context: object, _parameter: object, incomplete: str) -> list[str]:
    """Conditions, and their answers after the equals sign."""
    name, equals, begun = incomplete.partition("=")
    if not equals:
        return _complete("conditions", incomplete, suffix="=")
    return [f"{name}={answer}" for answer in _answers("conditions", name) if answer.startswith(begun)]


def complete_checks(_context: object, _parameter: object, incomplete: str) -> list[str]:
    """Checks, and their outcomes after the equals sign."""
    name, equals, begun = incomplete.partition("=")
    if not equals:
        return _complete("checks", incomplete, suffix="=")
    return [f"{name}={answer}" for answer in _answers("checks", name) if answer.startswith(begun)]


def complete_remedies(_context: object, _parameter: object, incomplete: str) -> list[str]:
    """Remedies that begin with what was typed."""
    return _complete("remedies", incomplete, suffix="=")


def complete_causes(_context: object, _parameter: object, incomplete: str) -> list[str]:
    """Causes that begin with what was typed."""
    return _complete("causes", incomplete)


def complete_why(_context: object, _parameter: object, incomplete: str) -> list[str]:
    """Causes, by their own names too, and signs that begin with what was typed."""
    causes = _complete("causes", "")
    own = [name.partition("/")[2] for name in causes]
    return [*(name for name in (*causes, *own) if name.startswith(incomplete)), *_complete("symptoms", incomplete)]


def _answers(kind: str, name: str) -> list[str]:
    from diagnose.entries.compiled import read_knowledge

    try:
        knowledge = read_knowledge()
    except DiagnoseError:
        return []
    if kind == "conditions":
        return list(knowledge.conditions[name].answers) if name in knowledge.conditions else []
    return [outcome.id for outcome in knowledge.checks[name].outcome] if name in knowledge.checks else []


def _complete(kind: str, incomplete: str, suffix: str = "") -> list[str]:
    from diagnose.entries.compiled import read_knowledge

    try:
        return [name + suffix for name in getattr(read_knowledge(), kind) if name.startswith(incomplete)]
    except DiagnoseError:
        return []


def complete_bench(context: object, _parameter: object, incomplete: str) -> list[str]:
    """Sums of the bench; what they ask after their name, and its answers after the equals sign."""
    from diagnose.bench.table import SUMS

    params = getattr(context, "params", {})
    name = params.get("name")
    if not name:
        return [found for found in (*SUMS, *_complete("solutions", incomplete)) if found.startswith(incomplete)]
    given = {word.partition("=")[0] for word in params.get("given") or ()}
    try:
        asks = [item for item in _asked_by(name) if item.name not in given]
    except DiagnoseError:
        return []
    begun, equals, _ = incomplete.partition("=")
    if not equals:
        return [f"{item.name}=" for item in asks if item.name.startswith(incomplete)]
    answers = [f"{begun}={answer}" for item in asks if item.name == begun for answer in item.choices]
    return [answer for answer in answers if answer.startswith(incomplete)]


def _asked_by(name: str) -> tuple[Asked, ...]:
    from diagnose.bench.table import SUMS
    from diagnose.entries.compiled import read_knowledge
    from diagnose.entries.sums import find_sum

    return find_sum(name, {} if name in SUMS else read_knowledge().solutions).asks
