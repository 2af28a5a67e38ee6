"""Which plate comes next: as the seed has it, or one that brings back what was missed."""

from collections.abc import Callable

from diagnose.answer import Diagnosis, diagnose
from diagnose.reasoning.craft import Craft
from diagnose.teaching.difficulty import Difficulty, difficulty_of
from diagnose.teaching.exercise import Chance, Exercise
from diagnose.teaching.repetition import Item
from diagnose.teaching.sampling import draw_exercise

MOST_PASSED_OVER = 60  # plates drawn until one is as hard as was wanted
Seeded = Callable[[str], Chance]


def plate_of(
    seeded: Seeded, craft: Craft, seed: str, number: int, *, level: str = "", again: Item | None = None
) -> tuple[Exercise, Diagnosis]:
    """One plate of a seed, and what the tool believes of it.

    Args:
        seeded: makes a generator of chance from a text
        craft: the knowledge made ready
        seed: of the whole set
        number: of the plate, from 1
        level: "easy", "middle" or "hard"; "" for any. Where none can be found, the nearest that was drawn
        again: what it must bring back; None for nothing
    """
    name = f"{seed}/{number}"
    words = f"{name}/{level}/{again.kind}/{again.name}" if again else f"{name}/{level}"
    chance = seeded(words)
    wanted = {"cause": again.name if again and again.kind == "cause" else ""}
    wanted["sign"] = again.name if again and again.kind == "sign" else ""
    exercise = draw_exercise(chance, craft, name, **wanted)
    diagnosis = tell(exercise, craft)
    for _ in range(MOST_PASSED_OVER if level else 0):
        if hardness(diagnosis).level == level:
            break
        exercise = draw_exercise(chance, craft, name, **wanted)
        diagnosis = tell(exercise, craft)
    return exercise, diagnosis


def tell(exercise: Exercise, craft: Craft) -> Diagnosis:
    """What the tool believes of an exercise, from the same telling the student gets; one change a plate.

    Args:
        exercise: the plate
        craft: the knowledge made ready
    """
    return diagnose(dict(exercise.told), craft.knowledge, mode="find-out", craft=craft)


def known(item: Item, craft: Craft) -> bool:
    """Whether the knowledge still has what was missed, and can make a plate of it.

    Args:
        item: the cause or the sign
        craft: the knowledge made ready
    """
    return item.name in (craft.knowledge.causes if item.kind == "cause" else craft.model.plain_links)


def hardness(diagnosis: Diagnosis) -> Difficulty:
    """How hard a plate is.

    Args:
        diagnosis: of the plate
    """
    return difficulty_of(diagnosis.posterior)
