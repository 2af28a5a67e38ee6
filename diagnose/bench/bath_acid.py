"""Nitric acid for a silver bath that is short of it, always by halves; its counterpart is in `bath_alkali`."""

from typing import NamedTuple

from diagnose.bench.acids import ACID_SOURCES, moles_per_litre, poured_with, thinned
from diagnose.bench.bath_acidity import (
    BATH_SOURCES,
    CHECKED_PH,
    CLOUD_PH,
    EXPECT,
    LEAST_MEASURED,
    MOST_OF_BATH,
    PAPER,
    SHARE,
    VOLUME,
    moles_between,
    ph_with,
    suiting,
)
from diagnose.bench.bath_alkali import ALKALI_FOR_BATH
from diagnose.bench.left_out import maybe, told
from diagnose.bench.sum import Amount, Asked, BenchError, MoreWantedError, Sum, Worked
from diagnose.bench.wording import about

STRONG = moles_per_litre("nitric", 10)  # mol/L; stronger acid does not go into a bath that holds alcohol
BOOK_DROP = 0.05 * moles_per_litre("nitric", 36) / 300  # mol in a litre: a drop of acid of 1.22 in 300 mL
WEAKEST, STRONGEST = 0.01, 16.0  # mol/L; stronger fumes
THIN = {moles_per_litre("nitric", percent): percent for percent in (1.0, 0.1, 10.0)}  # best liked first


class Bottle(NamedTuple):
    """Nitric acid at hand.

    Args:
        strength: [mol/L]
        percent: by weight, 0 where the label says mol/L [%]
        called: its strength in words
    """

    strength: float
    percent: float
    called: str


def on_label(percent: float, moles: float) -> Bottle:
    """The acid at hand, from its label.

    Args:
        percent: by weight, 0 where the label says mol/L [%]
        moles: 0 where the label says percent [mol/L]

    Raises:
        BenchError: no strength, two strengths at once, or an acid that fumes

    Source: as `moles_per_litre`.

    >>> on_label(36, 0).called, on_label(0, 0.1).called
    ('36 %', '0.1 mol/L')
    """
    if told("moles", moles, WEAKEST, "mol/L"):
        if percent:
            raise BenchError("say either percent or moles, what the acid's label gives, not both")
        return Bottle(moles, 0.0, f"{moles:g} mol/L")
    if not percent:
        raise MoreWantedError("tell how strong the acid is: percent, or moles where its label says mol/L")
    return Bottle(moles_per_litre("nitric", percent), percent, f"{percent:g} %")


def acid_for_bath(
    volume: float, present_ph: float, wanted_ph: float, percent: float, moles: float, used: str, drop_volume: float
) -> Worked:
    """The half dose of nitric acid, thinned first where it is too strong or too little to measure.

    Raises:
        BenchError: the bath is acid enough, its reading is wrong or it holds ammonia, or the acid cannot be
    """
    bottle = on_label(percent, moles)
    if present_ph > 7:
        raise BenchError(
            f"no silver bath reads pH {present_ph:g} by itself: measure again with fresh paper; if ammonia may have got "
            "in, put nothing in, leave it unmoved and out of the sun, and call the hazardous-materials service"
        )
    if wanted_ph >= present_ph:
        raise BenchError(
            f"the bath reads pH {present_ph:g}, acid enough for pH {wanted_ph:g}: put no acid in; "
            "one with too much acid is brought back by alkali-for-bath"
        )
    half = SHARE * moles_between(volume, present_ph, wanted_ph)
    put_in, thinning, first = _way(bottle, half, volume, used == "yes")
    dose = 1000 * half / put_in.strength
    if dose > volume / 2:
        raise BenchError(
            f"acid of {put_in.called} is too thin: half the dose alone would be {about(dose, 'mL')}; take stronger acid"
        )
    amounts = (
        Amount(
            "half_dose",
            f"half the dose, as nitric acid of {put_in.called}",
            dose,
            "mL",
            poured_with(dose),
            never_over=True,
        ),
        Amount(
            "half_dose_drops",
            f"the same in drops of {drop_volume:g} mL",
            dose / drop_volume,
            "drops",
            "drops",
            never_over=True,
        ),
        *thinning,
        Amount("ph_after_half", "reading to expect after it", ph_with(volume, present_ph, half), "pH"),
        Amount(
            "whole_dose",
            f"whole dose as reckoned, of {put_in.called}, never put in at once",
            dose / SHARE,
            "mL",
            never_over=True,
            figures=2,
            aside=True,
        ),
    )
    do = (
        *first,
        f"Put in the half dose of {put_in.called} acid and no more: drop by drop into the bath, stirring with a clean glass rod.",
        "Let it stand five minutes, read it again and develop a trial plate.",
        "Stop when the reading or the trial plate is right; if neither is, work this sum again with the new reading.",
        "Stop also if a white cloud stays: then acid or water held salt, and the bath wants filtering.",
    )
    doubts = _doubts(present_ph, wanted_ph, 1000 * half / volume, used == "yes")
    if dose > MOST_OF_BATH * volume:
        doubts += ("So much thin acid waters the bath down: take stronger acid.",)
    return Worked(amounts, do, doubts, ("ammonia-and-silver",) if used == "yes" else ())


def _way(bottle: Bottle, half: float, volume: float, used: bool) -> tuple[Bottle, tuple[Amount, ...], tuple[str, ...]]:
    """What goes into the bath, what is measured to thin it, and how."""
    straight = 1000 * half / bottle.strength
    if used and bottle.strength > STRONG:
        why = "too strong to put in"
    elif straight < LEAST_MEASURED:
        why = "too little to measure"
    else:
        return bottle, (), ()
    strength = suiting(half, volume, tuple(item for item in THIN if item < bottle.strength))
    wanted = THIN[strength]
    hundred = thinned("nitric", bottle.percent, wanted, 100)[0] if bottle.percent else 100 * strength / bottle.strength
    fill = 100 if hundred >= 0.5 and 1000 * half / strength <= 100 else 500
    thin = Bottle(strength, wanted, f"{wanted:g} %")
    to_thin = f"acid of {bottle.called} that makes {fill} mL of {thin.called}"
    amounts = (
        Amount("acid_to_thin", to_thin, hundred * fill / 100, "mL", "syringe", never_over=True),
        Amount(
            "half_at_hand",
            f"the half dose as acid of {bottle.called}, {why}",
            straight,
            "mL",
            never_over=True,
            figures=2,
            aside=True,
        ),
    )
    return (
        thin,
        amounts,
        (
            (
                f"Thin the acid first: put {0.8 * fill:g} mL of distilled water into a glass cylinder and let the acid run slowly "
                f"into the water, never the reverse; fill up to {fill} mL with water and label it nitric acid {thin.called}."
            ),
        ),
    )


def _doubts(present_ph: float, wanted_ph: float, half_per_litre: float, used: bool) -> tuple[str, ...]:
    words = [EXPECT, PAPER, "Drops run from 0.03 to 0.07 mL: rather trust a syringe, or count drops into one."]
    if used:
        words.append(
            "A bath that has had plates in it holds alcohol: thin acid only, and never heat it with acid in it."
        )
    if present_ph > CLOUD_PH:
        words.append(
            f"A bath that reads above {CLOUD_PH:g} may hold carbonate: the first acid can vanish without a sign."
        )
    if half_per_litre > BOOK_DROP:
        words.append(
            "This is more than the drop in 300 mL an old book puts in before each trial plate: go in smaller parts."
        )
    if wanted_ph < 3:
        words.append("So acid a bath works slowly and hard; most pictures want pH 3 to 4.5.")
    if wanted_ph < CHECKED_PH:
        words.append(f"Below pH {CHECKED_PH:g} this sum was compared with nothing.")
    return tuple(words)


ACID_FOR_BATH = Sum(
    name="acid-for-bath",
    title="How much nitric acid a silver bath wants",
    asks=(
        VOLUME,
        Asked(
            name="present_ph",
            ask="What does the bath read now, on fresh pH paper? A new bath of pure salt reads about 5.6.",
            unit="pH",
            range=(1, 9),
        ),
        Asked(
            name="wanted_ph",
            ask="What should it read?",
            unit="pH",
            range=(2, 6),
            usual=4.0,
            usual_because="faintly acid, judged; by reckoning an old book's three drops in a litre read 3.1",
        ),
        maybe("percent", "What percent by weight is the nitric acid, by its label", "%", 100, "moles is enough"),
        maybe("moles", "Or how many mol/L does the label give", "mol/L", STRONGEST, "percent is enough"),
        Asked(
            name="used",
            ask="Has the bath had plates in it?",
            choices={"yes": "yes: it holds alcohol", "no": "no: fresh salt and water"},
            usual="yes",
            usual_because="the safer answer",
        ),
        Asked(
            name="drop_volume",
            ask="How much is one drop of your dropper?",
            unit="mL",
            range=(0.02, 0.1),
            usual=0.05,
            usual_because="nominal, from memory; real droppers give 0.03 to 0.07 mL",
        ),
    ),
    work=acid_for_bath,
    formula="mol = litres x 1.344 x (10^-wanted - 10^-present); half of it goes in",
    holds="a pure bath of 70 to 110 g/L at 25 °C, pH 2.1 to 5.6; acetate, carbonate and impure salt want more",
    accuracy="3 % for a pure bath; a reading 0.3 out doubles or halves it, so always by halves",
    sources=(*BATH_SOURCES, *ACID_SOURCES, "vogel_lehrbuch p. 318", "from-memory"),
    cautions=("silver-nitrate", "nitric-acid", "cyanide-and-acid"),
)
SUMS = (ACID_FOR_BATH, ALKALI_FOR_BATH)
