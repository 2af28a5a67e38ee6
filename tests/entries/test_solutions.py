"""The stock solutions that come with the program: whole, sourced, mixable and safe."""

import re

import molmass
import pytest

from diagnose.bench.measuring import rounded
from diagnose.bench.quantity import read_quantity, read_strength
from diagnose.bench.recipe import coarse, scaled, strengths
from diagnose.bench.sum import BenchError
from diagnose.entries.compiled import knowledge_folder, read_knowledge
from diagnose.entries.packing import pack, unpack
from diagnose.entries.proofread import check_folders

NAMES = sorted(path.stem for path in (knowledge_folder() / "solutions").glob("*.toml"))
RECIPES = [name for name in NAMES if name != "fixer-cyanide"]
COLLODIONS = [name for name in NAMES if name.startswith("collodion")]
FORMULAS = {  # each with the number of halide atoms in it
    "ammonium bromide": ("NH4Br", 1),
    "ammonium iodide": ("NH4I", 1),
    "cadmium bromide": ("CdBr2", 2),
    "cadmium iodide": ("CdI2", 2),
    "copper bromide": ("CuBr2", 2),
    "potassium bromide": ("KBr", 1),
    "potassium iodide": ("KI", 1),
}


def words_of(solution):
    """Everything a person reads of one solution."""
    return " ".join(
        [
            *(solution.title, solution.use, solution.keeps, solution.book, *solution.also, *solution.beware),
            *(text for item in solution.part for text in (item.name, item.what, item.note)),
            *(text for step in solution.step for text in (step.do, step.see)),
            *(each.note for each in solution.strength),
            *(each.says for each in solution.dissent),
        ]
    )


def test_every_file_is_a_solution(knowledge):
    assert sorted(knowledge.solutions) == NAMES


@pytest.mark.parametrize("kind", ["plate-cleaner", "collodion", "silver-bath", "developer", "fixer", "varnish"])
def test_every_bottle_of_the_darkroom_is_there(kind, knowledge):
    assert [solution for solution in knowledge.solutions.values() if solution.kind == kind and solution.parts]


def test_there_is_a_collodion_without_cadmium_and_two_developers(knowledge):
    plain = [name for name in COLLODIONS if "cadmium-salts" not in knowledge.solutions[name].caution]
    assert plain == ["collodion-without-cadmium"]
    irons = [strong(name, "ferrous sulphate", knowledge) for name in ("developer-mild", "developer-strong")]
    assert irons[1] > 1.5 * irons[0]


def strong(name, substance, knowledge):
    solution = knowledge.solutions[name]
    return next(each.value for each in strengths(solution.parts, solution.volume) if each.label == substance)


def test_they_survive_packing(knowledge):
    again = unpack(pack(knowledge))
    assert {name: repr(each) for name, each in again.solutions.items()} == {
        name: repr(each) for name, each in knowledge.solutions.items()
    }
    assert again.solutions["silver-bath"].parts == knowledge.solutions["silver-bath"].parts


@pytest.mark.parametrize("name", RECIPES)
def test_it_says_how_it_is_mixed_what_is_seen_and_how_it_keeps(name, knowledge):
    solution = knowledge.solutions[name]
    assert solution.volume > 0
    assert len(solution.step) >= 2
    assert sum(bool(step.see) for step in solution.step) >= 2
    assert solution.keeps
    assert solution.beware
    assert solution.caution
    if not set(solution.from_) <= {"common-practice"}:
        assert solution.book


@pytest.mark.parametrize("name", [name for name in RECIPES if name != "plate-cleaner"])
def test_it_stands_beside_the_strengths_of_its_time_and_ours(name, knowledge):
    solution = knowledge.solutions[name]
    eras = {each.era for each in solution.strength}
    assert eras == {"old", "today"} or name in {"varnish-seed-lac", "varnish-sandarac"}
    made = {each.label: each for each in strengths(solution.parts, solution.volume)}
    for told in solution.strength:
        least, most = (read_strength(text).value for text in (told.least, told.most))
        assert any(
            read_strength(other.least).value <= made[told.of].value <= read_strength(other.most).value
            for other in solution.strength
            if other.of == told.of
        )
        assert 0 < least < most


@pytest.mark.parametrize("name", RECIPES)
@pytest.mark.parametrize("wanted", [100, 120, 237, 250, 473, 500, 750, 1000, 1500, 2000, 3785, 5000])
def test_any_usual_volume_can_be_measured_out(name, wanted, knowledge):
    solution = knowledge.solutions[name]
    amounts = scaled(solution.parts, solution.volume, wanted)
    told = coarse(amounts)
    assert len({amount.name for amount in amounts}) == len(amounts)
    assert not told or wanted < 200
    for amount in amounts:
        assert re.fullmatch(r"[a-z][a-z0-9_]*", amount.name)
        if not any(line.startswith(amount.label) for line in told):
            assert rounded(amount) == pytest.approx(amount.value, rel=0.05)
            assert rounded(amount) <= amount.value + 1e-9 or not amount.never_over


@pytest.mark.parametrize("name", RECIPES)
def test_a_bottle_is_not_overfilled(name, knowledge):
    solution = knowledge.solutions[name]
    amounts = scaled(solution.parts, solution.volume, 1000)
    filled = [part.up_to for part in solution.parts]
    poured = sum(amount.value for amount, full in zip(amounts, filled, strict=True) if amount.unit == "mL" and not full)
    assert poured <= (900 if any(filled) else 1000.5)


# Where it could hurt ------------------------------------------------------------------------------------------------


def test_cyanide_is_told_by_its_old_strengths_only(knowledge):
    cyanide = knowledge.solutions["fixer-cyanide"]
    assert (cyanide.parts, cyanide.step, cyanide.volume, cyanide.makes) == ((), (), 0.0, None)
    assert {"cyanide", "cyanide-and-acid"} <= set(cyanide.caution)
    assert "licensed" in cyanide.use
    with pytest.raises(BenchError, match="only strengths to compare"):
        scaled(cyanide.parts, cyanide.volume, 500)
    for name in RECIPES:
        assert "cyanide" not in words_of(knowledge.solutions[name]).casefold() or name == "fixer-hypo"


@pytest.mark.parametrize("name", RECIPES)
def test_nothing_with_ammonia_goes_in(name, knowledge):
    solution = knowledge.solutions[name]
    assert not [item for item in solution.part if re.search(r"\bammonia\b", f"{item.name} {item.what}")]
    assert not [step for step in solution.step if "ammonia" in step.do]


@pytest.mark.parametrize("name", RECIPES)
def test_acid_goes_into_water_thinned_or_last(name, knowledge):
    solution = knowledge.solutions[name]
    order = [part for step in solution.step for part in step.puts_in]
    for acid in (part for part in order if "acid" in part):
        assert order.index("distilled water") < order.index(acid)
        (step,) = (step for step in solution.step if acid in step.puts_in)
        assert "distilled water" not in step.puts_in
        assert re.search(r"into the water, never the reverse|a few drops at a time", step.do)
        (part,) = (part for part in solution.parts if part.name == acid)
        assert part.percent
        assert part.never_over == (acid == "nitric acid")


@pytest.mark.parametrize("name", RECIPES)
def test_fire_is_put_out_before_ether_and_varnish(name, knowledge):
    solution = knowledge.solutions[name]
    held = " ".join(f"{item.name} {' '.join(item.holds)}" for item in solution.part)
    if "ether" in held or solution.kind == "varnish":
        assert "Put out every flame" in solution.step[0].do
    assert ("ether-and-alcohol" in solution.caution) == bool(re.search("ether|alcohol|collodion", held))


# Against figures from outside ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", COLLODIONS)
def test_the_halide_of_a_collodion_is_near_that_of_others(name, knowledge):
    """A collodion worked out of Vogel's Lehrbuch holds 0.092 mol to the litre; half and twice that are no collodions."""
    solution = knowledge.solutions[name]
    salts = {part.name: part.amount for part in solution.parts if part.unit == "g"}
    assert salts.keys() <= FORMULAS.keys()
    moles = sum(grams * FORMULAS[salt][1] / molmass.Formula(FORMULAS[salt][0]).mass for salt, grams in salts.items())
    assert 0.046 < moles / (solution.volume / 1000) < 0.184


def test_the_bath_is_as_much_stronger_than_the_book_as_it_says(knowledge):
    """100 g in 1025 g of water is 8.889 % by weight; CRC Handbook, 102nd ed.: 85.52 g/L at 8 %, 97.06 g/L at 9 %."""
    as_written = 85.52 + (100 * 100 / 1125 - 8) * (97.06 - 85.52)
    ours = strong("silver-bath", "silver nitrate", knowledge)
    assert round(100 * (ours / as_written - 1)) == 4
    assert any("some 4 % stronger" in line for line in knowledge.solutions["silver-bath"].beware)


def test_weak_acid_as_the_developer_says(knowledge):
    """CRC Handbook: 28 % acetic acid has 4.824 mol/L; 99.5 %, between its rows at 98 and 100 %, has 17.38."""
    (line,) = (line for line in knowledge.solutions["developer-mild"].beware if "28 %" in line)
    assert f"{17.38 / 4.824:.1f} times" in line


def test_a_strong_collodion_names_the_bath_it_wants(knowledge):
    """Estabrooke 1887 p. 17: no less than 50 grains to the US ounce."""
    wants = read_strength("50 gr/oz").value
    assert f"{round(wants, -1):g} g" in knowledge.solutions["collodion-strong-positive"].use
    assert strong("silver-bath", "silver nitrate", knowledge) < wants


# A person's own -----------------------------------------------------------------------------------------------------

OWN = """
title = "Our developer"
use = "For our rooms."
kind = "developer"
written_for = "positive"
makes = "16 usfloz"
keeps = "A week."
caution = ["iron-developer"]
from = ["judged"]
[[part]]
name = "water"
what = "rain water"
state = "liquid"
amount = "to 16 usfloz"
[[part]]
name = "ferrous sulphate"
what = "green crystals"
state = "solid"
amount = "0.75 avoz"
[[step]]
puts_in = ["water", "ferrous sulphate"]
do = "Stir."
from = ["judged"]
"""


def test_an_own_recipe_is_laid_over_in_its_own_units(tmp_path):
    (tmp_path / "solutions").mkdir()
    (tmp_path / "solutions/our-developer.toml").write_text(OWN, encoding="utf-8")
    (tmp_path / "solutions/fixer-hypo.toml").write_text(
        (knowledge_folder() / "solutions/fixer-hypo.toml").read_text("utf-8").replace('"200 g"', '"250 g"'), "utf-8"
    )
    assert check_folders(knowledge_folder(), tmp_path) == []
    solutions = read_knowledge(knowledge_folder(), tmp_path).solutions
    own = solutions["our-developer"]
    water, iron = scaled(own.parts, own.volume, 1000)
    assert (water.value, iron.value) == (pytest.approx(1000), pytest.approx(44.9, abs=0.1))
    assert solutions["fixer-hypo"].parts[0].amount == 250
    assert len(solutions) == len(NAMES) + 1


def test_amounts_are_written_as_a_darkroom_measures_them(knowledge):
    """What is written in a stock recipe can be weighed or poured as it stands."""
    for name in RECIPES:
        solution = knowledge.solutions[name]
        for item in solution.part:
            quantity = read_quantity(item.amount)
            (made,) = (
                each
                for each in scaled(solution.parts, solution.volume, solution.volume)
                if each.name == item.name.replace(" ", "_").replace("-", "_")
            )
            assert rounded(made) == pytest.approx(quantity.value, rel=0.03), (name, item.name)
