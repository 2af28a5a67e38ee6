"""Entries of the daybook in one line each."""

from diagnose.daybook.book import BookEntry, NoteEntry, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.naming import DONE, title_of
from diagnose.daybook.using import MADE_WITH
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.facts import find_symptom

MOST_SIGNS = 4


def said(entry: BookEntry, knowledge: Knowledge) -> str:
    """An entry in one line, with its time.

    Args:
        entry: any
        knowledge: titles of signs, causes and remedies
    """
    when = f"{entry.moment.clock} " if entry.moment.clock else ""
    return printable(f"{when}{_what(entry, knowledge)}")


def _what(entry: BookEntry, knowledge: Knowledge) -> str:
    match entry:
        case PlateEntry():
            return _plate(entry, knowledge)
        case WorkEntry():
            return _work(entry, knowledge)
        case ValueEntry():
            return _value(entry)
        case NoteEntry():
            return f"note: {entry.note}"


def _plate(entry: PlateEntry, knowledge: Knowledge) -> str:
    parts = ["good plate" if entry.good else f"spoiled plate: {signs_of(entry, knowledge)}"]
    parts += [title_of(thing, name) for thing, name in entry.made_with.items() if name]  # type: ignore[arg-type]
    if entry.confirmed:
        cause = knowledge.causes.get(entry.confirmed)
        parts.append(f"it was: {cause.title if cause else entry.confirmed}")
    if entry.who:
        parts.append(f"by {entry.who}")
    if entry.note:
        parts.append(entry.note)
    return "; ".join(parts)


def signs_of(entry: PlateEntry, knowledge: Knowledge) -> str:
    """The signs a plate of the book shows, in words.

    Args:
        entry: the plate
        knowledge: their titles
    """
    told = entry.told.get("symptoms", {})
    shown = [
        name
        for name, answer in told.items()
        if answer in {True, "present", "yes"}
        or (hasattr(answer, "get") and answer.get("answer", "present") == "present")
    ]
    titles = []
    for name in shown[:MOST_SIGNS]:
        symptom = knowledge.symptoms.get(find_symptom(name, knowledge) or "")
        titles.append(symptom.title if symptom else name)
    more = len(shown) - len(titles)
    return ", ".join(titles) + (f" and {more} more" if more > 0 else "") if titles else "no sign told"


def _work(entry: WorkEntry, knowledge: Knowledge) -> str:
    remedy = knowledge.remedies.get(entry.remedy)
    words = DONE[entry.work].format(
        thing=title_of(entry.thing, entry.name), remedy=remedy.title if remedy else entry.remedy
    )
    extra = [part for part in (entry.amount, f"by {entry.who}" if entry.who else "", entry.note) if part]
    return "; ".join([words, *extra])


def _value(entry: ValueEntry) -> str:
    name = entry.condition.removeprefix(MADE_WITH)
    if entry.condition.startswith(MADE_WITH):
        return f"{name} in use: {entry.value or 'the usual one'}"
    return f"{name} = {entry.value}" if entry.value else f"{name} is no longer known"
