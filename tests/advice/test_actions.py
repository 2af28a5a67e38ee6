"""Which remedies stand in the list, in what order, at what cost, and what has to be looked at before them."""

import dataclasses
import itertools
import math

import pytest

from diagnose.advice.actions import (
    BATH,
    IRREVERSIBLE_MINUTES,
    LEAST_HELP,
    MAIN_PART,
    checks_action,
    cost_of,
    cures_now,
    remedies_now,
)
from diagnose.entries.tests_in_words import Found, read_test
from diagnose.facts import Facts
from diagnose.reasoning.asking import shares_of
from diagnose.reasoning.craft import make_craft

PLATE_MINUTES = 10  # strengths.toml, written down here once more


def listed(plate):
    return remedies_now(plate.facts, shares_of(plate.posterior), plate.firing, plate.craft)


@pytest.fixture(scope="module")
def plates(written_plates, drawn, draw_with, weighed, craft):
    chance = draw_with("actions")
    told = [*written_plates[::3], *(drawn.anything(chance, craft.knowledge) for _ in range(60))]
    told += [drawn.bath(chance, craft.knowledge) for _ in range(60)]
    return [weighed(item, craft) for item in told]


def test_chance_over_cost_and_reversible_first_where_they_are_equal(plates):
    for plate in plates:
        actions = listed(plate)
        for one, other in itertools.pairwise(actions):
            first, second = one.helps / one.cost, other.helps / other.cost
            assert first >= second - 1e-15
            if first == second and one.reversible != other.reversible:
                assert one.reversible


def test_equal_in_all_else_the_reversible_one_comes_first(craft, weighed):
    """Two remedies of one worth, one of them for good: the order of their names would put the lasting one first."""
    knowledge = craft.knowledge
    cause = "holder-and-camera/movement"
    link = knowledge.causes[cause].remedy[0]
    real = knowledge.remedies[link.do]
    lasting = dataclasses.replace(real, minutes=5.0, reversible=False, touches="hand", plates=0)
    undone = dataclasses.replace(lasting, minutes=5.0 + IRREVERSIBLE_MINUTES, reversible=True)
    other = make_craft(
        dataclasses.replace(
            knowledge,
            version="equal worth",
            remedies={**knowledge.remedies, "a-lasting": lasting, "z-undone": undone},
            causes={
                **knowledge.causes,
                cause: dataclasses.replace(
                    knowledge.causes[cause],
                    remedy=(dataclasses.replace(link, do="a-lasting"), dataclasses.replace(link, do="z-undone")),
                ),
            },
        )
    )
    plate = weighed({"symptoms": {"unsharp": True}}, other)
    found = [action for action in listed(plate) if action.id in {"a-lasting", "z-undone"}]
    assert found[0].helps == found[1].helps
    assert found[0].cost == found[1].cost
    assert [action.id for action in found] == ["z-undone", "a-lasting"]


def test_chance_is_the_sum_over_the_causes_it_treats(plates):
    for plate in plates:
        shares, strengths = shares_of(plate.posterior), plate.craft.knowledge.strengths
        table = cures_now(plate.firing, plate.craft)
        for action in listed(plate):
            expected = sum(shares.get(cause, 0) * sure for cause, sure in table[action.id].items())
            assert math.isclose(action.helps, expected, rel_tol=1e-12)
            assert action.helps >= LEAST_HELP
            rest = list(action.causes[1:])
            assert rest == sorted(rest, key=lambda part: (-part[1], part[0]))
            assert action.causes[0][1] >= MAIN_PART * max(part for _, part in action.causes)
            for cause, part in action.causes:
                words = [link.surely for link in plate.craft.knowledge.causes[cause].remedy if link.do == action.id]
                assert part <= shares[cause] * max(strengths.surely[word] for word in words) + 1e-12


def test_a_remedy_that_needs_a_circumstance_counts_only_in_it(craft, weighed):
    """cool-the-developer treats a halted developer only where the developer is warm."""
    for celsius, there in (("30 °C", True), ("19 °C", False)):
        plate = weighed({"symptoms": {}, "conditions": {"developer_temperature": celsius}}, craft)
        assert ("cool-the-developer" in cures_now(plate.firing, craft)) == there


def test_cost_is_minutes_a_plate_a_little_attention_and_what_cannot_be_undone(craft):
    assert craft.knowledge.strengths.expect.plate_minutes == PLATE_MINUTES
    assert cost_of(0, 0, craft) == PLATE_MINUTES + 1
    assert cost_of(15, 2, craft) == PLATE_MINUTES + 1 + 15 + 2 * PLATE_MINUTES
    assert cost_of(15, 2, craft, reversible=False) == cost_of(15, 2, craft) + IRREVERSIBLE_MINUTES
    for name, check in craft.knowledge.checks.items():
        action = checks_action(name, 0.5, craft)
        assert action.cost == check.minutes + check.plates * PLATE_MINUTES
        assert set(action.cautions) == set(check.caution)


def test_never_when_and_tried_take_a_remedy_off_the_list(craft, weighed):
    cold = {"symptoms": {"fog": True}, "conditions": {"developer_temperature": "10 °C"}}
    usual = {"symptoms": {"fog": True}, "conditions": {"developer_temperature": "19 °C"}}
    assert "add-acid-to-developer" in {action.id for action in listed(weighed(usual, craft))}
    assert "add-acid-to-developer" not in {action.id for action in listed(weighed(cold, craft))}
    for result in ("no-change", "better", "cured"):
        tried = {**usual, "tried": [{"remedy": "add-acid-to-developer", "result": result}]}
        assert "add-acid-to-developer" not in {action.id for action in listed(weighed(tried, craft))}


# What must be looked at first ---------------------------------------------------------------


def first_of(name, told, craft, weighed):
    """The checks before one remedy, believing only in the causes it treats."""
    plate = weighed(told, craft)
    causes = [cause for cause, entry in craft.knowledge.causes.items() if any(link.do == name for link in entry.remedy)]
    shares = dict.fromkeys(causes, 1 / len(causes))
    return next(action.first for action in remedies_now(plate.facts, shares, plate.firing, craft) if action.id == name)


def test_doctoring_waits_for_the_finding_that_calls_for_it(craft, weighed):
    assert "litmus-on-bath" in first_of("acidify-the-bath", {}, craft, weighed)
    done = {"litmus-on-bath": "red-turns-blue"}
    assert "litmus-on-bath" not in first_of("acidify-the-bath", {"checks": done}, craft, weighed)


def test_a_finding_does_not_open_the_way_past_other_looks(craft, weighed):
    """Its own need is met, and still every free look that could clear the bath comes before."""
    waited = 0
    for name, told in (
        ("acidify-the-bath", {"checks": {"litmus-on-bath": "red-turns-blue"}}),
        ("air-the-bath", {"conditions": {"bath_smells_of_spirit": "yes"}}),
        ("iodise-new-bath", {"conditions": {"bath_new": "yes", "bath_iodised": "no"}}),
        ("strengthen-the-bath", {"conditions": {"bath_strength": "40 g/L"}}),
        ("skim-the-bath", {}),
        ("filter-the-bath", {}),
    ):
        looks = set(first_of(name, told, craft, weighed))
        linked = {
            link.check
            for entry in craft.knowledge.causes.values()
            if any(treatment.do == name for treatment in entry.remedy)
            for link in entry.check
        }
        free = {
            check
            for check in linked - set(told.get("checks", {}))
            if BATH in craft.knowledge.checks[check].could_clear and not craft.knowledge.checks[check].plates
        }
        assert looks == free, name
        waited += bool(free)
        answered = {**told, "checks": {**told.get("checks", {}), **dict.fromkeys(free, "?")}}
        assert not first_of(name, answered, craft, weighed), name
    assert waited >= 3


def test_a_need_that_can_no_longer_be_met_names_no_check(craft, weighed):
    """Litmus came out as it should: nothing is left that would call for acid, so it is not spoken of."""
    plate = weighed({"checks": {"litmus-on-bath": "blue-reddens-slowly"}}, craft)
    shares = {"silver-bath/bath-short-of-acid": 1.0}
    assert "acidify-the-bath" not in {action.id for action in remedies_now(plate.facts, shares, plate.firing, craft)}


def test_what_a_remedy_needs_can_be_found_out(craft, weighed):
    """Every remedy with a need names a check to make as long as nothing is known, wherever a check could tell."""
    named = set()
    for name, remedy in craft.knowledge.remedies.items():
        tests = [read_test(words) for group in remedy.needs for words in group]
        asked = {test.condition for test in tests if hasattr(test, "condition")}
        told_by = {check for check, entry in craft.knowledge.checks.items() if asked & set(entry.answers)}
        told_by |= {test.check for test in tests if isinstance(test, Found)}
        if told_by:
            assert set(first_of(name, {}, craft, weighed)) & told_by, name
            named.add(name)
    assert len(named) >= 6


def test_nothing_told_is_no_error(craft, weighed):
    plate = weighed({}, craft)
    assert plate.facts == Facts()
    assert listed(plate)
    assert not remedies_now(plate.facts, {}, plate.firing, craft)
