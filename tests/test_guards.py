"""The knowledge as it is, held against slips by plates on which one link decides (see tests/measure/guards.py)."""

from diagnose.facts import understand
from diagnose.plate import Plate
from tests.measure.guards import guards
from tests.measure.ready import believe, plain_craft, ranked


def test_every_guard_holds(knowledge):
    craft = plain_craft(knowledge)
    kept = guards()
    assert len(kept) > 300
    wrong = [
        f"{told}: {first} was first, now {now}"
        for told, first in kept
        if (now := ranked(believe(understand(Plate.read(told), knowledge), craft))[0]) != first
    ]
    assert not wrong, "\n".join([f"{len(wrong)} of {len(kept)}; `python -m tests.measure.guards` makes them again", *wrong[:20]])
