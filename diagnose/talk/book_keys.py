"""What the dialog says and does about the daybook: what it knows already, what may be put right, what is left out."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Protocol

from rich.text import Text

from diagnose.answer import Diagnosis
from diagnose.daybook.condition_words import gathered, with_reason
from diagnose.daybook.condition_words import said as words_of
from diagnose.daybook.recording import given_by
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.talk import blocks
from diagnose.talk.book_in_hand import BookInHand
from diagnose.talk.condition_asked import ask_condition
from diagnose.talk.theme import Look

if TYPE_CHECKING:
    from diagnose.daybook.standing import FromBook

KEYS = "b from your book · x keep this plate out of it"
SEE = "Key b: see or put right; x: keep this plate out of your book."
KEEPS = "This plate goes into your daybook; key x keeps it out."
MOST_SHOWN = 4


class Talk(Protocol):
    """What is needed of a dialog."""

    look: Look
    knowledge: Knowledge
    told: dict[str, Any]
    book: BookInHand | None

    def hear(self) -> str:
        """One line, in small letters."""
        ...

    def keep(self, told: dict[str, Any]) -> None:
        """Keep a new state of the plate."""
        ...

    def choose(self, names: list[str]) -> str | None:
        """One of the names by its number; None to leave it."""
        ...


def recall(talk: Talk) -> None:
    """Where nothing is told but the number of a plate in the book, go on with what was told of it.

    Args:
        talk: whose plate it is
    """
    book = talk.book
    if book is None or not book.number or any(talk.told.values()):
        return
    number, told = book.number, book.recall()
    if told:
        talk.told = told
    elif not book.trouble:
        talk.look.show(
            Text(f"Number {number} of your daybook is no spoiled plate. This will be a new one.", style="care")
        )


def take_up(talk: Talk) -> None:
    """Lay what the book knows beside what was told, and say so.

    Args:
        talk: whose plate it is
    """
    book = talk.book
    if book is None:
        return
    book.take_up(talk.told)
    if book.trouble:
        talk.look.show(Text(f"Nothing is kept of this plate: {printable(book.trouble)}", style="care"))
        return
    said = f"{offered_briefly(book.offered, talk.knowledge)} {SEE}" if book.offered else KEEPS
    talk.look.show(Text(""), Text(said, style="faint"))


def offered_briefly(offered: "Sequence[FromBook]", knowledge: Knowledge) -> str:
    """What the book knows, in one glance.

    Args:
        offered: everything it knows
        knowledge: for the answers' words
    """
    words = gathered(offered, lambda item: words_of(item.condition, item.value, knowledge))
    more = f"; and {len(words) - MOST_SHOWN} more" if len(words) > MOST_SHOWN else ""
    return f"From your book: {'; '.join(words[:MOST_SHOWN])}{more}."


def beneath(book: BookInHand | None, told: dict[str, Any]) -> dict[str, Any]:
    """The plate with what the book knows laid beneath.

    Args:
        book: None where none is kept
        told: of the plate itself
    """
    return told if book is None else book.beneath(told)


def known(book: BookInHand | None, told: dict[str, Any]) -> frozenset[str]:
    """The conditions that stand as the book has them.

    Args:
        book: None where none is kept
        told: of the plate itself
    """
    offered = book.offered if book else ()
    return frozenset(item.condition for item in offered if item.condition not in told["conditions"])


def begin(book: BookInHand | None) -> None:
    """Open the book while the person reads and types.

    Args:
        book: None where none is kept
    """
    if book is not None:
        book.begin()


def context(book: BookInHand | None) -> dict[str, Any]:
    """What the book adds to a diagnosis, as arguments of `diagnose`.

    Args:
        book: None where none is kept
    """
    return {} if book is None else {"earlier": book.earlier, "craft": book.craft}


def next_plate(talk: Talk, result: str) -> None:
    """Keep the plate that was made after a change.

    Args:
        talk: whose plate it is
        result: "no-change", "better" or "cured"
    """
    if talk.book is not None:
        talk.book.next_plate(talk.told, result)


def write(talk: Talk, diagnosis: Diagnosis) -> None:
    """Keep the plate as it stands; the person hears of it only where that fails.

    Args:
        talk: whose plate it is
        diagnosis: what is believed of it
    """
    if talk.book is None or not (talk.told["symptoms"] or talk.book.number):  # nothing is told of it yet
        return
    troubled = bool(talk.book.trouble)
    talk.book.keep(talk.told, given_by(diagnosis))
    if talk.book.trouble and not troubled:
        talk.look.show(Text(f"This could not be written into your book: {printable(talk.book.trouble)}", style="care"))


def put_right(talk: Talk) -> None:
    """Show what came from the book, and take in what is right instead.

    Args:
        talk: whose plate it is
    """
    offered = talk.book.offered if talk.book else ()
    if not offered:
        talk.look.show(Text("Nothing of this plate comes from your book.", style="faint"))
        return
    talk.look.show(Text("From your book. Which is not right? Its number, or just Enter.", style="title"))
    for number, item in enumerate(offered, start=1):
        now = talk.told["conditions"].get(item.condition, item.value)
        corrected = "" if now == item.value else f" - now: {words_of(item.condition, now, talk.knowledge)}"
        talk.look.show(blocks.numbered(number, f"{with_reason(item, talk.knowledge)}{corrected}"))
    chosen = talk.choose([item.condition for item in offered])
    if chosen is not None:
        _ask(chosen, talk)


def leave_out(talk: Talk) -> None:
    """Keep this plate out of the book.

    Args:
        talk: whose plate it is
    """
    if talk.book is None:
        talk.look.show(Text("No book is kept now.", style="faint"))
    elif talk.book.leave_out():
        talk.look.show(Text("This plate is left out of your book.", style="faint"))
    else:
        talk.look.show(Text("This plate is left out of your book already.", style="faint"))


def goodbye(talk: Talk) -> tuple[list[str], list[str]]:
    """Say where the plate went, and let go of the book.

    Args:
        talk: whose plate it is

    Returns:
        options for the command that takes the plate up again: those before the command's name, and its own
    """
    book = talk.book
    if book is None:
        return [], []
    if talk.told["symptoms"] and book.ready():
        book.finish(talk.told)
    book.close()
    if book.refused:  # without the book its values would be missing
        talk.told = book.beneath(talk.told)
        return ["--no-book"], []
    if not book.writes or not book.spoiled:
        return [], []
    said = "Kept in your daybook as number {}. `diagnose day` shows the day, `diagnose day undo` takes it back."
    if len(book.numbers) > 1:
        said = "Kept in your daybook as numbers {}. `diagnose day` shows the day, `diagnose day undo` takes back."
    talk.look.show(Text(""), Text(said.format(" and ".join(map(str, book.numbers))), style="faint"))
    return [], ["--kept", str(book.spoiled)]


def _ask(condition: str, talk: Talk) -> None:
    """The right value of one condition, or "don't know"."""
    slip = "That is not one of the answers; just Enter leaves it as it is."
    value = ask_condition(condition, talk, hint="? where you don't know", slip=slip, take_unknown=True)
    if value is not None:
        talk.look.show(Text(f"Noted: {words_of(condition, value, talk.knowledge)}.", style="number"))
