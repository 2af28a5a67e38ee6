"""The short numbers for the commonest signs: printed at the foot of the paper sheet, accepted when it is typed in."""

from functools import lru_cache
from types import MappingProxyType

from diagnose.entries.knowledge import Knowledge

COUNT = 20  # judged: as many as the foot of the sheet holds in letters that can be read at the sink
_LETTERS = "ABCDEFGHJKLMNPRTUVWXYZ"  # without those that are taken for a figure or for one another


@lru_cache(maxsize=4)
def codes(knowledge: Knowledge) -> MappingProxyType[int, str]:
    """The number of each of the commonest signs, from 1, in the order in which they come up at work.

    Args:
        knowledge: the craft; the same knowledge gives the same numbers
    """
    shares = _shares(knowledge)
    commonest = sorted(knowledge.symptoms, key=lambda name: (-shares[name], name))[:COUNT]
    steps = list(knowledge.attributes["first_seen"].values) if "first_seen" in knowledge.attributes else []

    def when(name: str) -> tuple[int, str]:
        step = knowledge.symptoms[name].first_seen
        return (steps.index(step) if step in steps else len(steps), name)

    return MappingProxyType(dict(enumerate(sorted(commonest, key=when), start=1)))


def mark(knowledge: Knowledge) -> str:
    """Three letters that tell one legend from another, so that an old sheet is not read by new numbers.

    Args:
        knowledge: the craft
    """
    import hashlib

    seal = hashlib.sha256("\n".join(f"{code} {name}" for code, name in codes(knowledge).items()).encode()).digest()
    return "".join(_LETTERS[byte % len(_LETTERS)] for byte in seal[:3])


def _shares(knowledge: Knowledge) -> dict[str, float]:
    """About how often each sign shows on a spoiled plate: unexplained, and by every cause that shows it."""
    strengths = knowledge.strengths
    shares = {name: strengths.among[symptom.among] for name, symptom in knowledge.symptoms.items()}
    for cause in knowledge.causes.values():
        for link in cause.symptom:
            shares[link.symptom] += strengths.usual[cause.usual] * strengths.seen[link.seen]
    return shares
