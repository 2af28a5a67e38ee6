"""Signs, things and works of a book, in words."""

from collections.abc import Mapping

from diagnose.daybook.book import WorkEntry
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.facts import Facts

SIZE = "plate_size"
PLACE = "place"
DONE = {
    "filtered": "filtered",
    "sunned": "sunned",
    "aired": "aired",
    "topped-up": "topped up",
    "acid-added": "acid put to",
    "alkali-added": "alkali put to",
    "silver-added": "silver put to",
    "cleaned": "cleaned",
}
CALLED = {"bath": "silver bath", "holder": "plate holder", "light": "light", "plates": "plates"}


def signs_of(facts: Facts, knowledge: Knowledge) -> tuple[str, ...]:
    """What a plate showed, in words.

    Args:
        facts: the plate
        knowledge: titles
    """
    return tuple(
        f"{unsure}{knowledge.symptoms[name].title}" + (f" ({', '.join(_looks(looks, knowledge))})" if looks else "")
        for unsure, shown in (("", facts.present), ("perhaps: ", facts.unsure))
        for name, looks in shown.items()
    )


def named(thing: str, name: str) -> str:
    """A thing as it is called, with its own name where it has one.

    >>> named("holder", "B"), named("bath", "")
    ('plate holder “B”', 'silver bath')
    """
    called = CALLED.get(thing, thing)
    return f"{called} “{printable(name)}”" if name else called


def work_words(work: WorkEntry, knowledge: Knowledge) -> str:
    """What was done, in words.

    Args:
        work: from the book
        knowledge: titles of remedies
    """
    thing = named(work.thing, work.name)
    if work.remedy in knowledge.remedies:
        title = knowledge.remedies[work.remedy].title
        said = f"“{title}”, {thing}" if work.name else f"“{title}”"
    elif work.work == "new":
        said = f"new {thing}"
    elif work.work == "mended":
        said = f"{thing} put right" + (f" ({printable(work.remedy)})" if work.remedy else "")
    else:
        done = DONE[work.work]
        said = f"{done} {thing}" if done.endswith(" to") else f"{thing} {done}"
    return f"{said}, {printable(work.amount)}" if work.amount else said


def _looks(looks: Mapping[str, str], knowledge: Knowledge) -> list[str]:
    return [knowledge.attributes[attribute].values[value] for attribute, value in looks.items()]
