"""Things a sum need not be told: 0 stands for "not told" inside it."""

from diagnose.bench.sum import Asked, BenchError, MoreWantedError
from diagnose.bench.wording import in_words


def maybe(name: str, ask: str, unit: str, most: float, because: str = "left out, it has not changed") -> Asked:
    """A question that may be left open.

    Args:
        name: as on the command line
        ask: the question, without its question mark
        unit: of the answer
        most: the most that can be right [unit]
        because: why it may be left out
    """
    return Asked(
        name=name, ask=f"{ask}?", unit=unit, range=(0.0, most), usual=0.0, usual_because=because, if_known=True
    )


def told(name: str, value: float, least: float, unit: str) -> bool:
    """Whether such a question was answered.

    Args:
        name: as on the command line
        value: the answer, 0 where there is none [unit]
        least: the least that can be right [unit]
        unit: of the answer

    Raises:
        BenchError: answered with less than can be right

    >>> told("time", 0, 0.1, "s"), told("time", 2, 0.1, "s")
    (False, True)
    """
    if 0 < value < least:
        raise BenchError(
            f"{name}: {in_words(value, unit)} cannot be right; {in_words(least, unit)} or more is accepted"
        )
    return value > 0


def pair_told(name: str, before: float, now: float, least: float, unit: str) -> bool:
    """Whether both of a pair were answered, what was before and what is now.

    Args:
        name: of the first; the second is called the same with "new_" before it
        before: the first answer, 0 where there is none [unit]
        now: the second answer, 0 where there is none [unit]
        least: the least that can be right [unit]
        unit: of both

    Raises:
        MoreWantedError: only one of them was answered
        BenchError: one was answered with less than can be right

    >>> pair_told("stop", 4, 5.6, 0.5, "f-number")
    True
    """
    both = told(name, before, least, unit), told(f"new_{name}", now, least, unit)
    if both[0] != both[1]:
        missing = f"new_{name}" if both[0] else name
        raise MoreWantedError(f"{missing} is missing: tell {name} and new_{name}, or leave both out")
    return both[0]
