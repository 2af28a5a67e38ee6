"""The knowledge that comes with the program: whole, sourced, and every cause with its cases."""

import tomllib
from collections import Counter
from pathlib import Path

import pytest

from diagnose.entries.compiled import knowledge_folder
from diagnose.entries.files import read_files
from diagnose.entries.limits import MOST_CONDITIONS_A_RULE, MOST_CONDITIONS_IN_ALL, MOST_RULES
from diagnose.entries.proof_limits import rule_widths
from diagnose.entries.proof_names import sourced
from diagnose.entries.proofread import check_folders
from diagnose.entries.read import draft_knowledge
from diagnose.entries.tests_in_words import InState, read_test
from diagnose.facts import find_symptom, plain, understand
from diagnose.plate import Plate

CASES = Path(__file__).resolve().parents[1] / "cases"
CASE_FILES = {path.relative_to(CASES).with_suffix("").as_posix(): path for path in sorted(CASES.glob("*/*.toml"))}
CAUSE_FILES = {
    path.relative_to(knowledge_folder() / "causes").with_suffix("").as_posix()
    for path in (knowledge_folder() / "causes").glob("*/*.toml")
}


@pytest.fixture(scope="module")
def draft():
    return draft_knowledge(read_files([knowledge_folder()]))


def cases_of(cause):
    return tomllib.loads(CASE_FILES[cause].read_text(encoding="utf-8"))["case"]


def test_there_is_no_problem():
    assert [str(problem) for problem in check_folders(knowledge_folder())] == []


@pytest.mark.parametrize(
    ("kind", "least"),
    [("symptoms", 25), ("conditions", 30), ("states", 12), ("causes", 24), ("remedies", 30), ("checks", 12)],
)
def test_there_is_enough_of_everything(kind, least, knowledge):
    assert len(getattr(knowledge, kind)) >= least


def test_every_stage_has_causes(knowledge):
    assert {knowledge.stage_of(cause) for cause in knowledge.causes} == set(knowledge.stages)


def test_states_rest_on_states(knowledge):
    assert max(depth_of(state, knowledge) for state in knowledge.states) >= 2


def depth_of(state, knowledge):
    """How many states stand on each other, this one on top."""
    below = [
        depth_of(test.state, knowledge)
        for way in knowledge.states[state].way
        for test in map(read_test, way.when)
        if isinstance(test, InState)
    ]
    return 1 + max(below, default=0)


@pytest.mark.parametrize(
    "check",
    [
        "proving-plate",
        "litmus-on-bath",
        "wipe-the-back",
        "turn-plate-end-for-end",
        "capped-lens-plate",
        "reserve-bath",
        "feel-each-bottle",
        "read-the-labels",
    ],
)
def test_the_checks_every_worker_knows_are_there(check, knowledge):
    assert check in knowledge.checks


@pytest.mark.parametrize(
    "caution",
    ["silver-nitrate", "nitric-acid", "ether-and-alcohol", "cyanide", "cadmium-salts", "hypo", "ammonia-and-silver"],
)
def test_what_can_hurt_has_its_caution(caution, knowledge):
    assert caution in knowledge.cautions


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("comets", "comets"),
        ("oyster-shell edges", "oyster-shell-marks"),
        ("fog", "fog"),
        ("streaks", "developer-streaks"),
        ("pinholes", "pinholes"),
        ("frilling", "film-lifting"),
    ],
)
def test_the_symptoms_on_the_card_are_found_by_the_words_on_it(words, name, knowledge):
    assert find_symptom(words, knowledge) == name
    assert find_symptom(words.upper(), knowledge) == name


def test_every_symptom_is_found_by_its_name_and_its_title(knowledge):
    assert {name: find_symptom(name, knowledge) for name in knowledge.symptoms} == {
        name: name for name in knowledge.symptoms
    }
    assert all(find_symptom(symptom.title, knowledge) == name for name, symptom in knowledge.symptoms.items())


def test_no_two_symptoms_share_a_title(knowledge):
    titles = Counter(plain(symptom.title) for symptom in knowledge.symptoms.values())
    assert max(titles.values()) == 1


def test_every_cause_has_a_case_file_and_every_case_file_a_cause():
    assert set(CASE_FILES) == CAUSE_FILES


@pytest.mark.parametrize("cause", CASE_FILES)
def test_the_cases_of_a_cause(cause, knowledge):
    cases = cases_of(cause)
    assert any(case["kind"] == "confirms" and case["expect"] == cause for case in cases), "no case confirms it"
    for case in cases:
        assert case["kind"] in {"confirms", "near-miss"}
        assert case["expect"] in knowledge.causes
        parts = {key: value for key, value in case.items() if key not in {"kind", "expect"}}
        understand(Plate.read(parts), knowledge)  # every name and amount in it is good


def test_few_links_rest_on_nothing_but_our_judgement(draft):
    """The debt is printed, and may not grow past a quarter."""
    links = [found for _, _, _, found in sourced(draft)]
    judged = [found for found in links if all(source.split()[0] == "judged" for source in found)]
    share = len(judged) / len(links)
    print(f"\n{len(judged)} of {len(links)} links are judged only: {share:.1%}")
    assert share < 0.25


def test_the_rules_fit_the_engine_with_room_to_spare(draft):
    widths = [width for *_, width in rule_widths(draft)]
    assert len(widths) < MOST_RULES * 0.75
    assert sum(widths) < MOST_CONDITIONS_IN_ALL * 0.75
    assert max(widths) < MOST_CONDITIONS_A_RULE


def test_every_share_is_one(knowledge):
    for group in ("seen", "usual", "among", "notice", "surely"):
        assert all(0 < number < 1 for number in getattr(knowledge.strengths, group).values())
    assert all(1 < number <= 100 for number in knowledge.strengths.weight.values())
