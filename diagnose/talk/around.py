"""What every command of the daybook needs around it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from rich.text import Text

from diagnose.entries.knowledge import Knowledge
from diagnose.talk.book_place import open_book, place_of, there_is
from diagnose.talk.theme import Look

if TYPE_CHECKING:  # loaded with the book
    from diagnose.daybook.store import Store


@dataclass
class Around:
    """The book, the screen and the craft of one command.

    Args:
        book: the book that was named; None for the usual one
        look: where and how things are shown
        read: reads the knowledge; many commands need none
        measures: "metric", "us" or "imperial"
    """

    book: str | None
    look: Look
    read: Callable[[], Knowledge]
    measures: str = "metric"

    @property
    def place(self) -> str:
        """Where the book is."""
        return place_of(self.book)

    @cached_property
    def knowledge(self) -> Knowledge:
        """The craft, read when it is first asked for."""
        return self.read()

    @contextmanager
    def opened(self) -> Iterator["Store"]:
        """The book, made where there is none; closed again whatever happens.

        Raises:
            BookError: it cannot be opened; the data is untouched
        """
        store = open_book(self.place)
        try:
            yield store
        finally:
            store.close()

    def empty(self) -> bool:
        """Say so where there is no book yet; reading makes none."""
        if there_is(self.place):
            return False
        self.look.show(
            Text(
                "Your daybook is empty. `diagnose day good` keeps a good plate; the talk keeps spoiled ones by itself."
            )
        )
        return True

    def say(self, words: str, style: str = "why") -> None:
        """One sentence.

        Args:
            words: the sentence
            style: of the theme
        """
        self.look.show(Text(words, style=style))
