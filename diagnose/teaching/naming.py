"""Which cause or sign a student means: by name, title or any synonym."""

from collections.abc import Iterable
from dataclasses import dataclass

from diagnose.entries.knowledge import Knowledge
from diagnose.errors import near
from diagnose.facts import plain

MOST_NEAR = 4
FILLING = frozenset({"a", "an", "the", "is", "was", "were", "in", "on", "of", "too", "and", "or", "it", "at", "to"})


@dataclass(frozen=True)
class Named:
    """What a name may mean.

    Args:
        words: as typed
        causes: causes it names
        symptoms: signs it names
    """

    words: str
    causes: tuple[str, ...] = ()
    symptoms: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """Everything it may mean."""
        return (*self.causes, *self.symptoms)


def named(words: str, knowledge: Knowledge) -> Named:
    """Every cause and sign that some words name outright, or that all of the words point to.

    A whole name, title or synonym goes before a part of one: "fog" means the sign of that name, not each title with fog in it.

    Args:
        words: as typed
        knowledge: the craft
    """
    wanted = plain(words)
    if not wanted:
        return Named(words)
    causes = tuple(name for name in knowledge.causes if wanted in _names_of_cause(name, knowledge))
    symptoms = tuple(
        name for name in knowledge.symptoms if wanted in {plain(name), plain(knowledge.symptoms[name].title)}
    )
    symptoms = symptoms or tuple(name for name in knowledge.symptoms if wanted in _names_of_sign(name, knowledge))
    if causes or symptoms:
        return Named(words, causes, symptoms)
    parts = frozenset(wanted.split()) - FILLING
    if not parts:
        return Named(words)
    causes = tuple(n for n in knowledge.causes if _holds(parts, _names_of_cause(n, knowledge)))
    symptoms = tuple(n for n in knowledge.symptoms if _holds(parts, _names_of_sign(n, knowledge)))
    return Named(words, causes, symptoms)


def slip(tried: Iterable[str], knowledge: Knowledge) -> str:
    """What to try where a name means nothing.

    Args:
        tried: the words as typed, the whole first
        knowledge: the craft
    """
    known = [name.partition("/")[2] for name in knowledge.causes]
    known += [*knowledge.symptoms, *(word for entry in knowledge.symptoms.values() for word in entry.synonyms)]
    hints = (near(words.casefold()[:100], known, MOST_NEAR) for words in tried)
    return next(filter(None, hints), "`diagnose symptoms WORD` finds signs by any word")


def _names_of_cause(name: str, knowledge: Knowledge) -> frozenset[str]:
    return frozenset(map(plain, (name, name.partition("/")[2], knowledge.causes[name].title)))


def _names_of_sign(name: str, knowledge: Knowledge) -> frozenset[str]:
    entry = knowledge.symptoms[name]
    return frozenset(map(plain, (name, entry.title, *entry.synonyms, *entry.period)))


def _holds(parts: frozenset[str], names: frozenset[str]) -> bool:
    return any(parts <= frozenset(name.replace("/", " ").split()) for name in names)
