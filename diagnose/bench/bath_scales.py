"""The sums that read a silver bath in degrees Baumé or in percent by weight."""

from diagnose.bench.bath_reading import HOLDS, MADE_FOR, WARMTH, read_off
from diagnose.bench.baume import TOWLER_MADE_FOR, gravity_of_towler, gravity_of_us_baume
from diagnose.bench.hydrometer import SIXTY_FAHRENHEIT, strength_by_percent, true_strength
from diagnose.bench.sum import Asked, Sum, Worked

EIGHTH_DEGREE = 1.1  # g/L: the reading of a degree Baumé to the nearer quarter
MOST_DEGREES = 17.0  # Towler's table, and far past any bath
TENTH_PERCENT = 1.2  # g/L


def _by_percent(marked: float, temperature: float, made_for: float) -> Worked:
    unminded = strength_by_percent(marked, made_for, made_for)
    return read_off(strength_by_percent(marked, temperature, made_for), unminded, temperature, TENTH_PERCENT)


def _by_degrees(degrees: float, scale: str, temperature: float) -> Worked:
    if scale == "towler":
        gravity, made_for = gravity_of_towler(degrees), TOWLER_MADE_FOR
    else:
        gravity, made_for = gravity_of_us_baume(degrees), SIXTY_FAHRENHEIT
    unminded = true_strength(gravity, made_for, made_for)
    return read_off(true_strength(gravity, temperature, made_for), unminded, temperature, EIGHTH_DEGREE)


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
        Asked(name="degrees", ask="How many degrees does it read, such as 9.5?", unit="°Bé", range=(0, MOST_DEGREES)),
        Asked(
            name="scale",
            ask="Which scale: how many degrees is specific gravity 1.070 on it?",
            choices={
                "towler": "10: the old American scale, made for 62 °F",
                "us": "9.5: the later American scale (145), made for 60 °F",
            },
        ),
        WARMTH,
    ),
    work=_by_degrees,
    formula="degrees -> specific gravity by Towler's table, or 145 / (145 - degrees); then as bath-strength",
    holds=HOLDS + "; to 17 degrees",
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
SUMS: tuple[Sum, ...] = (BY_PERCENT, BY_DEGREES)
