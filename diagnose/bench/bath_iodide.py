"""Silver iodide in the bath: how much it can hold, how much a new one wants, how much falls out when it is thinned."""

from diagnose.bench.silver_iodide import (
    DOUBT,
    IODIDES,
    LEAST_KNOWN,
    MOST_KNOWN,
    iodide_held,
    iodide_to_fill,
    silver_iodide_from,
    silver_taken_by,
    thrown_down,
)
from diagnose.bench.sum import Amount, Asked, Sum, Worked

SOLUTION = 100.0  # mL of a 1 % solution hold 1 g
RANGE = (20.0, 340.0)  # g/L
VOLUME = Asked(name="volume", ask="How much bath is there?", unit="mL", range=(50, 200_000))


def _fill(volume: float, strength: float, salt: str) -> Worked:
    dose = iodide_to_fill(volume, strength, salt)
    amounts = (
        Amount(
            "solution",
            f"{salt} iodide as a 1 % solution, at most",
            dose * SOLUTION,
            "mL",
            "syringe",
            never_over=True,
        ),
        Amount("iodide", f"{salt} iodide in it", dose, "g", "balance", never_over=True),
        Amount("silver_iodide", "silver iodide it makes", silver_iodide_from(dose, salt), "g", figures=2, aside=True),
        Amount(
            "silver_nitrate_taken", "silver nitrate it uses up", silver_taken_by(dose, salt), "g", figures=2, aside=True
        ),
    )
    do = (
        "In a clean glass dissolve 1 g of the iodide in distilled water, make it up to 100 mL, and draw up the dose.",
        "Let half of it fall drop by drop into the stirred bath: each drop makes a yellow curd that should go again.",
        "Stop as soon as a faint cloud stays, whatever is left of the dose.",
        "Let it stand overnight, filter, and try a plate before you give any more.",
    )
    beware = [
        f"Known to about {100 * DOUBT:.0f} % only, and better in one that is too little: what the bath cannot hold makes pinholes."
    ]
    if strength < LEAST_KNOWN:
        beware.append(f"Measured at {LEAST_KNOWN:g} and {MOST_KNOWN:g} g/L; below that the same line is carried on.")
    beware.append("A bath that has had plates through it has its iodide already: ten drops in water turn milky.")
    beware.append("A coated plate left in the bath some hours does the same, and cannot overdo it by much.")
    return Worked(amounts, do, tuple(beware), ("cadmium-salts",) if salt == "cadmium" else ())


def _thin(volume: float, strength: float, water: float) -> Worked:
    falls, after = thrown_down(volume, strength, water), strength * volume / (volume + water)
    amounts = (
        Amount("thrown_down", "silver iodide that falls out", falls, "g", figures=2),
        Amount("strength_after", "strength of the thinned bath", after, "g/L"),
        Amount("still_held", "silver iodide still in it", iodide_held(after), "g/L", figures=2, aside=True),
        Amount("volume_after", "thinned bath, about", volume + water, "mL", "cylinder"),
    )
    do = (
        "Pour the bath into the water, in a glass vessel that holds both: it turns milky at once.",
        "Let it settle overnight, away from light, and filter it clear.",
        "Bring the silver back with restore-bath or silver-to-add, and keep the filters with the silver waste.",
    )
    beware = [
        f"Known to about {100 * DOUBT:.0f} % only, and for a bath that held all it could; one that stays clear had none to spare."
    ]
    if after < LEAST_KNOWN:
        beware.append(f"Measured at {LEAST_KNOWN:g} and {MOST_KNOWN:g} g/L; below that the same line is carried on.")
    beware.append(
        "Most books find more iodide held in the cold than in the warm, one careful study hardly any difference."
    )
    return Worked(amounts, do, tuple(beware))


HOLDS = "measured at 109 and 340 g/L silver nitrate, carried on below; warmth, alcohol and bromide not counted"
SOURCES = ("jones1911 silver iodide", "iodide_dissertation image 72", "iupac-weights", "judged")
TO_ADD = Sum(
    name="iodide-to-add",
    title="How much iodide a new silver bath wants",
    asks=(
        VOLUME,
        Asked(name="strength", ask="How strong is the bath?", unit="g/L", range=RANGE),
        Asked(
            name="salt",
            ask="Which iodide?",
            choices={name: f"{name} iodide" for name in IODIDES},
            usual="potassium",
            usual_because="the books take it",
        ),
    ),
    work=_fill,
    formula="volume x 0.53 g/L x (strength / 108.8) ^ 2.7 x mass of the iodide / mass of silver iodide",
    holds=HOLDS,
    accuracy="about 30 %; the books' recipes lie between 0.25 and 0.6 g potassium iodide to 100 g silver nitrate",
    sources=(*SOURCES, "vogel_lehrbuch p. 285", "wall_dictionary_silver wet collodion", "humphrey1857 pp. 64-65"),
    cautions=("silver-nitrate", "silver-waste"),
)
THINNED = Sum(
    name="iodide-thrown-down",
    title="How much silver iodide falls out of a bath that is thinned",
    asks=(
        VOLUME,
        Asked(name="strength", ask="How strong is it now?", unit="g/L", range=RANGE),
        Asked(name="water", ask="How much water is put to it?", unit="mL", range=(0, 2_000_000)),
    ),
    work=_thin,
    formula="volume x iodide held before - (volume + water) x iodide held after",
    holds=HOLDS + "; the bath full of iodide to begin with",
    accuracy="about 30 %",
    sources=(*SOURCES, "vogel_lehrbuch p. 319", "vogel_handbuch p. 167"),
    cautions=("silver-nitrate", "silver-waste"),
)
SUMS: tuple[Sum, ...] = (TO_ADD, THINNED)
