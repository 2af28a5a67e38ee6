"""Mixing hypo: how much to weigh, how much water it takes, and what a hydrometer then reads."""

from bisect import bisect_left

from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked

CRYSTALS, DRY = 248.172, 158.097  # molar masses: crystals with five waters, and free of water [g/mol]
ANHYDROUS = DRY / CRYSTALS  # 0.637
WATER_DENSITY = 0.9982  # at 20 °C [g/mL]
# CRC: sodium thiosulphate free of water, share by weight [%], density at 20 °C [g/mL].
DENSITIES: tuple[tuple[float, float], ...] = (
    (0, 0.9982), (5, 1.0399), (10, 1.0827), (12, 1.1003), (14, 1.1182),
    (16, 1.1365), (20, 1.1740), (24, 1.2128), (30, 1.2739), (40, 1.3827),
)  # fmt: skip
STRENGTHS = tuple(share * density * 10 / ANHYDROUS for share, density in DENSITIES)  # the same as crystals [g/L]


def hypo_mass(percent: float, volume: float, anhydrous: bool = False) -> float:
    """Hypo to weigh for a fixer told in percent of crystals by weight in volume.

    Args:
        percent: grams of crystals in 100 mL of finished fixer [%]
        volume: of finished fixer [mL]
        anhydrous: whether the hypo at hand is free of water

    Returns:
        hypo [g]

    Source: exact, from molar masses.

    >>> round(hypo_mass(20, 1000, anhydrous=True), 1)
    127.4
    """
    crystals = percent * volume / 100
    return crystals * ANHYDROUS if anhydrous else crystals


def hypo_density(strength: float) -> float:
    """Density of a hypo fixer at 20 °C.

    Args:
        strength: crystals in the fixer [g/L]

    Returns:
        density [g/mL]

    Raises:
        BenchError: below nothing or above 868 g/L, the end of the table

    Holds: plain hypo in water at 20 °C, up to 40 % by weight free of water; straight lines between the rows.
    Source: crc-handbook concentrative properties, sodium thiosulphate.

    >>> round(hypo_density(200), 3)
    1.097
    """
    if not 0 <= strength <= STRENGTHS[-1]:
        raise BenchError(f"hypo of {strength:g} g/L is off the table; 0 to {STRENGTHS[-1]:.0f} g/L is accepted")
    upper = max(1, bisect_left(STRENGTHS, strength))
    (_, before), (_, after) = DENSITIES[upper - 1 : upper + 1]
    way = (strength - STRENGTHS[upper - 1]) / (STRENGTHS[upper] - STRENGTHS[upper - 1])
    return before + way * (after - before)


def _mix(volume: float, percent: float, form: str) -> Worked:
    strength = percent * 10
    mass = hypo_mass(percent, volume, anhydrous=form == "anhydrous")
    density = hypo_density(strength)
    water = density * volume - mass
    beware = ["The water is what the table of densities leaves room for; the mark on the vessel has the last word."]
    if percent < 20:
        beware.append("Below 20 % is weak for plates: clearing drags; Jones asks 25 % for plates and not below 20 %.")
    if percent > 40:
        beware.append("So strong it clears no faster, washes out slower, and can weaken the picture once it is clear.")
    if percent > 60:
        beware.append("Near what water holds at 20 °C: a cold night can throw crystals.")
    if form == "anhydrous":
        beware.append("Old anhydrous hypo caked with damp is partly crystals, and then weaker than reckoned.")
    return Worked(
        (
            Amount("hypo", "hypo crystals" if form == "crystals" else "hypo, free of water", mass, "g", "balance"),
            Amount("water", "water it takes in all, about", water, "mL", "cylinder"),
        ),
        (
            "Take two thirds of the water, warm to the hand for crystals (they cool it), cool for the dry powder (it warms it).",
            "Stir the hypo in a little at a time until no grain is left, then fill up to the mark with cool water.",
            f"To check it: a hydrometer reads about {density / WATER_DENSITY:.3f} at 20 °C.",
            "Use it at room warmth. When it yellows or drops a white cloud it is breaking down to sulphur: take fresh.",
        ),
        tuple(beware),
    )


HYPO_FOR_FIXER = Sum(
    name="hypo-for-fixer",
    title="Hypo to weigh for a fixer",
    asks=(
        Asked(name="volume", ask="How much fixer is to be made?", unit="mL", range=(50, 100_000)),
        Asked(
            name="percent",
            ask="How strong: grams of crystals in 100 mL of finished fixer?",
            unit="%",
            range=(1, 80),
            usual=20.0,
            usual_because="4 ounces to the pint, as Hunt 1853; 20 to 25 % is common today",
        ),
        Asked(
            name="form",
            ask="Which hypo is at hand?",
            choices={"crystals": "crystals (with water)", "anhydrous": "fine powder, free of water"},
            usual="crystals",
            usual_because="old recipes mean crystals",
        ),
    ),
    work=_mix,
    formula="crystals = percent x volume / 100; free of water = crystals x 0.637; water = density x volume - hypo",
    holds="plain sodium thiosulphate at 20 °C, 1 to 80 g of crystals in 100 mL",
    accuracy="hypo exact; density within 0.002 g/mL between the rows of the table",
    sources=(
        "exact",
        "crc-handbook sodium thiosulphate",
        "hunt1853 collodion part 5",
        "jones1911 Fixing",
        "anchell-cookbook pp. 107-108",
    ),
    cautions=("hypo",),
)

SUMS: tuple[Sum, ...] = (HYPO_FOR_FIXER,)
