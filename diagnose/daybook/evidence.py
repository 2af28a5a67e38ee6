"""A plate of the book understood by the knowledge as it is now; what that no longer has is left out and named."""

from collections.abc import Iterable, Mapping
from typing import Any

from diagnose.daybook.book import PlateEntry
from diagnose.daybook.saying import day_in_words
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError, printable
from diagnose.facts import Facts, understand
from diagnose.plate import Plate

PARTS = ("symptoms", "conditions", "checks")


def facts_of(
    plate: PlateEntry, knowledge: Knowledge, standing: Mapping[str, str] | None = None
) -> tuple[Facts, tuple[str, ...]]:
    """What was told of a plate, without what was tried, and what stood for it; and what had to be left out.

    Args:
        plate: from the book, whatever knowledge it was told to
        knowledge: as it is now
        standing: conditions that stood; what was told of the plate itself wins

    Returns:
        the facts, and a line for everything that cannot be understood any more
    """
    told = {part: _table(plate.told.get(part)) for part in PARTS}
    told["conditions"] = {**(standing or {}), **told["conditions"]}
    try:
        return _facts(told, plate, knowledge), ()
    except PlateError:
        return _piece_by_piece(told, plate, knowledge)


def no_longer_known(plates: Iterable[PlateEntry], knowledge: Knowledge) -> tuple[str, ...]:
    """What was told of some plates and can no longer be understood, a line for each.

    Args:
        plates: from the book
        knowledge: as it is now
    """
    return tuple(
        f"the plate of {day_in_words(plate.moment.day)}: {words}"
        for plate in plates
        for words in facts_of(plate, knowledge)[1]
    )


def _piece_by_piece(
    told: Mapping[str, dict[str, Any]], plate: PlateEntry, knowledge: Knowledge
) -> tuple[Facts, tuple[str, ...]]:
    kept: dict[str, dict[str, Any]] = {part: {} for part in PARTS}
    found, left_out = Facts(), []
    for part, items in told.items():
        for name, value in items.items():
            kept[part][name] = value
            try:
                found = _facts(kept, plate, knowledge)
            except PlateError as error:
                left_out.append(printable(str(error)))
                del kept[part][name]
                if part == "symptoms" and isinstance(value, Mapping):  # a look it is no longer asked for
                    kept[part][name] = {"answer": value.get("answer", "present")}
                    try:
                        found = _facts(kept, plate, knowledge)
                    except PlateError:
                        del kept[part][name]
    return found, tuple(left_out)


def _facts(told: Mapping[str, dict[str, Any]], plate: PlateEntry, knowledge: Knowledge) -> Facts:
    return understand(Plate.read({**told, "day": plate.moment.day}), knowledge)


def _table(value: Any) -> dict[str, Any]:
    if isinstance(value, Mapping):
        return {name: item for name, item in value.items() if isinstance(name, str)}
    if isinstance(value, list | tuple):
        return {name: True for name in value if isinstance(name, str)}
    return {}
