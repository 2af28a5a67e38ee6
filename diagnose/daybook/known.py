"""Everything the book brings to the diagnosis of a plate."""

from collections.abc import Callable, Mapping
from typing import NamedTuple

from diagnose.answer import Diagnosis, diagnose
from diagnose.daybook.book import Book, Moment
from diagnose.daybook.context import earlier
from diagnose.daybook.learning import Rates, learning_on, rates, with_rates
from diagnose.daybook.standing import FromBook, from_book
from diagnose.entries.knowledge import Knowledge
from diagnose.plate import Plate
from diagnose.reasoning.craft import Craft, craft_of

Setting = Callable[[str], str | None]
LEARNING, LEARNING_SINCE = "learning", "learning-since"


class Known(NamedTuple):
    """What a book knows before a plate is told.

    Args:
        offered: conditions that stand, or are counted
        earlier: cause -> what the earlier plates of the session add to its log-odds [nat]
        craft: the knowledge with the studio's own rates
    """

    offered: tuple[FromBook, ...]
    earlier: Mapping[str, float]
    craft: Craft


def known_of(
    book: Book,
    knowledge: Knowledge,
    moment: Moment,
    made_with: Mapping[str, str],
    setting: Setting,
    plate: Plate | None = None,
) -> Known:
    """What the book knows at a moment.

    Args:
        book: everything in it
        knowledge: the craft
        moment: when the plate was made
        made_with: kind of thing -> name of the one in use
        setting: the book's settings, by name
        plate: what is told of the plate itself already; it wins, and what was tried with it is not counted twice

    Source: `standing`, `context` and `learning` say how each is found.
    """
    before = book.until(moment)
    craft = studio_craft(before, craft_of(knowledge), setting)
    told = dict(plate.conditions) if plate else {}
    tried = [step.remedy for step in plate.tried] if plate else []
    return Known(
        from_book(before, knowledge, moment, made_with, told), earlier(before, moment, made_with, craft, tried), craft
    )


def studio_craft(book: Book, craft: Craft, setting: Setting) -> Craft:
    """The knowledge with the rates a studio's confirmed plates have taught, unless that is switched off.

    Args:
        book: the plates so far
        craft: the knowledge made ready
        setting: the book's settings, by name
    """
    return with_rates(craft, studio_rates(book, craft.knowledge, setting))


def studio_rates(book: Book, knowledge: Knowledge, setting: Setting) -> Rates:
    """The rates of a studio as its settings want them.

    Args:
        book: the plates so far
        knowledge: the craft
        setting: the book's settings, by name
    """
    on, since = learning_on(setting(LEARNING)), setting(LEARNING_SINCE) or ""
    return rates(book, knowledge, on=on, since=since, kept_only=True)


def diagnose_with(plate: Plate, known: Known, mode: str, measures: str = "metric") -> tuple[Plate, Diagnosis]:
    """A plate with what the book knows laid beneath what was told, and its diagnosis.

    Args:
        plate: as told
        known: from `known_of`
        mode: "sitter-waiting" or "find-out"
        measures: "metric", "us" or "imperial"
    """
    told = plate.told()
    told["conditions"] = {item.condition: item.value for item in known.offered} | dict(plate.conditions)
    fuller = Plate.read(told)
    found = diagnose(
        fuller, known.craft.knowledge, mode=mode, measures=measures, earlier=known.earlier, craft=known.craft
    )
    return fuller, found
