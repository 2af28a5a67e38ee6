"""The last wash: how long, and how many changes of water bring the fixer down."""

import math
from typing import NamedTuple

from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked
from diagnose.bench.wording import about

CARRIED_PER_AREA = 0.008  # Vogel: 8 g of bath leave with a tenth of a square metre, drips counted in [mL/cm²]
SOAK = 3.0  # judged: a change gives its whole share only after so long, gently rocked [min]


class Wash(NamedTuple):
    """How long books and trade wash after a fixer.

    Args:
        least: [min]
        usual: [min]
        most: [min]
        words: who says so
    """

    least: float
    usual: float
    most: float
    words: str


# Hunt: half an hour and more after hypo, glass negatives. Hasluck: ferrotypes a minute or more. The rest is trade custom.
WASHES = {
    "hypo": Wash(
        15, 30, 60, "Hunt 1853 soaks half an hour at least after hypo; today a quarter to a whole hour is usual."
    ),
    "rapid": Wash(
        10, 20, 40, "No old book knows rapid fixer; it washes out a little sooner than hypo, so the trade says."
    ),
    "cyanide": Wash(1, 5, 15, "Hasluck gives ferrotypes a minute or more; five minutes is usual after cyanide."),
}


def left_after(changes: float, water: float, carried: float) -> float:
    """Share of the fixer left on a plate after changes of water.

    Args:
        changes: how often fresh water is given
        water: in each change [mL]
        carried: liquid that clings to plate and film from one to the next [mL]

    Returns:
        share of what was there at first, 0 to 1

    Raises:
        BenchError: no water, or nothing carried over

    Assumes: each change soaks until film and water are alike, and the plate drains as well every time.
    Source: exact.

    >>> round(left_after(3, 90, 10), 6)
    0.001
    """
    if water <= 0 or carried <= 0:
        raise BenchError("a change needs some water, and a plate carries some over; give amounts above 0 mL")
    return float((carried / (carried + water)) ** changes)


def changes_for(wanted: float, water: float, carried: float) -> int:
    """Changes of water that bring the fixer down by a wanted factor.

    Args:
        wanted: how many times less fixer is to be left [times]
        water: in each change [mL]
        carried: liquid that clings to plate and film [mL]

    Returns:
        changes, whole

    Raises:
        BenchError: no water, nothing carried over, or a factor below 1

    Assumes: as left_after.
    Source: exact.

    >>> changes_for(1000, 90, 10)
    3
    """
    if wanted < 1:
        raise BenchError("the fixer can only become less; a factor of 1 or more is accepted")
    once = -math.log(left_after(1, water, carried))
    return math.ceil(math.log(wanted) / once - 1e-9)


def carried_over(plate_area: float) -> float:
    """Liquid that leaves a bath on a plate.

    Args:
        plate_area: of one plate [cm²]

    Returns:
        liquid on both faces and in the film [mL]

    Assumes: what Vogel's silver bath lost with his plates, drips and splashes too; a plate well drained carries less.
    Source: vogel_lehrbuch p. 285.

    >>> carried_over(1000)
    8.0
    """
    return CARRIED_PER_AREA * plate_area


def _wash(fixer: str, support: str, plate: float, water: float, wanted: float) -> Worked:
    carried = carried_over(plate)
    if water < carried:
        raise BenchError(
            f"{about(water, 'mL')} does not cover such a plate; give it {about(4 * carried, 'mL')} or more at each change"
        )
    changes = changes_for(wanted, water, carried)
    soaking = changes * SOAK
    wash = WASHES[fixer]
    beware = [
        wash.words,
        "No count proves a wash, and hard scum, a lifted edge or rough glass holds fixer; the test has the last word.",
    ]
    if soaking > wash.usual:
        beware.insert(0, "In so little water the changes take longer than the usual wash: use more water at each.")
    if water < 4 * carried:
        beware.append(
            "So little water hardly covers the plate: what clings to it counts for much, and the sum is rough."
        )
    return Worked(
        (
            Amount("washing_time", "wash", max(wash.usual, soaking), "min"),
            Amount("least", "at the least", max(wash.least, soaking), "min"),
            Amount("most", "more is of no use after", max(wash.most, soaking), "min"),
            Amount("changes", "changes of water", changes, "number"),
            Amount("each", "rocked gently in each", SOAK, "min"),
            Amount(
                "left",
                "fixer left: one part in",
                1 / left_after(changes, water, carried),
                "number",
                figures=2,
                aside=True,
            ),
        ),
        (
            "Rinse face, back and edges before the first change; water beside the film, never hard on it.",
            "Drain the plate by a corner at every change, and rinse the tray too.",
            *_SUPPORTS[support],
            "To prove it let the last drops fall into water just pink with permanganate: it stays pink, or greens with hypo."
            if fixer != "cyanide"
            else "Acid comes near neither plate nor wash water; the first rinse goes to the cyanide waste.",
            "End with distilled water, so that no scum dries on.",
        ),
        tuple(beware),
        ("cyanide", "cyanide-and-acid") if fixer == "cyanide" else ("hypo",),
    )


# The support soaks up nothing, so it hardly changes the time: judged.
_SUPPORTS = {
    "glass": ("Glass holds no fixer; a ground edge does, so wash the rim.",),
    "iron": ("Japanned iron holds no fixer, but its cut edges rust: do not wash overnight, and dry it at once.",),
    "aluminium": ("Enamelled metal holds no fixer; its cut edges do, so let water run along them.",),
    "acrylic": (
        "The film clings to acrylic less than to glass: no running water on the film, and stop when the time is up.",
    ),
}

WASHING_TIME = Sum(
    name="washing-time",
    title="How long to wash after the fixer, and in how many changes of water",
    asks=(
        Asked(
            name="fixer",
            ask="Which fixer was used?",
            choices={
                "hypo": "hypo (sodium thiosulphate)",
                "rapid": "rapid fixer (ammonium thiosulphate)",
                "cyanide": "potassium cyanide",
            },
        ),
        Asked(
            name="support",
            ask="What is the plate made of?",
            choices={
                "glass": "glass",
                "iron": "japanned iron",
                "aluminium": "enamelled aluminium",
                "acrylic": "acrylic",
            },
        ),
        Asked(
            name="water",
            ask="How much water is in the tray at each change?",
            unit="mL",
            range=(20, 50_000),
            usual=500.0,
            usual_because="a tray for 13 x 18 cm, plate well covered",
        ),
        Asked(
            name="plate",
            ask="How large are the plates in the tray, all together?",
            unit="cm²",
            range=(4, 20_000),
            usual=234.0,
            usual_because="one of 13 x 18 cm",
        ),
        Asked(
            name="wanted",
            ask="How many times less fixer is to be left on the plate?",
            unit="times",
            range=(2, 1_000_000),
            usual=1000.0,
            usual_because="brings hypo of 20 % to about what film standards allow for keeping; from memory",
        ),
    ),
    work=_wash,
    formula="left = (carried / (carried + water)) ^ changes; carried = 8 mL to a tenth of a square metre; 3 min a change",
    holds="thin collodion on glass or metal, which soak up nothing; gently rocked, each change drained off",
    accuracy="the changes within a factor of two in what is left; books and trade differ fourfold in the time",
    sources=(
        "hunt1853 collodion part 6",
        "hasluck1905 ferrotype",
        "robinson_abney1881 p. 97",
        "vogel_lehrbuch p. 285",
        "common-practice",
        "judged",
        "from-memory",
    ),
)

SUMS: tuple[Sum, ...] = (WASHING_TIME,)
