"""Plates drawn from the knowledge itself: causes by how common they are, a day that suits them, signs as the links say.

What is told is chosen by what shows, never by what is true, so that no list and no circumstance gives the truth away, and the
tool's own numbers hold on these plates as well as its weighing of circumstances lets them (said 0.91, right 0.82; said 0.28,
right 0.25, on 1,500 plates). That is why a plate may mislead, and why none is left out for it.
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from diagnose.entries.observed import Condition
from diagnose.errors import DiagnoseError
from diagnose.facts import Facts
from diagnose.reasoning.asking import everyday_answers, with_condition
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.model import attribute_share
from diagnose.reasoning.weighing import fire, gather, shifts_of, weigh
from diagnose.teaching.exercise import Chance, Exercise
from diagnose.units import print_amount

TWO_CAUSES = 0.25  # how often a plate has two: judged, as are the next
MOST_CIRCUMSTANCES = 5  # told beside what the plate is made of and how warm the room is
LOOK_TOLD = 0.5  # how often the place, colour and so on of a sign beside the one drawn are told, each
RIVALS_ASKED_AFTER = 8  # leading causes by the signs alone; circumstances are told that bear on one of them
NEAREST_PART = 0.25  # of an open range beyond what is ordinary, the part that days really reach
MOST_DRAWS, MOST_DAYS = 400, 40
ALWAYS = ("support", "room_temperature")
DRAWN = ("place", "direction", "colour", "depth")  # looks that a drawing shows


def draw_exercise(chance: Chance, craft: Craft, name: str, *, cause: str = "", sign: str = "") -> Exercise:
    """A spoiled plate with one cause or two.

    Args:
        chance: with its seed
        craft: the knowledge made ready, with the rates of the books
        name: what the exercise is called
        cause: one that must be at work; "" for any
        sign: a symptom that must be the one drawn; "" for any

    Raises:
        DiagnoseError: the knowledge has no plate of that kind
    """
    for _ in range(MOST_DRAWS):
        causes = _causes(chance, craft, cause or (_cause_of(sign, chance, craft) if sign else ""))
        days = (_day(chance, causes, craft) for _ in range(MOST_DAYS))
        day = next((day for day in days if day is not None), None)
        shows = _shows(chance, causes, day, craft) if day is not None else {}
        told = [symptom for symptom in shows if symptom == sign or chance.random() < craft.model.notice[symptom]]
        if day is None or not told or (sign and sign not in told):
            continue
        main = sign or chance.choices(told, weights=[craft.model.notice[symptom] for symptom in told])[0]
        return _exercise(chance, craft, name, causes, day, {symptom: shows[symptom] for symptom in told}, main)
    raise DiagnoseError("no plate could be drawn from this knowledge; run `diagnose knowledge check`")


def _exercise(
    chance: Chance,
    craft: Craft,
    name: str,
    causes: tuple[str, ...],
    day: Facts,
    shows: Mapping[str, Mapping[str, str]],
    main: str,
) -> Exercise:
    looks = {
        symptom: {
            attribute: value
            for attribute, value in look.items()
            if (symptom == main and attribute in DRAWN) or chance.random() < LOOK_TOLD
        }
        for symptom, look in shows.items()
    }
    conditions = {
        condition: _in_words(condition, _answer(chance, condition, causes, day, craft), chance, craft)
        for condition in _circumstances(chance, looks, craft)
    }
    told = {
        "symptoms": {symptom: {"answer": "present", **look} for symptom, look in looks.items()},
        "conditions": conditions,
        "checks": {},
        "tried": [],
    }
    return Exercise(
        name=name,
        origin="drawn",
        causes=causes,
        told=told,
        sign=main,
        looks={attribute: value for attribute, value in looks[main].items() if attribute in DRAWN},
        support="glass" if conditions.get("support") in {"glass", "acrylic"} else "metal",
        seed=int(chance.random() * 1_000_000),
    )


def _causes(chance: Chance, craft: Craft, first: str) -> tuple[str, ...]:
    """One cause or two by their base odds, never two that shut each other out."""
    causes = [first] if first else []
    count = 2 if chance.random() < TWO_CAUSES else 1
    barred = {member for group in craft.model.groups if first in group for member in group}
    while len(causes) < count:
        left = {cause: odds for cause, odds in craft.model.base.items() if cause not in barred}
        causes.append(chance.choices(list(left), weights=list(left.values()))[0])
        barred |= {member for group in craft.model.groups if causes[-1] in group for member in group}
    return tuple(causes)


def _cause_of(sign: str, chance: Chance, craft: Craft) -> str:
    """A cause that brings a symptom about, by how common it is and how often it does; "" where no link is plain."""
    links = craft.model.plain_links.get(sign, {})
    weights = [craft.model.base[cause] * link for cause, link in links.items()]
    return chance.choices(list(links), weights=weights)[0] if links else ""


def _day(chance: Chance, causes: tuple[str, ...], craft: Craft) -> Facts | None:
    """Every circumstance that bears on these causes, as the knowledge expects it of them; None if it rules one out."""
    day = Facts()
    for condition in sorted(set().union(*(craft.reach[cause] for cause in causes))):
        entry = craft.knowledge.conditions[condition]
        if entry.is_asked and entry.group != "for-a-dose":
            day = with_condition(day, condition, _weighed(chance, condition, causes, craft), craft)
    notes = [craft.book.notes[rule.name] for rule in fire(day, craft, craft.bulk).trace]
    return None if any(note.kind == "ruled_out" and note.owner in causes for note in notes) else day


def _weighed(chance: Chance, condition: str, causes: tuple[str, ...], craft: Craft) -> str:
    """One answer to a condition, as likely as these causes make it."""
    chances = everyday_answers(condition, craft.knowledge.conditions[condition], craft)
    for answer in chances:
        shifts = shifts_of(fire(with_condition(Facts(), condition, answer, craft), craft, craft.bulk), craft)
        chances[answer] *= math.exp(sum(shifts.get(cause, 0.0) for cause in causes))
    return chance.choices(list(chances), weights=list(chances.values()))[0]


def _answer(chance: Chance, condition: str, causes: tuple[str, ...], day: Facts, craft: Craft) -> str:
    """A condition as it was on the day; drawn now, where nothing about the causes asked for it before."""
    if condition in day.amounts:
        return repr(day.amounts[condition])
    return day.options[condition] if condition in day.options else _weighed(chance, condition, causes, craft)


def _shows(chance: Chance, causes: tuple[str, ...], day: Facts, craft: Craft) -> dict[str, dict[str, str]]:
    """Every symptom that is there and how it looks: each link by itself, and chance besides."""
    knowledge = craft.knowledge
    ways: dict[str, list[Mapping[str, tuple[str, ...]]]] = {}
    asked = replace(day, absent=frozenset(knowledge.symptoms))  # so that every link that could be at work fires
    for rule in fire(asked, craft, craft.bulk).trace:
        note = craft.book.notes[rule.name]
        if note.kind == "symptom" and note.owner in causes:
            link = knowledge.causes[note.owner].symptom[note.number]
            if chance.random() < knowledge.strengths.seen[link.seen]:
                ways.setdefault(link.symptom, []).append(link.attributes)
    if not ways:
        return {}
    for symptom in knowledge.symptoms:
        if chance.random() < craft.model.leaks[symptom]:
            ways.setdefault(symptom, []).append({})
    return {symptom: _look(chance, symptom, chance.choice(stated), craft) for symptom, stated in sorted(ways.items())}


def _look(chance: Chance, symptom: str, stated: Mapping[str, tuple[str, ...]], craft: Craft) -> dict[str, str]:
    look = {}
    for attribute, values in craft.knowledge.symptoms[symptom].attributes.items():
        given = stated.get(attribute, ())
        shares = [attribute_share(given, value, len(values), craft.knowledge) for value in values]
        look[attribute] = chance.choices(values, weights=shares)[0]
    return look


def _circumstances(chance: Chance, shows: Mapping[str, Mapping[str, str]], craft: Craft) -> list[str]:
    """What is told of the day: a few of the things that bear on what these signs point to, by the signs alone."""
    facts = Facts(present={symptom: dict(look) for symptom, look in shows.items()})
    beliefs = weigh(gather(facts, fire(facts, craft, craft.bulk), craft), craft).causes
    leading = sorted(beliefs, key=lambda cause: (-beliefs[cause], cause))[:RIVALS_ASKED_AFTER]
    bearing = sorted(
        condition
        for condition in set().union(*(craft.reach[cause] for cause in leading))
        if craft.knowledge.conditions[condition].is_asked
        and craft.knowledge.conditions[condition].group != "for-a-dose"
        and condition not in ALWAYS
    )
    chosen = set(chance.sample(bearing, min(len(bearing), MOST_CIRCUMSTANCES))) | set(ALWAYS)
    return [condition for condition in craft.knowledge.conditions if condition in chosen]


def _in_words(condition: str, answer: str, chance: Chance, craft: Craft) -> str:
    """An answer as it would be told: an option, or an amount that may well have been read so, with its unit."""
    entry = craft.knowledge.conditions[condition]
    if entry.kind != "quantity":
        return answer
    cuts = craft.cuts.get(condition, ())
    return print_amount(_rounded(_within(float(answer), entry, cuts, chance), cuts), entry.unit)


def _within(middle: float, entry: Condition, cuts: tuple[float, ...], chance: Chance) -> float:
    """An amount between the same two cuts, in the ordinary range where that reaches so far, else near it."""
    least, most = entry.range or (0.0, 1.0)
    edges = [least, *(cut for cut in cuts if least < cut < most), most]
    low, high = next((pair for pair in pairwise(edges) if pair[0] <= middle <= pair[1]), (least, most))
    ordinary = entry.ordinary or (least, most)
    inside = max(low, ordinary[0]), min(high, ordinary[1])
    if inside[0] < inside[1]:
        margin = (inside[1] - inside[0]) / 20
        return chance.uniform(inside[0] + margin, inside[1] - margin)
    part = (high - low) * NEAREST_PART
    # Never the cut itself: "over" is not "at least".
    near = (low + part / 10, low + part) if low >= ordinary[1] else (high - part, high - part / 10)
    return chance.uniform(*near)


def _rounded(amount: float, cuts: tuple[float, ...]) -> float:
    """As few figures as leave the amount on its side of every cut."""
    for figures in (2, 3, 4):
        short = float(f"{amount:.{figures}g}")
        if all((cut > amount) == (cut > short) and cut != short for cut in cuts):
            return short
    return amount
