"""The sums that count plates through the silver bath: spirit in it, silver out of it, strength left."""

from diagnose.bench.bath_wear import (
    MOST_SPIRIT,
    silver_carried_off,
    spirit_share,
    strength_behind_spirit,
    strength_today,
)
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked
from diagnose.bench.wording import about

MATTERS = 3.0  # g/L that a reading is out: more than the reading itself leaves open. Judged.
PLATES = Asked(name="plates", ask="How many plates have been through the bath?", unit="plates", range=(0, 5000))
SIZE = Asked(
    name="plate_size",
    ask="How large is a plate?",
    unit="cm²",
    range=(10, 5000),
    usual=234.0,
    usual_because="a plate of 13 x 18 cm",
)
VOLUME = Asked(name="volume", ask="How much bath is there?", unit="mL", range=(50, 200_000))
STRENGTH_RANGE = (5.0, 300.0)
COUNTED = "Counted from plates, not measured: workers differ by three times, so mind the least and the most."


def _figures(strength: float) -> int:
    """Whole grams to the litre, no parts of them [g/L]."""
    return 3 if strength >= 100 else 2


def _spirit(plates: float, plate_size: float, volume: float, reading: float) -> Worked:
    shares = spirit_share(plates, plate_size, volume)
    least, likely, most = shares
    if likely > MOST_SPIRIT:
        raise BenchError(
            f"so many plates would make {about(volume, 'mL', 4)} of bath {likely:.0f} % spirit; up to {MOST_SPIRIT} % is reckoned, "
            "so count only the plates since it was new or last aired"
        )
    low_by = [max(0.0, strength_behind_spirit(reading, min(share, MOST_SPIRIT)) - reading) for share in shares]
    amounts = (
        Amount("spirit", "alcohol in the bath, likely", likely, "%", figures=2),
        Amount("spirit_least", "alcohol, at least", least, "%", figures=2),
        Amount("spirit_most", "alcohol, at most", most, "%", figures=2),
        Amount("reads_low_by", "hydrometer too low by, likely", low_by[1], "g/L", figures=2),
        Amount("reads_low_least", "hydrometer too low by, at least", low_by[0], "g/L", figures=2),
        Amount("reads_low_most", "hydrometer too low by, at most", low_by[2], "g/L", figures=2),
        Amount("true_strength", "silver nitrate really in it, likely", reading + low_by[1], "g/L"),
    )
    beware = [COUNTED]
    if most > MOST_SPIRIT:
        beware.append(f"The most is past the table, and was taken as {MOST_SPIRIT} %.")
    if low_by[1] < MATTERS:
        do: tuple[str, ...] = ("It hardly matters yet: go by the hydrometer.",)
    else:
        too_much = low_by[1] * volume / 1000
        beware.insert(
            0,
            f"It matters: topped up by this reading, the bath would get about {about(too_much, 'g', 2)} silver nitrate too much.",
        )
        do = (
            "Before you strengthen it, let it stand open in a wide dish, in moving air, no flame near; then read again.",
            "Or weigh its silver (bath-strength-weighed), or go by the count of plates (bath-today).",
        )
    beware.append(
        "Ether is not counted, and lightens the bath further; an open, warm bath has lost much of both again."
    )
    beware.append(
        "Salts left by the collodion make it read high, about a tenth as much as the spirit makes it read low."
    )
    return Worked(amounts, do, tuple(beware))


def _carried(plates: float, plate_size: float, strength: float) -> Worked:
    least, likely, most = silver_carried_off(plates, plate_size, strength)
    amounts = [
        Amount("silver", "silver nitrate gone with the plates, likely", likely, "g", figures=2),
        Amount("silver_least", "at least", least, "g", figures=2),
        Amount("silver_most", "at most", most, "g", figures=2),
    ]
    if plates:
        amounts.append(Amount("silver_each", "for each plate, likely", likely / plates, "g", figures=2))
    do = (
        "Keep drippings, wipings, filters and first rinses: the larger part of this silver drips off and can be saved.",
    )
    return Worked(tuple(amounts), do, (COUNTED,))


def _today(strength: float, plates: float, plate_size: float, volume: float) -> Worked:
    least, likely, most = strength_today(strength, plates, plate_size, volume)
    amounts = (
        Amount("strength", "silver nitrate in the bath now, likely", likely, "g/L", figures=_figures(likely)),
        Amount("strength_least", "at least", least, "g/L", figures=_figures(least)),
        Amount("strength_most", "at most", most, "g/L", figures=_figures(most)),
        Amount(
            "silver_short",
            "silver nitrate short of what it was, likely",
            volume / 1000 * (strength - likely),
            "g",
            figures=2,
        ),
    )
    beware = [
        COUNTED,
        "For a bath nobody topped up: what was put to it since is not counted. Take the volume midway between then and now.",
        "Water that dries off makes it stronger again.",
    ]
    if likely < strength / 2:
        beware.insert(0, "More than half the strength would be gone: further than counting goes, so measure it.")
    do = (
        "Measure it with the hydrometer before you put silver to it, and see bath-spirit for how far that reads low.",
    )
    return Worked(amounts, do, tuple(beware))


IN_USE = "judged; from 20 mL collodion to 1000 cm² of plate"
SPIRIT_SUM = Sum(
    name="bath-spirit",
    title="How much alcohol the plates have brought into the bath, and how far it fools the hydrometer",
    asks=(
        PLATES,
        VOLUME,
        Asked(
            name="reading",
            ask="What strength did the hydrometer give, at 20 °C?",
            unit="g/L",
            range=STRENGTH_RANGE,
            usual=90.0,
            usual_because="a usual bath; how far it reads low hardly hangs on it",
        ),
        SIZE,
    ),
    work=_spirit,
    formula="6 mL alcohol for each 1000 cm² of plate (3 to 10); share = 1 - e^(-alcohol / volume), which lightens the bath's water",
    holds=IN_USE + "; covered bath, since it was new or last freed from spirit; up to 30 % alcohol, ether not counted",
    accuracy="the alcohol half to twice the figure; about 1.8 g/L low for each 1 %, itself to a tenth",
    sources=("vogel_lehrbuch p. 285", "usp29 alcoholometric table", "crc-handbook silver nitrate", "judged"),
    cautions=("silver-nitrate", "ether-and-alcohol", "ammonia-and-silver"),
)
CARRIED_SUM = Sum(
    name="silver-carried-off",
    title="How much silver nitrate the plates take out of the bath",
    asks=(
        PLATES,
        Asked(
            name="strength",
            ask="How strong was the bath meanwhile?",
            unit="g/L",
            range=STRENGTH_RANGE,
            usual=90.0,
            usual_because="a usual bath",
        ),
        SIZE,
    ),
    work=_carried,
    formula="for each 1000 cm²: 8 mL of bath (5 to 20) x strength, and 0.35 g bound by the collodion (0.2 to 0.7)",
    holds=IN_USE + "; dripping, holders and filters counted",
    accuracy="half to twice the figure",
    sources=("vogel_lehrbuch p. 285", "wilson1881 Fogging part 6", "judged"),
    cautions=("silver-nitrate", "silver-waste"),
)
TODAY_SUM = Sum(
    name="bath-today",
    title="How strong the bath likely is today, from the plates since it was measured",
    asks=(
        Asked(name="strength", ask="How strong was it when it was measured?", unit="g/L", range=STRENGTH_RANGE),
        PLATES,
        VOLUME,
        SIZE,
    ),
    work=_today,
    formula="for each 1000 cm² the collodion binds 0.35 g (0.2 to 0.7) and 6 mL of alcohol (3 to 10) take the place of bath",
    holds=IN_USE + "; not topped up since, little dried up, not below half its strength",
    accuracy="the fall half to twice the figure",
    sources=("vogel_lehrbuch p. 285", "wilson1881 Fogging part 6", "judged"),
    cautions=("silver-nitrate",),
)
SUMS: tuple[Sum, ...] = (SPIRIT_SUM, CARRIED_SUM, TODAY_SUM)
