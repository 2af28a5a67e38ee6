"""The measuring itself: figures against examples worked by hand, leaving out, and that every part runs.

`pytest -m slow -n 0 -s tests/test_measure.py` prints the full tables; `python -m tests.measure` does the same.
"""

import math
import random
import statistics
import sys
from dataclasses import replace
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
if str(ROOT) not in sys.path:  # so that the parts find each other, from wherever pytest was started
    sys.path.insert(0, str(ROOT))

from diagnose.entries.cause import SymptomLink  # noqa: E402
from diagnose.facts import Facts  # noqa: E402
from diagnose.reasoning.asking import outcome_chances  # noqa: E402
from diagnose.reasoning.weighing import fire, gather  # noqa: E402
from tests.measure import (  # noqa: E402
    baselines,
    days,
    figures,
    handbook,
    learning,
    mutations,
    questions,
    robustness,
    serial,
    sessions,
    worlds,
)
from tests.measure.__main__ import PARTS  # noqa: E402
from tests.measure.leaving_out import families, without  # noqa: E402
from tests.measure.ready import believe, book_entries, plain_craft, with_cause  # noqa: E402


@pytest.fixture(scope="module")
def craft(knowledge):
    return plain_craft(knowledge)


# Figures -------------------------------------------------------------------


def answered(rank, *claims, share=0.5):
    return figures.Score((rank,), share, 0.0, claims)


def test_a_score_by_hand():
    found = figures.score({"a": 0.6, "b": 0.6, "c": 0.2, "d": 0.01}, {"a": 0.4, "b": 0.4, "c": 0.1}, {"b", "c"})
    assert found.ranks == (2, 3)
    assert found.share == pytest.approx(0.5)
    assert found.brier == pytest.approx(0.36 + 0.16 + 0.64 + 0.0001)
    assert found.claims == ((0.6, False), (0.6, True), (0.2, True))


def test_ranking_figures_by_hand():
    found = [answered(1), answered(2), answered(4), figures.REFUSED]
    assert figures.top1(found) == 1 / 4
    assert figures.top3(found) == 2 / 4
    assert figures.top10(found) == 3 / 4
    assert figures.mean_reciprocal_rank(found) == pytest.approx((1 + 1 / 2 + 1 / 4 + 0) / 4)


def test_two_and_three_causes_by_hand():
    found = [figures.Score((1, 2), 1, 0, ()), figures.Score((1, 3), 1, 0, ()), figures.Score((4, 9), 1, 0, ())]
    assert figures.all_within(found, 2) == pytest.approx(1 / 3)
    assert figures.recall(found, 3, 2) == pytest.approx((1 + 1 + 0) / 3)


def test_the_log_score_has_a_floor():
    assert figures.log_score([answered(1, share=0.25)]) == pytest.approx(math.log(4))
    assert figures.log_score([figures.REFUSED]) == pytest.approx(math.log(1e6))


def test_calibration_error_by_hand():
    """Two bins of fifteen: 0.2 claimed and 3 of 15 right, no gap; 0.8 claimed and 6 of 15 right, a gap of 0.4."""
    low = [(0.2, place < 3) for place in range(15)]
    high = [(0.8, place < 6) for place in range(15)]
    assert [len(part) for part in figures.equal_mass(low + high)] == [15, 15]
    assert figures.calibration_error(low + high) == pytest.approx((0 + 0.4) / 2)
    assert figures.calibration_error(low) == pytest.approx(0)
    assert math.isnan(figures.calibration_error([]))
    assert figures.by_band(low + high) == [
        ("likely", 15, pytest.approx(0.8), pytest.approx(0.4)),
        ("unlikely", 15, pytest.approx(0.2), pytest.approx(0.2)),
    ]


def test_bins_are_of_equal_mass():
    parts = figures.equal_mass([(place / 1000, True) for place in range(317)])
    assert len(parts) == figures.MOST_BINS
    assert sum(map(len, parts)) == 317
    assert {len(part) for part in parts} == {31, 32}


def test_auroc_by_hand():
    assert figures.auroc([2, 3], [0, 1]) == 1
    assert figures.auroc([0, 1], [2, 3]) == 0
    assert figures.auroc([1, 1], [1, 1, 1]) == 0.5
    assert figures.auroc([1, 3], [0, 2]) == 3 / 4
    assert figures.auroc([1, 2], [1]) == pytest.approx((0.5 + 1) / 2)


def test_found_at_a_rate_of_false_alarms():
    lower = [place / 100 for place in range(100)]
    assert figures.found_at([0.93, 0.95, 0.97], lower, 0.05) == pytest.approx(2 / 3)
    assert figures.found_at(lower, lower, 0.05) == pytest.approx(0.05)


def test_an_interval_holds_its_figure():
    found = [answered(1 + place % 2) for place in range(60)]
    low, high = figures.interval(found, figures.top1, seed=3)
    assert 0.3 < low < 0.5 < high < 0.7
    assert figures.interval(found, figures.top1, seed=3) == (low, high)


def test_ceiling_by_hand():
    """Three looks alike blame a, a and b; one other look blames c or d."""
    looks = [("same", ["a"]), ("same", ["a"]), ("same", ["b"]), ("other", ["c", "d"])]
    assert figures.ceiling(looks, 1) == 3 / 4
    assert figures.ceiling(looks, 3) == 1
    four = [("same", [name]) for name in "abcd"]
    assert figures.ceiling(four, 1) == 1 / 4
    assert figures.ceiling(four, 3) == 3 / 4
    crossed = [("same", [*pair]) for pair in ("ax", "ay", "by", "bx")]
    assert figures.ceiling(crossed, 1) == 2 / 4
    assert figures.ceiling(crossed, 3) == 1


def test_looks_differ_by_what_was_coded_and_by_nothing_else():
    entry = {"id": "one", "look": "spots", "symptoms": {"comets": True, "fog": False}}
    assert handbook.look_of(entry) == handbook.look_of({"symptoms": {"fog": False, "comets": True}, "id": "two"})
    assert handbook.look_of(entry) != handbook.look_of({**entry, "conditions": {"support": "glass"}})


# Leaving a source out ------------------------------------------------------


def test_an_author_is_left_out_whole(knowledge):
    family = families(knowledge)
    assert family["vogel_lehrbuch"] == family["vogel_handbuch"] == {"vogel_lehrbuch", "vogel_handbuch"}
    assert family["estabrooke1887"] == family["estabrooke1872"]
    assert family["archer1854"] == family["archer1852"]
    assert family["long1858"] == {"long1858"}
    assert not {"judged", "common-practice"} & set(family)
    for key, members in family.items():
        assert key in members
        assert all(family[other] == members for other in members)


def linked_by(*sources):
    return SymptomLink(from_=sources, symptom="fog", seen="often", why="for the test")


def test_a_link_with_another_source_stays(knowledge):
    name = next(iter(knowledge.causes))
    alone = linked_by("long1858 p. 1", "long1858 p. 2")
    shared = linked_by("long1858 p. 1", "humphrey1857 p. 2")
    marked = linked_by("long1858 p. 1", "judged")
    other = linked_by("humphrey1857 p. 2")
    changed = with_cause(knowledge, name, symptom=(alone, shared, marked, other))
    left = without(changed, {"long1858"}).causes[name].symptom
    assert [link.from_ for link in left] == [("humphrey1857 p. 2",), ("judged",), ("humphrey1857 p. 2",)]
    assert left[-1] is other
    strictly = without(changed, {"long1858"}, strict=True).causes[name].symptom
    assert [link.from_ for link in strictly] == [("humphrey1857 p. 2",)] * 2


def test_a_cause_without_links_explains_nothing_and_harms_nothing(knowledge):
    name = next(name for name, cause in knowledge.causes.items() if not cause.exclusive)
    symptom = knowledge.causes[name].symptom[0].symptom
    bare = plain_craft(with_cause(knowledge, name, symptom=(), check=(), likelier=(), unlikelier=(), ruled_out=()))
    told = Facts(present={symptom: {}})
    silent = gather(told, fire(told, bare, bare.bulk), bare).silent.get(name, 1)
    before, after = (posterior.causes[name] for posterior in (believe(Facts(), bare), believe(told, bare)))
    assert after / (1 - after) == pytest.approx(silent * before / (1 - before))


def test_no_source_that_is_left_out_is_still_named(knowledge):
    group = families(knowledge)["vogel_lehrbuch"]
    for cause in without(knowledge, group).causes.values():
        for link in (*cause.symptom, *cause.check, *cause.likelier, *cause.unlikelier, *cause.ruled_out):
            assert link.from_
            assert not {words.split()[0] for words in link.from_} & group


# Plates drawn from the knowledge -------------------------------------------


def test_a_fact_that_was_made_true_holds(craft):
    """Each fact that can be turned into conditions fires its own rule when those conditions, and only those, are told."""
    rng, turned, tried = random.Random(2), 0, 0
    for name, cause in craft.knowledge.causes.items():
        for number, shift in enumerate(cause.likelier):
            tried += 1
            asked = days.demands(shift.when, shift.unless, craft.knowledge, rng)
            values = days.settle(asked, craft.knowledge, rng) if asked is not None else None
            if values is None:
                continue
            turned += 1
            told = {demand.condition for demand in asked if demand.told}
            amounts = {key: value for key, value in values.items() if key in told and isinstance(value, float)}
            options = {key: value for key, value in values.items() if key in told and isinstance(value, str)}
            firing = fire(Facts(amounts=amounts, options=options), craft, craft.bulk)
            assert f"causes/{name} likelier {number + 1}" in {rule.name for rule in firing.trace}
    assert turned > 0.8 * tried


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_drawn_plate_is_possible(craft, count):
    knowledge = craft.knowledge
    for world, facts in worlds.plates(random.Random(count), craft, count, 20):
        assert len(set(world.causes)) == count
        groups = [knowledge.causes[cause].exclusive for cause in world.causes if knowledge.causes[cause].exclusive]
        assert len(groups) == len(set(groups))
        assert facts.present
        assert set(facts.present) <= set(world.shows)
        assert not facts.absent & set(world.shows)
        assert {*world.amounts, *world.options} >= set(days.of_the_day(knowledge))
        for name, amount in world.amounts.items():
            low, high = knowledge.conditions[name].range
            assert low <= amount <= high
        for symptom, look in world.shows.items():
            for attribute, value in look.items():
                assert value in knowledge.symptoms[symptom].attributes[attribute]


def test_drawing_is_repeatable(craft):
    first, second = (worlds.plates(random.Random(7), craft, 2, 5) for _ in range(2))
    assert first == second


def test_every_question_gets_its_true_answer(craft):
    world, facts = questions.draw_complaint(random.Random(5), craft, worlds.draw_day)
    assert len(facts.present) == 2
    for question in questions.fixed_order(craft):
        if not facts.answered(question.id):
            facts = worlds.answer(facts, question.kind, question.id, world)
            assert facts.answered(question.id), question.id
    assert set(facts.present) == set(world.shows)
    assert facts.outcomes == world.outcomes
    for symptom, look in world.shows.items():
        for attribute in look:
            facts = worlds.answer(facts, "attribute", f"{symptom}.{attribute}", world)
    for name in world.day:
        facts = worlds.answer(facts, "condition", name, world)
    assert facts == worlds.tell_all(world, craft)


def test_with_several_causes_each_can_bring_a_check_out(craft):
    """An outcome is likelier with two causes that bring it about than with one, and the normal one is rarer."""
    check, cause = "look-into-camera", "holder-and-camera/light-leak-in-camera"
    other = "holder-and-camera/light-leak-in-holder"
    entry = craft.knowledge.checks[check]
    one, two = (worlds._outcomes(check, entry, causes, craft) for causes in ((cause,), (cause, other)))
    table = outcome_chances(check, {cause: 1.0}, craft)
    total = sum(one.values())
    assert {outcome: chance / total for outcome, chance in one.items()} == pytest.approx(
        {outcome: row[cause] for outcome, row in table.items()}
    )
    assert two["light-seen"] > one["light-seen"]
    assert two["dark"] < one["dark"]


def test_a_weighed_day_bears_the_marks_of_every_cause(craft):
    """Of two causes, each drawn day favours the facts of both."""
    causes = ("collodion/wet-collodion", "development/cold-developer")
    drawn = [days.as_weighed(random.Random(seed), causes, craft) for seed in range(60)]
    assert sum(day["collodion_wet"] == "yes" for day in drawn) > 45
    assert sum(day["developer_temperature"] < 16 for day in drawn) > 30


# Noise and slips -----------------------------------------------------------


def test_noise_moves_every_strength_and_stays_between_none_and_all(knowledge):
    noisy = robustness.jittered(knowledge, random.Random(1))
    for name, cause in noisy.causes.items():
        for link, before in zip(cause.symptom, knowledge.causes[name].symptom, strict=True):
            assert 0 < noisy.strengths.seen[link.seen] < 1
            assert noisy.strengths.seen[link.seen] != knowledge.strengths.seen[before.seen]
    assert plain_craft(noisy).model.leaks.keys() == plain_craft(knowledge).model.leaks.keys()


def test_scrambling_keeps_the_number_of_findings(craft):
    symptoms = list(craft.knowledge.symptoms)
    facts = Facts(present={name: {} for name in symptoms[:6]}, absent=frozenset(symptoms[6:16]))
    other = robustness.scrambled(facts, craft.knowledge, random.Random(1))
    assert (len(other.present), len(other.absent)) == (6, 10)
    assert (other.present, other.absent) != (facts.present, facts.absent)
    assert not set(other.present) & other.absent


@pytest.mark.parametrize("kind", mutations.KINDS)
def test_every_mutation_changes_its_cause(knowledge, kind):
    for mutation in kind(knowledge):
        cause = knowledge.causes[mutation.cause]
        assert any(getattr(cause, field) != items for field, items in mutation.changes.items()), mutation


def test_the_bench_passes_what_is_sound_and_catches_what_is_gross(knowledge):
    bench = mutations.Bench(knowledge)
    _, _, name, _ = bench.held[0]
    nothing = mutations.Mutation("none", name, "", {"brief": knowledge.causes[name].brief})
    assert bench.case_against(nothing) == ("", False)
    assert not bench.complains(nothing)
    links = tuple(replace(link, seen="never") for link in knowledge.causes[name].symptom)
    gross = mutations.Mutation("gross", name, "", {"symptom": links, "likelier": ()})
    assert bench.case_against(gross)[0]
    assert bench.complains(gross)


def test_naive_bayes_by_hand(craft):
    """One symptom there and no other to be asked: what was believed before times the chance of the symptom, by cause."""
    asked = {atom for rule in craft.book.rules for atom in rule.when}
    quiet = [item for item in craft.model.plain_links.items() if f"seen:{item[0]}" not in asked]
    symptom, links = max(quiet, key=lambda item: len(item[1]))
    facts = Facts(present={symptom: {}}, open=frozenset(craft.knowledge.symptoms))
    silent = gather(facts, fire(facts, craft, craft.bulk), craft).silent
    leak = craft.model.leaks[symptom]
    wanted = {
        cause: odds * silent.get(cause, 1) * (1 - (1 - leak) * (1 - links.get(cause, 0)))
        for cause, odds in craft.model.base.items()
    }
    shares = baselines.one_cause_shares(facts, craft)
    assert shares == pytest.approx({cause: value / sum(wanted.values()) for cause, value in wanted.items()})


def test_flat_priors_are_flat(knowledge):
    assert len(set(baselines.flat_craft(knowledge).model.base.values())) == 1


# The parts -----------------------------------------------------------------


LONG = {"mutations", "serial", "learning"}  # each is tried by its own figures, too


@pytest.mark.parametrize("part", [pytest.param(part, marks=[pytest.mark.slow] * (part in LONG)) for part in PARTS])
def test_each_part_runs_on_a_handful_of_plates(part, knowledge, monkeypatch, capsys):
    some = book_entries()[::40]
    for module in PARTS.values():
        home = sys.modules[module.__module__]
        if hasattr(home, "book_entries"):
            monkeypatch.setattr(home, "book_entries", lambda: some)
    monkeypatch.setattr(figures, "RESAMPLES", 5)
    monkeypatch.setattr(robustness, "BOUTS", 1)
    monkeypatch.setattr(questions, "MOST", 2)
    for name, few in {"MARKS": (2, 4), "DRIFT_AT": 2, "TESTED": 3, "RESAMPLES": 5}.items():
        monkeypatch.setattr(learning, name, few)
    PARTS[part](knowledge, 2, 1)
    said = capsys.readouterr().out
    assert part in said
    assert len(said.splitlines()) > 5


@pytest.mark.slow
@pytest.mark.parametrize("part", PARTS)
def test_in_full(part, knowledge):
    print()
    PARTS[part](knowledge, None, 1)


@pytest.mark.slow
def test_days_taken_together_beat_plate_by_plate(craft):
    """The standing cause first in 0.95 and its onset within one plate in 0.85, but for the chance of 300 days."""
    rng = random.Random(1)
    days = [sessions.draw_session(rng, craft) for _ in range(300)]
    whole = [serial.together(day, craft) for day in days]
    single = [serial.plate_by_plate(day, craft) for day in days]
    first, near = (statistics.fmean(map(test, whole)) for test in (lambda a: a.rank == 1, lambda a: a.off <= 1))
    print(f"\nfirst {first:.3f}, onset within one plate {near:.3f}")
    assert first >= 0.95 - 0.015
    assert near >= 0.85
    for way in range(2):
        assert first > statistics.fmean(answers[way].rank == 1 for answers in single) + 0.03
        assert near > statistics.fmean(answers[way].off <= 1 for answers in single) + 0.05
