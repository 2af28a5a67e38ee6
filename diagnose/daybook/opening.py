"""Opening a book: whether it is one, of which version, and making or bringing up to date what must be."""

import sqlite3
import stat
from pathlib import Path

from sqlalchemy import Connection, inspect, select, text
from sqlalchemy.exc import DBAPIError

from diagnose.daybook import trouble
from diagnose.daybook.connecting import Door
from diagnose.daybook.copying import copy_file
from diagnose.daybook.tables import METADATA, NEWEST, VERSION
from diagnose.errors import BookError, printable


def make_ready(door: Door, *, must_exist: bool = False, scripts: Path | None = None, newest: str = NEWEST) -> None:
    """See that there is a book of the newest version behind a door.

    Args:
        door: to the file or server
        must_exist: a book that is not there is an error and is not made
        scripts: where the migrations are, if not in the package
        newest: the version they lead to

    Raises:
        BookError: it is no daybook, a newer one, damaged, or cannot be made
    """
    if door.file is not None:
        _see_to_file(door.file, door.where, must_exist=must_exist)
    version = door.reading(lambda connection: _looked_at(connection, door))
    if version is None:
        if must_exist:
            raise BookError(f"there is no daybook at {door.where}; look at the path, or log a plate to begin one")
        door.writing(lambda connection: _make(connection, door))
    elif version != newest:
        _bring_up_to_date(door, version, newest, scripts)


def _see_to_file(file: Path, where: str, *, must_exist: bool) -> None:
    try:
        mode = _mode(file)  # looked at once: another may make it at this very moment
        if stat.S_ISDIR(mode):
            raise BookError(f"{where} is a folder; give the path of a file in it")
        if stat.S_ISREG(mode):
            return
        if mode:
            raise BookError(trouble.not_a_book(where))
        if must_exist:
            raise BookError(f"there is no daybook at {where}; look at the path, or log a plate to begin one")
        file.parent.mkdir(parents=True, exist_ok=True)
        file.touch()
    except OSError as error:
        in_a_file = isinstance(error, FileExistsError | NotADirectoryError)
        why = "what should be its folder is a file" if in_a_file else (error.strerror or str(error)).lower()
        raise BookError(
            f"the daybook {where} can neither be found nor made there: {why}; "
            "give another path, or allow writing to that folder"
        ) from None


def _mode(file: Path) -> int:
    """What kind of file it is; 0 where there is none."""
    try:
        return file.stat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return 0


def _looked_at(connection: Connection, door: Door) -> str | None:
    if door.file is not None:
        _see_whole(connection, door.file, door.where)
    return _version(connection, door)


def _version(connection: Connection, door: Door) -> str | None:
    """The version a book bears, None where there is nothing yet."""
    inspector = inspect(connection)
    if inspector.has_table(VERSION.name):
        versions = connection.execute(select(VERSION.c.version_num)).scalars().all()
        if len(versions) == 1:
            return str(versions[0])
        raise BookError(trouble.not_a_book(door.where))
    names = set(inspector.get_table_names())
    # A server's book may stand beside other tables; in a file of its own there is nothing else.
    if names & METADATA.tables.keys() if door.file is None else names:
        raise BookError(trouble.not_a_book(door.where))
    return None


def _see_whole(connection: Connection, file: Path, where: str) -> None:
    """No part of the last page is missing: SQLite itself would take it for empty, and write it so.

    We hold the book while we look, so that no writer is half way through.
    """
    pages, size = (connection.execute(text(f"PRAGMA {name}")).scalar_one() for name in ("page_count", "page_size"))
    if file.stat().st_size < pages * size:
        raise BookError(trouble.damaged(where))


def _make(connection: Connection, door: Door) -> None:
    if _version(connection, door) is not None:  # another made it while we waited
        return
    if door.file is None and connection.execute(text("SHOW server_encoding")).scalar() != "UTF8":
        raise BookError(
            f"the server's database at {door.where} does not keep every letter; make one with the encoding UTF8"
        )
    METADATA.create_all(connection, checkfirst=False)
    connection.execute(VERSION.insert().values(version_num=NEWEST))


def _bring_up_to_date(door: Door, version: str, newest: str, scripts: Path | None) -> None:
    from diagnose.daybook.migrations import upgrading

    folder = scripts or upgrading.SCRIPTS
    if not upgrading.knows(version, folder):
        raise BookError(
            f"the daybook {door.where} was written by a newer version of the program ({printable(version)[:40]}); "
            "it was left as it is; bring the program up to date"
        )
    if door.file is not None:  # the way back, should the person want the older program again
        spare = door.file.with_name(f"{door.file.name}.before-{newest}")
        if not spare.exists():
            copy_file(door, spare)

    def run(connection: Connection) -> None:
        if _version(connection, door) == newest:  # another did it while we waited
            return
        upgrading.upgrade(connection, folder)
        if door.file is not None and connection.execute(text("PRAGMA foreign_key_check")).first() is not None:
            raise BookError(
                f"the daybook {door.where} does not fit together and was left as it is; `diagnose day check` says where"
            )

    door.writing(run, rebuilding=True)


def rollback_journal(door: Door) -> None:
    """Put a file back to keeping everything in itself, should some other program have changed that.

    Args:
        door: to the book
    """
    if door.file is None:
        return
    try:
        with door.engine.connect() as connection:
            bare = connection.connection.cursor()
            if bare.execute("PRAGMA journal_mode").fetchone()[0] != "delete":
                bare.execute("PRAGMA journal_mode=DELETE")
    except (DBAPIError, sqlite3.Error):  # it is in use or may not be written: no harm done, next time
        return
