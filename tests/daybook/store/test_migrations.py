"""Books of older versions are brought up to date, whole or not at all; the real scripts make what the program makes by itself."""

import contextlib
import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import inspect, text

from diagnose.daybook.book import Moment, PlateEntry
from diagnose.daybook.connecting import door_to
from diagnose.daybook.migrations import upgrading
from diagnose.daybook.opening import make_ready
from diagnose.daybook.store import open_store
from diagnose.daybook.tables import METADATA, NEWEST
from diagnose.errors import BookError

PLATE = PlateEntry(
    moment=Moment(1_800_000_000, "2027-01-15", "12:00"),
    outcome="spoiled",
    told={"symptoms": {"fog": True}},
    note="né 📷",
)
# A version that there is not: a column more, and one whose rules change, for which SQLite must build the table anew.
LATER = """
import sqlalchemy as sa
from alembic import op

revision, down_revision, branch_labels, depends_on = "0998", "{last}", None, None


def upgrade():
    with op.batch_alter_table("plates") as table:
        table.add_column(sa.Column("plate_holder", sa.Text(), nullable=False, server_default="none"))
        table.alter_column("note", existing_type=sa.Text(), nullable=True)
    op.execute("UPDATE plates SET plate_holder = 'the first'")
    {then}
"""


@contextlib.contextmanager
def behind(place):
    door = door_to(place)
    try:
        yield door
    finally:
        door.close()


@pytest.fixture
def later(tmp_path):
    """Makes a folder with the real scripts and an invented one after them."""

    def make(then="pass"):
        folder = tmp_path / "scripts"
        shutil.copytree(upgrading.SCRIPTS, folder, ignore=shutil.ignore_patterns("__pycache__"))
        (folder / "versions" / "v0998_later.py").write_text(LATER.format(last=NEWEST, then=then), "utf-8")
        return folder

    return make


def filled(place):
    with open_store(place) as store:
        store.add(*[PLATE] * 3)
        store.amend(replace(PLATE, number=2, note="put right"))
        return store.read()


def everything(door):
    return door.reading(
        lambda connection: {
            name: [tuple(row) for row in connection.execute(text(f'SELECT * FROM "{name}" ORDER BY 1, 2'))]
            for name in ("plates", "entries", "operations")
        }
    )


def shape(connection):
    look = inspect(connection)
    return {
        name: (
            [(c["name"], str(c["type"]), c["nullable"], c.get("primary_key")) for c in look.get_columns(name)],
            look.get_pk_constraint(name)["constrained_columns"],
            sorted(
                (k["constrained_columns"], k["referred_table"], k["referred_columns"])
                for k in look.get_foreign_keys(name)
            ),
            sorted((i["name"], i["column_names"], bool(i["unique"])) for i in look.get_indexes(name)),
        )
        for name in look.get_table_names()
    }


def test_the_newest_script_is_the_version_the_program_writes():
    assert upgrading.newest() == NEWEST


def test_the_scripts_make_what_the_program_makes(fresh):
    first, second = fresh(), fresh()
    open_store(first).close()
    with behind(first) as made:
        by_program = made.reading(shape)
    if "://" not in second:
        Path(second).touch()
    with behind(second) as made:
        made.writing(upgrading.upgrade)
        by_scripts = made.reading(shape)
    assert by_scripts == by_program
    assert by_program.keys() == METADATA.tables.keys()
    assert len(by_program) == 8
    with open_store(second, must_exist=True) as store:
        assert store.add(PLATE) == (1,)
        assert store.check() == []


def test_a_book_is_brought_up_to_date_with_all_that_is_in_it(place, later, tmp_path):
    book = filled(place)
    with behind(place) as door:
        before = everything(door)
        make_ready(door, scripts=later(), newest="0998")
        after = everything(door)
    assert [row[:-1] for row in after["plates"]] == before["plates"]
    assert {row[-1] for row in after["plates"]} == {"the first"}
    assert (after["entries"], after["operations"]) == (before["entries"], before["operations"])
    if "://" in place:
        return
    # The older book is beside it, for whoever wants the older program again.
    (spare,) = tmp_path.glob("*.before-0998")
    with open_store(spare) as old:
        assert old.read() == book
    # What refers to the rebuilt table still does.
    raw = sqlite3.connect(place)
    raw.execute("PRAGMA foreign_keys=ON")
    with pytest.raises(sqlite3.IntegrityError):
        raw.execute("INSERT INTO plates SELECT 99, operation, kept, at, day, clock, outcome, told, made_with, size, given, "
                    "confirmed, confirmed_by, who, note, plate_holder FROM plates")  # fmt: skip
    raw.close()


def test_the_older_program_then_refuses_it(place, later):
    filled(place)
    with behind(place) as door:
        make_ready(door, scripts=later(), newest="0998")
        before = everything(door)
        with pytest.raises(
            BookError, match=r"was written by a newer version of the program \(0998\); it was left as it is"
        ):
            open_store(place)
        assert everything(door) == before


@pytest.mark.parametrize(
    "then", ['op.execute("UPDATE nothing SET x = 1")', 'op.execute("DELETE FROM entries WHERE number = 1")']
)
def test_a_script_that_fails_changes_nothing(place, later, then):
    """In its middle, or by leaving entries that belong to nothing."""
    book = filled(place)
    with behind(place) as door:
        before = everything(door)
        with pytest.raises(BookError) as caught:
            make_ready(door, scripts=later(then), newest="0998")
        assert len(str(caught.value).splitlines()) == 1
        assert everything(door) == before
    with open_store(place) as store:
        assert store.read() == book
        assert store.check() == []


def test_a_version_nobody_knows_is_a_newer_one_however_it_is_called(tmp_path):
    place = tmp_path / "book.sqlite"
    filled(place)
    for name in ("", "\x1b[31m" + "9" * 500, "0000"):
        raw = sqlite3.connect(place)
        raw.execute("UPDATE daybook_version SET version_num = ?", [name])
        raw.commit()
        raw.close()
        with pytest.raises(BookError, match="newer version of the program") as caught:
            open_store(place)
        assert "\x1b" not in str(caught.value)
        assert len(str(caught.value)) < 400
