"""Iron salts of the developer against each other."""

from diagnose.bench.acids import MOLAR_MASS
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked

SALTS = {
    "heptahydrate": MOLAR_MASS["ferrous sulphate heptahydrate"],
    "dried": MOLAR_MASS["ferrous sulphate monohydrate"],
    "anhydrous": MOLAR_MASS["ferrous sulphate anhydrous"],
    "double-salt": MOLAR_MASS["ferrous ammonium sulphate hexahydrate"],
}
NAMES = {
    "heptahydrate": "ferrous sulphate in green crystals (heptahydrate)",
    "dried": "dried ferrous sulphate (monohydrate)",
    "anhydrous": "anhydrous ferrous sulphate",
    "double-salt": "ferrous ammonium sulphate (Mohr's salt, hexahydrate)",
}


def same_iron(mass: float, recipe_salt: str, salt: str) -> float:
    """Iron salt at hand that holds as much iron as the recipe's.

    Args:
        mass: iron salt in the recipe [g]
        recipe_salt: what it is, a key of SALTS
        salt: what is at hand, a key of SALTS

    Returns:
        salt at hand [g]

    Holds: pure salts as named; old dried salt has lost iron to the air.
    Source: exact, by molar masses: 10 g of anhydrous salt are 18.30 g of crystals.

    >>> round(same_iron(10, "anhydrous", "heptahydrate"), 1)
    18.3
    """
    return mass * SALTS[salt] / SALTS[recipe_salt]


def developer_iron(mass: float, recipe_salt: str, salt: str) -> Worked:
    """How much of the salt at hand replaces the recipe's.

    Raises:
        BenchError: both are the same salt
    """
    if recipe_salt == salt:
        raise BenchError("the recipe and the jar have the same salt: weigh what the recipe says")
    beware = ["Brown on the crystals is spoiled salt, white powder on them dried salt: pick out the clear green ones."]
    cautions: tuple[str, ...] = ()
    if "dried" in {salt, recipe_salt}:
        beware.append(
            "Salt sold as dried is often a mixture with less water than this reckons: a few percent of doubt."
        )
    if salt in {"dried", "anhydrous"}:
        beware.append("It dissolves slowly and often brings brown with it: let it stand, then filter.")
    if "double-salt" in {salt, recipe_salt}:
        beware += [
            "Mohr's salt keeps better; that it develops like plain sulphate, iron for iron, is from memory: prove it on a plate.",
            "Keep its waste acid: an alkali sets ammonia free from it, and ammonia with silver makes compounds that explode.",
        ]
        cautions = ("ammonia-and-silver",)
    amounts = (Amount("mass", NAMES[salt], same_iron(mass, recipe_salt, salt), "g", "balance"),)
    do = ("The acid into the water first, then the iron; when it is dissolved, the alcohol last. Filter.",)
    return Worked(amounts, do, tuple(beware), cautions)


DEVELOPER_IRON = Sum(
    name="developer-iron",
    title="Another iron salt than the recipe's",
    asks=(
        Asked(name="mass", ask="How much iron salt does the recipe take?", unit="g", range=(0.1, 5000)),
        Asked(name="salt", ask="Which salt is at hand?", choices=NAMES),
        Asked(
            name="recipe_salt",
            ask="Which salt does the recipe mean?",
            choices=NAMES,
            usual="heptahydrate",
            usual_because="green vitriol, copperas, iron protosulphate of old books",
        ),
    ),
    work=developer_iron,
    formula="g = g of the recipe x molar mass of yours / molar mass of the recipe's",
    holds="pure salts as named; an old book asks for a quarter to a half more of common copperas",
    accuracy="0.1 % for pure salts; dried salt a few percent",
    sources=("exact", "humphrey1857 pp. 62-63", "sutton1858 Positive Collodion", "from-memory"),
    cautions=("iron-developer", "cyanide-and-acid"),
)
