"""A day of plates against every history added up one by one; and what must hold of any day."""

import math
import random
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from diagnose.reasoning.serial import LEAST_AHEAD, MOST_AHEAD, ahead, weigh_day  # noqa: E402
from tests.reasoning.serial_longhand import longhand, plate, random_case  # noqa: E402

SMALL = 1e-12


def same(found, wanted):
    assert found == pytest.approx(wanted, rel=1e-10, abs=SMALL)
    assert abs(found - wanted) <= SMALL


@pytest.mark.parametrize("seed", range(120))
def test_every_figure_equals_the_sum_over_all_histories(seed):
    craft, day, changes = random_case(random.Random(seed))
    found, wanted = weigh_day(day, changes, craft), longhand(craft, day, changes)
    same(found.none_standing, wanted.none)
    assert {(item.cause, item.name) for item in found.standing} == set(wanted.at_work)
    for item in found.standing:
        key = (item.cause, item.name)
        same(item.at_work, wanted.at_work[key])
        for mine, theirs in ((item.onset, wanted.onset[key]), (item.active, wanted.active[key])):
            assert len(mine) == len(day)
            for one, other in zip(mine, theirs, strict=True):
                same(one, other)
    for t, chances in enumerate(found.plates):
        if day[t].good:
            assert chances == {}
            continue
        for slip, chance in wanted.on_plate[t].items():
            same(chances.pop(slip), chance)
        for (cause, _), active in ((k, v) for k, v in wanted.active.items() if v[t] > 0):
            same(chances.pop(cause), active[t])
        assert not chances
    untold = longhand(craft, day, changes, told=False)
    assert found.log_likelihood == pytest.approx(math.log(wanted.total / untold.total), abs=1e-11)


@pytest.mark.parametrize("seed", range(60))
def test_what_is_carried_ahead_equals_the_sum_over_all_histories(seed):
    craft, day, changes = random_case(random.Random(1000 + seed), plates=3)
    uses = {"bath": random.Random(seed).choice(["", "b"])}
    found = ahead(day, changes, uses, craft)
    bare = [shown._replace(evidence=shown.evidence._replace(shifts={})) for shown in day]
    row = [*bare, plate(uses=uses)]
    after, before = longhand(craft, row, changes), longhand(craft, row, (), told=False)
    for (cause, name), active in after.active.items():
        if craft.knowledge.causes[cause].stands_in and uses.get(craft.knowledge.causes[cause].stands_in, "") == name:
            wanted = log_odds(active[-1]) - log_odds(before.active[cause, name][-1])
            wanted = max(-MOST_AHEAD, min(MOST_AHEAD, wanted))
            assert (cause in found) == (abs(wanted) >= LEAST_AHEAD)
            assert found.pop(cause, wanted) == pytest.approx(wanted, abs=1e-10)
    assert not found


def log_odds(chance):
    return math.log(chance / (1 - chance))
