"""A class set: the same from its seed, the key apart from the plates, nothing from outside, no name that does harm."""

import json
import random
import re
from html.parser import HTMLParser

import pytest

from diagnose.reasoning.craft import craft_of
from diagnose.teaching.class_set import class_set, set_record, set_text
from diagnose.teaching.session import plate_of
from diagnose.teaching.set_page import set_page

PIXEL = b"\x89PNG a picture"
TITLE = "<script>alert('x')</script> & May"


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def made(craft):
    return made_of(craft, "may", 5)


def made_of(craft, seed, count, **more):
    plates = [plate_of(random.Random, craft, seed, number) for number in range(1, count + 1)]
    usual = {"origin": "Invented.", "title": TITLE, "drawn": lambda it: (PIXEL, f'words "of" {it.seed}')}
    return class_set(plates, craft.knowledge, **{**usual, **more})


def test_the_same_seed_makes_the_same_set(craft, made):
    assert made_of(craft, "may", 5) == made
    assert made_of(craft, "june", 5).plates != made.plates


def test_it_holds_the_plates_of_the_drill_with_the_same_seed(craft, made):
    for plate in made.plates:
        exercise, _ = plate_of(random.Random, craft, "may", plate.number)
        titles = [craft.knowledge.causes[cause].title for cause in exercise.causes]
        assert [truth.title for truth in plate.key.truths] == titles


def test_the_key_points_to_what_is_listed(made):
    for plate in made.plates:
        causes = {item.mark: item.words for item in plate.causes}
        steps = {item.mark: item.words for item in plate.steps}
        for truth in plate.key.truths:
            assert not truth.mark or causes[truth.mark] == truth.title
            assert len(truth.steps) >= 2
        assert all(causes[row.mark] == row.title for row in plate.key.ranking)
        assert steps[plate.key.step].startswith(plate.key.step_words)


class Page(HTMLParser):
    """What a page asks for, and the order of its parts."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.asks, self.ids, self.alts = [], [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        self.tags.append(tag)
        self.asks += [given[name] for name in ("src", "href") if name in given]
        self.ids += [given["id"]] if "id" in given else []
        self.alts += [given.get("alt")] if tag == "img" else []


def test_the_page_stands_by_itself_with_the_key_behind_the_plates(made):
    text = set_page(made)
    page = Page(text)
    assert "script" not in page.tags
    assert all(ask.startswith(("#", "data:image/png;base64,")) for ask in page.asks)
    assert page.alts == [plate.drawing_words for plate in made.plates]
    assert page.ids.index("key") > page.ids.index("plate-5")
    front, key = text.split('id="key"')
    for plate in made.plates:
        for truth in plate.key.truths:
            assert truth.brief not in front
    assert key.count('class="answer"') == 5
    assert "http" not in re.sub(r"http-equiv", "", text)


def test_the_drawn_sign_is_not_named_before_the_key(made):
    for plate in made.plates:
        assert not [line for line in plate.signs if line.startswith(plate.key.sign)]


def test_in_words_the_sign_is_told(craft):
    for plate in made_of(craft, "may", 3, drawn=None).plates:
        assert plate.signs[0].startswith(plate.key.sign)
        assert not plate.drawing


def test_text_has_the_key_on_a_page_of_its_own(made):
    front, key = set_text(made).split("\f")
    assert "Answer key" in key
    for plate in made.plates:
        assert f"Plate {plate.number}" in front
        assert all(truth.brief not in front for truth in plate.key.truths)


def test_the_record_says_all_of_it(made):
    table = json.loads(set_record(made))
    assert table["title"] == TITLE
    assert [plate["number"] for plate in table["plates"]] == [1, 2, 3, 4, 5]
