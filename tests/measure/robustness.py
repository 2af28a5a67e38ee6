"""What is lost when the numbers are wrong by chance, and when part of what is told is."""

import math
import random
from dataclasses import replace
from statistics import fmean

from tests.measure import figures
from tests.measure.ready import book_entries, facts_of, plain_craft, scored
from tests.measure.tables import between, table
from tests.measure.worlds import plates as draw_plates

PLATES = 250
NOISE = 0.7  # standard deviation, in log-odds
SCRAMBLED = 0.30
BOUTS = 5  # of noise


def run(knowledge, plates, seed):
    craft = plain_craft(knowledge)
    drawn = draw_plates(random.Random(seed), craft, 1, plates or PLATES)
    told = {
        "simulated, one cause": [(facts, world.causes) for world, facts in drawn],
        "handbook": [
            (facts, entry["expect"]) for entry in book_entries() if (facts := facts_of(entry, knowledge)) is not None
        ],
    }
    noisy = [plain_craft(jittered(knowledge, random.Random(f"{seed} {bout}"))) for bout in range(BOUTS)]
    rows = []
    for name, found in told.items():
        clean = [scored(facts, expect, craft) for facts, expect in found]
        hazy = [[scored(facts, expect, other) for facts, expect in found] for other in noisy]
        mixed = [
            [scored(scrambled(facts, knowledge, rng), expect, craft) for facts, expect in found]
            for rng in (random.Random(f"{seed} scrambled {bout}") for bout in range(BOUTS))
        ]
        rows += [
            (name, "as it is", len(found), *level(clean, [clean], seed)),
            ("", f"log-odds noise {NOISE:g}", len(found), *level(clean, hazy, seed)),
            ("", f"{SCRAMBLED:.0%} of findings scrambled", len(found), *level(clean, mixed, seed)),
        ]
    table(
        f"robustness, mean of {BOUTS} bouts; loss with 95 % intervals over plates",
        ("plates", "", "n", "top-1", "loss", "top-3", "loss", "log score"),
        rows,
    )


def level(clean, bouts, seed):
    """Top-1 and top-3 over all bouts, and what they lose plate by plate."""
    cells = []
    for count in (1, 3):
        pairs = [
            (figures.top([before], count), fmean(figures.top([bout[place]], count) for bout in bouts))
            for place, before in enumerate(clean)
        ]
        lost = [before - after for before, after in pairs]
        loss = "" if bouts == [clean] else between(fmean(lost), figures.interval(lost, fmean, seed))
        cells += [fmean(after for _, after in pairs), loss]
    return (*cells, fmean(figures.log_score(bout) for bout in bouts))


def moved(chance, rng):
    """A chance, its log-odds moved at random."""
    odds = chance / (1 - chance) * math.exp(rng.gauss(0, NOISE))
    return odds / (1 + odds)


def jittered(knowledge, rng):
    """Every link and every leak with a strength of its own, moved at random."""
    strengths = knowledge.strengths
    seen, among = dict(strengths.seen), dict(strengths.among)

    def own(table, word):
        fresh = f"{word}-{len(table)}"
        table[fresh] = moved(table[word], rng)
        return fresh

    causes = {
        name: replace(
            cause,
            symptom=tuple(replace(link, seen=own(seen, link.seen)) for link in cause.symptom),
            check=tuple(replace(link, seen=own(seen, link.seen)) for link in cause.check),
        )
        for name, cause in knowledge.causes.items()
    }
    symptoms = {name: replace(item, among=own(among, item.among)) for name, item in knowledge.symptoms.items()}
    checks = {
        name: replace(check, outcome=tuple(replace(item, among=own(among, item.among)) for item in check.outcome))
        for name, check in knowledge.checks.items()
    }
    return replace(
        knowledge,
        causes=causes,
        symptoms=symptoms,
        checks=checks,
        strengths=replace(strengths, seen=seen, among=among),
    )


def scrambled(facts, knowledge, rng):
    """Some of the answered symptoms replaced by others, at random; told ones stay told and denied ones denied."""
    free = [name for name in knowledge.symptoms if not facts.answered(name)]
    rng.shuffle(free)
    present, absent = {}, set()
    for name, look in facts.present.items():
        if free and rng.random() < SCRAMBLED:
            present[free.pop()] = {}
        else:
            present[name] = look
    for name in sorted(facts.absent):
        absent.add(free.pop() if free and rng.random() < SCRAMBLED else name)
    return replace(facts, present=present, absent=frozenset(absent))
