"""Which cautions stand beside an action, and which stand over the whole answer."""

from collections.abc import Iterable

from diagnose.entries.remedy import Remedy
from diagnose.reasoning.chaining import Firing
from diagnose.reasoning.craft import Craft

DANGER_FIRST = {"danger": 0, "care": 1}


def fired_ways(firing: Firing, craft: Craft) -> dict[str, list[int]]:
    """Caution -> the ways of it that hold.

    Args:
        firing: the fired rules
        craft: the knowledge made ready
    """
    ways: dict[str, list[int]] = {}
    for rule in firing.trace:
        note = craft.book.notes[rule.name]
        if note.kind == "caution":
            ways.setdefault(note.owner, []).append(note.number)
    return ways


def cautions_of(remedy: Remedy, firing: Firing, craft: Craft) -> tuple[str, ...]:
    """Every caution that belongs beside a remedy, the dangerous ones first.

    Args:
        remedy: what is to be done
        firing: the fired rules
        craft: the knowledge made ready
    """
    ways = fired_ways(firing, craft)
    everywhere = around(firing, craft)
    found = []
    for name, caution in craft.knowledge.cautions.items():
        if caution.way and name not in ways:
            continue  # an acid caution about cyanide says nothing where the fixer is known to be something else
        by_stage = name in everywhere and remedy.stage in caution.stages
        if name in remedy.caution or set(caution.adds) & set(remedy.adds) or by_stage:
            found.append(name)
    return in_order(found, craft)


def standing(names: Iterable[str], firing: Firing, craft: Craft) -> tuple[str, ...]:
    """Of some cautions those that have something to say here: one with ways says nothing where none of them holds.

    Args:
        names: cautions
        firing: the fired rules
        craft: the knowledge made ready
    """
    ways = fired_ways(firing, craft)
    return in_order(dict.fromkeys(n for n in names if not craft.knowledge.cautions[n].way or n in ways), craft)


def cautions_of_answer(actions: Iterable[tuple[str, ...]], firing: Firing, craft: Craft) -> tuple[str, ...]:
    """Every caution of an answer: those of its actions, and those the room itself calls for.

    Args:
        actions: cautions of each action shown
        firing: the fired rules
        craft: the knowledge made ready
    """
    return in_order({*around(firing, craft)}.union(*actions), craft)


def around(firing: Firing, craft: Craft) -> tuple[str, ...]:
    """Cautions the room itself calls for, whatever is done, such as cyanide in use.

    Args:
        firing: the fired rules
        craft: the knowledge made ready
    """
    known = craft.knowledge.cautions
    ways = fired_ways(firing, craft)
    return in_order((name for name, held in ways.items() if any(known[name].way[n].stages_too for n in held)), craft)


def in_order(names: Iterable[str], craft: Craft) -> tuple[str, ...]:
    """Cautions with the dangerous ones first.

    Args:
        names: cautions
        craft: the knowledge made ready
    """
    known = craft.knowledge.cautions
    return tuple(sorted(names, key=lambda name: (DANGER_FIRST[known[name].level], name)))
