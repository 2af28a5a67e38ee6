"""Which bath, bottle and holder the next plate will be made with, as the book tells it."""

from diagnose.daybook.book import Book, Moment, PlateEntry, WorkEntry


def in_use(book: Book, moment: Moment) -> dict[str, str]:
    """The name of each thing in use: the one used last, or taken, mixed or opened since.

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
        elif isinstance(entry, WorkEntry) and entry.work in {"new", "taken"}:
            found[entry.thing] = entry.name
    return {thing: name for thing, name in found.items() if name}
