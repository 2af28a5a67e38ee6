"""How many questions from a complaint of two symptoms to a cause that is sure enough: ours, at random, and in a fixed order."""

import math
import random
from statistics import fmean, median
from typing import NamedTuple

from diagnose.advice.stopping import SURE, leading_remedy, worth_asking
from diagnose.facts import Facts
from diagnose.reasoning.asking import PURE_GAIN_AFTER, questions, shares_of
from tests.measure.days import of_the_day
from tests.measure.figures import entropy
from tests.measure.ready import believe, plain_craft, ranked
from tests.measure.tables import table
from tests.measure.worlds import answer, draw_day, draw_day_as_weighed, draw_world

PLATES = 50
MOST = 25  # questions
SYMPTOM_MINUTES = 0.15


class Asked(NamedTuple):
    """A question put, whoever chose it."""

    id: str
    kind: str
    station: str
    minutes: float
    plates: int


class Talk(NamedTuple):
    """How one talk went."""

    questions: int
    minutes: float
    right: bool
    sure: bool
    bits: float


DAYS = {
    "a true fact about the day half the time, the rest everyday": draw_day,
    "days as the knowledge weighs them": draw_day_as_weighed,
}


def run(knowledge, plates, seed):
    number = plates or PLATES
    craft = plain_craft(knowledge)
    left = entropy((SURE, 1 - SURE)) + (1 - SURE) * math.log2(max(2, len(knowledge.causes)) - 1)
    for words, day in DAYS.items():
        rng = random.Random(seed)
        complaints = [draw_complaint(rng, craft, day) for _ in range(number)]
        start = [entropy(shares_of(believe(facts, craft)).values()) for _, facts in complaints]
        bound = fmean(max(0.0, bits - left) for bits in start)
        print(
            f"\nquestions, {words}: {number} complaints of two symptoms; {fmean(start):.2f} bit open, {left:.2f} may stay "
            f"open at {SURE:g}; at one bit a question at least {bound:.2f} questions"
        )
        rows = []
        for name, (choose, stops) in policies(craft).items():
            talks = [
                talk(world, facts, craft, choose, random.Random(f"{seed} {place}"), stops=stops)
                for place, (world, facts) in enumerate(complaints)
            ]
            rows.append((name, *summary(talks, bound)))
        table(
            f"questions, at most {MOST}; bits are how much surer the belief became, right or wrong",
            (
                "policy",
                "mean",
                "median",
                "p90",
                "minutes",
                "top right",
                f"at {SURE:g}",
                "bit/question",
                "x bound",
            ),
            rows,
        )


def policies(craft):
    """Name -> (how the next question is chosen, whether the talk also ends when the tool would stop)."""
    fixed = fixed_order(craft)
    return {
        "ours, till the tool stops": (ours, True),
        "random, till the tool stops": (lambda *told: at_random(fixed, *told), True),
        "fixed order, till the tool stops": (lambda *told: first_of(fixed, *told), True),
        "ours, on to the end": (ours, False),
        "most gain, on to the end": (most_gain, False),
        "random, on to the end": (lambda *told: at_random(fixed, *told), False),
        "fixed order, on to the end": (lambda *told: first_of(fixed, *told), False),
    }


def draw_complaint(rng, craft, day):
    """A plate with one cause, and two of its symptoms told: the more striking the likelier, without their looks."""
    while True:
        world = draw_world(rng, craft, 1, day)
        left = {symptom: craft.model.notice[symptom] for symptom in world.shows}
        if len(left) < 2:
            continue
        told = []
        for _ in range(2):
            told.append(rng.choices(list(left), weights=left.values())[0])
            del left[told[-1]]
        return world, Facts(present={symptom: {} for symptom in sorted(told)})


def talk(world, facts, craft, choose, rng, *, stops):
    """Ask until one cause is sure enough, or the tool or the questions come to an end."""
    asked, minutes, station = 0, 0.0, ""
    posterior = believe(facts, craft)
    before = entropy(shares_of(posterior).values())
    while asked < MOST and max(posterior.causes.values()) < SURE:
        worth = worth_now(facts, posterior, craft, asked, station) if stops else None
        if worth == []:
            break
        question = choose(facts, posterior, craft, asked, station, worth, rng)
        if question is None:
            break
        facts = answer(facts, question.kind, question.id, world)
        posterior = believe(facts, craft)
        asked, station = asked + 1, question.station
        minutes += question.minutes + question.plates * craft.knowledge.strengths.expect.plate_minutes
    return Talk(
        asked,
        minutes,
        ranked(posterior)[0] == world.causes[0],
        max(posterior.causes.values()) >= SURE,
        before - entropy(shares_of(posterior).values()),
    )


def worth_now(facts, posterior, craft, asked, station):
    """What the tool would still ask."""
    found = questions(facts, posterior, craft, asked=asked, standing_at=station)
    return worth_asking(found, facts, posterior, craft, leading_remedy(facts, craft)[0]) if found else []


def ours(facts, posterior, craft, asked, station, worth, rng):
    found = worth or questions(facts, posterior, craft, asked=asked, standing_at=station)
    return found[0] if found else None


def most_gain(facts, posterior, craft, asked, station, worth, rng):
    found = questions(facts, posterior, craft, asked=PURE_GAIN_AFTER)
    return found[0] if found else None


def at_random(order, facts, posterior, craft, asked, station, worth, rng):
    left = [question for question in order if not facts.answered(question.id)]
    return rng.choice(left) if left else None


def first_of(order, facts, posterior, craft, asked, station, worth, rng):
    return next((question for question in order if not facts.answered(question.id)), None)


def fixed_order(craft):
    """Everything that can be asked: symptoms, the commonest first, then conditions, then checks."""
    knowledge, model = craft.knowledge, craft.model

    def how_common(symptom):
        silent = 1 - model.leaks[symptom]
        for cause, chance in model.plain_links.get(symptom, {}).items():
            odds = model.base[cause]
            silent *= 1 - chance * odds / (1 + odds)
        return 1 - silent

    symptoms = sorted(knowledge.symptoms, key=lambda symptom: (-how_common(symptom), symptom))
    return (
        [Asked(name, "symptom", "plate", SYMPTOM_MINUTES, 0) for name in symptoms]
        + [Asked(name, "condition", item.station, item.minutes, 0) for name, item in of_the_day(knowledge).items()]
        + [
            Asked(name, "check", item.station, item.minutes, item.plates)
            for name, item in knowledge.checks.items()
            if item.outcome
        ]
    )


def summary(talks, bound):
    counts = sorted(item.questions for item in talks)
    total = sum(counts)
    return (
        fmean(counts),
        float(median(counts)),
        counts[min(len(counts) - 1, int(0.9 * len(counts)))],
        fmean(item.minutes for item in talks),
        fmean(item.right for item in talks),
        fmean(item.sure for item in talks),
        sum(item.bits for item in talks) / total if total else math.nan,
        fmean(counts) / bound if bound else math.nan,
    )
