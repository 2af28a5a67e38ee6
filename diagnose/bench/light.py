"""The sum `light-change`: stops won or lost by moving a lamp, by flash energy and by the number of pops."""

import math

from diagnose.bench.left_out import maybe, pair_told
from diagnose.bench.stops import doubts_of, seconds_to_give, stops_of
from diagnose.bench.sum import Amount, BenchError, MoreWantedError, Sum, Worked

NEAREST, WEAKEST = 10.0, 0.1  # mm and W s; less is a slip of the pen
CLOSE = 1000.0  # mm; nearer than this most softened lamps no longer fall off with the square
EVERYTHING = "one of distance, energy, pops and their new_ twins"


def stops_by_distance(distance: float, new_distance: float) -> float:
    """Light won by moving a lamp.

    Args:
        distance: from lamp to sitter before [mm]
        new_distance: from lamp to sitter now [mm]

    Returns:
        stops won, below 0 where it went away [stops]

    Raises:
        BenchError: a distance is not above 0

    Holds: a lamp small against its distance, five times its width away or more; not sun, sky or window.
    Source: exact for a point of light.

    >>> round(stops_by_distance(1500, 1000), 2)
    1.17
    """
    _above_nothing("distance", distance, new_distance)
    return 2 * stops_of(distance / new_distance)


def stops_by_energy(energy: float, new_energy: float) -> float:
    """Light won by turning up a flash, or by adding a like one.

    Args:
        energy: of all flashes before [W s]
        new_energy: of all flashes now [W s]

    Returns:
        stops won [stops]

    Raises:
        BenchError: an energy is not above 0

    Holds: the same heads at the same place; other tubes and reflectors give other light for the same energy.
    Source: exact where the light is as the energy.

    >>> stops_by_energy(600, 4800)
    3.0
    """
    _above_nothing("energy", energy, new_energy)
    return stops_of(new_energy / energy)


def stops_by_pops(pops: float, new_pops: float) -> float:
    """Light won by letting the flash off more often.

    Args:
        pops: before [number]
        new_pops: now [number]

    Returns:
        stops won [stops]

    Raises:
        BenchError: fewer than one, or not whole

    Assumes: many small flashes do as much as one large one; for wet plates no figure was found.
    Source: judged.

    >>> stops_by_pops(1, 4)
    2.0
    """
    for count in (pops, new_pops):
        if count < 1 or count != round(count):
            raise BenchError(f"{count:g} pops: whole pops from 1 on are wanted")
    return stops_of(new_pops / pops)


def pops_needed(pops: float, stops: float) -> int:
    """Pops that give at least the light of before, after each pop has changed.

    Args:
        pops: before [times]
        stops: what each pop has won [stops]

    Returns:
        whole pops [times]

    Source: as `stops_by_pops`.

    >>> pops_needed(1, -1.17)
    3
    """
    return max(1, math.ceil(pops * math.pow(2.0, -stops) - 1e-9))


def _above_nothing(what: str, *values: float) -> None:
    for value in values:
        if not value > 0:
            raise BenchError(f"{what} of {value:g}: more than 0 is wanted")


def _work(
    distance: float,
    new_distance: float,
    energy: float,
    new_energy: float,
    pops: float,
    new_pops: float,
    time: float,
) -> Worked:
    each, told = 0.0, 0
    for name, before, now, least, unit, won in (
        ("distance", distance, new_distance, NEAREST, "mm", stops_by_distance),
        ("energy", energy, new_energy, WEAKEST, "W s", stops_by_energy),
    ):
        if pair_told(name, before, now, least, unit):
            told += 1
            each += won(before, now)
    counted = pair_told("pops", pops, new_pops, 1, "number")
    if not told and not counted:
        raise MoreWantedError(f"nothing has changed: tell at least {EVERYTHING}")
    flash = bool(counted or energy)
    if flash and time:
        raise BenchError("flash does not last: leave time out, or tell distance alone for a lamp that burns on")
    stops = each + (stops_by_pops(pops, new_pops) if counted else 0.0)
    amounts = [
        Amount("stops", "more light than before (below 0: less)", stops, "stops"),
        Amount("ratio", "light now over light before", 2.0**stops, "times", aside=True),
    ]
    do, beware = [_said_of(stops)], []
    if flash:
        needed = pops_needed(pops or 1, each)
        amounts.append(Amount("pops_needed", "pops that give at least as much as before", needed, "number"))
        beware.append(
            "Power turned down often gives a redder flash, and then the plate sees less than the energy says."
        )
        do.append("Let the packs charge fully between pops, and have the sitter shut the eyes: so much flash dazzles.")
    if time:
        amounts.append(seconds_to_give("seconds", "expose", time / 2.0**stops))
        beware.extend(doubts_of(time / 2.0**stops))
    if counted:
        beware.append(
            "Many pops are taken to add up fully; nobody has measured that on wet plates, and the sitter moves."
        )
    if distance and min(distance, new_distance) < CLOSE:
        beware.append("So close, a lamp wider than a fifth of its distance falls off less than this says.")
    return Worked(amounts=tuple(amounts), do=tuple(do), beware=tuple(beware))


def _said_of(stops: float) -> str:
    if abs(stops) < 0.1:
        return "That is the same light as before."
    much = f"{abs(stops):.1f} {'stop' if round(abs(stops), 1) == 1 else 'stops'}"
    return (
        f"Close the lens by {much} to keep the picture."
        if stops > 0
        else f"Open the lens by {much} to keep the picture."
    )


SUMS: tuple[Sum, ...] = (
    Sum(
        name="light-change",
        title="Light won or lost by moving a lamp, by flash energy or by pops",
        asks=(
            maybe("distance", "How far was the lamp from the sitter before", "mm", 100_000.0),
            maybe("new_distance", "How far is the lamp now", "mm", 100_000.0),
            maybe("energy", "How much energy had each pop before, all heads together", "W s", 100_000.0),
            maybe("new_energy", "How much energy has each pop now", "W s", 100_000.0),
            maybe("pops", "How many pops were there before", "number", 1000.0),
            maybe("new_pops", "How many pops are there now", "number", 1000.0),
            maybe("time", "For a lamp that burns on: which exposure was right before", "s", 3600.0, "flash has none"),
        ),
        work=_work,
        formula="stops = 2 log2(distance / new distance) + log2(new energy / energy) + log2(new pops / pops)",
        holds="lamps five times their width away or more, the same heads; not sun, sky or window, where distance does nothing",
        accuracy="0.1 stops for bare lamps; up to a stop for large soft ones close by; pops adding up fully is judged",
        sources=("exact", "judged", "from-memory"),
    ),
)
