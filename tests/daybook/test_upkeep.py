"""Upkeep: only where a limit of the knowledge is passed, with the dose where what it needs is known."""

import pytest

from diagnose.daybook.review import review
from diagnose.reasoning.craft import craft_of
from tests.daybook.invented_days import book, plate, value, work


@pytest.fixture(scope="module")
def due(knowledge):
    craft = craft_of(knowledge)
    return lambda *rows: review(book(*rows), craft)


def plates(count, day=0):
    return [plate(3 * number, day=day, size=234.0) for number in range(count)]


def test_few_plates_call_for_nothing(due):
    one = due(work(-9, "filtered", "bath"), *plates(20))
    assert not one.due
    assert any("bath plates: 20 plates" in count.counted for count in one.ahead)
    assert any("60 plates" in count.limit for count in one.ahead)


def test_a_bath_worked_hard_wants_filtering_after_a_look(due, knowledge):
    one = due(work(-9, "filtered", "bath"), *plates(70))
    (bath,) = [item for item in one.due if item.thing == "bath"]
    assert knowledge.remedies["filter-the-bath"].title in bath.do[0]
    assert "look first" in bath.do[0]
    assert "70 plates since it was filtered" in bath.counted
    assert "over 60 plates" in bath.limit
    assert any(caution.level == "danger" for caution in bath.cautions)


def test_filtering_starts_the_count_anew(due):
    one = due(work(-9, "filtered", "bath"), *plates(70), work(300, "filtered", "bath"), plate(310, size=234.0))
    assert not [item for item in one.due if item.thing == "bath"]


def test_old_developer_is_mixed_afresh_with_its_dose_once_the_volume_is_known(due, knowledge):
    one = due(work(0, "new", "developer"), *plates(2, day=28))
    (developer,) = [item for item in one.due if item.thing == "developer"]
    assert developer.limit == "over 21 d: the developer has aged and lost active iron"  # not the nearer limit besides
    assert developer.do[0] == knowledge.remedies["mix-fresh-developer"].title
    assert developer.dose.wants == (knowledge.conditions["developer_volume"].ask,)
    assert not developer.dose.lines


def test_spent_fixer_is_mixed_afresh_with_its_dose(due, knowledge):
    mixed = work(0, "new", "fixer", amount="1 L")
    told = [value(1, "fixer", "hypo"), value(1, "fixer_volume", "1 L")]
    one = due(mixed, *told, *plates(70))
    (fixer,) = [item for item in one.due if item.thing == "fixer"]
    assert fixer.do[0] == knowledge.remedies["change-the-fixer"].title
    assert any(line.startswith("hypo: 200 g") for line in fixer.dose.lines)
    assert not [count for count in one.ahead if count.counted.startswith("fixer")]


def test_what_treats_the_bath_for_good_waits_for_its_findings(due, knowledge):
    weak = value(0, "bath_strength", "50 g/L")
    one = due(weak, *plates(3))
    for item in one.due:
        for title in item.do:
            for remedy in knowledge.remedies.values():
                if remedy.risky and title.startswith(remedy.title):
                    assert "look first" in title


def test_each_bath_by_its_name(due):
    rows = [plate(2 * number, made_with={"bath": "one"}, size=234.0) for number in range(65)]
    rows += [plate(200 + number, made_with={"bath": "two"}, size=234.0) for number in range(3)]
    one = due(*[work(-9, "filtered", "bath", name=name) for name in ("one", "two")], *rows)
    assert [item.name for item in one.due if item.thing == "bath"] == ["one"]
