"""A copy of a book's file that is whole even while another writes."""

import contextlib
import os
import sqlite3
import tempfile
from collections.abc import Callable
from pathlib import Path

from diagnose.daybook import trouble
from diagnose.daybook.connecting import BUSY_SECONDS, PATIENCE, Door, file_address
from diagnose.errors import BookError, printable


def copy_file(door: Door, target: Path) -> None:
    """Copy a book that is a file.

    Args:
        door: to the book
        target: a file that is not there yet

    Raises:
        BookError: there is one already, or it cannot be written
    """
    file = door.file
    assert file is not None

    def fill(part: Path) -> None:
        source = sqlite3.connect(file_address(file, "rw"), uri=True, timeout=BUSY_SECONDS * PATIENCE)
        with contextlib.closing(source), contextlib.closing(sqlite3.connect(part)) as copy:
            try:
                source.execute(
                    "SELECT 1 FROM sqlite_master"
                )  # a book that cannot be read is named as such, not its copy
                source.backup(copy)
            except sqlite3.Error as error:
                raise _which(error, door, file, part) from None

    put_in_place(target, fill)


def put_in_place(target: Path, fill: Callable[[Path], None]) -> None:
    """Write a file beside its place and move it there when it is whole, so that no half copy is ever taken for one.

    Only its owner may read it.

    Args:
        target: a file that is not there yet
        fill: writes the file whose path it is given

    Raises:
        BookError: there is one already, or it cannot be written
    """
    part = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name[:40]}.", suffix=".part", dir=target.parent)
        os.close(handle)
        part = Path(name)
        fill(part)
        try:
            os.link(part, target)  # unlike a move, never in the place of another
        except FileExistsError:
            raise BookError(
                f"there is already a file at {printable(str(target))}; give the copy another name"
            ) from None
        except OSError:  # no links on this disk
            if target.exists():
                raise BookError(
                    f"there is already a file at {printable(str(target))}; give the copy another name"
                ) from None
            part.rename(target)
    except OSError as error:
        raise BookError(
            f"the copy {printable(str(target))} cannot be written: {(error.strerror or str(error)).lower()}; give another place"
        ) from None
    finally:
        if part is not None:
            part.unlink(missing_ok=True)


def _which(error: sqlite3.Error, door: Door, file: Path, part: Path) -> BookError:
    """Whether the book or its copy is at fault."""
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if code in {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR}:
        return BookError(
            f"the copy of the daybook {door.where} could not be finished in {printable(str(part.parent))}; "
            "see whether the disk is full; the book is as it was"
        )
    return trouble.file_trouble(error, door.where, file, writing=False)
