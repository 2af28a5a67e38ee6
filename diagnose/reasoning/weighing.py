"""Fired rules -> the exact posterior of every cause. Rules said whether; here it is said how much."""

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import NamedTuple

from diagnose.facts import Facts
from diagnose.reasoning.atoms import atoms_of_plate, finding_of
from diagnose.reasoning.chaining import Chainer, Firing
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.lattice import MOST_EXACT, Variable, marginals
from diagnose.reasoning.model import join, leak_of, link_chance
from diagnose.reasoning.reckoning import with_reckoned
from diagnose.reasoning.rules import Note

# What the next plate tells of a cause that is not at work, after a remedy: judged.
RESULT_WITHOUT = {"no-change": 1.0, "better": 0.10, "cured": 0.15}
ONE_OFF_GONE = 0.7  # a one-off slip is mostly gone on the next plate whatever was done: judged
LEAST_FACTOR = 0.02  # judged, as are the parts of "better" below
NO_LINKS: dict[int, float] = {}
SHIFT_KINDS = frozenset({"likelier", "unlikelier", "ruled_out"})


class Shift(NamedTuple):
    """One fact that moves a cause's odds.

    Args:
        rule: name of the rule that fired, or of the remedy tried; "" for the earlier plates of the day
        log_odds: what it adds, after grouping and capping [nat]
        note: which link of the cause it is
    """

    rule: str
    log_odds: float
    note: Note


class Finding(NamedTuple):
    """A symptom or an outcome of a check, answered.

    Args:
        name: symptom, or check=outcome
        answer: "present", "unsure" or "absent"
        leak: chance of it for no listed reason
        links: cause -> chance that it alone brings it about
    """

    name: str
    answer: str
    leak: float
    links: Mapping[str, float]


class Evidence(NamedTuple):
    """All that was heard, in numbers.

    Args:
        findings: answered symptoms and checks
        silent: cause -> factor for the symptoms nobody mentioned
        shifts: cause -> facts that move its odds
        firing: the fired rules it was read from
    """

    findings: tuple[Finding, ...]
    silent: dict[str, float]
    shifts: dict[str, tuple[Shift, ...]]
    firing: Firing


class Posterior(NamedTuple):
    """What is believed now.

    Args:
        causes: cause -> probability
        leaks: positive finding -> probability that something unlisted brought it about
        set_aside: positive findings left out because there were too many for an exact sum
    """

    causes: dict[str, float]
    leaks: dict[str, float]
    set_aside: tuple[str, ...] = ()


def fire(facts: Facts, craft: Craft, engine: Chainer | None = None) -> Firing:
    """Fire the rules on a plate.

    Args:
        facts: the plate
        craft: the knowledge made ready
        engine: which engine; durable-rules where it can be loaded, if not given
    """
    atoms = atoms_of_plate(with_reckoned(facts, craft), craft.index, craft.knowledge)
    return (engine or craft.engine).run(atoms)


def gather(facts: Facts, firing: Firing, craft: Craft) -> Evidence:
    """Read the fired rules as evidence.

    Args:
        facts: the plate
        firing: from `fire`
        craft: the knowledge made ready
    """
    knowledge, model = craft.knowledge, craft.model
    links: dict[str, dict[str, float]] = {}
    raw: dict[str, list[Shift]] = {}
    for rule in firing.trace:
        note = craft.book.notes[rule.name]
        if note.kind == "symptom":
            link = knowledge.causes[note.owner].symptom[note.number]
            told = facts.present.get(link.symptom) or facts.unsure.get(link.symptom) or {}
            join(links.setdefault(link.symptom, {}), note.owner, link_chance(link, told, knowledge))
        elif note.kind == "check":
            found = knowledge.causes[note.owner].check[note.number]
            name = finding_of(found.check, found.outcome)
            join(links.setdefault(name, {}), note.owner, knowledge.strengths.seen[found.seen])
        elif note.kind in SHIFT_KINDS:
            raw.setdefault(note.owner, []).append(Shift(rule.name, _log_weight(note, craft), note))
    findings = [
        Finding(name, "present", leak_of(name, told, model), links.get(name, {}))
        for name, told in facts.present.items()
    ]
    findings += [
        Finding(name, "unsure", leak_of(name, told, model), links.get(name, {})) for name, told in facts.unsure.items()
    ]
    findings += [Finding(name, "absent", model.leaks[name], links.get(name, {})) for name in sorted(facts.absent)]
    for check, outcome in sorted(facts.outcomes.items()):
        for item in knowledge.checks[check].outcome:
            if not item.normal:
                name = finding_of(check, item.id)
                answer = "present" if item.id == outcome else "absent"
                findings.append(Finding(name, answer, model.check_leaks[name], links.get(name, {})))
    shifts = {cause: _settled(items, craft) for cause, items in raw.items()}
    for cause, items in _tried_shifts(facts, craft).items():
        shifts[cause] = (*shifts.get(cause, ()), *items)
    for cause, weight in facts.earlier.items():
        if weight and cause in knowledge.causes:
            shifts[cause] = (*shifts.get(cause, ()), Shift("", weight, Note("earlier", cause, 0)))
    return Evidence(tuple(findings), _silent_factors(facts, craft), shifts, firing)


def shifts_of(firing: Firing, craft: Craft) -> dict[str, float]:
    """What the facts about the day add to each cause's log-odds; nothing else is read.

    Args:
        firing: from `fire`
        craft: the knowledge made ready
    """
    raw: dict[str, list[Shift]] = {}
    for rule in firing.trace:
        note = craft.book.notes[rule.name]
        if note.kind in SHIFT_KINDS:
            raw.setdefault(note.owner, []).append(Shift(rule.name, _log_weight(note, craft), note))
    return {cause: sum(shift.log_odds for shift in _settled(items, craft)) for cause, items in raw.items()}


def weigh(evidence: Evidence, craft: Craft, *, without: Collection[str] = (), silent: bool = True) -> Posterior:
    """The exact posterior.

    Args:
        evidence: from `gather`
        craft: the knowledge made ready
        without: findings to leave out, as if never heard
        silent: whether symptoms nobody mentioned count a little against causes that usually show them
    """
    used = [finding for finding in evidence.findings if finding.name not in without]
    odds = odds_before_findings(evidence, craft)
    for cause in odds:
        if silent:
            odds[cause] *= evidence.silent.get(cause, 1.0)
    for finding in used:
        if finding.answer == "absent":
            for cause, chance in finding.links.items():
                odds[cause] *= 1 - chance
    positive = [finding for finding in used if finding.answer != "absent"]
    positive, set_aside = _most_telling(positive)
    sure = craft.knowledge.strengths.expect.unsure_explained
    finals = [(1.0, 0.0) if finding.answer == "present" else (sure, 1 - sure) for finding in positive]
    links: dict[str, dict[int, float]] = {}
    for n, finding in enumerate(positive):
        for cause, chance in finding.links.items():
            links.setdefault(cause, {})[n] = chance
    variables = [
        Variable(1.0, tuple([(odds[cause], links.get(cause, NO_LINKS)) for cause in group]))
        for group in craft.model.groups
    ]
    variables += [Variable(1 - finding.leak, ((finding.leak, {n: 1.0}),)) for n, finding in enumerate(positive)]
    result = marginals(variables, finals)
    causes = {
        cause: min(1.0, chance)
        for group, chances in zip(craft.model.groups, result.on, strict=False)
        for cause, chance in zip(group, chances, strict=True)
    }
    leaks = {
        finding.name: min(1.0, chances[0])
        for finding, chances in zip(positive, result.on[len(craft.model.groups) :], strict=True)
    }
    return Posterior(causes, leaks, set_aside)


def odds_before_findings(evidence: Evidence, craft: Craft) -> dict[str, float]:
    """Odds of every cause from how common it is and from the facts about the day alone.

    Args:
        evidence: from `gather`
        craft: the knowledge made ready
    """
    before = dict(craft.model.base)
    for cause, shifts in evidence.shifts.items():
        if cause in before:
            before[cause] *= math.exp(sum(shift.log_odds for shift in shifts))
    return before


def suppose(facts: Facts, craft: Craft, **changes: object) -> tuple[Facts, Posterior]:
    """The posterior if the plate were told a little differently; fired on the plain twin, which is quicker.

    Args:
        facts: the plate
        craft: the knowledge made ready
        changes: fields of `Facts` to replace
    """
    other = replace(facts, **changes)  # type: ignore[arg-type]
    return other, weigh(gather(other, fire(other, craft, craft.bulk), craft), craft)


def _log_weight(note: Note, craft: Craft) -> float:
    cause = craft.knowledge.causes[note.owner]
    if note.kind == "ruled_out":
        return math.log(craft.knowledge.strengths.expect.ruled_out)
    shift = getattr(cause, note.kind)[note.number]
    weight = math.log(craft.knowledge.strengths.weight[shift.weight])
    return weight if note.kind == "likelier" else -weight


def _settled(items: list[Shift], craft: Craft) -> tuple[Shift, ...]:
    """Only the strongest of each group counts; all together stay under a cap; what is ruled out stays ruled out."""
    best: dict[tuple[str, str], Shift] = {}
    for number, item in enumerate(items):
        cause = craft.knowledge.causes[item.note.owner]
        group = "" if item.note.kind == "ruled_out" else getattr(cause, item.note.kind)[item.note.number].group
        key = (item.note.kind, group or f"#{number}") if item.note.kind != "ruled_out" else ("ruled_out", "")
        if key not in best or abs(item.log_odds) > abs(best[key].log_odds):
            best[key] = item
    kept = list(best.values())
    cap = math.log(craft.knowledge.strengths.expect.most_from_conditions)
    soft = sum(item.log_odds for item in kept if item.note.kind != "ruled_out")
    scale = cap / abs(soft) if abs(soft) > cap else 1.0
    return tuple(
        item if item.note.kind == "ruled_out" else item._replace(log_odds=item.log_odds * scale) for item in kept
    )


def _tried_shifts(facts: Facts, craft: Craft) -> dict[str, list[Shift]]:
    """What each tried remedy says of the causes it would have put right, and of slips that would not have come twice."""
    shifts: dict[str, list[Shift]] = {}
    for remedy, result in facts.tried:
        for cause, entry in craft.knowledge.causes.items():
            sure = next(
                (craft.knowledge.strengths.surely[link.surely] for link in entry.remedy if link.do == remedy), 0.0
            )
            # A slip seldom comes twice, so it does not outlast a change; but a cure says nothing of slips it has no part in.
            slip = entry.scope == "this-plate" and (sure > 0 or result == "no-change")
            gone = sure + (1 - sure) * ONE_OFF_GONE if slip else sure
            if not gone:
                continue
            chance = {"no-change": 1 - gone, "better": 0.6 * gone * (1 - gone) + 0.25 * gone, "cured": gone}[result]
            factor = max(1.0 if result == "cured" else LEAST_FACTOR, chance / RESULT_WITHOUT[result])
            shifts.setdefault(cause, []).append(Shift(remedy, math.log(factor), Note("tried", cause, 0)))
    return shifts


def _silent_factors(facts: Facts, craft: Craft) -> dict[str, float]:
    """A symptom nobody mentioned is a soft "no", softer the less it strikes the eye; a stage not reached spoils nothing."""
    if not (facts.present or facts.unsure):
        return {}
    factors = _stage_factors(facts, craft)
    for name, links in craft.model.plain_links.items():
        if facts.answered(name):
            continue
        notice = craft.model.notice[name]
        for cause, chance in links.items():
            factors[cause] = factors.get(cause, 1.0) * (1 - notice * chance)
    return factors


def _stage_factors(facts: Facts, craft: Craft) -> dict[str, float]:
    """Late stages count less for as long as nothing told shows that the plate has come so far."""
    knowledge = craft.knowledge
    order = {step: place for place, step in enumerate(knowledge.attributes["first_seen"].values)}
    told = {**facts.present, **facts.unsure}
    steps = (look.get("first_seen", knowledge.symptoms[name].first_seen) for name, look in told.items())
    come_to = max(order[step] for step in steps)
    early = {name: stage.reached for name, stage in knowledge.stages.items() if order[stage.first_step] > come_to}
    return {
        cause: early[knowledge.stage_of(cause)]
        for cause in knowledge.causes
        if early.get(knowledge.stage_of(cause), 1) < 1
    }


def _most_telling(positive: list[Finding]) -> tuple[list[Finding], tuple[str, ...]]:
    """The findings an exact sum can hold; the ones most causes share are set aside first."""
    if len(positive) <= MOST_EXACT:
        return positive, ()
    ranked = sorted(positive, key=lambda finding: (finding.leak * (1 + len(finding.links)), finding.name))
    kept = {finding.name for finding in ranked[:MOST_EXACT]}
    aside: Iterable[Finding] = (finding for finding in positive if finding.name not in kept)
    return [finding for finding in positive if finding.name in kept], tuple(finding.name for finding in aside)
