"""What must hold of any day of plates taken together, on small invented crafts and on the real knowledge."""

import math
import random
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from diagnose.facts import Facts  # noqa: E402
from diagnose.reasoning.craft import craft_of as craft_of_knowledge  # noqa: E402
from diagnose.reasoning.serial import MOST_AHEAD, Change, Shown, Standing, ahead, weigh_day  # noqa: E402
from diagnose.reasoning.serial_chain import PLATE_SHARE, START_SHARE  # noqa: E402
from diagnose.reasoning.weighing import Finding, fire, gather, weigh  # noqa: E402
from tests.reasoning.serial_longhand import craft_of, plate, random_case  # noqa: E402

TELLING = {"old": 0.9, "slip": 0.3}
CAUSES = {"old": (0.05, "bath"), "cold": (0.05, "developer"), "slip": (0.2, None)}


@pytest.fixture(scope="module")
def craft():
    """Two standing causes and a slip; an old bath fogs, a slip seldom does."""
    links = {"fog": TELLING, "pale": {"cold": 0.8, "slip": 0.1}}
    return craft_of(CAUSES, links=links, cures={"mend": {"old": 0.95}, "stir": {"cold": 0.95}})


def fog(**more):
    return plate([Finding("fog", "present", 0.01, TELLING), Finding("pale", "absent", 0.01, {"cold": 0.8})], **more)


def clear(**more):
    return plate([Finding("fog", "absent", 0.01, TELLING)], **more)


def of(belief, cause, name=""):
    return next(item for item in belief.standing if (item.cause, item.name) == (cause, name))


# What it must say -----------------------------------------------------------


def test_no_plates_at_all(craft):
    belief = weigh_day([], [], craft)
    assert belief == ((), (), 1.0, 0.0)
    assert ahead([], [Change(0, "bath")], {}, craft) == {}


def test_the_same_mark_plate_after_plate_is_one_standing_cause(craft):
    belief = weigh_day([clear(), clear(), *[fog()] * 4], [], craft)
    old = of(belief, "old")
    assert belief.standing[0] == old
    assert old.at_work > 0.99
    assert old.likely_onset == 2
    assert max(old.active[:2]) < 0.2
    assert min(old.active[2:]) > 0.9
    assert belief.none_standing < 0.01
    assert belief.plates[3]["slip"] < weigh_day([fog()], [], craft).plates[0]["slip"]


def test_a_good_plate_clears_what_would_have_shown(craft):
    spoiled = of(weigh_day([fog(), fog(), plate()], [], craft), "old").active[2]
    good = weigh_day([fog(), fog(), plate(good=True)], [], craft)
    after = of(good, "old").active[2]
    assert after / (1 - after) < 0.4 * spoiled / (1 - spoiled)
    assert good.plates[2] == {}


@pytest.mark.parametrize(("remedy", "ends"), [("", True), ("mend", True), ("stir", False)])
def test_a_change_ends_what_it_puts_right_and_nothing_else(craft, remedy, ends):
    row = [*[fog()] * 4, plate()]
    without = of(weigh_day(row, [], craft), "old")
    changed = of(weigh_day(row, [Change(4, "bath", "", remedy)], craft), "old")
    assert (changed.active[4] < 0.1) == ends
    assert changed.at_work == pytest.approx(without.at_work, abs=0.01)
    for thing, name in (("developer", ""), ("bath", "another")):
        elsewhere = of(weigh_day(row, [Change(4, thing, name, remedy)], craft), "old")
        assert elsewhere.active == pytest.approx(without.active, abs=1e-3)


def test_what_comes_after_a_renewal_says_nothing_of_before(craft):
    """With nothing else that could be at work, the new bath is a new story."""
    alone = craft_of({"old": CAUSES["old"], "slip": CAUSES["slip"]}, links={"fog": TELLING})
    first = of(weigh_day([fog(), clear(), fog(), fog()], [Change(2, "bath")], alone), "old").active[:2]
    assert of(weigh_day([fog(), clear()], [], alone), "old").active == pytest.approx(first, abs=1e-12)


def test_a_night_may_end_it(craft):
    through = of(weigh_day([*[fog()] * 3, plate()], [], craft), "old").active[3]
    slept = of(weigh_day([*[fog()] * 3, plate(rests=True)], [], craft), "old").active[3]
    assert slept == pytest.approx(0.9 * through, abs=0.02)


def test_one_bath_of_two(craft):
    row = [fog(uses={"bath": "b"}) if n % 2 else clear(uses={"bath": "a"}) for n in range(8)]
    belief = weigh_day(row, [], craft)
    assert of(belief, "old", "b").at_work > 0.99
    assert of(belief, "old", "a").at_work < 0.05
    assert of(belief, "old", "b").active[0] == of(belief, "old", "b").onset[2] == 0.0


def test_a_plate_of_which_nothing_is_known_changes_nothing_before_it(craft):
    row = [clear(), fog(), fog(), clear(), fog()]
    before, after = weigh_day(row, [], craft), weigh_day([*row, plate()], [], craft)
    for item in before.standing:
        later = of(after, item.cause)
        assert later.active[:5] == pytest.approx(item.active, abs=1e-13)
        assert later.onset[:5] == pytest.approx(item.onset, abs=1e-13)
    assert after.log_likelihood == pytest.approx(before.log_likelihood, abs=1e-12)


@pytest.mark.parametrize("plates", [1, 2, 7])
def test_a_fact_about_the_day_counts_once_however_often_it_is_told(plates):
    alone = craft_of({"old": (0.05, "bath")})
    share = 0.05 / 1.05
    never = (1 - START_SHARE * share) * (1 - PLATE_SHARE * share) ** (plates - 1)
    told = weigh_day([plate(shifts={"old": 2.0})] * plates, [], alone)
    odds = of(told, "old").at_work / told.none_standing
    assert odds == pytest.approx(math.exp(2.0) * (1 - never) / never, rel=1e-12)


def test_a_fact_still_stands_on_a_good_plate_of_which_nothing_is_told(craft):
    told = fog(shifts={"old": 2.0})
    silent = weigh_day([told, plate(good=True)], [], craft)
    again = weigh_day([told, plate(good=True, shifts={"old": 2.0})], [], craft)
    assert of(silent, "old").active == pytest.approx(of(again, "old").active, abs=1e-12)


def test_order_in_which_things_are_told_does_not_matter():
    chance = random.Random(3)
    for _ in range(10):
        craft, day, changes = random_case(chance)
        turned = [
            shown._replace(
                evidence=shown.evidence._replace(findings=shown.evidence.findings[::-1]),
                uses=dict(reversed(shown.uses.items())),
            )
            for shown in day
        ]
        changes.sort(key=lambda change: (change.thing, change.name))  # what is done to one thing stays in its order
        one, other = weigh_day(day, changes, craft), weigh_day(turned, changes, craft)
        for item in one.standing:
            assert of(other, item.cause, item.name).active == pytest.approx(item.active, abs=1e-12)
        assert other.log_likelihood == pytest.approx(one.log_likelihood, abs=1e-11)


@pytest.mark.parametrize("told", [[fog()] * 240, [fog(), clear()] * 150, [clear()] * 240])
def test_long_rows_neither_overflow_nor_vanish(craft, told):
    """Four hundred orders of magnitude lie between the histories."""
    hard = [
        shown._replace(evidence=shown.evidence._replace(findings=(*shown.evidence.findings, SURE))) for shown in told
    ]
    for row in (told, hard):
        belief = weigh_day(row, [Change(120, "bath")], craft)
        for item in belief.standing:
            assert 0 <= item.at_work <= 1
            assert sum(item.onset) == pytest.approx(item.at_work, abs=1e-9)
            assert all(math.isfinite(share) for share in item.active)
        assert math.isfinite(belief.log_likelihood)


SURE = Finding("sure", "present", 1e-9, {"old": 0.97, "cold": 0.97})


def test_more_marks_than_can_be_summed_leave_the_least_telling_out(craft):
    many = [Finding(f"mark-{n}", "present", 0.001 * (n + 1), {"old": 0.5}) for n in range(12)]
    all_told, fewer = weigh_day([plate(many)], [], craft), weigh_day([plate(many[:8])], [], craft)
    assert of(all_told, "old").at_work == pytest.approx(of(fewer, "old").at_work, abs=1e-12)


def test_causes_that_exclude_each_other_must_stand_alike():
    mixed = craft_of(CAUSES, groups=[("old", "slip")])
    with pytest.raises(AssertionError, match="some do not"):
        weigh_day([fog()], [], mixed)


@pytest.mark.parametrize(
    ("onset", "plate_meant"),
    [((0.2, 0.25, 0.25, 0.0, 0.3), 1), ((0.9, 0.0, 0.0), 0), ((0.2,), 0), ((0.1, 0.2, 0.6), 2)],
)
def test_the_likely_onset_is_the_middle_of_where_it_most_likely_is(onset, plate_meant):
    assert Standing("old", "", sum(onset), onset, onset).likely_onset == plate_meant


# What earlier plates say of the next ----------------------------------------


def test_nothing_learned_is_nothing_carried(craft):
    assert ahead([plate(), plate()], [], {}, craft) == {}
    assert ahead([plate(shifts={"old": 3.0})], [], {}, craft) == {}
    assert ahead([fog(uses={"bath": "b"})] * 3, [], {"bath": "a"}, craft).keys() <= {"cold"}


def test_what_stood_before_is_carried_until_the_thing_is_renewed(craft):
    earlier = [clear(), fog(), fog()]
    carried = ahead(earlier, [], {}, craft)
    assert 1 < carried["old"] <= MOST_AHEAD
    # A new bath is as any new bath: a little less likely to be old than one that has seen three plates.
    new = ahead(earlier, [Change(3, "bath")], {}, craft)["old"]
    assert -0.5 < new < 0
    assert new == pytest.approx(ahead([plate()] * 3, [Change(3, "bath")], {}, craft)["old"], abs=0.1)
    assert ahead(earlier, [Change(3, "bath", "", "mend")], {}, craft)["old"] < carried["old"] - 0.5
    assert ahead([plate(good=True)] * 4, [], {}, craft)["old"] < -0.5
    assert ahead([fog()] * 40, [], {}, craft)["old"] == MOST_AHEAD


def test_facts_about_the_day_are_not_carried_twice(craft):
    told = ahead([fog(shifts={"old": 3.0}), fog()], [], {}, craft)
    assert told == ahead([fog(), fog()], [], {}, craft)


# The real knowledge ---------------------------------------------------------


def plates_of(knowledge, seed, count, most=3):
    chance = random.Random(seed)
    craft = craft_of_knowledge(knowledge)
    marks, shown = sorted(knowledge.symptoms), []
    for _ in range(count):
        facts = Facts(present={mark: {} for mark in chance.sample(marks, chance.randint(1, most))})
        shown.append(Shown(gather(facts, fire(facts, craft, craft.bulk), craft), False, {}))
    return craft, shown


def test_one_plate_is_weighed_as_a_plate_by_itself(knowledge):
    """But for standing causes being there with half their share, and never three of them."""
    for seed in range(6):
        craft, row = plates_of(knowledge, seed, 1)
        base = dict(craft.model.base)
        for cause, entry in knowledge.causes.items():
            if entry.scope == "standing":
                share = START_SHARE * base[cause] / (1 + base[cause])
                base[cause] = share / (1 - share)
        alike = weigh(row[0].evidence, replace(craft, model=craft.model._replace(base=base)))
        found = weigh_day(row, [], craft).plates[0]
        assert found.keys() == alike.causes.keys()
        for cause, chance in alike.causes.items():
            assert found[cause] == pytest.approx(chance, abs=0.01)


def test_every_number_of_a_real_day_is_a_probability(knowledge):
    craft, row = plates_of(knowledge, 4, 9)
    belief = weigh_day(row, [Change(4, "developer"), Change(6, "bath", "", "filter-bath")], craft)
    assert len(belief.standing) == sum(entry.scope == "standing" for entry in knowledge.causes.values())
    assert [item.at_work for item in belief.standing] == sorted(
        (item.at_work for item in belief.standing), reverse=True
    )
    for item in belief.standing:
        assert 0 <= max(item.active) <= item.at_work + 1e-12 <= 1 + 1e-12
    # No more than two ever stand, so their chances add up to no more than two.
    assert sum(item.at_work for item in belief.standing) <= 2 * (1 - belief.none_standing) + 1e-9
    assert all(0 <= chance <= 1 for chances in belief.plates for chance in chances.values())
    assert all(chances.keys() == knowledge.causes.keys() for chances in belief.plates)


@pytest.mark.slow
def test_days_are_weighed_in_time(knowledge):
    """Thirty spoiled plates with nothing in common are the hardest; the time of the processor, the best of five."""

    def seconds(work):
        best = math.inf
        for _ in range(5):
            started = time.process_time()
            work()
            best = min(best, time.process_time() - started)
        return best

    craft, row = plates_of(knowledge, 1, 240)
    taken = {count: seconds(lambda count=count: weigh_day(row[:count], [], craft)) for count in (12, 30, 60, 120, 240)}
    early = seconds(lambda: ahead(row[:10], [], {}, craft))
    print(f"\n{ {count: f'{1000 * time:.0f} ms' for count, time in taken.items()} }; ahead {1000 * early:.0f} ms")
    assert taken[30] <= 0.3
    # With marks drawn blindly ever more pairs of causes meet somewhere, and far apart; on drawn days a plate costs the same
    # in a row of any length (`python -m tests.measure serial`).
    assert taken[240] / 240 <= 1.9 * taken[60] / 60
    assert early <= 0.02
