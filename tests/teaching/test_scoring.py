"""The score is proper: whatever one believes, nothing earns more on average than saying just that."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.teaching.scoring import HOW_SURE, MOST_NAMED, Named, by_belief, marks, points, score

CAUSES = tuple("abcdef")
sure = st.floats(0, 1)
truths = st.sets(st.sampled_from(CAUSES), max_size=3).map(frozenset)
# What somebody believes: any joint belief about which causes are at work together, not only independent ones.
beliefs = st.dictionaries(truths, st.floats(0.01, 1), min_size=1, max_size=8).map(
    lambda weights: {truth: weight / sum(weights.values()) for truth, weight in weights.items()}
)
reports = st.lists(st.tuples(st.sampled_from(CAUSES), sure), max_size=MOST_NAMED, unique_by=lambda pair: pair[0]).map(
    lambda pairs: tuple(Named(*pair) for pair in pairs)
)


def expected(report, belief):
    return sum(weight * score(report, truth) for truth, weight in belief.items())


def honest(belief):
    """The causes believed most, each with the chance it is given."""
    chances = {cause: sum(weight for truth, weight in belief.items() if cause in truth) for cause in CAUSES}
    return by_belief(sorted(chances.items(), key=lambda pair: -pair[1]))


@given(beliefs, reports)
def test_no_report_beats_the_honest_one(belief, report):
    assert expected(honest(belief), belief) >= expected(report, belief) - 1e-4


@given(sure, sure)
def test_any_other_number_earns_less_by_the_square_of_what_it_is_off(believed, said):
    def mean(report):
        return believed * points(report, right=True) + (1 - believed) * points(report, right=False)

    assert mean(believed) - mean(said) == pytest.approx(100 * (believed - said) ** 2, abs=1e-4)


@given(sure)
def test_of_the_words_the_nearest_is_best(believed):
    def mean(report):
        return believed * points(report, right=True) + (1 - believed) * points(report, right=False)

    nearest = min(HOW_SURE.values(), key=lambda chance: abs(chance - believed))
    assert mean(nearest) >= max(map(mean, HOW_SURE.values())) - 1e-4


@given(beliefs)
def test_naming_one_cause_more_with_ones_own_chance_never_costs(belief):
    report = honest(belief)
    gains = [expected(report[:count], belief) for count in range(len(report) + 1)]
    assert all(later >= earlier - 1e-4 for earlier, later in pairwise(gains))


@given(reports, truths)
def test_the_parts_add_up_and_stay_in_their_bounds(report, truth):
    total = score(report, truth)
    assert total == pytest.approx(sum(mark.points for mark in marks(report, truth)))
    assert -100 * len(report) <= total <= 100 * len(truth)
    assert score((), truth) == 0


def test_a_cause_named_twice_counts_once():
    twice = (Named("a", 0.9), Named("a", 0.9))
    assert score(twice, {"a"}) == score(twice[:1], {"a"})


def test_this_test_would_see_an_improper_score():
    """A score that pays the chance itself rewards whoever overstates it."""
    believed = 0.6
    assert believed * 1.0 + (1 - believed) * 0.0 > believed * 0.6 + (1 - believed) * 0.4
    assert points(1.0, right=True) * believed + points(1.0, right=False) * (1 - believed) < points(
        0.6, right=True
    ) * believed + points(0.6, right=False) * (1 - believed)
