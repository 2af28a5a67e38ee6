"""Acetic acid of another strength than the recipe's; acids thinned with water; what mixed acid and a hydrometer tell."""

from diagnose.bench.acids import (
    ACID_CHOICES,
    ACID_SOURCES,
    ACIDS,
    GLACIAL,
    WATER_DENSITY,
    density,
    moles_per_litre,
    percent_mixed,
    percents_at_density,
    poured_with,
    thinned,
)
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked

NAMES = "A name is no strength: acid called No. 8 has been about 12 % and about 30 %. Go by the percent on label or in book."
PEAK = "A hydrometer cannot tell glacial acid from acid of 42 %: both weigh 1.05."
INTO_WATER = (
    "Water first, into a glass vessel with room to spare; then the acid, slowly and stirring. Never water into acid."
)
ACETIC_SOURCES = ("crc-handbook Concentrative Properties of Aqueous Solutions", "exact")


def same_acid(recipe_volume: float, recipe_percent: float, percent: float) -> float:
    """Acetic acid at hand that holds as much acid as the recipe's.

    Args:
        recipe_volume: acid in the recipe [mL]
        recipe_percent: its strength by weight [%]
        percent: strength of the acid at hand, by weight [%]

    Returns:
        acid at hand [mL]

    Raises:
        BenchError: an acid stronger than pure

    Source: exact; densities of the crc-handbook: 10 mL of glacial are 36 mL of 28 %.

    >>> round(same_acid(10, 99.5, 28))
    36
    """
    return recipe_volume * moles_per_litre("acetic", recipe_percent) / moles_per_litre("acetic", percent)


def acetic_acid(recipe_volume: float, recipe_percent: float, percent: float) -> Worked:
    """How much of the acid at hand replaces the recipe's acid, and what that does to the water."""
    volume = same_acid(recipe_volume, recipe_percent, percent)
    amounts = [Amount("acid", f"acetic acid of {percent:g} %", volume, "mL", poured_with(volume))]
    if volume > recipe_volume:
        less = volume - recipe_volume
        amounts.append(Amount("less_water", "water to leave out of the recipe", less, "mL", "cylinder"))
    elif volume < recipe_volume:
        more = recipe_volume - volume
        amounts.append(Amount("more_water", "water to put in besides the recipe's", more, "mL", "cylinder"))
    beware = [NAMES, PEAK]
    if percent < 10:
        beware.append(
            "So weak an acid is mostly water: see that the recipe has that much water to leave out. Vinegar only distilled."
        )
    do = ("Put the acid into the recipe's water, never the reverse, and only then the iron salt.",)
    return Worked(tuple(amounts), do, tuple(beware))


def thin_acid(acid: str, percent: float, wanted_percent: float, volume: float) -> Worked:
    """Acid and water for a volume of thinner acid.

    Raises:
        BenchError: the acid is not stronger than what is wanted, or cannot be
    """
    strong, water = thinned(acid, percent, wanted_percent, volume)
    if wanted_percent == percent:
        raise BenchError(f"the acid has {percent:g} % already: use it as it is")
    name = ACIDS[acid].name
    beware = ["Acid and water shrink a little together: the two volumes may come to more than was asked for."]
    if acid == "nitric" and 40 < percent < 65:
        beware.append("Between 40 and 65 % the table has no point: half a percent of doubt.")
    if acid == "acetic":
        beware.append(NAMES)
    do = (
        INTO_WATER,
        "It grows warm: let it cool, then stopper and label it with name, percent and date.",
    )
    amounts = (
        Amount("water", "distilled water, first", water, "mL", "cylinder"),
        Amount("acid", f"{name} of {percent:g} %, into the water", strong, "mL", poured_with(strong), never_over=True),
    )
    return Worked(amounts, do, tuple(beware), (ACIDS[acid].caution,))


def acid_by_parts(acid: str, percent: float, acid_volume: float, water_volume: float) -> Worked:
    """What strength acid has that was mixed by volumes."""
    mixed = percent_mixed(acid, percent, acid_volume, water_volume)
    amounts = (Amount("percent", f"{ACIDS[acid].name}, by weight", mixed, "%"),)
    beware = (NAMES,) if acid == "acetic" else ()
    return Worked(amounts, ("Write this percent on the bottle.",), beware, (ACIDS[acid].caution,))


def acetic_by_hydrometer(gravity: float) -> Worked:
    """What strengths acetic acid of this gravity can have, and what parts them.

    Raises:
        BenchError: no acetic acid weighs so much
    """
    found = percents_at_density("acetic", gravity * WATER_DENSITY)
    if not found:
        peak = max(heavy for _, heavy in ACIDS["acetic"].table) / WATER_DENSITY
        raise BenchError(f"no acetic acid reads {gravity:g}; 1 to {peak:.3f} is accepted")
    words = ("weaker", "stronger") if len(found) > 1 else ("percent",)
    labels = ("it may have, if weak", "or, if strong") if len(found) > 1 else ("strength by weight",)
    amounts = [Amount(name, label, percent, "%") for name, label, percent in zip(words, labels, found, strict=True)]
    if len(found) == 1:
        near_peak = "Near the peak of 78 % a reading 0.001 out shifts this by several percent."
        return Worked(tuple(amounts), (), (near_peak,) if found[0] > 60 else ())
    weak, strong = (density("acetic", percent_mixed("acetic", percent, 1, 1)) / WATER_DENSITY for percent in found)
    do = (
        "To part the two, mix a little with the same volume of water, the acid into the water, and let it cool to 20 °C.",
        f"If it now reads about {weak:.3f} it was the weaker, if about {strong:.3f} the stronger.",
    )
    beware = (PEAK, "Glacial acid sets to a kind of ice in a cold room, below some 16 °C; weaker acid does not.")
    return Worked(tuple(amounts), do, beware)


ACID = Asked(name="acid", ask="Which acid?", choices=ACID_CHOICES)
PERCENT = Asked(name="percent", ask="What percent by weight is the acid at hand?", unit="%", range=(0.1, 100))
CAUTIONS = ("acetic-acid", "cyanide-and-acid")
ACETIC_ACID = Sum(
    name="acetic-acid",
    title="Acetic acid of another strength than the recipe's",
    asks=(
        Asked(name="recipe_volume", ask="How much acetic acid does the recipe take?", unit="mL", range=(0.1, 5000)),
        Asked(
            name="recipe_percent",
            ask=f"What percent is the recipe's acid? Glacial is about {GLACIAL:g}; a name such as No. 8 is not enough.",
            unit="%",
            range=(3, 100),
        ),
        Asked(
            name="percent",
            ask="What percent by weight is the acid at hand, by its label?",
            unit="%",
            range=(3, 100),
        ),
    ),
    work=acetic_acid,
    formula="mL = mL of the recipe x mol/L of its acid / mol/L of yours",
    holds="3 to 100 % by weight, at 20 °C",
    accuracy="1 %, if the labels are right",
    sources=(*ACETIC_SOURCES, "woodbury1896 Acetic Acid", "from-memory"),
    cautions=CAUTIONS,
)
THIN_ACID = Sum(
    name="thin-acid",
    title="Acid thinned with water to a wanted percent",
    asks=(
        ACID,
        PERCENT,
        Asked(name="wanted_percent", ask="What percent should it have?", unit="%", range=(0.05, 100)),
        Asked(name="volume", ask="How much thinner acid?", unit="mL", range=(10, 5000)),
    ),
    work=thin_acid,
    formula="g of acid at hand = mL x density x wanted / present percent; the rest of the weight is water",
    holds="nitric acid up to 71 %, acetic acid up to 100 %, by weight at 20 °C",
    accuracy="1 %, if the label is right",
    sources=(*ACID_SOURCES, "exact"),
    cautions=("cyanide-and-acid",),
)
ACID_BY_PARTS = Sum(
    name="acid-by-parts",
    title="What percent acid has that was mixed by volumes",
    asks=(
        ACID,
        PERCENT,
        Asked(name="acid_volume", ask="How much acid?", unit="mL", range=(0.1, 5000)),
        Asked(name="water_volume", ask="How much water?", unit="mL", range=(0, 20_000)),
    ),
    work=acid_by_parts,
    formula="percent = percent x g of acid / g of the whole",
    holds="nitric acid up to 71 %, acetic acid up to 100 %, by weight at 20 °C",
    accuracy="1 % of the figure, if the label is right",
    sources=(*ACID_SOURCES, "anchell-cookbook p. 108", "exact"),
    cautions=("cyanide-and-acid",),
)
ACETIC_BY_HYDROMETER = Sum(
    name="acetic-by-hydrometer",
    title="What strength acetic acid of this gravity can have",
    asks=(Asked(name="gravity", ask="What does the hydrometer show, at 20 °C?", unit="SG", range=(1, 1.2)),),
    work=acetic_by_hydrometer,
    formula="the table of densities read backwards, on both sides of its peak",
    holds="acid and water only, at 20 °C, hydrometer marked for 20 °C",
    accuracy="a reading 0.001 out is 1 % of strength below 40 %, several percent near the peak of 78 %",
    sources=(*ACETIC_SOURCES, "from-memory"),
    cautions=CAUTIONS,
)
SUMS = (ACETIC_ACID, THIN_ACID, ACID_BY_PARTS, ACETIC_BY_HYDROMETER)
