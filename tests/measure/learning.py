"""Simulated studios whose causes are not as common as the books say, and change at one plate: how well are their rates learned?

The book of each studio is kept as a person would keep it: plates with what was told, what was tried and how the next plate came
out, checks that were made; only what `confirmed_cause` finds confirmed there counts. Nothing is told of the truth.
"""

import math
import random
from dataclasses import replace
from statistics import fmean

from diagnose.advice.planning import plan
from diagnose.daybook import learning
from diagnose.daybook.confirming import Confirmation, confirmed_by_facts
from diagnose.reasoning.model import scaled_odds
from diagnose.reasoning.weighing import fire, gather, weigh
from tests.measure.ready import plain_craft
from tests.measure.tables import between, table
from tests.measure.worlds import draw_world, tell

STUDIOS = 24
SHIFT = 1.3  # standard deviation of the logarithm by which a studio's rates differ from the books'
DRIFT_AT = 200  # confirmed plates
MARKS = (25, 50, 100, 200, 225, 250, 300, 350)  # confirmed plates after which the rates are looked at
RESAMPLES = 400
TESTED = 150  # plates each set of rates is tried on
STEPS = 3  # things tried at most before a person gives up or begins anew
FOLLOWS = 0.7  # how often a person does what was named first; else something of the plan
MISREPORTED = 0.05  # how often the next plate is told wrongly
FRESH_FAULT = 0.12  # how often a plate whose faults are gone is spoiled by something new
SLIP_GONE = 0.7  # a one-off slip does not come twice
SAYS_SO, SAYS_RIGHT = 0.05, 0.9  # how often a person says what it was, and is right
MIX = (0.70, 0.25, 0.05)  # plates with one, two and three causes


def studio(rng, craft):
    """The knowledge weighed with one studio's true rates."""
    base = craft.model.base
    shifted = {cause: odds / (1 + odds) * math.exp(rng.gauss(0, SHIFT)) for cause, odds in base.items()}
    total = sum(shifted.values())
    expect = craft.knowledge.strengths.expect.causes_per_plate
    shares = {cause: min(0.6, share / total * expect) for cause, share in shifted.items()}
    return with_base(craft, scaled_odds(shares, expect))


def with_base(craft, base):
    return replace(craft, model=craft.model._replace(base=base))


def shares_in(craft):
    chances = {cause: odds / (1 + odds) for cause, odds in craft.model.base.items()}
    total = sum(chances.values())
    return {cause: chance / total for cause, chance in chances.items()}


def told_plate(rng, true):
    """A spoiled plate of the studio and what is told of it."""
    while True:
        world = draw_world(rng, true, rng.choices((1, 2, 3), MIX)[0])
        facts = tell(rng, world, true)
        if facts is not None:
            return world, facts


def worked_on(rng, world, facts, craft):
    """What stands in the book in the end: checks made, remedies tried, how the next plates came out.

    Args:
        craft: what the person's program weighs with; a person follows it, or does something else of its plan
    """
    left = set(world.causes)
    for _ in range(STEPS):
        firing = fire(facts, craft, craft.bulk)
        posterior = weigh(gather(facts, firing, craft), craft)
        chosen = plan(facts, posterior, firing, craft, "find-out")
        others = [*chosen.together, *chosen.then]
        action = chosen.first if rng.random() < FOLLOWS or not others else rng.choice(others)
        if action is None:
            break
        if action.kind == "check":
            facts = replace(facts, outcomes={**facts.outcomes, action.id: world.outcomes[action.id]})
            continue
        cures = craft.model.cures.get(action.id, {})
        before = len(left)
        slips = {cause for cause in left if craft.knowledge.causes[cause].scope == "this-plate"}
        left = {
            cause
            for cause in left
            if rng.random() >= cures.get(cause, 0.0) and not (cause in slips and rng.random() < SLIP_GONE)
        }
        good = not left and rng.random() >= FRESH_FAULT
        result = "cured" if good else "better" if len(left) < before and rng.random() < 0.5 else "no-change"
        if rng.random() < MISREPORTED:
            result = rng.choice([other for other in ("cured", "better", "no-change") if other != result])
        facts = replace(facts, tried=(*facts.tried, (action.id, result)))
        if result == "cured":
            break
    return facts


def said(rng, world, craft):
    """What the person says it was, now and then."""
    if rng.random() >= SAYS_SO:
        return None
    return Confirmation(world.causes[0] if rng.random() < SAYS_RIGHT else rng.choice(list(craft.model.base)), "person")


def realistic(rng, world, facts, used, books):
    facts = worked_on(rng, world, facts, used)
    return said(rng, world, used) or confirmed_by_facts(facts, books)


def oracle(rng, world, facts, used, books):
    return Confirmation(world.causes[0], "person")


def confirmed_plates(rng, trues, books, confirm, marks):
    """Confirmed causes in order until the last mark, and for each mark how many plates it took and how many were confirmed rightly.

    The person's program weighs with what it has learned so far; what counts as confirmed is judged with the books' rates alone.
    """
    found, right, plates, at, used = [], 0, 0, {}, books
    while len(found) < marks[-1]:
        world, facts = told_plate(rng, trues[len(found) >= DRIFT_AT])
        plates += 1
        item = confirm(rng, world, facts, used, books)
        if item is None:
            continue
        found.append(item.cause)
        right += item.cause in world.causes
        if len(found) % 10 == 0:
            used = learned(books, found)
        if len(found) in marks:
            at[len(found)] = plates, right
    return found, at


def learned(books, found, weigh_books=learning.BOOKS_WEIGH, half_after=learning.HALF_AFTER):
    """The knowledge weighed with what was learned from confirmed causes, the oldest first."""
    rates = learning.rates_from(found, books.knowledge, books_weigh=weigh_books, half_after=half_after)
    return learning.with_rates(books, rates)


def divergence(true, other):
    """How far other shares are from the true ones [nat]."""
    return sum(share * math.log(share / other[cause]) for cause, share in true.items())


class Trial:
    """Plates of one studio, weighed with any rates."""

    def __init__(self, rng, true, books):
        drawn = [told_plate(rng, true) for _ in range(TESTED)]
        self.plates = [(world, gather(facts, fire(facts, books, books.bulk), books)) for world, facts in drawn]

    def top1(self, craft):
        right = 0
        for world, evidence in self.plates:
            causes = weigh(evidence, craft).causes
            right += max(causes, key=lambda cause: (causes[cause], cause)) in world.causes
        return right / len(self.plates)


class Studio:
    """One studio, before and after its drift: the truth, what was confirmed, and how well any rates do there."""

    def __init__(self, books, confirm, seed):
        rng = random.Random(seed)
        self.books, self.trues = books, [studio(rng, books) for _ in range(2)]
        self.found, self.at = confirmed_plates(rng, self.trues, books, confirm, MARKS)
        self.trials = [Trial(rng, true, books) for true in self.trues]
        self.book = [self.figures(books, era) for era in range(2)]
        self.true = [self.figures(self.trues[era], era) for era in range(2)]

    def figures(self, craft, era):
        """Divergence from the true rates [nat], and top-1."""
        return divergence(shares_in(self.trues[era]), shares_in(craft)), self.trials[era].top1(craft)

    def after(self, mark, **settings):
        era = int(mark > DRIFT_AT)
        return self.figures(learned(self.books, self.found[:mark], **settings), era)


def closed(studios, mark, figures, place):
    """Share of the way from the books' rates to the true ones, of all studios together."""
    era = int(mark > DRIFT_AT)
    books, true = (fmean(getattr(item, name)[era][place] for item in studios) for name in ("book", "true"))
    return (fmean(found[place] for found in figures) - books) / (true - books) if true != books else math.nan


def closings(studios, mark, seed, **settings):
    """For divergence and for top-1: mean of the figure, share of the gap closed, and its interval over studios."""
    figures = [item.after(mark, **settings) for item in studios]
    rng = random.Random(seed)
    picks = [rng.choices(range(len(studios)), k=len(studios)) for _ in range(RESAMPLES)]
    found = []
    for place in range(2):
        shares = sorted(closed([studios[n] for n in pick], mark, [figures[n] for n in pick], place) for pick in picks)
        bounds = shares[round(0.025 * RESAMPLES)], shares[round(0.975 * RESAMPLES) - 1]
        found.append((fmean(item[place] for item in figures), closed(studios, mark, figures, place), bounds))
    return found


SETTINGS = {
    "as it is": {},
    "no decay": {"half_after": 1e9},
    "books worth 20, half-life 80": {"weigh_books": 20.0, "half_after": 80.0},
}
WAYS = {"confirmed as it would be": realistic, "every cause told by an oracle": oracle}
FIRST_SEED = 20_000  # settings were chosen on studios of seeds 1000 to 1011


def run(knowledge, plates, seed):
    """The tables; `plates` is the number of studios."""
    books, number = plain_craft(knowledge), plates or STUDIOS
    found = {}
    for words, confirm in WAYS.items():
        studios = [Studio(books, confirm, FIRST_SEED + 1000 * seed + place) for place in range(number)]
        report(words, studios, seed)
        found[words] = studios
    return found


def report(words, studios, seed):
    rows = []
    for mark in MARKS:
        taken, right = (fmean(item.at[mark][place] for item in studios) for place in range(2))
        rows.append((f"{mark}{' (after the drift)' if mark > DRIFT_AT else ''}", taken, right / mark))
    table(
        f"learning, {words}: {len(studios)} studios",
        ("confirmed plates", "spoiled plates it took", "rightly confirmed"),
        rows,
    )
    rows = []
    for mark in MARKS:
        era = int(mark > DRIFT_AT)
        for name, settings in SETTINGS.items():
            (apart, share, bounds), (top, top_share, top_bounds) = closings(studios, mark, seed, **settings)
            rows.append(
                (
                    f"{mark} {name}",
                    fmean(item.book[era][0] for item in studios),
                    apart,
                    between(share, bounds),
                    *(fmean(getattr(item, side)[era][1] for item in studios) for side in ("book", "true")),
                    top,
                    between(top_share, top_bounds),
                )
            )
    head = ("", "books apart", "learned apart", "gap closed", "top-1 books", "top-1 true", "learned", "gap closed")
    table(f"learning, {words}: how far from the true rates [nat], and top-1; drift after {DRIFT_AT}", head, rows)
