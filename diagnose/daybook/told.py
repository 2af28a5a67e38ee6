"""What the book's plates told, in the names of the knowledge in hand; what it cannot read is set aside, not lost."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from diagnose.daybook.book import PlateEntry, WorkEntry
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError, printable
from diagnose.facts import Facts, understand
from diagnose.phrases import lower_first
from diagnose.plate import Plate

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


class Told(NamedTuple):
    """A plate as it was understood.

    Args:
        facts: in the names of the knowledge
        unread: what could not be read, in words; "" for nothing
    """

    facts: Facts
    unread: str = ""


def understood(plate: PlateEntry, knowledge: Knowledge, carried: Mapping[str, str] | None = None) -> Told:
    """A plate of the book as facts.

    Args:
        plate: as it was kept
        knowledge: the craft
        carried: conditions the book knows of by itself; what was told of the plate goes before them
    """
    told = {"day": plate.moment.day, **plate.told}
    told["conditions"] = {**(carried or {}), **_table(told.get("conditions"))}
    try:
        return Told(understand(Plate.read(told), knowledge))
    except PlateError as error:
        return Told(_what_fits(told, knowledge), printable(str(error)))


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
        said = knowledge.remedies[work.remedy].title
        said = f"{lower_first(said)} ({thing})" if work.name else lower_first(said)
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


def _table(value: Any) -> dict[str, Any]:
    return dict(value) if isinstance(value, Mapping) else {}


def _what_fits(told: Mapping[str, Any], knowledge: Knowledge) -> Facts:
    """Item by item, so that one name that has since gone from the knowledge does not cost the whole plate."""
    kept: dict[str, Any] = {"day": told["day"]}
    for part in ("symptoms", "conditions", "checks"):
        good = kept.setdefault(part, {})
        for name, value in _table(told.get(part)).items():
            try:
                understand(Plate.read({"day": told["day"], part: {name: value}}), knowledge)
            except PlateError:
                continue
            good[name] = value
    try:
        return understand(Plate.read(kept), knowledge)
    except PlateError:  # each part is right by itself, but one is told twice under two names
        return Facts()
