"""The daybook on paper and in files: the log sheet to print, export and import."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from diagnose.daybook.book import Book
from diagnose.daybook.exchange import FORMS, Form, form_of, read_entries, text_of, without_known, write_entries
from diagnose.errors import BookError, PlateError, printable
from diagnose.plate import day_number, shown
from diagnose.talk.around import Around
from diagnose.talk.book_place import there_is
from diagnose.talk.clock import at_of


def sheet(around: Around, out: str, day: str) -> None:
    """Make a paper log sheet.

    Args:
        around: book and screen
        out: file to write
        day: the date it is for; "" leaves it to be written in by hand

    Raises:
        PlateError: it is no date, or the file cannot be written
    """
    from diagnose.daybook.sheet import sheet as sheet_page

    if day and day_number(day) is None:
        raise PlateError(f"{shown(day)!r} is not a date; write it as 2026-05-01")
    book = Book()
    if there_is(around.place):
        with around.opened() as store:
            book = store.read()
    write_out(around, out, sheet_page(book, day, around.knowledge))


def export_book(around: Around, file: str, options: Mapping[str, Any]) -> None:
    """Write the book out.

    Args:
        around: book and screen
        file: where to, or "-" for standard output
        options: form, first, last, no_notes

    Raises:
        BookError: it cannot be written
    """
    for date in (options["first"], options["last"]):
        if date and day_number(date) is None:
            raise PlateError(f"{shown(date)!r} is not a date; write it as 2026-05-01")
    form: Form = options["form"] or ("json" if file == "-" else form_of(file))
    book = Book()
    if there_is(around.place):
        with around.opened() as store:
            book = store.read(options["first"], options["last"])
    text = write_entries(book, form, strip_notes=options["no_notes"])
    if file == "-":
        sys.stdout.write(text)
    else:
        write_out(around, file, text)


def import_book(around: Around, file: str, form: str | None) -> None:
    """Read entries in: all of them, or none.

    Args:
        around: book and screen
        file: where from
        form: "json", "toml" or "csv"; None tells it by the name

    Raises:
        BookError: everything that is wrong, a line each; nothing is kept
    """
    chosen = next((known for known in FORMS if known == form), None) or form_of(file)
    entries = read_entries(text_of_file(file), chosen, around.knowledge, at_of)
    with around.opened() as store:
        new, known = without_known(entries, store.read())
        store.add(*new)
    there = f"; {known} were there already" if known else ""
    around.say(
        f"{len(new)} {'entry' if len(new) == 1 else 'entries'} read in{there}. `diagnose day undo` takes them back."
    )


def write_out(around: Around, out: str, text: str) -> None:
    """Write a page or an export whole: a file is there with all of it, or not at all.

    Args:
        around: the screen
        out: the file
        text: what goes into it

    Raises:
        BookError: it cannot be written
    """
    path = Path(out).expanduser()
    part = path.with_name(f".{path.name}.part")
    try:
        with part.open("w", encoding="utf-8", newline="") as target:
            target.write(text)
            target.flush()
            os.fsync(target.fileno())
        part.replace(path)
    except (OSError, ValueError) as error:
        part.unlink(missing_ok=True) if part.parent.is_dir() else None
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise BookError(f"{shown(out)} cannot be written: {why}; name another file") from None
    around.look.line(printable(f"Written: {path}"))


def text_of_file(file: str) -> str:
    """What a file, or standard input, holds.

    Args:
        file: its name, or "-"

    Raises:
        BookError: it cannot be read
    """
    try:
        return text_of(sys.stdin.buffer.read() if file == "-" else Path(file).expanduser().read_bytes())
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise BookError(f"{shown(file)} cannot be read: {why}; name another file") from None
