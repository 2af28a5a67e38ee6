"""Collodion in use: what to put back or add to thin it, and how long it sets before the bath."""

import math

from diagnose.bench import vapour_pressure
from diagnose.bench.sum import Amount, Asked, BenchError, MoreWantedError, Sum, Worked
from diagnose.bench.wording import about

ROOM_WARMTH = 20.0
MOST_LOST = 0.5  # of the solvents; beyond it the rest is a jelly
BOOK_SECONDS, BOOK_WARMTH = 30.0, 15.56  # Humphrey: not over half a minute at 60 °F
SHORTEST, LONGEST = 0.7, 1.4  # judged: draught, cotton and thickness of the coat shift the time by about a third


def thinning(volume: float, share: float, ether_share: float) -> tuple[float, float]:
    """Ether and alcohol that make collodion thinner, in the proportion of its recipe.

    Args:
        volume: collodion in the bottle [mL]
        share: how much is to be added, of that volume [%]
        ether_share: ether in the recipe's solvents [%]

    Returns:
        ether and alcohol [mL]

    Holds: volumes are added up; ether and alcohol shrink by about one part in a hundred when mixed.
    Source: exact.

    >>> thinning(200, 10, 50)
    (10.0, 10.0)
    """
    added = volume * share / 100
    return added * ether_share / 100, added * (100 - ether_share) / 100


def evaporated(volume: float, lost: float, ether_share: float) -> tuple[float, float]:
    """How much of a loss by evaporation was ether and how much alcohol.

    Args:
        volume: collodion left in the bottle [mL]
        lost: what has gone [mL]
        ether_share: ether in the recipe's solvents [%]

    Returns:
        ether and alcohol that left [mL]

    Holds: each leaves as fast as its own vapour presses at 20 °C (Raoult), the open face always stirred; the real
        mixture may differ a little. Cotton and salts take no room.
    Source: judged, on the pressures of antoine-poling.

    >>> ether, alcohol = evaporated(180, 20, 50)
    >>> round(ether, 1), round(alcohol, 1)
    (18.0, 2.0)
    """
    whole = volume + lost
    ether_before, alcohol_before = whole * ether_share / 100, whole * (100 - ether_share) / 100
    faster = vapour_pressure.ether(ROOM_WARMTH) / vapour_pressure.ethanol(ROOM_WARMTH)
    # While moles leave in the ratio of amount times pressure, alcohol falls as the `faster`-th root of what ether falls to.
    low, high = 0.0, min(lost, ether_before * (1 - 1e-12))
    for _ in range(60):
        ether = (low + high) / 2
        alcohol = -alcohol_before * math.expm1(math.log1p(-ether / ether_before) / faster)
        low, high = (ether, high) if ether + alcohol < lost else (low, ether)
    return low, lost - low


def setting_time(known: float, known_temperature: float, temperature: float) -> float:
    """How long collodion sets at another warmth, from pouring to the bath.

    Args:
        known: setting time that was right once [s]
        known_temperature: warmth of room, plate and collodion then [°C]
        temperature: warmth of them now [°C]

    Returns:
        setting time now [s]

    Raises:
        BenchError: a warmth outside -10 to 55 °C

    Assumes: the time falls as the pressure of ether vapour rises; not measured. Leaves out draught and cold by evaporation.
    Source: judged; humphrey1857 p. 132 gives about half a minute at 60 °F.

    >>> round(setting_time(30, 15.56, 30), 1)
    17.1
    """
    return known * vapour_pressure.ether(known_temperature) / vapour_pressure.ether(temperature)


def _thin(volume: float, ether_share: float, lost: float, share: float) -> Worked:
    if not (lost or share):
        raise MoreWantedError("tell one of the two: lost, what has evaporated, or share, by how much to thin")
    if lost and share:
        raise BenchError("tell one of the two, not both: lost, what has evaporated, or share, by how much to thin")
    whole = volume + lost
    if lost > MOST_LOST * whole:
        raise BenchError(
            f"of {about(whole, 'mL')} more than half has gone; mix fresh collodion, up to half can be put back"
        )
    ether, alcohol = evaporated(volume, lost, ether_share) if lost else thinning(volume, share, ether_share)
    amounts = (
        Amount("ether", "ether to add", ether, "mL", _tool(ether), never_over=True),
        Amount("alcohol", "strong alcohol to add", alcohol, "mL", _tool(alcohol), never_over=True),
        Amount("volume_after", "collodion then", volume + ether + alcohol, "mL"),
    )
    do = (
        "No flame and moving air; measure into a dry cylinder, the alcohol first, then the ether.",
        "Pour it into the collodion, close the bottle and turn it over slowly until no streaks are seen.",
        "Let it stand until the bubbles are gone, overnight if it can wait, and try one plate before the rest.",
    )
    if lost:
        beware = (
            f"What left was nearly all ether, about {100 * ether / lost:.0f} % of it: that is why the two are not put back alike.",
            "This holds for collodion that stood open; what was poured on plates took both away and needs nothing put back.",
        )
    else:
        beware = (
            f"Salts and cotton thin too, to {100 / (1 + share / 100):.0f} % of what they were: softer plates, less body.",
            "If it grew thick by standing open, it lost mostly ether: then tell what was lost instead of a share.",
        )
    return Worked(amounts, do, (*beware, "Try a tenth of the bottle first; ether only from a bottle opened lately."))


def _set(known: float, known_temperature: float, temperature: float) -> Worked:
    seconds = setting_time(known, known_temperature, temperature)
    own = (known, known_temperature) != (BOOK_SECONDS, BOOK_WARMTH)
    beware = [
        "Reckoned from the vapour of ether, not measured on plates; collodion rich in alcohol, old or thick goes its own way.",
        "A cold plate sets slower than the room says, a draught faster.",
    ]
    if own and known_temperature == BOOK_WARMTH:
        beware.insert(
            0, "Your own time was taken as found at 15.6 °C (60 °F); if it was not, tell the warmth it goes with."
        )
    if not 5 <= temperature <= 35:
        beware.insert(0, "Nobody pours well at this warmth: bring room, plate and collodion to 15 to 25 °C if you can.")
    return Worked(
        (
            Amount("setting_time", "from the first pour to the bath", seconds, "s", "clock"),
            Amount("shortest", "at the least", seconds * SHORTEST, "s", "clock"),
            Amount("longest", "at the most", seconds * LONGEST, "s", "clock"),
        ),
        (
            (
                f"Reckoned from {about(known, 's')} at {about(known_temperature, '°C')}: "
                "start the clock as the collodion touches the plate."
            ),
            "Towards the end touch the film at the corner it drained from: ready when the finger leaves a print and nothing runs.",
            "The finger has the last word. Still wet: wait a little. Already dry at the far edge: sooner next time.",
        ),
        tuple(beware),
    )


def _tool(volume: float) -> str:
    return "syringe" if volume < 50 else "cylinder"


_ETHER_SHARE = Asked(
    name="ether_share",
    ask="How much of the recipe's solvents is ether? Equal parts are 50 %; five of ether to three of alcohol 62.5 %.",
    unit="%",
    range=(20, 90),
)

THIN_COLLODION = Sum(
    name="thin-collodion",
    title="Ether and alcohol to put back into collodion, or to thin it with",
    asks=(
        Asked(name="volume", ask="How much collodion is in the bottle now?", unit="mL", range=(1, 20_000)),
        _ETHER_SHARE,
        Asked(
            name="lost",
            ask="How much has evaporated since it was full?",
            unit="mL",
            range=(0, 10_000),
            usual=0.0,
            usual_because="a share to thin by may be told instead",
            if_known=True,
        ),
        Asked(
            name="share",
            ask="By how much is it to be thinned, of its volume?",
            unit="%",
            range=(0, 50),
            usual=0.0,
            usual_because="a loss may be told instead",
            if_known=True,
        ),
    ),
    work=_thin,
    formula="to thin: volume x share, parted as in the recipe; lost: parted as vapour pressure takes ether and alcohol away",
    holds="losses up to half of the bottle at room warmth, thinning up to half; strong alcohol (95 % or more) and good ether",
    accuracy="thinning exact but for 1 % shrinking; the ether in a loss within about a tenth of the loss",
    sources=("antoine-poling ether, ethanol", "estabrooke1887 p. 26", "humphrey1857 pp. 53-56", "judged"),
    cautions=("ether-and-alcohol",),
)

SETTING_TIME = Sum(
    name="setting-time",
    title="How long to let the collodion set before the bath, at today's warmth",
    asks=(
        Asked(name="temperature", ask="How warm are room, plate and collodion?", unit="°C", range=(-5, 45)),
        Asked(
            name="known",
            ask="What setting time has been right for you?",
            unit="s",
            range=(3, 300),
            usual=BOOK_SECONDS,
            usual_because="Humphrey 1857: not more than about half a minute from pouring to bath",
        ),
        Asked(
            name="known_temperature",
            ask="How warm was it then?",
            unit="°C",
            range=(-5, 45),
            usual=BOOK_WARMTH,
            usual_because="Humphrey's half minute is for 60 °F",
        ),
    ),
    work=_set,
    formula="time = known time x ether vapour pressure at the known warmth / the same at today's warmth",
    holds="5 to 35 °C, still air, the same collodion; the proportion is a physical argument, not a measurement",
    accuracy="the pressure within 0.5 %; the time itself perhaps a third either way",
    sources=("humphrey1857 p. 132", "rodger1850s coat the plate", "antoine-poling ether", "judged"),
    cautions=("ether-and-alcohol",),
)

SUMS: tuple[Sum, ...] = (THIN_COLLODION, SETTING_TIME)
