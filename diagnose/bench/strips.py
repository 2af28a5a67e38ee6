"""The sum `test-strip`: several exposures on one plate, by pulling the slide in steps."""

from itertools import pairwise

from diagnose.bench.stops import LONG, seconds_to_give
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked
from diagnose.bench.wording import about, in_words

FEWEST, MOST = 2, 10
LONGEST = 3600.0  # s


def exposures(shortest: float, strips: float, step: float) -> tuple[float, ...]:
    """What every strip gets in all, shortest first.

    Args:
        shortest: exposure of the last strip laid bare [s]
        strips: how many
        step: from strip to strip [stops]

    Returns:
        the exposures [s]

    Raises:
        BenchError: not two to ten whole strips, no step, or more than an hour

    Source: exact.

    >>> exposures(2, 5, 1)
    (2.0, 4.0, 8.0, 16.0, 32.0)
    """
    if strips != round(strips) or not FEWEST <= strips <= MOST:
        raise BenchError(f"{strips:g} strips: a whole number from {FEWEST} to {MOST} is accepted")
    if not (shortest > 0 and step > 0):
        raise BenchError("shortest exposure and step must be more than 0")
    every = tuple(shortest * 2.0 ** (step * number) for number in range(int(strips)))
    if every[-1] > LONGEST:
        raise BenchError(
            f"the longest strip would take {about(every[-1], 's')}, and up to {in_words(LONGEST, 's')} is accepted; "
            "take fewer strips or a smaller step"
        )
    return every


def waits(shortest: float, strips: float, step: float) -> tuple[float, ...]:
    """How long to wait after each pull of the slide, the cap at last in place of a pull.

    Args:
        shortest: exposure of the last strip laid bare [s]
        strips: how many
        step: from strip to strip [stops]

    Returns:
        the waits in order [s]; their sum is the longest exposure

    Raises:
        BenchError: as `exposures`

    Source: exact: every strip keeps what it has and gets every later wait too.

    >>> waits(2, 5, 1)
    (16.0, 8.0, 4.0, 2.0, 2.0)
    """
    every = exposures(shortest, strips, step)
    return (*(longer - shorter for longer, shorter in pairwise(reversed(every))), every[0])


def _work(shortest: float, strips: float, step: float) -> Worked:
    every = exposures(shortest, strips, step)[::-1]  # as they are laid bare
    steps = waits(shortest, strips, step)
    longest = every[0]
    # The clock runs through, so that rounding a wait does not push on all the later ones.
    marks = [longest - gets for gets in every[1:]]
    pulls = ", ".join(_shown(mark) for mark in marks)
    gets = ", ".join(_shown(seconds) for seconds in every)
    beware = ["A knock while pulling shifts the picture, so judge tones, not sharpness; the slot may leak light."]
    if steps[-1] < 1 or min(steps) < 1:
        beware.append("Waits under a second cannot be kept by hand: take a longer shortest exposure or a smaller stop.")
    if longest > LONG:
        beware.append("So long a test lets the plate dry: count it into the wait of wet-window.")
    return Worked(
        amounts=(
            seconds_to_give("longest", "the clock runs in all", longest),
            *(
                seconds_to_give(f"wait_{number}", f"wait after pull {number}", wait)._replace(aside=True)
                for number, wait in enumerate(steps, 1)
            ),
            *(
                Amount(f"strip_{number}", f"strip {number} has got in all", seconds, "s", figures=2, aside=True)
                for number, seconds in enumerate(every, 1)
            ),
        ),
        do=(
            f"Cap on; pull the slide till one strip in {len(every)} is bare. Cap off, and let the clock run through.",
            f"Pull one strip further at {pulls} s; cap on at {_shown(longest)} s, then close the slide.",
            f"In the order they were bared the strips have {gets} s; write that on the back.",
            "Develop once, all together: too short is dusky, too long is flat and veiled; take the strip between.",
        ),
        beware=tuple(beware),
    )


def _shown(seconds: float) -> str:
    return f"{seconds:.1f}".removesuffix(".0") if seconds < 20 else f"{seconds:.0f}"


SUMS: tuple[Sum, ...] = (
    Sum(
        name="test-strip",
        title="A plan for several exposures on one plate",
        asks=(
            Asked(
                name="shortest",
                ask="What is the shortest exposure to try?",
                unit="s",
                range=(0.1, 600.0),
                usual=2.0,
                usual_because="a trial of 1863 began there, and five strips then reach past half a minute",
            ),
            Asked(
                name="strips",
                ask="How many strips?",
                unit="number",
                range=(FEWEST, MOST),
                usual=5.0,
                usual_because="more than that are hard to pull evenly",
            ),
            Asked(
                name="step",
                ask="How far is one strip from the next?",
                unit="stops",
                range=(0.1, 3.0),
                usual=1.0,
                usual_because="in the trial of 1863 a stop and a half parted short from right",
            ),
        ),
        work=_work,
        formula="strip k has shortest x 2^(step x k); each wait is the difference of two neighbours, the last is the shortest",
        holds="a slide that can be pulled in steps; one light throughout",
        accuracy="exact but for the hand: half a second in each pull",
        sources=("holmes1863 exposure trial", "schriever1908 para 913", "exact"),
    ),
)
