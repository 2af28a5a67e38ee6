"""Constants of the general references the chemistry is held against, copied as they were read there.

MINTEQ: MINTEQA2 version 4 thermodynamic database (US EPA 1999), as distributed with PHREEQC: minteq.v4.dat, 2016 revision.
THERMOCHIMIE: ThermoChimie version 12a, as distributed with PHREEQC: sit.dat.
JONES: Jones (ed.), Cassell's Cyclopaedia of Photography (1911), Silver Iodide.
NTP: US National Toxicology Program, chemical repository, ethyl ether (1991).
VOGEL: Vogel, Lehrbuch der Photographie, p. 285: 25 mL of a 1 % potassium iodide solution to 100 g of silver nitrate.
"""

# log K at 25 °C of the reaction as it is written beside it.
LOG_K = {
    "AgI = Ag+ + I-": -16.08,  # MINTEQ
    "AgBr = Ag+ + Br-": -12.3,  # MINTEQ
    "AgCl = Ag+ + Cl-": -9.75,  # MINTEQ
    "Ag2CO3 = 2Ag+ + CO3-2": -11.09,  # MINTEQ
    "Ag2SO4 = 2Ag+ + SO4-2": -4.82,  # MINTEQ
    "Ag+ + 2CN- = Ag(CN)2-": 20.48,  # MINTEQ
    "Ag+ + 2I- = AgI2-": 11.7,  # MINTEQ
    "Ag+ + 2S2O3-2 = Ag(S2O3)2-3": 13.64,  # THERMOCHIMIE
    "Ag+ + SO3-2 = Ag(SO3)-": 5.43,  # THERMOCHIMIE
    "Ag = Ag+ + e-": -13.5065,  # MINTEQ
    "Cu = Cu+ + e-": -8.756,  # MINTEQ
    "Cu+2 + e- = Cu+": 2.69,  # MINTEQ
    "Fe+3 + e- = Fe+2": 13.032,  # MINTEQ
    "Fe+3 + H2O = FeOH+2 + H+": -2.187,  # MINTEQ
    "Fe+2 + 6CN- = Fe(CN)6-4": 35.4,  # MINTEQ
    "H+ + CN- = HCN": 9.21,  # MINTEQ
}
IODIDE_IN_A_TEN_PERCENT_BATH = 0.53  # JONES [g AgI per L]
# Worked out by the reference's own fit, 0.53 (c/108.8)^2.70, 30 % either way: of 0.317 g in a litre of 90 g/L this much falls
# when water makes three litres of it.
IODIDE_HELD, IODIDE_THROWN_OUT = 0.317, 0.268  # [g]
ETHER_BOILS = 34.6  # NTP [°C]
SULPHITE_STRONG = 1.0  # a strong sulphite solution, judged [mol/L]
# By the molar masses of the IUPAC standard atomic weights, as other libraries than the one used here have them.
CYANIDE_FOR_IODIDE = 0.5547  # g KCN to a gram of AgI, for K[Ag(CN)2]
HYPO_FOR_IODIDE = 2.114  # g Na2S2O3.5H2O to a gram of AgI, for the salt with two thiosulphates
VOGEL_IODIDE = {"KI": 0.25, "AgI": 0.3536, "AgNO3": 0.2558}  # what 0.25 g KI makes and uses [g]
