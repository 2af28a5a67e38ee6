"""The sum `exposure-time`: the seconds to give after stop, plate or light have changed."""

from diagnose.bench.left_out import maybe, pair_told
from diagnose.bench.stops import NARROWEST, WIDEST, doubts_of, seconds_to_give, stops_between, stops_of
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked
from diagnose.bench.wording import about, range_words

LEAST_SECONDS, MOST_SECONDS = 0.001, 7200.0
LEAST_POWER = 0.5
SLOWEST, FASTEST = 0.001, 1000.0  # ISO; of a plate
LAGS = {"none": 1.0, "little": 0.95, "much": 0.85}  # from memory: 0.85 to 1 brackets what is told of wet collodion


def time_after(seconds: float, stops: float, power: float = 1.0) -> float:
    """The exposure that makes up for a change.

    Args:
        seconds: the exposure that was right before [s]
        stops: how much more exposure is needed now; below 0 for less [stops]
        power: 1 where the plate keeps its speed in long exposures, less where it slows after the first second

    Returns:
        the exposure that is right now [s]

    Raises:
        BenchError: no time at all, or a power outside 0.5 to 1

    Holds: 1 to 60 s are the books' working times; the slowing is from memory.
    Source: exact, by definition; the power is Schwarzschild's, from-memory.

    >>> time_after(4, 1)
    8.0
    >>> round(time_after(10, 1, 0.85), 1)
    22.6
    """
    if not seconds > 0:
        raise BenchError(f"an exposure of {seconds:g} s: more than 0 is wanted")
    return _as_given(_as_metered(seconds, power) * 2.0**stops, power)


def changed_time(
    seconds: float,
    first_stop: float = 1.0,
    second_stop: float = 1.0,
    first_speed: float = 1.0,
    second_speed: float = 1.0,
) -> float:
    """The exposure after the stop or the plate's speed has changed.

    Args:
        seconds: the exposure before [s]
        first_stop: the stop before [f-number]
        second_stop: the stop now [f-number]
        first_speed: speed of the plate before [ISO]
        second_speed: speed of the plate now [ISO]

    Returns:
        the exposure now [s]

    Raises:
        BenchError: a stop, speed or time that cannot be

    Source: exact, by definition.

    >>> round(changed_time(6, 4, 5.6), 2)
    11.76
    """
    return time_after(seconds, stops_between(first_stop, second_stop) - speed_gain(first_speed, second_speed))


def speed_gain(first: float, second: float) -> float:
    """How many stops faster the second plate is.

    Args:
        first: speed of the plate before [ISO]
        second: speed of the plate now [ISO]

    Returns:
        stops gained, below 0 for a slower plate [stops]

    Raises:
        BenchError: a speed is not above 0

    Source: exact, by definition.

    >>> speed_gain(1, 0.5)
    -1.0
    """
    if not (first > 0 and second > 0):
        raise BenchError("a plate's speed is more than ISO 0")
    return stops_of(second / first)


def _as_metered(seconds: float, power: float) -> float:
    """What a plate that does not slow would have needed [s]."""
    if not LEAST_POWER <= power <= 1:
        raise BenchError(f"a power of {power:g}: {LEAST_POWER:g} to 1 is accepted")
    return seconds**power if seconds > 1 else seconds


def _as_given(seconds: float, power: float) -> float:
    """What a plate that slows needs [s]."""
    return seconds ** (1 / power) if seconds > 1 else seconds


def _work(time: float, stop: float, new_stop: float, speed: float, new_speed: float, light: float, lag: str) -> Worked:
    changes = [-light]
    if pair_told("stop", stop, new_stop, WIDEST, "f-number"):
        changes.append(stops_between(stop, new_stop))
    if pair_told("speed", speed, new_speed, SLOWEST, "ISO"):
        changes.append(-speed_gain(speed, new_speed))
    more = sum(changes)
    seconds = time_after(time, more, LAGS[lag])
    if not LEAST_SECONDS <= seconds <= MOST_SECONDS:
        raise BenchError(
            f"that would be {about(seconds, 's', 2)}, and {range_words(LEAST_SECONDS, MOST_SECONDS, 's')} can be given; "
            f"change the stop {'down' if seconds < 1 else 'up'} or the light instead"
        )
    return Worked(
        amounts=(
            seconds_to_give("seconds", "expose", seconds),
            Amount("stops", "more exposure than before (below 0: less)", more, "stops"),
        ),
        do=("Give it, and look in the developer: the first of the picture should show after about six seconds.",),
        beware=(
            *doubts_of(seconds),
            "Stops are counted in light the plate sees, blue and beyond; a yellow evening fools eye and meter.",
        ),
    )


SUMS: tuple[Sum, ...] = (
    Sum(
        name="exposure-time",
        title="The exposure after stop, plate or light have changed",
        asks=(
            Asked(name="time", ask="Which exposure was right before?", unit="s", range=(LEAST_SECONDS, MOST_SECONDS)),
            maybe("stop", "Which stop was in before", "f-number", NARROWEST),
            maybe("new_stop", "Which stop is in now", "f-number", NARROWEST),
            maybe("speed", "How fast was the plate before", "ISO", FASTEST),
            maybe("new_speed", "How fast is the plate now", "ISO", FASTEST),
            Asked(
                name="light",
                ask="How many stops more light is there now (below 0: less)?",
                unit="stops",
                range=(-15.0, 15.0),
                usual=0.0,
                usual_because="left out, the light is the same",
            ),
            Asked(
                name="lag",
                ask="Do your plates slow down in exposures of more than a second?",
                choices={"none": "no", "little": "a little (power 0.95)", "much": "much (power 0.85)"},
                usual="none",
                usual_because="little of it is told of wet collodion up to a minute, and no figure was found",
            ),
        ),
        work=_work,
        formula="seconds x (new stop / stop)² x speed / new speed / 2^(stops of light); with lag, time^power counts past 1 s",
        holds="exact for stop and speed; 1 to 60 s are the books' working times; lag is from memory",
        accuracy="engraved stops are rounded by up to 0.08 stops each; the lag, if there is any, adds up to 0.6 stops by 10 s",
        sources=("exact", "schriever1908 paras 913, 1020", "wilson1881 paras 151, 174", "from-memory"),
    ),
)
