"""Plates to practise on: the same from the same seed, such as the knowledge could have made, and honest in what they tell."""

import random
from collections import defaultdict
from statistics import mean

import pytest

from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.weighing import fire
from diagnose.teaching.difficulty import EASY_BELOW, HARD_FROM, LEVELS
from diagnose.teaching.offered import causes_offered, circumstances, main_sign, other_signs
from diagnose.teaching.repetition import Item
from diagnose.teaching.sampling import DRAWN, draw_exercise
from diagnose.teaching.scoring import by_belief, score
from diagnose.teaching.session import hardness, plate_of

COUNT = 30


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def exercises(craft):
    return [draw_exercise(random.Random(f"test/{number}"), craft, str(number)) for number in range(COUNT)]


def test_the_same_seed_gives_the_same_plate(craft, exercises):
    assert draw_exercise(random.Random("test/7"), craft, "7") == exercises[7]
    assert len({str(exercise.told) for exercise in exercises}) == COUNT


def test_a_plate_is_told_by_seed_and_number(craft):
    exercise, _ = plate_of(random.Random, craft, "may", 1)
    assert exercise.name == "may/1"
    assert plate_of(random.Random, craft, "may", 1)[0] == exercise
    assert plate_of(random.Random, craft, "may", 2)[0] != exercise
    assert plate_of(random.Random, craft, "june", 1)[0].told != exercise.told


def test_every_plate_can_be_read_and_shows_something(knowledge, exercises):
    for exercise in exercises:
        facts = understand(Plate.read(exercise.told), knowledge)
        assert exercise.sign in facts.present
        assert set(exercise.looks) <= set(DRAWN)
        assert exercise.looks.items() <= facts.present[exercise.sign].items()
        assert not facts.outcomes
        assert not facts.tried
        assert 1 <= len(exercise.causes) <= 2


def test_no_circumstance_rules_a_true_cause_out(craft, knowledge, exercises):
    for exercise in exercises:
        notes = [
            craft.book.notes[rule.name] for rule in fire(understand(Plate.read(exercise.told), knowledge), craft).trace
        ]
        assert not [note for note in notes if note.kind == "ruled_out" and note.owner in exercise.causes]


def test_two_causes_never_shut_each_other_out(craft, exercises):
    for exercise in exercises:
        assert not [group for group in craft.model.groups if len(set(group) & set(exercise.causes)) > 1]
    assert {len(exercise.causes) for exercise in exercises} == {1, 2}


def test_what_was_missed_can_be_asked_for(craft):
    cause, sign = "holder-and-camera/dirty-holder", "comets"
    assert cause in craft.knowledge.causes
    for number in range(5):
        again = plate_of(random.Random, craft, "again", number, again=Item("cause", cause))[0]
        assert cause in again.causes
        assert plate_of(random.Random, craft, "again", number, again=Item("sign", sign))[0].sign == sign


@pytest.mark.parametrize("level", LEVELS)
def test_a_level_can_be_asked_for(craft, level):
    found = [hardness(plate_of(random.Random, craft, "level", number, level=level)[1]) for number in range(3)]
    assert {item.level for item in found} == {level}
    low, high = {"easy": (1, EASY_BELOW), "middle": (EASY_BELOW, HARD_FROM), "hard": (HARD_FROM, 200)}[level]
    assert all(low <= item.rivals <= high for item in found)


def test_the_order_of_what_is_offered_says_nothing(craft):
    """Sorted by title, chosen by what is told: neither the truth nor the ranking shows through."""
    for number in range(8):
        exercise, diagnosis = plate_of(random.Random, craft, "order", number)
        offered = causes_offered(diagnosis)
        titles = [craft.knowledge.causes[cause].title for cause in offered]
        assert titles == sorted(titles)
        assert set(offered) == {cause for cause, _ in diagnosis.ranking[: len(offered)]}
        assert exercise.told["conditions"]["support"]


def test_everything_told_is_said_in_words(knowledge, exercises):
    for exercise in exercises:
        assert len(circumstances(exercise, knowledge)) == len(exercise.told["conditions"])
        assert len(other_signs(exercise, knowledge)) == len(exercise.told["symptoms"]) - 1
        assert main_sign(exercise, knowledge).startswith(knowledge.symptoms[exercise.sign].title)


@pytest.mark.slow
def test_the_tool_is_right_about_as_often_as_it_says(craft):
    """Measured on 1,500 plates: what is told is chosen by what shows, so that no list and no circumstance gives the truth away."""
    bands = defaultdict(list)
    earned = defaultdict(list)
    for number in range(1500):
        exercise, diagnosis = plate_of(random.Random, craft, "calibration", number)
        for cause, chance in diagnosis.ranking[:10]:
            bands[min(4, int(chance * 5))].append((chance, cause in exercise.causes))
        report = by_belief(diagnosis.ranking)
        earned["as believed"].append(score(report, exercise.causes))
        earned["surer"].append(score([n._replace(sure=min(1, n.sure * 1.5)) for n in report], exercise.causes))
        earned["always sure"].append(score([n._replace(sure=0.95) for n in report], exercise.causes))
        earned["less sure"].append(score([n._replace(sure=n.sure / 2) for n in report], exercise.causes))
    for _, pairs in sorted(bands.items()):
        said, right = mean(chance for chance, _ in pairs), mean(good for _, good in pairs)
        print(f"said {said:.2f}, right {right:.2f} of {len(pairs)}")
        assert abs(said - right) < 0.12
    means = {words: mean(values) for words, values in earned.items()}
    print({words: round(value, 1) for words, value in means.items()})
    assert max(means, key=means.get) == "as believed"
