"""The silver bath against printed tables, worked sums of the books, and reference libraries."""

from functools import cache

from diagnose.bench import bath_mending, bath_mixing, bath_weighed, baume, hydrometer, silver_density, silver_iodide
from diagnose.bench import bath_wear as wear
from diagnose.bench.silver_density import NITRATE_MASS
from diagnose.bench.water_density import water_density
from diagnose.units import convert
from tests.bench.outside.value import Outside

# Columns the table does not hand to us: [% by weight, mol in a kilogram of water, mol in a litre, density], as printed. The
# density is what we are given; molarity and molality are what we must come to.
CRC = """
0.5 0.03 0.03 1.0027|1 0.059 0.059 1.007|2 0.12 0.12 1.0154|3 0.182 0.181 1.0239|4 0.245 0.243 1.0327
5 0.31 0.307 1.0417|6 0.376 0.371 1.0506|7 0.443 0.437 1.0597|8 0.512 0.503 1.069|9 0.582 0.571 1.0785
10 0.654 0.641 1.0882|12 0.803 0.783 1.1079|14 0.958 0.93 1.1284|16 1.121 1.083 1.1496|18 1.292 1.241 1.1715
20 1.472 1.406 1.1942|22 1.66 1.577 1.2177|24 1.859 1.755 1.242|26 2.068 1.94 1.2672|28 2.289 2.132 1.2933
30 2.523 2.332 1.3204|32 2.77 2.541 1.3487|34 3.033 2.758 1.378|36 3.311 2.985 1.4087|38 3.608 3.223 1.4407
40 3.925 3.472 1.4743
"""
CRC_ROWS = [tuple(map(float, row.split())) for line in CRC.split("\n") for row in line.split("|") if row]
CRC_NAME = "CRC Handbook 102nd ed., Concentrative Properties, silver nitrate at 20 °C (public transcription)"
SECOND = {1: 1.007, 5: 1.0417, 10: 1.0882, 20: 1.1942, 30: 1.3204, 40: 1.4743}
TOWLER = {5: 1.034, 9: 1.063, 10: 1.070, 11: 1.078, 12: 1.085}
US = "the US fluid ounce"
WATER = 0.998207  # g/mL at 20 °C, CoolProp
VOGEL = bath_mixing.mixed_strength(100, 1000 / WATER)  # his bath: 100 g to 1000 g of water


@cache
def water(temperature):
    from CoolProp.CoolProp import PropsSI

    return PropsSI("D", "T", temperature + 273.15, "P", 101325, "Water") / 1000


def mass(formula):
    from molmass import Formula

    return Formula(formula).mass


def second_mass(formula):
    import periodictable

    return periodictable.formula(formula).mass


def moles_to_a_kilogram(strength):
    return strength / NITRATE_MASS / silver_density.water_in(strength)


def ounces(volume, unit):
    return convert(volume, "mL", unit)


OUTSIDE = (
    *(
        Outside(
            f"mol/L of a bath of density {density:g}",
            CRC_NAME,
            litre,
            0.0006,
            lambda density=density: silver_density.strength_at_20(density) / NITRATE_MASS,
        )
        for _, _, litre, density in CRC_ROWS
    ),
    *(
        Outside(
            f"mol to a kilogram of water, {litre:g} mol/L",
            CRC_NAME,
            kilogram,
            0.0012 + 0.0006 * kilogram,  # the molarity is printed to three figures after the point
            lambda litre=litre: moles_to_a_kilogram(litre * NITRATE_MASS),
        )
        for percent, kilogram, litre, _ in CRC_ROWS
        if 1 <= percent < 40  # 0.5 % is printed too roughly, 40 % is the end of the table
    ),
    *(
        Outside(
            f"density of a bath of {percent} % by weight",
            "another transcription of densities at 20 °C (Engineering ToolBox): a check on our copy",
            density,
            0.0002,
            lambda percent=percent: silver_density.density_at_20(hydrometer.strength_by_percent(percent, 20, 20)),
        )
        for percent, density in SECOND.items()
    ),
    *(
        Outside(
            f"density at 18 °C of a bath of {percent} %",
            "Kohlrausch, from memory, never seen",
            density,
            0.002,
            lambda percent=percent: silver_density.density_at(hydrometer.strength_by_percent(percent, 20, 20), 18),
            seen=False,
        )
        for percent, density in {5: 1.0422, 10: 1.0893, 20: 1.1958, 40: 1.4773}.items()
    ),
    *(
        Outside(
            f"density of water at {temperature:g} °C, off by",
            "CoolProp 8.0.0 (IAPWS-95), worked in this test",
            0,
            0.00001,
            lambda temperature=temperature: water_density(temperature) - water(temperature),
        )
        for temperature in (0.5, 4, 10, 15.56, 20, 25, 30, 40)
    ),
    *(
        Outside(
            f"specific gravity of {degrees} degrees, Towler",
            "Towler, Silver Sunbeam 1864, ch. XLVII: a check on our copy",
            gravity,
            0.00005,
            lambda degrees=degrees: baume.gravity_of_towler(degrees),
        )
        for degrees, gravity in TOWLER.items()
    ),
    Outside(
        "specific gravity of 10 degrees Baumé, US",
        "Household Cyclopaedia 1881, after Pile",
        1.07407,
        0.00002,
        lambda: baume.gravity_of_us_baume(10),
    ),
    Outside(
        "a recipe of 10 g to 90 g of water",
        CRC_NAME,
        0.641,
        0.0007,
        lambda: bath_mixing.mixed_strength(10, 90 / WATER) / NITRATE_MASS,
    ),
    Outside(
        f"20 ounces from 52 to 60 grains, grains to add, {US}",
        "Schriever 1908, para 44: ounces times difference, the salt's own room left out",
        160,
        5,
        lambda: convert(
            bath_mending.silver_to_add(
                convert(20, "usfloz", "mL"), convert(52, "gr/oz", "g/L"), convert(60, "gr/oz", "g/L")
            )[0],
            "g",
            "gr",
        ),
    ),
    Outside(
        "10.25 ounces from 105 to 40 grains, ounces afterwards",
        "Robinson and Abney 1881, p. 24 (rounded to whole ounces)",
        27,
        0.15,
        lambda: thinned()[1],
    ),
    Outside(
        "10.25 ounces from 105 to 40 grains, ounces of water",
        "Robinson and Abney 1881, p. 24 (rounded to quarters)",
        16.75,
        0.15,
        lambda: thinned()[0],
    ),
    Outside(
        "silver iodide held by a 10 % bath, g/L",
        "Cassell's Cyclopaedia of Photography 1911, silver iodide (our line goes through it)",
        0.53,
        0.001,
        lambda: silver_iodide.iodide_held(108.8),
    ),
    Outside(
        "silver iodide held by 2 N silver nitrate, g/L",
        "dissertation on silver nitrate and silver iodide, image 72 (100 °C, much the same at 25; our line goes through it)",
        11.5,
        0.1,
        lambda: silver_iodide.iodide_held(2 * NITRATE_MASS),
    ),
    Outside(
        "potassium iodide for 100 g silver nitrate in 1000 g water, g",
        "Vogel, Lehrbuch, p. 285 (25 mL of a 1 % solution)",
        0.25,
        0.08,
        lambda: silver_iodide.iodide_to_fill(100_000 / VOGEL, VOGEL),
    ),
    Outside(
        "silver nitrate for silver chloride, old factor",
        "a wet-plate handbook of about 1900, silver chloride times 1.18",
        1.18,
        0.006,
        lambda: bath_weighed.strength_from_chloride(1, 1000),
    ),
    Outside(
        "silver nitrate for silver chloride",
        "molmass, computed here",
        mass("AgNO3") / mass("AgCl"),
        0.00002,
        lambda: bath_weighed.strength_from_chloride(1, 1000),
    ),
    *(
        Outside(
            f"silver iodide for a gram of {name} iodide",
            "periodictable, computed here",
            count * second_mass("AgI") / second_mass(formula),
            0.0001,
            lambda name=name: silver_iodide.silver_iodide_from(1, name),
        )
        for name, formula, count in (("potassium", "KI", 1), ("ammonium", "NH4I", 1), ("cadmium", "CdI2", 2))
    ),
    Outside(
        "silver nitrate for a gram of potassium iodide",
        "molmass, computed here",
        mass("AgNO3") / mass("KI"),
        0.00002,
        lambda: silver_iodide.silver_taken_by(1),
    ),
    Outside(
        "silver nitrate carried off and bound, g to 1000 cm² at 1:10",
        "Vogel, Lehrbuch, p. 285: 8 g of bath and 20 mL of collodion, worked out from there",
        1.04,
        0.3,
        lambda: wear.silver_carried_off(1, 1000, VOGEL)[1],
        seen=False,
    ),
)


def thinned():
    water_added, after = bath_mending.water_to_add(
        convert(10.25, "impfloz", "mL"), convert(105, "gr/impoz", "g/L"), convert(40, "gr/impoz", "g/L")
    )
    return ounces(water_added, "impfloz"), ounces(after, "impfloz")
