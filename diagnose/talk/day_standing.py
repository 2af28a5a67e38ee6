"""How the day stands: plates so far, what is in use, what has been counted, what still holds."""

from diagnose.daybook.book import Moment, PlateEntry
from diagnose.daybook.condition_words import gathered, said, with_reason
from diagnose.daybook.counting import DONE, Count, Counts, counts_of
from diagnose.daybook.said_back import said_back
from diagnose.daybook.saying import counted, when
from diagnose.daybook.standing import FromBook, from_book
from diagnose.daybook.using import in_use
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
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
    today = book.until(moment).between(moment.day, moment.day)
    counts = counts_of(book, around.knowledge, moment, made_with)
    around.look.show(blocks.heading(f"Today, {moment.day}"))
    around.look.show(blocks.item(_plates(today.plates, counts)))
    if today.plates:
        around.look.show(blocks.labelled("Last", said_back(today.plates[-1], around.knowledge)))
    if made_with:
        around.look.show(blocks.labelled("In use", printable(", ".join(map(" ".join, made_with.items())))))
    if counts.since:
        around.look.show(blocks.heading("Done, and plates since"))
    for count in counts.since[:MOST_COUNTS]:
        around.look.show(blocks.bulleted(_count(count, moment)))
    known = gathered(from_book(book, around.knowledge, moment, made_with), lambda item: _known(item, around.knowledge))
    if known:
        around.look.show(blocks.heading("Known for the next plate"))
        for words in known:
            around.look.show(blocks.bulleted(words))
        around.say("Not right? diagnose day set NAME=VALUE", "faint")


def _known(item: FromBook, knowledge: Knowledge) -> str:
    """What is known, and whence where that is not of today."""
    if "today" in item.words and not item.condition.endswith("_plates"):
        return said(item.condition, item.value, knowledge)
    return with_reason(item, knowledge)


def _plates(plates: tuple[PlateEntry, ...], counts: Counts) -> str:
    if not plates:
        return "No plate yet."
    good = sum(plate.good for plate in plates)
    words = f"{counted(len(plates), 'plate')}: {good} good, {len(plates) - good} spoiled"
    minutes = round(counts.minutes or 0)
    return f"{words}; {counted(minutes, 'minute')} since the first." if minutes > 0 else f"{words}."


def _count(count: Count, moment: Moment) -> str:
    """Such as: bath: filtered on 20 May; 34 plates since."""
    name = printable(f"{count.thing} {count.name}".strip())
    done = DONE[count.work].removeprefix("was ")
    return f"{name}: {done} {when(count.moment, moment)}; {counted(count.plates, 'plate')} since"
