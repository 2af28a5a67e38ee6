"""Fixer in use: how many plates it clears, and when it is spent."""

from diagnose.bench.collodion_salts import COLLODION_PER_AREA
from diagnose.bench.hypo import CRYSTALS
from diagnose.bench.sum import Amount, Asked, BenchError, MoreWantedError, Sum, Worked

SILVER = 107.868  # [g/mol]
# Vogel's collodion, 0.092 mol/L, at 20 mL to a tenth of a square metre: an unexposed plate, nothing drained off [mol/cm²].
HALIDE_PER_AREA = 0.0921 * COLLODION_PER_AREA / 1000
# Crystals in stock over what the halide binds (two to one). Clearing slows long before the bare sum is reached: judged.
CAREFUL, FAIR, BARE = 40.0, 20.0, 10.0
# Silver a litre of rapid fixer takes up [g/L]: from memory of what film work allows, least for lasting plates.
RAPID_SILVER = (1.0, 2.0, 5.0)
SPENT = 2.0  # clearing takes this many times as long as fresh
SPENT_WORDS = "Spent: clearing takes twice as long as fresh, or more. Put it into the silver jar and take fresh fixer."
NEAR_END = "By count it is near its end: time the next plate, and change when clearing takes twice as long as fresh."
NOT_SPENT = "Not spent yet; change it when clearing takes twice as long as it did fresh, whatever the count says."
NOTE_FRESH = "Time one plate in fresh fixer and note it: from going in until no cream or yellow is seen from behind."


def plates_per_litre(strength: float, plate_area: float) -> tuple[float, float, float]:
    """Plates that one litre of hypo clears.

    Args:
        strength: crystals in the fixer [g/L]
        plate_area: of one plate [cm²]

    Returns:
        least, likely and most plates [plates]

    Raises:
        BenchError: no plate area

    Assumes: two hypo to one silver halide, and 40, 20 or 10 times that in stock; Vogel's collodion, all of it still on the plate.
    Source: judged, on the halide of vogel_lehrbuch p. 284.

    >>> [round(plates) for plates in plates_per_litre(200, 234)]
    [23, 47, 93]
    """
    halide = _halide(plate_area)
    least, likely, most = (strength / CRYSTALS / 2 / stock / halide for stock in (CAREFUL, FAIR, BARE))
    return least, likely, most


def fixer_plates(kind: str, strength: float, volume: float, plate_area: float) -> tuple[float, float, float]:
    """Plates that a lot of fresh fixer clears.

    Args:
        kind: "hypo" or "rapid" (ammonium thiosulphate, thinned as its label says)
        strength: crystals in hypo; not looked at for rapid fixer [g/L]
        volume: of fixer [mL]
        plate_area: of one plate [cm²]

    Returns:
        least, likely and most plates [plates]

    Raises:
        BenchError: another kind, or no plate area

    Assumes: as plates_per_litre; rapid fixer takes up 1, 2 or 5 g/L of silver.
    Source: judged; silver in rapid fixer from-memory.

    >>> [round(plates) for plates in fixer_plates("rapid", 0, 1000, 234)]
    [22, 43, 108]
    """
    each: tuple[float, ...]
    if kind == "hypo":
        each = plates_per_litre(strength, plate_area)
    elif kind == "rapid":
        each = tuple(silver / SILVER / _halide(plate_area) for silver in RAPID_SILVER)
    else:
        raise BenchError(f"plates are reckoned for hypo and rapid fixer, not for {kind}; its clearing time tells")
    least, likely, most = (plates * volume / 1000 for plates in each)
    return least, likely, most


def _halide(plate_area: float) -> float:
    if plate_area <= 0:
        raise BenchError("a plate must have some area; give its size, such as 13x18 cm")
    return HALIDE_PER_AREA * plate_area


def _left(
    kind: str, strength: float, volume: float, plate: float, cleared: float, clearing_fresh: float, clearing_now: float
) -> Worked:
    if bool(clearing_fresh) != bool(clearing_now):
        raise MoreWantedError(
            "one clearing time alone tells nothing; give both clearing_fresh and clearing_now, or neither"
        )
    if clearing_now and min(clearing_fresh, clearing_now) < 1:
        raise BenchError(
            "no plate clears in less than a second; give clearing times of 1 s or more, or 0 where not timed"
        )
    if kind == "cyanide":
        return _cyanide(clearing_fresh, clearing_now)
    spent = bool(clearing_now) and clearing_now >= SPENT * clearing_fresh
    least, likely, most = (
        0.0 if spent else max(0.0, plates - cleared) for plates in fixer_plates(kind, strength, volume, plate)
    )
    amounts = [
        Amount("plates_left", "plates it still clears, likely", likely, "plates", "plates", never_over=True),
        Amount("plates_left_least", "at the least", least, "plates", "plates", never_over=True),
        Amount("plates_left_most", "at the most", most, "plates", "plates", never_over=True),
    ]
    beware = ["Plates by count are a rough guide: collodion, what drains off and how full a picture is all shift them."]
    if clearing_now:
        amounts.append(
            Amount("slower", "clearing takes, against fresh", clearing_now / clearing_fresh, "times", figures=2)
        )
        if not spent:
            amounts.append(Amount("fixing_time", "leave a plate in", 2 * clearing_now, "s", "clock"))
        beware = [*_timing_doubts(clearing_fresh, clearing_now), *beware]
    if kind == "rapid":
        beware.append("Most rapid fixers are acid: keep them from any tray, drain or jar that has seen cyanide.")
        beware.append("Left in long, rapid fixer thins the picture.")
    do: tuple[str, ...]
    if spent:
        do = (SPENT_WORDS, "Fix the last plates once more in the fresh, and wash them again.", NOTE_FRESH)
    else:
        do = (NEAR_END if likely < 1 else NOT_SPENT, NOTE_FRESH, "Fix for twice the time it takes to clear.")
    do = (*do, "Used fixer holds silver: into its jar, not the drain.")
    return Worked(tuple(amounts), do, tuple(beware), ("cyanide-and-acid",) if kind == "rapid" else ())


def _cyanide(clearing_fresh: float, clearing_now: float) -> Worked:
    """Only whether it is spent: how it is mixed or strengthened is no matter for this program."""
    if not clearing_now:
        raise MoreWantedError(
            "for cyanide only clearing times are compared; give clearing_fresh and clearing_now, or take hypo"
        )
    slower = clearing_now / clearing_fresh
    return Worked(
        (Amount("slower", "clearing takes, against fresh", slower, "times", figures=2),),
        (
            "Spent: use it no more." if slower >= SPENT else NOT_SPENT,
            "Take each plate out as the last yellow goes: cyanide eats the picture itself.",
            "Its waste has a jar of its own, never one that has held acid, developer or other fixer, and goes to licensed hands.",
        ),
        (
            *_timing_doubts(clearing_fresh, clearing_now),
            "How it is mixed belongs to licensed hands; hypo clears plates without it.",
        ),
        ("cyanide", "cyanide-and-acid"),
    )


def _timing_doubts(clearing_fresh: float, clearing_now: float) -> list[str]:
    doubts = ["Clearing times compare only at the same warmth, with the same collodion and the same rocking."]
    if clearing_now < clearing_fresh:
        doubts.insert(0, "Quicker than fresh: it is warmer now, the film thinner, or one of the times was noted wrong.")
    return doubts


_PLATE = Asked(
    name="plate",
    ask="How large are the plates?",
    unit="cm²",
    range=(4, 20_000),
    usual=234.0,
    usual_because="13 x 18 cm",
)


def _clearing(name: str, ask: str) -> Asked:
    return Asked(name=name, ask=ask, unit="s", range=(0, 7200), usual=0.0, usual_because="not timed", if_known=True)


FIXER_LEFT = Sum(
    name="fixer-left",
    title="How many plates a fixer still clears, and whether it is spent",
    asks=(
        Asked(
            name="kind",
            ask="Which fixer?",
            choices={
                "hypo": "hypo (sodium thiosulphate)",
                "rapid": "rapid fixer (ammonium thiosulphate)",
                "cyanide": "potassium cyanide (clearing times only)",
            },
        ),
        Asked(
            name="volume",
            ask="How much fixer is in use?",
            unit="mL",
            range=(20, 100_000),
            usual=1000.0,
            usual_because="by the litre",
        ),
        Asked(
            name="strength",
            ask="How much hypo (crystals) is in it? Not looked at for other fixers.",
            unit="g/L",
            range=(20, 800),
            usual=200.0,
            usual_because="4 ounces to the pint, as Hunt 1853",
        ),
        _PLATE,
        Asked(
            name="cleared",
            ask="How many of these plates has it cleared?",
            unit="plates",
            range=(0, 100_000),
            usual=0.0,
            usual_because="taken as fresh",
        ),
        _clearing("clearing_fresh", "How long did a plate take to clear when it was fresh?"),
        _clearing("clearing_now", "How long does it take now?"),
    ),
    work=_left,
    formula="hypo in moles / 2 / stock (40, 20, 10) / halide on a plate, less the plates cleared; spent at twice the clearing time",
    holds="Vogel's collodion, nothing developed away and nothing drained off; rapid fixer thinned as for film by its label",
    accuracy="plates within a factor of two of likely; the clearing rule is the measure",
    sources=(
        "vogel_lehrbuch p. 284",
        "navy-14209 life of a fixing bath",
        "hasluck1905 fixing",
        "archer1854 Fixing",
        "judged",
        "from-memory",
    ),
    cautions=("hypo", "silver-waste"),
)

SUMS: tuple[Sum, ...] = (FIXER_LEFT,)
