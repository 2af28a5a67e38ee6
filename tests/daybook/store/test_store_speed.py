"""How long a book takes: figures with `pytest -m slow -n 0 -s`."""

import subprocess
import sys
import time
from dataclasses import replace

import pytest

from diagnose.daybook.book import Given, Moment, PlateEntry
from diagnose.daybook.store import open_store

CAUSES = {f"cause-{count}": 1 / (count + 2) for count in range(6)}
PLATE = PlateEntry(
    moment=Moment(1_800_000_000, "2027-01-15", "12:00"),
    outcome="spoiled",
    told={
        "symptoms": {f"sign-{count}": {"answer": "present", "where": "all over"} for count in range(4)},
        "conditions": {f"condition-{count}": "28 °C" for count in range(8)},
        "checks": {"bath-on-a-clean-plate": "?"},
    },
    made_with={"bath": "the old one", "holder": "4"},
    size=130.0,
    given=Given("0123456789abcdef", CAUSES, "filter-the-bath", 0.05),
    note="ordinary words",
)
ONE_ADD = """
import time; start = time.perf_counter()
from diagnose.daybook.store import open_store
from diagnose.daybook.book import Moment, NoteEntry
loaded = time.perf_counter()
with open_store({place!r}) as store:
    opened = time.perf_counter()
    store.add(NoteEntry(moment=Moment(0, "2027-01-15"), note="x"))
    added = time.perf_counter()
print(loaded - start, opened - loaded, added - opened)
"""


@pytest.mark.slow
@pytest.mark.usefixtures("careful")
def test_a_book_of_ten_thousand_plates_is_read_in_a_moment(fresh):
    with open_store(fresh()) as store:
        start = time.perf_counter()
        store.add(*[replace(PLATE, moment=replace(PLATE.moment, at=count * 300)) for count in range(10_000)])
        added = time.perf_counter() - start
        took = []
        for _ in range(5):
            start = time.process_time()  # our own part, whatever else the machine is at
            book = store.read()
            took.append(time.process_time() - start)
        start = time.perf_counter()
        assert store.check() == []
        checked = time.perf_counter() - start
    print(f"\n10,000 plates: added in {added:.2f} s, read in {min(took):.2f} s, checked in {checked:.2f} s")
    assert len(book.plates) == 10_000
    assert min(took) < 1.0


@pytest.mark.slow
def test_a_plate_is_logged_by_a_fresh_program_in_a_moment(place):
    open_store(place).close()
    took = []
    for _ in range(7):
        ran = subprocess.run(
            [sys.executable, "-c", ONE_ADD.format(place=place)], capture_output=True, text=True, check=True
        )
        took.append([float(word) for word in ran.stdout.split()])
    load, opening, add = (sorted(part)[len(part) // 2] for part in zip(*took, strict=True))
    print(f"\nfresh program: {1000 * load:.0f} ms to load, {1000 * opening:.0f} ms to open, {1000 * add:.0f} ms to add")
    assert opening + add < 1.0
