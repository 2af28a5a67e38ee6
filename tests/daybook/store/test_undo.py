"""Histories of adding, putting right and taking back, against a plain model in memory."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.daybook.book import Moment, NoteEntry, PlateEntry, ValueEntry, WorkEntry, numbered
from diagnose.daybook.store import Undone, open_store
from diagnose.errors import BookError

NOON = Moment(1_800_000_000, "2027-01-15", "12:00")
KINDS = (
    PlateEntry(moment=NOON, outcome="good"),
    WorkEntry(moment=NOON, work="filtered", thing="bath"),
    ValueEntry(moment=NOON, condition="room_temperature", value="24 °C"),
    NoteEntry(moment=NOON, note="slow"),
)


def changed(entry, count):
    """The same entry with other contents."""
    moment = replace(NOON, at=NOON.at + count * 7 % 11)
    field = {"PlateEntry": "note", "WorkEntry": "amount", "ValueEntry": "value", "NoteEntry": "note"}[
        type(entry).__name__
    ]
    return replace(entry, moment=moment, **{field: f"change {count}"})


class Model:
    """What a book is to do, said as shortly as can be: a list of states, one after each operation that stands."""

    def __init__(self):
        self.states, self.operations, self.numbers = [{}], [], 0

    @property
    def now(self):
        return self.states[-1]

    def add(self, entries):
        numbers = tuple(range(self.numbers + 1, self.numbers + 1 + len(entries)))
        self.numbers += len(entries)
        made = {n: numbered(e, n) for n, e in zip(numbers, entries, strict=True)}
        if made:
            self.states.append(self.now | made)
            self.operations.append(("add", tuple(made)))
        return numbers

    def amend(self, entries):
        self.states.append(self.now | {entry.number: entry for entry in entries})
        self.operations.append(("amend", tuple(entry.number for entry in entries)))

    def undo(self):
        if not self.operations:
            return None
        kind, numbers = self.operations.pop()
        after, before = self.states.pop(), self.now
        numbers = sorted(numbers)
        return Undone(kind, tuple(after[n] for n in numbers), tuple(before[n] for n in numbers if n in before))


STEPS = st.lists(
    st.tuples(
        st.sampled_from(("add", "add", "amend", "amend", "undo", "undo", "reopen")),
        st.lists(st.integers(0, 999), max_size=3),
    ),
    max_size=14,
)


def run(place, steps):
    model, store = Model(), open_store(place)
    try:
        for count, (step, choices) in enumerate(steps):
            if step == "add":
                entries = [changed(KINDS[choice % len(KINDS)], count) for choice in choices]
                assert store.add(*entries) == model.add(entries)
            elif step == "amend":
                numbers = sorted({sorted(model.now)[choice % len(model.now)] for choice in choices if model.now})
                entries = [changed(model.now[number], count) for number in numbers]
                store.amend(*entries)
                if entries:
                    model.amend(entries)
            elif step == "undo":
                foretold = store.last()
                assert store.undo() == model.undo() == foretold
            else:
                store.close()
                store = open_store(place)
            assert {entry.number: entry for entry in store.read().entries} == model.now
        assert store.check() == []
        while (expected := model.undo()) is not None:
            assert store.undo() == expected
        assert store.undo() is None
        assert store.read().entries == ()
        assert store.check() == []
    finally:
        store.close()


@settings(max_examples=15)
@given(steps=STEPS)
def test_any_history_in_a_file_is_as_the_model_says(tmp_path_factory, steps):
    run(tmp_path_factory.mktemp("history") / "book.sqlite", steps)


def test_some_histories_are_as_the_model_says_on_both(place):
    import random

    chance = random.Random(7)
    run(
        place,
        [(chance.choice(("add", "amend", "undo")), [chance.randrange(1000) for _ in range(3)]) for _ in range(20)],
    )


@pytest.mark.slow
@settings(max_examples=400)
@given(steps=STEPS)
def test_many_histories(tmp_path_factory, steps):
    run(tmp_path_factory.mktemp("history") / "book.sqlite", steps)


def test_an_add_of_several_is_taken_back_as_one(store):
    store.add(KINDS[0])
    numbers = store.add(*KINDS)
    undone = store.undo()
    assert undone.kind == "add"
    assert tuple(entry.number for entry in undone.taken) == numbers
    assert [entry.number for entry in store.read().entries] == [1]


def test_undoing_what_was_put_right_brings_the_old_back(store):
    (number,) = store.add(KINDS[0])
    for outcome, note in (("spoiled", "fogged"), ("spoiled", "fogged all over")):
        store.amend(replace(KINDS[0], number=number, outcome=outcome, note=note))
    assert store.undo().restored[0].note == "fogged"
    store.amend(replace(KINDS[0], number=number, note="anew"))
    assert store.undo().restored[0].note == "fogged"
    assert store.undo().restored[0] == numbered(KINDS[0], number)
    assert store.undo().restored == ()


def test_a_number_is_never_given_again(store):
    store.add(*KINDS)
    store.undo()
    assert store.add(KINDS[0]) == (5,)


def test_asking_what_would_be_undone_undoes_nothing(store):
    store.add(KINDS[0])
    assert store.last().taken == (numbered(KINDS[0], 1),)
    assert store.last() == store.last()
    assert len(store.read().entries) == 1


@pytest.mark.parametrize("number", [0, -1, 2, 3, 2**40])
def test_only_what_is_in_the_book_can_be_put_right(store, number):
    store.add(KINDS[0])
    store.add(KINDS[0])
    store.undo()  # number 2 was there and is no longer
    with pytest.raises(BookError, match=rf"there is no entry {number} in the daybook"):
        store.amend(numbered(KINDS[0], number))
    assert len(store.read().entries) == 1
    assert store.check() == []


def test_a_plate_does_not_become_a_note_and_nothing_else_is_changed_with_it(store):
    store.add(*KINDS)
    before = store.read()
    with pytest.raises(BookError, match="entry 1 is a plate and cannot become a note"):
        store.amend(changed(numbered(KINDS[1], 2), 5), numbered(KINDS[3], 1))
    with pytest.raises(BookError, match="two with one number"):
        store.amend(numbered(KINDS[0], 1), numbered(KINDS[0], 1))
    assert store.read() == before
    assert store.last().kind == "add"


def test_nothing_added_is_no_operation(store):
    assert store.add() == ()
    store.amend()
    assert store.undo() is None
