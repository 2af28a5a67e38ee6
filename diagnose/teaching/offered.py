"""What is laid before the student: the circumstances in words, and the causes and signs to choose from."""

from diagnose.answer import Diagnosis
from diagnose.daybook.condition_words import said
from diagnose.entries.knowledge import Knowledge
from diagnose.facts import UNKNOWN_WORDS, find_symptom
from diagnose.phrases import lower_first
from diagnose.teaching.exercise import Exercise

MOST_CAUSES = 9  # as many as a single figure picks from


def causes_offered(diagnosis: Diagnosis, most: int = MOST_CAUSES) -> tuple[str, ...]:
    """The leading causes by their titles, so that the order says nothing.

    They are chosen by what is told, whatever is true: the true cause may be missing, as it may be from any list at the bench.

    Args:
        diagnosis: of the plate
        most: how many
    """
    titles = diagnosis.craft.knowledge.causes
    return tuple(sorted((cause for cause, _ in diagnosis.ranking[:most]), key=lambda cause: titles[cause].title))


def circumstances(exercise: Exercise, knowledge: Knowledge) -> tuple[str, ...]:
    """What is told of the day, a few words each.

    Args:
        exercise: the plate
        knowledge: the craft
    """
    told = exercise.told.get("conditions", {})
    return tuple(
        _upper_first(said(condition, str(value), knowledge))
        for condition, value in told.items()
        if str(value).strip().casefold() not in UNKNOWN_WORDS
    )


def main_sign(exercise: Exercise, knowledge: Knowledge) -> str:
    """The sign that could be drawn, in words: its name, where and how, and its look.

    Args:
        exercise: the plate
        knowledge: the craft
    """
    look = knowledge.symptoms[exercise.sign].look
    told = {**exercise.looks, **_told_look(exercise)}
    return f"{sign_in_words(exercise.sign, told, knowledge)}: {lower_first(look)}"


def other_signs(exercise: Exercise, knowledge: Knowledge) -> tuple[str, ...]:
    """The signs told beside the one that is drawn, each with its look.

    Args:
        exercise: the plate
        knowledge: the craft
    """
    lines = []
    for told, answer in exercise.told.get("symptoms", {}).items():
        name = find_symptom(told, knowledge) or told
        if name == exercise.sign or name not in knowledge.symptoms:
            continue
        kind = answer.get("answer", "present") if isinstance(answer, dict) else "present"
        before = {"absent": "not there: ", "unsure": "perhaps: ", "cant-tell": ""}.get(kind, "")
        if kind != "cant-tell":
            lines.append(f"{before}{sign_in_words(name, answer if isinstance(answer, dict) else {}, knowledge)}")
    return tuple(lines)


def sign_in_words(symptom: str, look: dict[str, str], knowledge: Knowledge) -> str:
    """A sign by its title, with place, direction and colour as told.

    Args:
        symptom: its name
        look: attribute -> value
        knowledge: the craft
    """
    described = [
        knowledge.attributes[name].values[value]
        for name, value in look.items()
        if name in knowledge.attributes and value in knowledge.attributes[name].values and value != "none"
    ]
    return knowledge.symptoms[symptom].title + (f" ({', '.join(described)})" if described else "")


def _told_look(exercise: Exercise) -> dict[str, str]:
    told = exercise.told.get("symptoms", {}).get(exercise.sign, {})
    return {name: value for name, value in told.items() if name != "answer"} if isinstance(told, dict) else {}


def _upper_first(text: str) -> str:
    return text[:1].upper() + text[1:]
