"""Do the names in the files lead somewhere?"""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from diagnose.entries.observed import conditions_in
from diagnose.entries.read import Draft
from diagnose.errors import Problem, near

Place = tuple[str | int, ...]
Reference = tuple[str, str, Place, str, str]  # kind and name of the entry, place in it, kind it names, name it names

PLURALS = {
    "symptoms": "symptom",
    "checks": "check",
    "remedies": "remedy",
    "causes": "cause",
    "cautions": "caution",
    "sources": "source",
    "attributes": "attribute",
    "conditions": "condition",
    "states": "state",
    "stages": "stage",
    "reactions": "reaction",
}


def references(draft: Draft) -> Iterator[Reference]:
    """Every place where one entry names another outright (tests are read elsewhere)."""
    yield from _of_causes(draft)
    yield from _of_conditions(draft)
    for name, remedy in draft.entries["remedies"].items():
        yield "remedies", name, (), "stages", remedy.stage
        for caution in remedy.caution:
            yield "remedies", name, ("caution",), "cautions", caution
    for kind in ("checks", "solutions"):
        for name, entry in draft.entries[kind].items():
            for caution in entry.caution:
                yield kind, name, ("caution",), "cautions", caution
    for name, check in draft.entries["checks"].items():
        for condition in check.answers:
            yield "checks", name, ("answers",), "conditions", condition
    for name, symptom in draft.entries["symptoms"].items():
        for number, other in enumerate(symptom.beside):
            yield "symptoms", name, ("beside", number, "symptom"), "symptoms", other.symptom
    for name, caution in draft.entries["cautions"].items():
        for stage in caution.stages:
            yield "cautions", name, ("stages",), "stages", stage


def _of_causes(draft: Draft) -> Iterator[Reference]:
    for name, cause in draft.entries["causes"].items():
        yield "causes", name, (), "stages", name.partition("/")[0]
        for field in ("symptom", "check"):
            for number, link in enumerate(getattr(cause, field)):
                yield "causes", name, (field, number, field), f"{field}s", getattr(link, field)
        for field in ("remedy", "prevent"):
            for number, link in enumerate(getattr(cause, field)):
                yield "causes", name, (field, number, "do"), "remedies", link.do
        for field in ("look_alike", "treat_alike"):
            for number, alike in enumerate(getattr(cause, field)):
                yield "causes", name, (field, number, "cause"), "causes", alike.cause
        for number, step in enumerate(cause.step):
            if step.shows:
                yield "causes", name, ("step", number, "shows"), "symptoms", step.shows
            for reaction in step.chemistry:
                yield "causes", name, ("step", number, "chemistry"), "reactions", reaction


def _of_conditions(draft: Draft) -> Iterator[Reference]:
    """Conditions that doses and other conditions are worked out from; a fixed amount may stand in their place."""
    for kind in ("remedies", "conditions"):
        for name, entry in draft.entries[kind].items():
            for given, use in zip(entry.uses, conditions_in(entry.uses), strict=True):
                if use in draft.entries["conditions"]:
                    yield kind, name, ("uses", given), "conditions", use


def links(draft: Draft) -> Iterator[Problem]:
    """Names that lead nowhere."""
    for kind, name, place, target_kind, target in references(draft):
        known = draft.entries[target_kind]
        if target not in known:
            file, line = draft.line(kind, name, *place)
            word = PLURALS[target_kind]
            fix = near(target, known) or f"write it first, or use a {word} that exists"
            yield Problem(file, line, f"no {word} called {target!r}", fix)
    for name, cause in draft.entries["causes"].items():
        for number, link in enumerate(cause.check):
            check = draft.entries["checks"].get(link.check)
            outcomes = {outcome.id: outcome for outcome in check.outcome} if check else {}
            file, line = draft.line("causes", name, "check", number, "outcome")
            if check and link.outcome not in outcomes:
                fix = near(link.outcome, outcomes) or f"use one of: {', '.join(outcomes)}"
                yield Problem(file, line, f"check {link.check!r} has no outcome {link.outcome!r}", fix)
            elif check and outcomes[link.outcome].normal:
                yield Problem(
                    file, line, f"{link.outcome!r} is the normal outcome: it points to nothing", "link the telling one"
                )


def sourced(draft: Draft) -> Iterator[tuple[str, str, Place, tuple[str, ...]]]:
    """Every `from` in the files: kind and name of the entry, place, sources."""
    for kind in ("causes", "remedies", "checks", "cautions", "states", "solutions", "symptoms", "reactions"):
        for name, entry in draft.entries[kind].items():
            yield from ((kind, name, place, found) for place, found in _sources_in(entry, ()))


def sources(draft: Draft) -> Iterator[Problem]:
    """Sources that nobody has written down, and books named without a place."""
    known = draft.entries["sources"]
    for kind, name, place, found in sourced(draft):
        file, line = draft.line(kind, name, *place, "from")
        for source in found:
            key, _, where = source.partition(" ")
            if key not in known:
                yield Problem(file, line, f"no source called {key!r}", near(key, known) or "add it to sources.toml")
            elif known[key].kind == "book" and not where:
                yield Problem(file, line, f"{key!r} is named without a place", f'write "{key} p. ..."')


def attributes(draft: Draft) -> Iterator[Problem]:
    """Attributes of symptoms, and of the links of causes."""
    known, symptoms = draft.entries["attributes"], draft.entries["symptoms"]
    steps = known["first_seen"].values if "first_seen" in known else {}
    for name, stage in draft.entries["stages"].items():
        if stage.first_step not in steps:
            file, line = draft.line("stages", name, "first_step")
            yield Problem(
                file,
                line,
                f"no step called {stage.first_step!r}",
                near(stage.first_step, steps) or "see attributes.toml",
            )
    for name, symptom in symptoms.items():
        if symptom.first_seen not in steps:
            file, line = draft.line("symptoms", name, "first_seen")
            yield Problem(
                file,
                line,
                f"no step called {symptom.first_seen!r}",
                near(symptom.first_seen, steps) or "see attributes.toml",
            )
        for attribute, values in symptom.attributes.items():
            allowed = known[attribute].values if attribute in known else {}
            file, line = draft.line("symptoms", name, "attributes", attribute)
            if attribute not in known:
                yield Problem(
                    file, line, f"no attribute called {attribute!r}", near(attribute, known) or "see attributes.toml"
                )
            yield from (
                Problem(
                    file, line, f"{attribute} has no value {value!r}", near(value, allowed) or "see attributes.toml"
                )
                for value in values
                if attribute in known and value not in allowed
            )
    for name, cause in draft.entries["causes"].items():
        for number, link in enumerate(cause.symptom):
            offered = symptoms[link.symptom].attributes if link.symptom in symptoms else None
            for attribute, values in link.attributes.items():
                file, line = draft.line("causes", name, "symptom", number, attribute)
                allowed = () if offered is None else offered.get(attribute, ())
                yield from (
                    Problem(
                        file,
                        line,
                        f"{link.symptom!r} is never asked for {attribute} {value!r}",
                        near(value, allowed)
                        or (f"use one of: {', '.join(allowed)}" if allowed else "take the line out"),
                    )
                    for value in values
                    if offered is not None and value not in allowed
                )


def unused(draft: Draft) -> Iterator[Problem]:
    """Entries nothing leads to."""
    from diagnose.entries.proof_tests import tested_names

    named = {
        (kind, name) for owner, _, _, kind, name in references(draft) if (owner, kind) != ("symptoms", "symptoms")
    } | tested_names(draft)
    named |= {("checks", name) for name, check in draft.entries["checks"].items() if check.answers}
    for kind in ("symptoms", "checks", "remedies", "conditions", "states", "cautions", "reactions"):
        for name, entry in draft.entries[kind].items():
            by_itself = kind == "cautions" and (entry.way or entry.adds)
            if (kind, name) not in named and not by_itself:
                file, line = draft.line(kind, name)
                yield Problem(file, line, f"the {PLURALS[kind]} {name!r} is used nowhere", "link it, or take it out")


def _sources_in(entry: Any, place: Place) -> Iterator[tuple[Place, tuple[str, ...]]]:
    if hasattr(entry, "from_"):
        yield place, entry.from_
    for field in (part.name for part in fields(entry)):
        value = getattr(entry, field)
        if isinstance(value, tuple):
            for number, item in enumerate(value):
                if is_dataclass(item):
                    yield from _sources_in(item, (*place, field, number))
