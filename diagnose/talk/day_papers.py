"""The daybook on paper and in files: the log sheet, typing it in, export and import."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rich.text import Text

from diagnose.daybook.book import Book
from diagnose.daybook.entering import Desk, Entered, read_line
from diagnose.daybook.exchange import FORMS, Form, form_of, read_entries, text_of, without_known, write_entries
from diagnose.daybook.using import in_use
from diagnose.errors import BookError, PlateError, printable
from diagnose.plate import day_number, shown
from diagnose.talk.around import Around
from diagnose.talk.book_place import there_is
from diagnose.talk.clock import at_of, now, today
from diagnose.talk.listening import listen_to_terminal

if TYPE_CHECKING:
    from diagnose.daybook.store import Store

HELP = (
    "A line a plate: 14:05 good / 14:20 bad comets, fog; holder B / 14:40 mixed developer 500 mL. "
    "undo takes the last line back; q ends."
)
ENDS = frozenset({"q", "quit", "end"})


def enter(around: Around, file: str, day: str) -> None:
    """Type in a paper sheet; each line is kept as soon as it is understood.

    Args:
        around: book and screen
        file: lines already written, or "-" for the keyboard or a pipe
        day: the date of the sheet; today until a line says another

    Raises:
        PlateError: it is no date, or the file cannot be read
    """
    if day and day_number(day) is None:
        raise PlateError(f"{shown(day)!r} is not a date; write it as 2026-05-01")
    lines = None if file == "-" else _text_of_file(file).splitlines()
    with around.opened() as store:
        desk = Desk(day=day or today(), made_with=in_use(store.read(), now()))
        around.look.show(Text(f"The day is {desk.day}. {HELP}", style="faint"))
        _enter(store, desk, lines, around)


def _enter(store: "Store", desk: Desk, lines: list[str] | None, around: Around) -> None:
    """Line after line; a line that is not understood keeps nothing and stops nothing."""
    before: list[Desk] = []
    kept, refused, number = 0, 0, 0
    while True:
        number += 1
        try:
            if lines is None:
                line = listen_to_terminal(around.look.prompt)
            elif number <= len(lines):
                line = lines[number - 1]
            else:
                break
        except EOFError:
            break
        if line.strip().casefold() in ENDS:
            break
        found = read_line(line, desk, around.knowledge, at_of)
        if found.undo:
            if before:
                store.undo()
                desk, kept = before.pop(), kept - 1
                around.say("The last line is taken back.")
            else:
                around.say("There is nothing to take back.", "care")
            continue
        if found.problems:
            refused += 1
            _refuse(found, number, lines is None and sys.stdin.isatty(), around)
            continue
        if found.entries:
            before.append(desk)
            store.add(*found.entries)
            kept += 1
        desk = found.desk
        for words in found.said:
            around.say(f"{'Kept: ' if found.entries else ''}{words}", "act" if found.entries else "faint")
    around.say(f"{kept} line{'' if kept == 1 else 's'} kept{f', {refused} not understood' if refused else ''}.")


def _refuse(found: Entered, number: int, typing: bool, around: Around) -> None:
    where = "" if typing else f"line {number}: "
    for problem in found.problems:
        around.say(f"{where}{problem}", "care")


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
    entries = read_entries(_text_of_file(file), chosen, around.knowledge, at_of)
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


def _text_of_file(file: str) -> str:
    try:
        return text_of(sys.stdin.buffer.read() if file == "-" else Path(file).expanduser().read_bytes())
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise BookError(f"{shown(file)} cannot be read: {why}; name another file") from None
