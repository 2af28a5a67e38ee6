"""The sums that turn a reading of the hydrometer into the strength of the silver bath."""

from diagnose.bench.hydrometer import SIXTY_FAHRENHEIT, marked_strength, strength_by_density, true_strength
from diagnose.bench.silver_density import TRUSTED_WARMTHS, percent_by_weight, warmth_doubt
from diagnose.bench.sum import Amount, Asked, Sum, Worked

TABLE_DOUBT = 0.4  # g/L: the table's rows against each other
HALF_THOUSANDTH = 0.6  # g/L: the reading of a specific gravity to half a thousandth
HALF_MARK = 1.0  # g/L: the reading of an argentometer

WARMTH = Asked(name="temperature", ask="How warm is the bath?", unit="°C", range=(2, 40))
MADE_FOR = Asked(
    name="made_for",
    ask="What warmth does the stem of the hydrometer name?",
    unit="°C",
    range=(4, 30),
    usual=SIXTY_FAHRENHEIT,
    usual_because="most are made for 60 °F; look for 60 °F or 20 °C on the stem",
)
HOLDS = "silver nitrate and distilled water alone, 10 to 35 °C; alcohol makes it read low, other salts high"
READ = (
    "Lower the clean, dry hydrometer gently and read it level with the liquid, not at the rim that creeps up the stem.",
    "Measure the warmth in the same glass, at the same time.",
)
SPIRIT = (
    "Alcohol from the plates makes it read low, about 1.8 g/L for each part in a hundred: a bath that smells of spirit is "
    "stronger than this, see bath-spirit."
)
SALTS = "What the collodion salts leave behind makes it read a little high, and so does any other dissolved salt."


def read_off(strength: float, unminded: float, temperature: float, reading_doubt: float) -> Worked:
    """The answer of every sum that reads a hydrometer.

    Args:
        strength: brought to 20 °C [g/L]
        unminded: the strength had nobody minded the warmth [g/L]
        temperature: of the bath [°C]
        reading_doubt: what the reading alone leaves open, either way [g/L]

    Returns:
        strength with its doubt [g/L], by weight [%], and what would falsify it

    Raises:
        BenchError: stronger than the table goes, or the warmth is outside 0 to 40 °C

    Source: as `hydrometer.true_strength`; the doubts are judged.
    """
    warmth = warmth_doubt(strength, temperature)
    amounts = (
        Amount("strength", "silver nitrate in the bath, at 20 °C", strength, "g/L"),
        Amount("give_or_take", "give or take", reading_doubt + TABLE_DOUBT + warmth, "g/L", figures=2),
        Amount("percent_by_weight", "the same, by weight", percent_by_weight(strength), "%", aside=True),
        Amount("warmth_unminded", "what it would pass for, warmth not minded", unminded, "g/L", aside=True),
    )
    beware = [SPIRIT, SALTS]
    low, high = TRUSTED_WARMTHS
    if not low <= temperature <= high:
        beware.insert(
            0,
            f"The bath is outside {low:g} to {high:g} °C, further than the correction is trusted: bring it to 20 °C, read again.",
        )
    elif warmth > 0.25:
        beware.insert(
            0, f"How a silver bath swells with warmth is not well known: that alone may be {warmth:.1f} g/L here."
        )
    return Worked(amounts, do=READ, beware=tuple(beware))


def _by_gravity(reading: float, temperature: float, scale: str, made_for: float) -> Worked:
    work = true_strength if scale == "gravity" else strength_by_density
    return read_off(
        work(reading, temperature, made_for), work(reading, made_for, made_for), temperature, HALF_THOUSANDTH
    )


def _by_marks(marked: float, temperature: float, made_for: float) -> Worked:
    unminded = marked_strength(marked, made_for, made_for)
    return read_off(marked_strength(marked, temperature, made_for), unminded, temperature, HALF_MARK)


BY_GRAVITY = Sum(
    name="bath-strength",
    title="How strong the silver bath is, by its specific gravity",
    asks=(
        Asked(name="reading", ask="What does the hydrometer read, such as 1.074?", unit="SG", range=(1.0, 1.45)),
        WARMTH,
        Asked(
            name="scale",
            ask="What does it read in plain water?",
            choices={
                "gravity": "1.000: specific gravity",
                "density": "0.998 at 20 °C: grams to the millilitre, the stem says g/mL or g/cm³",
            },
            usual="gravity",
            usual_because="most hydrometers are marked so",
        ),
        MADE_FOR,
    ),
    work=_by_gravity,
    formula="reading -> density at the bath's warmth -> strength by a table of densities, shifted from 20 °C",
    holds=HOLDS,
    accuracy="about 1 g/L at 20 °C, 1.5 g/L at 10 or 30 °C, alcohol not counted",
    sources=("crc-handbook silver nitrate", "robinson_abney1881 pp. 22-24", "from-memory", "judged"),
    cautions=("silver-nitrate",),
)
BY_MARKS = Sum(
    name="bath-strength-marked",
    title="How strong the silver bath is, by a silver meter marked in grams or grains",
    asks=(
        Asked(
            name="marked",
            ask="What does the silver meter read, with its unit: 40 gr/oz (US), 40 gr/impoz or 90 g/L?",
            unit="g/L",
            range=(0, 560),
        ),
        WARMTH,
        MADE_FOR,
    ),
    work=_by_marks,
    formula="mark -> density it stands for at the warmth it was made for -> strength by density at the bath's warmth",
    holds=HOLDS + "; and as far as the maker's marks are right",
    accuracy="about 1.5 g/L at 20 °C for a true instrument; old ones mix US and imperial ounces, 4 % apart",
    sources=(
        "crc-handbook silver nitrate",
        "robinson_abney1881 pp. 22-24",
        "schriever1908 para 892",
        "from-memory",
        "judged",
    ),
    cautions=("silver-nitrate",),
)
SUMS: tuple[Sum, ...] = (BY_GRAVITY, BY_MARKS)
