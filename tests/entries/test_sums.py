"""Solutions as sums: in proportion, with the acid and the forms at hand; sources and cautions of every sum are there."""

import re
from functools import cache

import molmass
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.bench.acids import moles_per_litre
from diagnose.bench.sum import BenchError
from diagnose.bench.table import SUMS
from diagnose.entries.compiled import knowledge_folder
from diagnose.entries.sums import find_sum, sum_of
from tests.bench.ordinary import ORDINARY, REFUSED

NAMES = sorted(path.stem for path in (knowledge_folder() / "solutions").glob("*.toml"))
RECIPES = [name for name in NAMES if name != REFUSED]
DEVELOPERS = [name for name in RECIPES if name.startswith("developer")]
VOLUMES = st.floats(1, 100_000)


@pytest.fixture(scope="session")
def every(knowledge):
    """Every sum and every solution as a sum, by name."""
    return {**SUMS, **{name: sum_of(name, solution) for name, solution in knowledge.solutions.items()}}


@pytest.fixture(scope="session")
def made(every):
    """The amounts of a solution, by name."""
    return lambda name, **told: {amount.name: amount.value for amount in every[name].reckon(told).amounts}


# In proportion ---------------------------------------------------------------------------------------------------------


@given(st.sampled_from(RECIPES), VOLUMES, st.floats(0.01, 1))
def test_scaling_is_proportional(made, name, volume, share):
    whole, part = made(name, volume=volume), made(name, volume=max(1.0, share * volume))
    assert whole.keys() == part.keys()
    for amount, value in part.items():
        assert value == pytest.approx(whole[amount] * max(1.0, share * volume) / volume, rel=1e-9)


@pytest.mark.parametrize("name", RECIPES)
def test_the_volume_of_the_recipe_is_the_recipe(made, knowledge, name):
    solution = knowledge.solutions[name]
    for amount, part in zip(made(name, volume=solution.volume).values(), solution.parts, strict=True):
        assert amount == pytest.approx(part.amount, rel=1e-12)


@pytest.mark.parametrize("name", RECIPES)
def test_nothing_is_lost_of_how_it_is_mixed(every, knowledge, name):
    solution, worked = knowledge.solutions[name], every[name].reckon({"volume": 500.0})
    assert len(worked.do) == len(solution.step)
    for said, step in zip(worked.do, solution.step, strict=True):
        assert said.startswith(step.do)
        assert said.endswith(step.see)
    assert set(solution.beware) <= set(worked.beware)
    assert worked.keeps == solution.keeps
    assert set(solution.caution) == {*every[name].cautions, *worked.cautions}


@pytest.mark.parametrize("volume", [0.0, 0.5, 100_001.0, -1.0, float("nan"), float("inf")])
@pytest.mark.parametrize("name", RECIPES)
def test_a_volume_nobody_makes_is_refused_in_one_line(every, name, volume):
    with pytest.raises(BenchError, match="volume: ") as refused:
        every[name].reckon({"volume": volume})
    assert str(refused.value).isprintable()


# With what is at hand ---------------------------------------------------------------------------------------------------


@given(st.sampled_from(DEVELOPERS), VOLUMES, st.floats(20, 99.5))
def test_acid_of_another_percent_gives_as_much_acid(made, name, volume, percent):
    plain, other = made(name, volume=volume), made(name, volume=volume, acetic_acid_percent=percent)
    assert other["acetic_acid"] * moles_per_litre("acetic", percent) == pytest.approx(
        plain["acetic_acid"] * moles_per_litre("acetic", 99.5), rel=1e-9
    )
    assert {key: value for key, value in plain.items() if key != "acetic_acid"} == {
        key: value for key, value in other.items() if key != "acetic_acid"
    }


def test_weaker_acid_by_the_table_of_the_handbook(every, made):
    """CRC Handbook: 28 % acetic acid has 4.824 mol/L; 99.5 %, between its rows at 98 and 100 %, has 17.38."""
    glacial, weak = (made("developer-mild", volume=1000.0, acetic_acid_percent=p)["acetic_acid"] for p in (99.5, 28.0))
    assert weak / glacial == pytest.approx(17.38 / 4.824, rel=0.005)
    labels = [a.label for a in every["developer-mild"].reckon({"volume": 1000.0, "acetic_acid_percent": 28.0}).amounts]
    assert "acetic acid (28 %)" in labels


def test_what_is_already_reckoned_is_said_so_that_nobody_reckons_it_twice(every):
    """For the book's own warning, of how much more weak acid it takes, still stands below."""
    for told, said in (
        ({"acetic_acid_percent": 28.0}, ["Already reckoned for acetic acid of 28 %"]),
        ({"acetic_acid_percent": 99.5}, []),
        ({}, []),
    ):
        beware = every["developer-mild"].reckon({"volume": 500.0, **told}).beware
        assert [line.partition(",")[0] for line in beware if line.startswith("Already")] == said
    assert (
        "Already reckoned for dried hypo"
        in every["fixer-hypo"].reckon({"volume": 500.0, "hypo": "dried-hypo"}).beware[0]
    )


def test_acid_too_weak_for_the_vessel_is_refused(every):
    with pytest.raises(BenchError, match="past the mark at 500 mL; take a stronger acid"):
        every["developer-mild"].reckon({"volume": 500.0, "acetic_acid_percent": 1.0})


@cache
def mass(formula):
    return molmass.Formula(formula).mass


@pytest.mark.parametrize(
    ("name", "asked", "choice", "first", "second", "times"),
    [
        ("fixer-hypo", "hypo", "dried-hypo", "hypo", "dried_hypo", mass("Na2S2O3") / mass("Na2S2O3(H2O)5")),
        *(
            (
                name,
                "cadmium_bromide",
                "cadmium-bromide-crystals-with-water",
                "cadmium_bromide",
                "cadmium_bromide_crystals_with_water",
                mass("CdBr2(H2O)4") / mass("CdBr2"),
            )
            for name in ("collodion-bromo-iodide", "collodion-strong-positive")
        ),
    ],
)
def test_another_form_is_weighed_by_its_formula(every, made, name, asked, choice, first, second, times):
    usual, other = made(name, volume=1000.0), made(name, volume=1000.0, **{asked: choice})
    assert other[second] / usual[first] == pytest.approx(times, rel=0.002)
    assert first not in other
    rest = {key: value for key, value in usual.items() if key != first}
    assert {key: value for key, value in other.items() if key != second} == rest
    assert made(name, volume=1000.0, **{asked: every[name].asked(asked).usual}) == usual


def test_only_forms_and_acids_are_asked_besides_the_volume(every, knowledge):
    for name, solution in knowledge.solutions.items():
        asks = every[name].asks
        assert asks[0].name == "volume"
        wanted = [part.name for part in solution.part if part.instead or (part.percent and part.name == "acetic acid")]
        assert len(asks) - 1 == len(wanted)
        for asked in asks[1:]:
            assert asked.usual is not None
            assert asked.usual_because


# What is never made ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("told", [{}, {"volume": 500.0}])
def test_cyanide_is_refused_whatever_is_told(every, told):
    with pytest.raises(BenchError, match="belongs to licensed practice") as refused:
        every[REFUSED].reckon(told)
    assert str(refused.value).isprintable()
    assert not re.search(r"\d", str(refused.value))
    assert not every[REFUSED].missing({})


def test_no_sum_doses_cyanide(every):
    """What tells of cyanide at all tells how little is too much, or whether a bath in use is spent."""
    for name, told in (
        ("cyanide-warning", {"room": 20.0}),
        ("fixer-left", {"kind": "cyanide", "clearing_fresh": 10.0, "clearing_now": 25.0}),
        ("washing-time", {"fixer": "cyanide", "support": "glass"}),
    ):
        worked = every[name].reckon(told)
        assert {"cyanide", "cyanide-and-acid"} <= {*every[name].cautions, *worked.cautions}
        assert not [amount for amount in worked.amounts if amount.tool == "balance"]
        assert not [line for line in worked.do if re.search(r"\b(weigh|dissolve|mix)\b", line, re.IGNORECASE)]
    plates = {name for name, item in every.items() if "cyanide" in str([asked.choices for asked in item.asks])}
    assert plates == {"fixer-left", "washing-time"}


# Names, sources, cautions ---------------------------------------------------------------------------------------------------


def test_a_sum_goes_before_a_solution_and_both_are_found(knowledge):
    assert not set(SUMS) & set(knowledge.solutions)
    assert find_sum("new-bath", knowledge.solutions) is SUMS["new-bath"]
    assert find_sum("silver-bath", knowledge.solutions).title == knowledge.solutions["silver-bath"].title


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("silver-baht", "did you mean 'silver-bath'"),
        ("wet_window", "did you mean 'wet-window'"),
        ("", "`diagnose bench` lists them"),
        ("\x1b[2J", "`diagnose bench` lists them"),
        ("z" * 100_000, "`diagnose bench` lists them"),
    ],
)
def test_what_is_called_nothing_is_refused_in_one_line(knowledge, name, hint):
    with pytest.raises(BenchError) as refused:
        find_sum(name, knowledge.solutions)
    assert hint in str(refused.value)
    assert str(refused.value).isprintable()
    assert len(str(refused.value)) < 200


@pytest.mark.parametrize("name", [*SUMS, *NAMES])
def test_every_source_is_in_the_list_of_sources(every, knowledge, name):
    assert every[name].sources
    for source in every[name].sources:
        key, _, place = source.partition(" ")
        assert key in knowledge.sources, source
        assert not (place and knowledge.sources[key].kind == "mark")


@pytest.mark.parametrize("name", NAMES)
def test_every_source_within_a_recipe_is_in_the_list_of_sources(knowledge, name):
    solution = knowledge.solutions[name]
    said = [
        *solution.from_,
        *(source for item in solution.part for other in item.instead for source in other.from_),
        *(source for item in (*solution.step, *solution.strength, *solution.dissent) for source in item.from_),
    ]
    assert {source.split()[0] for source in said} <= set(knowledge.sources)


@pytest.mark.parametrize("name", [*SUMS, *NAMES])
def test_every_caution_is_known_and_every_danger_is_shown(every, knowledge, name):
    sum_ = every[name]
    assert set(sum_.cautions) <= set(knowledge.cautions)
    if name == REFUSED:
        return
    from diagnose.talk.bench_asking import read_given

    told = {key: item.value for key, item in read_given(sum_, ORDINARY[name]).items()}
    worked = sum_.reckon(told)
    assert set(worked.cautions) <= set(knowledge.cautions)
    words = " ".join((*worked.do, *(amount.label for amount in worked.amounts)))
    cautions = {*sum_.cautions, *worked.cautions}
    for sign, wanted in (
        (r"silver nitrate to add|silver stock to add", "silver-nitrate"),
        (r"nitric acid of|acid of \d+ % that makes", "nitric-acid"),
        (r"ether to add|strong alcohol", "ether-and-alcohol"),
        (r"cadmium (iodide|bromide)", "cadmium-salts"),
    ):
        assert not re.search(sign, words) or wanted in cautions, sign
