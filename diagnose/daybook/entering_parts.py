"""A typed line cut into its parts: amounts, sizes, numbers, names in quotation marks, and the phrases that are known."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from diagnose.daybook.entering_words import Meaning, Phrases, split
from diagnose.units import OUNCES, UNITS

# "3 in the corner" and "12 plates" tell no amount here.
_NO_UNITS = frozenset(
    {"in", "m", "number", "stop", "stops", "plate", "plates", "times", "strip", "strips", "pop", "pops"}
)


class Part(NamedTuple):
    """One part of a typed line.

    Args:
        sort: "quoted", "date", "clock", "size", "stop", "amount", "number", "mark", "phrase" or "word"
        text: as it was typed
        meanings: of a phrase, every one it has
    """

    sort: str
    text: str
    meanings: tuple[Meaning, ...] = ()

    def meaning(self, *sorts: str) -> Meaning | None:
        """The first meaning of one of some sorts.

        Args:
            sorts: in the order of preference
        """
        return next((m for sort in sorts for m in self.meanings if m.sort == sort), None)


def parts_of(line: str, known: Phrases) -> list[Part]:
    """The parts of a line, phrases as long as they can be.

    Args:
        line: as typed
        known: every phrase that is understood
    """
    rough = [Part(found.lastgroup or "word", found[0].strip()) for found in _tokens().finditer(line)]
    longest = max(map(len, known))
    parts: list[Part] = []
    position = 0
    while position < len(rough):
        part = rough[position]
        taken = 1
        if part.sort == "word":
            phrase, taken = _phrase(rough, position, known, longest)
            part = phrase or part
        parts.append(part)
        position += taken
    return parts


def _phrase(rough: Sequence[Part], start: int, known: Phrases, longest: int) -> tuple[Part | None, int]:
    """The longest known phrase that begins here, and how many parts it takes."""
    words: list[str] = []
    best: tuple[Part | None, int] = (None, 1)
    for end in range(start, min(len(rough), start + longest)):
        if rough[end].sort != "word" and rough[end].text not in {",", ":"}:
            break
        words += [rough[end].text] if rough[end].sort == "mark" else split(rough[end].text.rstrip(".!"))
        if meanings := known.get(tuple(words)):
            text = " ".join(part.text for part in rough[start : end + 1]).replace(" ,", ",").replace(" :", ":")
            best = Part("phrase", text, meanings), end + 1 - start
        if len(words) >= longest:
            break
    return best


@lru_cache(maxsize=1)
def _tokens() -> re.Pattern[str]:
    names = sorted({*UNITS, *OUNCES} - _NO_UNITS, key=len, reverse=True)
    units = "|".join(map(re.escape, names))
    number = r"(?:\d{1,4}\s+\d{1,4}/\d{1,4}|\d{1,4}/\d{1,4}|\d{1,9}(?:[.,]\d{1,9})?|[.,]\d{1,9})"
    side = r"\d{1,4}(?:[.,]\d{1,4})?"
    return re.compile(
        rf"""
        (?P<quoted>"[^"]*"|“[^”]*”|„[^“”]*[“”])
        |(?P<date>\d{{4}}-\d\d-\d\d(?![\w-]))
        |(?P<clock>\d{{1,2}}:\d\d(?![\w:]))
        |(?P<size>{side}\s*(?:x|×|by)\s*{side}\s*(?:mm|cm|inches|inch|in)(?!\w))
        |(?P<stop>f\s*/\s*\d{{1,3}}(?:[.,]\d{{1,2}})?(?!\w))
        |(?P<amount>[+-]?{number}\s*(?:{units})(?![\w/]))
        |(?P<number>\d{{1,9}}(?![\w.%°-]))
        |(?P<mark>[,;=?:+&])
        |(?P<word>[^\s,;=?:+&"“”„]+|["“”„])
        """,
        re.IGNORECASE | re.VERBOSE | re.ASCII,
    )
