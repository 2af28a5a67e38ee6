"""The iron developer: its time against its warmth; iron, alcohol and acid of it are in `developer_iron`, `developer_mix`."""

from diagnose.bench.developer_iron import DEVELOPER_IRON
from diagnose.bench.developer_mix import DEVELOPER_ACID, DEVELOPER_ALCOHOL
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked

GAINS = (1.3, 1.9, 2.5)  # how much faster 10 degrees make it: least, likely, most; from memory
COLDEST, HOTTEST = -10.0, 60.0  # °C


def time_at(seconds: float, temperature: float, wanted_temperature: float, gain: float) -> float:
    """A developing time at another warmth.

    Args:
        seconds: that are right at `temperature` [s]
        temperature: warmth they are right at [°C]
        wanted_temperature: warmth wanted [°C]
        gain: how much faster 10 degrees make it

    Returns:
        time that does the same work [s]

    Holds: 10 to 30 °C at best; the gain of an iron developer has not been measured here.
    Source: from-memory (rule of thumb for developers in general).

    >>> round(time_at(15, 20, 30, 1.9), 3)
    7.895
    """
    return float(seconds * gain ** ((temperature - wanted_temperature) / 10))


def equal_time_at_20(seconds: float, temperature: float) -> tuple[float, float, float]:
    """Least, likely and most seconds at 20 °C that do the work of a development at another warmth.

    Args:
        seconds: how long the developer was on the plate [s]
        temperature: of the developer [°C]

    Returns:
        least, likely, most [s, s, s]

    Raises:
        BenchError: a time below nothing, or a developer of ice or steam

    Holds: 10 to 30 °C; beyond that a guess.
    Source: from-memory: 10 degrees make it 1.9 times faster, 1.3 to 2.5.

    >>> [round(time, 1) for time in equal_time_at_20(15, 10)]
    [6.0, 7.9, 11.5]
    """
    if not (seconds >= 0 and COLDEST <= temperature <= HOTTEST):
        raise BenchError(
            f"{seconds:g} s at {temperature:g} °C is no development; 0 s or more at {COLDEST:g} to {HOTTEST:g} °C is accepted"
        )
    times = sorted(time_at(seconds, temperature, 20, gain) for gain in GAINS)
    return times[0], times[1], times[2]


def development_time(temperature: float, usual_time: float, usual_temperature: float) -> Worked:
    """The developing time at another warmth, as a range."""
    least, likely, most = sorted(time_at(usual_time, usual_temperature, temperature, gain) for gain in GAINS)
    beware = [
        "No one has measured this for an iron developer that we know of: a rule of thumb, from memory, hence the range."
    ]
    if not 10 <= temperature <= 30 or not 10 <= usual_temperature <= 30:
        beware.append("Below 10 or above 30 °C even the range is a guess: bring the developer to 18 to 20 °C instead.")
    if least < 7:
        beware.append("Under some 7 s no hand is even: cool the developer, or take more acid or less iron.")
    if temperature < 14:
        beware.append(
            "A cold developer also loses half-tones: warm the bottle in water, stopper loose, never over a flame."
        )
    amounts = (
        Amount("likely", "likely time", likely, "s", "clock"),
        Amount("least", "it may be as short as", least, "s", "clock"),
        Amount("most", "or as long as", most, "s", "clock"),
    )
    do = (
        "Watch the plate, the clock only helps: flood with water when detail just shows in the shadows.",
        "If the liquid on the plate clouds, flood at once.",
    )
    return Worked(amounts, do, tuple(beware))


DEVELOPMENT_TIME = Sum(
    name="development-time",
    title="How long to develop at another warmth",
    asks=(
        Asked(name="temperature", ask="How warm is the developer?", unit="°C", range=(2, 40)),
        Asked(
            name="usual_time",
            ask="What time is right at the usual warmth?",
            unit="s",
            range=(2, 300),
            usual=15.0,
            usual_because="a positive, in common practice",
        ),
        Asked(
            name="usual_temperature",
            ask="How warm is the developer then?",
            unit="°C",
            range=(2, 40),
            usual=20.0,
            usual_because="room warmth",
        ),
    ),
    work=development_time,
    formula="s = usual s x gain^((usual °C - °C) / 10), gain 1.9 likely, 1.3 to 2.5",
    holds="10 to 30 °C at best",
    accuracy="10 degrees off, the right time may be a third shorter or half as long again",
    sources=(
        "from-memory",
        "common-practice",
        "towler1864 ch. XVI",
        "estabrooke1887 p. 34",
        "sutton1858 Positive Collodion P2",
    ),
    cautions=("iron-developer",),
)
SUMS = (DEVELOPER_IRON, DEVELOPER_ALCOHOL, DEVELOPER_ACID, DEVELOPMENT_TIME)
