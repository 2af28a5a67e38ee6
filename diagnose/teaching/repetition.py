"""Spaced repetition of what was missed.

The rule: what was missed comes back after 3 plates. Each time it is then found, the wait grows threefold: 9, 27, 81 plates; found
after the last wait, it is learned and comes back no more. Missed again, it begins anew at 3. Waits are counted in plates,
because a student who practises twice a month should not meet everything at once.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

WAITS = (3, 9, 27, 81)  # plates: judged

Kind = Literal["cause", "sign"]


class Item(NamedTuple):
    """Something that can be missed.

    Args:
        kind: "cause" or "sign"
        name: of the cause, or of the symptom
    """

    kind: Kind
    name: str


class Waiting(NamedTuple):
    """When something comes back.

    Args:
        step: which of the waits it is in
        due: it comes back once so many plates are done
    """

    step: int
    due: int


@dataclass(frozen=True)
class Memory:
    """What a student has missed and not yet learned.

    Args:
        done: plates answered so far
        waiting: what comes back, and when
    """

    done: int = 0
    waiting: dict[Item, Waiting] = field(default_factory=dict)

    def after(self, found: Iterable[Item], missed: Iterable[Item]) -> "Memory":
        """What is remembered after one plate more.

        Args:
            found: what the student found of what was there
            missed: what the student missed of it
        """
        done = self.done + 1
        waiting = dict(self.waiting)
        for item in found:
            if item in waiting:
                step = waiting.pop(item).step + 1
                if step < len(WAITS):
                    waiting[item] = Waiting(step, done + WAITS[step])
        for item in missed:
            waiting[item] = Waiting(0, done + WAITS[0])
        return Memory(done, waiting)

    def due(self, known: Callable[[Item], bool] = lambda _: True) -> Item | None:
        """What comes back now: the longest due, then the first by name; None where nothing is due.

        Args:
            known: whether a plate can be made of it; knowledge changes, and a file of answers stays
        """
        ready = sorted((when.due, item) for item, when in self.waiting.items() if when.due <= self.done and known(item))
        return ready[0][1] if ready else None
