"""What goes wrong with a daybook's file or server, each in one clear line: what, where, what to do."""

import os
import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy.exc import DBAPIError

from diagnose.errors import BookError, printable

WHILE_KEEPING = "while what was written was being kept for good"  # a note on an error: it came at the very last step
LONGEST = 160  # of a server's own words
# SQLSTATE codes of PostgreSQL
BUSY_STATES = ("55P03", "40001", "40P01")
FULL_STATES = ("53100",)
READ_ONLY_STATES = ("25006", "42501")


Error = DBAPIError | sqlite3.Error  # what comes through SQLAlchemy, and what comes of opening and of beginning


def is_busy(error: Error) -> bool:
    """Whether another was writing, so that trying again is all there is to do.

    Args:
        error: as it was raised
    """
    cause = _cause(error)
    if isinstance(cause, sqlite3.Error):
        return _code(cause) in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
    return getattr(cause, "sqlstate", None) in BUSY_STATES


def _cause(error: Error) -> BaseException | None:
    return error.orig if isinstance(error, DBAPIError) else error


def in_words(error: Error, where: str, file: Path | None, *, writing: bool) -> BookError:
    """What went wrong, for the person.

    Args:
        error: as it was raised
        where: the book as it may be shown
        file: its file, None on a server
        writing: whether something was to be written
    """
    if file is None:
        return BookError(_on_server(error, where, writing=writing))
    return file_trouble(_cause(error), where, file, writing=writing)


def file_trouble(error: Any, where: str, file: Path, *, writing: bool) -> BookError:
    """What went wrong with a file, for the person.

    Args:
        error: as sqlite3 raised it
        where: the book as it may be shown
        file: its path
        writing: whether something was to be written
    """
    code = _code(error)
    if code in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}:
        return BookError(
            f"another program has kept the daybook {where} locked; nothing was changed; close that program and try again"
        )
    if code == sqlite3.SQLITE_NOTADB:
        return BookError(not_a_book(where))
    if code == sqlite3.SQLITE_CORRUPT:
        return BookError(damaged(where))
    if code == sqlite3.SQLITE_FULL:
        return BookError(
            f"the disk that holds the daybook {where} is full; nothing was written and the book is as it was; "
            "make room and try again"
        )
    if code in {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH}:
        return BookError(_no_way_in(where, file, writing=writing))
    if code == sqlite3.SQLITE_IOERR:
        return BookError(
            f"the disk did not take or give what belongs to the daybook {where}; the book is as it was; "
            "see whether the disk is full or failing, and try again"
        )
    return BookError(f"the daybook {where} could not be {'written' if writing else 'read'}: {_own_words(error)}")


def not_a_book(where: str) -> str:
    """The sentence for a file of something else.

    Args:
        where: its path
    """
    return f"{where} is not a daybook but something else; it was left as it is; give the path of a daybook, or of a new file"


def damaged(where: str) -> str:
    """The sentence for a book that is not whole.

    Args:
        where: its path
    """
    return (
        f"the daybook {where} is damaged or cut off and cannot be read; nothing in it was changed; "
        "put your last backup in its place"
    )


def _no_way_in(where: str, file: Path, *, writing: bool) -> str:
    if not file.exists():
        return f"the daybook {where} is not there, or its folder may not be looked into; look where it went"
    if not os.access(file, os.R_OK, effective_ids=os.access in os.supports_effective_ids):
        return f"you may not read the daybook {where}; ask for the right to, or give the path of another"
    if not writing:
        return (
            f"the daybook {where} was left in the middle of writing and must be put in order first, "
            "which needs the right to write to it and its folder"
        )
    return (
        f"the daybook {where} can be read but not written; nothing was changed; "
        "allow writing to it and to its folder, or give the path of another"
    )


def _on_server(error: Error, where: str, *, writing: bool) -> str:
    cause = _cause(error)
    state = getattr(cause, "sqlstate", None)
    words = _own_words(cause)
    if state in BUSY_STATES:
        return f"another program has kept the daybook at {where} locked; nothing was changed; close it and try again"
    if state in FULL_STATES:
        return f"the server of the daybook at {where} is out of room; nothing was written; tell whoever looks after it"
    if state in READ_ONLY_STATES:
        return f"you may not {'write to' if writing else 'read'} the daybook at {where}; nothing was changed ({words})"
    if state is None or state[:2] in {"08", "28", "3D", "57"} or getattr(error, "connection_invalidated", False):
        if "password" in words or (state or "").startswith("28"):
            return f"the server did not let you in to the daybook at {where}: name or password is wrong"
        if "does not exist" in words:
            return f"the server has no daybook at {where}; make an empty database of that name first ({words})"
        doubt = "; nothing was changed" if writing else ""
        if WHILE_KEEPING in getattr(
            error, "__notes__", ()
        ):  # the answer was lost, which does not tell what the server did
            doubt = "; whether the last entry was kept is not certain: look before you log it again"
        return f"the server of the daybook at {where} cannot be reached{doubt} ({words}); see that it runs and the address is right"
    return f"the daybook at {where} could not be {'written' if writing else 'read'}: {words}"


def _code(error: Any) -> int:
    return int(getattr(error, "sqlite_errorcode", 0)) & 0xFF


def _own_words(error: Any) -> str:
    """The last thing the database said, on one line."""
    lines = [line.strip() for line in str(error).splitlines() if line.strip()]
    told = next(
        (line for line in lines if "FATAL:" in line or "ERROR:" in line), lines[0] if lines else "no reason given"
    )
    told = told.rpartition("FATAL:")[2].strip()
    return printable(told)[:LONGEST]
