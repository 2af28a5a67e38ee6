"""The sums that turn a reading of the hydrometer into the strength of the silver bath."""

from diagnose.bench.hydrometer import (
    SIXTY_FAHRENHEIT,
    TOWLER_MADE_FOR,
    gravity_of_towler,
    gravity_of_us_baume,
    marked_strength,
    strength_by_density,
    strength_by_percent,
    true_strength,
)
from diagnose.bench.silver_density import TRUSTED_WARMTHS, percent_by_weight, warmth_doubt
from diagnose.bench.sum import Amount, Asked, Sum, Worked

TABLE_DOUBT = 0.4  # g/L: the table's rows against each other
HALF_THOUSANDTH = 0.6  # g/L: the reading of a specific gravity to half a thousandth
HALF_MARK = 1.0  # g/L: the reading of an argentometer
EIGHTH_DEGREE = 1.1  # g/L: the reading of a degree Baumé to the nearer quarter
PARTS = {"none": 0.0, "quarter": 0.25, "half": 0.5, "three-quarters": 0.75}
DEGREES = range(1, 17)  # from 1 on, so that an answer picked by its number is the degree of that number
TENTH_PERCENT = 1.2  # g/L

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


def _read(strength: float, unminded: float, temperature: float, reading_doubt: float) -> Worked:
    """The answer of every sum here.

    Args:
        strength: brought to 20 °C [g/L]
        unminded: the strength had nobody minded the warmth [g/L]
        temperature: of the bath [°C]
        reading_doubt: what the reading alone leaves open, either way [g/L]
    """
    warmth = warmth_doubt(strength, temperature)
    amounts = (
        Amount("strength", "silver nitrate in the bath, at 20 °C", strength, "g/L"),
        Amount("give_or_take", "give or take", reading_doubt + TABLE_DOUBT + warmth, "g/L"),
        Amount("percent_by_weight", "the same, by weight", percent_by_weight(strength), "%"),
        Amount("warmth_unminded", "what it would pass for, warmth not minded", unminded, "g/L"),
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
    return _read(work(reading, temperature, made_for), work(reading, made_for, made_for), temperature, HALF_THOUSANDTH)


def _by_marks(marked: float, temperature: float, made_for: float) -> Worked:
    unminded = marked_strength(marked, made_for, made_for)
    return _read(marked_strength(marked, temperature, made_for), unminded, temperature, HALF_MARK)


def _by_percent(marked: float, temperature: float, made_for: float) -> Worked:
    unminded = strength_by_percent(marked, made_for, made_for)
    return _read(strength_by_percent(marked, temperature, made_for), unminded, temperature, TENTH_PERCENT)


def _by_degrees(degrees: str, part: str, scale: str, temperature: float) -> Worked:
    read = float(degrees) + PARTS[part]
    if scale == "towler":
        gravity, made_for = gravity_of_towler(read), TOWLER_MADE_FOR
    else:
        gravity, made_for = gravity_of_us_baume(read), SIXTY_FAHRENHEIT
    unminded = true_strength(gravity, made_for, made_for)
    return _read(true_strength(gravity, temperature, made_for), unminded, temperature, EIGHTH_DEGREE)


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
BY_PERCENT = Sum(
    name="bath-strength-percent",
    title="How strong the silver bath is, by a meter marked in percent by weight",
    asks=(
        Asked(name="marked", ask="What percent by weight does the meter read?", unit="%", range=(0, 39)),
        WARMTH,
        MADE_FOR,
    ),
    work=_by_percent,
    formula="percent -> density it stands for at the warmth it was made for -> strength by density at the bath's warmth",
    holds=HOLDS
    + "; old books often mean grams in 100 mL by percent: then give it to bath-strength-marked, times ten, in g/L",
    accuracy="about 2 g/L at 20 °C",
    sources=("crc-handbook silver nitrate", "from-memory", "judged"),
    cautions=("silver-nitrate",),
)
BY_DEGREES = Sum(
    name="bath-strength-baume",
    title="How strong the silver bath is, by degrees Baumé",
    asks=(
        Asked(
            name="degrees",
            ask="How many whole degrees does it read?",
            choices={f"{whole}": f"{whole} degrees" for whole in DEGREES},
        ),
        Asked(
            name="part",
            ask="And what part of a degree?",
            choices={"none": "none", "quarter": "a quarter", "half": "a half", "three-quarters": "three quarters"},
            usual="none",
            usual_because="only whole degrees were told",
        ),
        Asked(
            name="scale",
            ask="Which degrees: what is specific gravity 1.070 on it?",
            choices={
                "towler": "10 degrees: old American scale, made for 62 °F",
                "us": "9.5 degrees: later American scale (145), made for 60 °F",
            },
        ),
        WARMTH,
    ),
    work=_by_degrees,
    formula="degrees -> specific gravity by Towler's table, or 145 / (145 - degrees); then as bath-strength",
    holds=HOLDS + "; 1 to 16 degrees",
    accuracy="about 1.5 g/L at 20 °C when read to a quarter of a degree; the two scales are 5 g/L apart at 10 degrees",
    sources=(
        "towler1864_hydrometers ch. XLVII",
        "household1881_gravity specific gravity",
        "crc-handbook silver nitrate",
        "from-memory",
        "judged",
    ),
    cautions=("silver-nitrate",),
)
SUMS: tuple[Sum, ...] = (BY_GRAVITY, BY_MARKS, BY_PERCENT, BY_DEGREES)
