"""The sums that make a silver bath stronger, weaker, or as full and strong as it was."""

from diagnose.bench.bath_mending import restore, silver_to_add, water_to_add
from diagnose.bench.silver_iodide import iodide_held, thrown_down
from diagnose.bench.sum import Amount, Asked, Sum, Worked
from diagnose.bench.wording import about

VOLUME = Asked(name="volume", ask="How much bath is there?", unit="mL", range=(10, 200_000))
STRENGTH = Asked(name="strength", ask="How strong is it now, at 20 °C?", unit="g/L", range=(0, 300))
WANTED = Asked(name="wanted", ask="How strong is it to be?", unit="g/L", range=(5, 300))
NOTHING = 0.005  # g: less than a balance shows
STRONG = 130.0  # g/L: a little above the strongest bath the books tell of, 125 g/L
SOURCES = ("crc-handbook silver nitrate", "exact")
TRY = "Stir, let it stand an hour, filter, read the hydrometer and try a plate; then the other half, if plates still ask for it."
READING = "It is as right as the strength you gave: a bath that smells of spirit reads too low, see bath-spirit."


def _strengthen(volume: float, strength: float, wanted: float) -> Worked:
    silver, after = silver_to_add(volume, strength, wanted)
    amounts = (
        Amount("silver", "silver nitrate to add", silver, "g", "balance"),
        Amount("volume_after", "bath afterwards", after, "mL", "cylinder"),
    )
    do = ("Weigh it on glass or paper, dissolve half of it in a glass of the bath itself, and pour that back.", TRY)
    return Worked(amounts, do, (READING, *_stronger(after, strength, wanted)))


def _thin(volume: float, strength: float, wanted: float) -> Worked:
    water, after = water_to_add(volume, strength, wanted)
    amounts = (
        Amount("water", "distilled water to add", water, "mL", "cylinder", never_over=True),
        Amount("volume_after", "bath afterwards", after, "mL", "cylinder"),
    )
    do = (
        f"Have a clean vessel that holds {about(after, 'mL', 4)}; pour half of the distilled water into the bath.",
        TRY,
    )
    milk = thrown_down(volume, strength, after - volume)
    falls = f"A bath full of iodide turns milky: some {about(milk, 'g', 2)} of it may fall out (to 30 %); filter before use."
    return Worked(amounts, do, (READING, falls) if milk >= 0.01 else (READING,))


def _restore(volume: float, strength: float, wanted_volume: float, wanted: float) -> Worked:
    silver, water = restore(volume, strength, wanted_volume, wanted)
    amounts = (
        Amount("silver", "silver nitrate to add", silver, "g", "balance"),
        Amount("water", "distilled water, about", water, "mL", "cylinder", never_over=True),
        Amount("volume_after", "bath afterwards", wanted_volume, "mL", "cylinder"),
    )
    do = (
        "Dissolve the silver nitrate in most of the distilled water, in a clean glass."
        if silver >= NOTHING
        else "It wants no silver nitrate: take distilled water alone.",
        f"Stir it into the bath, then make it up with distilled water to {about(wanted_volume, 'mL', 4)}, and no further.",
        "Let it stand an hour, filter off any milk, read the hydrometer and try a plate.",
    )
    return Worked(amounts, do, (READING, *_stronger(wanted_volume, strength, wanted)))


def _stronger(volume: float, strength: float, wanted: float) -> tuple[str, ...]:
    """What a bath that was made stronger does."""
    words = []
    thirst = volume / 1000 * (iodide_held(wanted) - iodide_held(strength))
    if thirst >= 0.01:
        words.append(
            f"A stronger bath takes up {about(thirst, 'g', 2)} more silver iodide (to 30 %): the first films may come out thin."
        )
    if wanted > STRONG:
        words.append(
            f"At {wanted:.0f} g/L it is stronger than the books work with (45 to 125 g/L): films may be eaten or fog."
        )
    return tuple(words)


STRENGTHEN = Sum(
    name="silver-to-add",
    title="How much silver nitrate brings the bath up to strength",
    asks=(VOLUME, STRENGTH, WANTED),
    work=_strengthen,
    formula="water stays: volume after = volume x water in a millilitre before / after; silver = what is in it after less before",
    holds="bath and readings at 20 °C, silver nitrate and water; dry crystals, put to the whole bath",
    accuracy="0.2 % of the dose besides the doubt of the strength itself: 1 g/L wrong is 1 g for each litre",
    sources=(*SOURCES, "schriever1908 para 44 (albumen paper bath)"),
    cautions=("silver-nitrate",),
)
THIN = Sum(
    name="water-to-add",
    title="How much distilled water brings the bath down to strength",
    asks=(VOLUME, STRENGTH, WANTED),
    work=_thin,
    formula="volume after = volume x strength / wanted; water = weight after less weight before",
    holds="bath and readings at 20 °C, silver nitrate and water",
    accuracy="0.2 % of the water besides the doubt of the strength itself",
    sources=(*SOURCES, "robinson_abney1881 p. 24", "jones1911 silver iodide", "judged"),
    cautions=("silver-nitrate", "silver-waste"),
)
RESTORE = Sum(
    name="restore-bath",
    title="How much silver nitrate and water bring the bath back to volume and strength together",
    asks=(
        VOLUME,
        STRENGTH,
        Asked(name="wanted_volume", ask="How much bath is there to be?", unit="mL", range=(10, 200_000)),
        WANTED,
    ),
    work=_restore,
    formula="silver = wanted volume x wanted strength - volume x strength; then make up to volume",
    holds="bath and readings at 20 °C, silver nitrate and water",
    accuracy="exact besides the doubt of volume and strength; the water to about 0.2 %, so make up to the mark",
    sources=SOURCES,
    cautions=("silver-nitrate",),
)
SUMS: tuple[Sum, ...] = (STRENGTHEN, THIN, RESTORE)
