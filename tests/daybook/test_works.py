"""Works, remedies and things: the names agree with the knowledge and with the book."""

from typing import get_args

import pytest

from diagnose.daybook.book import THINGS, WORKS, Moment, WorkEntry
from diagnose.daybook.changed import WATCHED
from diagnose.daybook.counting import DONE
from diagnose.daybook.shelf import COMPARED
from diagnose.daybook.works import (
    REMEDY_OF,
    RENEWALS,
    SWAPPED,
    SWAPS,
    TOUCHED,
    TREATMENTS_OF,
    deeds,
    remedy_of,
    things_of,
)
from diagnose.entries.observed import TREATMENTS
from diagnose.entries.remedy import Touches
from diagnose.entries.shapes import Thing


def work(kind, thing="bath", remedy=""):
    return WorkEntry(moment=Moment(0, "2026-05-20"), work=kind, thing=thing, remedy=remedy)


def test_the_book_and_the_knowledge_speak_of_the_same_things_and_treatments():
    assert set(get_args(Thing)) == set(THINGS)
    # To take another one does nothing to either.
    assert {"new", *TREATMENTS} == set(WORKS) - {"taken"} == set(DONE) - {SWAPPED}
    assert set(TOUCHED) | {"nothing", "hand"} == set(get_args(Touches))


def test_every_remedy_named_is_one_of_the_knowledge(knowledge):
    named = {*REMEDY_OF.values(), *SWAPS, *RENEWALS, *TREATMENTS_OF}
    assert named <= set(knowledge.remedies)
    assert set(SWAPS) >= RENEWALS
    for kind, thing in REMEDY_OF:
        assert kind in WORKS
        assert thing in THINGS


def test_what_is_watched_for_a_change_is_what_the_knowledge_asks(knowledge):
    asked = {name for name, entry in knowledge.conditions.items() if entry.group == "changed"}
    assert {*WATCHED, "changed_weather"} == asked
    for watched in WATCHED.values():
        assert set(watched.things) <= set(THINGS)
        assert set(watched.works) <= {*WORKS, SWAPPED, *knowledge.remedies}
        assert set(watched.answers) <= set(COMPARED) <= set(knowledge.conditions)


@pytest.mark.parametrize(
    ("kind", "thing", "remedy"),
    [
        ("filtered", "bath", "filter-the-bath"),
        ("sunned", "bath", "sun-the-bath"),
        ("aired", "bath", "air-the-bath"),
        ("acid-added", "bath", "acidify-the-bath"),
        ("alkali-added", "bath", "ease-acid-of-bath"),
        ("silver-added", "bath", "strengthen-the-bath"),
        ("cleaned", "holder", "wipe-holder-and-back"),
        ("new", "bath", ""),
        ("filtered", "fixer", ""),
    ],
)
def test_a_work_is_the_remedy_it_is(kind, thing, remedy):
    assert remedy_of(work(kind, thing)) == remedy
    assert {kind, remedy} - {""} == deeds(work(kind, thing))


def test_a_remedy_logged_by_its_name_is_the_treatment_it_is():
    assert deeds(work("mended", remedy="filter-the-bath")) == {"mended", "filtered", "filter-the-bath"}
    assert deeds(work("mended", remedy="dilute-filter-restore-bath")) >= {"filtered", "silver-added"}
    assert "new" in deeds(work("mended", "developer", "mix-fresh-developer"))
    assert deeds(work("mended", "bath", "rest-bath-use-reserve")) == {"mended", "rest-bath-use-reserve", SWAPPED}
    assert deeds(work("mended", remedy="cool-the-bath")) == {"mended", "cool-the-bath"}


def test_a_remedy_reaches_every_thing_in_which_a_cause_it_cures_stands(knowledge):
    """One that touches the developer may make up for the bath; one that swaps the bath touches "nothing" by its file."""
    assert things_of("add-acid-to-developer", knowledge) == ("developer", "bath")
    assert things_of("rest-bath-use-reserve", knowledge)[0] == "bath"
    assert things_of("dip-sooner", knowledge) == ("collodion", "plates")
    assert things_of("no-such-remedy", knowledge) == ()
    for name in knowledge.remedies:
        stands = {
            cause.stands_in
            for cause in knowledge.causes.values()
            if cause.scope == "standing" and any(link.do == name for link in cause.remedy)
        }
        assert stands <= set(things_of(name, knowledge)), name


def test_answers_end_with_what_is_done_to_the_thing_they_last_with(knowledge):
    """No treatment in `until` that is never logged of that thing, and no remedy that puts nothing right there."""
    for name, entry in knowledge.conditions.items():
        for word in entry.until:
            if word in knowledge.remedies:
                assert entry.lasts in things_of(word, knowledge), (name, word)
