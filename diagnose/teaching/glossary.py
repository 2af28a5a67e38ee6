"""The words of the trade with their meaning, gathered from the knowledge: names of signs, old words, substances, chemistry."""

from collections.abc import Iterable
from dataclasses import dataclass

from diagnose.entries.knowledge import Knowledge
from diagnose.facts import plain
from diagnose.phrases import minutes
from diagnose.teaching.parting import seen_words
from diagnose.teaching.typeset import typeset

TRADE, OLD, SUBSTANCE, CHEMISTRY = "said in the trade", "old books", "substance", "chemistry"


@dataclass(frozen=True)
class Meaning:
    """What a word means.

    Args:
        kind: where one meets it
        says: what it is
        symptom: the sign it names; "" for none
        title: that sign's title
        source: where it comes from, where the knowledge says so
    """

    kind: str
    says: str
    symptom: str = ""
    title: str = ""
    source: tuple[str, ...] = ()


@dataclass(frozen=True)
class Word:
    """A word and everything it may mean.

    Args:
        word: as it is written
        meanings: several where it names several things
    """

    word: str
    meanings: tuple[Meaning, ...]


@dataclass(frozen=True)
class Scale:
    """A word for how often, and the number behind it.

    Args:
        word: as it stands on the pages
        means: of a hundred plates
    """

    word: str
    means: str


def glossary(knowledge: Knowledge) -> tuple[Word, ...]:
    """Every word there is a meaning for, by the alphabet.

    Args:
        knowledge: the craft
    """
    found: dict[str, tuple[str, dict[Meaning, None]]] = {}
    for word, meaning in _all(knowledge):
        found.setdefault(plain(word), (word, {}))[1][meaning] = None
    ordered = sorted(found.values(), key=lambda item: (item[0].casefold(), item[0]))
    return tuple(Word(word, tuple(meanings)) for word, meanings in ordered)


def scales(knowledge: Knowledge) -> tuple[tuple[str, tuple[Scale, ...]], ...]:
    """What the words for "how often" stand for: what is measured, and each word.

    Args:
        knowledge: the craft
    """
    seen, surely, usual = knowledge.strengths.seen, knowledge.strengths.surely, knowledge.strengths.usual
    most = max(usual.values())
    common = tuple(Scale(word, f"{100 * share / most:.0f}") for word, share in usual.items())
    return (
        ("Of 100 plates spoiled by one cause alone, how many show the sign", _of_hundred(seen)),
        ("Of 100 times, how often a remedy puts its cause right on the next plate (judged)", _of_hundred(surely)),
        ("How common a cause is, against 100 for an everyday one (judged)", common),
    )


def cost(took: float, plates: int) -> str:
    """What a check costs, in words.

    Args:
        took: its time [min]
        plates: how many plates it uses up
    """
    more = f", {plates} extra plate{'s' if plates > 1 else ''}" if plates else ""
    return minutes(took) + more


def _all(knowledge: Knowledge) -> Iterable[tuple[str, Meaning]]:
    for name, sign in knowledge.symptoms.items():
        for kind, words in ((TRADE, sign.synonyms), (OLD, sign.period)):
            for word in words:
                yield word, Meaning(kind, sign.look, name, sign.title)
    for solution in knowledge.solutions.values():
        for part in solution.part:
            yield part.name, Meaning(SUBSTANCE, part.what)
    for reaction in knowledge.reactions.values():
        equation = f" {typeset(reaction.equation, low=True)}" if reaction.equation else ""
        yield reaction.title, Meaning(CHEMISTRY, reaction.says + equation, source=reaction.from_)


def _of_hundred(words: dict[str, float]) -> tuple[Scale, ...]:
    return tuple(Scale(seen_words(word), f"{100 * share:.2g}") for word, share in words.items())
