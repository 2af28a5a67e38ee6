"""Plates drawn from the knowledge itself, with one, two and three causes: is the reasoning right, and honest about itself?"""

import random

from tests.measure import figures
from tests.measure.ready import plain_craft, scored
from tests.measure.tables import between, table
from tests.measure.worlds import plates as draw_plates

PLATES = 300  # of each number of causes
MIX = {1: 0.70, 2: 0.25, 3: 0.05}
TELLING = {
    "85 % told, 30 % denied": False,
    "told as it strikes the eye, nothing denied": True,
}


def run(knowledge, plates, seed):
    number = plates or PLATES
    craft = plain_craft(knowledge)
    for words, by_notice in TELLING.items():
        rng = random.Random(seed)
        drawn = {count: draw_plates(rng, craft, count, number, by_notice=by_notice) for count in MIX}
        scores = {
            count: [scored(facts, world.causes, craft) for world, facts in found] for count, found in drawn.items()
        }
        mixed = [item for count, share in MIX.items() for item in scores[count][: round(number * share)]]
        report(words, scores, mixed, seed)
        worlds = [world for found in drawn.values() for world, _ in found]
        wanted, made = (sum(getattr(world, name) for world in worlds) for name in ("wanted", "made"))
        told = [len(facts.present) for found in drawn.values() for _, facts in found]
        print(f"facts about the day made true: {made} of {wanted}; symptoms told, mean: {sum(told) / len(told):.1f}")


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
