"""A numbered set of plates for a class, with its answer key; the same from the same seed."""

import json
from collections.abc import Callable, Iterable
from dataclasses import asdict, dataclass

from diagnose import phrases
from diagnose.answer import Diagnosis
from diagnose.bands import band, percent
from diagnose.entries.knowledge import Knowledge
from diagnose.teaching.exercise import Exercise
from diagnose.teaching.offered import causes_offered, circumstances, main_sign, other_signs
from diagnose.teaching.reasons import reason_for
from diagnose.teaching.session import hardness
from diagnose.teaching.steps import best_of, cautions_beside, steps_for

SHOWN_RANKED = 3
LETTERS = "abcdefghijkl"
# Gives a drawing as a file and its words; None where nothing can be drawn.
Draw = Callable[[Exercise], tuple[bytes, str] | None]


@dataclass(frozen=True)
class Offered:
    """Something a student may write down, by its number or letter.

    Args:
        mark: number or letter
        words: what it stands for
    """

    mark: str
    words: str


@dataclass(frozen=True)
class Ranked:
    """One line of the tool's ranking.

    Args:
        title: of the cause
        word: how likely, in a word
        percent: the same as a number
        mark: its number among the causes offered
        right: whether it was at work
    """

    title: str
    word: str
    percent: str
    mark: str
    right: bool


@dataclass(frozen=True)
class Truth:
    """One cause that was at work.

    Args:
        title, brief: as in the knowledge
        mark: its number among the causes offered; "" where it is not among them
        speaks: what was told that speaks most for it; "" where nothing does
        steps: how it comes about
        apart: what parts it from the other causes offered
    """

    title: str
    brief: str
    mark: str
    speaks: str
    steps: tuple[str, ...]
    apart: tuple[Offered, ...]


@dataclass(frozen=True)
class Key:
    """The answer to one plate.

    Args:
        sign: what is drawn
        truths: what was the matter
        ranking: what the tool believes, from the same telling
        step: letter of the step the tool would take
        step_words: that step
        step_why: why
        cautions: what stands beside it
    """

    sign: str
    truths: tuple[Truth, ...]
    ranking: tuple[Ranked, ...]
    step: str
    step_words: str
    step_why: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class SetPlate:
    """One plate of the set.

    Args:
        number: from 1
        level: "easy", "middle" or "hard"
        drawing: the picture as base64; "" where it is told in words
        drawing_words: the picture for those who cannot see it
        signs: what it shows, in words; of a drawn plate, what it shows beside what is drawn
        session: the circumstances
        causes: to choose from, numbered
        steps: to choose from, lettered
        key: the answer
    """

    number: int
    level: str
    drawing: str
    drawing_words: str
    signs: tuple[str, ...]
    session: tuple[str, ...]
    causes: tuple[Offered, ...]
    steps: tuple[Offered, ...]
    key: Key


@dataclass(frozen=True)
class ClassSet:
    """The whole set.

    Args:
        title: what stands above it
        origin: where the plates are from, and how to have them again
        version: of the knowledge it was drawn from
        plates: in order
    """

    title: str
    origin: str
    version: str
    plates: tuple[SetPlate, ...]


def class_set(
    plates: Iterable[tuple[Exercise, Diagnosis]],
    knowledge: Knowledge,
    *,
    origin: str,
    title: str = "",
    drawn: Draw | None = None,
) -> ClassSet:
    """A set of plates.

    Args:
        plates: each with what the tool believes of it
        knowledge: the craft
        origin: where they are from, and how to have them again
        title: what stands above it; "" for the usual
        drawn: draws a plate; None tells all in words
    """
    return ClassSet(
        title or "What spoiled these plates?",
        origin,
        knowledge.version[:12],
        tuple(_set_plate(number, *plate, drawn) for number, plate in enumerate(plates, start=1)),
    )


def set_record(found: ClassSet) -> str:
    """The set as JSON.

    Args:
        found: from `class_set`
    """
    return json.dumps(asdict(found), indent=2, ensure_ascii=False) + "\n"


def set_text(found: ClassSet) -> str:
    """The set as plain text; the key begins on a page of its own.

    Args:
        found: from `class_set`
    """
    lines = [found.title, f"{found.origin} Knowledge {found.version}.", ""]
    for plate in found.plates:
        lines += [f"Plate {plate.number} ({plate.level})"]
        lines += [f"  Drawn: {plate.drawing_words}"] if plate.drawing_words else []
        lines += ["  It shows" if not plate.drawing_words else "  It also shows"] if plate.signs else []
        lines += [f"    - {line}" for line in plate.signs]
        lines += ["  The session", *(f"    - {line}" for line in plate.session)]
        lines += ["  Causes", *(f"    {item.mark} {item.words}" for item in plate.causes)]
        lines += ["  Next steps", *(f"    {item.mark} {item.words}" for item in plate.steps)]
        lines += ["  The sign: ............  What speaks most: ............"] if plate.drawing_words else []
        lines += ["  Causes, and how sure: .... ....%   .... ....%   .... ....%   Next step: ....", ""]
    lines += ["\f" + "Answer key", ""]
    for plate in found.plates:
        key = plate.key
        lines += [f"Plate {plate.number}: {key.sign}"]
        for truth in key.truths:
            lines += [f"  It was {_numbered(truth.mark)}: {truth.title}. {truth.brief}"]
            lines += [f"    Speaks for it: {truth.speaks}"] if truth.speaks else []
            lines += [f"    {number} {step}" for number, step in enumerate(truth.steps, start=1)]
            lines += [f"    Not {item.mark} ({item.words})" for item in truth.apart]
        lines += ["  The tool, from the same telling"]
        lines += [f"    {item.title} ({item.mark}): {item.word}, {item.percent}" for item in key.ranking]
        lines += [f"  Next step {key.step}: {key.step_words}. {key.step_why}".rstrip()]
        lines += [f"  Care: {'; '.join(key.cautions)}", ""] if key.cautions else [""]
    return "\n".join(lines)


def _numbered(mark: str) -> str:
    return f"number {mark}" if mark else "none of those listed"


def _set_plate(number: int, exercise: Exercise, diagnosis: Diagnosis, drawn: Draw | None) -> SetPlate:
    from base64 import b64encode

    knowledge = diagnosis.craft.knowledge
    offered = causes_offered(diagnosis)
    marks = {cause: str(place) for place, cause in enumerate(offered, start=1)}
    steps = steps_for(diagnosis)
    letters = {step.action.id: LETTERS[place] for place, step in enumerate(steps)}
    best = best_of(steps, diagnosis)
    picture = drawn(exercise) if drawn else None
    others = other_signs(exercise, knowledge)
    return SetPlate(
        number=number,
        level=hardness(diagnosis).level,
        drawing=b64encode(picture[0]).decode("ascii") if picture else "",
        drawing_words=picture[1] if picture else "",
        signs=others if picture else (main_sign(exercise, knowledge), *others),
        session=circumstances(exercise, knowledge),
        causes=tuple(Offered(marks[cause], knowledge.causes[cause].title) for cause in offered),
        steps=tuple(
            Offered(
                letters[step.action.id],
                f"{phrases.action_title(step.action, knowledge)} ({phrases.cost(step.action)})",
            )
            for step in steps
        ),
        key=Key(
            sign=knowledge.symptoms[exercise.sign].title,
            truths=tuple(_truth(cause, marks, diagnosis) for cause in exercise.causes),
            ranking=tuple(
                Ranked(
                    knowledge.causes[cause].title, band(chance), percent(chance), marks[cause], cause in exercise.causes
                )
                for cause, chance in diagnosis.ranking[:SHOWN_RANKED]
            ),
            step=letters[best.action.id] if best else "",
            step_words=phrases.action_title(best.action, knowledge) if best else "",
            step_why=phrases.action_why(best.action, knowledge) if best else "",
            cautions=cautions_beside(best, diagnosis),
        ),
    )


def _truth(cause: str, marks: dict[str, str], diagnosis: Diagnosis) -> Truth:
    knowledge = diagnosis.craft.knowledge
    entry = knowledge.causes[cause]
    term = reason_for(cause, "", diagnosis).account
    return Truth(
        entry.title,
        entry.brief,
        marks.get(cause, ""),
        phrases.receipt(term, diagnosis.facts, knowledge) if term else "",
        tuple(_step_words(step.then, step.shows, knowledge) for step in entry.step),
        tuple(Offered(marks[alike.cause], alike.apart) for alike in entry.look_alike if alike.cause in marks),
    )


def _step_words(then: str, shows: str | None, knowledge: Knowledge) -> str:
    return f"{then} It shows as: {phrases.lower_first(knowledge.symptoms[shows].title)}." if shows else then
