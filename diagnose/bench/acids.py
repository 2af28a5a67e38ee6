"""Nitric and acetic acid as they are sold: density and mol per litre from percent; thinning and mixing them."""

from bisect import bisect_right
from itertools import pairwise
from typing import NamedTuple

from diagnose.bench.sum import BenchError

# g/mol, from the two libraries the tests compare with; they differ by less than one part in ten thousand.
MOLAR_MASS = {
    "nitric acid": 63.0125,
    "acetic acid": 60.052,
    "sodium bicarbonate": 84.0065,
    "silver oxide": 231.7355,
    "silver carbonate": 275.745,
    "ferrous sulphate heptahydrate": 278.01,
    "ferrous sulphate monohydrate": 169.92,
    "ferrous sulphate anhydrous": 151.905,
    "ferrous ammonium sulphate hexahydrate": 392.13,
}
WATER_DENSITY = 0.9982  # g/mL at 20 °C
GLACIAL = 99.5  # % by weight: what is sold as glacial acetic acid


class Acid(NamedTuple):
    """One acid.

    Args:
        name: as it is called on the bench
        most: the strongest that is sold for the bench [%]
        table: percent by weight and density at 20 °C [%, g/mL]
        caution: the caution that belongs to it
    """

    name: str
    most: float
    table: tuple[tuple[float, float], ...]
    caution: str


# To 40 % from the CRC handbook; 65 to 70 % from a density model, 71 % from a table of commercial acids.
# fmt: off
NITRIC_DENSITY = (
    (0.0, WATER_DENSITY), (1.0, 1.0037), (2.0, 1.0091), (5.0, 1.0257), (10.0, 1.0543), (20.0, 1.1150), (30.0, 1.1801),
    (36.0, 1.2202), (40.0, 1.2466), (65.0, 1.391), (68.0, 1.403), (70.0, 1.410), (71.0, 1.420),
)
# All from the CRC handbook. It rises to a peak near 78 % and falls again.
ACETIC_DENSITY = (
    (0.0, WATER_DENSITY), (5.0, 1.0052), (10.0, 1.0121), (20.0, 1.0250), (28.0, 1.0346), (30.0, 1.0369), (34.0, 1.0413),
    (36.0, 1.0434), (50.0, 1.0562), (60.0, 1.0629), (70.0, 1.0673), (80.0, 1.0680), (90.0, 1.0644), (96.0, 1.0578),
    (98.0, 1.0538), (100.0, 1.0477),
)
# fmt: on
ACIDS = {
    "nitric": Acid("nitric acid", 71.0, NITRIC_DENSITY, "nitric-acid"),
    "acetic": Acid("acetic acid", 100.0, ACETIC_DENSITY, "acetic-acid"),
}
ACID_CHOICES = {key: acid.name for key, acid in ACIDS.items()}
ACID_SOURCES = (
    "crc-handbook Concentrative Properties of Aqueous Solutions",
    "openstax-chemistry Composition of Commercial Acids and Bases",
    "laliberte-density nitric acid 65 to 70 %",
)


def density(acid: str, percent: float) -> float:
    """Density of an acid at 20 °C.

    Args:
        acid: "nitric" or "acetic"
        percent: its strength by weight [%]

    Returns:
        density [g/mL]

    Raises:
        BenchError: stronger than that acid can be, or below nothing

    Holds: straight lines between the points of the table; between 40 and 65 % nitric the gap is wide, within 0.5 %.
    Source: crc-handbook; openstax-chemistry and laliberte-density above 40 % nitric.

    >>> density("nitric", 36)
    1.2202
    """
    checked(acid, percent)
    table = ACIDS[acid].table
    place = min(bisect_right(table, percent, key=lambda point: point[0]), len(table) - 1)
    (low, light), (high, heavy) = table[place - 1], table[place]
    return light + (heavy - light) * (percent - low) / (high - low)


def checked(acid: str, percent: float) -> float:
    """The strength, if that acid can have it [%].

    Args:
        acid: "nitric" or "acetic"
        percent: its strength by weight [%]

    Raises:
        BenchError: it cannot
    """
    kind = ACIDS[acid]
    if percent < 0:
        raise BenchError(
            f"{percent:g} % cannot be right; the percent by weight on the label of the {kind.name} is wanted"
        )
    if percent > kind.most and acid == "nitric":
        raise BenchError(
            f"nitric acid of {percent:g} % fumes and has no place on this bench; use acid of {kind.most:g} % or less"
        )
    if percent > kind.most:
        raise BenchError(f"{kind.name} of {percent:g} % is stronger than pure; {kind.most:g} % or less is accepted")
    return percent


def moles_per_litre(acid: str, percent: float) -> float:
    """What a litre of an acid holds.

    Args:
        acid: "nitric" or "acetic"
        percent: its strength by weight [%]

    Returns:
        strength at 20 °C [mol/L]

    Raises:
        BenchError: stronger than that acid can be

    Source: by definition, 10 x percent x density / molar mass; crc-handbook gives 4.824 for acetic acid of 28 %.

    >>> round(moles_per_litre("acetic", 28), 2)
    4.82
    """
    return 10 * percent * density(acid, percent) / MOLAR_MASS[ACIDS[acid].name]


def volume_before(volume: float, strength: float, wanted: float) -> float:
    """How much of a strong solution makes a volume of a weaker one: C1 V1 = C2 V2.

    Args:
        volume: of the weaker one [mL]
        strength: of the strong one [mol/L, g/L or any unit by volume]
        wanted: of the weaker one [the same unit]

    Returns:
        volume of the strong one; water makes it up to the rest [mL]

    Raises:
        BenchError: the wanted strength is above the present one

    Source: exact, nothing is lost.

    >>> round(volume_before(1000, 15.14, 1.0), 1)
    66.1
    """
    if strength <= 0 or wanted > strength:
        raise BenchError("water only makes it weaker; ask for a strength below the one at hand")
    return volume * wanted / strength


def thinned(acid: str, percent: float, wanted: float, volume: float) -> tuple[float, float]:
    """Acid and water that make a volume of thinner acid.

    Args:
        acid: "nitric" or "acetic"
        percent: strength of the acid at hand, by weight [%]
        wanted: strength wanted, by weight [%]
        volume: of thinner acid at 20 °C [mL]

    Returns:
        acid at hand and water [mL, mL]; they come to a little more than the volume, because they shrink together

    Raises:
        BenchError: the wanted strength is above the present one, or the acid cannot be

    Source: exact by weight; densities as in `density`.

    >>> [round(part) for part in thinned("acetic", 100, 28, 1000)]
    [276, 746]
    """
    if wanted > checked(acid, percent):
        raise BenchError(
            f"water only makes it weaker: ask for {percent:g} % or less, or take stronger acid than {percent:g} %"
        )
    weight = volume * density(acid, wanted)
    acid_weight = weight * wanted / percent if wanted else 0.0
    return acid_weight / density(acid, percent), (weight - acid_weight) / WATER_DENSITY


def percent_mixed(acid: str, percent: float, acid_volume: float, water_volume: float) -> float:
    """Strength of an acid and water poured together.

    Args:
        acid: "nitric" or "acetic"
        percent: strength of the acid, by weight [%]
        acid_volume: acid [mL]
        water_volume: water [mL]

    Returns:
        strength of the mixture, by weight [%]

    Raises:
        BenchError: the acid cannot be so strong, or nothing is mixed

    Source: exact by weight; anchell-cookbook p. 108: 3 volumes of glacial and 8 of water make the acid sold as 28 %.

    >>> round(percent_mixed("acetic", 99.5, 3, 8))
    28
    """
    weight = acid_volume * density(acid, percent)
    if weight + water_volume <= 0:
        raise BenchError("nothing is mixed; say how much acid and how much water")
    return percent * weight / (weight + water_volume * WATER_DENSITY)


def percents_at_density(acid: str, weighed: float) -> tuple[float, ...]:
    """Every strength an acid of this density can have: acetic acid between 1.048 and 1.068 has two.

    Args:
        acid: "nitric" or "acetic"
        weighed: density at 20 °C, as a hydrometer shows [g/mL]

    Returns:
        strengths by weight, weakest first; none where no strength has it [%, ...]

    Source: the table of `density` read backwards, so near the peak (78 % acetic) it is a few percent out.

    >>> [round(percent) for percent in percents_at_density("acetic", 1.0492)]
    [42, 100]
    """
    found = set()
    table = ACIDS[acid].table
    for (low, light), (high, heavy) in pairwise(table):
        if min(light, heavy) <= weighed <= max(light, heavy):
            found.add(low + (high - low) * (weighed - light) / (heavy - light))
    return tuple(sorted(found))


def poured_with(volume: float) -> str:
    """The tool a volume of acid is measured with.

    Args:
        volume: [mL]
    """
    return "syringe" if volume < 20 else "cylinder"
