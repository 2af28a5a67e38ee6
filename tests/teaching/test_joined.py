"""The chain joined to a plate. Every plate here is invented."""

import pytest

from diagnose.answer import diagnose
from diagnose.teaching.joined import joined

DIRTY, BACK = "holder-and-camera/dirty-holder", "holder-and-camera/silver-on-the-back"
OYSTERS = {"symptoms": {"oyster-shell-marks": True, "splash-stains": False}, "conditions": {"holder_wiped": "no"}}


@pytest.fixture(scope="module")
def plate(knowledge):
    return diagnose(OYSTERS, knowledge)


def seen_of(found):
    return {step.step.shows: step.seen for step in found.steps if step.step.shows}


def test_each_step_says_whether_it_was_seen(plate):
    found = joined(DIRTY, plate)
    assert seen_of(found) == {"oyster-shell-marks": "present", "splash-stains": "absent"}
    assert [step.said for step in found.steps if step.step.shows] == ["you saw this", "you did not see this"]
    assert all(not step.said for step in found.steps if not step.step.shows)
    assert found.probability == plate.posterior.causes[DIRTY]


def test_the_chain_as_a_whole_is_held_against_the_plate(plate, knowledge):
    said = joined(DIRTY, plate).fits
    assert said.startswith("Of 2 signs along the chain you saw 1: Oyster-shell marks")
    assert "breaks at what you looked for and did not see: Splash-shaped" in said
    assert "you have told none" in joined("silver-bath/bath-full-of-iodide", plate).fits
    unsure = diagnose({"symptoms": {"oyster-shell-marks": "unsure"}}, knowledge)
    assert seen_of(joined(DIRTY, unsure))["oyster-shell-marks"] == "unsure"


def test_a_rival_is_held_against_the_cause_that_was_asked_about(plate):
    (rival,) = joined(DIRTY, plate, (BACK, DIRTY)).rivals
    chances = plate.posterior.causes
    assert (rival.cause, rival.probability, rival.ahead) == (BACK, chances[BACK], chances[BACK] > chances[DIRTY])
    assert not rival.ahead
    assert rival.because[0].for_first.about == "holder-dirty"
    assert [term.decibans for term in rival.because] == sorted((term.decibans for term in rival.because), reverse=True)


def test_a_rival_that_leads_is_told_to_lead(plate):
    (rival,) = joined(BACK, plate, (DIRTY,)).rivals
    assert rival.ahead
    assert rival.because[0].for_first.about == "holder-dirty"


def test_only_what_is_not_told_yet_would_part_them(plate, knowledge):
    (before,) = joined(DIRTY, plate, (BACK,)).rivals
    assert before.would_part
    first = next(part for part in before.would_part if part.kind == "check")
    outcome = knowledge.checks[first.name].outcome[0].id
    told = diagnose({**OYSTERS, "checks": {first.name: outcome}}, knowledge)
    (after,) = joined(DIRTY, told, (BACK,)).rivals
    assert first.name not in {part.name for part in after.would_part}
    assert "splash-stains" not in {part.name for part in before.would_part}
