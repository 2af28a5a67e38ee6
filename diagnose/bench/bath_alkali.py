"""Bicarbonate, silver oxide or silver carbonate for a silver bath with too much acid, always by halves; never ammonia."""

from diagnose.bench.acids import MOLAR_MASS, poured_with
from diagnose.bench.bath_acidity import (
    BATH_SOURCES,
    CHECKED_PH,
    EXPECT,
    PAPER,
    SHARE,
    VOLUME,
    moles_between,
    ph_with,
    suiting,
)
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked
from diagnose.bench.wording import about

CLOUDLESS_PH = 5.6  # above it silver carbonate clouds the bath
LEAST_WEIGHED = 0.05  # g; under it a balance of 0.01 g is more than a tenth out
# g that takes up one mol of acid
TAKES_UP = {
    "bicarbonate": MOLAR_MASS["sodium bicarbonate"],
    "silver-oxide": MOLAR_MASS["silver oxide"] / 2,
    "silver-carbonate": MOLAR_MASS["silver carbonate"] / 2,
}
ALKALIS = {
    "bicarbonate": "pure sodium bicarbonate",
    "silver-oxide": "silver oxide",
    "silver-carbonate": "silver carbonate",
}
SOLUTIONS = {grams / TAKES_UP["bicarbonate"]: grams for grams in (10.0, 1.0, 50.0)}  # mol/L -> g/L, best liked first


def alkali_mass(volume: float, present_ph: float, wanted_ph: float, alkali: str) -> float:
    """Alkali that takes the acid of a bath down from one reading to another.

    Args:
        volume: of the bath [mL]
        present_ph: what it reads [pH]
        wanted_ph: what it should read, above it [pH]
        alkali: a key of ALKALIS

    Returns:
        alkali [g]

    Holds: a pure bath of 70 to 110 g/L, pH 2.1 to 5.6; acetic acid in the bath wants much more.
    Source: one bicarbonate takes up one acid, the silver alkalis two; the bath as in `moles_between`.

    >>> round(alkali_mass(1000, 2.5, 4, "bicarbonate"), 3)
    0.346
    """
    return -moles_between(volume, present_ph, wanted_ph) * TAKES_UP[alkali]


def alkali_for_bath(volume: float, present_ph: float, wanted_ph: float, alkali: str) -> Worked:
    """The half dose of alkali.

    Raises:
        BenchError: the bath would cloud, has no acid to lose, or the dose cannot be measured
    """
    if wanted_ph > CLOUDLESS_PH:
        raise BenchError(
            f"at pH {wanted_ph:g} silver carbonate clouds the bath; ask for {CLOUDLESS_PH:g} or less, 3.5 to 4.5 is plenty"
        )
    if wanted_ph <= present_ph:
        raise BenchError(
            f"the bath reads pH {present_ph:g} and has no acid to lose for pH {wanted_ph:g}: put no alkali in; "
            "one short of acid is served by acid-for-bath"
        )
    half = SHARE * alkali_mass(volume, present_ph, wanted_ph, alkali)
    expected = ph_with(volume, present_ph, -half / TAKES_UP[alkali])
    amounts, do = _solution(half, volume) if alkali == "bicarbonate" else _solid(half, alkali)
    after = (
        Amount("ph_after_half", "reading to expect after it", expected, "pH"),
        Amount(
            "whole_dose",
            f"whole dose as reckoned, {ALKALIS[alkali]}, never put in at once",
            half / SHARE,
            "g",
            never_over=True,
            figures=2,
            aside=True,
        ),
    )
    stops = (
        "Read it again and develop a trial plate; stop when either is right, else work this sum again with the new reading.",
        "Stop at once if the cloud stays: all free acid is gone. Filter it off, and do not use the bath until it reads acid.",
    )
    beware = [EXPECT, PAPER, "Never ammonia. Only pure alkali and distilled water: salt in either takes silver out."]
    if present_ph < CHECKED_PH:
        beware.append(f"Below pH {CHECKED_PH:g} this sum was compared with nothing.")
    if wanted_ph > 5:
        beware.append("So near neutral a little too much clouds the bath, and plates tend to veil.")
    return Worked((*amounts, *after), (*do, *stops), tuple(beware))


def _solution(half: float, volume: float) -> tuple[tuple[Amount, ...], tuple[str, ...]]:
    strength = suiting(half / TAKES_UP["bicarbonate"], volume, tuple(SOLUTIONS))
    grams = SOLUTIONS[strength]
    dose = 1000 * half / grams
    fill = 500 if dose > 100 or grams < 10 else 100
    return (
        Amount(
            "half_dose",
            f"half the dose, as bicarbonate solution of {grams:g} g/L",
            dose,
            "mL",
            poured_with(dose),
            never_over=True,
        ),
        Amount("to_dissolve", f"pure sodium bicarbonate for {fill} mL of it", grams * fill / 1000, "g", "balance"),
        Amount("half_mass", "bicarbonate in the half dose", half, "g", never_over=True, figures=2, aside=True),
    ), (
        f"In a clean glass cylinder dissolve the bicarbonate in distilled water, without heat, and fill up to {fill} mL.",
        (
            "Put in the half dose and no more: drop by drop, stirring. Each drop makes a white cloud that goes again, "
            "perhaps with a little fizz; leave the lid off."
        ),
    )


def _solid(half: float, alkali: str) -> tuple[tuple[Amount, ...], tuple[str, ...]]:
    if half < LEAST_WEIGHED:
        raise BenchError(
            f"half the dose is {about(half, 'g', 2)}, too little to weigh; take bicarbonate, which goes in as a solution"
        )
    return (Amount("half_dose", f"half the dose of {ALKALIS[alkali]}", half, "g", "balance", never_over=True),), (
        (
            f"Rub the {ALKALIS[alkali]} fine under a little of the bath and stir it in; it goes slowly, so stir now and then "
            "for an hour."
        ),
        "Filter what has not dissolved back out.",
    )


ALKALI_FOR_BATH = Sum(
    name="alkali-for-bath",
    title="What brings back a silver bath with too much acid",
    asks=(
        VOLUME,
        Asked(name="present_ph", ask="What does the bath read now, on fresh pH paper?", unit="pH", range=(1.8, 7)),
        Asked(
            name="wanted_ph",
            ask="What should it read?",
            unit="pH",
            range=(2, 14),
            usual=4.0,
            usual_because="still faintly acid (judged)",
        ),
        Asked(
            name="alkali",
            ask="What is at hand, pure?",
            choices=ALKALIS,
            usual="bicarbonate",
            usual_because="it measures out best; the sodium nitrate it leaves does no harm",
        ),
    ),
    work=alkali_for_bath,
    formula="g = litres x 1.344 x (10^-present - 10^-wanted) x g that takes up one mol; half of it goes in",
    holds="a pure bath of 70 to 110 g/L at 25 °C made acid with nitric acid, pH 2.1 to 5.6",
    accuracy="4 % for a pure bath; a reading 0.3 out doubles or halves it, and acetic acid wants much more",
    sources=(*BATH_SOURCES, "exact", "german_c Das Silberbad", "sutton1858 Nitrate Bath 3"),
    cautions=("silver-nitrate", "silver-waste", "ammonia-and-silver"),
)
