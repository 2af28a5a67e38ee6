"""The answer as it goes out adds up, whatever was told and in whatever order; and the call a script makes."""

import json
import math
import random
from dataclasses import asdict

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import diagnose as package
from diagnose import phrases
from diagnose.answer import Diagnosis
from diagnose.answer import diagnose as reckon
from diagnose.bands import band
from diagnose.errors import PlateError
from diagnose.plate import ANSWERS, Plate
from diagnose.reasoning.receipts import log_odds
from diagnose.reasoning.weighing import suppose
from diagnose.record import answer_record

EXAMPLES = 20


def record_of(plate, knowledge, mode="sitter-waiting"):
    return asdict(answer_record(reckon(plate, knowledge, mode=mode)))


@pytest.fixture(scope="session")
def plates(knowledge):
    """Any plate that can be understood."""

    @st.composite
    def plate(draw):
        def some(names, most):
            return draw(st.lists(st.sampled_from(sorted(names)), max_size=most, unique=True))

        symptoms = {}
        for name in some(knowledge.symptoms, 6):
            answer = draw(st.sampled_from(ANSWERS))
            offered = knowledge.symptoms[name].attributes
            looks = {key: draw(st.sampled_from(offered[key])) for key in offered if draw(st.booleans())}
            symptoms[name] = {"answer": answer, **looks}
        conditions = {}
        for name in some(knowledge.conditions, 8):
            entry = knowledge.conditions[name]
            if entry.kind == "quantity":
                low, high = entry.range
                conditions[name] = f"{draw(st.integers(math.ceil(low), math.floor(high)))} {entry.unit}"
            else:
                conditions[name] = draw(st.sampled_from(sorted(entry.answers)))
        asked = [name for name, check in knowledge.checks.items() if check.outcome]
        checks = {
            name: draw(st.sampled_from([outcome.id for outcome in knowledge.checks[name].outcome]))
            for name in some(asked, 3)
        }
        tried = [
            {"remedy": name, "result": draw(st.sampled_from(["no-change", "better", "cured"]))}
            for name in some(knowledge.remedies, 2)
        ]
        return {"symptoms": symptoms, "conditions": conditions, "checks": checks, "tried": tried}

    return plate()


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_every_account_adds_up_and_every_share_is_one(data, plates, knowledge):
    told = data.draw(plates)
    some = st.dictionaries(st.sampled_from(sorted(knowledge.causes)), st.floats(-5, 5), max_size=5)
    diagnosis = reckon(told, knowledge, earlier=data.draw(some))
    every = [cause for cause, _ in diagnosis.ranking]
    for cause, receipts in diagnosis.account(*every).items():
        chance = diagnosis.posterior.causes[cause]
        assert 0 <= chance <= 1
        total = math.fsum(receipt.decibans for receipt in receipts) * math.log(10) / 10
        assert total == pytest.approx(log_odds(chance), abs=1e-9)
    answer = asdict(answer_record(diagnosis))
    assert math.fsum(answer["split"].values()) == pytest.approx(1, abs=1e-9)
    assert all(0 <= share <= 1 for share in answer["split"].values())
    assert 0 <= answer["none_of_these"]["probability"] <= 1
    chances = [cause["probability"] for cause in answer["causes"]]
    assert chances == sorted(chances, reverse=True)
    assert chances == [chance for _, chance in diagnosis.ranking[: len(chances)]]
    for cause in answer["causes"]:
        assert cause["words"] == band(cause["probability"])
        assert all(math.isfinite(receipt["decibans"]) and receipt["words"] for receipt in cause["receipts"])
    json.dumps(answer, allow_nan=False)


def test_the_earlier_plates_of_the_day_speak_in_the_answer(knowledge):
    told, fouled, dirt = {"symptoms": {"fog": True}}, "silver-bath/fouled-bath", "silver-bath/dirt-in-bath"
    alone = reckon(told, knowledge)
    assert record_of(told, knowledge) == asdict(answer_record(reckon(told, knowledge, earlier={})))
    assert not any(item.kind == "earlier" for item in alone.account(fouled)[fouled])
    raised = reckon(told, knowledge, earlier={fouled: 2.0, dirt: -1.0})
    assert raised.posterior.causes[fouled] > alone.posterior.causes[fouled]
    assert raised.posterior.causes[dirt] < alone.posterior.causes[dirt]
    for cause, weight, words in ((fouled, 2.0, "for"), (dirt, -1.0, "against")):
        (term,) = (item for item in raised.account(cause)[cause] if item.kind == "earlier")
        assert term.decibans == pytest.approx(weight * 10 / math.log(10))
        said = phrases.receipt(term, raised.facts, knowledge)
        assert said == f"The earlier plates of the day speak {words} it"
    (leader,) = (cause for cause in answer_record(raised).causes if cause.id == fouled)
    assert any("earlier plates" in item.words for item in leader.receipts)


def test_the_earlier_plates_of_the_day_are_kept_in_every_what_if(knowledge):
    """Questions and what-ifs start from them, too."""
    told, fouled = {"symptoms": {"fog": True}}, "silver-bath/fouled-bath"
    raised = reckon(told, knowledge, earlier={fouled: 3.0})
    facts, posterior = suppose(raised.facts, raised.craft, absent=frozenset({"comets"}))
    assert facts.earlier == {fouled: 3.0}
    after = reckon({"symptoms": {"fog": True, "comets": False}}, knowledge, earlier={fouled: 3.0})
    assert posterior.causes == pytest.approx(after.posterior.causes, abs=1e-12)
    assert [item.gain for item in raised.questions()] != [item.gain for item in reckon(told, knowledge).questions()]


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data(), seed=st.integers(0, 2**16))
def test_order_of_entry_never_changes_the_answer(data, seed, plates, knowledge):
    told = data.draw(plates)
    shuffled = {}
    for part in random.Random(seed).sample(sorted(told), len(told)):
        if part == "tried":  # what was tried has an order of its own
            shuffled[part] = told[part]
            continue
        names = random.Random(seed + 1).sample(sorted(told[part]), len(told[part]))
        shuffled[part] = {name: told[part][name] for name in names}
    first, second = record_of(told, knowledge), record_of(shuffled, knowledge)
    assert first.pop("plate") == second.pop("plate")  # the same, in the order it was told
    assert json.dumps(first) == json.dumps(second)


def test_synonyms_and_names_say_the_same(knowledge):
    first = reckon({"symptoms": ["oyster shells", "veil"]}, knowledge)
    second = reckon({"symptoms": {"fog": True, "oyster-shell-marks": "yes"}}, knowledge)
    assert dict(first.ranking) == pytest.approx(dict(second.ranking), abs=1e-12)
    assert first.plan.first.id == second.plan.first.id


def test_units_say_the_same(knowledge):
    first = record_of({"symptoms": ["fog"], "conditions": {"room_temperature": "86 °F"}}, knowledge)
    second = record_of({"symptoms": ["fog"], "conditions": {"room_temperature": "30 °C"}}, knowledge)
    first.pop("plate"), second.pop("plate")
    assert first == second


@pytest.mark.parametrize(("part", "name"), [("conditions", "room_temperature"), ("checks", "proving-plate")])
def test_dont_know_changes_nothing_and_is_not_asked_again(part, name, knowledge):
    told = {"symptoms": {"comets": True}}
    before, after = reckon(told, knowledge), reckon({**told, part: {name: "?"}}, knowledge)
    assert before.posterior.causes == after.posterior.causes
    assert name not in {question.id for question in after.questions()}


def test_a_sign_that_cannot_be_told_speaks_for_nothing_and_is_not_asked_again(knowledge):
    diagnosis = reckon({"symptoms": {"comets": True, "fog": "cant-tell"}}, knowledge)
    books = diagnosis.account(*(cause for cause, _ in diagnosis.ranking))
    assert not any(receipt.about == "fog" for receipts in books.values() for receipt in receipts)
    assert "fog" not in {question.id for question in diagnosis.questions()}


def test_unsure_speaks_less_than_sure(knowledge):
    def most(answer):
        diagnosis = reckon({"symptoms": {"oyster-shell-marks": answer}}, knowledge)
        return diagnosis.posterior.causes["holder-and-camera/dirty-holder"]

    assert most(False) < most("cant-tell") < most("unsure") < most(True)


def test_unsure_is_said_in_the_account(knowledge):
    answer = record_of({"symptoms": {"oyster-shell-marks": "unsure"}}, knowledge)
    said = [r["words"] for r in answer["causes"][0]["receipts"] if r["about"] == "oyster-shell-marks"]
    assert said
    assert all("(not sure)" in words for words in said)


def test_answers_of_a_symptom_may_be_written_in_every_way(knowledge):
    ways = {
        "present": (True, "yes", "present", {}, {"answer": "present"}, {"answer": True}),
        "absent": (False, "no", "absent", {"answer": "absent"}),
        "cant-tell": ("?", "cant-tell", {"answer": "cant-tell"}),
        "unsure": ("unsure", {"answer": "unsure"}),
    }
    for answer, written in ways.items():
        for way in written:
            assert Plate.read({"symptoms": {"fog": way}}).told()["symptoms"] == {"fog": {"answer": answer}}


def test_sources_stand_with_every_craft_fact(knowledge):
    answer = record_of({"symptoms": ["oyster-shell-marks"], "conditions": {"holder_wiped": "no"}}, knowledge)
    for cause in answer["causes"]:
        for receipt in cause["receipts"]:
            if receipt["rule"].startswith("causes/"):
                assert receipt["source"], receipt


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (1.0, "virtually certain"),
        (0.95, "very likely"),
        (0.90, "likely"),
        (0.67, "likely"),
        (0.65, "about as likely as not"),
        (0.34, "about as likely as not"),
        (0.32, "unlikely"),
        (0.09, "very unlikely"),
        (0.005, "exceptionally unlikely"),
        (0.0, "exceptionally unlikely"),
    ],
)
def test_words_for_chances(chance, words):
    assert band(chance) == words


def test_modes(knowledge):
    told = {"symptoms": ["oyster-shell-marks"], "conditions": {"holder_wiped": "no"}}
    assert record_of(told, knowledge, "find-out")["together"] == []
    assert record_of(told, knowledge, "find-out")["mode"] == "find-out"
    with pytest.raises(PlateError, match="sitter-waiting or find-out"):
        reckon(told, knowledge, mode="find-ou")


def test_the_call_a_script_makes(knowledge):
    from diagnose import Plate as Given
    from diagnose import diagnose, read_knowledge

    known = read_knowledge()
    assert known.version == knowledge.version
    told = {"symptoms": {"oyster shells": {"colour": "silvery"}}, "conditions": {"holder_wiped": False}}
    by_table, by_plate = diagnose(told, known), diagnose(Given.read(told), known)
    assert isinstance(by_table, Diagnosis)
    assert by_table.ranking == by_plate.ranking
    assert by_table.ranking[0][0] == "holder-and-camera/dirty-holder"
    assert by_table.plan.first is not None
    assert json.loads(json.dumps(asdict(answer_record(by_table))))["causes"][0]["id"] == by_table.ranking[0][0]
    with pytest.raises(PlateError, match="did you mean"):
        diagnose({"symptoms": ["comits"]}, known)


def test_the_package_offers_what_it_says_and_nothing_strange():
    assert sorted(package.__all__) == ["Plate", "diagnose", "read_knowledge"]
    for name in package.__all__:
        assert getattr(package, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        _ = package.nonsense
