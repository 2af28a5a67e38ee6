"""What every part needs: the plain engine, a belief, the book entries, and knowledge with something changed."""

import json
import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path

from diagnose.errors import PlateError
from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning.asking import shares_of
from diagnose.reasoning.atoms import TestIndex
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.matching import PlainChainer
from diagnose.reasoning.model import work_out
from diagnose.reasoning.rules import write_rules
from diagnose.reasoning.weighing import fire, gather, weigh
from tests.measure.figures import REFUSED, score

TESTS = Path(__file__).resolve().parents[1]
GUARDS = TESTS / "guards.toml"
PARTS = ("symptoms", "conditions", "checks", "tried")
LINKS = ("symptom", "check", "likelier", "unlikelier", "ruled_out")


def plain_craft(knowledge):
    """The knowledge made ready with the plain engine for everything: the same answers, sooner."""
    book = write_rules(knowledge)
    engine = PlainChainer(book.rules)
    return Craft(knowledge, work_out(knowledge), book, TestIndex(book.asked, book.denied), engine, engine, "")


def believe(facts, craft):
    """The posterior of a plate."""
    return weigh(gather(facts, fire(facts, craft, craft.bulk), craft), craft)


def ranked(posterior):
    """Causes in the order the program names them."""
    return sorted(posterior.causes, key=lambda cause: (-posterior.causes[cause], cause))


def scored(facts, expect, craft):
    """One plate, already understood, answered and scored."""
    posterior = believe(facts, craft)
    return score(posterior.causes, shares_of(posterior), set(expect))


def facts_of(entry, knowledge):
    """A case or book entry in the names of the knowledge; None if it is refused."""
    try:
        return understand(Plate.read({part: entry[part] for part in PARTS if part in entry}), knowledge)
    except PlateError:
        return None


def scored_entry(entry, craft):
    """One book entry, scored; a refusal counts as a miss."""
    facts = facts_of(entry, craft.knowledge)
    return REFUSED if facts is None else scored(facts, entry["expect"], craft)


@cache
def book_entries():
    """Every book entry, as it was coded."""
    return tuple(tomllib.loads((TESTS / "handbook" / "entries.toml").read_text("utf-8"))["entry"])


@cache
def cases():
    """Every case of the case base, with the place it stands in."""
    found = []
    for path in sorted((TESTS / "cases").rglob("*.toml")):
        for number, case in enumerate(tomllib.loads(path.read_text("utf-8"))["case"], start=1):
            found.append((f"{path.parent.name}/{path.stem} {number}", case))
    return tuple(found)


def guards():
    """Every guard: plate and what comes first on it."""
    if not GUARDS.is_file():
        return []
    return [(json.loads(item["plate"]), item["first"]) for item in tomllib.loads(GUARDS.read_text("utf-8"))["guard"]]


def with_cause(knowledge, name, **changes):
    """The knowledge with parts of one cause replaced."""
    return replace(knowledge, causes={**knowledge.causes, name: replace(knowledge.causes[name], **changes)})


def without_causes(knowledge, names):
    """The knowledge as if some causes had never been written."""
    return replace(knowledge, causes={name: entry for name, entry in knowledge.causes.items() if name not in names})


def links_in(knowledge):
    """How many links there are."""
    return sum(len(getattr(cause, field)) for cause in knowledge.causes.values() for field in LINKS)
