"""The daybook at the desk: how the day stands, what was kept, what turned out, and the book itself."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from diagnose.bands import percent
from diagnose.daybook.book import Book, BookEntry, PlateEntry
from diagnose.daybook.said_back import said_back
from diagnose.errors import PlateError, printable
from diagnose.plate import day_number, shown
from diagnose.talk import blocks
from diagnose.talk.around import Around
from diagnose.talk.clock import today
from diagnose.talk.commands import cause_called
from diagnose.talk.day_keeping import dated

MOST_WAITING = 12
BY = {"": "", "person": "your own word", "check": "a check", "cure": "its cure"}
LEADING = 3


def list_entries(around: Around, date: str) -> None:
    """What was kept of a day, each with its number.

    Args:
        around: book and screen
        date: which day; "" for today, or the last day kept where today is empty

    Raises:
        PlateError: it is no date
    """
    if date and day_number(date) is None:
        raise PlateError(f"{shown(date)!r} is not a date; write it as 2026-05-01")
    if around.empty():
        return
    with around.opened() as store:
        book = store.read()
    wanted = date or (today() if today() in book.days else book.days[-1] if book.days else today())
    entries = book.between(wanted, wanted).entries
    if not entries:
        last = f" The last day kept is {book.days[-1]}." if book.days else ""
        around.say(f"Nothing was kept on {wanted}.{last}")
        return
    around.look.show(blocks.heading(wanted))
    for entry in entries:
        words = said_back(entry, around.knowledge).removeprefix(f"{wanted} ")
        around.look.show(blocks.numbered(entry.number, words))


def confirm(around: Around, number: int | None, cause: str, *, not_known: bool = False) -> None:
    """Say which cause was behind a plate; only what is confirmed is learned from.

    Args:
        around: book and screen
        number: of the plate in the book; None lists those that wait
        cause: its name, or the last part of it; "" shows what was thought likely
        not_known: take a confirmed cause back

    Raises:
        PlateError: there is no such plate or cause
    """
    if around.empty():
        return
    with around.opened() as store:
        book = store.read()
        if number is None:
            _waiting(book, around)
            return
        plate = _spoiled(number, book)
        if cause or not_known:
            name = "" if not_known else cause_called(cause, around.knowledge, "`diagnose day confirm` shows names")
            changed = replace(plate, confirmed=name, confirmed_by="" if not_known else "person")
            store.amend(changed)
            more = "" if name else "; what it was is not known any more"
            around.say(f"Kept: {dated(changed, around)}{more}", "act")
        else:
            _thought_likely(plate, around)


def _spoiled(number: int, book: Book) -> PlateEntry:
    entry = next((entry for entry in book.entries if entry.number == number), None)
    if not isinstance(entry, PlateEntry) or entry.good:
        what = "a good plate" if isinstance(entry, PlateEntry) else "no plate"
        raise PlateError(
            f"number {number} of your book is {what}; `diagnose day confirm` lists the spoiled plates that wait for a cause"
        )
    return entry


def _waiting(book: Book, around: Around) -> None:
    """The latest spoiled plates whose cause is not known yet."""
    waiting = [plate for plate in book.plates if not plate.good and not plate.confirmed][-MOST_WAITING:]
    if not waiting:
        around.say("No spoiled plate waits for its cause.")
        return
    around.look.show(blocks.heading("Spoiled plates whose cause is not known yet"))
    for plate in waiting:
        around.look.show(blocks.numbered(plate.number, dated(plate, around)))
    around.say("Where you know it by now: diagnose day confirm NUMBER CAUSE", "faint")


def _thought_likely(plate: PlateEntry, around: Around) -> None:
    """What was thought of a plate when it was made, by the names `confirm` takes."""
    around.look.show(blocks.heading(dated(plate, around)))
    if plate.confirmed:
        around.look.show(blocks.labelled("Known by", BY[plate.confirmed_by]))
    leading = sorted(plate.given.causes.items(), key=lambda pair: -pair[1])[:LEADING] if plate.given else []
    for cause, chance in leading:
        said = f"{printable(cause.partition('/')[2])}: {_title(cause, around)} ({percent(chance)} at the time)"
        around.look.show(blocks.bulleted(said))
    if not leading:
        around.say("Nothing was thought of it at the time.")
    around.say(f"diagnose day confirm {plate.number} CAUSE keeps the one it was.", "faint")


def undo(around: Around) -> None:
    """Take the last entry back.

    Args:
        around: book and screen
    """
    if around.empty():
        return
    with around.opened() as store:
        taken = store.undo()
        if taken is None:
            around.say("There is nothing to take back.", "faint")
            return
    _tell(around, "Taken back", taken.taken)
    _tell(around, "As it was before", taken.restored)


def where(around: Around) -> None:
    """Say where the book is."""
    from diagnose.talk.book_place import there_is, without_password

    place = without_password(around.place)
    around.look.line(printable(place if "://" in place else str(Path(place).absolute())))
    if not there_is(around.place):
        around.say("Nothing has been kept there yet.", "faint")


def backup(around: Around, file: str) -> None:
    """Write a whole copy of the book.

    Args:
        around: book and screen
        file: where to; a file that is there is not written over
    """
    if around.empty():
        return
    with around.opened() as store:
        store.backup(file)
    around.look.line(printable(f"Copied: {file}"))


def check(around: Around) -> bool:
    """Look whether the book is sound.

    Returns:
        whether it is
    """
    if around.empty():
        return True
    with around.opened() as store:
        problems = store.check()
    for problem in problems:
        around.look.line(printable(problem))
    if not problems:
        around.say("The book is sound.", "act")
    return not problems


def _title(cause: str, around: Around) -> str:
    """A cause as it is called; one the knowledge no longer has by its name."""
    entry = around.knowledge.causes.get(cause)
    return entry.title if entry else printable(cause)


def _tell(around: Around, words: str, entries: "Sequence[BookEntry]") -> None:
    for entry in entries:
        around.say(f"{words}: {dated(entry, around)}")
