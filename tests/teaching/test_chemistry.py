"""The chemistry of the chains, held against general references: atoms, charges, directions, amounts."""

import math
import re
import sys
from pathlib import Path

import molmass
import pytest

from diagnose.entries.compiled import knowledge_folder
from diagnose.entries.equation import EquationError, atoms_of, read_equation
from diagnose.entries.files import read_files
from diagnose.entries.read import draft_knowledge

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from tests.teaching import constants  # noqa: E402
from tests.teaching.constants import LOG_K  # noqa: E402

MOST_MASS_LOST = 1e-4  # a part in ten thousand: the electron weighs less
# Causes of the kind "chemistry" in which nothing reacts: things dissolve, dry, thicken or shrink.
NOTHING_REACTS = {
    "collodion/collodion-out-of-warmth",
    "collodion/shrinking-film",
    "collodion/water-free-collodion",
    "development/spirit-mismatch",
    "silver-bath/bath-full-of-spirit",
    "support/acrylic-attacked",
    "varnish/brittle-varnish",
    "varnish/varnish-dissolves-film",
    "varnish/varnish-too-thin-or-thick",
}
TRADES_FOR_COPPER = -2 * LOG_K["Ag = Ag+ + e-"] + LOG_K["Cu = Cu+ + e-"] - LOG_K["Cu+2 + e- = Cu+"]
# log K of the reactions in the knowledge, worked out from the constants of the references.
WORKED_OUT = {
    "silver-iodide-forms": -LOG_K["AgI = Ag+ + I-"],
    "silver-bromide-forms": -LOG_K["AgBr = Ag+ + Br-"],
    "chloride-milk": -LOG_K["AgCl = Ag+ + Cl-"],
    "silver-carbonate-forms": -LOG_K["Ag2CO3 = 2Ag+ + CO3-2"],
    "sulphate-needles": -LOG_K["Ag2SO4 = 2Ag+ + SO4-2"],
    "cyanide-dissolves-iodide": LOG_K["AgI = Ag+ + I-"] + LOG_K["Ag+ + 2CN- = Ag(CN)2-"],
    "hypo-dissolves-iodide": LOG_K["AgI = Ag+ + I-"] + LOG_K["Ag+ + 2S2O3-2 = Ag(S2O3)2-3"],
    "iodide-fixes-only-while-strong": LOG_K["AgI = Ag+ + I-"] + LOG_K["Ag+ + 2I- = AgI2-"],
    "iron-reduces-silver": -LOG_K["Ag = Ag+ + e-"] - LOG_K["Fe+3 + e- = Fe+2"],
    "silver-falls-loose": -LOG_K["Ag = Ag+ + e-"] - LOG_K["Fe+3 + e- = Fe+2"],
    "acid-holds-iron-back": LOG_K["Fe+3 + H2O = FeOH+2 + H+"],
    "iron-binds-cyanide": LOG_K["Fe+2 + 6CN- = Fe(CN)6-4"],
    "copper-trades-places": TRADES_FOR_COPPER,
}
READ = draft_knowledge({"reactions.toml": read_files([knowledge_folder()])["reactions.toml"]}).entries["reactions"]
REACTIONS = {name: entry for name, entry in READ.items() if entry.equation}


def other_reading(term):
    """A term's composition and mass as the library has them; the electron is nothing to it."""
    if term.formula == "e":
        return {}, 0.0
    formula = molmass.Formula(term.formula.replace("[", "(").replace("]", ")"))
    return {symbol: item.count for symbol, item in formula.composition().items()}, formula.mass


def grams(equation, formula):
    """How many grams of a substance stand in an equation as it is written."""
    return sum(
        term.count * other_reading(term)[1] for term in (*equation.before, *equation.after) if term.formula == formula
    )


@pytest.mark.parametrize("name", REACTIONS)
def test_as_many_atoms_and_charges_go_in_as_come_out(name):
    equation = read_equation(REACTIONS[name].equation)
    assert equation.uneven() == {}
    mass = [sum(term.count * other_reading(term)[1] for term in side) for side in (equation.before, equation.after)]
    assert mass[0] == pytest.approx(mass[1], rel=MOST_MASS_LOST)
    charge = [sum(term.count * term.charge for term in side) for side in (equation.before, equation.after)]
    assert charge[0] == charge[1]


@pytest.mark.parametrize("name", REACTIONS)
def test_formulas_are_read_as_the_library_reads_them(name):
    equation = read_equation(REACTIONS[name].equation)
    for term in (*equation.before, *equation.after):
        assert dict(term.atoms) == other_reading(term)[0], term.formula


@pytest.mark.parametrize("name", WORKED_OUT)
def test_a_reaction_that_lies_the_other_way_is_written_both_ways(name):
    """What goes forward by the constants of the references stands with one arrow; what does not never pretends to."""
    equation = read_equation(REACTIONS[name].equation)
    assert equation.both_ways == (WORKED_OUT[name] < 0), f"log K {WORKED_OUT[name]:.2f}"


def test_the_lines_say_what_the_constants_say(knowledge):
    says = {name: entry.says for name, entry in knowledge.reactions.items()}
    assert "the other way" in says["hypo-dissolves-iodide"]
    assert WORKED_OUT["hypo-dissolves-iodide"] < 0 < WORKED_OUT["cyanide-dissolves-iodide"]
    assert "near balance" in says["acid-holds-iron-back"]
    assert abs(WORKED_OUT["iron-reduces-silver"]) < 1
    assert WORKED_OUT["copper-trades-places"] > 10  # it goes to the end
    assert "half a gram in a litre of a 10 % bath" in says["silver-holds-iodide"]
    assert pytest.approx(0.5, abs=0.05) == constants.IODIDE_IN_A_TEN_PERCENT_BATH
    assert "lets most of that go" in says["silver-holds-iodide"]
    assert 0.5 < constants.IODIDE_THROWN_OUT / constants.IODIDE_HELD < 0.95


def test_sulphite_cannot_hold_the_silver_of_iodide(knowledge):
    """Even strong sulphite brings next to nothing of it into solution, by the constants."""
    held = 10 ** (LOG_K["AgI = Ag+ + I-"] + LOG_K["Ag+ + SO3-2 = Ag(SO3)-"]) * constants.SULPHITE_STRONG
    assert math.sqrt(held) < 1e-4  # mol/L
    assert "too loosely" in knowledge.reactions["sulphite-cannot-fix"].says


def test_fixers_take_as_much_as_the_references_say():
    cyanide = read_equation(REACTIONS["cyanide-dissolves-iodide"].equation)
    assert grams(cyanide, "KCN") / grams(cyanide, "AgI") == pytest.approx(constants.CYANIDE_FOR_IODIDE, rel=1e-3)
    hypo = read_equation(REACTIONS["hypo-dissolves-iodide"].equation)
    crystals = grams(hypo, "Na2S2O3") + 2 * 5 * molmass.Formula("H2O").mass
    assert crystals / grams(hypo, "AgI") == pytest.approx(constants.HYPO_FOR_IODIDE, rel=1e-3)


def test_a_bath_is_iodised_as_the_book_says():
    """The knowledge's equation, with the potassium salt in place of the ammonium one, gives the reference's grams."""
    written = REACTIONS["silver-iodide-forms"].equation.replace("NH4", "K")
    equation, book = read_equation(written), constants.VOGEL_IODIDE
    for formula in ("AgI", "AgNO3"):
        assert grams(equation, formula) / grams(equation, "KI") == pytest.approx(book[formula] / book["KI"], rel=1e-3)


def test_ether_boils_where_the_chain_says(knowledge):
    (said,) = re.findall(
        r"Ether boils at about (\d+) °C", knowledge.causes["collodion/collodion-out-of-warmth"].step[0].then
    )
    assert float(said) == pytest.approx(constants.ETHER_BOILS, abs=0.5)


def test_every_chemical_cause_has_its_chemistry(knowledge):
    bare = {
        name
        for name, cause in knowledge.causes.items()
        if cause.kind == "chemistry" and not any(step.chemistry for step in cause.step)
    }
    assert bare == NOTHING_REACTS


def test_every_line_is_short_and_has_its_source(knowledge):
    for name, entry in knowledge.reactions.items():
        assert entry.from_, name
        assert len(entry.says) <= 170, f"{name}: {len(entry.says)} letters are no plain line"
        assert entry.says.endswith("."), name


def test_nothing_here_is_a_way_to_something_deadly(knowledge):
    """Cyanide meets acid in a warning only, and nothing brings ammonia, or alcohol with nitric acid, to silver."""
    for name, entry in REACTIONS.items():
        equation = read_equation(entry.equation)
        before = {term.formula for term in equation.before}
        made = {term.formula for term in equation.after}
        silver = any("Ag" in formula for formula in before)
        assert "HCN" not in made, name
        assert not (silver and before & {"NH3", "NH4OH"}), name
        assert not (silver and "C2H5OH" in before), name
        assert not any(
            atoms_of(formula)["Ag"] and atoms_of(formula)["N"] and not re.search(r"NO3|CN", formula) for formula in made
        )
    assert knowledge.reactions["acid-and-cyanide"].equation == ""
    assert knowledge.reactions["acid-and-cyanide"].says.startswith("Danger")


@pytest.mark.parametrize(
    ("text", "uneven"),
    [
        ("AgNO3 + KI -> AgI (creamy, and stays) + KNO3", {}),
        ("AgNO3 + 2 KI -> AgI + KNO3", {"I": (2, 1), "K": (2, 1)}),
        ("Ag^+ + Fe^2+ -> Ag + Fe^3+", {}),
        ("Ag^+ + Fe^2+ -> Ag + Fe^2+", {"charge": (3, 2)}),
        ("Ag^+ + e^- -> Ag", {}),
        ("4 Fe^3+ + 3 [Fe(CN)6]^4- -> Fe4[Fe(CN)6]3", {}),
        ("AgI + KI <-> KAgI2", {}),
    ],
)
def test_an_equation_is_counted(text, uneven):
    assert read_equation(text).uneven() == uneven


@pytest.mark.parametrize(
    "text",
    [
        "",
        "AgI",
        "AgI -> AgI -> AgI",
        "AgI ->",
        "Xx -> Xx",
        "Ag(NO3 -> Ag",
        "0 Ag -> Ag",
        "Ag^ -> Ag",
        "Ag) -> Ag",
        "e -> e",
    ],
)
def test_what_is_no_equation_is_refused(text):
    with pytest.raises(EquationError):
        read_equation(text)
