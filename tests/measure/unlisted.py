"""Does the tool notice that the cause is one it does not know? Each plate is put to the knowledge with and without its cause."""

import random

from diagnose.phrases import UNLISTED_HIGH, UNLISTED_SOME
from diagnose.reasoning.asking import UNLISTED, shares_of, unlisted
from tests.measure.figures import auroc, found_at, share_at_least
from tests.measure.ready import believe, book_entries, facts_of, plain_craft, without_causes
from tests.measure.tables import table
from tests.measure.worlds import plates as draw_plates

PLATES = 300
ALLOWED = 0.05  # false alarms


def mean_leak(posterior):
    return sum(posterior.leaks.values()) / len(posterior.leaks) if posterior.leaks else 0.0


def not_leading(posterior):
    return 1 - max(posterior.causes.values(), default=0.0)


def share_not_leading(posterior):
    """One less the leading cause's share of the belief in listed causes."""
    shares = {cause: share for cause, share in shares_of(posterior).items() if cause != UNLISTED}
    return 1 - max(shares.values(), default=0.0) / (sum(shares.values()) or 1.0)


def none_at_work(posterior):
    """Chance that no listed cause is at work, as if they were independent of each other."""
    chance = 1.0
    for value in posterior.causes.values():
        chance *= 1 - value
    return chance


MEASURES = {
    "unlisted, as used": unlisted,
    "mean leak share": mean_leak,
    "greatest leak share": lambda posterior: max(posterior.leaks.values(), default=0.0),
    "least leak share": lambda posterior: min(posterior.leaks.values(), default=0.0),
    "1 - leading chance": not_leading,
    "1 - leading share": share_not_leading,
    "leak x (1 - leading)": lambda posterior: mean_leak(posterior) * not_leading(posterior),
    "leak + (1 - leading)": lambda posterior: mean_leak(posterior) + not_leading(posterior),
    "no listed cause": none_at_work,
    "expected causes, less": lambda posterior: -sum(posterior.causes.values()),
}


def run(knowledge, plates, seed):
    craft = plain_craft(knowledge)
    number = plates or PLATES
    for words, by_notice in (("85 % told, 30 % denied", False), ("told by notice", True)):
        drawn = draw_plates(random.Random(seed), craft, 1, number, by_notice=by_notice)
        report(f"simulated plates with one cause, {words}", [(facts, world.causes) for world, facts in drawn], craft)
    books = [(facts_of(entry, knowledge), entry["expect"]) for entry in book_entries()]
    report("book entries", [(facts, expect) for facts, expect in books if facts is not None and facts.present], craft)


def report(words, told, craft):
    without = {}
    listed, missing = [], []
    for facts, expect in told:
        gone = frozenset(expect)
        if gone not in without:
            without[gone] = plain_craft(without_causes(craft.knowledge, gone))
        listed.append(believe(facts, craft))
        missing.append(believe(facts, without[gone]))
    rows = []
    for name, measure in MEASURES.items():
        high, low = [measure(item) for item in missing], [measure(item) for item in listed]
        rows.append((name, auroc(high, low), found_at(high, low, ALLOWED)))
    table(
        f"unlisted, {words} ({len(told)}): the plate without its cause against the plate with it",
        ("measure", "AUROC", f"found at {ALLOWED:.0%} false alarms"),
        rows,
    )
    table(
        "unlisted, at the thresholds of the screens",
        ("threshold", "found", "false alarms"),
        [
            (name, *(share_at_least([unlisted(item) for item in part], limit) for part in (missing, listed)))
            for name, limit in (("high", UNLISTED_HIGH), ("some", UNLISTED_SOME))
        ],
    )
