"""How the day stands: plates so far, what is in use, what has been counted, what still holds."""

from diagnose.daybook.book import Moment, PlateEntry
from diagnose.daybook.counting import DONE, Count, Counts, counts_of
from diagnose.daybook.said_back import said_back
from diagnose.daybook.saying import counted, when
from diagnose.daybook.standing import FromBook, from_book
from diagnose.daybook.using import in_use
from diagnose.talk import blocks
from diagnose.talk.around import Around
from diagnose.talk.clock import now

MOST_COUNTS = 8


def show_day(around: Around) -> None:
    """How the day stands now.

    Args:
        around: book and screen
    """
    if around.empty():
        return
    with around.opened() as store:
        book = store.read()
    moment = now()
    made_with = in_use(book, moment)
    today = book.between(moment.day, moment.day)
    counts = counts_of(book, around.knowledge, moment, made_with)
    around.look.show(blocks.heading(f"Today, {moment.day}"))
    around.look.show(blocks.item(_plates(today.plates, counts)))
    if today.plates:
        around.look.show(blocks.labelled("Last", said_back(today.plates[-1], around.knowledge)))
    if made_with:
        around.look.show(blocks.labelled("In use", ", ".join(f"{thing} {name}" for thing, name in made_with.items())))
    if counts.since:
        around.look.show(blocks.heading("Counted"))
    for count in counts.since[:MOST_COUNTS]:
        around.look.show(blocks.bulleted(_count(count, moment)))
    standing = from_book(book, around.knowledge, moment, made_with)
    if standing:
        around.look.show(blocks.heading("Known for the next plate; put right with `diagnose day set NAME=VALUE`"))
    for item in standing:
        around.look.show(blocks.bulleted(value_words(item)))


def value_words(item: FromBook) -> str:
    """A value from the book, with where it comes from.

    Args:
        item: from `from_book`
    """
    return f"{item.condition.replace('_', ' ')} {item.value} ({item.words})"


def _plates(plates: tuple[PlateEntry, ...], counts: Counts) -> str:
    if not plates:
        return "No plate yet."
    good = sum(plate.good for plate in plates)
    said = f"{counted(len(plates), 'plate')}: {good} good, {len(plates) - good} spoiled"
    return f"{said}; {counted(counts.minutes, 'minute')} since the first." if counts.minutes else f"{said}."


def _count(count: Count, moment: Moment) -> str:
    """Such as: bath: filtered on 20 May; 34 plates since."""
    name = f"{count.thing} {count.name}".strip()
    done = DONE[count.work].removeprefix("was ")
    return f"{name}: {done} {when(count.moment, moment)}; {counted(count.plates, 'plate')} since"
