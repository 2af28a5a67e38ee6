"""Spoiled plates drawn from the knowledge itself: what truly was the matter, and what a person would tell of it.

Such plates show whether the reasoning is right, not whether the knowledge is.
"""

import math
from dataclasses import replace
from typing import NamedTuple

from diagnose.facts import Facts
from diagnose.reasoning.atoms import finding_of
from diagnose.reasoning.model import attribute_share
from diagnose.reasoning.weighing import fire
from tests.measure.days import as_weighed, demands, of_the_day, settle, value_of

FACT_HOLDS = 0.5  # how often a true cause has one of the facts about the day that make it likelier
TOLD, DENIED = 0.85, 0.30  # of the symptoms that are there, and of those that are not
LOOK_TOLD = 0.5  # how often a told symptom's place, colour and so on are told, each
MOST_DRAWS = 200


class World(NamedTuple):
    """What is really so.

    Args:
        causes: at work
        shows: symptom -> how it looks, of every symptom that is there
        outcomes: check -> how it would come out
        amounts, options: every condition's value
        unknown: conditions nobody could tell
        day: conditions that were made so for a cause's sake, and are told
        wanted, made: facts that were to hold, and those that could be made to
    """

    causes: tuple[str, ...]
    shows: dict[str, dict[str, str]]
    outcomes: dict[str, str]
    amounts: dict[str, float]
    options: dict[str, str]
    unknown: frozenset[str]
    day: frozenset[str]
    wanted: int
    made: int


def draw_causes(rng, craft, count):
    """Causes by their base odds, never two of one exclusive group."""
    left = {cause: odds for cause, odds in craft.model.base.items() if craft.knowledge.causes[cause].symptom}
    causes = []
    while len(causes) < count and left:
        cause = rng.choices(list(left), weights=left.values())[0]
        causes.append(cause)
        group = next(members for members in craft.model.groups if cause in members)
        left = {other: odds for other, odds in left.items() if other not in group}
    return tuple(causes)


def draw_day(rng, causes, craft):
    """Every condition of the day; None if the day drawn would rule a true cause out."""
    knowledge = craft.knowledge
    asked, wanted, made = [], 0, 0
    for cause in causes:
        shifts = knowledge.causes[cause].likelier
        if not shifts or rng.random() >= FACT_HOLDS:
            continue
        wanted += 1
        shift = rng.choice(shifts)
        more = demands(shift.when, shift.unless, knowledge, rng)
        if more is not None and settle([*asked, *more], knowledge, rng) is not None:
            asked, made = [*asked, *more], made + 1
    special = settle(asked, knowledge, rng)
    if special is None:  # what is worked out from others did not come out as wanted this time
        return None
    values = {name: value_of(entry, [], rng) for name, entry in of_the_day(knowledge).items()} | special
    world = _day(causes, values, knowledge)._replace(
        unknown=frozenset(demand.condition for demand in asked if demand.kind == "unknown"),
        day=frozenset(demand.condition for demand in asked if demand.told and demand.condition in values),
        wanted=wanted,
        made=made,
    )
    return world if _possible(world, craft) else None


def draw_day_as_weighed(rng, causes, craft):
    """The same, as the program itself expects it of these causes; nothing of it is told unasked."""
    world = _day(causes, as_weighed(rng, causes, craft), craft.knowledge)
    return world if _possible(world, craft) else None


def draw_world(rng, craft, count, draw_day=draw_day):
    """A spoiled plate with so many causes; something always shows."""
    for _ in range(MOST_DRAWS):
        causes = draw_causes(rng, craft, count)
        days = (draw_day(rng, causes, craft) for _ in range(MOST_DRAWS))
        day = next((day for day in days if day is not None), None)
        if day is not None and (world := develop(rng, day, craft)).shows:
            return world
    raise RuntimeError("no plate of this knowledge shows anything")


def develop(rng, world, craft):
    """The symptoms and check outcomes of a day: each active link by itself, and chance besides."""
    knowledge = craft.knowledge
    ways = {}
    for rule in fire(_all_of(world, craft), craft, craft.bulk).trace:
        note = craft.book.notes[rule.name]
        if note.kind == "symptom" and note.owner in world.causes:
            link = knowledge.causes[note.owner].symptom[note.number]
            if rng.random() < knowledge.strengths.seen[link.seen]:
                ways.setdefault(link.symptom, []).append(link.attributes)
    for symptom in knowledge.symptoms:
        if rng.random() < craft.model.leaks[symptom]:
            ways.setdefault(symptom, []).append({})
    shows = {symptom: _look(rng, symptom, rng.choice(stated), knowledge) for symptom, stated in sorted(ways.items())}
    outcomes = {}
    for name, check in knowledge.checks.items():
        if check.outcome:
            chances = _outcomes(name, check, world.causes, craft)
            outcomes[name] = rng.choices(list(chances), weights=chances.values())[0]
    return world._replace(shows=shows, outcomes=outcomes)


def tell(rng, world, craft, *, by_notice=False):
    """What is told unasked: most of what shows, and what was special about the day.

    Args:
        by_notice: as the knowledge says it is told, and nothing denied; else 85 % told and 30 % of the rest denied
    """
    present, absent = {}, set()
    for symptom in craft.knowledge.symptoms:
        if symptom in world.shows:
            if rng.random() < (craft.model.notice[symptom] if by_notice else TOLD):
                look = world.shows[symptom]
                present[symptom] = {name: value for name, value in look.items() if rng.random() < LOOK_TOLD}
        elif not by_notice and rng.random() < DENIED:
            absent.add(symptom)
    return Facts(present=present, absent=frozenset(absent), **_values(world, world.day)) if present else None


def plates(rng, craft, count, number, *, by_notice=False):
    """So many told plates with so many causes each: (world, facts)."""
    found = []
    while len(found) < number:
        world = draw_world(rng, craft, count)
        facts = tell(rng, world, craft, by_notice=by_notice)
        if facts is not None:
            found.append((world, facts))
    return found


def tell_all(world, craft):
    """Everything that can be asked, answered as things are: every symptom and its look, the whole day, every check.

    What the program works out itself is not asked; it is told only where it was made so for a cause's sake.
    """
    asked = {name for name, entry in craft.knowledge.conditions.items() if entry.is_asked}
    return Facts(
        present=dict(world.shows),
        absent=frozenset(craft.knowledge.symptoms) - world.shows.keys(),
        open=world.unknown & asked,
        outcomes=world.outcomes,
        **_values(world, (asked | world.day) - world.unknown),
    )


def answer(facts, kind, name, world):
    """The plate with one more question answered as things really are."""
    match kind:
        case "symptom" if name in world.shows:
            return replace(facts, present={**facts.present, name: {}})
        case "symptom":
            return replace(facts, absent=facts.absent | {name})
        case "attribute":
            symptom, _, attribute = name.partition(".")
            look = {**facts.present[symptom], attribute: world.shows[symptom][attribute]}
            return replace(facts, present={**facts.present, symptom: look})
        case "condition" if name in world.unknown:
            return replace(facts, open=facts.open | {name})
        case "condition" if name in world.amounts:
            return replace(facts, amounts={**facts.amounts, name: world.amounts[name]})
        case "condition":
            return replace(facts, options={**facts.options, name: world.options[name]})
        case _:
            return replace(facts, outcomes={**facts.outcomes, name: world.outcomes[name]})


def _day(causes, values, knowledge):
    measured = {name for name in values if knowledge.conditions[name].kind == "quantity"}
    return World(
        causes,
        {},
        {},
        {name: value for name, value in values.items() if name in measured},
        {name: value for name, value in values.items() if name not in measured},
        frozenset(),
        frozenset(),
        0,
        0,
    )


def _outcomes(name, check, causes, craft):
    """Outcome -> its chance with all these causes at work, each by itself, and chance besides."""
    chances, none = {}, 1.0
    for outcome in check.outcome:
        if not outcome.normal:
            finding = finding_of(name, outcome.id)
            links = craft.model.check_links.get(finding, {})
            missed = math.prod(1 - links.get(cause, 0.0) for cause in causes)
            chances[outcome.id] = 1 - (1 - craft.model.check_leaks[finding]) * missed
            none *= 1 - chances[outcome.id]
    return {outcome.id: chances.get(outcome.id, none) for outcome in check.outcome}


def _possible(world, craft):
    """Whether the day rules no true cause out."""
    notes = [craft.book.notes[rule.name] for rule in fire(_all_of(world, craft), craft, craft.bulk).trace]
    return not any(note.kind == "ruled_out" and note.owner in world.causes for note in notes)


def _values(world, names):
    return {
        "amounts": {name: value for name, value in world.amounts.items() if name in names},
        "options": {name: value for name, value in world.options.items() if name in names},
    }


def _all_of(world, craft):
    """The whole day told, and every symptom heard of, so that every link that could be at work fires."""
    known = {*world.amounts, *world.options} - world.unknown
    return Facts(absent=frozenset(craft.knowledge.symptoms), **_values(world, known))


def _look(rng, symptom, stated, knowledge):
    look = {}
    for attribute, values in knowledge.symptoms[symptom].attributes.items():
        shares = [attribute_share(stated.get(attribute, ()), value, len(values), knowledge) for value in values]
        look[attribute] = rng.choices(values, weights=shares)[0]
    return look
