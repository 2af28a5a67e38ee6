"""Spaced repetition keeps its stated rule."""

from hypothesis import given
from hypothesis import strategies as st

from diagnose.teaching.repetition import WAITS, Item, Memory

COMETS, FOG = Item("sign", "comets"), Item("sign", "fog")
items = st.sets(st.sampled_from([COMETS, FOG, Item("cause", "a/b"), Item("cause", "c/d")]))


def idle(memory, plates):
    for _ in range(plates):
        memory = memory.after((), ())
    return memory


def test_what_was_missed_comes_back_after_three_plates():
    memory = Memory().after((), [COMETS])
    assert memory.due() is None
    assert idle(memory, WAITS[0] - 1).due() is None
    assert idle(memory, WAITS[0]).due() == COMETS


def test_each_time_it_is_found_the_wait_grows_until_it_is_learned():
    memory = Memory().after((), [COMETS])
    waited = []
    while memory.waiting:
        before = memory.done
        while memory.due() is None:
            memory = idle(memory, 1)
        waited.append(memory.done - before)
        memory = memory.after([COMETS], ())
    assert waited == [3, 9, 27, 81]


def test_missed_again_it_begins_anew():
    memory = idle(Memory().after((), [COMETS]), 3).after([COMETS], ()).after((), [COMETS])
    assert memory.waiting[COMETS] == (0, memory.done + WAITS[0])


def test_the_longest_due_comes_first():
    memory = idle(Memory().after((), [FOG]).after((), [COMETS]), 10)
    assert memory.due() == FOG


def test_what_was_never_missed_does_not_come_back():
    assert Memory().after([COMETS], ()).waiting == {}


@given(st.lists(st.tuples(items, items), max_size=30))
def test_nothing_waits_longer_than_its_wait(plates):
    memory = Memory()
    for found, missed in plates:
        memory = memory.after(found - missed, missed)
        for step, due in memory.waiting.values():
            assert due - memory.done <= WAITS[step]
    assert memory.done == len(plates)
