"""The paper log sheet: one page to print, for those who keep computers away from silver."""

from typing import NamedTuple

from diagnose.daybook.book import USUAL, Book, Thing
from diagnose.daybook.codes import codes, mark
from diagnose.daybook.using import in_use as names_in_use
from diagnose.entries.knowledge import Knowledge

ROWS = 14  # as many as leave room for wet hands on one page
IN_HEAD: tuple[Thing, ...] = ("bath", "collodion", "developer", "fixer")


class InUse(NamedTuple):
    """What stands in the head of the sheet about one thing.

    Args:
        thing: its kind
        name: which one is in use
        made: the day it was made or opened; "" where the book does not say
        filtered: the day it was last filtered, or ""
    """

    thing: str
    name: str = ""
    made: str = ""
    filtered: str = ""


def sheet(book: Book, day: str, knowledge: Knowledge) -> str:
    """The sheet as one self-contained page of HTML.

    Args:
        book: for what is in use; an empty one leaves the head to be written in
        day: the date it is for; "" leaves it to be written in
        knowledge: the craft
    """
    from jinja2 import Environment, PackageLoader, StrictUndefined

    pages = Environment(
        loader=PackageLoader("diagnose.daybook"), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    )
    return pages.get_template("sheet.html").render(
        day=day,
        in_use=[in_use(book, thing, day) for thing in IN_HEAD],
        rows=ROWS,
        signs=[(code, knowledge.symptoms[name].title) for code, name in codes(knowledge).items()],
        mark=mark(knowledge),
        example=example(knowledge),
    )


def example(knowledge: Knowledge) -> str:
    """A line as it is typed at the desk, with numbers of this sheet.

    Args:
        knowledge: the craft
    """
    placed = {code: knowledge.symptoms[name].attributes.get("place", ()) for code, name in codes(knowledge).items()}
    low = next((f" {code} lower-part" for code, places in placed.items() if "lower-part" in places), "")
    other = next((f" {code}" for code, places in placed.items() if not places), "")
    return f"14:20 bad{other}{',' if other and low else ''}{low}; 4 s; holder B"


def in_use(book: Book, thing: Thing, day: str = "") -> InUse:
    """Which one of a kind is in use, and since when.

    Args:
        book: plates and works
        thing: the kind
        day: the last day that counts; "" counts all
    """
    past = book.between("", day) if day else book
    name = names_in_use(past, past.entries[-1].moment).get(thing, USUAL) if past.entries else USUAL
    works = [work for work in past.works if work.thing == thing]
    made = filtered = ""
    for work in works:
        if work.name == name and work.work == "new":
            made, filtered = work.moment.day, ""
        elif work.name == name and work.work == "filtered":
            filtered = work.moment.day
    return InUse(thing, name, made, filtered)
