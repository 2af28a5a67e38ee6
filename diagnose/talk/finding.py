"""Finding a symptom by any word a person may use for it."""

from diagnose.entries.knowledge import Knowledge
from diagnose.facts import plain

EVERYDAY = (
    "fog",
    "oyster-shell-marks",
    "developer-streaks",
    "comets",
    "pinholes",
    "film-lifting",
    "dark-picture",
    "flat-picture",
    "specks",
)


def names_of(name: str, knowledge: Knowledge) -> tuple[str, ...]:
    """Everything a symptom is called.

    Args:
        name: the symptom
        knowledge: the craft
    """
    symptom = knowledge.symptoms[name]
    return (name, symptom.title, *symptom.synonyms, *symptom.period)


def search(words: str, knowledge: Knowledge, most: int = 12) -> list[str]:
    """Symptoms whose names, synonyms or looks hold these words, the nearest first.

    Args:
        words: anything typed; "" gives the everyday ones first, then the rest
        knowledge: the craft
        most: how many at most
    """
    wanted = plain(words)
    if not wanted:
        rest = [name for name in knowledge.symptoms if name not in EVERYDAY]
        return [name for name in EVERYDAY if name in knowledge.symptoms][:most] + rest[: max(0, most - len(EVERYDAY))]
    scored = [(rank, name) for name in knowledge.symptoms if (rank := _rank(wanted, name, knowledge)) is not None]
    if not scored and len(wanted) <= 60:
        scored = _near(wanted, knowledge)
    return [name for _, name in sorted(scored)][:most]


def _near(wanted: str, knowledge: Knowledge) -> list[tuple[int, str]]:
    import difflib

    names = {
        plain(word): name for name, item in knowledge.symptoms.items() for word in (item.title, *item.synonyms, name)
    }
    found = difflib.get_close_matches(wanted, names, n=5, cutoff=0.6)
    return [(place, name) for place, name in enumerate(dict.fromkeys(names[word] for word in found))]


def _rank(wanted: str, name: str, knowledge: Knowledge) -> int | None:
    called = [plain(word) for word in names_of(name, knowledge)]
    if wanted in called:
        return 0
    if any(word.startswith(wanted) for word in called):
        return 1
    if any(wanted in word for word in called):
        return 2
    pieces = wanted.split()
    whole = " ".join([*called, plain(knowledge.symptoms[name].look)])
    if all(piece in whole for piece in pieces):
        return 3
    return None
