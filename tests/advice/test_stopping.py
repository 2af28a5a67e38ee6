"""When asking ends: sure enough, or no answer would change what to do first."""

import pytest

import diagnose
from diagnose.advice.actions import remedies_now
from diagnose.advice.stopping import LEAST_CHANCE, MOST_TRIED, SURE, leading_remedy, worth_asking
from diagnose.reasoning.asking import answered_with, questions, shares_of
from diagnose.reasoning.reckoning import with_reckoned


def best(told, craft):
    """The remedy that leads, by way of the whole program and the real engine."""
    answer = diagnose.diagnose(told, craft.knowledge)
    found = remedies_now(answer.facts, shares_of(answer.posterior), answer.firing, craft)
    return found[0].id if found else None


def told_with(told, question, answer, knowledge):
    """The same plate with one answer more, as a person would tell it."""
    parts = {part: dict(told.get(part, {})) for part in ("symptoms", "conditions", "checks")}
    match question.kind:
        case "symptom":
            parts["symptoms"][question.id] = answer == "yes"
        case "attribute":
            symptom, _, look = question.id.partition(".")
            before = parts["symptoms"][symptom]
            parts["symptoms"][symptom] = {**(before if isinstance(before, dict) else {}), look: answer}
        case "condition":
            unit = knowledge.conditions[question.id].unit
            parts["conditions"][question.id] = f"{answer} {unit}" if unit else answer
        case _:
            parts["checks"][question.id] = answer
    return {**told, **parts}


@pytest.fixture(scope="module")
def open_plates(written_plates, weighed, craft):
    return [weighed(told, craft) for told in written_plates[::15]]


def test_a_question_is_worth_asking_just_where_an_answer_turns_the_first_remedy(open_plates, craft):
    kept = dropped = 0
    for plate in open_plates:
        found = questions(plate.facts, plate.posterior, craft)
        leading = best(plate.told, craft)
        worth = worth_asking(found, plate.facts, plate.posterior, craft, leading)
        if max(plate.posterior.causes.values()) >= SURE:
            assert worth == []
            continue
        assert worth == [question for question in found if question in worth]  # in the order of their gain
        for question in found[:MOST_TRIED]:
            turns = any(
                best(told_with(plate.told, question, answer, craft.knowledge), craft) != leading
                for answer, chance in question.answers
                if chance >= LEAST_CHANCE
            )
            assert turns == (question in worth), (plate.told, question.id)
            kept, dropped = kept + turns, dropped + (not turns)
        assert not set(map(id, worth)) - set(map(id, found[:MOST_TRIED]))
    assert kept > 20
    assert dropped > 5


def test_sure_enough_means_no_more_questions(written_plates, knowledge):
    sure = 0
    for told in written_plates[::4]:
        answer = diagnose.diagnose(told, knowledge)
        assert answer.sure_enough == (answer.ranking[0][1] >= SURE)
        if answer.sure_enough:
            sure += 1
            assert answer.worth_asking() == []
    assert sure > 5
    assert SURE == 0.9


def test_the_remedy_that_leads_is_the_same_on_either_engine(open_plates, craft):
    for plate in open_plates:
        leading, posterior = leading_remedy(plate.facts, craft)
        assert leading == best(plate.told, craft)
        assert posterior.causes == plate.posterior.causes


def test_an_answer_given_in_thought_is_the_answer_given_in_words(open_plates, craft):
    """`answered_with` makes the very plate that telling the answer makes."""
    kinds = set()
    for plate in open_plates[::4]:
        for question in questions(plate.facts, plate.posterior, craft)[:12]:
            for answer, _ in question.answers:
                told = told_with(plate.told, question, answer, craft.knowledge)
                assert (
                    with_reckoned(answered_with(plate.facts, question, answer, craft), craft)
                    == diagnose.diagnose(told, craft.knowledge).facts
                )
                kinds.add(question.kind)
    assert kinds >= {"symptom", "condition", "check"}


def test_nine_in_ten_is_the_line(weighed, craft):
    """The same questions, of which answers could turn the advice, are dropped just when the leading cause reaches it."""
    plate = weighed({"symptoms": {"fog": True}}, craft)
    found = questions(plate.facts, plate.posterior, craft)
    leading = best(plate.told, craft)
    for chance, asks in ((SURE - 1e-9, True), (SURE, False), (0.99, False)):
        causes = {**plate.posterior.causes, "development/over-developed": chance}
        posterior = type(plate.posterior)(causes, plate.posterior.leaks, plate.posterior.set_aside)
        assert bool(worth_asking(found, plate.facts, posterior, craft, leading)) == asks
