"""Plates for the advice tests: every case, every book entry, and plates drawn by chance; and how a plan is got quickly."""

import random
import tomllib
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace

import pytest

from diagnose.advice.planning import plan
from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.weighing import fire, gather, weigh

TESTS = Path(__file__).resolve().parents[1]
PARTS = ("symptoms", "conditions", "checks", "tried")


@pytest.fixture(scope="session")
def craft(knowledge):
    return craft_of(knowledge)


@dataclass(frozen=True)
class Weighed:
    """A plate, fired and weighed once; plans are made from it."""

    told: dict
    facts: object
    firing: object
    posterior: object
    craft: object

    def plan(self, mode):
        return plan(self.facts, self.posterior, self.firing, self.craft, mode)


@pytest.fixture(scope="session")
def weighed():
    """Fires on the plain twin, which fires the same rules and is quicker."""

    def weigh_one(told, craft):
        facts = understand(Plate.read(told), craft.knowledge)
        firing = fire(facts, craft, craft.bulk)
        return Weighed(told, facts, firing, weigh(gather(facts, firing, craft), craft), craft)

    return weigh_one


def told_in(path, table):
    return [
        {part: entry[part] for part in PARTS if part in entry}
        for entry in tomllib.loads(path.read_text("utf-8"))[table]
    ]


@pytest.fixture(scope="session")
def written_plates():
    """Every case, then every book entry."""
    paths = sorted((TESTS / "cases").rglob("*.toml"))
    cases = [told for path in paths for told in told_in(path, "case")]
    return cases + told_in(TESTS / "handbook" / "entries.toml", "entry")


@pytest.fixture(scope="session")
def drawn():
    """Three ways to draw a plate: anything at all, one that looks like a cause, and a bath fault that was gone into."""
    return SimpleNamespace(anything=anything, likely=likely, bath=bath)


def anything(chance, knowledge):
    """Any symptoms, conditions, checks and remedies tried together, however unlikely."""
    symptoms = {}
    for name in chance.sample(sorted(knowledge.symptoms), chance.randint(0, 5)):
        offered = knowledge.symptoms[name].attributes
        looks = {key: chance.choice(values) for key, values in offered.items() if chance.random() < 0.3}
        symptoms[name] = {
            "answer": chance.choice(("present", "present", "present", "absent", "unsure", "cant-tell")),
            **looks,
        }
    return {
        "symptoms": symptoms,
        "conditions": some_conditions(chance, knowledge, chance.randint(0, 20)),
        "checks": some_checks(chance, knowledge, chance.randint(0, 6)),
        "tried": [
            {
                "remedy": chance.choice(sorted(knowledge.remedies)),
                "result": chance.choice(("no-change", "better", "cured")),
            }
            for _ in range(chance.choice((0, 0, 0, 1, 2, 3)))
        ],
    }


def likely(chance, knowledge, causes=None):
    """What one cause shows and how it answers checks, as often as it does, and some facts about the day."""
    entry = knowledge.causes[chance.choice(causes or sorted(knowledge.causes))]
    seen = knowledge.strengths.seen
    checks = {link.check: link.outcome for link in entry.check if chance.random() < 0.5 * seen[link.seen]}
    return {
        "symptoms": {link.symptom: True for link in entry.symptom if chance.random() < seen[link.seen]},
        "conditions": some_conditions(chance, knowledge, chance.randint(0, 6)),
        "checks": checks,
        "tried": [],
    }


def bath(chance, knowledge):
    """A fault of the bath with most looks taken, the reserve and other easy ways tried, as when only the bath itself is left."""
    told = likely(chance, knowledge, [cause for cause in sorted(knowledge.causes) if cause.startswith("silver-bath/")])
    for name in (
        "litmus-on-bath",
        "look-at-bath",
        "milky-on-dilution",
        "proving-plate",
        "reserve-bath",
        "look-on-leaving-bath",
    ):
        if chance.random() < 0.75:
            told["checks"].setdefault(name, chance.choice([outcome.id for outcome in knowledge.checks[name].outcome]))
    for name, value in (
        ("bath_new", "yes"),
        ("bath_iodised", "no"),
        ("bath_smells_of_spirit", "yes"),
        ("bath_strength", "40 g/L"),
    ):
        if chance.random() < 0.3:
            told["conditions"][name] = value
    easy = [name for name, remedy in knowledge.remedies.items() if remedy.touches != "silver-bath"]
    tried = ["rest-bath-use-reserve"] * (chance.random() < 0.9) + chance.sample(easy, chance.randint(0, 4))
    told["tried"] = [
        {"remedy": name, "result": "better" if name == "rest-bath-use-reserve" else "no-change"}
        for name in dict.fromkeys(tried)
    ]
    return told


def some_conditions(chance, knowledge, count):
    return {
        name: some_value(chance, knowledge.conditions[name])
        for name in chance.sample(sorted(knowledge.conditions), count)
    }


def some_value(chance, entry):
    if chance.random() < 0.1:
        return "?"
    if entry.kind != "quantity":
        return chance.choice(sorted(entry.answers))
    low, high = entry.range
    return f"{low + (high - low) * chance.random() ** 2:.3f} {entry.unit}"


def some_checks(chance, knowledge, count):
    return {
        name: "?"
        if chance.random() < 0.1
        else chance.choice([outcome.id for outcome in knowledge.checks[name].outcome])
        for name in chance.sample(sorted(knowledge.checks), count)
        if knowledge.checks[name].outcome
    }


@pytest.fixture(scope="session")
def draw_with():
    """Chance from a fixed seed."""
    return random.Random
