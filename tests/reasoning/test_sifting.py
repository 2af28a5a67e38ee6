"""Handing the engine only the rules a plate could fire changes neither facts nor trace."""

import pickle
import random
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.entries.limits import MOST_CONDITIONS_A_RULE, MOST_RULES
from diagnose.errors import LimitError
from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning.atoms import atoms_of_plate
from diagnose.reasoning.chaining import Rule
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.matching import PlainChainer
from diagnose.reasoning.sifting import SiftedChainer

CASES = Path(__file__).parents[1] / "cases"


def same(rules, atoms, chainer=None):
    sifted, plain = (chainer or SiftedChainer(rules)).run(atoms), PlainChainer(rules).run(atoms)
    return sifted.trace == plain.trace and sifted.facts == plain.facts


def test_every_case_fires_as_in_the_plain_engine(knowledge):
    craft = craft_of(knowledge)
    sifted = SiftedChainer(craft.book.rules)
    fired = 0
    for path in sorted(CASES.rglob("*.toml")):
        for case in tomllib.loads(path.read_text("utf-8"))["case"]:
            told = {part: case[part] for part in ("symptoms", "conditions", "checks") if part in case}
            atoms = atoms_of_plate(understand(Plate.read(told), knowledge), craft.index, knowledge)
            assert same(craft.book.rules, atoms, sifted), path
            fired += len(sifted.run(atoms).trace)
    assert fired > 500


ATOMS = [f"a{n}" for n in range(8)]
RULES = st.lists(
    st.tuples(st.lists(st.sampled_from(ATOMS), min_size=1, max_size=4), st.sampled_from(["", *ATOMS])), max_size=25
)


@settings(max_examples=150, deadline=None)
@given(RULES, st.sets(st.sampled_from(ATOMS)))
def test_any_rules_fire_alike(drawn, atoms):
    rules = [Rule(f"rule {n}", tuple(when), then) for n, (when, then) in enumerate(drawn)]
    assert same(rules, sorted(atoms))


def test_one_plate_after_another(knowledge):
    craft = craft_of(knowledge)
    chance = random.Random("sifting")
    known = sorted({atom for rule in craft.book.rules for atom in rule.when if not atom.startswith("state:")})
    sifted = SiftedChainer(craft.book.rules)
    for _ in range(60):
        assert same(craft.book.rules, chance.sample(known, chance.randint(0, 30)), sifted)


def test_nothing_at_all_fires_nothing():
    assert SiftedChainer([Rule("one", ("a",))]).run([]).trace == ()


def test_limits_are_told_before_any_plate():
    with pytest.raises(LimitError, match="can safely hold"):
        SiftedChainer([Rule(f"rule {n}", ("a",)) for n in range(MOST_RULES + 1)])
    with pytest.raises(LimitError, match="tests"):
        SiftedChainer([Rule("wide", tuple(f"a{n}" for n in range(MOST_CONDITIONS_A_RULE + 1)))])


def test_the_rules_travel():
    sifted = pickle.loads(pickle.dumps(SiftedChainer([Rule("one", ("a",), "b"), Rule("two", ("b",))])))
    assert [rule.name for rule in sifted.run(["a"]).trace] == ["one", "two"]
