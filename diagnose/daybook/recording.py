"""From a plate at the bench to a plate in the book."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from diagnose.daybook.book import Given, Moment, Outcome, PlateEntry
from diagnose.entries.knowledge import Knowledge
from diagnose.facts import read_condition

if TYPE_CHECKING:  # the screens of a day need no reasoning
    from diagnose.answer import Diagnosis

SIZE = "plate_size"
LEAST_KEPT = 0.001
MOST_KEPT = 20


def given_by(diagnosis: "Diagnosis") -> Given:
    """The diagnosis as the book keeps it: the leading causes, what was said first, and by which knowledge.

    Args:
        diagnosis: as it stands
    """
    leading = [(cause, chance) for cause, chance in diagnosis.ranking[:MOST_KEPT] if chance >= LEAST_KEPT]
    first = diagnosis.plan.first
    return Given(
        diagnosis.craft.knowledge.version,
        {cause: round(chance, 6) for cause, chance in leading},
        first.id if first else "",
        round(diagnosis.unlisted, 6),
    )


def plate_entry(
    moment: Moment,
    outcome: Outcome,
    told: Mapping[str, Any],
    knowledge: Knowledge,
    *,
    made_with: Mapping[str, str],
    given: Given | None = None,
    who: str = "",
    note: str = "",
) -> PlateEntry:
    """A plate for the book.

    Args:
        moment: when it was made
        outcome: "good" or "spoiled"
        told: as `Plate.told` gives it
        knowledge: to read the size with
        made_with: kind of thing -> name
        given: the diagnosis given
        who: who made it
        note: anything else about the work
    """
    kept = {part: told[part] for part in ("symptoms", "conditions", "checks", "tried", "day") if told.get(part)}
    return PlateEntry(
        moment=moment,
        outcome=outcome,
        told=kept,
        made_with={thing: name for thing, name in made_with.items() if name},
        size=size_of(told.get("conditions", {}), knowledge),
        given=given,
        who=who,
        note=note,
    )


def size_of(conditions: Mapping[str, Any], knowledge: Knowledge) -> float | None:
    """The area of the plate, where it was told [cm²].

    Args:
        conditions: as told
        knowledge: what may be answered
    """
    entry = knowledge.conditions.get(SIZE)
    if entry is None or not conditions.get(SIZE):
        return None
    size = read_condition(SIZE, str(conditions[SIZE]), entry)
    return None if isinstance(size, str) else size
