"""Collodion, its vapour, fixers and the wash, against libraries, tables and books."""

import molmass
import periodictable
import psychrolib

from diagnose.bench import collodion, collodion_salts, cyanide_fume, hypo, room_vapour, vapour_pressure, washing
from diagnose.units import convert
from tests.bench.outside.value import Outside

psychrolib.SetUnitSystem(psychrolib.SI)
COOLPROP = "coolprop: CoolProp 8.0.0, equations of state, as printed by the library"
MERCURY = 101325 / 760  # one millimetre of mercury [Pa]
WARMTHS = (10, 15, 20, 25, 30, 35)
PRINTED = {
    vapour_pressure.ether: ("ether", (38851, 48012, 58829, 71505, 86254, 103305), 0.005),
    vapour_pressure.ethanol: ("alcohol", (3148, 4328, 5876, 7886, 10467, 13749), 0.008),
    vapour_pressure.water: ("water", (1228, 1706, 2339, 3170, 4247, 5629), 0.004),
}
FORMULAS = {
    "ammonium_iodide": "NH4I",
    "cadmium_iodide": "CdI2",
    "potassium_iodide": "KI",
    "lithium_iodide": "LiI",
    "sodium_iodide": "NaI",
    "zinc_iodide": "ZnI2",
    "ammonium_bromide": "NH4Br",
    "cadmium_bromide": "CdBr2",
    "potassium_bromide": "KBr",
    "sodium_bromide": "NaBr",
    "copper_bromide": "CuBr2",
}
OTHER_MASSES = {
    "AgNO3": collodion_salts.SILVER_NITRATE,
    "KCN": cyanide_fume.POTASSIUM_CYANIDE,
    "Na2S2O3": hypo.DRY,
    "C4H10O": room_vapour.ETHER.molar_mass,
    "C2H6O": room_vapour.ALCOHOL.molar_mass,
}
HYDRATES = {
    "Na2S2O3(H2O)5": ("Na2S2O3+5H2O", hypo.CRYSTALS),
    "CdBr2(H2O)4": ("CdBr2+4H2O", collodion_salts.HYDRATED_CADMIUM_BROMIDE),
}


def by_molmass(formula):
    return molmass.Formula(formula).mass


def by_periodictable(formula):
    return periodictable.formula(formula).mass


def pressures():
    for pressure, (liquid, printed, part) in PRINTED.items():
        for warmth, value in zip(WARMTHS, printed, strict=True):
            yield Outside(
                f"pressure of {liquid} at {warmth} °C [Pa]",
                COOLPROP,
                value,
                part * value,
                lambda pressure=pressure, warmth=warmth: pressure(warmth),
            )
    for warmth in (0.5, 12, 28, 40, 50):
        value = psychrolib.GetSatVapPres(warmth)
        yield Outside(
            f"pressure of water at {warmth} °C [Pa]",
            "psychrolib 2.5.0 GetSatVapPres (ASHRAE), printed by the library",
            value,
            0.004 * value,
            lambda warmth=warmth: vapour_pressure.water(warmth),
        )


def masses():
    for salt, formula in FORMULAS.items():
        yield from both(formula, formula, collodion_salts.BY_NAME[salt].molar_mass)
    for formula, ours in OTHER_MASSES.items():
        yield from both(formula, formula, ours)
    for formula, (other, ours) in HYDRATES.items():
        yield from both(formula, other, ours)


def both(formula, other, ours):
    # The libraries themselves differ by up to 5 parts in 100 000 (sulphur's weight).
    yield Outside(
        f"molar mass of {formula}", "molmass, printed by the library", by_molmass(formula), 0.015, lambda: ours
    )
    yield Outside(
        f"molar mass of {formula}",
        "periodictable, printed by the library",
        by_periodictable(other),
        0.015,
        lambda: ours,
    )


OUTSIDE = (
    *pressures(),
    *masses(),
    Outside("ether at 20 °C [mmHg]", "ntp-ether: 442 mmHg", 442, 4, lambda: vapour_pressure.ether(20) / MERCURY),
    Outside(
        "alcohol at 20 °C [mmHg]",
        "niosh-pocket-guide ethyl alcohol: 44 mmHg",
        44,
        0.5,
        lambda: vapour_pressure.ethanol(20) / MERCURY,
    ),
    Outside(
        "ether boils at 34.6 °C [atm]",
        "ntp-ether boiling point",
        1,
        0.012,
        lambda: vapour_pressure.ether(34.6) / 101325,
    ),
    Outside(
        "alcohol over its liquid at the flash point of 12 °C [%]",
        "iec-60079-20-1: lower limit 3.1 %, as chemicals 1.5.2 prints it; a flash point lies a little above that warmth",
        3.1,
        0.6,
        lambda: vapour_pressure.ethanol(12) / 101325 * 100,
    ),
    *(
        Outside(
            f"setting time at {warmth} °C against 15.56 °C",
            "coolprop pressures in the same proportion",
            factor,
            0.02,
            lambda warmth=warmth: collodion.setting_time(1, 15.56, warmth),
            seen=False,
        )
        for warmth, factor in zip((5, 10, 20, 25, 30, 35), (1.58, 1.27, 0.835, 0.687, 0.57, 0.476), strict=True)
    ),
    Outside(
        "200 g of hypo crystals without their water [g]",
        "molmass, printed by the library",
        200 * by_molmass("Na2S2O3") / by_molmass("Na2S2O3(H2O)5"),
        0.05,
        lambda: hypo.hypo_mass(20, 1000, anhydrous=True),
    ),
    Outside(
        "hypo for a pint at 4 ounces [avoirdupois oz]",
        "hunt1853 collodion part 5; 200 g/L as the notes on it turn it, with the imperial pint",
        4,
        0.02,
        lambda: convert(hypo.hypo_mass(20, convert(1, "imppint", "mL")), "g", "avoz"),
    ),
    Outside(
        "ammonium iodide for 10 + 10 oz of collodion at 3 grains [grains]",
        "estabrooke1887 p. 29: 60 grains",
        60,
        0.01,
        lambda: convert(collodion_salts.salt_mass(convert(3, "gr/oz", "g/L"), convert(20, "usfloz", "mL")), "g", "gr"),
    ),
    Outside(
        "iodide and bromide in Vogel's sodium collodion [mol/L]",
        "vogel_lehrbuch, the weights; moles by molmass (last weight unsure in the scan)",
        (2 / by_molmass("CdI2") + 0.4 / by_molmass("NaI") + 0.3 / by_molmass("NaBr")) / 0.12,
        0.0002,
        lambda: sum(
            collodion_salts.halide(salt, grams / 0.12)
            for salt, grams in {"cadmium_iodide": 1, "sodium_iodide": 0.4, "sodium_bromide": 0.3}.items()
        ),
        seen=False,
    ),
    Outside(
        "silver nitrate a tenth of a square metre takes up [g]",
        "vogel_lehrbuch p. 284, worked out from his collodion",
        0.31,
        0.01,
        lambda: collodion_salts.silver_taken(0.092, 1000),
        seen=False,
    ),
    Outside(
        "bath carried off by 180 plates of 7.5 inches [mL]",
        "wilson1881 Fogging part 6: a third of 80 US oz gone, some of it into the air",
        convert(80, "usfloz", "mL") / 3,
        300,
        lambda: washing.carried_over(180 * 7.5**2 * 2.54**2),
    ),
    Outside(
        "pH at which half the cyanide is hydrogen cyanide: share at 9.2",
        "general reference page giving pKa 9.2",
        0.5,
        0.01,
        lambda: cyanide_fume.hydrogen_cyanide_share(9.2),
    ),
    Outside(
        "400 ppm of ether [mg/m³]", "niosh-idlh ethyl ether: 1200", 1200, 15, lambda: room_vapour.milligrams(400, 74.12)
    ),
    Outside(
        "2 ppm of nitric acid [mg/m³]", "niosh-idlh nitric acid: 5", 5, 0.2, lambda: room_vapour.milligrams(2, 63.01)
    ),
    Outside(
        "4.7 ppm of hydrogen cyanide [mg/m³]",
        "osha-cyanide limits: 5, told beside 4.7 ppm",
        5,
        0.25,
        lambda: room_vapour.milligrams(cyanide_fume.SHORT_LIMIT, 27.026),
    ),
    Outside(
        "a mole of air at 20 °C [L]",
        "coolprop: dry air at one atmosphere, as printed by the library",
        24.0462,
        0.02,
        lambda: 1 / room_vapour.gas_moles(1e6, 0.001),
    ),
    Outside(
        "weight of ether vapour against air",
        "ntp-ether: 2.6",
        2.6,
        0.05,
        lambda: room_vapour.ETHER.molar_mass / 28.965,
    ),
    Outside("density of ether at 20 °C [g/mL]", "ntp-ether: 0.7134", 0.7134, 0.0003, lambda: room_vapour.ETHER.density),
    Outside("density of alcohol at 20 °C [g/mL]", COOLPROP, 0.78942, 0.0003, lambda: room_vapour.ALCOHOL.density),
    Outside(
        "cyanide that fills 20 m³ to 50 ppm [g]",
        "the reference notes' own reckoning, ideal gas at 20 °C",
        2.707,
        0.02,
        lambda: cyanide_fume.cyanide_reaching(cyanide_fume.DANGER, 20),
        seen=False,
    ),
    Outside(
        "ether that fills 20 m³ to 1900 ppm [mL]",
        "the reference notes' own reckoning, ideal gas at 20 °C",
        164.1,
        2,
        lambda: room_vapour.ether_for(1900, 20),
        seen=False,
    ),
)
