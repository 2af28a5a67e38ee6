"""Every case in tests/cases/: the cause it was written for comes first."""

import tomllib
from pathlib import Path

import pytest

import diagnose

CASES = Path(__file__).resolve().parent / "cases"
PARTS = ("symptoms", "conditions", "checks", "tried")


def cases():
    for path in sorted(CASES.rglob("*.toml")):
        for number, case in enumerate(tomllib.loads(path.read_text("utf-8"))["case"], start=1):
            yield pytest.param(case, id=f"{path.parent.name}/{path.stem}-{number}-{case['kind']}")


@pytest.mark.parametrize("case", list(cases()))
def test_the_expected_cause_comes_first(case, knowledge):
    found = diagnose.diagnose({part: case[part] for part in PARTS if part in case}, knowledge)
    leading = [f"{cause} {chance:.2f}" for cause, chance in found.ranking[:3]]
    assert found.ranking[0][0] == case["expect"], f"{case['story']} -> {leading}"
    assert found.ranking[0][1] > found.ranking[1][1], f"a tie: {leading}"


def test_every_cause_has_a_case_and_a_near_miss(knowledge):
    """A near miss stands in the file of the cause it must not be taken for."""
    expected, missed = set(), set()
    for case in cases():
        (told,) = case.values
        home = next(cause for cause in knowledge.causes if case.id.startswith(f"{cause}-"))
        expected.add(told["expect"])
        if told["kind"] == "near-miss":
            assert told["expect"] != home
            missed.add(home)
    assert expected == set(knowledge.causes)
    assert missed == set(knowledge.causes)
