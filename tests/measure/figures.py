"""The figures of merit, worked out on plain lists: nothing here knows what a plate is."""

import math
import random
from collections import Counter
from itertools import combinations, pairwise
from statistics import fmean
from typing import NamedTuple

from diagnose.bands import BANDS, band

FLOOR = 1e-6  # least share of the belief the log score counts with
LEAST_CLAIM = 0.05  # a cause named with less than this is no claim
MOST_BINS, LEAST_IN_BIN = 10, 15
RESAMPLES = 400
MOST_TRIED = 24  # answers to one look among which the best three are sought by trying all


class Score(NamedTuple):
    """How one plate was answered.

    Args:
        ranks: place of each expected cause, the best first; () for a plate that was refused
        share: share of the belief that lies on the expected causes together
        brier: sum over all causes of the squared error
        claims: (probability, whether it is an expected cause), of every cause claimed at all
    """

    ranks: tuple[int, ...]
    share: float
    brier: float
    claims: tuple[tuple[float, bool], ...]


REFUSED = Score((), 0.0, math.nan, ())


def score(chances, shares, expect):
    """One answer against the causes expected: `chances` by cause, `shares` of a belief that adds up to one."""
    places = sorted(chances, key=lambda cause: (-chances[cause], cause))
    return Score(
        tuple(place for place, cause in enumerate(places, 1) if cause in expect),
        sum(shares.get(cause, 0.0) for cause in expect),
        sum((chance - (cause in expect)) ** 2 for cause, chance in chances.items()),
        tuple((chance, cause in expect) for cause, chance in chances.items() if chance >= LEAST_CLAIM),
    )


def top(scores, count):
    """Share of plates with an expected cause among the first so many."""
    return fmean(bool(item.ranks) and item.ranks[0] <= count for item in scores)


def top1(scores):
    return top(scores, 1)


def top3(scores):
    return top(scores, 3)


def top10(scores):
    return top(scores, 10)


def all_within(scores, count):
    """Share of plates with every expected cause among the first so many."""
    return fmean(bool(item.ranks) and item.ranks[-1] <= count for item in scores)


def recall(scores, count, wanted):
    """Share of the wanted causes of a plate that are among the first so many."""
    return fmean(sum(rank <= count for rank in item.ranks) / wanted for item in scores)


def mean_reciprocal_rank(scores):
    return fmean(1 / item.ranks[0] if item.ranks else 0.0 for item in scores)


def log_score(scores):
    return fmean(-math.log(max(FLOOR, item.share)) for item in scores)


def brier(scores):
    return fmean(item.brier for item in scores)


def claims_of(scores):
    return [claim for item in scores for claim in item.claims]


def equal_mass(claims):
    """Claims in order, cut into bins of nearly the same number."""
    ordered = sorted(claims)
    bins = max(1, min(MOST_BINS, len(ordered) // LEAST_IN_BIN))
    edges = [len(ordered) * number // bins for number in range(bins + 1)]
    return [ordered[low:high] for low, high in pairwise(edges) if high > low]


def calibration_error(claims):
    """Mean gap between what was claimed and what was so, over bins of equal mass; nan without claims."""
    if not claims:
        return math.nan
    return sum(abs(sum(claim - right for claim, right in part)) for part in equal_mass(claims)) / len(claims)


def calibration(scores):
    return calibration_error(claims_of(scores))


def by_band(claims):
    """For each verbal band that was used: (words, claims, mean claim, share that was right)."""
    sorted_in = {words: [] for _, words in BANDS}
    for claim in claims:
        sorted_in[band(claim[0])].append(claim)
    return [
        (words, len(part), fmean(claim for claim, _ in part), fmean(right for _, right in part))
        for words, part in sorted_in.items()
        if part
    ]


def interval(cases, figure, seed=0):
    """The 95 % interval of a figure, by drawing the cases anew with replacement."""
    rng = random.Random(seed)
    values = [figure(rng.choices(cases, k=len(cases))) for _ in range(RESAMPLES)]
    known = sorted(value for value in values if not math.isnan(value))
    if not known:
        return math.nan, math.nan
    return known[int(0.025 * len(known))], known[min(len(known) - 1, int(0.975 * len(known)))]


def auroc(higher, lower):
    """Chance that a value drawn from the first list is above one from the second; a tie counts half."""
    values = sorted([(value, 1) for value in higher] + [(value, 0) for value in lower])
    ranks, start = 0.0, 0
    while start < len(values):
        end = start
        while end < len(values) and values[end][0] == values[start][0]:
            end += 1
        ranks += (start + 1 + end) / 2 * sum(mark for _, mark in values[start:end])
        start = end
    count = len(higher)
    return (ranks - count * (count + 1) / 2) / (count * len(lower))


def share_at_least(values, threshold):
    return fmean(value >= threshold for value in values)


def found_at(higher, lower, false_alarms):
    """Share of the first list above a threshold that so many of the second pass."""
    allowed = int(false_alarms * len(lower))
    threshold = sorted(lower, reverse=True)[allowed]
    return fmean(value > threshold for value in higher)


def ceiling(cases, count):
    """Best possible share of hits when each look gets one answer of so many causes.

    Args:
        cases: (look, expected causes); looks that compare equal must be answered alike
        count: how many causes an answer may name
    """
    alike = {}
    for look, expect in cases:
        alike.setdefault(look, []).append(frozenset(expect))
    return sum(_most_hit(wanted, count) for wanted in alike.values()) / len(cases)


def _most_hit(wanted, count):
    """Most of the sets that an answer of so many causes can meet: by trying all, or the commonest each time if too many."""
    named = Counter(cause for expect in wanted for cause in expect)
    causes = sorted(named, key=lambda cause: (-named[cause], cause))
    if len(causes) <= count:
        return len(wanted)
    if len(causes) <= MOST_TRIED:
        return max(sum(bool(expect & set(answer)) for expect in wanted) for answer in combinations(causes, count))
    left, hit = list(wanted), 0
    for _ in range(count):
        best = Counter(cause for expect in left for cause in expect).most_common(1)
        if best:
            hit += best[0][1]
            left = [expect for expect in left if best[0][0] not in expect]
    return hit


def entropy(shares):
    return -sum(share * math.log2(share) for share in shares if share > 0)
