"""How far a solution is from the warmth of the room."""

from diagnose.bench.sum import Amount, Asked, Sum, Worked

WARMTHS = (-20.0, 60.0)  # °C
FAR = 6.0  # °C: where a solution works clearly faster or slower than its surroundings let one think; judged


def apart(warmth: float, room: float) -> float:
    """How much warmer a solution is than the room.

    Args:
        warmth: of the solution [°C]
        room: of the room [°C]

    Returns:
        the difference, below 0 where it is colder [degrees C]

    Source: exact.

    >>> apart(24, 18)
    6
    """
    return warmth - room


def _work(warmth: float, room: float) -> Worked:
    found = apart(warmth, room)
    if abs(found) < FAR:
        do: tuple[str, ...] = ("Near enough: it will hardly change while you work.",)
    else:
        way = "cool" if found > 0 else "warm up"
        do = (
            f"It will {way} while you work, and every plate will come out a little differently.",
            "Stand the bottle in water of the room's warmth for half an hour, no flame near, then feel it again.",
        )
    return Worked((Amount("apart", "warmer than the room by (below 0: colder)", found, "degrees C"),), do)


WARMTH_APART = Sum(
    name="warmth-apart",
    title="How far a solution is from the room's warmth",
    asks=(
        Asked(name="warmth", ask="How warm is the solution?", unit="°C", range=WARMTHS),
        Asked(name="room", ask="How warm is the room?", unit="°C", range=WARMTHS),
    ),
    work=_work,
    formula="warmth of the solution - warmth of the room",
    holds="always",
    accuracy="as well as the two thermometers agree; half a degree each is usual",
    sources=("exact", "judged"),
)

SUMS: tuple[Sum, ...] = (WARMTH_APART,)
