"""The knowledge as it is, held against slips by plates on which one link decides (see tests/measure/guards.py)."""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if str(ROOT) not in sys.path:  # so that the parts find each other, from wherever pytest was started
    sys.path.insert(0, str(ROOT))

from diagnose.facts import understand  # noqa: E402
from diagnose.plate import Plate  # noqa: E402
from tests.measure.ready import believe, guards, plain_craft, ranked  # noqa: E402


def test_every_guard_holds(knowledge):
    craft = plain_craft(knowledge)
    kept = guards()
    assert len(kept) > 300
    wrong = [
        f"{told}: {first} was first, now {now}"
        for told, first in kept
        if (now := ranked(believe(understand(Plate.read(told), knowledge), craft))[0]) != first
    ]
    assert not wrong, "\n".join(
        [f"{len(wrong)} of {len(kept)}; `python -m tests.measure.guards` makes them again", *wrong[:20]]
    )
