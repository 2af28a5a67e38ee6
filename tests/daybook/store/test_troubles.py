"""Everything that can go wrong with a book's file: one clear line, and what was in it is untouched."""

import contextlib
import hashlib
import os
import random
import resource
import shutil
import sqlite3
import subprocess
import tempfile
from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.daybook.book import Moment, NoteEntry, PlateEntry
from diagnose.daybook.store import open_store
from diagnose.errors import BookError

PLATE = PlateEntry(
    moment=Moment(1_800_000_000, "2027-01-15", "12:00"),
    outcome="spoiled",
    told={"symptoms": {"fog": True}},
    note="x" * 300,
)


@pytest.fixture
def book(tmp_path):
    """A book with some plates, closed."""
    path = tmp_path / "book.sqlite"
    with open_store(path) as store:
        store.add(*[PLATE] * 40)
        store.amend(replace(PLATE, number=3, note="put right"))
        store.undo()
    return path


def seal(path):
    return hashlib.sha256(path.read_bytes()).hexdigest()


def complaint(work):
    """The one line that some work is refused with."""
    with pytest.raises(BookError) as caught:
        work()
    line = str(caught.value)
    assert len(line.splitlines()) == 1
    assert len(line) < 500
    assert "Error" not in line
    assert "sqlalche" not in line.lower()
    assert "SELECT" not in line
    assert caught.value.__suppress_context__ or caught.value.__context__ is None
    return line


def untouched(path, work):
    """The line some work is refused with, which changed nothing and left nothing beside the book."""
    before, beside = seal(path), sorted(path.parent.iterdir())
    line = complaint(work)
    assert seal(path) == before
    assert sorted(path.parent.iterdir()) == beside
    assert str(path) in line
    return line


def test_a_book_from_a_newer_version(book):
    raw = sqlite3.connect(book)
    raw.execute("UPDATE daybook_version SET version_num = '0999'")
    raw.commit()
    raw.close()
    line = untouched(book, lambda: open_store(book))
    assert "was written by a newer version of the program (0999)" in line
    assert "bring the program up to date" in line


@pytest.mark.parametrize("part", [0.999, 0.9, 0.5, 0.1, 0.01])
def test_a_book_that_is_cut_off(book, part):
    whole = book.read_bytes()
    book.write_bytes(whole[: int(len(whole) * part)])
    line = untouched(book, lambda: open_store(book))
    assert "is damaged or cut off and cannot be read" in line or "is not a daybook" in line


@pytest.mark.parametrize(
    "contents",
    [
        b"xy",
        b"a diary\n" * 500,
        bytes(range(256)) * 40,
        b"SQLite format 3\0",
        b"SQLite format 3\0" + bytes(5000),
        b"\x89PNG\r\n\x1a\n" * 99,
    ],
    ids=range(6),
)
def test_a_file_of_something_else(tmp_path, contents):
    path = tmp_path / "diary.txt"
    path.write_bytes(contents)
    line = untouched(path, lambda: open_store(path))
    assert "is not a daybook" in line or "is damaged" in line


@pytest.mark.parametrize(
    "tables", [("photographs",), ("notes",), ("plates", "works", "settings"), ("alembic_version",)], ids=str
)
def test_a_database_of_something_else(tmp_path, tables):
    path = tmp_path / "other.sqlite"
    raw = sqlite3.connect(path)
    for table in tables:
        raw.execute(f"CREATE TABLE {table} (version_num TEXT)")
        raw.execute(f"INSERT INTO {table} VALUES ('0001')")
    raw.commit()
    raw.close()
    assert "is not a daybook but something else; it was left as it is" in untouched(path, lambda: open_store(path))


def test_places_that_can_hold_no_book(tmp_path):
    (tmp_path / "file").write_text("x")
    assert "is a folder; give the path of a file in it" in complaint(lambda: open_store(tmp_path))
    assert "what should be its folder is a file" in complaint(lambda: open_store(tmp_path / "file" / "book.sqlite"))
    assert "this cannot be the name of a file" in complaint(lambda: open_store("a\0b"))
    assert "is not a daybook" in complaint(lambda: open_store("/dev/null"))
    assert "file name too long" in complaint(lambda: open_store(tmp_path / ("x" * 300)))


def test_an_empty_file_becomes_a_book(tmp_path):
    path = tmp_path / "book.sqlite"
    path.touch()  # as a program that was killed at its first moment leaves it
    with open_store(path) as store:
        assert store.add(PLATE) == (1,)


def test_a_book_that_may_only_be_read(open_folder, ordinary):
    path = open_folder / "book.sqlite"
    with open_store(path) as store:
        store.add(PLATE)
    path.chmod(0o444)
    open_folder.chmod(0o555)
    with ordinary(), open_store(path) as store:
        for work in (
            lambda: store.add(PLATE),
            lambda: store.amend(replace(PLATE, number=1, note="y")),
            store.undo,
            lambda: store.set_setting("a", "b"),
        ):
            line = untouched(path, work)
            assert "can be read but not written; nothing was changed" in line
        assert len(store.read().entries) == 1
        assert store.check() == []
        assert store.setting("a") is None
        copy = store.backup(Path(tempfile.mkdtemp()) / "copy.sqlite")
        shutil.rmtree(copy.parent)


@pytest.mark.parametrize(("file", "folder"), [(0o444, 0o777), (0o666, 0o555)], ids=["file", "folder"])
def test_a_file_or_its_folder_alone_may_only_be_read(open_folder, ordinary, file, folder):
    path = open_folder / "book.sqlite"
    with open_store(path) as store:
        store.add(PLATE)
    path.chmod(file)
    open_folder.chmod(folder)
    with ordinary(), open_store(path) as store:
        assert "can be read but not written" in untouched(path, lambda: store.add(PLATE))
        assert len(store.read().entries) == 1


def test_a_book_that_may_not_be_read(open_folder, ordinary):
    path = open_folder / "book.sqlite"
    open_store(path).close()
    path.chmod(0o000)
    with ordinary():
        assert "you may not read the daybook" in complaint(lambda: open_store(path))
    open_folder.chmod(0o000)
    with ordinary():
        assert "permission denied" in complaint(lambda: open_store(path))


def test_a_folder_that_may_not_be_written_to(open_folder, ordinary):
    open_folder.chmod(0o555)
    with ordinary():
        for path in (open_folder / "book.sqlite", open_folder / "new" / "book.sqlite"):
            line = complaint(lambda path=path: open_store(path))
            assert "can neither be found nor made there: permission denied; give another path, or allow writing" in line
    assert list(open_folder.iterdir()) == []


def test_a_book_that_went_away_does_not_come_back_empty(book):
    with open_store(book) as store:
        book.rename(book.with_name("elsewhere"))
        assert "is not there" in complaint(lambda: store.add(PLATE))
        assert "is not there" in complaint(store.read)
        assert not book.exists()
        book.with_name("elsewhere").rename(book)
        assert store.add(PLATE) == (41,)


def full_by_limit(book, store, work):
    """No file may grow: how a quota looks from within."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (book.stat().st_size, hard))
    try:
        return complaint(work)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_a_disk_that_takes_no_more(book):
    with open_store(book) as store:
        before = seal(book)
        line = full_by_limit(book, store, lambda: store.add(*[replace(PLATE, note="y" * 4000)] * 50))
        assert "the disk did not take" in line
        assert "the book is as it was" in line
        assert seal(book) == before
        assert store.check() == []
        assert store.add(PLATE) == (41,)


def test_a_full_disk_for_real(tmp_path):
    """A tiny disk in memory, filled to the last byte by something else."""
    if os.geteuid() != 0 or shutil.which("mount") is None:
        pytest.skip("only root may mount a small disk to fill")
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=256k", "none", str(disk)], capture_output=True, check=False
    ).returncode:
        pytest.skip("no small disk can be mounted here")
    try:
        book = disk / "book.sqlite"
        with open_store(book) as store:
            kept = []

            def fill():
                while True:
                    kept.extend(store.add(PLATE))

            line = complaint(fill)
            assert (
                f"the disk that holds the daybook {book} is full; nothing was written and the book is as it was" in line
            )
            assert len(kept) > 5
            assert [entry.number for entry in store.read().entries] == kept
            assert store.check() == []
            assert "see whether the disk is full" in complaint(lambda: store.backup(disk / "copy.sqlite"))
            assert [path.name for path in disk.iterdir()] == ["book.sqlite"]
            with contextlib.suppress(OSError), (disk / "filler").open("wb", buffering=0) as filler:
                while True:
                    filler.write(bytes(4096))
            assert "is full" in complaint(lambda: open_store(disk / "another.sqlite"))
            assert "is full" in complaint(lambda: store.set_setting("a", "b" * 9000))
            (disk / "filler").unlink()
            copy = store.backup(tmp_path / "copy.sqlite")
        with open_store(copy) as copied:
            assert [entry.number for entry in copied.read().entries] == kept
    finally:
        subprocess.run(["umount", "--lazy", str(disk)], check=True)


@pytest.mark.usefixtures("impatient")
def test_a_book_that_another_program_keeps_locked(book):
    with open_store(book) as store:
        raw = sqlite3.connect(book, isolation_level=None)
        raw.execute("BEGIN EXCLUSIVE")
        for work in (lambda: store.add(PLATE), store.read, lambda: open_store(book)):
            line = complaint(work)
            assert f"another program has kept the daybook {book} locked; nothing was changed" in line
        raw.execute("ROLLBACK")
        raw.execute("BEGIN IMMEDIATE")
        assert len(store.read().entries) == 40
        assert "locked" in complaint(lambda: store.add(PLATE))
        raw.close()
        assert store.add(PLATE) == (41,)


def test_a_book_with_a_bit_of_rot_never_ends_in_anything_but_a_line(book, tmp_path):
    rot(book, tmp_path, range(30))


@pytest.mark.slow
def test_a_book_with_much_rot_never_ends_in_anything_but_a_line(book, tmp_path):
    rot(book, tmp_path, range(1000, 4000))


def rot(book, tmp_path, seeds):
    """Bytes changed by chance, in the file's head and in its pages: a line, a problem told, or nothing amiss; never a crash."""
    whole, told = book.read_bytes(), 0
    for seed in seeds:
        chance = random.Random(seed)
        damaged = bytearray(whole)
        for _ in range(chance.choice((1, 3, 30))):
            damaged[chance.randrange(200 if chance.random() < 0.2 else len(damaged))] = chance.randrange(256)
        path = tmp_path / f"{seed}.sqlite"
        path.write_bytes(damaged)
        try:
            with open_store(path) as store:
                told += bool(store.check())
                for work in (
                    store.read,
                    store.last,
                    lambda: store.add(NoteEntry(moment=PLATE.moment, note="x")),
                    store.undo,
                ):
                    try:
                        work()
                    except BookError as error:
                        assert len(str(error).splitlines()) == 1, seed  # noqa: PT017
        except BookError as error:
            told += 1
            assert len(str(error).splitlines()) == 1, seed  # noqa: PT017
        path.unlink()
        path.with_name(f"{path.name}-journal").unlink(missing_ok=True)
    assert told > len(seeds) / 10
