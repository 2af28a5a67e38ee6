"""The words that are understood when the paper sheet is typed in, and what each may mean."""

import re
from collections.abc import Callable
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from diagnose.daybook.book import Thing, Work
from diagnose.entries.knowledge import Knowledge
from diagnose.facts import plain
from diagnose.units import PLATE_SIZES

OUTCOME_WORDS = {
    "good": ("good", "ok", "okay", "fine", "well", "success", "good plate"),
    "spoiled": ("bad", "spoiled", "spoilt", "failed", "fail", "poor", "ruined", "lost", "bad plate"),
}
WORK_WORDS: dict[Work, tuple[str, ...]] = {
    "taken": ("took into use", "taken into use", "in use"),
    "new": (
        "new", "mixed", "mixed new", "made", "made new", "opened", "opened new", "fresh", "mixed fresh", "bought", "started",
        "changed", "replaced", "renewed", "poured new", "mix", "mixed up",
    ),
    "filtered": ("filtered", "filter", "strained", "decanted"),
    "sunned": ("sunned", "sun", "put in the sun", "in the sun", "sunning"),
    "aired": ("aired", "air", "airing", "ventilated", "boiled off", "let the spirit out of"),
    "topped-up": ("topped up", "topped", "top up", "topping up", "filled up", "added to"),
    "acid-added": ("acid", "acid added", "added acid", "acid to", "acid into", "added acid to", "acidified", "nitric", "acetic"),
    "alkali-added": ("alkali", "alkali added", "added alkali", "alkali to", "added alkali to", "neutralised", "neutralized"),
    "silver-added": ("silver added", "added silver", "silver added to", "added silver to", "strengthened"),
    "cleaned": (
        "cleaned", "clean", "wiped", "wipe", "washed", "dusted", "scrubbed", "swept", "rinsed", "wiped out", "mopped",
        "cleaned out", "wiped down",
    ),
}  # fmt: skip
THING_WORDS: dict[Thing, tuple[str, ...]] = {
    "bath": ("bath", "silver bath", "silver", "silver tank", "tank"),
    "collodion": ("collodion", "collodio", "collodium", "collodion batch", "coll"),
    "developer": ("developer", "dev", "devel", "developer batch"),
    "fixer": ("fixer", "fix", "fixing bath", "hypo"),
    "holder": ("holder", "plate holder", "slide", "dark slide", "back"),
    "camera": ("camera", "lens"),
    "room": ("room", "darkroom", "dark room", "tent", "dark tent", "van"),
    "weather": ("weather",),
    "plates": ("plates", "glasses", "plate stock", "box of plates", "plate box"),
    "varnish": ("varnish",),
    "light": ("light", "lamp", "lights"),
    "water": ("water", "tap", "rinsing water", "wash water"),
}
ANSWER_WORDS = {
    "absent": ("no", "not", "without", "none of", "no more"),
    "unsure": ("unsure", "perhaps", "maybe", "possibly"),
    "cant-tell": ("cannot tell", "can't tell", "cant tell", "don't know", "dont know"),
}
LOOK_WORDS = {
    "place": {
        "whole-plate": ("all over", "everywhere", "whole plate", "over the whole plate", "whole"),
        "scattered": ("here and there",),
        "middle": ("centre", "center"),
        "all-edges": ("edges", "all round", "edge", "round the edges", "all edges"),
        "upper-part": ("top", "upper", "at the top", "upper half", "above"),
        "lower-part": ("bottom", "lower", "at the bottom", "lower half", "low", "below", "foot"),
        "drain-corner": ("drained corner", "corner", "pouring corner"),
        "hold-corner": ("held corner", "thumb corner", "thumb", "fingers"),
        "one-side": ("side", "left", "right", "left side", "right side"),
    },
    "direction": {"along-dip": ("along the dip",), "across-dip": ("across the dip", "across")},
    "colour": {
        "grey": ("gray", "greyish"),
        "white": ("whitish", "cream"),
        "black": ("dark",),
        "silvery": ("metallic",),
    },
}
# Answers that are plain without the name of their condition.
VALUE_WORDS = {
    "support": {
        "aluminium": ("aluminium", "aluminum"),
        "iron": ("iron",),
        "glass": ("glass",),
        "acrylic": ("acrylic",),
    },
    "light": {
        "daylight": ("daylight",),
        "window": ("window light", "window"),
        "lamps": ("lamps",),
        "flash": ("flash",),
    },
}
FILLERS = (
    "a", "an", "the", "of", "on", "at", "in", "with", "and", "some", "slight", "slightly", "little", "strong",
    "heavy", "is", "was", "it", "to", "for", "plate", "few", "many", "lots", "part", "from", "then", "but", "bit",
    "very", "again", "still", "into", "using", "came", "out", "box", "switched to", "changed to", "took", "now", "as",
    "used", "exposed", "exposure", "sign", "signs", "has", "had", "me", "faint", "badly", "more", "same",
)  # fmt: skip
WHO_WORDS = ("by", "who", "made by")
NOTE_WORDS = frozenset({"note", "notes", "remark", "nb"})
UNDO_WORDS = frozenset({"undo", "u"})
USUAL_WORDS = frozenset({"usual", "-", "the usual", "plain"})
_NO_WORD = re.compile(r"[,:;()=?]")


class Meaning(NamedTuple):
    """What a phrase may mean.

    Args:
        sort: "sign", "look", "outcome", "work", "thing", "answer", "condition", "value", "size", "remedy", "who", "filler"
        name: which one, in the names of the book or the knowledge
        more: of a value which answer; of a look for which attribute
    """

    sort: str
    name: str
    more: str = ""


Adder = Callable[[str, Meaning], None]
Phrases = MappingProxyType[tuple[str, ...], tuple[Meaning, ...]]


@lru_cache(maxsize=4)
def phrases(knowledge: Knowledge) -> Phrases:
    """Every phrase that is understood, as its words, with all it may mean; the likeliest meaning first.

    Args:
        knowledge: the craft
    """
    found: dict[tuple[str, ...], list[Meaning]] = {}

    def add(phrase: str, meaning: Meaning) -> None:
        words = split(phrase)
        if words and meaning not in found.setdefault(words, []):
            found[words].append(meaning)

    for outcome, words in OUTCOME_WORDS.items():
        for phrase in words:
            add(phrase, Meaning("outcome", outcome))
    _add_signs(knowledge, found, add)
    for sort, table in (("work", WORK_WORDS), ("thing", THING_WORDS), ("answer", ANSWER_WORDS)):
        for name, words in table.items():
            for phrase in words:
                add(phrase, Meaning(sort, name))
    for size in PLATE_SIZES:
        add(size, Meaning("size", size))
    for name, condition in knowledge.conditions.items():
        if condition.is_asked:
            add(name, Meaning("condition", name))
    _add_looks(knowledge, add)
    for name, remedy in knowledge.remedies.items():
        add(name, Meaning("remedy", name))
        add(remedy.title, Meaning("remedy", name))
    for phrase in WHO_WORDS:
        add(phrase, Meaning("who", ""))
    for phrase in FILLERS:
        if split(phrase) not in found:
            add(phrase, Meaning("filler", ""))
    return MappingProxyType({words: tuple(meanings) for words, meanings in found.items()})


@lru_cache(maxsize=4)
def without_conditions(knowledge: Knowledge) -> Phrases:
    """The same without the names of conditions.

    Args:
        knowledge: the craft
    """
    kept = {
        words: tuple(meaning for meaning in meanings if meaning.sort != "condition")
        for words, meanings in phrases(knowledge).items()
    }
    return MappingProxyType({words: meanings for words, meanings in kept.items() if meanings})


def split(phrase: str) -> tuple[str, ...]:
    """The words of a phrase for comparing.

    Args:
        phrase: any

    >>> split("Thick and thin film, ridges")
    ('thick', 'and', 'thin', 'film', 'ridges')
    """
    return tuple(_NO_WORD.sub(" ", plain(phrase)).split())


def with_marks(phrase: str) -> tuple[str, ...]:
    """The words of a phrase with the commas and colons that stand in it.

    Args:
        phrase: any

    >>> with_marks("Frilling: the film lifts")
    ('frilling', ':', 'the', 'film', 'lifts')
    """
    return tuple(
        word
        for piece in re.split(r"([,:])", plain(phrase))
        for word in ([piece] if piece in {",", ":"} else split(piece))
    )


def _add_signs(knowledge: Knowledge, found: dict[tuple[str, ...], list[Meaning]], add: Adder) -> None:
    """Names and titles go before synonyms; a synonym of several signs means each."""
    own: set[tuple[str, ...]] = set()
    for name, symptom in knowledge.symptoms.items():
        for words in (name, symptom.title):
            own.add(split(words))
            add(words, Meaning("sign", name))
            found.setdefault(with_marks(words), [Meaning("sign", name)])
    for name, symptom in knowledge.symptoms.items():
        for phrase in (*symptom.synonyms, *symptom.period):
            if split(phrase) not in own:
                add(phrase, Meaning("sign", name))


def _add_looks(knowledge: Knowledge, add: Adder) -> None:
    for name, table in VALUE_WORDS.items():
        for value, words in table.items():
            if name in knowledge.conditions and value in knowledge.conditions[name].answers:
                for phrase in words:
                    add(phrase, Meaning("value", name, value))
    for attribute, entry in knowledge.attributes.items():
        others = LOOK_WORDS.get(attribute, {})
        for value in entry.values:
            for phrase in (value, *others.get(value, ())):
                add(phrase, Meaning("look", value, attribute))
