"""A day of plates against every history added up one by one; and what must hold of any day."""

import math
import random
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from diagnose.reasoning.serial import Change, ahead, weigh_day  # noqa: E402
from diagnose.reasoning.weighing import Finding  # noqa: E402
from tests.reasoning.serial_longhand import craft_of, longhand, plate, random_case  # noqa: E402

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
