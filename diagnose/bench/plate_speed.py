"""The sum `plate-speed`: the effective speed of your plates, from one good exposure."""

import math

from diagnose.bench.exposure import FASTEST, LEAST_SECONDS, MOST_SECONDS, SLOWEST
from diagnose.bench.left_out import maybe, told
from diagnose.bench.stops import NARROWEST, WIDEST, doubts_of, stops_between, stops_of, two_figures
from diagnose.bench.sum import Amount, Asked, BenchError, MoreWantedError, Sum, Worked

# Lux at EV 0 and ISO 100, for a flat receptor (C = 250): from memory of the meter standard; domes are set up to 0.4 stops off.
LUX_AT_EV_0 = 2.5
SLOWEST_USUAL, FASTEST_USUAL = 0.5, 5.0  # ISO, from memory; a workshop sheet says 3 to 5
MOST_EV, MOST_LUX = 20.0, 200_000.0
FASTEST_FILM = 1_000_000.0  # ISO; of a camera that took the known exposure
ONE = "ev, lux or a known exposure is enough"


def light_value(stop: float, seconds: float, speed: float = 100.0) -> float:
    """The light for which an exposure is right, as a meter set to ISO 100 shows it.

    Args:
        stop: of the lens [f-number]
        seconds: the exposure [s]
        speed: of plate or film [ISO]

    Returns:
        exposure value at ISO 100 [stops]

    Raises:
        BenchError: a stop, time or speed that cannot be

    Source: exact, by definition.

    >>> round(light_value(16, 1 / 125), 1)   # every meter's dial: sun, f/16, 1/125 s, ISO 100 is EV 15
    15.0
    """
    return stops_between(1.0, stop) - stops_of(_time(seconds)) - stops_of(speed / 100)


def light_value_of(lux: float) -> float:
    """What a meter set to ISO 100 shows in a light.

    Args:
        lux: light falling on the sitter [lux]

    Returns:
        exposure value at ISO 100 [stops]

    Raises:
        BenchError: no light

    Assumes: a flat receptor and the calibration constant 250; domes differ by up to 0.4 stops.
    Source: from-memory.

    >>> light_value_of(2560)
    10.0
    """
    return stops_of(lux / LUX_AT_EV_0)


def speed_from(stop: float, seconds: float, light: float) -> float:
    """Effective speed of a plate that came out right.

    Args:
        stop: of the lens [f-number]
        seconds: the exposure [s]
        light: exposure value a meter shows at ISO 100 [stops]

    Returns:
        the speed [ISO]

    Raises:
        BenchError: a stop or time that cannot be

    Holds: in light of the same kind only, for the meter does not see what the plate sees.
    Source: exact, by definition.

    >>> round(speed_from(5.6, 4, 12), 2)
    0.19
    """
    return 100 * math.pow(2.0, stops_between(1.0, stop) - stops_of(_time(seconds)) - light)


def _time(seconds: float) -> float:
    if not seconds > 0:
        raise BenchError(f"an exposure of {seconds:g} s: more than 0 is wanted")
    return seconds


def _work(
    stop: float,
    time: float,
    ev: float,
    lux: float,
    known_stop: float,
    known_time: float,
    known_speed: float,
) -> Worked:
    known = (
        told("known_stop", known_stop, WIDEST, "f-number"),
        told("known_time", known_time, 0.00001, "s"),
        told("known_speed", known_speed, SLOWEST, "ISO"),
    )
    if any(known) and not all(known):
        raise MoreWantedError("a known exposure wants known_stop, known_time and known_speed, all three")
    ways = told("ev", ev, 0.01, "EV"), told("lux", lux, 0.1, "lux"), all(known)
    if not any(ways):
        raise MoreWantedError("tell the light one way: ev, or lux, or an exposure known to be right in the same light")
    if sum(ways) != 1:
        raise BenchError("tell the light one way only: ev, or lux, or an exposure known to be right in the same light")
    light = ev or (light_value_of(lux) if lux else light_value(known_stop, known_time, known_speed))
    speed = speed_from(stop, time, light)
    if not SLOWEST <= speed <= FASTEST:
        far = f"less than ISO {SLOWEST:g}" if speed < SLOWEST else f"more than ISO {FASTEST:g}"
        raise BenchError(f"that makes {far}, and no plate has that: check stop, seconds and reading")
    beware = [
        *doubts_of(time),
        "Good for light of the same kind only: a meter sees no ultraviolet, the plate hardly anything else than blue.",
        "Within two hours of sunrise or sunset, in shade after sun, or behind glass, find it anew; also as collodion ages.",
    ]
    if not SLOWEST_USUAL <= speed <= FASTEST_USUAL:
        beware.insert(
            0, f"Wet plates are mostly told at ISO {SLOWEST_USUAL:g} to {FASTEST_USUAL:g}: check the reading."
        )
    if lux:
        beware.append("A meter with a dome is set up to 0.4 stops otherwise than the flat one taken here.")
    return Worked(
        amounts=(
            Amount("speed", "effective speed of the plate", speed, "ISO", figures=2),
            Amount("light", "the light, as EV at ISO 100", light, "EV"),
        ),
        do=(
            f"Set the meter to ISO {two_figures(speed)}.",
            f"If it goes no lower than ISO 100, give {two_figures(100 / speed)} times the seconds it shows.",
        ),
        beware=tuple(beware),
    )


SUMS: tuple[Sum, ...] = (
    Sum(
        name="plate-speed",
        title="Effective speed of your plates, from a plate that came out right",
        asks=(
            Asked(name="stop", ask="Which stop was in?", unit="f-number", range=(WIDEST, NARROWEST)),
            Asked(name="time", ask="How long was the right exposure?", unit="s", range=(LEAST_SECONDS, MOST_SECONDS)),
            maybe("ev", "What EV at ISO 100 did a meter show, held at the sitter", "EV", MOST_EV, ONE),
            maybe("lux", "Or how many lux did it show", "lux", MOST_LUX, ONE),
            maybe(
                "known_stop", "Or at which stop was another picture right in the same light", "f-number", NARROWEST, ONE
            ),
            maybe("known_time", "How long was that one exposed", "s", MOST_SECONDS, ONE),
            maybe("known_speed", "How fast was its plate or film", "ISO", FASTEST_FILM, ONE),
        ),
        work=_work,
        formula="ISO = 100 x stop² / (seconds x 2^EV); EV = log2(lux / 2.5), or log2(stop² / seconds) - log2(ISO / 100)",
        holds="light of the same kind, some hours from sunrise and sunset, the same collodion; not a speed in the standard's sense",
        accuracy="a third of a stop in the meter, often a stop in the plate: read it as a starting point",
        sources=("exact", "meter_page", "workshop_sheet", "from-memory"),
    ),
)
