"""The daybook during a talk: opened while the person types, filled by itself, and left alone where that is wished.

The library behind the book takes longer to load than a diagnosis to be made. So a thread opens the book while the person says what
the plate shows. If the book cannot be opened, that is one line, and the talk goes on without it.
"""

import threading
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from diagnose.daybook.book import Book, Given, Outcome, PlateEntry
from diagnose.daybook.recording import plate_entry
from diagnose.daybook.using import in_use
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import DiagnoseError
from diagnose.plate import Plate
from diagnose.talk.book_place import open_book
from diagnose.talk.clock import now

if TYPE_CHECKING:
    from diagnose.daybook.standing import FromBook
    from diagnose.daybook.store import Store
    from diagnose.reasoning.craft import Craft

Told = dict[str, Any]
PATIENCE = 5.0  # s; so long a sitter is let wait for the book: judged


class BookInHand:
    """One plate and the book it goes into.

    Args:
        place: where the book is
        knowledge: the craft
        number: of the plate in the book, where it was kept before; 0 for a new plate
    """

    def __init__(self, place: str, knowledge: Knowledge, number: int = 0) -> None:
        self.place, self.knowledge, self.number = place, knowledge, number
        self.moment = now()
        self.refused = False
        self.numbers: list[int] = []
        self.spoiled = 0
        self.trouble = ""
        self.offered: tuple[FromBook, ...] = ()
        self.earlier: Mapping[str, float] = {}
        self.craft: Craft | None = None
        self._store: Store | None = None
        self._book = Book()
        self._entry: PlateEntry | None = None
        self._older_tries, self._older_checks = 0, frozenset[str]()
        self._made_with: dict[str, str] = {}
        self._thread: threading.Thread | None = None

    def begin(self) -> None:
        """Open the book while the person reads or types; a second time nothing happens."""
        if self._thread is None:
            self._thread = threading.Thread(target=self._open, daemon=True)
            self._thread.start()

    def _open(self) -> None:
        """Open and read; what goes wrong is kept for the person, for whom this thread has no words."""
        try:
            self._store = open_book(self.place)
            self._book = self._store.read()
        except DiagnoseError as error:
            self.trouble = str(error)
        except Exception as error:  # noqa: BLE001 - a fault of the book must not cost a sitter waiting the answer
            self.trouble = f"the daybook cannot be used now ({type(error).__name__}); nothing of it was changed"

    def ready(self) -> bool:
        """Whether there is a book to write in, waiting until that is known."""
        self.begin()
        if self._thread is not None:
            self._thread.join(PATIENCE)
            if self._thread.is_alive() and not self.trouble:
                self.trouble = "it does not answer; see whether it can be reached"
        return not self.trouble and self._store is not None

    def recall(self) -> Told | None:
        """What was told of the plate that was kept before; None where there is none, or it can no longer be read."""
        if not self.number or not self.ready() or (kept := self._kept()) is None:
            return None
        try:
            return Plate.read(kept.told).told()
        except DiagnoseError:
            return None

    def _kept(self) -> PlateEntry | None:
        return next((entry for entry in self._book.plates if entry.number == self.number and not entry.good), None)

    def take_up(self, told: Told) -> None:
        """Find out what the book knows of the plate already.

        Args:
            told: the plate so far
        """
        if not self.ready():
            return
        from diagnose.daybook.known import known_of

        kept = self._kept()
        self.number = kept.number if kept else 0
        if kept is not None:
            self._entry, self.moment, self._made_with = kept, kept.moment, dict(kept.made_with)
            self.numbers, self.spoiled = [kept.number], kept.number
            self._book = Book(tuple(entry for entry in self._book.entries if entry.number != kept.number))
            self._older_tries = _tried_before(self._book, kept, told["tried"])
        else:
            self._made_with = in_use(self._book, self.moment)
        try:
            known = known_of(self._book, self.knowledge, self.moment, self._made_with, self._setting, Plate.read(told))
        except DiagnoseError as error:
            self.trouble = str(error)
            return
        self.craft, self.earlier, self.offered = known.craft, known.earlier, known.offered

    def beneath(self, told: Told) -> Told:
        """The plate with what the book knows laid beneath; what was told of the plate itself stands.

        Args:
            told: the plate
        """
        offered = {item.condition: item.value for item in self.offered}
        return {**told, "conditions": {**offered, **told["conditions"]}} if offered else told

    def keep(self, told: Told, given: Given | None, outcome: Outcome = "spoiled") -> None:
        """Write the plate as it is told now; what the book knew by itself it will know again, and rightly.

        Args:
            told: the plate
            given: what is believed of it
            outcome: "good" or "spoiled"
        """
        if self._store is None or not self.writes:
            return
        mine = {
            **told,
            "checks": {name: found for name, found in told["checks"].items() if name not in self._older_checks},
            "tried": told["tried"][self._older_tries :],
        }
        entry = plate_entry(self.moment, outcome, mine, self.knowledge, made_with=self._made_with, given=given)
        try:
            if self._entry is None:
                (self.number,) = self._store.add(entry)
                self.numbers.append(self.number)
            else:
                old = self._entry
                entry = replace(
                    entry, confirmed=old.confirmed, confirmed_by=old.confirmed_by, who=old.who, note=old.note
                )
                if replace(entry, number=self.number) != old:
                    self._store.amend(replace(entry, number=self.number), joined=True)
            self._entry = replace(entry, number=self.number)
            self.spoiled = self.spoiled if entry.good else self.number
        except DiagnoseError as error:
            self.trouble = str(error)

    @property
    def writes(self) -> bool:
        """Whether the plate goes into the book."""
        return self._store is not None and not self.refused and not self.trouble

    def finish(self, told: Told) -> None:
        """Keep a plate that was left before it was written down, as when the talk is broken off.

        Args:
            told: the plate
        """
        if self._entry is None and not self.numbers:
            if self.craft is None:
                self.take_up(told)
            self.keep(told, None)

    def next_plate(self, told: Told, result: str) -> None:
        """The plate after a change: good, or spoiled still by the same signs; it is a plate of its own in the book.

        Args:
            told: the plate so far, with what was just tried
            result: "no-change", "better" or "cured"
        """
        if not self.writes:
            return
        self.keep(told, self._entry.given if self._entry else None)
        self._entry, self.moment = None, now()
        self._older_tries, self._older_checks = len(told["tried"]), frozenset(told["checks"])
        if result == "cured":
            spoiled = self.number
            self.keep({"symptoms": {}, "conditions": {}, "checks": {}, "tried": []}, None, "good")
            self._confirm(spoiled)

    def _confirm(self, number: int) -> None:
        """Write down the cause that the cure singles out, if it does; nothing else is ever learned from."""
        from diagnose.daybook.learning import newly_confirmed

        if self._store is None or self.trouble:
            return
        try:
            today = self._store.read(self.moment.day, self.moment.day)
            self._store.amend(
                *(plate for plate in newly_confirmed(today, self.knowledge) if plate.number == number), joined=True
            )
        except DiagnoseError as error:
            self.trouble = str(error)

    def leave_out(self) -> bool:
        """Take the plate out of the book again and keep nothing more of it. False where it was left out already."""
        if self.refused:
            return False
        self.refused = True
        try:
            if self._store is not None and not self.trouble:
                for number in self.numbers:
                    self._store.take_back(number)
        except DiagnoseError as error:
            self.trouble = str(error)
        self._entry = None
        return True

    def close(self) -> None:
        """Let go of the book; one that does not answer is not waited for."""
        if self._thread is not None and not self._thread.is_alive() and self._store is not None:
            self._store.close()

    def _setting(self, name: str) -> str | None:
        return self._store.setting(name) if self._store is not None else None


def _tried_before(book: Book, kept: PlateEntry, tried: Sequence[Mapping[str, str]]) -> int:
    """How many of the remedies told with a plate belong to plates before it, where a talk went over several."""
    found: list[Mapping[str, str]] = []
    before = 0
    for plate in reversed([plate for plate in book.plates if plate.number < kept.number]):
        if plate.good or plate.moment.day != kept.moment.day or not plate.told.get("tried"):
            break
        found = [*plate.told["tried"], *found]
        if list(tried[: len(found)]) == found:
            before = len(found)
    return before
