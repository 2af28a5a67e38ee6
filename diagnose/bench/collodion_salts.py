"""The salts of collodion: how much to weigh, how iodide stands to bromide, and the silver they take out of the bath."""

from typing import NamedTuple

from diagnose.bench.sum import Amount, Asked, MoreWantedError, Sum, Worked

SILVER_NITRATE = 169.872  # molar mass [g/mol]
COLLODION_PER_AREA = 0.02  # Vogel: 20 mL to a tenth of a square metre, what drains off counted in [mL/cm²]
HYDRATED_CADMIUM_BROMIDE = 344.282  # with four waters [g/mol]
RICH, LEAN = 17.5, 12.0  # Estabrooke: 8 grains to the ounce wants a bath of 50; 5.5 (his least, 12 g/L) one of 45 [g/L]


class Salt(NamedTuple):
    """A salt of collodion.

    Args:
        name: as it is asked for
        label: for people
        molar_mass: [g/mol]
        halides: iodide or bromide in one formula
        iodide: whether it is an iodide (else a bromide)
    """

    name: str
    label: str
    molar_mass: float
    halides: int
    iodide: bool


# Standard atomic weights; held against molmass and periodictable in the tests.
SALTS = (
    Salt("ammonium_iodide", "ammonium iodide", 144.943, 1, True),
    Salt("cadmium_iodide", "cadmium iodide", 366.223, 2, True),
    Salt("potassium_iodide", "potassium iodide", 166.003, 1, True),
    Salt("lithium_iodide", "lithium iodide, free of water", 133.845, 1, True),
    Salt("sodium_iodide", "sodium iodide, free of water", 149.894, 1, True),
    Salt("zinc_iodide", "zinc iodide", 319.189, 2, True),
    Salt("ammonium_bromide", "ammonium bromide", 97.943, 1, False),
    Salt("cadmium_bromide", "cadmium bromide", 272.222, 2, False),
    Salt("potassium_bromide", "potassium bromide", 119.002, 1, False),
    Salt("sodium_bromide", "sodium bromide", 102.894, 1, False),
    Salt("copper_bromide", "copper bromide (cupric)", 223.354, 2, False),
)
BY_NAME = {salt.name: salt for salt in SALTS}


def salt_mass(strength: float, volume: float) -> float:
    """How much of a salt to weigh.

    Args:
        strength: salt in the finished collodion [g/L]
        volume: of the batch [mL]

    Returns:
        salt [g]

    Source: exact.

    >>> salt_mass(8, 250)
    2.0
    """
    return strength * volume / 1000


def halide(salt: str, strength: float, hydrated: bool = False) -> float:
    """Iodide or bromide that a salt brings.

    Args:
        salt: one of the salts by its name
        strength: salt in the collodion [g/L]
        hydrated: whether it is cadmium bromide in crystals with four waters

    Returns:
        halide [mol/L]

    Holds: pure dry salts.
    Source: exact, from atomic weights.

    >>> round(halide("cadmium_iodide", 36.6223), 3)
    0.2
    """
    kind = BY_NAME[salt]
    mass = HYDRATED_CADMIUM_BROMIDE if hydrated and salt == "cadmium_bromide" else kind.molar_mass
    return strength / mass * kind.halides


def silver_taken(halides: float, area: float) -> float:
    """Silver nitrate that the salts on a plate turn into iodide and bromide, and the bath loses.

    Args:
        halides: iodide and bromide in the collodion [mol/L]
        area: of the plates [cm²]

    Returns:
        silver nitrate [g]

    Assumes: 20 mL of collodion to a tenth of a square metre, all of which stays on the plate; so rather too much.
    Source: vogel_lehrbuch p. 284.

    >>> round(silver_taken(0.092, 1000), 2)   # worked out from Vogel's collodion
    0.31
    """
    return halides * COLLODION_PER_AREA * area / 1000 * SILVER_NITRATE


def _weigh(volume: float, plate: float, cadmium_bromide_form: str, **strengths: float) -> Worked:
    used = [salt for salt in SALTS if strengths[salt.name] > 0]
    if not used:
        raise MoreWantedError(f"no salt was told; give one or more of: {', '.join(BY_NAME)}, in g/L or gr/oz")
    hydrated = cadmium_bromide_form == "crystals"
    moles = {salt.name: halide(salt.name, strengths[salt.name], hydrated) for salt in used}
    iodide = sum(moles[salt.name] for salt in used if salt.iodide)
    bromide = sum(moles.values()) - iodide
    total = sum(strengths[salt.name] for salt in used)
    cadmium = any(salt.name.startswith("cadmium") for salt in used)
    amounts = [Amount(salt.name, salt.label, salt_mass(strengths[salt.name], volume), "g", "balance") for salt in used]
    if iodide and bromide:
        amounts.append(
            Amount("iodide_to_bromide", "parts of iodide to one of bromide, by moles", iodide / bromide, "number")
        )
    amounts += [
        Amount("salts", "salts in all", total, "g/L"),
        Amount(
            "silver_on_plate",
            "silver nitrate one plate takes up",
            silver_taken(iodide + bromide, plate),
            "g",
            figures=2,
        ),
        Amount(
            "silver_on_area",
            "silver nitrate a tenth of a square metre takes up",
            silver_taken(iodide + bromide, 1000),
            "g",
            figures=2,
            aside=True,
        ),
    ]
    return Worked(
        tuple(amounts),
        (
            "Weigh each salt on its own paper; grind nothing dry.",
            "Dissolve them in the alcohol of the recipe, in moving air, and wait until no grain is left on the bottom.",
            "Add that to the plain collodion, turn it over, let it settle until clear and decant or filter it.",
        ),
        tuple(_doubts(used, iodide, bromide, total)),
        ("cadmium-salts",) if cadmium else (),
    )


def _doubts(used: list[Salt], iodide: float, bromide: float, total: float) -> list[str]:
    doubts = [
        "Bath that clings to the plate is not counted; by Vogel's figures it takes about twice as much silver again."
    ]
    if not iodide:
        doubts.append("Bromide alone makes no usual wet plate: books of the wet process have iodide, most of it.")
    elif bromide > iodide:
        doubts.append("More bromide than iodide by moles is rare in the books: look at the recipe again.")
    if total >= RICH:
        doubts.append("So much salt wants a strong bath: Estabrooke asks 110 g/L or more for 17.5 g/L of salts.")
    elif total < LEAN:
        doubts.append("Little salt, less than Estabrooke's least of 12 g/L: watch for a thin, bluish film.")
    potassium = [salt.label for salt in used if salt.name.startswith("potassium")]
    if potassium:
        doubts.append(
            f"{' and '.join(potassium).capitalize()}: hard to dissolve in strong alcohol; Humphrey takes the least water."
        )
    if any(salt.label.endswith("free of water") for salt in used):
        doubts.append("Lithium and sodium iodide draw water from the air: an old jar holds less iodide than reckoned.")
    return doubts


def _ask(salt: Salt) -> Asked:
    return Asked(
        name=salt.name,
        ask=f"{salt.label.capitalize()}: how much is in the finished collodion?",
        unit="g/L",
        range=(0, 60),
        usual=0.0,
        usual_because="not in the recipe",
        if_known=True,
    )


COLLODION_SALTS = Sum(
    name="collodion-salts",
    title="Salts to weigh for a batch of collodion, and the silver they take",
    asks=(
        Asked(name="volume", ask="How much finished collodion is to be made?", unit="mL", range=(10, 20_000)),
        *(_ask(salt) for salt in SALTS),
        Asked(
            name="cadmium_bromide_form",
            ask="Is the cadmium bromide in crystals (with water) or free of water?",
            choices={"crystals": "crystals, with four waters", "dry": "free of water"},
            usual="crystals",
            usual_because="the jar usually holds crystals; it only shifts the moles, never what is weighed",
        ),
        Asked(
            name="plate",
            ask="How large is the plate?",
            unit="cm²",
            range=(4, 20_000),
            usual=234.0,
            usual_because="13 x 18 cm, only for the silver one plate takes",
        ),
    ),
    work=_weigh,
    formula="grams = g/L x litres; moles = g/L x halides in the formula / molar mass; silver nitrate = moles x 169.872",
    holds="pure dry salts and the recipe's strength in the finished collodion; 20 mL of collodion to a tenth of a square metre",
    accuracy="grams and moles exact; silver on the plate within about a third, rather too high",
    sources=(
        "exact",
        "vogel_lehrbuch p. 284",
        "estabrooke1887 pp. 17, 27",
        "humphrey1857 p. 59",
        "from-memory",
    ),
    cautions=("ether-and-alcohol",),
)

SUMS: tuple[Sum, ...] = (COLLODION_SALTS,)
