"""What a daybook does besides keeping: days, settings, copies, moving house."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.daybook.book import Book, Moment, NoteEntry, PlateEntry, ValueEntry
from diagnose.daybook.place import usual_place
from diagnose.daybook.store import open_store
from diagnose.errors import BookError

NOON = Moment(1_800_000_000, "2027-01-15", "12:00")
PLATE = PlateEntry(moment=NOON, outcome="good", told={"story": "né 📷"}, made_with={"bath": "a"}, size=80.0)


def on(day, at=0):
    return replace(PLATE, moment=Moment(NOON.at + at, day, "12:00"))


def filled(place):
    with open_store(place) as store:
        store.add(PLATE, NoteEntry(moment=NOON, note="first"))
        store.amend(replace(PLATE, number=1, note="put right"))
        store.add(ValueEntry(moment=NOON, condition="room_temperature", value="24 °C"))
        store.undo()
        store.set_setting("learning", "off")
    return place


def test_a_book_is_begun_with_its_folder(tmp_path):
    place = tmp_path / "a" / "new folder" / "böök #1 ?100%.sqlite"
    with open_store(place) as store:
        assert store.where == str(place)
        assert store.read() == Book()
        assert store.check() == []
        store.add(PLATE)
    assert [path.name for path in place.parent.iterdir()] == [place.name]  # one plain file, which can be copied


def test_it_stays_open_for_days(store):
    store.add(on("2027-01-17", 200), on("2027-01-15"), on("2027-01-16", 100), on("2027-01-16", 100))
    days = [entry.moment.day for entry in store.read().entries]
    assert days == ["2027-01-15", "2027-01-16", "2027-01-16", "2027-01-17"]
    assert len(store.read("2027-01-16").entries) == 3
    assert len(store.read("", "2027-01-16").entries) == 3
    assert [entry.number for entry in store.read("2027-01-16", "2027-01-16").entries] == [3, 4]
    assert store.read("2028-01-01").entries == ()
    assert store.read("\0", "\ud800").entries == store.read("\ufffd", "\ufffd").entries == ()


def test_settings_are_kept_and_forgotten(store, place):
    assert store.setting("learning") is None
    store.set_setting("learning", "off")
    store.set_setting("learning", "on \0 é")
    with open_store(place) as again:
        assert again.setting("learning") == "on \ufffd é"
        again.set_setting("learning", None)
    assert store.setting("learning") is None
    assert store.undo() is None


def test_a_backup_is_a_whole_book(store, place, tmp_path):
    filled(place)
    copy = store.backup(tmp_path / "copy of the book.sqlite")
    store.add(PLATE)
    with open_store(copy, must_exist=True) as copied:
        assert copied.read().entries == store.read().entries[:2]
        assert copied.setting("learning") == "off"
        assert copied.check() == []
        assert copied.undo().kind == "amend"  # what can be undone came along


def test_a_backup_takes_the_place_of_nothing(store, tmp_path):
    there = tmp_path / "photographs.txt"
    there.write_text("mine")
    with pytest.raises(BookError, match=r"there is already a file at .*photographs\.txt"):
        store.backup(there)
    assert there.read_text() == "mine"
    with pytest.raises(BookError, match=r"cannot be written: no such file or directory"):
        store.backup(tmp_path / "nowhere" / "copy.sqlite")
    assert {path.name for path in tmp_path.iterdir()} <= {"photographs.txt", Path(store.where).name}


def test_a_book_moves_house(fresh, tmp_path):
    for source, target in ((str(tmp_path / "old.sqlite"), fresh()), (fresh(), str(tmp_path / "new.sqlite"))):
        filled(source)
        with open_store(source) as old, open_store(target) as new:
            assert old.copy_to(new) == 3
            assert new.read() == old.read()
            assert new.setting("learning") == "off"
            assert new.check() == []
            assert new.add(PLATE) == (4,)
            new.undo()
            assert new.undo() == old.undo()
            with pytest.raises(BookError, match="has entries already; copy to a new one"):
                old.copy_to(new)
            assert new.undo() == old.undo()


def test_two_open_stores_see_each_other(store, place):
    with open_store(place) as other:
        store.add(PLATE)
        assert other.add(PLATE) == (2,)
        assert len(store.read().entries) == 2
        other.undo()
        assert len(store.read().entries) == 1


def test_a_book_that_must_be_there_is_not_begun(place):
    with pytest.raises(BookError, match=r"there is no daybook at .*; look at the path, or log a plate to begin one"):
        open_store(place, must_exist=True)
    assert "://" in place or not Path(place).exists()
    open_store(place).close()
    open_store(place, must_exist=True).close()


def test_check_tells_what_is_wrong_in_plain_words(tmp_path):
    import sqlite3

    place = tmp_path / "book.sqlite"
    with open_store(place) as store:
        store.add(*[PLATE] * 4)
        raw = sqlite3.connect(place)
        raw.executescript(
            """
            UPDATE plates SET outcome = 'ruined' WHERE number = 1;
            UPDATE plates SET told = '{"story": ' WHERE number = 2;
            UPDATE plates SET kept = 0 WHERE number = 3;
            UPDATE plates SET at = 'noon', note = x'ff00' WHERE number = 4;
            INSERT INTO entries VALUES (9, 'notes');
            INSERT INTO notes VALUES (11, 77, 1, 0, '2027-01-15', '', 'x', '');
            """
        )
        raw.close()
        problems = store.check()
        assert "entry 1, a plate: outcome is 'ruined'; it must be one of good, spoiled" in problems
        assert "entry 2, a plate: what stands under told cannot be read" in problems
        assert "of entry 3 not the newest version is read" in problems
        assert "entry 4, a plate: at is 'noon'; it must be a whole number of seconds" in problems
        assert "entry 9 is listed, yet there is nothing under it" in problems
        assert "a note in row 1 belongs to nothing" in problems
        with pytest.raises(BookError, match=r"entry 1 of the daybook .* cannot be read \(outcome is 'ruined'"):
            store.read()
        # Only so many are named.
        raw = sqlite3.connect(place)
        raw.executemany("INSERT INTO entries VALUES (?, 'notes')", [(number,) for number in range(100, 300)])
        raw.commit()
        raw.close()
        assert len(store.check()) == 51
        assert store.check()[-1].startswith("and ")


def test_a_book_that_another_program_changed_to_several_files_becomes_one_again(tmp_path):
    import sqlite3

    place = tmp_path / "book.sqlite"
    filled(place)
    raw = sqlite3.connect(place)
    raw.execute("PRAGMA journal_mode=WAL")
    raw.execute("INSERT INTO settings VALUES ('theirs', 'x')")
    raw.commit()
    raw.close()
    with open_store(place) as store:
        store.add(PLATE)
        assert store.setting("theirs") == "x"
        assert [path.name for path in tmp_path.iterdir()] == ["book.sqlite"]
    raw = sqlite3.connect(place)
    assert raw.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    raw.close()


@pytest.mark.usefixtures("careful")
def test_every_connection_is_as_careful_as_can_be(tmp_path):
    from sqlalchemy import text

    with open_store(tmp_path / "book.sqlite") as store:
        found = store._door.reading(
            lambda connection: [
                connection.execute(text(f"PRAGMA {name}")).scalar()
                for name in ("journal_mode", "synchronous", "foreign_keys")
            ]
        )
    assert found == ["delete", 3, 1]


def test_the_usual_place_is_in_the_persons_own_folder(private_folders):
    assert usual_place() == private_folders / "data" / "wetplate-diagnose" / "daybook.sqlite"


def test_the_ordinary_way_loads_neither_migrations_nor_mapping_of_objects(tmp_path):
    lines = (
        "import sys",
        "from diagnose.daybook.book import Moment, NoteEntry",
        "from diagnose.daybook.store import open_store",
        f"store = open_store({str(tmp_path / 'book.sqlite')!r})",
        "store.add(NoteEntry(moment=Moment(0, '2027-01-15'), note='x')); store.read(); store.undo(); store.check()",
        "print(*({'alembic', 'sqlalchemy.orm', 'psycopg', 'mako', 'pydantic', 'rich', 'numpy'} & sys.modules.keys()))",
    )
    ran = subprocess.run([sys.executable, "-c", "\n".join(lines)], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == ""
