"""Which bath, bottle and holder the next plate will be made with, as the book tells it."""

from diagnose.daybook.book import THINGS, Book, Moment, PlateEntry, ValueEntry, WorkEntry

MADE_WITH = "made-with."  # before the name of a thing: a value that says which one is in use


def in_use(book: Book, moment: Moment) -> dict[str, str]:
    """The name of each thing in use: the one said last, used last, or mixed or opened last.

    Args:
        book: what is known
        moment: when
    """
    found: dict[str, str] = {}
    for entry in book.entries:
        if entry.moment.at > moment.at:
            break
        if isinstance(entry, PlateEntry):
            found |= entry.made_with
        elif isinstance(entry, ValueEntry) and entry.condition.startswith(MADE_WITH):
            found[entry.condition.removeprefix(MADE_WITH)] = entry.value
        elif isinstance(entry, WorkEntry) and entry.work == "new":
            found[entry.thing] = entry.name
    return {thing: name for thing, name in found.items() if name and thing in THINGS}
