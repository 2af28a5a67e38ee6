"""Conditions counted from a book, and counts worth knowing besides."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from diagnose.daybook.book import USUAL, Book, Moment
from diagnose.daybook.saying import counted, days_between, when
from diagnose.daybook.shelf import USUAL_AREA, Mark, Shelf, Tally, Told
from diagnose.daybook.works import SWAPPED
from diagnose.entries.knowledge import Knowledge
from diagnose.units import UnitError, read_amount

DONE = {
    "new": "was new",
    "filtered": "was filtered",
    "sunned": "was sunned",
    "aired": "was aired",
    "topped-up": "was topped up",
    "acid-added": "was given acid",
    "alkali-added": "was given alkali",
    "silver-added": "was given silver",
    "cleaned": "was cleaned",
    "mended": "was mended",
    "swapped": "was changed for another",
}
CLEARED = ("new", "filtered", "sunned", "aired")  # after which the plates through a bath are counted afresh
NEW_BATH_PLATES = 10  # as the knowledge asks: "fewer than about ten plates"
SURELY_STILL_NEW = 5  # plates after somebody called a bath new: judged
DAYS_WITHOUT_A_CLOCK = 3  # from here on days tell the hours a collodion stood well enough: judged
Counted = Iterator[tuple[str, str, str]]


class Count(NamedTuple):
    """What went through a thing since something was done to it.

    Args:
        thing: kind of thing
        name: which
        work: what was done
        moment: when
        plates: made with it since
        area: of those plates [cm²]
        days: gone since [d]
    """

    thing: str
    name: str
    work: str
    moment: Moment
    plates: int
    area: float
    days: int


class Counts(NamedTuple):
    """What a book can count for one moment.

    Args:
        since: for each thing in use and each work done to it, the latest first
        bath_plates: plates through the bath since it was new, or since the book began
        bath_area: their area [cm²]
        plates_today: plates of the day so far
        minutes: since the day's first plate [min]; None where it has none, or no clock was noted
    """

    since: tuple[Count, ...]
    bath_plates: int
    bath_area: float
    plates_today: int
    minutes: float | None


def counts_of(book: Book, knowledge: Knowledge, moment: Moment, made_with: Mapping[str, str]) -> Counts:
    """Plates since each work, ages, the area through the bath, and the time since the day's first plate.

    Args:
        book: the plates and works before
        knowledge: for the size of plates, where it was told once
        moment: for when it is counted
        made_with: kind of thing -> name of the one in use
    """
    shelf = Shelf(knowledge, book.until(moment).entries)
    since: list[tuple[int, Count]] = []
    for (thing, name), tally in shelf.tallies.items():
        if name == made_with.get(thing, USUAL):
            for work, mark in tally.done.items():
                days = days_between(mark.moment.day, moment.day)
                if work in DONE and days is not None:
                    plates, area = tally.plates - mark.plates, tally.area - mark.area
                    since.append((mark.order, Count(thing, name, work, mark.moment, plates, area, days)))
    bath = shelf.tally("bath", made_with.get("bath", USUAL))
    new = bath.new
    first, today = shelf.first_today, shelf.first_today is not None and shelf.first_today.day == moment.day
    minutes = (moment.at - first.at) / 60 if first and today and first.clock and moment.clock else None
    return Counts(
        tuple(count for _, count in sorted(since, key=lambda pair: -pair[0])),
        bath.plates - (new.plates if new else 0),
        bath.area - (new.area if new else 0.0),
        shelf.plates_today if today else 0,
        minutes,
    )


def counted_conditions(shelf: Shelf, moment: Moment, made_with: Mapping[str, str]) -> Counted:
    """Conditions that follow from what is in the book: name, value and why.

    Args:
        shelf: what stands behind the plate
        moment: when the plate is made
        made_with: kind of thing -> name of the one it is made with
    """
    for condition, thing in (("collodion_age", "collodion"), ("developer_age", "developer")):
        yield from _age(condition, shelf.tally(thing, made_with.get(thing, USUAL)), shelf, moment, made_with)
    yield from _rested(shelf.tally("collodion", made_with.get("collodion", USUAL)), shelf, moment, made_with)
    bath, fixer = (shelf.tally(thing, made_with.get(thing, USUAL)) for thing in ("bath", "fixer"))
    yield from _bath_plates(bath, shelf.standing("bath_plates", moment, made_with), moment)
    yield from _bath_new(bath, shelf.standing("bath_new", moment, made_with), moment)
    yield from _fixer_plates(fixer, shelf.standing("fixer_plates", moment, made_with), moment)
    yield from _matched(shelf, moment, made_with)


def _age(condition: str, tally: Tally, shelf: Shelf, moment: Moment, made_with: Mapping[str, str]) -> Counted:
    """A later word of a person's wins over the date it was mixed on."""
    mark, told = tally.new, shelf.standing(condition, moment, made_with)
    days = days_between(mark.moment.day, moment.day) if mark else None
    if mark and days is not None and (told is None or told.mark.order < mark.order):
        yield condition, f"{days} d", f"new {when(mark.moment, moment)}"


def _rested(tally: Tally, shelf: Shelf, moment: Moment, made_with: Mapping[str, str]) -> Counted:
    found, told = tally.last("new", "topped-up", SWAPPED), shelf.standing("collodion_rested", moment, made_with)
    if found is None or found[0] == SWAPPED or (told is not None and told.mark.order > found[1].order):
        return
    work, mark = found
    said = f"it {DONE[work]} {when(mark.moment, moment)}"
    days = days_between(mark.moment.day, moment.day)
    if moment.clock and mark.moment.clock:
        hours = (moment.at - mark.moment.at) / 3600
        yield "collodion_rested", f"{hours:.0f} h" if hours >= 10 else f"{hours:.1f} h", said
    elif days is not None and days >= DAYS_WITHOUT_A_CLOCK:
        yield "collodion_rested", f"{days * 24} h", said


def _bath_plates(tally: Tally, told: Told | None, moment: Moment) -> Counted:
    found = tally.last(*CLEARED, SWAPPED)
    if told is not None and (found is None or told.mark.order > found[1].order):
        yield from _told_and_since("bath_plates", told, _plates_since(tally, told.mark), moment)
    elif found is not None and found[0] != SWAPPED:
        work, mark = found
        yield "bath_plates", f"{_plates_since(tally, mark):.0f} plates", _since(tally, mark, work, moment)


def _fixer_plates(tally: Tally, told: Told | None, moment: Moment) -> Counted:
    """Per litre, so it must be known how much there is; what was topped up since is anybody's guess."""
    new, more = tally.new, tally.done.get("topped-up")
    litres = _litres(new.amount) if new else None
    if told is not None and (new is None or told.mark.order > new.order):
        since = _plates_since(tally, told.mark)
        if not since:
            yield from _told_and_since("fixer_plates", told, 0.0, moment)
        elif litres:
            yield from _told_and_since("fixer_plates", told, since / litres, moment)
    elif new is not None and litres and (more is None or more.order < new.order):
        words = f"{_since(tally, new, 'new', moment)}, in {new.amount.strip()}"
        yield "fixer_plates", f"{_plates_since(tally, new) / litres:.0f} plates", words


def _told_and_since(condition: str, told: Told, since: float, moment: Moment) -> Counted:
    try:
        count = read_amount(told.value, "plates") + since
    except UnitError:
        return
    later = f", and {counted(since, 'plate')} since" if since else ""
    yield condition, f"{count:.0f} plates", f"{told.value} told {when(told.mark.moment, moment)}{later}"


def _bath_new(tally: Tally, told: Told | None, moment: Moment) -> Counted:
    mark = tally.new
    if told is not None and (mark is None or told.mark.order > mark.order):
        since = _plates_since(tally, told.mark)
        said = f"told {when(told.mark.moment, moment)}"
        later = f"{said}, and {counted(since, 'plate')} since" if since else said
        is_new = told.value.casefold() == "yes"
        if not is_new or since < SURELY_STILL_NEW:
            yield "bath_new", told.value, said if not is_new else later
        elif since >= NEW_BATH_PLATES:
            yield "bath_new", "no", later
    elif mark is not None:
        is_new = _plates_since(tally, mark) < NEW_BATH_PLATES
        yield "bath_new", "yes" if is_new else "no", _since(tally, mark, "new", moment)
    elif SWAPPED not in tally.done and tally.area / USUAL_AREA >= NEW_BATH_PLATES:
        yield "bath_new", "no", f"{counted(tally.plates, 'plate')} in the book were made in it"


def _matched(shelf: Shelf, moment: Moment, made_with: Mapping[str, str]) -> Counted:
    collodion, bath = made_with.get("collodion", USUAL), made_with.get("bath", USUAL)
    good = shelf.pairs.get((collodion, bath), 0)
    renewed = [
        found[1].order
        for thing, name in (("collodion", collodion), ("bath", bath))
        if (found := shelf.tally(thing, name).last("new", SWAPPED))
    ]
    if good and good > max(renewed, default=0):
        told = shelf.standing("collodion_matched", moment, made_with)
        if told is None or told.mark.order < good:
            yield "collodion_matched", "yes", "a good plate was made with both"


def _plates_since(tally: Tally, mark: Mark) -> float:
    """What went through since, as plates of 13 x 18 cm."""
    return (tally.area - mark.area) / USUAL_AREA


def _since(tally: Tally, mark: Mark, work: str, moment: Moment) -> str:
    plates, usual = tally.plates - mark.plates, _plates_since(tally, mark)
    done = f"since it {DONE[work]} {when(mark.moment, moment)}"
    if round(usual) == plates:
        return f"{counted(plates, 'plate')} {done}"
    return f"{counted(plates, 'plate')} {done}, as much as {round(usual)} of 13 x 18 cm"


def _litres(amount: str) -> float | None:
    """How much of a thing was made [L]; None where it was not told so that it can be read."""
    try:
        litres = read_amount(amount, "L")
    except UnitError:
        return None
    return litres if litres > 0 else None
