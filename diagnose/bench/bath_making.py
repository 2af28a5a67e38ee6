"""A new silver bath, what a recipe of an old book comes to, and strengthening with a stock solution."""

from diagnose.bench.bath_mixing import mixed_strength, new_bath, stock_to_add
from diagnose.bench.sum import Amount, Asked, Sum, Worked
from diagnose.bench.wording import about

SOURCES = ("crc-handbook silver nitrate", "exact")


def _new(volume: float, wanted: float) -> Worked:
    silver, water = new_bath(volume, wanted)
    amounts = (
        Amount("silver", "silver nitrate", silver, "g", "balance"),
        Amount("water", "distilled water, about", water, "mL", "cylinder", never_over=True),
    )
    do = (
        "Dissolve the silver nitrate in about two thirds of the distilled water, in a clean glass vessel.",
        f"Make it up with distilled water to {about(volume, 'mL', 4)}, stir, and let it come to 20 °C.",
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
        f"Have room for {about(after, 'mL', 4)}; stir half of the stock into the bath.",
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
    formula="silver = volume x strength; then make up to volume",
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
    formula="percent = silver / (silver + water) by weight; strength = percent x density",
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
    formula="by weight: bath x (wanted % - now %) / (stock % - wanted %)",
    holds="20 °C, silver nitrate and water",
    accuracy="0.2 % of the dose besides the doubt of the strengths themselves",
    sources=SOURCES,
    cautions=("silver-nitrate",),
)
SUMS: tuple[Sum, ...] = (NEW, RECIPE, FROM_STOCK)
