"""What stands in one cell of a spreadsheet: several signs, several answers, and words a spreadsheet must not work out."""

import re
from collections.abc import Mapping
from typing import Any

from diagnose.daybook.codes import codes
from diagnose.daybook.exchange_told import find_condition, sign_named
from diagnose.entries.knowledge import Knowledge
from diagnose.facts import plain
from diagnose.plate import SymptomAnswer, Tried

# A cell that begins like this is worked out by a spreadsheet, in any of the columns it might be split into.
_DANGER = re.compile(r"(^|[;\t\r\n])(?='* *[=+\-@\t\r＝＋－＠])")
_DEFUSED = re.compile(r"(^|[;\t\r\n])'(?='* *[=+\-@\t\r＝＋－＠])")
_PART = re.compile(r'(?:"(?:[^"]|"")*"|\([^()]*\)|[^;"(]|["(])+')
_PIECE = re.compile(r"(?:\([^()]*\)|[^,(]|\()+")
_SIGN = re.compile(r"(?P<name>[^()]*)(?:\((?P<look>[^()]*)\))?\s*")
BEFORE: Mapping[str, str] = {"absent": "not", "unsure": "unsure", "cant-tell": "cannot tell"}
_ANSWERS = (
    ("not ", "absent"),
    ("no ", "absent"),
    ("unsure ", "unsure"),
    ("perhaps ", "unsure"),
    ("cannot tell ", "cant-tell"),
)


def defused(text: str) -> str:
    """A text that no spreadsheet takes for a formula.

    Args:
        text: any

    >>> defused("=1+1"), armed(defused("=1+1")), armed(defused("'-"))
    ("'=1+1", '=1+1', "'-")
    """
    return _DANGER.sub(r"\1'", text)


def armed(cell: str) -> str:
    """The text that `defused` was given.

    Args:
        cell: as it stands in the file
    """
    return _DEFUSED.sub(r"\1", cell)


def signs_cell(symptoms: Mapping[str, SymptomAnswer]) -> str:
    """Signs in one cell: "comets (place: scattered); not fog".

    Args:
        symptoms: name -> what was said about it
    """
    said = []
    for name, item in symptoms.items():
        look = ", ".join(f"{attribute}: {value}" for attribute, value in item.attributes.items())
        words = f"{BEFORE[item.answer]} {name}" if item.answer in BEFORE else name
        said.append(f"{words} ({look})" if look else words)
    return "; ".join(said)


def read_signs(cell: str, knowledge: Knowledge) -> dict[str, Any]:
    """The signs of a cell, under the names of the knowledge where it has them.

    Args:
        cell: signs by any word for them or by their number on the paper sheet, parted by ; or ,
        knowledge: the craft
    """
    signs: dict[str, Any] = {}
    for part in _parts(cell):
        whole = _sign(part, knowledge)  # a comma may belong to the name itself
        pieces = [] if whole[0] in knowledge.symptoms else [piece for piece in _PIECE.findall(part) if piece.strip()]
        for name, answer in [_sign(piece, knowledge) for piece in pieces] or [whole]:
            signs[_another(name, signs)] = answer
    return signs


def pairs_cell(pairs: Mapping[str, str]) -> str:
    """Names and values in one cell: "room_temperature = 28 °C; holder_wiped = no".

    Args:
        pairs: name -> value
    """
    return "; ".join(f"{name} = {_quoted(value)}" for name, value in pairs.items())


def read_pairs(cell: str, knowledge: Knowledge | None = None) -> dict[str, str]:
    """Names and values of a cell; what has no value stands with an empty one.

    Args:
        cell: parted by ;
        knowledge: where the names are conditions, in any spelling
    """
    pairs: dict[str, str] = {}
    for part in _parts(cell):
        name, _, value = (piece.strip() for piece in part.partition("=" if "=" in part else ":"))
        known = find_condition(name, knowledge) if knowledge else None
        if len(value) > 1 and value[0] == value[-1] == '"':
            value = value[1:-1].replace('""', '"')
        pairs[_another(known or name, pairs)] = value
    return pairs


def tried_cell(tried: tuple[Tried, ...]) -> str:
    """Remedies that were tried, in order, with what came of them."""
    return "; ".join(f"{step.remedy} = {step.result}" for step in tried)


def read_tried(cell: str) -> list[dict[str, str]]:
    """Remedies of a cell, in order; the same may stand there twice.

    Args:
        cell: parted by ;
    """
    steps = []
    for part in _parts(cell):
        remedy, _, result = (piece.strip() for piece in part.partition("="))
        steps.append({"remedy": remedy, "result": result})
    return steps


def _sign(part: str, knowledge: Knowledge) -> tuple[str, Any]:
    """One sign with its answer; the words as they are where nothing is known by them."""
    match = _SIGN.fullmatch(part.strip())
    words, look = (match["name"].strip(), match["look"] or "") if match else (part.strip(), "")
    name, answer = _named(words, knowledge), "present"
    for before, meaning in _ANSWERS:
        if name not in knowledge.symptoms and plain(words).startswith(before):
            name, answer = _named(words[len(before) :].strip(), knowledge), meaning
    attributes: dict[str, str] = {}
    offered = knowledge.symptoms[name].attributes if name in knowledge.symptoms else {}
    for piece in filter(None, (piece.strip() for piece in look.split(","))):
        attribute, colon, value = (side.strip() for side in piece.partition(":"))
        if not colon:
            value = plain(piece).replace(" ", "-")
            attribute = next((offers for offers, values in offered.items() if value in values), piece)
        attributes[attribute] = value
    return name, {"answer": answer, **attributes}


def _named(words: str, knowledge: Knowledge) -> str:
    if words.isascii() and words.isdigit() and len(words) <= 2:
        return codes(knowledge).get(int(words), words)
    return sign_named(words, knowledge) or words


def _parts(cell: str) -> list[str]:
    return [part.strip() for part in _PART.findall(cell) if part.strip()]


def _quoted(value: str) -> str:
    return '"{}"'.format(value.replace('"', '""')) if re.search(r'[;"()]|^\s|\s$|^$', value) else value


def _another(name: str, there: Mapping[str, Any]) -> str:
    """A name told twice gets blanks, so that the knowledge is asked of both, and says so."""
    while name in there:
        name += " "
    return name
