"""The next step loses no less than nothing, and a reason is weighed by what would be believed without it."""

import random

import pytest

from diagnose import phrases
from diagnose.advice.actions import checks_action
from diagnose.advice.planning import LEAST_BELIEF
from diagnose.answer import diagnose
from diagnose.reasoning.asking import shares_of
from diagnose.reasoning.craft import craft_of
from diagnose.teaching.reasons import LEAST_DECIBANS, reason_for, told_reasons, weight_of
from diagnose.teaching.session import plate_of, tell
from diagnose.teaching.steps import MOST_OFFERED, best_of, minutes_lost, steps_for

HOLDER = "holder-and-camera/dirty-holder"
# Invented.
PLATE = {
    "symptoms": {"oyster-shell-marks": {"place": "lower-part"}, "fog": True},
    "conditions": {"holder_wiped": "no", "room_temperature": "21 °C", "support": "glass"},
}


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def plates(craft):
    return [plate_of(random.Random, craft, "steps", number)[1] for number in range(6)]


def test_the_tools_step_is_offered_and_loses_nothing(plates):
    for diagnosis in plates:
        steps = steps_for(diagnosis)
        best = best_of(steps, diagnosis)
        first = diagnosis.plan.first
        assert first is None or best.action.id == first.id
        assert 2 <= len(steps) <= MOST_OFFERED
        assert len({step.action.id for step in steps}) == len(steps)
        assert minutes_lost(best, best) == 0
        assert all(minutes_lost(step, best) >= 0 for step in steps)


def test_the_order_of_the_steps_says_nothing(plates, knowledge):
    for diagnosis in plates:
        titles = [phrases.action_title(step.action, knowledge) for step in steps_for(diagnosis)]
        assert titles == sorted(titles)


def test_every_verdict_comes_up(plates):
    found = {
        reason_for(diagnosis.ranking[0][0], about, diagnosis).verdict
        for diagnosis in plates[:3]
        for about in told_reasons(diagnosis.facts)
    }
    assert {"strongest", "speaks", "hardly"} <= found


def test_some_step_loses_time(plates):
    offered = [(diagnosis, steps_for(diagnosis)) for diagnosis in plates]
    lost = [minutes_lost(step, best_of(steps, diagnosis)) for diagnosis, steps in offered for step in steps]
    assert sum(minutes > 1 for minutes in lost) > len(lost) / 5


def test_a_remedy_that_wants_a_look_first_pays_for_the_look(knowledge):
    diagnosis = diagnose({"symptoms": {"fog": True}, "conditions": {"bath_smells_of_spirit": "yes"}}, knowledge)
    held = [step for step in steps_for(diagnosis) if step.first]
    assert held
    believed = sum(share for cause, share in shares_of(diagnosis.posterior).items() if cause and share >= LEAST_BELIEF)
    for step in held:
        looks = sum(checks_action(name, 0.0, diagnosis.craft).cost for name in step.first)
        assert step.minutes >= (step.action.cost + looks) * believed
    assert any(checks_action(name, 0.0, diagnosis.craft).cost > 0 for step in held for name in step.first)


def test_the_sign_of_the_cause_speaks_for_it(knowledge):
    diagnosis = diagnose(PLATE, knowledge)
    found = reason_for(HOLDER, "oyster-shell-marks", diagnosis)
    assert found.verdict == "strongest"
    assert found.account.why
    assert found.decibans > 5


def test_a_right_cause_for_a_wrong_reason_is_told_apart(knowledge):
    diagnosis = diagnose(PLATE, knowledge)
    assert reason_for(HOLDER, "room_temperature", diagnosis).verdict == "hardly"
    assert reason_for(HOLDER, "fog", diagnosis).verdict in {"hardly", "against"}
    assert reason_for(HOLDER, "", diagnosis).verdict == ""


def test_a_condition_speaks_through_what_follows_from_it(knowledge):
    """Whether the holder was wiped works through a state; no rule of the cause names the condition itself."""
    diagnosis = diagnose(PLATE, knowledge)
    assert weight_of("holder_wiped", HOLDER, diagnosis) > LEAST_DECIBANS
    assert "holder_wiped" in told_reasons(diagnosis.facts)


def test_without_anything_that_speaks_for_it_no_reason_is_judged(knowledge):
    diagnosis = diagnose({"symptoms": {"comets": True}}, knowledge)
    found = reason_for("varnish/brittle-varnish", "comets", diagnosis)
    assert (found.verdict, found.strongest, found.account) == ("", "", None)


def test_the_plate_is_told_to_the_tool_as_to_the_student(craft):
    exercise, diagnosis = plate_of(random.Random, craft, "same", 1)
    assert tell(exercise, craft).posterior == diagnosis.posterior
    assert diagnosis.mode == "find-out"
