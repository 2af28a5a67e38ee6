"""The next question: what it would tell, how it is ranked, what is never asked, and whole talks played through."""

import dataclasses
import math
import random
import tomllib
from pathlib import Path
from statistics import mean

import pytest

import diagnose
from diagnose import phrases
from diagnose.facts import Facts, understand
from diagnose.plate import Plate
from diagnose.reasoning import asking
from diagnose.reasoning.asking import (
    LEAST_GAIN,
    PURE_GAIN_AFTER,
    UNLISTED,
    answered_with,
    outcome_chances,
    questions,
    shares_of,
    unlisted,
)
from diagnose.reasoning.craft import craft_of, make_craft
from diagnose.reasoning.weighing import fire, gather, weigh

CASES = Path(__file__).resolve().parents[1] / "cases"
PARTS = ("symptoms", "conditions", "checks", "tried")
SMALL = 1e-9
SURE = 0.9
MOST_ASKED = 40  # a talk that is longer than this has not stopped


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def told_by_cases():
    return [
        {part: case[part] for part in PARTS if part in case}
        for path in sorted(CASES.rglob("*.toml"))
        for case in tomllib.loads(path.read_text("utf-8"))["case"]
    ]


@pytest.fixture(scope="module")
def plates(told_by_cases, craft):
    """Cases, and plates on which any few things were said."""
    chance = random.Random("asking")
    return [
        believed(item, craft)
        for item in (*told_by_cases[::5], *(anything(chance, craft.knowledge) for _ in range(25)), {})
    ]


def believed(told, craft):
    facts = told if isinstance(told, Facts) else understand(Plate.read(told), craft.knowledge)
    return facts, weigh(gather(facts, fire(facts, craft, craft.bulk), craft), craft)


def anything(chance, knowledge):
    """Any few symptoms, conditions and checks, with some of each answered "don't know"."""
    conditions = {}
    for name in chance.sample(sorted(knowledge.conditions), chance.randint(0, 20)):
        entry = knowledge.conditions[name]
        if chance.random() < 0.2:
            conditions[name] = "?"
        elif entry.kind == "quantity":
            conditions[name] = f"{chance.uniform(*entry.range):.3f} {entry.unit}"
        else:
            conditions[name] = chance.choice(sorted(entry.answers))
    checks = {name: check for name, check in knowledge.checks.items() if check.outcome}
    answers = ("present", "present", "absent", "unsure", "cant-tell")
    return {
        "symptoms": {
            name: chance.choice(answers) for name in chance.sample(sorted(knowledge.symptoms), chance.randint(1, 6))
        },
        "conditions": conditions,
        "checks": {
            name: chance.choice([*(outcome.id for outcome in checks[name].outcome), "?"])
            for name in chance.sample(sorted(checks), chance.randint(0, 5))
        },
    }


# What a question would tell ---------------------------------------------------------------


def entropy(chances):
    return -sum(chance * math.log2(chance) for chance in chances if chance > 0)


def gain_longhand(question, shares):
    """Expected fall of the entropy over causes: another sum than the package does, for the same number."""
    after = 0.0
    for row in question.likelihoods.values():
        joint = [shares[cause] * row[cause] for cause in shares]
        whole = sum(joint)
        if whole:
            after += whole * entropy(part / whole for part in joint)
    return entropy(shares.values()) - after


def shares_asked(posterior):
    kept = {cause: share for cause, share in shares_of(posterior).items() if share >= asking.LEAST_SHARE}
    return {cause: share / sum(kept.values()) for cause, share in kept.items()}


@pytest.fixture
def every_gain(monkeypatch):
    """Questions are offered however little they tell."""
    monkeypatch.setattr(asking, "LEAST_GAIN", -math.inf)


@pytest.mark.usefixtures("every_gain")
def test_gain_is_never_negative_and_is_the_expected_fall_of_entropy(plates, craft):
    seen = 0
    for facts, posterior in plates:
        shares = shares_asked(posterior)
        for question in questions(facts, posterior, craft):
            assert question.gain >= -SMALL, question.id
            assert math.isclose(question.gain, gain_longhand(question, shares), abs_tol=SMALL), question.id
            assert question.gain <= math.log2(len(question.answers)) + SMALL
            seen += 1
    assert seen > 2000


@pytest.mark.usefixtures("every_gain")
def test_chances_add_up(plates, craft):
    for facts, posterior in plates:
        shares = shares_of(posterior)
        assert math.isclose(sum(shares.values()), 1, abs_tol=SMALL)
        assert UNLISTED in shares
        assert 0 <= unlisted(posterior) <= 1
        for question in questions(facts, posterior, craft):
            assert math.isclose(sum(chance for _, chance in question.answers), 1, abs_tol=SMALL), question.id
            assert all(-SMALL <= chance <= 1 + SMALL for _, chance in question.answers)
            causes = next(iter(question.likelihoods.values())).keys()
            for cause in causes:
                column = [row[cause] for row in question.likelihoods.values()]
                assert math.isclose(sum(column), 1, abs_tol=SMALL), (question.id, cause)
                assert all(0 <= chance <= 1 + SMALL for chance in column)


def test_a_check_comes_out_as_its_links_say(craft):
    """For every check and every cause: what is linked most surely comes out likeliest, and nothing is left over."""
    knowledge = craft.knowledge
    for name, check in knowledge.checks.items():
        if not check.outcome:
            continue
        table = outcome_chances(name, dict.fromkeys([*knowledge.causes, UNLISTED], 0.0), craft)
        normal = next(outcome.id for outcome in check.outcome if outcome.normal)
        assert max(table, key=lambda outcome: table[outcome][UNLISTED]) == normal
        for cause, entry in knowledge.causes.items():
            assert math.isclose(sum(row[cause] for row in table.values()), 1, abs_tol=SMALL)
            links = {
                link.outcome: knowledge.strengths.seen[link.seen]
                for link in entry.check
                if link.check == name and not link.when
            }
            for outcome, chance in links.items():
                assert (table[outcome][cause] > table[outcome][UNLISTED]) == (chance > 0.05), (cause, outcome)


def test_only_what_tells_something_is_offered(plates, craft):
    for facts, posterior in plates:
        assert all(question.gain >= LEAST_GAIN for question in questions(facts, posterior, craft))


# In what order ---------------------------------------------------------------


def test_after_eight_only_the_gain_counts(plates, craft):
    assert PURE_GAIN_AFTER == 8
    differs = 0
    for facts, posterior in plates:
        late = questions(facts, posterior, craft, asked=PURE_GAIN_AFTER)
        assert [q.gain for q in late] == sorted((q.gain for q in late), reverse=True)
        early = questions(facts, posterior, craft, asked=PURE_GAIN_AFTER - 1)
        assert {q.id for q in early} == {q.id for q in late}
        differs += [q.id for q in early] != [q.id for q in late]
    assert differs > len(plates) / 2


def test_before_that_time_plates_and_steps_count(plates, craft):
    """The same question a plate dearer, or at another station, never comes earlier."""
    plate_minutes = craft.knowledge.strengths.expect.plate_minutes
    for facts, posterior in plates[::3]:
        for standing_at in ("", "plate", "bottles"):
            found = questions(facts, posterior, craft, standing_at=standing_at)
            worth = [
                q.gain
                / (
                    0.2
                    + q.minutes
                    + q.plates * plate_minutes
                    + (0 if q.station in {standing_at, "memory"} else asking.TO_WALK_OVER)
                )
                for q in found
            ]
            assert worth == sorted(worth, reverse=True)


def test_the_order_in_which_a_plate_was_told_changes_nothing(plates, craft):
    for facts, posterior in plates[::3]:
        turned = dataclasses.replace(
            facts,
            **{
                part: dict(reversed(getattr(facts, part).items()))
                for part in ("present", "unsure", "amounts", "options", "outcomes")
            },
        )
        _, again = believed(turned, craft)
        assert all(
            math.isclose(again.causes[cause], chance, abs_tol=1e-12) for cause, chance in posterior.causes.items()
        )
        alike(questions(facts, posterior, craft), questions(turned, again, craft))


def test_the_order_of_the_entries_changes_nothing(craft):
    """Causes, symptoms, conditions, checks and their links turned about: the same belief, the same questions."""
    knowledge = craft.knowledge
    turned = {
        kind: dict(reversed(getattr(knowledge, kind).items()))
        for kind in ("symptoms", "conditions", "states", "checks", "causes", "remedies", "cautions")
    }
    turned["causes"] = {
        name: dataclasses.replace(
            cause, symptom=cause.symptom[::-1], check=cause.check[::-1], likelier=cause.likelier[::-1]
        )
        for name, cause in turned["causes"].items()
    }
    other = make_craft(dataclasses.replace(knowledge, version="turned about", **turned))
    chance = random.Random("entries")
    for told in [{"symptoms": {"comets": True}}, *(anything(chance, knowledge) for _ in range(12))]:
        facts, posterior = believed(told, craft)
        facts_again, again = believed(told, other)
        for cause, share in posterior.causes.items():
            assert math.isclose(again.causes[cause], share, abs_tol=SMALL), cause
        alike(questions(facts, posterior, craft), questions(facts_again, again, other))


def alike(found, again):
    """The same questions with the same gains; two of equal worth to the last digit may change places."""
    first, second = ({question.id: question for question in listed} for listed in (found, again))
    assert first.keys() == second.keys()
    for name, question in first.items():
        assert math.isclose(question.gain, second[name].gain, abs_tol=SMALL), name
    for one, other in zip(found, again, strict=True):
        assert one.id == other.id or math.isclose(one.gain, second[one.id].gain, abs_tol=SMALL)


# What is not asked, and what asking does not do ---------------------------------------------------------------


def test_an_answer_once_given_or_not_known_is_never_asked_for_again(plates, craft):
    for facts, posterior in plates:
        for question in questions(facts, posterior, craft):
            symptom, _, look = question.id.partition(".")
            assert not facts.answered(question.id), question.id
            if question.kind == "attribute":
                assert look not in facts.present[symptom]
            else:
                assert question.id not in facts.open
                assert not facts.knows(question.id)


def test_dont_know_ends_every_question(knowledge, craft):
    """Each kind in turn is answered with "?": it does not come back."""
    told = {"symptoms": {"fog": {"answer": "present"}, "comets": {"answer": "present"}}, "conditions": {}, "checks": {}}
    for kind, part in (("symptom", "symptoms"), ("condition", "conditions"), ("check", "checks")):
        facts, posterior = believed(told, craft)
        found = [question.id for question in questions(facts, posterior, craft) if question.kind == kind]
        assert found, kind
        told[part] |= dict.fromkeys(found, "?")
        facts, posterior = believed(told, craft)
        assert not {question.id for question in questions(facts, posterior, craft)} & set(found)


def test_dont_know_ends_a_question_about_a_look_too(craft):
    facts, posterior = believed({"symptoms": {"uneven-film": True}}, craft)
    looks = [question.id for question in questions(facts, posterior, craft) if question.kind == "attribute"]
    assert looks
    said = {look.partition(".")[2]: "?" for look in looks}
    facts, posterior = believed({"symptoms": {"uneven-film": {"answer": "present", **said}}}, craft)
    assert not {question.id for question in questions(facts, posterior, craft)} & set(looks)


def test_what_was_not_asked_adds_nothing(craft):
    """A condition or a check that nobody spoke of, or that nobody knew, leaves the belief as it was, to the last digit."""
    chance = random.Random("not asked")
    for _ in range(40):
        facts, posterior = believed(anything(chance, craft.knowledge), craft)
        silent = [name for name in (*craft.knowledge.conditions, *craft.knowledge.checks) if not facts.answered(name)]
        _, again = believed(dataclasses.replace(facts, open=facts.open | set(silent)), craft)
        assert again.causes == posterior.causes
        for question in questions(facts, posterior, craft)[:3]:  # having asked is not having heard
            assert believed(facts, craft)[1].causes == posterior.causes, question.id


def test_a_symptom_nobody_could_tell_only_loses_its_soft_no(craft):
    """Not mentioned speaks a little against causes that show it; "can't tell" speaks neither way."""
    facts, posterior = believed({"symptoms": {"comets": True}}, craft)
    for name, links in craft.model.plain_links.items():
        if facts.answered(name):
            continue
        _, again = believed(dataclasses.replace(facts, open=facts.open | {name}), craft)
        raised = {cause for cause in posterior.causes if again.causes[cause] > posterior.causes[cause] + SMALL}
        assert raised <= set(links), name


@pytest.mark.usefixtures("every_gain")
def test_a_check_that_no_cause_is_linked_to_tells_nothing(craft):
    """And a question is about what it is about: no gain from words alone."""
    knowledge = craft.knowledge
    idle = dataclasses.replace(knowledge.checks["litmus-on-bath"], title="Idle")
    other = make_craft(dataclasses.replace(knowledge, version="idle", checks={**knowledge.checks, "idle-look": idle}))
    facts, posterior = believed({"symptoms": {"fog": True}}, other)
    assert posterior.causes == believed({"symptoms": {"fog": True}}, craft)[1].causes
    gain = next(question.gain for question in questions(facts, posterior, other) if question.id == "idle-look")
    assert abs(gain) < SMALL


# Why it is asked ---------------------------------------------------------------


def test_every_question_says_why_it_is_asked(plates, craft):
    """Where two causes lead it names the two that it parts, and it does part them."""
    for facts, posterior in plates:
        leading = sorted(posterior.causes, key=lambda cause: -posterior.causes[cause])
        for question in questions(facts, posterior, craft):
            why, asked = phrases.why_ask(question, craft.knowledge), phrases.question(question, craft.knowledge)
            assert len(why) > 15
            assert why.endswith(".")
            assert len(asked) > 5
            assert phrases.answers(question, craft.knowledge)
            if question.parts:
                first, second = question.parts
                assert first != second
                assert {first, second} <= set(leading[:12])
                assert any(abs(row[first] - row[second]) > SMALL for row in question.likelihoods.values())
                assert craft.knowledge.causes[first].title in why
                assert craft.knowledge.causes[second].title in why


def test_the_questions_that_are_shown_say_which_two_causes_they_part(told_by_cases, knowledge):
    shown = parted = 0
    for told in told_by_cases[::3]:
        for question in diagnose.diagnose({"symptoms": told["symptoms"]}, knowledge).worth_asking():
            shown, parted = shown + 1, parted + (len(question.parts) == 2)
    print(f"\n{parted} of {shown} questions shown name the two causes they part")
    assert shown > 50
    assert parted > 0.95 * shown


# Whole talks ---------------------------------------------------------------


def draw_plate(cause, chance, craft):
    """What one cause would show: every symptom drawn beforehand, so that the same question gets the same answer."""
    links = {
        link.symptom: craft.knowledge.strengths.seen[link.seen]
        for link in craft.knowledge.causes[cause].symptom
        if not link.when
    }
    shows = {
        name: chance.random() < 1 - (1 - leak) * (1 - links.get(name, 0.0)) for name, leak in craft.model.leaks.items()
    }
    return links, shows


def reply(question, cause, shows, chance):
    """The answer of a person at a plate spoiled by this cause; now and then they do not know."""
    if question.kind == "symptom":
        return "yes" if shows[question.id] else "no"
    if chance.random() < 0.1:
        return None
    rows = question.likelihoods
    weights = [row.get(cause, row.get(UNLISTED, 1 / len(rows))) for row in rows.values()]
    return chance.choices(list(rows), weights)[0]


def talk(cause, chance, craft, choose):
    """From one complaint to the end: how many questions, how sure, whether the cause leads."""
    links, shows = draw_plate(cause, chance, craft)
    complaint = chance.choices(list(links), list(links.values()))[0]
    facts = Facts(present={complaint: {}})
    asked, station, seen = 0, "", set()
    while True:
        facts, posterior = believed(facts, craft)
        leader = max(posterior.causes, key=lambda name: posterior.causes[name])
        question = None if posterior.causes[leader] >= SURE else choose(facts, posterior, asked, station)
        if question is None:
            return asked, posterior.causes[leader], leader == cause
        assert question.id not in seen, f"asked twice: {question.id}"
        assert asked < MOST_ASKED, "no end of questions"
        seen.add(question.id)
        answer = reply(question, cause, shows, chance)
        if answer is None:
            facts = dataclasses.replace(facts, open=facts.open | {question.id})
        else:
            facts = answered_with(facts, question, answer, craft)
        asked, station = asked + 1, question.station


def by_the_program(craft):
    """What the program itself would ask next, and when it would stop."""
    from diagnose.advice.stopping import leading_remedy, worth_asking

    def choose(facts, posterior, asked, station):
        found = questions(facts, posterior, craft, asked=asked, standing_at=station)
        worth = worth_asking(found, facts, posterior, craft, leading_remedy(facts, craft)[0])
        return worth[0] if worth else None

    return choose


def by_gain(craft):
    """The most telling question, as long as there is any."""

    def choose(facts, posterior, asked, station):
        found = (
            questions(facts, posterior, craft, asked=PURE_GAIN_AFTER, standing_at=station) if asked < MOST_ASKED else []
        )
        return found[0] if found else None

    return choose


def by_chance(craft, chance):
    """Any question that tells something."""

    def choose(facts, posterior, asked, station):
        found = questions(facts, posterior, craft) if asked < MOST_ASKED else []
        return chance.choice(found) if found else None

    return choose


def some_causes(knowledge, count, seed):
    """Causes as often as they are common."""
    chance = random.Random(seed)
    names = sorted(knowledge.causes)
    weights = [knowledge.strengths.usual[knowledge.causes[name].usual] for name in names]
    return chance.choices(names, weights, k=count)


def test_talks_come_to_an_end(craft):
    ends = [
        talk(cause, random.Random(f"talk {number}"), craft, by_the_program(craft))
        for number, cause in enumerate(some_causes(craft.knowledge, 14, "talks"))
    ]
    lengths = [asked for asked, _, _ in ends]
    print(
        f"\n{mean(lengths):.1f} questions, at most {max(lengths)}; sure {mean(sure >= SURE for _, sure, _ in ends):.0%}"
    )
    assert max(lengths) < MOST_ASKED
    assert mean(lengths) < 12
    assert mean(right for _, _, right in ends) > 0.5


@pytest.mark.slow
def test_how_many_questions_against_asking_at_random(craft):
    """`pytest -m slow -n 0 -s tests/reasoning/test_asking.py` prints it."""
    causes = some_causes(craft.knowledge, 150, "slow talks")
    print("\n                          questions   sure   right cause leads")
    found = {}
    for name, choose in (
        ("the program, as it stops", by_the_program(craft)),
        ("by gain, to the end", by_gain(craft)),
        ("at random, to the end", by_chance(craft, random.Random("order"))),
    ):
        ends = [talk(cause, random.Random(f"slow {number}"), craft, choose) for number, cause in enumerate(causes)]
        found[name] = mean(asked for asked, _, _ in ends)
        sure, right = mean(sure >= SURE for _, sure, _ in ends), mean(right for _, _, right in ends)
        print(f"{name:24}  {found[name]:9.1f}   {sure:4.0%}   {right:4.0%}")
    assert found["by gain, to the end"] < 0.8 * found["at random, to the end"]
    assert found["the program, as it stops"] < found["by gain, to the end"] + 1


def test_the_answer_offers_what_it_says(knowledge):
    """`worth_asking` gives questions of `questions`, in its order, and the last of them ends it."""
    answer = diagnose.diagnose({"symptoms": {"fog": True}}, knowledge)
    found = [question.id for question in answer.questions()]
    worth = [question.id for question in answer.worth_asking()]
    assert worth
    assert [name for name in found if name in worth] == worth
