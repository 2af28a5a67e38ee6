"""Why, why not, and what would change the answer: each is held against the numbers it speaks of."""

import math
import random
import tomllib
from pathlib import Path

import pytest

import diagnose
from diagnose.reasoning.explaining import CLEARLY, chain, turns, why_not
from diagnose.reasoning.receipts import NAT_TO_DECIBAN, log_odds

CASES = Path(__file__).resolve().parents[1] / "cases"
PARTS = ("symptoms", "conditions", "checks", "tried")
SMALL = 1e-9
LOOKED_AT, LEAST_CHANCE = 8, 0.02


@pytest.fixture(scope="module")
def plates():
    """Cases, and the same with something left out, so that less is sure."""
    told = [
        {part: case[part] for part in PARTS if part in case}
        for path in sorted(CASES.rglob("*.toml"))
        for case in tomllib.loads(path.read_text("utf-8"))["case"]
    ]
    return [*told[::6], *({"symptoms": item["symptoms"]} for item in told[2::9])]


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


# What would change the answer ---------------------------------------------------------------


def test_giving_the_answer_does_turn_it_to_that_cause_and_number(plates, knowledge):
    """Through the whole program and the real engine, told in words."""
    turned, kinds = 0, set()
    for told in plates:
        answer = diagnose.diagnose(told, knowledge)
        leader = answer.ranking[0][0]
        for turn in turns(answer.questions(), answer.facts, answer.posterior, answer.craft, most=50):
            after = diagnose.diagnose(told_with(told, turn.question, turn.answer, knowledge), knowledge)
            assert after.ranking[0][0] == turn.leader != leader
            assert math.isclose(after.ranking[0][1], turn.probability, abs_tol=SMALL)
            assert turn.probability >= CLEARLY * after.posterior.causes[leader]
            assert turn.chance == dict(turn.question.answers)[turn.answer] >= LEAST_CHANCE
            turned += 1
            kinds.add(turn.question.kind)
    print(f"\n{turned} turning answers held, by way of {', '.join(sorted(kinds))}")
    assert turned > 50
    assert kinds >= {"symptom", "condition", "check"}


def test_no_turning_answer_is_kept_back(plates, knowledge):
    """Every answer of the leading questions is tried through the program; those that turn it are the ones told."""
    for told in plates[::7]:
        answer = diagnose.diagnose(told, knowledge)
        leader, found = answer.ranking[0][0], answer.questions()
        expected = {}
        for question in found[:LOOKED_AT]:
            for given, chance in question.answers:
                if chance < LEAST_CHANCE:
                    continue
                after = diagnose.diagnose(told_with(told, question, given, knowledge), knowledge)
                first, probability = after.ranking[0]
                if first != leader and probability >= CLEARLY * after.posterior.causes[leader]:
                    expected[question.id, given] = first
        every = turns(found, answer.facts, answer.posterior, answer.craft, most=1000)
        assert {(turn.question.id, turn.answer): turn.leader for turn in every} == expected


def test_turns_are_told_likeliest_first_and_few(plates, knowledge):
    for told in plates[::3]:
        answer = diagnose.diagnose(told, knowledge)
        found = turns(answer.questions(), answer.facts, answer.posterior, answer.craft)
        every = turns(answer.questions(), answer.facts, answer.posterior, answer.craft, most=1000)
        assert found == every[:3]
        chances = [turn.chance for turn in every]
        assert chances == sorted(chances, reverse=True)


def test_looking_for_what_would_turn_it_changes_nothing(knowledge):
    answer = diagnose.diagnose({"symptoms": {"fog": True}}, knowledge)
    before = dict(answer.posterior.causes)
    turns(answer.questions(), answer.facts, answer.posterior, answer.craft)
    assert (
        diagnose.diagnose({"symptoms": {"fog": True}}, knowledge).posterior.causes == before == answer.posterior.causes
    )


# Why not ---------------------------------------------------------------


def test_what_parts_two_causes_adds_up_to_how_far_they_are_apart(plates, knowledge):
    """The terms of both accounts, each against its fellow, make up the difference of the log-odds; the largest are told."""
    chance = random.Random("why not")
    for told in plates:
        answer = diagnose.diagnose(told, knowledge)
        leader, rivals = answer.ranking[0][0], [cause for cause, _ in answer.ranking[1:6]]
        rival = chance.choice([*rivals, *knowledge.causes])
        if rival == leader:
            continue
        books = answer.account(leader, rival)
        apart = NAT_TO_DECIBAN * (log_odds(answer.posterior.causes[leader]) - log_odds(answer.posterior.causes[rival]))
        assert math.isclose(
            sum(r.decibans for r in books[leader]) - sum(r.decibans for r in books[rival]), apart, abs_tol=1e-6
        )
        differences = {}
        for sign, cause in ((1, leader), (-1, rival)):
            for receipt in books[cause]:
                key = (receipt.kind, receipt.about)
                differences[key] = differences.get(key, 0.0) + sign * receipt.decibans
        assert math.isclose(sum(differences.values()), apart, abs_tol=1e-6)
        found = why_not(books[leader], books[rival], most=1000)
        assert [item.decibans for item in found] == sorted((item.decibans for item in found), reverse=True)
        worth_telling = sorted((weight for weight in differences.values() if weight > 0.5), reverse=True)
        assert [item.decibans for item in found] == pytest.approx(worth_telling, abs=SMALL)
        assert why_not(books[leader], books[rival]) == found[:3]
        for item in found:
            ours, theirs = item.for_first, item.for_second
            assert ours or theirs
            for receipt in (ours, theirs):
                assert receipt is None or receipt.about == item.about
            said = (ours.decibans if ours else 0.0) - (theirs.decibans if theirs else 0.0)
            assert math.isclose(item.decibans, said, abs_tol=SMALL)


def test_why_not_turned_about_says_the_contrary(knowledge):
    answer = diagnose.diagnose({"symptoms": {"fog": True}, "conditions": {"room_temperature": "30 °C"}}, knowledge)
    first, second = (cause for cause, _ in answer.ranking[:2])
    books = answer.account(first, second)
    one = {item.about: item.decibans for item in why_not(books[first], books[second], most=1000)}
    other = {item.about: item.decibans for item in why_not(books[second], books[first], most=1000)}
    assert one
    assert not one.keys() & other.keys()
    assert why_not(books[first], books[first]) == ()


# Why ---------------------------------------------------------------


def test_the_chain_is_the_cause_s_own_and_joined_to_what_was_said(plates, knowledge):
    joined = {"present": 0, "absent": 0, "unsure": 0, "": 0}
    told_unsure = {"symptoms": {"fog": "unsure", "comets": False, "pinholes": "cant-tell"}}
    for told in [*plates, told_unsure]:
        answer = diagnose.diagnose(told, knowledge)
        facts = answer.facts
        for cause, _ in answer.ranking[:8]:
            entry, found = knowledge.causes[cause], chain(cause, answer.facts, answer.craft)
            assert [(step.then, step.shows, step.source) for step in found] == [
                (step.then, step.shows, step.from_) for step in entry.step
            ]
            for step in found:
                expected = (
                    "present"
                    if step.shows in facts.present
                    else "unsure"
                    if step.shows in facts.unsure
                    else "absent"
                    if step.shows in facts.absent
                    else ""
                )
                assert step.seen == expected
                joined[step.seen] += 1
    assert min(joined.values()) > 0


def test_what_the_chain_shows_has_its_place_in_the_account(plates, knowledge):
    """A step that shows what was seen is backed by a term of the account with the same answer, the same reason and a source."""
    backed = 0
    for told in plates[::3]:
        answer = diagnose.diagnose(told, knowledge)
        for cause, _ in answer.ranking[:3]:
            account = {receipt.about: receipt for receipt in answer.account(cause)[cause] if receipt.kind == "symptom"}
            for step in chain(cause, answer.facts, answer.craft):
                if step.seen:
                    receipt = account[step.shows]
                    link = next(link for link in knowledge.causes[cause].symptom if link.symptom == step.shows)
                    assert receipt.answer == step.seen
                    assert receipt.why == link.why
                    assert receipt.source == link.from_
                    backed += 1
    assert backed > 30


def test_the_leading_chain_shows_something_that_was_seen(plates, knowledge):
    """Where a cause leads clearly, its mechanism ends in what the plate shows; otherwise the why would be idle."""
    sure = shown = 0
    for told in plates:
        answer = diagnose.diagnose(told, knowledge)
        cause, probability = answer.ranking[0]
        if probability > 0.8:
            sure += 1
            shown += any(step.seen == "present" for step in chain(cause, answer.facts, answer.craft))
    print(f"\n{shown} of {sure} clear leaders have a step that shows what was seen")
    assert shown > 0.8 * sure
