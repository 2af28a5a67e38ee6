"""An entry of the book in words, the way it was understood."""

from diagnose.daybook.book import BookEntry, NoteEntry, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.condition_words import said as condition_said
from diagnose.daybook.condition_words import told_briefly
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import DiagnoseError, printable
from diagnose.facts import find_symptom
from diagnose.plate import Plate, SymptomAnswer, Tried

DONE = {
    "taken": "now in use:",
    "new": "new",
    "filtered": "filtered",
    "sunned": "sunned",
    "aired": "aired",
    "topped-up": "topped up",
    "acid-added": "acid added to",
    "alkali-added": "alkali added to",
    "silver-added": "silver added to",
    "cleaned": "cleaned",
    "mended": "done to",
}
HELPED = {"no-change": "no better", "better": "better", "cured": "good"}
_BEFORE = {"absent": "no ", "unsure": "perhaps ", "cant-tell": "cannot tell "}


def said_back(entry: BookEntry, knowledge: Knowledge) -> str:
    """An entry in words.

    Args:
        entry: any
        knowledge: the craft
    """
    match entry:
        case PlateEntry():
            words = _plate(entry, knowledge)
        case WorkEntry():
            words = _work(entry, knowledge)
        case ValueEntry():
            words = _standing(entry, knowledge)
        case NoteEntry():
            words = f"note: {entry.note}"
    return printable(f"{entry.moment.clock or entry.moment.day} {words}")


def _plate(entry: PlateEntry, knowledge: Knowledge) -> str:
    try:
        plate = Plate.read(entry.told)
    except DiagnoseError:
        plate = Plate()
    signs = [_sign(name, item, knowledge) for name, item in plate.symptoms.items()]
    said = [f"{entry.outcome}: {', '.join(signs)}" if signs else entry.outcome]
    said += told_briefly(plate.conditions, knowledge)
    said += [_tried(step, knowledge) for step in plate.tried]
    said += [f"{thing} {name}" for thing, name in entry.made_with.items() if name]
    said += [f"{entry.size:.0f} cm²"] if entry.size is not None else []
    said += [f"by {entry.who}"] if entry.who else []
    said += [f"note: {entry.note}"] if entry.note else []
    cause = knowledge.causes.get(entry.confirmed)
    said += [f"it was: {cause.title if cause else entry.confirmed}"] if entry.confirmed else []
    return "; ".join(said)


def _tried(step: Tried, knowledge: Knowledge) -> str:
    remedy = knowledge.remedies.get(step.remedy)
    return f"then tried: {remedy.title if remedy else step.remedy} ({HELPED[step.result]})"


def _work(entry: WorkEntry, knowledge: Knowledge) -> str:
    thing = f"{entry.thing} {entry.name}".strip()
    if entry.remedy:
        remedy = knowledge.remedies.get(entry.remedy)
        words = f"{thing}: {remedy.title if remedy else entry.remedy}"
    else:
        usual = "the usual " if entry.work == "taken" and not entry.name else ""
        words = f"{DONE[entry.work]} {usual}{thing}"
    more = [entry.amount, f"by {entry.who}" if entry.who else "", f"note: {entry.note}" if entry.note else ""]
    return "; ".join(filter(None, (words, *more)))


def _standing(entry: ValueEntry, knowledge: Knowledge) -> str:
    """A value, and for how long it holds."""
    name = f" ({entry.name})" if entry.name else ""
    if not entry.value:
        return f"{entry.condition.replace('_', ' ')}{name}: not known any more"
    known = knowledge.conditions.get(entry.condition)
    holds = "this day" if known is None or known.lasts in {"plate", "day"} else "until you say otherwise"
    return f"{condition_said(entry.condition, entry.value, knowledge)}{name}; holds {holds}"


def _sign(name: str, item: SymptomAnswer, knowledge: Knowledge) -> str:
    known = find_symptom(name, knowledge)
    title = knowledge.symptoms[known].title if known else name
    looks = ", ".join(value.replace("-", " ") for value in item.attributes.values())
    return f"{_BEFORE.get(item.answer, '')}{title}{f' ({looks})' if looks else ''}"
