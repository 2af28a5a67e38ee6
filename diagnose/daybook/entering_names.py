"""What follows a word in a typed line: the name of a thing, the answer to a condition, an amount."""

import re
from collections.abc import Sequence

from diagnose.daybook.book import USUAL
from diagnose.daybook.entering_parts import Part
from diagnose.daybook.entering_words import USUAL_WORDS, phrases, split
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import near
from diagnose.plate import shown
from diagnose.units import UNITS, Unit

_UNIT = re.compile(r"[^\d.,/\s+-].*$", re.DOTALL)
_NUMBERED = frozenset({"no", "no.", "nr", "nr.", "number", "#"})
_TIMES = {"developer": "development_time", "bath": "sensitising_time", "fixer": "clearing_time", "water": "wash_time"}
_SHORT_TIMES = frozenset({"s", "min"})
_TOLD_AS = frozenset({"amount", "number", "date", "size", "stop", "quoted"})


def name_at(parts: Sequence[Part], position: int, *, in_work: bool) -> tuple[str | None, int]:
    """The name that begins at a position, and what comes after it; None where there is none.

    Args:
        parts: of a statement
        position: where it would begin
        in_work: whether something is done to the thing, so that a number is an amount
    """
    here = position
    if here < len(parts) and parts[here].text in {"=", ":"}:
        here += 1
    if here >= len(parts):
        return None, position
    first = parts[here]
    if first.sort == "quoted":
        return " ".join(first.text[1:-1].split()), here + 1
    if first.text.casefold() in USUAL_WORDS:
        return USUAL, here + 1
    if first.text.casefold() in _NUMBERED and here + 1 < len(parts) and parts[here + 1].sort == "number":
        return f"{first.text} {parts[here + 1].text}", here + 2
    last = here + 1 == len(parts) or parts[here + 1].sort == "mark"
    takes = first.sort in {"word", "stop", "date"} or (first.sort == "number" and not in_work)
    letter = first.sort == "phrase" and len(first.text) == 1
    plain_words = (
        first.sort == "phrase" and last and not in_work and first.meanings[0].sort in {"look", "filler", "value"}
    )
    if not (takes or letter or plain_words):
        return None, position
    words = [first.text]
    here += 1
    while here < len(parts):
        if parts[here].sort == "word":
            words.append(parts[here].text)
        elif parts[here].meaning("filler") and here + 1 < len(parts) and parts[here + 1].sort == "word":
            words += [parts[here].text, parts[here + 1].text]
            here += 1
        else:
            break
        here += 1
    return " ".join(words), here


def value_at(parts: Sequence[Part], position: int, name: str, knowledge: Knowledge) -> tuple[str, int]:
    """What is told of the condition at a position, "" where nothing is, and what comes after it.

    Args:
        parts: of a statement
        position: of the condition
        name: of the condition
        knowledge: the craft
    """
    entry = knowledge.conditions[name]
    here = position + 1
    while here < len(parts) and parts[here].text in {"=", ":", "is", "was"}:
        here += 1
    told = parts[here : here + 4]
    if told and told[0].text == "?":
        return "?", here + 1
    if entry.kind == "quantity":
        if told and (told[0].sort in _TOLD_AS or told[0].meaning("size")):
            return told[0].text.strip('"“”„'), here + 1
        return "", here
    for count in range(len(told), 0, -1):
        words = split(" ".join(part.text for part in told[:count]))
        for answer, meaning in entry.answers.items():
            if words in {split(answer), split(meaning)}:
                return answer, here + count
    return "", here


def condition_of(thing: str, part: Part, knowledge: Knowledge) -> str:
    """The condition that an amount after a thing tells; "" for none.

    Args:
        thing: its kind
        part: the amount
        knowledge: the craft
    """
    unit = unit_of(part.text)
    if unit is None:
        return ""
    if unit.kind == "time" and unit.name in _SHORT_TIMES and thing in _TIMES:
        condition = _TIMES[thing]
    else:
        condition = {"temperature": f"{thing}_temperature", "time": f"{thing}_age"}.get(unit.kind, "")
    entry = knowledge.conditions.get(condition)
    return condition if entry and entry.kind == "quantity" else ""


def how_to_tell(condition: str, knowledge: Knowledge) -> str:
    """What to write after the name of a condition.

    Args:
        condition: its name
        knowledge: the craft
    """
    entry = knowledge.conditions[condition]
    said = condition.replace("_", " ")
    if entry.kind == "quantity":
        return f"{said}: how much? Write it with its unit, as in room temperature 28 °C"
    return f"{said}: write one of {', '.join(entry.answers)} after it"


def not_understood(words: Sequence[str], knowledge: Knowledge) -> str:
    """Words that nothing is known by, with near ones.

    Args:
        words: as typed
        knowledge: the craft
    """
    known = [" ".join(phrase) for phrase in phrases(knowledge)]
    said = []
    for word in words[:3]:
        hint = near(" ".join(split(word[:40])), known)
        said.append(f"{shown(word)!r} is not understood" + (f"; {hint}" if hint else ""))
    more = f", and {len(words) - 3} words more are not" if len(words) > 3 else ""
    return "; ".join(said) + more + "; what is for you alone goes behind the word note"


def unit_of(text: str) -> Unit | None:
    """The unit of an amount as it was typed; None for an ounce, of which there are several.

    Args:
        text: such as 500 mL
    """
    found = _UNIT.search(text)
    return UNITS.get(found[0].casefold()) if found else None
