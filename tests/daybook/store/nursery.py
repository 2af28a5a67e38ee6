"""Writers that are killed, and writers that crowd: run by the tests as a program of its own, so that it can fork cheaply.

python nursery.py killed PLACE PLATES SEED      -> plates acknowledged, kills, kills that left a journal behind
python nursery.py crowded PLACE WRITERS PLATES  -> plates acknowledged
"""

import os
import random
import signal
import sys
import time
from pathlib import Path

from diagnose.daybook.book import Moment, NoteEntry, PlateEntry
from diagnose.daybook.store import open_store


def plate(count, who=""):
    told = {
        "symptoms": {"fog": {"answer": "present", "where": "all over"}},
        "conditions": {"room_temperature": "24 °C"},
    }
    return PlateEntry(
        moment=Moment(1_800_000_000 + 300 * count, "2027-01-15", "09:00"),
        outcome="spoiled" if count % 3 else "good",
        told=told if count % 3 else {},
        made_with={"bath": "the old one", "holder": "4"},
        size=130.0,
        who=who,
        note="ordinary words " * (count % 40),
    )


def child(work):
    """A forked writer and the pipe on which it says what was acknowledged."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid:
        os.close(writing)
        return pid, reading
    os.close(reading)
    try:
        work(lambda text: os.write(writing, f"{text}\n".encode()))
    except BaseException as error:  # noqa: BLE001 - told to the test, whatever it is
        os.write(writing, f"error {type(error).__name__}: {error}\n".encode())
    os._exit(0)


def all_lines(reading):
    with os.fdopen(reading, "rb") as pipe:
        return pipe.read().decode().splitlines()


def killed(place, plates, seed):
    """Writers log plates one after another; each is killed at a moment of chance, until enough plates are acknowledged."""
    chance = random.Random(seed)
    acknowledged, kills, journals = {}, 0, 0
    while len(acknowledged) < plates:
        start = len(acknowledged)

        def work(say, start=start):
            with open_store(place) as store:
                say("open")
                for count in range(start, start + 1000):
                    (number,) = store.add(plate(count))
                    say(f"{number} {count}")

        pid, reading = child(work)
        # From the first moment of opening to the tenth plate or so: an operation takes some ten milliseconds on a disk.
        time.sleep(chance.uniform(0.0, 0.02) if chance.random() < 0.2 else chance.uniform(0.01, 0.3))
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        kills += 1
        for line in all_lines(reading):
            assert not line.startswith("error"), line
            if line != "open":
                number, count = map(int, line.split())
                assert number not in acknowledged, "a number given twice"
                acknowledged[number] = count
        journals += Path(f"{place}-journal").exists()
        with open_store(place) as store:
            assert store.check() == []
            kept = {entry.number: entry for entry in store.read().entries}
        for number, count in acknowledged.items():
            assert number in kept, f"plate {number} was acknowledged and is lost"
            assert kept[number].moment == plate(count).moment
            assert kept[number].told == plate(count).told
        # At most the one plate that was under way when the writer was killed is there without its acknowledgement.
        assert len(kept) <= len(acknowledged) + kills
    print(len(acknowledged), kills, journals)


def crowded(place, writers, plates):
    """Writers all at once on a book that none of them finds made, while another reads, copies and sets things."""

    def work(say, who):
        with open_store(place) as store:
            for count in range(plates):
                (number,) = store.add(plate(count, who=f"writer {who}"))
                say(f"{number}")
                if count % 5 == 4:
                    store.amend(
                        PlateEntry(number=number, moment=plate(count).moment, outcome="good", who=f"writer {who}")
                    )
                    store.set_setting(f"last of {who}", str(number))
                if count % 7 == 6:
                    store.add(NoteEntry(moment=plate(count).moment, note="to be taken back", who=f"writer {who}"))

    def look(say):
        with open_store(place) as store:
            for round_ in range(2):
                assert not store.check()
                copy = f"{os.environ['NURSERY_COPIES']}/{round_}.sqlite"
                store.backup(copy)
                with open_store(copy) as copied:
                    assert not copied.check()
                    assert {e.number for e in copied.read().entries} <= {e.number for e in store.read().entries}
            say("looked")

    people = [child(lambda say, who=who: work(say, who)) for who in range(writers)]
    people.append(child(look))
    told = [all_lines(reading) for _, reading in people]
    for pid, _ in people:
        os.waitpid(pid, 0)
    assert told.pop() == ["looked"], told
    numbers = [int(line) for lines in told for line in lines if line.isdecimal() or print(line)]
    assert len(numbers) == len(set(numbers)) == writers * plates, "a number given twice, or a writer that gave up"
    with open_store(place) as store:
        assert store.check() == []
        kept = {entry.number: entry for entry in store.read().entries}
        assert set(numbers) <= kept.keys()
        notes = writers * (plates // 7)
        assert len(kept) == writers * plates + notes
        assert sum(1 for entry in kept.values() if entry.note == "to be taken back") == notes
        for who in range(writers):
            last = int(store.setting(f"last of {who}"))
            assert kept[last].who == f"writer {who}"
            assert kept[last].good
    print(len(numbers))


if __name__ == "__main__":
    {"killed": killed, "crowded": crowded}[sys.argv[1]](sys.argv[2], *map(int, sys.argv[3:]))
