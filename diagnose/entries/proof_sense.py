"""Do the entries make sense: numbers, order of the work, links that say something, interlocks?"""

import math
from collections.abc import Iterator
from itertools import combinations

from diagnose.entries.cause import Cause, Shift
from diagnose.entries.observed import TREATMENTS
from diagnose.entries.read import Draft
from diagnose.errors import Problem, near
from diagnose.units import UNITS

PROBABILITIES = ("seen", "usual", "among", "notice", "surely")
CAUTION_FOR = {
    "acid": ("nitric-acid", "acetic-acid"),
    "silver": ("silver-nitrate",),
    "ether-alcohol": ("ether-and-alcohol",),
    "alcohol": ("ether-and-alcohol",),
    "alkali": ("ammonia-and-silver",),
}


def strengths(draft: Draft) -> Iterator[Problem]:
    """Every strength word used is in the table, and every number is what it claims to be."""
    table = draft.entries["strengths"]["strengths"]
    for group in (*PROBABILITIES, "weight"):
        for word, number in getattr(table, group).items():
            file, line = draft.line("strengths", "strengths", group, word)
            if group == "weight" and not 1 < number <= 100:
                yield Problem(file, line, f"the weight {word!r} is {number:g}", "a weight is above 1 and at most 100")
            elif group != "weight" and not 0 < number < 1:
                yield Problem(file, line, f"{group} {word!r} is {number:g}", "a share is above 0 and below 1")
    for kind, name, place, group, word in _words(draft):
        known = getattr(table, group)
        if word not in known:
            file, line = draft.line(kind, name, *place)
            fix = near(word, known) or f"use one of: {', '.join(known)}"
            yield Problem(file, line, f"no strength word {word!r} for {group}", fix)


def conditions(draft: Draft) -> Iterator[Problem]:
    """Amounts have a unit and a range; choices have options."""
    for name, entry in draft.entries["conditions"].items():
        file, line = draft.line("conditions", name)
        if entry.kind == "quantity":
            if entry.unit.casefold() not in UNITS:
                yield Problem(
                    file, line, f"{name!r} has no unit that is known", "use °C, %, s, min, h, d, g/L or plates"
                )
            if entry.range is None or not -math.inf < entry.range[0] < entry.range[1] < math.inf:
                yield Problem(file, line, f"{name!r} has no sane range", "write range = [lowest, highest]")
            elif entry.ordinary and not entry.range[0] <= entry.ordinary[0] < entry.ordinary[1] <= entry.range[1]:
                yield Problem(
                    file, line, f"{name!r}: the ordinary values are not inside the range", "mend one of the two"
                )
        elif entry.kind == "choice" and len(entry.options) < 2:
            yield Problem(
                file, line, f"{name!r} is a choice without options", 'write options = { word = "how it is asked", ... }'
            )


def lasting(draft: Draft) -> Iterator[Problem]:
    """What ends an answer can be done, and there is an answer that lasts until then."""
    remedies = draft.entries["remedies"]
    for name, entry in draft.entries["conditions"].items():
        file, line = draft.line("conditions", name, "lasts")
        if entry.lasts != "plate" and (entry.group == "changed" or not entry.is_asked):
            why = "is asked anew for every plate" if entry.is_asked else "is worked out anew for every plate"
            yield Problem(file, line, f"{name!r} {why}, so it cannot last", "take the line out")
        for part, ends in (("until", entry.until), ("most_days", entry.most_days)):
            file, line = draft.line("conditions", name, part)
            if ends and entry.lasts in {"plate", "day"}:
                fix = 'say what it stands in, such as lasts = "bath", or take the line out'
                yield Problem(file, line, f"{name!r} lasts for the {entry.lasts} only", fix)
        file, line = draft.line("conditions", name, "until")
        for word in entry.until:
            if word not in TREATMENTS and word not in remedies:
                fix = near(word, (*TREATMENTS, *remedies)) or f"use a remedy, or one of: {', '.join(TREATMENTS)}"
                yield Problem(file, line, f"no remedy or treatment called {word!r}", fix)


def outcomes(draft: Draft) -> Iterator[Problem]:
    """A check tells something, and has exactly one normal outcome if it has any."""
    for name, check in draft.entries["checks"].items():
        file, line = draft.line("checks", name)
        normal = [outcome for outcome in check.outcome if outcome.normal]
        if not check.outcome and not check.answers:
            yield Problem(file, line, f"the check {name!r} tells nothing", "give it outcomes, or conditions it answers")
        elif check.outcome and len(normal) != 1:
            yield Problem(
                file,
                line,
                f"the check {name!r} has {len(normal)} normal outcomes",
                "mark exactly one with normal = true",
            )
        if len({outcome.id for outcome in check.outcome}) < len(check.outcome):
            yield Problem(file, line, f"the check {name!r} names an outcome twice", "rename one")


def empty_links(draft: Draft) -> Iterator[Problem]:
    """A link no stronger than chance says nothing."""
    table = draft.entries["strengths"]["strengths"]
    for name, cause in draft.entries["causes"].items():
        for number, link in enumerate(cause.symptom):
            symptom = draft.entries["symptoms"].get(link.symptom)
            if symptom and table.seen.get(link.seen, 1) <= table.among.get(symptom.among, 0):
                file, line = draft.line("causes", name, "symptom", number, "seen")
                words = f"{link.symptom!r} is {link.seen} here, no more than among any spoiled plates"
                yield Problem(file, line, f"a link that says nothing: {words}", "raise it, or take it out")


def doubled_links(draft: Draft) -> Iterator[Problem]:
    """The same symptom, outcome or remedy twice in one cause."""
    for name, cause in draft.entries["causes"].items():
        keys: list[tuple[str, int, tuple[object, ...]]]
        keys = [("symptom", n, (link.symptom, link.when)) for n, link in enumerate(cause.symptom)]
        keys += [("check", n, (link.check, link.outcome, link.when)) for n, link in enumerate(cause.check)]
        keys += [("remedy", n, (link.do, link.when)) for n, link in enumerate(cause.remedy)]
        seen: set[object] = set()
        for field, number, key in keys:
            if (field, key) in seen:
                file, line = draft.line("causes", name, field, number)
                yield Problem(file, line, f"{key[0]!r} is linked twice", "keep the better of the two")
            seen.add((field, key))


def too_early(draft: Draft) -> Iterator[Problem]:
    """A symptom whose first step comes before the stage of its cause."""
    steps = draft.entries["attributes"]["first_seen"].values if "first_seen" in draft.entries["attributes"] else {}
    order = {step: number for number, step in enumerate(steps)}
    stages = draft.entries["stages"]
    for name, cause in draft.entries["causes"].items():
        stage = stages.get(name.partition("/")[0])
        for number, link in enumerate(cause.symptom):
            symptom = draft.entries["symptoms"].get(link.symptom)
            if stage is None or symptom is None or stage.first_step not in order:
                continue
            possible = link.first_seen or symptom.attributes.get("first_seen", (symptom.first_seen,))
            if all(order.get(step, 99) < order[stage.first_step] for step in possible):
                file, line = draft.line("causes", name, "symptom", number, "symptom")
                words = f"{link.symptom!r} shows before the stage of its cause begins"
                yield Problem(file, line, words, "move the cause, or take the link out")


def steps(draft: Draft) -> Iterator[Problem]:
    """A step can only show a symptom its cause lists."""
    for name, cause in draft.entries["causes"].items():
        listed = {link.symptom for link in cause.symptom}
        if not listed <= draft.entries["symptoms"].keys():
            continue  # a misspelt sign is told already
        for number, step in enumerate(cause.step):
            if step.shows and step.shows not in listed:
                file, line = draft.line("causes", name, "step", number, "shows")
                yield Problem(
                    file, line, f"the step shows {step.shows!r}, which the cause does not list", "add the [[symptom]]"
                )


def twins(draft: Draft) -> Iterator[Problem]:
    """Two causes that nothing could ever tell apart."""
    looks = {
        name: (
            frozenset((link.symptom, link.seen, tuple(link.attributes.items()), link.when) for link in cause.symptom),
            frozenset((link.check, link.outcome, link.seen) for link in cause.check),
            frozenset((shift.when, shift.weight) for shift in cause.likelier + cause.unlikelier),
        )
        for name, cause in draft.entries["causes"].items()
    }
    for first, second in combinations(looks, 2):
        if looks[first] == looks[second]:
            file, line = draft.line("causes", second)
            yield Problem(
                file, line, f"cannot be told apart from {first!r}", "link a check or a condition that parts them"
            )


def parted(draft: Draft) -> Iterator[Problem]:
    """Two causes with one main symptom need a place, a check or a fact about the day that parts them."""
    causes = draft.entries["causes"]
    told = {
        name: (
            frozenset((link.check, link.outcome, link.seen) for link in cause.check),
            frozenset(
                (shift.when, shift.unless, sign) for sign in (True, False) for shift in _shifts(cause, likelier=sign)
            ),
        )
        for name, cause in causes.items()
    }
    for first, second in combinations(causes, 2):
        main, other = causes[first].symptom[0], causes[second].symptom[0]
        asked_apart = told[first] != told[second] or main.attributes != other.attributes
        twin = main.seen == other.seen and len(causes[first].symptom) == len(causes[second].symptom)  # told by `twins`
        if main.symptom != other.symptom or asked_apart or twin:
            continue
        pair = {(first, second), (second, first)}
        if not any((owner, alike.cause) in pair for owner in (first, second) for alike in causes[owner].treat_alike):
            file, line = draft.line("causes", second, "symptom", 0, "symptom")
            words = f"shares its main symptom with {first!r}, and nothing that can be asked parts them"
            yield Problem(
                file, line, words, "link a check or a condition to one of them, or list it under [[treat_alike]]"
            )


def contradictions(draft: Draft) -> Iterator[Problem]:
    """A fact that speaks for and against one cause, or a symptom it never shows as its sign."""
    for name, cause in draft.entries["causes"].items():
        against = {shift.when for shift in cause.unlikelier} | {shift.when for shift in cause.ruled_out}
        for number, shift in enumerate(cause.likelier):
            if shift.when in against:
                file, line = draft.line("causes", name, "likelier", number, "when")
                yield Problem(
                    file, line, f"{' and '.join(shift.when)} speaks both for and against", "keep one of the two"
                )
            if set(shift.when) & set(shift.unless):
                file, line = draft.line("causes", name, "likelier", number, "unless")
                yield Problem(
                    file, line, "the same test stands in `when` and `unless`", "it can never hold: take one out"
                )
        for number, alike in enumerate(cause.look_alike):
            if alike.cause == name:
                file, line = draft.line("causes", name, "look_alike", number, "cause")
                yield Problem(file, line, "the cause is named as its own look-alike", "name the other cause")


def interlocks(draft: Draft) -> Iterator[Problem]:
    """Doctoring the bath needs a finding that supports it and a stop sign; what is put in needs its caution."""
    for name, remedy in draft.entries["remedies"].items():
        file, line = draft.line("remedies", name)
        if remedy.risky and not remedy.needs:
            yield Problem(
                file, line, f"{name!r} doctors the bath without a finding that supports it", "write needs = [[...]]"
            )
        if remedy.risky and not remedy.stop:
            yield Problem(file, line, f"{name!r} doctors the bath without a stop sign", "write stop = ...")
        for added in remedy.adds:
            wanted = CAUTION_FOR.get(added, ())
            if wanted and not set(wanted) & set(remedy.caution):
                yield Problem(
                    file, line, f"{name!r} adds {added} without its caution", f"add caution = [{wanted[0]!r}]"
                )


def _shifts(cause: Cause, *, likelier: bool) -> tuple[Shift, ...]:
    return cause.likelier if likelier else cause.unlikelier


def _words(draft: Draft) -> Iterator[tuple[str, str, tuple[str | int, ...], str, str]]:
    for name, symptom in draft.entries["symptoms"].items():
        yield "symptoms", name, ("notice",), "notice", symptom.notice
        yield "symptoms", name, ("among",), "among", symptom.among
    for name, cause in draft.entries["causes"].items():
        yield "causes", name, ("usual",), "usual", cause.usual
        for field in ("symptom", "check"):
            for number, link in enumerate(getattr(cause, field)):
                yield "causes", name, (field, number, "seen"), "seen", link.seen
        for field in ("likelier", "unlikelier"):
            for number, shift in enumerate(getattr(cause, field)):
                yield "causes", name, (field, number, "weight"), "weight", shift.weight
        for number, link in enumerate(cause.remedy):
            yield "causes", name, ("remedy", number, "surely"), "surely", link.surely
