"""What stands behind the plates at one moment of a book: what was done to each thing, what went through it, what was told."""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple, cast

from diagnose.daybook.book import USUAL, BookEntry, Moment, PlateEntry, Thing, ValueEntry, WorkEntry
from diagnose.daybook.saying import days_between
from diagnose.daybook.works import SWAPPED, deeds, newly_tried, touched_by
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.observed import Condition
from diagnose.facts import UNKNOWN_WORDS, read_condition

USUAL_AREA = 13.0 * 18.0  # cm²; the plate the knowledge counts in
FOR_ITSELF = ("plate", "day")  # an answer that stands in no thing
# The answers that are held against those of the last good plate.
COMPARED = ("support", "plate_size", "light", "window_glass", "wash_water", "room_temperature", "room_humidity")
Conditions = Mapping[str, str]


class Mark(NamedTuple):
    """When something was done or told, and how much had gone through the thing by then.

    Args:
        order: place in the book
        moment: when
        plates: that had been made with the thing
        area: of those plates [cm²]
        amount: as told with the work, "" without
    """

    order: int
    moment: Moment
    plates: int
    area: float
    amount: str = ""


class Told(NamedTuple):
    """An answer and when it was given.

    Args:
        value: as told; "" where it was taken back
        mark: when
        for_day: whether it was told for a day rather than for one plate
    """

    value: str
    mark: Mark
    for_day: bool


class LastGood(NamedTuple):
    """The last plate that came out well.

    Args:
        mark: when
        plate: the plate
        told: the answers that stood for it, of those worth comparing
    """

    mark: Mark
    plate: PlateEntry
    told: Mapping[str, Told]


class Tally:
    """One thing: what has gone through it, and what was done to it last."""

    __slots__ = ("area", "done", "plates")

    def __init__(self) -> None:
        self.plates, self.area = 0, 0.0
        self.done: dict[str, Mark] = {}

    def last(self, *what: str) -> tuple[str, Mark] | None:
        """The latest of some deeds; None where none of them is in the book."""
        found = [(self.done[name], name) for name in what if name in self.done]
        if not found:
            return None
        mark, name = max(found, key=lambda pair: pair[0].order)
        return name, mark

    @property
    def new(self) -> Mark | None:
        """When it was new; None where that is not known of the one that is there now."""
        found = self.last("new", SWAPPED)
        return found[1] if found and found[0] == "new" else None


class Shelf:
    """What stands behind the plates; it is shown the entries of a book one after another.

    Args:
        knowledge: how long each answer holds
        entries: to begin with, in order
    """

    def __init__(self, knowledge: Knowledge, entries: Iterable[BookEntry] = ()) -> None:
        self.knowledge = knowledge
        self.order = 0
        self.tallies: dict[tuple[str, str], Tally] = {}
        self.told: dict[tuple[str, str], Told] = {}
        self.logged: set[str] = set()
        self.pairs: dict[tuple[str, str], int] = {}
        self.good: LastGood | None = None
        self.last: PlateEntry | None = None
        self.last_order = 0
        self.first_today: Moment | None = None
        self.plates_today = 0
        for entry in entries:
            self.take(entry)

    def take(self, entry: BookEntry) -> None:
        """Take in the next entry.

        Args:
            entry: not earlier than those before it
        """
        self.order += 1
        match entry:
            case PlateEntry():
                self._take_plate(entry)
            case WorkEntry():
                self._do(entry)
                self.logged.add(entry.thing)
            case ValueEntry():
                condition = self.knowledge.conditions.get(entry.condition)
                if condition is not None:
                    self._keep(entry.condition, condition, entry.value, entry.moment, entry.name, for_day=True)
            case _:
                pass

    def tally(self, thing: str, name: str) -> Tally:
        """What is known of one thing.

        Args:
            thing: kind of thing
            name: which
        """
        found = self.tallies.get((thing, name))
        if found is None:
            found = self.tallies[thing, name] = Tally()
        return found

    def standing(self, name: str, moment: Moment, made_with: Conditions) -> Told | None:
        """The answer to a condition that still holds; None where there is none.

        Args:
            name: the condition
            moment: when it is asked for
            made_with: kind of thing -> name of the one in use
        """
        entry = self.knowledge.conditions.get(name)
        if entry is None:
            return None
        thing = "" if entry.lasts in FOR_ITSELF else made_with.get(entry.lasts, USUAL)
        told = self.told.get((name, thing))
        if told is None or not told.value:
            return None
        if entry.lasts in FOR_ITSELF:
            return told if told.mark.moment.day == moment.day else None
        ended = self.tally(entry.lasts, thing).last("new", SWAPPED, *entry.until)
        if ended is not None and ended[1].order > told.mark.order:
            return None
        if entry.most_days:
            days = days_between(told.mark.moment.day, moment.day)
            if days is None or days >= entry.most_days:
                return None
        return told

    def area_of(self, plate: PlateEntry) -> float:
        """The area of a plate: as noted, or of the size that stood, or of a usual plate [cm²].

        Args:
            plate: from the book
        """
        if plate.size is not None:
            return plate.size
        told, entry = (
            self.standing("plate_size", plate.moment, plate.made_with),
            self.knowledge.conditions.get("plate_size"),
        )
        area = read_condition("plate_size", told.value, entry) if told and entry else ""
        return USUAL_AREA if isinstance(area, str) else area

    def _take_plate(self, plate: PlateEntry) -> None:
        if self.first_today is None or self.first_today.day != plate.moment.day:
            self.first_today, self.plates_today = plate.moment, 0
        self.plates_today += 1
        for name, value in told_conditions(plate).items():
            entry = self.knowledge.conditions.get(name)
            if entry is not None and entry.lasts != "plate" and value.strip().casefold() not in UNKNOWN_WORDS:
                self._keep(name, entry, value, plate.moment, plate.uses(entry.lasts), for_day=False)
        if plate.good:
            told = {name: found for name in COMPARED if (found := self.standing(name, plate.moment, plate.made_with))}
            self.good = LastGood(Mark(self.order, plate.moment, 0, 0.0), plate, told)
            self.pairs[plate.uses("collodion"), plate.uses("bath")] = self.order
        area = self.area_of(plate)
        for thing in ("bath", "collodion", "developer", "fixer", "holder", "camera", "varnish"):
            tally = self.tally(thing, plate.uses(thing))
            tally.plates += 1
            tally.area += area
        since, self.last_order = self.last_order, self.order
        self.order += 1  # what was tried was done after the plate
        for remedy in newly_tried(plate, self.last):
            thing = touched_by(remedy, self.knowledge)
            done = self.tally(thing, plate.uses(thing)).done.get(remedy) if thing else None
            if thing and (done is None or done.order < since):  # else it was logged as a work, too
                work = WorkEntry(
                    moment=plate.moment,
                    work="mended",
                    thing=cast("Thing", thing),
                    name=plate.uses(thing),
                    remedy=remedy,
                )
                self._do(work)
        self.last = plate

    def _do(self, work: WorkEntry) -> None:
        tally = self.tally(work.thing, work.name)
        mark = Mark(self.order, work.moment, tally.plates, tally.area, work.amount)
        tally.done |= dict.fromkeys(deeds(work), mark)

    def _keep(self, name: str, entry: Condition, value: str, moment: Moment, which: str, *, for_day: bool) -> None:
        """What was told of a plate was told before the plate went through anything."""
        thing = USUAL if entry.lasts in FOR_ITSELF else which
        tally = self.tally(entry.lasts, thing)
        mark = Mark(self.order, moment, tally.plates, tally.area)
        self.told[name, thing] = Told(value.strip(), mark, for_day)


def told_conditions(plate: PlateEntry) -> dict[str, str]:
    """The conditions told of a plate, as text.

    Args:
        plate: from the book
    """
    given: Any = plate.told.get("conditions", {})
    if not isinstance(given, Mapping):
        return {}
    words: dict[str, str] = {}
    for name, value in given.items():
        if isinstance(value, bool):
            words[name] = "yes" if value else "no"
        elif isinstance(value, str | int | float):
            words[name] = str(value)
    return words
