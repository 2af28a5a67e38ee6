"""A new silver bath, what a recipe of an old book comes to, and strengthening with a stock solution."""

from diagnose.bench.rows import between
from diagnose.bench.silver_density import DENSITIES, PERCENTS, density_at_20, percent_by_weight, water_in
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked

WATER = DENSITIES[0]  # g/mL at 20 °C
SOURCES = ("crc-handbook silver nitrate", "exact")


def new_bath(volume: float, wanted: float) -> tuple[float, float]:
    """What goes into a new bath.

    Args:
        volume: of the bath at 20 °C [mL]
        wanted: silver nitrate [g/L]

    Returns:
        silver nitrate [g], water [mL]

    Raises:
        BenchError: stronger than the table goes

    Holds: up to 590 g/L.
    Source: crc-handbook, exact.

    >>> silver, water = new_bath(1000, 90)
    >>> silver, round(water)
    (90.0, 984)
    """
    return volume * wanted / 1000, volume * water_in(wanted) / WATER


def mixed_strength(silver: float, water: float) -> float:
    """Strength of a bath mixed from a recipe: so much silver nitrate to so much water.

    Args:
        silver: silver nitrate [g]
        water: measured before the silver goes in [mL]

    Returns:
        silver nitrate [g/L]

    Raises:
        BenchError: nothing to mix, or stronger than the table goes

    Holds: up to 40 % by weight.
    Source: crc-handbook.

    >>> round(mixed_strength(10, 90 / 0.998207), 1)   # crc-handbook: 10 % by weight
    108.8
    """
    if not (silver >= 0 and water > 0):
        raise BenchError("a recipe wants some water and no less than 0 g of silver nitrate")
    percent = 100 * silver / (silver + water * WATER)
    if percent > PERCENTS[-1]:
        raise BenchError(
            f"that is {percent:.0f} % by weight; up to {PERCENTS[-1]:g} % is accepted, so look at the units again"
        )
    return 10 * percent * between(percent, PERCENTS, DENSITIES)


def stock_to_add(volume: float, strength: float, wanted: float, stock: float) -> tuple[float, float]:
    """Strong silver solution that brings a bath up to strength.

    Args:
        volume: of the bath at 20 °C [mL]
        strength: silver nitrate in it now [g/L]
        wanted: silver nitrate afterwards [g/L]
        stock: silver nitrate in the strong solution [g/L]

    Returns:
        strong solution to add [mL], volume afterwards [mL]

    Raises:
        BenchError: wanted weaker than it is, or not below the stock, or outside the table

    Holds: up to 590 g/L.
    Source: crc-handbook, exact.

    >>> stock, after = stock_to_add(1000, 70, 90, 300)
    >>> round(stock, 1), round(after)
    (95.2, 1095)
    """
    if wanted < strength:
        raise BenchError(
            f"the bath is {strength:.4g} g/L, already stronger than {wanted:.4g} g/L; water-to-add makes it weaker"
        )
    if stock <= wanted:
        raise BenchError(
            f"a stock of {stock:.4g} g/L cannot bring it to {wanted:.4g} g/L; take a stronger stock, or silver-to-add"
        )
    now, then, strong = (percent_by_weight(some) for some in (strength, wanted, stock))
    bath, added = volume * density_at_20(strength), density_at_20(stock)
    amount = bath * (then - now) / (strong - then) / added
    return amount, (bath + amount * added) / density_at_20(wanted)


def _new(volume: float, wanted: float) -> Worked:
    silver, water = new_bath(volume, wanted)
    amounts = (
        Amount("silver", "silver nitrate", silver, "g", "balance"),
        Amount("water", "distilled water, about", water, "mL", "cylinder", never_over=True),
    )
    do = (
        "Dissolve the silver nitrate in about two thirds of the distilled water, in a clean glass vessel.",
        f"Make it up with distilled water to {volume:.0f} mL, stir, and let it come to 20 °C.",
        "Give it its iodide (iodide-to-add, or a coated plate left in it some hours), filter, and test it with litmus.",
    )
    beware = (
        "A bath without iodide eats the film, and one that is not a little acid fogs: try a plate before the sitter comes.",
    )
    return Worked(amounts, do, beware)


def _mixed(silver: float, water: float) -> Worked:
    strength = mixed_strength(silver, water)
    amounts = (
        Amount("strength", "silver nitrate in the bath, at 20 °C", strength, "g/L"),
        Amount("volume_after", "bath it makes", 1000 * silver / strength if silver else water, "mL", "cylinder"),
    )
    beware = (
        "Grains to the ounce of water make a weaker bath than to the ounce of solution: old books mean now one, now the other.",
        "American books mean the US fluid ounce (29.57 mL), English ones mostly the imperial (28.41 mL).",
        "An ounce of silver is 437.5 grains as bought (avoz), 480 in apothecaries' recipes (apoz).",
    )
    return Worked(amounts, beware=beware)


def _stock(volume: float, strength: float, wanted: float, stock: float) -> Worked:
    amount, after = stock_to_add(volume, strength, wanted, stock)
    amounts = (
        Amount("stock", "silver stock to add", amount, "mL", "syringe" if amount < 50 else "cylinder"),
        Amount("volume_after", "bath afterwards", after, "mL", "cylinder"),
    )
    do = (
        f"Have room for {after:.0f} mL; stir half of the stock into the bath.",
        "Let it stand an hour, filter, read the hydrometer and try a plate; then the other half, if plates still ask for it.",
    )
    beware = ("It is as right as the strength you gave: a bath that smells of spirit reads too low, see bath-spirit.",)
    return Worked(amounts, do, beware)


VOLUME = Asked(name="volume", ask="How much bath is there?", unit="mL", range=(10, 200_000))
WANTED = Asked(name="wanted", ask="How strong is it to be?", unit="g/L", range=(5, 300))
NEW = Sum(
    name="new-bath",
    title="How much silver nitrate and water make a new bath",
    asks=(
        Asked(name="volume", ask="How much bath do you want?", unit="mL", range=(10, 200_000)),
        WANTED,
    ),
    work=_new,
    formula="silver = volume × strength; then make up to volume",
    holds="20 °C, dry crystals, distilled water",
    accuracy="exact; the water to about 0.2 %, so make up to the mark",
    sources=(*SOURCES, "schriever1908 paras 892-893", "vogel_lehrbuch p. 285"),
    cautions=("silver-nitrate",),
)
RECIPE = Sum(
    name="recipe-strength",
    title="How strong a bath is that was mixed as so much silver nitrate to so much water",
    asks=(
        Asked(name="silver", ask="How much silver nitrate does the recipe take?", unit="g", range=(0.1, 100_000)),
        Asked(name="water", ask="To how much water?", unit="mL", range=(10, 200_000)),
    ),
    work=_mixed,
    formula="percent = silver / (silver + water) by weight; strength = percent × density",
    holds="20 °C, dry crystals, up to 40 % by weight; water measured before the silver goes in",
    accuracy="0.2 %",
    sources=(*SOURCES, "wall_dictionary_silver weighing and measuring"),
    cautions=("silver-nitrate",),
)
FROM_STOCK = Sum(
    name="silver-stock-to-add",
    title="How much of a strong silver solution brings the bath up to strength",
    asks=(
        VOLUME,
        Asked(name="strength", ask="How strong is it now, at 20 °C?", unit="g/L", range=(0, 300)),
        WANTED,
        Asked(name="stock", ask="How strong is the stock?", unit="g/L", range=(20, 580)),
    ),
    work=_stock,
    formula="by weight: bath × (wanted % - now %) / (stock % - wanted %)",
    holds="20 °C, silver nitrate and water",
    accuracy="0.2 % of the dose besides the doubt of the strengths themselves",
    sources=SOURCES,
    cautions=("silver-nitrate",),
)
SUMS: tuple[Sum, ...] = (NEW, RECIPE, FROM_STOCK)
