"""Acids, bath acidity and developer: printed tables, a book's recipe, an equilibrium program, two libraries."""

from functools import partial

from diagnose.bench.acetic_acid import same_acid
from diagnose.bench.acids import MOLAR_MASS, moles_per_litre, percent_mixed
from diagnose.bench.bath_acidity import ACTIVITY, moles_between, ph_with
from diagnose.bench.developer_iron import same_iron
from tests.bench.outside.value import Outside

CRC = (
    "CRC Handbook 102nd ed., Concentrative Properties of Aqueous Solutions, 20 °C, column mol/L (public transcription)"
)
# The mol/L column stands beside the densities our table holds: it checks table, molar mass and formula together.
NITRIC = {1: 0.159, 2: 0.32, 5: 0.814, 10: 1.673, 20: 3.539, 30: 5.618, 36: 6.971, 40: 7.913}
ACETIC = {
    5: 0.837,
    10: 1.685,
    20: 3.414,
    28: 4.824,
    30: 5.18,
    34: 5.896,
    36: 6.255,
    50: 8.794,
    60: 10.62,
    70: 12.441,
    80: 14.228,
    90: 15.953,
    96: 16.911,
    98: 17.198,
    100: 17.447,
}
FORMULAS = {
    "nitric acid": "HNO3",
    "acetic acid": "C2H4O2",
    "sodium bicarbonate": "NaHCO3",
    "silver oxide": "Ag2O",
    "silver carbonate": "Ag2CO3",
    "ferrous sulphate heptahydrate": "FeSO4(H2O)7",
    "ferrous sulphate monohydrate": "FeSO4(H2O)",
    "ferrous sulphate anhydrous": "FeSO4",
    "ferrous ammonium sulphate hexahydrate": "(NH4)2Fe(SO4)2(H2O)6",
}
PHREEQC = "PHREEQC with minteq.v4.dat by phreeqpython 1.6.2, 25 °C, computed once and kept"
FITTED = f"{PHREEQC}; the factor 1.344 is fitted to such answers at 90 g/L, so only its course with pH is tested"
KILOGRAM = 1017  # mL of a bath of 90 g/L that hold 1 kg of water: 1.073 g/mL less the salt
NEUTRAL = 6.3  # pH of the program's pure bath without air


def masses():
    """The libraries are asked here and now, not copied."""
    import molmass
    import periodictable

    for name, formula in FORMULAS.items():
        for library, mass in (
            (f"molmass {molmass.__version__}", molmass.Formula(formula).mass),
            (f"periodictable {periodictable.__version__}", periodictable.formula(formula).mass),
        ):
            yield Outside(f"molar mass, {name}, {library}", library, mass, 1e-4 * mass, partial(MOLAR_MASS.get, name))


def molar_dose(volume, wanted_ph):
    """mL of nitric acid of 1 mol/L."""
    return 1000 * moles_between(volume, NEUTRAL, wanted_ph)


def davies(ionic_strength):
    """1 / activity coefficient of an ion of one charge at 25 °C."""
    root = ionic_strength**0.5
    return 10 ** (0.509 * (root / (1 + root) - 0.3 * ionic_strength))


def vogels_bath():
    """100 g silver nitrate, 1000 g water (about 1019 mL), three drops of 0.05 mL of nitric acid of 1.22, which is 36 %."""
    return ph_with(1019, NEUTRAL, 0.15e-3 * moles_per_litre("nitric", 36))


OUTSIDE = (
    *masses(),
    *(
        Outside(f"mol/L of {acid} acid, {percent} %", CRC, expected, 0.002, partial(moles_per_litre, acid, percent))
        for acid, table in (("nitric", NITRIC), ("acetic", ACETIC))
        for percent, expected in table.items()
    ),
    Outside(
        "mol/L of concentrated nitric acid, 71 %",
        "OpenStax Chemistry, appendix Composition of Commercial Acids and Bases",
        16.0,
        0.05,
        lambda: moles_per_litre("nitric", 71),
    ),
    Outside(
        "mol/L of glacial acetic acid, 99.5 %",
        "OpenStax Chemistry, appendix Composition of Commercial Acids and Bases",
        17.4,
        0.05,
        lambda: moles_per_litre("acetic", 99.5),
    ),
    Outside(
        "percent of 150 mL glacial in 400 mL water",
        "Anchell, The Darkroom Cookbook, 3rd ed. p. 108: 3 volumes glacial and 8 water are 28 %",
        28,
        0.3,
        lambda: percent_mixed("acetic", 99.5, 150, 400),
    ),
    Outside(
        "percent of 1 glacial in 2 water",
        "Wall and Jones, dictionaries, commercial strong acetic acid: 33 %",
        33,
        1.4,  # theirs is a round figure; the sum of densities gives 34.3
        lambda: percent_mixed("acetic", 99.5, 1, 2),
    ),
    Outside(
        "percent of 1 glacial in 8 water",
        "reference figures, worked out there from the CRC table",
        11.6,
        0.1,
        lambda: percent_mixed("acetic", 99.5, 1, 8),
        seen=False,
    ),
    Outside(
        "mL of 28 % for 10 mL of glacial",
        "reference figures, worked out there from the CRC table",
        36.04,
        0.2,
        lambda: same_acid(10, 99.5, 28),
        seen=False,
    ),
    *(
        Outside(
            f"mL of nitric acid, 1 mol/L, 1 L of {strength} g/L to pH {ph}",
            FITTED if strength == 90 else PHREEQC,
            expected,
            0.03 * expected,
            partial(molar_dose, 1000, ph),
        )
        for strength, ph, expected in (
            (90, 4.0, 0.134),
            (90, 3.5, 0.425),
            (90, 3.0, 1.344),
            (90, 2.5, 4.248),
            (70, 2.5, 4.268),
        )
    ),
    *(
        Outside(
            f"pH of a 90 g/L bath with {acid} mmol nitric acid to 1 kg water",
            PHREEQC,
            expected,
            0.03,
            partial(ph_with, KILOGRAM, NEUTRAL, acid / 1000),
        )
        for acid, expected in ((0.1, 4.136), (1.0, 3.136), (10.0, 2.136))
    ),
    *(
        Outside(
            f"pH of a bath of pH 2.136 with {bicarbonate} mmol bicarbonate to 1 kg water, in air",
            PHREEQC,
            expected,
            0.05,
            partial(ph_with, KILOGRAM, 2.136, -bicarbonate / 1000),
        )
        for bicarbonate, expected in ((5, 2.437), (8, 2.835), (9, 3.136), (9.8, 3.835), (10, 5.583))
    ),
    Outside(
        "pH of the bath of a book, three drops of nitric acid of 1.22 to the litre",
        "Vogel, Lehrbuch p. 284 (recipe), its pH by PHREEQC with minteq.v4.dat",
        3.13,
        0.12,
        vogels_bath,
    ),
    Outside(
        "1 / activity coefficient, silver nitrate 0.53 mol/L, a fifth of it paired",
        "Davies equation, from memory",
        davies(0.42),
        0.03 * davies(0.42),
        lambda: ACTIVITY,
        seen=False,
    ),
    Outside(
        "crystals of ferrous sulphate for 10 g of anhydrous",
        "periodictable 2.1.0, molar masses 278.006 and 151.901",
        18.302,
        0.01,
        lambda: same_iron(10, "anhydrous", "heptahydrate"),
    ),
)
