"""Strength of a silver bath by weighing its silver: the way that alcohol cannot falsify."""

from diagnose.bench.silver_density import NITRATE_MASS, STRONGEST, percent_by_weight
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked
from diagnose.bench.wording import about

SILVER_CHLORIDE_MASS = 143.318  # g/mol
BALANCE = 0.01  # g
SYRINGE = 0.01  # of what it holds


def strength_from_chloride(chloride: float, sample: float) -> float:
    """Strength of a bath from the silver chloride thrown down out of a sample.

    Args:
        chloride: silver chloride, washed and dried [g]
        sample: of the bath [mL]

    Returns:
        silver nitrate [g/L]

    Raises:
        BenchError: more silver than a solution can be reckoned with, or no sample

    Holds: any bath; the little silver iodide in it is weighed with the rest, less than 0.5 % too much.
    Source: iupac-weights.

    >>> round(strength_from_chloride(1, 1000), 3)   # the books multiply by 1.18
    1.185
    """
    if not sample > 0:
        raise BenchError("without a sample nothing is weighed; 1 mL or more is accepted, 10 mL is good")
    strength = 1000 * chloride * NITRATE_MASS / SILVER_CHLORIDE_MASS / sample
    if strength > STRONGEST:
        raise BenchError(
            f"{about(chloride, 'g', 4)} out of {about(sample, 'mL', 4)} would be {strength:.0f} g/L; "
            f"up to {STRONGEST:.0f} g/L is accepted, so look at the sample and the balance again"
        )
    return strength


def _weighed(chloride: float, sample: float) -> Worked:
    strength = strength_from_chloride(chloride, sample)
    doubt = strength * (BALANCE / chloride + SYRINGE)
    amounts = (
        Amount("strength", "silver nitrate in the bath", strength, "g/L"),
        Amount("give_or_take", "give or take, with a balance to 0.01 g and a good syringe", doubt, "g/L", figures=2),
        Amount(
            "percent_by_weight",
            "the same, by weight, were there no alcohol",
            percent_by_weight(strength),
            "%",
            aside=True,
        ),
    )
    do = (
        "Draw up 10 mL of the filtered bath, put it in a glass with 50 mL of distilled water.",
        "Stir in clean table salt dissolved in water, a little at a time, until a drop makes no new white cloud, and no more.",
        "Stir until the curd clots, let it settle in the dark, and pour the water off through a weighed dry filter.",
        "Wash it three times with distilled water, dry it warm, and weigh it, less the filter.",
    )
    beware = [
        "Salt left in the curd makes it too heavy, light turns it grey and too light: wash well, work in dim light."
    ]
    if chloride < 0.5:
        beware.append(
            "So little is weighed badly: take a larger sample, so that half a gram or more is on the balance."
        )
    return Worked(amounts, do, tuple(beware))


WEIGHED = Sum(
    name="bath-strength-weighed",
    title="How strong the silver bath is, by throwing down its silver and weighing it",
    asks=(
        Asked(name="chloride", ask="What does the dry silver chloride weigh?", unit="g", range=(0.01, 100)),
        Asked(name="sample", ask="How much bath was taken?", unit="mL", range=(1, 500)),
    ),
    work=_weighed,
    formula="silver chloride x 1.1853 / sample",
    holds="any silver bath, with alcohol in it or not; chloride washed and dry",
    accuracy="about 2 % with 10 mL of a working bath and a balance to 0.01 g",
    sources=("iupac-weights", "common-practice"),
    cautions=("silver-nitrate", "silver-waste", "ammonia-and-silver"),
)
SUMS: tuple[Sum, ...] = (WEIGHED,)
