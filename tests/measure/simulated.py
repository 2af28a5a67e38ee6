"""Plates drawn from the knowledge itself, with one, two and three causes: is the reasoning right, and honest about itself?

Told as a person tells them, and then with every question answered: what is still mixed up then, the knowledge itself cannot part.
"""

import random
from collections import Counter

from tests.measure import figures
from tests.measure.ready import believe, plain_craft, ranked, scored
from tests.measure.tables import between, table
from tests.measure.worlds import draw_day_as_weighed, draw_world, tell_all
from tests.measure.worlds import plates as draw_plates

PLATES = 300  # of each number of causes
MIX = {1: 0.70, 2: 0.25, 3: 0.05}
TELLING = {
    "85 % told, 30 % denied": False,
    "told as it strikes the eye, nothing denied": True,
}


MOST_PAIRS = 12  # of causes taken for each other, printed


def run(knowledge, plates, seed):
    number = plates or PLATES
    craft = plain_craft(knowledge)
    first = None
    for words, by_notice in TELLING.items():
        rng = random.Random(seed)
        drawn = {count: draw_plates(rng, craft, count, number, by_notice=by_notice) for count in MIX}
        first = first or {count: [world for world, _ in found] for count, found in drawn.items()}
        scores = {
            count: [scored(facts, world.causes, craft) for world, facts in found] for count, found in drawn.items()
        }
        mixed = [item for count, share in MIX.items() for item in scores[count][: round(number * share)]]
        report(words, scores, mixed, seed)
        worlds = [world for found in drawn.values() for world, _ in found]
        wanted, made = (sum(getattr(world, name) for world in worlds) for name in ("wanted", "made"))
        told = [len(facts.present) for found in drawn.values() for _, facts in found]
        print(f"facts about the day made true: {made} of {wanted}; symptoms told, mean: {sum(told) / len(told):.1f}")

    all_answered(first, number, craft, seed)


def all_answered(first, number, craft, seed):
    """The first plates again, and others whose whole day is as the program expects it of their causes: all questions answered.

    Nothing binds the days of the first plates to their causes but the facts that were made true. Half of their yes-or-no facts
    are therefore against it, and to hear them all can mislead.
    """
    rng = random.Random(seed)
    weighed = {count: [draw_world(rng, craft, count, draw_day_as_weighed) for _ in range(number)] for count in MIX}
    ways = {
        "everything asked answered, the first plates again": first,
        "... days as the knowledge weighs them": weighed,
    }
    for words, drawn in ways.items():
        scores = {
            count: [scored(tell_all(world, craft), world.causes, craft) for world in drawn[count]] for count in MIX
        }
        mixed = [item for count, share in MIX.items() for item in scores[count][: round(number * share)]]
        report(words, scores, mixed, seed)
    taken = Counter()
    for world in weighed[1]:
        leading = ranked(believe(tell_all(world, craft), craft))[0]
        if leading != world.causes[0]:
            taken[world.causes[0], leading] += 1
    table(
        f"simulated, everything answered, days as weighed, one cause: {sum(taken.values())} of {number} taken for another",
        ("true cause", "taken for", "plates"),
        [(true, leading, count) for (true, leading), count in taken.most_common(MOST_PAIRS)],
    )


def report(words, scores, mixed, seed):
    rows = []
    for count, found in scores.items():
        within = (
            "-" if count == 1 else with_interval(found, lambda part, count=count: figures.all_within(part, count), seed)
        )
        rows.append(
            (
                f"{count} cause{'s' * (count > 1)}",
                len(found),
                with_interval(found, figures.top1, seed),
                with_interval(found, figures.top3, seed),
                within,
                with_interval(found, lambda part, count=count: figures.recall(part, 3, count), seed),
                figures.brier(found),
                figures.log_score(found),
                with_interval(found, figures.calibration, seed),
            )
        )
    table(
        f"simulated, {words}; top-1 and top-3: any true cause",
        ("", "n", "top-1", "top-3", "all in as many", "recall@3", "Brier", "log score", "calibration"),
        rows,
    )
    mix = ", ".join(f"{share:.0%} with {count}" for count, share in MIX.items())
    table(
        f"simulated, a mixture ({mix}): calibration {with_interval(mixed, figures.calibration, seed)}; claims by band",
        ("said", "claims", "mean claim", "right"),
        figures.by_band(figures.claims_of(mixed)),
    )


def with_interval(found, figure, seed):
    return between(figure(found), figures.interval(found, figure, seed))
