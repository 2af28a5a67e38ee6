"""Exact chances against counting every way, and what may be said of few plates."""

from itertools import combinations
from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.daybook.small_numbers import bits, chance_words, corrected, parted_by_chance, share_interval


def every_way(first_with, first, second_with, second):
    """The same chance by dealing out every hand."""
    having, total = first_with + second_with, first + second
    hands = [sum(card < first for card in hand) for hand in combinations(range(total), having)]
    ways = {count: hands.count(count) for count in set(hands)}
    return sum(way for way in ways.values() if way <= ways[first_with]) / len(hands)


@given(st.integers(0, 6), st.integers(0, 6), st.data())
def test_exact_chance_is_that_of_every_way_counted(first, second, data):
    first_with, second_with = data.draw(st.integers(0, first)), data.draw(st.integers(0, second))
    chance, least = parted_by_chance(first_with, first, second_with, second)
    assert isclose(chance, every_way(first_with, first, second_with, second), abs_tol=1e-12)
    assert least <= chance + 1e-12


@given(st.integers(0, 40), st.integers(0, 40), st.data())
def test_chance_knows_no_sides(first, second, data):
    first_with, second_with = data.draw(st.integers(0, first)), data.draw(st.integers(0, second))
    here = parted_by_chance(first_with, first, second_with, second)
    assert here == parted_by_chance(second_with, second, first_with, first)
    assert here == parted_by_chance(first - first_with, first, second - second_with, second)


def test_thousands_of_plates_are_no_trouble():
    chance, least = parted_by_chance(700, 1000, 500, 1000)
    assert 0 <= least <= chance < 1e-15


def test_published_table():
    """The lady and her eight cups of tea: all right by chance once in 70 on one side, so twice that on both."""
    assert isclose(parted_by_chance(4, 4, 0, 4)[0], 2 / 70)
    assert isclose(parted_by_chance(3, 4, 1, 4)[0], 34 / 70)


def test_only_looks_that_could_have_told_are_counted():
    hopeless = [(1.0, 0.4)] * 50
    assert corrected([(0.01, 0.001), *hopeless])[0] == 0.01
    assert isclose(corrected([(0.01, 0.001), (0.5, 0.002)])[0], 0.02)


def test_of_things_without_any_part_few_are_called_more_than_a_hint():
    """Over 300 days on which nothing has anything to do with anything, at 20 things looked at a day."""
    import random

    dice = random.Random(7)
    called = 0
    for _ in range(300):
        spoiled = [dice.random() < 0.4 for _ in range(20)]
        looks = []
        for _ in range(20):
            having = [dice.random() < 0.5 for _ in spoiled]
            bad = [has for has, is_bad in zip(having, spoiled, strict=True) if is_bad]
            well = [has for has, is_bad in zip(having, spoiled, strict=True) if not is_bad]
            looks.append(parted_by_chance(sum(bad), len(bad), sum(well), len(well)))
        called += min(corrected(looks)) <= 0.05
    assert called <= 300 * 0.07


@pytest.mark.parametrize(("count", "of"), [(0, 1), (1, 1), (0, 20), (7, 20), (200, 400)])
def test_interval_holds_the_share(count, of):
    least, most = share_interval(count, of)
    assert 0 <= least <= count / of <= most <= 1
    wider = share_interval(count, of)
    assert wider == (least, most)


def test_interval_narrows_with_plates():
    few, many = share_interval(3, 10), share_interval(300, 1000)
    assert many[1] - many[0] < (few[1] - few[0]) / 5


def test_words_grow_weaker_with_chance():
    said = [chance_words(chance, too_few=False) for chance in (0.001, 0.03, 0.2, 0.6)]
    assert len(set(said)) == 4
    assert chance_words(0.001, too_few=True) == "too few plates to tell"


def test_nothing_open_where_one_is_sure():
    assert bits([1.0, 0.0]) == 0
    assert isclose(bits([0.25] * 4), 2)
