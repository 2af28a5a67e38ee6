"""What counts as a confirmed cause: a cure on the next plate, a decisive check, or the person's own word; nothing else.

What the program answered is never counted, however sure it was: a belief that feeds on itself only grows.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from diagnose.advice.actions import cures_now
from diagnose.daybook.book import Book, Confirmed, NoteEntry, PlateEntry, ValueEntry, WorkEntry
from diagnose.errors import DiagnoseError
from diagnose.facts import Facts, understand
from diagnose.plate import Plate
from diagnose.reasoning.asking import shares_of
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.reckoning import with_reckoned
from diagnose.reasoning.weighing import RESULT_WITHOUT, Evidence, Posterior, fire, gather, weigh

SINGLED_OUT = 0.8  # share of the help that must fall to one cause for a cure to confirm it: judged
DECISIVE = 8.0  # times likelier an outcome must be with the cause than with any other or with none: judged
HELD = 0.9  # probability the cause must then hold: judged


class Confirmation(NamedTuple):
    """A cause that turned out to be behind a plate.

    Args:
        cause: "stage/name"
        how: "cure", "check" or "person"
    """

    cause: str
    how: Confirmed


def confirmed_cause(entry: PlateEntry, craft: Craft, cured_by: str = "") -> Confirmation | None:
    """What was confirmed of one plate; None where nothing was.

    Args:
        entry: the plate; what the program answered at the time is not looked at
        craft: the knowledge made ready, with the rates of the books: what was learned must not confirm itself
        cured_by: the remedy after which the next plate came out well, where the book tells it; see `followed`
    """
    if entry.confirmed and entry.confirmed_by:
        return Confirmation(entry.confirmed, entry.confirmed_by) if entry.confirmed in craft.knowledge.causes else None
    if entry.good or not (cured_by or _could_tell(entry)):
        return None
    try:
        facts = understand(Plate.read(told_on(entry)), craft.knowledge)
    except DiagnoseError:  # told in words the knowledge no longer has: nothing can be concluded from it
        return None
    return confirmed_by_facts(facts, craft, cured_by)


def confirmed_by_facts(facts: Facts, craft: Craft, cured_by: str = "") -> Confirmation | None:
    """What the checks and cures told of a plate confirm; None where they confirm nothing.

    Args:
        facts: the plate
        craft: as for `confirmed_cause`
        cured_by: as for `confirmed_cause`
    """
    cures = {remedy for remedy, result in facts.tried if result == "cured"} | ({cured_by} if cured_by else set())
    facts = replace(facts, tried=tuple(step for step in facts.tried if step[1] != "cured"))
    facts = with_reckoned(facts, craft)
    firing = fire(facts, craft, craft.bulk)
    evidence = gather(facts, firing, craft)
    posterior = weigh(evidence, craft)
    cause = _by_check(evidence, posterior)
    if cause:
        return Confirmation(cause, "check")
    if not cures:
        return None
    table = cures_now(firing, craft)
    missed: dict[str, float] = {}
    for remedy in cures:
        for name, sure in table.get(remedy, {}).items():
            missed[name] = missed.get(name, 1.0) * (1 - sure)
    shares = shares_of(posterior)
    helps = {name: shares[name] * (1 - left) for name, left in missed.items()}
    luck = RESULT_WITHOUT["cured"] * (1 - sum(shares[name] for name in missed))
    cause = max(helps, key=lambda name: (helps[name], name), default="")
    return Confirmation(cause, "cure") if cause and helps[cause] >= SINGLED_OUT * (sum(helps.values()) + luck) else None


def followed(book: Book, craft: Craft) -> Iterator[tuple[PlateEntry, str]]:
    """Every plate in order, with the remedy after which the next comparable plate came out well; "" where there is none.

    Comparable is the next plate of the same day and the same person, made with the same things, with that one remedy and
    nothing else done in between.

    Args:
        book: the daybook
        craft: says which remedies there are
    """
    waiting: PlateEntry | None = None
    done: list[WorkEntry] = []
    for entry in book.entries:
        match entry:
            case WorkEntry():
                done.append(entry)
            case PlateEntry():
                if waiting is not None:
                    yield waiting, _cure_between(waiting, done, entry, craft)
                waiting, done = entry, []
            case ValueEntry() | NoteEntry():
                pass
    if waiting is not None:
        yield waiting, ""


def told_on(entry: PlateEntry) -> dict[str, Any]:
    """What was told of a plate, with the day it was made where none was told, for the dates on its labels.

    Args:
        entry: the plate
    """
    return {**entry.told, "day": entry.told.get("day") or entry.moment.day}


def _cure_between(before: PlateEntry, done: list[WorkEntry], after: PlateEntry, craft: Craft) -> str:
    if before.good or not after.good or len(done) != 1 or done[0].remedy not in craft.knowledge.remedies:
        return ""
    same_day = (before.moment.day, before.who) == (after.moment.day, after.who)
    shared = before.made_with.keys() & after.made_with.keys()
    return done[0].remedy if same_day and all(before.uses(thing) == after.uses(thing) for thing in shared) else ""


def _could_tell(entry: PlateEntry) -> bool:
    """Whether a plate was told with a check or a cure; most are not, and need not be weighed."""
    steps = entry.told.get("tried") or ()
    return bool(entry.told.get("checks")) or any("cured" in str(step) for step in steps)


def _by_check(evidence: Evidence, posterior: Posterior) -> str:
    for finding in evidence.findings:
        if finding.answer != "present" or "=" not in finding.name or not finding.links:
            continue
        chances = {cause: 1 - (1 - finding.leak) * (1 - link) for cause, link in finding.links.items()}
        first, *others = sorted(chances, key=lambda cause: -chances[cause])
        rival = max((chances[cause] for cause in others), default=finding.leak)
        if chances[first] >= DECISIVE * max(rival, finding.leak) and posterior.causes[first] >= HELD:
            return first
    return ""
