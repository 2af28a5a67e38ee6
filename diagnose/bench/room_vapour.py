"""Ether and alcohol in the air of a darkroom: how little of the liquid reaches the figures of danger."""

from typing import NamedTuple

from diagnose.bench.collodion_salts import COLLODION_PER_AREA
from diagnose.bench.sum import Amount, Asked, Sum, Worked

MOLAR_VOLUME = 24.055  # of any gas at 20 °C and one atmosphere [L/mol]
LOW = 0.1  # judged: a heavy vapour may lie in so much of the room's height


class Liquid(NamedTuple):
    """A solvent of collodion.

    Args:
        molar_mass: [g/mol]
        density: at 20 °C [g/mL]
    """

    molar_mass: float
    density: float


ETHER = Liquid(74.123, 0.7135)
ALCOHOL = Liquid(46.069, 0.7893)


def gas_moles(ppm: float, room: float) -> float:
    """How much of a gas is in a room.

    Args:
        ppm: parts of the gas in a million of air [ppm]
        room: volume of the room [m³]

    Returns:
        the gas [mol]

    Holds: ideal gas at 20 °C and one atmosphere, evenly mixed.
    Source: exact (ideal gas).

    >>> round(gas_moles(1_000_000, 0.024055), 6)
    1.0
    """
    return ppm * 1e-6 * room * 1000 / MOLAR_VOLUME


def ether_for(ppm: float, room: float) -> float:
    """Liquid ether that brings the air of a closed room to a figure.

    Args:
        ppm: the figure [ppm]
        room: volume of the room [m³]

    Returns:
        ether [mL]

    Assumes: no air changes, evenly mixed; in truth it lies low, so near the floor the figure comes much sooner.
    Source: ideal gas; density ntp-ether.

    >>> round(ether_for(400, 20), 1)
    34.5
    """
    return gas_moles(ppm, room) * ETHER.molar_mass / ETHER.density


def alcohol_for(ppm: float, room: float) -> float:
    """Liquid alcohol that brings the air of a closed room to a figure.

    Args:
        ppm: the figure [ppm]
        room: volume of the room [m³]

    Returns:
        ethanol [mL]

    Assumes: no air changes, evenly mixed.
    Source: ideal gas; density crc-handbook.

    >>> round(alcohol_for(1000, 20), 1)
    48.5
    """
    return gas_moles(ppm, room) * ALCOHOL.molar_mass / ALCOHOL.density


def milligrams(ppm: float, molar_mass: float) -> float:
    """A figure of the air by weight, as tables of limits give it.

    Args:
        ppm: parts in a million [ppm]
        molar_mass: of the gas [g/mol]

    Returns:
        weight in a cubic metre of air at 25 °C [mg/m³]

    Holds: ideal gas at 25 °C and one atmosphere, the custom of the tables.
    Source: niosh-idlh.

    >>> round(milligrams(400, 74.12))   # niosh-idlh: 1200, rounded
    1213
    """
    return ppm * molar_mass / 24.45


# Limits of niosh-idlh and niosh-pocket-guide; what lights is the lower of two tables.
_FIGURES = (
    ("ether_short_limit", "ether to the quarter-hour limit (500 ppm)", ether_for, 500),
    ("ether_day_limit", "ether to the workday limit (400 ppm)", ether_for, 400),
    ("ether_danger", "ether to danger to life (1900 ppm)", ether_for, 1900),
    ("ether_lights", "ether until the whole room can light (1.7 %)", ether_for, 17_000),
    ("alcohol_day_limit", "alcohol to the workday limit (1000 ppm)", alcohol_for, 1000),
    ("alcohol_danger", "alcohol to danger to life (3300 ppm)", alcohol_for, 3300),
    ("alcohol_lights", "alcohol until the whole room can light (3.1 %)", alcohol_for, 31_000),
)


def _fill(room: float, plate: float, ether_share: float) -> Worked:
    figures = tuple(
        Amount(name, label, liquid_for(ppm, room), "mL", "cylinder", never_over=True)
        for name, label, liquid_for, ppm in _FIGURES
    )
    count = figures[0].value / (COLLODION_PER_AREA * plate * ether_share / 100)
    plates = Amount("plates", "plates poured to the quarter-hour limit", count, "plates", "plates", never_over=True)
    low = Amount(
        "ether_lights_low",
        "ether that can light, if it lies in the lowest tenth of the room",
        LOW * ether_for(17_000, room),
        "mL",
        "cylinder",
        never_over=True,
    )
    amounts = (figures[0], plates, low, *(figure._replace(aside=True) for figure in figures[1:]))
    return Worked(
        amounts,
        (
            "Never take these as an allowance: draw air off low down, at the bench and by the floor, all the while ether is open.",
            "No flame, heater, switch or phone charger below or beside the pouring place; bottles shut between plates.",
            "After a spill go out and let it air; touch no switch on the way.",
        ),
        (
            "Ether vapour is 2.6 times as heavy as air and lies low: by the floor and round the bottle it can light long before.",
            "Reckoned as if the vapour were spread evenly in a shut room; a head dizzy or aching means out at once.",
            "Cold alcohol, below about 12 °C, gives too little vapour to light; ether lights at any warmth you can work in.",
        ),
    )


ETHER_IN_ROOM = Sum(
    name="ether-in-room",
    title="How little ether or alcohol makes the air of a darkroom harmful, or able to light",
    asks=(
        Asked(name="room", ask="How large is the room, such as 4 x 3 x 2.5 m or 30 m³?", unit="m³", range=(0.5, 2000)),
        Asked(
            name="plate",
            ask="How large is the plate?",
            unit="cm²",
            range=(4, 20_000),
            usual=234.0,
            usual_because="13 x 18 cm, only to tell it in plates",
        ),
        Asked(
            name="ether_share",
            ask="How much of the collodion's solvents is ether?",
            unit="%",
            range=(20, 90),
            usual=50.0,
            usual_because="equal parts, as Estabrooke has it; only to tell it in plates",
        ),
    ),
    work=_fill,
    formula="mL = ppm / 1 000 000 x room in litres / 24.055 x molar mass / density",
    holds="a shut room at 20 °C, all of it evaporated and evenly spread, which it never is; a warning, not an allowance",
    accuracy="the gas within 2 % from 15 to 25 °C; where the vapour lies may differ tenfold",
    sources=(
        "niosh-idlh ethyl ether, ethyl alcohol",
        "niosh-pocket-guide ethyl alcohol",
        "ntp-ether fire hazards",
        "iec-60079-20-1 diethyl ether, ethanol",
        "vogel_lehrbuch p. 284",
    ),
    cautions=("ether-and-alcohol",),
)

SUMS: tuple[Sum, ...] = (ETHER_IN_ROOM,)
