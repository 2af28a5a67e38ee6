"""What the stock recipes of the knowledge must come to: the books' own amounts, put into g/L by pint; molar masses by molmass.

The books' amounts were read in the books (some only in part, see knowledge/sources.toml); what was added up or assumed is said
in `source`.
"""

from functools import cache

from diagnose.bench.quantity import read_strength
from diagnose.bench.recipe import scaled, strengths, with_acid_at_hand
from diagnose.entries.compiled import read_knowledge
from tests.bench.outside.value import Outside


@cache
def _knowledge():
    return read_knowledge()


def _strength(solution, substance):
    """How strong a stock recipe is in something [g/L, or % by volume], when one litre of it is made."""
    recipe = _knowledge().solutions[solution]
    parts = [
        part._replace(amount=amount.value)
        for part, amount in zip(recipe.parts, scaled(recipe.parts, recipe.volume, 1000), strict=True)
    ]
    return next(amount.value for amount in strengths(parts, 1000) if amount.label == substance)


def _part(solution, name):
    return next(part for part in _knowledge().solutions[solution].parts if part.name == name)


def _salts(solution):
    recipe = _knowledge().solutions[solution]
    return sum(part.amount for part in recipe.parts if part.unit == "g") / recipe.volume * 1000


def _range(solution, substance, which):
    told = next(
        each for each in _knowledge().solutions[solution].strength if each.of == substance and each.era == "old"
    )
    return read_strength(getattr(told, which)).value


def _instead(solution, part):
    (found,) = (each for each in _knowledge().solutions[solution].part if each.name == part)
    return found.instead[0].times


@cache
def _units():
    import pint

    return pint.UnitRegistry()


def _book(amount, volume, unit="g/L"):
    """A book's amount in a book's volume [unit]."""
    units = _units()
    return (units(amount) / units(volume)).to(unit).magnitude


def _mass(formula):
    import molmass

    return molmass.Formula(formula).mass


TOWLER = "4.625 US_fluid_ounce"  # 4 oz of water, 3 drachms of acid, 2 of alcohol
TOWLER_SOURCE = "Towler 1864 ch. XVI no. 1, by pint; fluids taken to add up"
P17 = "Estabrooke 1887 p. 17, by pint"
C27 = "Estabrooke 1887 p. 27, negative C, 64 US oz, by pint"

OUTSIDE = (
    Outside(
        "strong developer, iron 3 drachms",
        TOWLER_SOURCE,
        _book("3 apothecary_dram", TOWLER),
        0.5,
        lambda: _strength("developer-strong", "ferrous sulphate"),
    ),
    Outside(
        "strong developer, acetic acid 3 drachms",
        TOWLER_SOURCE,
        _book("3 US_fluid_dram", TOWLER, "percent"),
        0.05,
        lambda: _strength("developer-strong", "acetic acid"),
    ),
    Outside(
        "strong developer, alcohol 2 drachms",
        TOWLER_SOURCE,
        _book("2 US_fluid_dram", TOWLER, "percent"),
        0.05,
        lambda: _strength("developer-strong", "alcohol"),
    ),
    Outside(
        "mild developer, iron: no less than 18 grains to the ounce",
        "Estabrooke 1887 p. 20, by pint",
        _book("18 grain", "1 US_fluid_ounce"),
        0.5,
        lambda: _range("developer-mild", "ferrous sulphate", "least"),
    ),
    Outside(
        "mild developer, acetic acid of 28 % for glacial",
        "CRC Handbook 102nd: 4.824 mol/L at 28 %, 17.38 between its rows at 98 and 100 %",
        50 * 17.38 / 4.824,
        0.5,
        lambda: with_acid_at_hand(_part("developer-mild", "acetic acid"), 28).amount,
        seen=False,
    ),
    Outside(
        "silver bath, 100 g to the litre",
        "Vogel, Lehrbuch p. 285: 100 to 1000 of water",
        100.0,
        0.01,
        lambda: _strength("silver-bath", "silver nitrate"),
    ),
    Outside(
        "silver bath, 45 grains to the ounce",
        "Humphrey 1857 pp. 64-65, by pint",
        _book("45 grain", "1 US_fluid_ounce"),
        1.5,
        lambda: _strength("silver-bath", "silver nitrate"),
    ),
    Outside(
        "silver bath, 25 mL of 1 % iodide",
        "Vogel, Lehrbuch p. 285",
        0.25,
        0.001,
        lambda: _strength("silver-bath", "potassium iodide"),
    ),
    Outside(
        "silver bath, nitric acid in mmol: 3 drops of gravity 1.22, as acid of 10 %",
        "Vogel, Lehrbuch p. 285, with 6.971 and 1.673 mol/L from the CRC Handbook; a drop taken as 0.05 mL",
        3 * 0.05 * 6.971,
        0.02,
        lambda: _strength("silver-bath", "nitric acid") * 10 * 1.673,
        seen=False,
    ),
    Outside(
        "strong collodion, all salts: 8 grains to the ounce",
        P17,
        _book("8 grain", "1 US_fluid_ounce"),
        0.2,
        lambda: _salts("collodion-strong-positive"),
    ),
    *(
        Outside(
            f"strong collodion, {substance}: {grains} to the ounce",
            P17,
            _book(f"{grains} grain", "1 US_fluid_ounce"),
            within,
            lambda substance=substance: _strength("collodion-strong-positive", substance),
        )
        for substance, grains, within in (
            ("gun cotton", 5.5, 0.6),  # 5 to 6
            ("ammonium iodide", 4, 0.1),
            ("cadmium iodide", 2, 0.1),
            ("cadmium bromide", 1, 0.1),
            ("copper bromide", 1, 0.1),
        )
    ),
    Outside(
        "bromo-iodide collodion, all salts: 416 grains",
        C27,
        _book("416 grain", "64 US_fluid_ounce"),
        0.1,
        lambda: _salts("collodion-bromo-iodide"),
    ),
    *(
        Outside(
            f"bromo-iodide collodion, {substance}: {grains} grains",
            C27,
            _book(f"{grains} grain", "64 US_fluid_ounce"),
            0.05,
            lambda substance=substance: _strength("collodion-bromo-iodide", substance),
        )
        for substance, grains in (
            ("gun cotton", 320),
            ("ammonium iodide", 192),
            ("cadmium bromide", 128),
            ("potassium bromide", 96),
        )
    ),
    Outside(
        "bromo-iodide collodion, ether to alcohol, equal",
        "Estabrooke 1887 p. 27, negative C",
        1.0,
        0.02,
        lambda: _strength("collodion-bromo-iodide", "ether") / _strength("collodion-bromo-iodide", "alcohol"),
    ),
    Outside(
        "collodion without cadmium, potassium iodide: 30 grains in 10 ounces",
        "Humphrey 1857 p. 59, by pint",
        _book("30 grain", "10 US_fluid_ounce"),
        0.05,
        lambda: _strength("collodion-without-cadmium", "potassium iodide"),
    ),
    Outside(
        "collodion without cadmium, ammonium bromide: 20 grains in 10 ounces",
        "Humphrey 1857 p. 59, by pint",
        _book("20 grain", "10 US_fluid_ounce"),
        0.05,
        lambda: _strength("collodion-without-cadmium", "ammonium bromide"),
    ),
    Outside(
        "collodion without cadmium, ether to alcohol, 10 to 6",
        "Humphrey 1857 p. 53",
        10 / 6,
        0.05,
        lambda: _strength("collodion-without-cadmium", "ether") / _strength("collodion-without-cadmium", "alcohol"),
    ),
    Outside(
        "collodion without cadmium, gun cotton beside 6 grains to the ounce",
        "Humphrey 1857 pp. 54-56 (trials of E. A. Hadow), by pint; US ounce assumed",
        _book("6 grain", "1 US_fluid_ounce"),
        1.3,
        lambda: _strength("collodion-without-cadmium", "gun cotton"),
        seen=False,
    ),
    Outside(
        "hypo, 4 oz to the imperial pint",
        "Hunt 1853 collodion part 5, by pint",
        _book("4 ounce", "1 imperial_pint"),
        1.0,
        lambda: _strength("fixer-hypo", "hypo"),
    ),
    Outside(
        "hypo at its weakest, 1 pound to the gallon",
        "Estabrooke 1887 p. 36, by pint",
        _book("1 pound", "1 US_liquid_gallon"),
        1.0,
        lambda: _range("fixer-hypo", "hypo", "least"),
    ),
    Outside(
        "hypo at its strongest, 8 oz to the imperial pint",
        "Long 1858 p. 15, by pint",
        _book("8 ounce", "1 imperial_pint"),
        1.0,
        lambda: _range("fixer-hypo", "hypo", "most"),
    ),
    Outside(
        "dried hypo for crystals",
        "molmass, Na2S2O3 and Na2S2O3 + 5 H2O",
        _mass("Na2S2O3") / _mass("Na2S2O3(H2O)5"),
        0.0005,
        lambda: _instead("fixer-hypo", "hypo"),
    ),
    Outside(
        "cadmium bromide crystals for the salt without water",
        "molmass, CdBr2 + 4 H2O and CdBr2",
        _mass("CdBr2(H2O)4") / _mass("CdBr2"),
        0.001,
        lambda: _instead("collodion-bromo-iodide", "cadmium bromide"),
    ),
    Outside(
        "cyanide of the old books at its weakest, 1 drachm in 8 oz",
        "Humphrey 1857 p. 63, by pint",
        _book("1 apothecary_dram", "8 US_fluid_ounce"),
        0.5,
        lambda: _range("fixer-cyanide", "potassium cyanide", "least"),
    ),
    Outside(
        "cyanide of the old books at its strongest, 1 oz in 30 oz",
        "Schriever 1908 para 898, by pint",
        _book("1 ounce", "30 US_fluid_ounce"),
        0.5,
        lambda: _range("fixer-cyanide", "potassium cyanide", "most"),
    ),
    Outside(
        "seed-lac varnish, 1 pound to the gallon of alcohol",
        "Schriever 1908 paras 927-929, by pint",
        _book("1 pound", "1 US_liquid_gallon"),
        0.5,
        lambda: _strength("varnish-seed-lac", "seed-lac"),
    ),
)
