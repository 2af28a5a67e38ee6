"""The test for tomorrow: chosen by what it tells, never a risk before a look, and every outcome has a meaning."""

import random
from math import isclose

import pytest

from diagnose.advice.actions import open_checks, owners_of
from diagnose.daybook.doubt import NONE, Doubt, doubt_after, experiments, told
from diagnose.daybook.review import review
from diagnose.daybook.tomorrow import trial_of
from diagnose.facts import Facts
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.serial import Change, DayBelief, Standing
from diagnose.reasoning.weighing import fire
from tests.daybook.invented_days import FOG, SHELLS, book, holder_day, plate, value, work

DIRTY = ("holder-and-camera/dirty-holder", "")
DIRT = ("silver-bath/dirt-in-bath", "")
GOOD = [True, False, False]


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


def belief(**at_end):
    """Three plates, the first good; causes at work on the last two."""
    standing = tuple(
        Standing(cause, "", chance, (0.0, chance, 0.0), (0.0, chance, chance)) for cause, chance in at_end.items()
    )
    return DayBelief(standing, ({}, {}, {}), 0.1, 0.0)


def doubt(craft, changes=(), **at_end):
    return doubt_after(belief(**at_end), changes, GOOD, [{}] * 3, craft)


def random_day(seed, craft):
    dice = random.Random(seed)
    signs, things = sorted(craft.knowledge.symptoms), ("bath", "developer", "holder", "fixer")
    favourite = dice.sample(signs, 2)
    rows = [value(0, "fixer", dice.choice(["hypo", "cyanide"]))]
    for number in range(dice.randint(1, 12)):
        shows = {dice.choice(favourite): True, dice.choice(signs): True} if dice.random() < 0.6 else None
        rows.append(plate(10 * number, shows, made_with={"holder": dice.choice("AB")}))
        if dice.random() < 0.2:
            rows.append(work(10 * number + 5, dice.choice(["new", "cleaned"]), dice.choice(things)))
    return book(*rows)


def day_with_a_cause(seed, craft):
    """Five good plates, then six on which one standing cause shows as often as the knowledge says."""
    dice = random.Random(seed)
    known = craft.knowledge
    cause = known.causes[dice.choice(sorted(name for name, entry in known.causes.items() if entry.scope == "standing"))]
    rows = [plate(10 * number) for number in range(5)]
    for number in range(5, 11):
        shows = {link.symptom: True for link in cause.symptom if dice.random() < known.strengths.seen[link.seen]}
        rows.append(plate(10 * number, shows or None))
    return book(*rows)


@pytest.fixture(scope="module")
def many(craft):
    days = [random_day(seed, craft) for seed in range(12)]
    days += [day_with_a_cause(seed, craft) for seed in (0, 1, 2, 3, 4, 7, 25, 41, 43, 47, 111)]
    return [review(day, craft) for day in days]


def test_the_days_bring_every_kind_of_advice(many):
    """So that what is held of them below is held of something."""
    assert {one.trial.kind for one in many} == {"check", "remedy", "plate", "do", "nothing"}


def test_a_bath_is_never_treated_for_good_before_the_looks(many, craft):
    for one in many:
        remedy = craft.knowledge.remedies.get(one.trial.id)
        if remedy is not None and one.trial.kind in {"remedy", "do"}:
            assert remedy.touches != "silver-bath" or (remedy.reversible and not one.trial.first)
        for said in (*(meaning.then for meaning in one.trial.outcomes), *(pattern.helps for pattern in one.patterns)):
            for remedy in craft.knowledge.remedies.values():
                if remedy.risky:
                    assert remedy.title.casefold() not in said.casefold()


def test_outcomes_are_all_told_and_add_up(many):
    for one in many:
        if one.trial.outcomes:
            assert isclose(sum(meaning.chance for meaning in one.trial.outcomes), 1, abs_tol=0.006)
            assert len({meaning.then for meaning in one.trial.outcomes}) > 1  # else there is no need to know


def test_its_own_cautions_stand_beside_it(many, craft):
    for one in many:
        said = {caution.title for caution in one.trial.cautions}
        known = craft.knowledge.cautions
        entry = craft.knowledge.checks.get(one.trial.id) if one.trial.kind in {"check", "do"} else None
        if entry is not None:
            assert {known[name].title for name in entry.caution} <= said


def test_cyanide_in_the_room_is_warned_of(craft):
    rows = [plate(10 * number, SHELLS if number > 3 else None) for number in range(9)]
    with_it = review(book(value(0, "fixer", "cyanide"), *rows), craft).trial
    without = review(book(value(0, "fixer", "hypo"), *rows), craft).trial
    assert "Cyanide kills" in {caution.title for caution in with_it.cautions}
    assert "Cyanide kills" not in {caution.title for caution in without.cautions}


def test_shares_add_up_and_rivals_shut_each_other_out(craft):
    found = doubt(craft, **{DIRTY[0]: 0.6, DIRT[0]: 0.3})
    assert isclose(sum(found.shares.values()), 1)
    assert isclose(found.shares[DIRTY], 0.6)
    assert isclose(found.shares[NONE], 0.1)
    scaled = doubt(craft, **{DIRTY[0]: 0.8, DIRT[0]: 0.8})
    assert isclose(sum(scaled.shares.values()), 1)
    assert isclose(scaled.shares[DIRTY], scaled.shares[DIRT])


def test_two_causes_surely_at_work_leave_no_doubt(craft):
    found = doubt(craft, **{DIRTY[0]: 0.99, DIRT[0]: 0.97})
    assert set(found.settled) == {DIRTY, DIRT}
    assert found.open == 0


def test_what_was_done_after_the_last_plate_counts(craft):
    before = doubt(craft, **{DIRTY[0]: 0.8}).shares[DIRTY]
    wiped = doubt(craft, [Change(3, "holder", "", "wipe-holder-and-back")], **{DIRTY[0]: 0.8}).shares[DIRTY]
    renewed = doubt(craft, [Change(3, "holder")], **{DIRTY[0]: 0.8}).shares
    other = doubt(craft, [Change(3, "holder", "B")], **{DIRTY[0]: 0.8}).shares[DIRTY]
    earlier = doubt(craft, [Change(1, "holder")], **{DIRTY[0]: 0.8}).shares[DIRTY]
    assert wiped < before / 2
    assert DIRTY not in renewed
    assert other == earlier == before


def test_every_experiment_is_a_fair_one(craft):
    """Each hypothesis gives one outcome or another, and no test tells more than is open, nor less than nothing."""
    found = doubt(craft, **{DIRTY[0]: 0.5, DIRT[0]: 0.3})
    seen = list(experiments(found, Facts(), [], craft))
    assert len(seen) > 20
    for item in seen:
        for key in found.shares:
            assert isclose(sum(row[key] for row in item.table.values()), 1, abs_tol=1e-9)
        assert 0 <= item.gain <= found.open + 1e-9
        assert item.minutes > 0


def test_gain_is_what_bayes_gives(craft):
    """The plate as it stands, by hand: one cause against none."""
    plain = Doubt({DIRTY: 0.5, NONE: 0.5}, {DIRTY: 0.0, NONE: 1.0})
    item = next(one for one in experiments(plain, Facts(), [], craft) if one.kind == "plate")
    assert isclose(item.gain, 1.0)
    chance, after = told(plain.shares, item.table["good"])
    assert isclose(chance, 0.5)
    assert isclose(after[NONE], 1.0)


def test_no_doubt_is_told_what_to_do(craft):
    trial = review(holder_day(wiped=False), craft).trial
    assert trial.kind == "do"
    assert DIRTY[0] in craft.model.cures[trial.id]


def test_nothing_is_changed_while_most_likely_nothing_stands(many):
    for one in many:
        if one.trial.kind == "remedy" or (one.trial.kind == "check" and one.trial.plates):
            assert one.trial.between[0].cause or one.trial.between[0].probability <= 0.5


def test_one_foggy_plate_is_no_reason_to_change_anything(craft):
    trial = review(book(plate(0, FOG)), craft).trial
    assert trial.kind in {"plate", "check", "nothing"}
    assert not trial.plates


@pytest.mark.parametrize("sure", [0.6, 0.97])
def test_whatever_is_wrong_with_the_bath_the_free_looks_come_first(craft, sure):
    """Each bath cause in turn, as good as certain or only likely: nothing touches the bath while a look is open."""
    known = craft.knowledge
    looked = 0
    for cause in (name for name, entry in known.causes.items() if entry.stands_in == "bath"):
        trial = trial_of(doubt(craft, **{cause: sure}), Facts(present={"fog": {}}), 2, (), craft, "metric")
        remedy = known.remedies.get(trial.id)
        if remedy is not None:
            assert not trial.first, cause
            firing = fire(Facts(present={"fog": {}}), craft, craft.bulk)
            backed = owners_of("needs", firing, craft)
            assert open_checks(trial.id, Facts(present={"fog": {}}), craft, backed) == (), cause
        looked += trial.id in known.checks
    assert looked


def test_remedies_that_wait_for_a_look_are_no_candidates(craft):
    """With the swap of the bath already tried, only treatments of the bath itself are left to think of."""
    tried = (("rest-bath-use-reserve", "no-change"), ("leave-longer-in-bath", "no-change"))
    facts = Facts(present={"pinholes": {}}, tried=tried)
    for cause in ("silver-bath/dirt-in-bath", "silver-bath/bath-full-of-iodide"):
        trial = trial_of(doubt(craft, **{cause: 0.97}), facts, 2, (), craft, "metric")
        assert trial.id in craft.knowledge.checks, cause
