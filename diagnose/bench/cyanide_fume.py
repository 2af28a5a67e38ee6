"""Why cyanide and acid must never meet: how little is needed for the air of a darkroom to become deadly. Warning only."""

from diagnose.bench.room_vapour import gas_moles
from diagnose.bench.sum import Amount, Asked, Sum, Worked

POTASSIUM_CYANIDE = 65.116  # [g/mol]
HALF_WAY = 9.21  # pH at which half of it stands as hydrogen cyanide
SHORT_LIMIT, DANGER = 4.7, 50.0  # quarter-hour limit; danger to life [ppm]


def hydrogen_cyanide_share(acidity: float) -> float:
    """Share of dissolved cyanide that stands ready as hydrogen cyanide, the deadly gas.

    Args:
        acidity: of the water [pH]

    Returns:
        share, 0 to 1

    Holds: thin solutions at 25 °C; a few hundredths off near pH 9 in strong ones.
    Source: minteq log K 9.21.

    >>> round(hydrogen_cyanide_share(7), 3)
    0.994
    """
    return float(1 / (1 + 10 ** (acidity - HALF_WAY)))


def cyanide_reaching(ppm: float, room: float) -> float:
    """Potassium cyanide whose whole gas would bring the air of a shut room to a figure: the measure of the danger.

    Args:
        ppm: the figure [ppm]
        room: volume of the room [m³]

    Returns:
        potassium cyanide [g]

    Assumes: all of it turned to gas and evenly spread; over the tray itself the air is deadly much sooner.
    Source: ideal gas; molar mass exact.

    >>> round(cyanide_reaching(50, 20), 1)   # under 3 g in a small darkroom
    2.7
    """
    return gas_moles(ppm, room) * POTASSIUM_CYANIDE


def _warn(room: float, acidity: float) -> Worked:
    share = hydrogen_cyanide_share(acidity)
    doubts = [
        "Over the tray, the drain or the waste jar the air is deadly with far less than this: it is no safe amount.",
        "One to two people in five cannot smell the gas; no smell means nothing.",
        "Some of the gas is there even in plain water; a drop of developer, vinegar or nitric acid sets much more free.",
        "Old books name fixers of 16 to 32 g/L of it; this program mixes none. That is for trained, licensed hands.",
    ]
    if acidity < 11:
        doubts.append(
            "Below about pH 11 it gives off gas. Leave waste as it is, mix nothing in, and ask the hazardous-waste service."
        )
    return Worked(
        (
            Amount(
                "to_danger",
                "cyanide that can bring this room to danger to life (50 ppm)",
                cyanide_reaching(DANGER, room),
                "g",
                figures=2,
            ),
            Amount(
                "to_limit",
                "cyanide that can bring it to the quarter-hour limit (4.7 ppm)",
                cyanide_reaching(SHORT_LIMIT, room),
                "g",
                figures=2,
            ),
            Amount(
                "gas_share", f"dissolved cyanide ready to leave as gas at pH {acidity:g}", share * 100, "%", figures=2
            ),
        ),
        (
            "Keep acid and developer away from cyanide: own tray, own tongs, own drain, own waste jar, plate rinsed well between.",
            "If they have met: out at once, shut the door, call for help; nobody goes back in.",
            "Hypo clears the same plate without this danger.",
        ),
        tuple(doubts),
    )


CYANIDE_WARNING = Sum(
    name="cyanide-warning",
    title="How little cyanide, met by acid, makes the air of a darkroom deadly",
    asks=(
        Asked(name="room", ask="How large is the room, such as 4 x 3 x 2.5 m or 30 m³?", unit="m³", range=(5, 500)),
        Asked(
            name="acidity",
            ask="What is the pH of the water or waste it is in?",
            unit="pH",
            range=(0, 14),
            usual=7.0,
            usual_because="plain water, as in a drain or rinse",
        ),
    ),
    work=_warn,
    formula="grams = ppm / 1 000 000 x room in litres / 24.055 x 65.116; share as gas = 1 / (1 + 10^(pH - 9.21))",
    holds="a shut room at 20 °C, spread evenly; only to show the size of the danger, never to judge an amount safe",
    accuracy="the gas within 2 %; danger near the tray far greater than told",
    sources=(
        "pel88-hcn hydrogen cyanide",
        "osha-cyanide limits",
        "haz-map hydrogen cyanide",
        "minteq HCN",
        "humphrey1857 p. 63",
        "schriever1908 para 898",
        "from-memory",
    ),
    cautions=("cyanide", "cyanide-and-acid"),
)

SUMS: tuple[Sum, ...] = (CYANIDE_WARNING,)
