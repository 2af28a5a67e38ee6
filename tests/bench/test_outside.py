"""Every sum of the bench against values from outside: tables, books, worked examples, reference libraries.

`python -m pytest tests/bench/test_outside.py -m slow -n 0 -s` prints how well each agrees.
"""

import pytest

from tests.bench.outside import acids, air, exposure, recipes, silver_bath, vapours_and_fixers

LEAST_VALUES = 60
TOPICS = (acids, air, exposure, recipes, silver_bath, vapours_and_fixers)
VALUES = [value for topic in TOPICS for value in topic.OUTSIDE]


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.what)
def test_it_gives_what_the_source_says(value):
    assert value.ours() == pytest.approx(value.expected, abs=value.within), value.source


def test_there_are_enough_and_every_one_names_its_source():
    assert len({(value.what, value.source) for value in VALUES}) == len(VALUES)
    assert all(len(value.source) > 5 for value in VALUES)
    assert sum(value.seen for value in VALUES) >= LEAST_VALUES


@pytest.mark.slow
def test_how_well_they_agree():
    for value in VALUES:
        ours = value.ours()
        print(
            f"{value.what}: {value.expected:g}, ours {ours:.5g}, off by {ours - value.expected:+.2g} ({value.source})"
        )
