"""Everything that is kept comes back as it was told, however odd the words, and what cannot be kept is refused."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.daybook.book import (
    OUTCOMES,
    THINGS,
    USUAL,
    WORKS,
    Given,
    Moment,
    NoteEntry,
    PlateEntry,
    ValueEntry,
    WorkEntry,
    numbered,
)
from diagnose.daybook.keeping import CONFIRMED, entry_of, keepable, kind_of, row_of
from diagnose.daybook.store import open_store
from diagnose.errors import BookError

NOON = Moment(1_800_000_000, "2027-01-15", "12:00")
PLATE = PlateEntry(
    moment=NOON,
    outcome="spoiled",
    told={
        "symptoms": {"fog": {"answer": "present", "where": "all over"}, "comets": False},
        "conditions": {"room_temperature": "28 °C", "bath_age": 12},
        "checks": {"bath-on-a-clean-plate": "?"},
        "tried": [{"remedy": "filter", "result": "no-change"}],
        "day": "2027-01-15",
    },
    made_with={"bath": "the old one", "holder": ""},
    size=130.5,
    given=Given("0123abcd", {"foul-bath": 0.625, "light-leak": 0.1}, "filter-the-bath", 0.05),
    confirmed="foul-bath",
    confirmed_by="cure",
    who="the assistant",
    note="the wind was up",
)
EVERY_KIND = (
    PLATE,
    PlateEntry(moment=NOON, outcome="good"),
    WorkEntry(moment=NOON, work="new", thing="developer", name="No. 2", amount="500 mL", who="me", note="warm water"),
    WorkEntry(moment=NOON, work="mended", thing="bath", remedy="sun-the-bath"),
    ValueEntry(moment=NOON, condition="room_temperature", value="24 °C"),
    ValueEntry(moment=replace(NOON, clock=""), condition="bath_strength", value="", name="the old one"),
    NoteEntry(moment=NOON, note="a slow day", who="me"),
)
ODD = {
    "nothing": "",
    "empty letter": "silver\0bath",
    "half a letter": "half \ud83d, other half \ude00",
    "two halves": "\ud83d\ude00",
    "a picture": "📷🧪 and a family 👩‍👩‍👧",
    "right to left": "לוח רטוב \u202e fo",
    "lines": "one\ntwo\r\nthree\ttabbed\x1b[31m red \x7f",
    "quotes": "'; DROP TABLE plates; -- \" \\ %s %(x)s :name {} ${x}",
    "five thousand letters": "schön " * 833 + "xx",
    "not a letter": "\uffff\ufdd0\U0010ffff",
    "accents apart": "e\u0301 é",
}


@pytest.mark.parametrize("entry", EVERY_KIND, ids=lambda entry: f"{kind_of(entry)}-{bool(getattr(entry, 'who', ''))}")
def test_every_kind_comes_back_as_it_was(store, place, entry):
    (number,) = store.add(entry)
    with open_store(place) as again:
        assert again.read().entries == (numbered(entry, number),)
        assert again.check() == []


@pytest.mark.parametrize("words", ODD.values(), ids=ODD)
def test_odd_words_come_back(store, words):
    told = {"story": words, "symptoms": {words: {"answer": "present", words: [words, {words: None}]}}}
    entries = (
        replace(
            PLATE, told=told, made_with={"bath": words}, note=words, who=words, given=Given(words, {words: 0.5}, words)
        ),
        WorkEntry(moment=NOON, work="new", thing="bath", name=words, remedy=words, amount=words),
        ValueEntry(moment=NOON, condition=words, value=words),
        NoteEntry(moment=NOON, note=words),
    )
    store.add(*entries)
    plate, work, value, note = store.read().entries
    clean = keepable(words)
    assert plate.told == {"story": clean, "symptoms": {clean: {"answer": "present", clean: [clean, {clean: None}]}}}
    assert (plate.made_with, plate.note, plate.given) == ({"bath": clean}, clean, Given(clean, {clean: 0.5}, clean))
    assert (work.name, work.remedy, work.amount) == (clean, clean, clean)
    assert (value.condition, value.value, note.note) == (clean, clean, clean)
    assert store.check() == []


def test_only_what_no_database_keeps_is_changed():
    changed = {name for name, words in ODD.items() if keepable(words) != words}
    assert changed == {"empty letter", "half a letter", "two halves"}
    assert keepable(ODD["two halves"]) == "😀"
    assert keepable("a\0b\ud800c") == "a\ufffdb\ufffdc"
    assert keepable("\ud83d\ude00\0") == "😀\ufffd"


@given(st.text(st.characters(exclude_categories=())))
def test_what_is_keepable_stays_so(words):
    clean = keepable(words)
    assert keepable(clean) == clean
    clean.encode()
    assert "\0" not in clean
    if "\0" not in words and not any("\ud800" <= letter <= "\udfff" for letter in words):
        assert clean == words


words = st.text(max_size=20).map(keepable)
numbers = st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(2**53), 2**53)
tables = st.dictionaries(
    words,
    st.recursive(
        st.none() | st.booleans() | numbers | words,
        lambda inner: st.lists(inner) | st.dictionaries(words, inner),
        max_leaves=5,
    ),
    max_size=3,
)
moments = st.builds(
    Moment, st.integers(-(2**40), 2**40), st.dates().map(str), st.sampled_from(("", "00:00", "23:59", "14:05:30"))
)
plates = st.builds(
    PlateEntry,
    moment=moments,
    outcome=st.sampled_from(OUTCOMES),
    told=tables,
    made_with=st.dictionaries(st.sampled_from(THINGS), words, max_size=3),
    size=st.none() | st.floats(0, 1e6),
    given=st.none() | st.builds(Given, words, st.dictionaries(words, numbers, max_size=3), words, numbers),
    confirmed=words,
    confirmed_by=st.sampled_from(CONFIRMED),
    who=words,
    note=words,
)
entries = plates | st.builds(
    WorkEntry, moment=moments, work=st.sampled_from(WORKS), thing=st.sampled_from(THINGS), name=words, amount=words
)


@given(entries)
def test_a_row_holds_all_of_an_entry(entry):
    assert entry_of(kind_of(entry), 0, row_of(entry)) == entry


@settings(max_examples=15)
@given(st.lists(entries, max_size=6))
def test_any_entries_come_back_from_a_book(fresh_book, some):
    numbers = fresh_book.add(*some)
    kept = {entry.number: entry for entry in fresh_book.read().entries}
    assert [kept[number] for number in numbers] == [numbered(e, n) for e, n in zip(some, numbers, strict=True)]


@pytest.fixture(scope="module")
def fresh_book(tmp_path_factory):
    with open_store(tmp_path_factory.mktemp("book") / "book.sqlite") as opened:
        yield opened


BAD = {
    "an outcome nobody knows": (
        replace(PLATE, outcome="ruined"),
        "outcome is 'ruined'; it must be one of good, spoiled",
    ),
    "a day that is none": (replace(PLATE, moment=Moment(0, "2027-02-30")), "day is '2027-02-30'; it must be a date"),
    "a day in another form": (replace(PLATE, moment=Moment(0, "15.1.2027")), "it must be a date such as 2026-05-01"),
    "a clock that is none": (replace(PLATE, moment=Moment(0, "2027-01-15", "25:00")), "a time such as 14:05"),
    "half a second": (replace(PLATE, moment=Moment(0.5, "2027-01-15")), "a whole number of seconds"),
    "a time beyond all time": (replace(PLATE, moment=Moment(2**70, "2027-01-15")), "a whole number of seconds"),
    "no size": (replace(PLATE, size=math.nan), "size is nan"),
    "an endless size": (replace(PLATE, size=math.inf), "an area [cm²], or nothing"),
    "less than nothing": (replace(PLATE, size=-1.0), "size is -1.0"),
    "no number": (replace(PLATE, told={"x": math.nan}), "told holds nan, which cannot be written down"),
    "an endless number": (replace(PLATE, told={"x": [math.inf]}), "told holds inf"),
    "far too long a number": (replace(PLATE, told={"x": 10**5000}), "told holds a number that is far too long"),
    "a set": (replace(PLATE, told={"x": {1}}), "told holds {1}"),
    "bytes": (replace(PLATE, told={"x": b"x"}), "told holds b'x'"),
    "a number for a name": (replace(PLATE, told={1: "x"}), "told has a name in it that is not a word"),
    "no table": (replace(PLATE, told=["x"]), "told is ['x']; it must be a table"),
    "a thing nobody knows": (replace(PLATE, made_with={"hat": "x"}), "made_with is {'hat': 'x'}"),
    "confirmed by nobody": (
        replace(PLATE, confirmed_by="me"),
        "confirmed_by is 'me'; it must be one of cure, check, person or nothing",
    ),
    "no chance": (replace(PLATE, given=Given("v", {"a": math.nan})), "given holds nan"),
    "a work nobody knows": (WorkEntry(moment=NOON, work="sold", thing="bath"), "work is 'sold'"),
    "a number for a note": (NoteEntry(moment=NOON, note=5), "note is 5; it must be words"),
    "no moment": (NoteEntry(moment=None, note="x"), "cannot be kept"),
    "no entry": ("a plate", "is no entry of a daybook"),
}


@pytest.mark.parametrize(("entry", "words"), BAD.values(), ids=BAD)
def test_what_the_book_does_not_know_is_refused_in_one_line_and_all_with_it(fresh_book, entry, words):
    before = fresh_book.read(), fresh_book.last()
    with pytest.raises(BookError) as caught:
        fresh_book.add(PLATE, entry)
    assert words in str(caught.value)
    assert len(str(caught.value).splitlines()) == 1
    assert len(str(caught.value)) < 300
    assert (fresh_book.read(), fresh_book.last()) == before


def test_tables_within_themselves_are_refused(store):
    told = {}
    told["x"] = told
    with pytest.raises(BookError, match="cannot be written down"):
        store.add(replace(PLATE, told=told))


def test_a_usual_thing_has_no_name(store):
    store.add(PLATE)
    assert store.read().plates[0].uses("camera") == USUAL
