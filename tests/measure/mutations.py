"""Slips put into the knowledge on purpose: does a case go wrong, or the proofreader complain?"""

import random
from collections import Counter
from dataclasses import fields, replace
from typing import NamedTuple

from diagnose.entries.proofread import proofread
from diagnose.entries.read import Draft
from diagnose.facts import understand
from diagnose.plate import Plate
from tests.measure.ready import believe, cases, facts_of, plain_craft, ranked, with_cause
from tests.measure.ready import guards as kept_guards
from tests.measure.tables import table

NUMBER = 100  # of each kind
OFTEN, RARELY = "often", "rarely"
FELT = 0.01  # a change of a case's leading probability below this is none


class Mutation(NamedTuple):
    """One slip.

    Args:
        kind: of which kind
        cause: in which file
        words: what was done
        changes: the changed parts of the cause
    """

    kind: str
    cause: str
    words: str
    changes: dict


def swapped_symptoms(knowledge):
    """A link to another symptom of the same family that the cause does not show."""
    for name, cause in knowledge.causes.items():
        linked = {link.symptom for link in cause.symptom}
        for place, link in enumerate(cause.symptom):
            family = knowledge.symptoms[link.symptom].family
            for other, symptom in knowledge.symptoms.items():
                if symptom.family == family and other not in linked:
                    changed = _put(cause.symptom, place, replace(link, symptom=other))
                    yield Mutation("symptom swapped", name, f"{link.symptom} -> {other}", {"symptom": changed})


def dropped_links(knowledge):
    """A link to a symptom or a check taken out."""
    for name, cause in knowledge.causes.items():
        for field in ("symptom", "check"):
            for place, link in enumerate(getattr(cause, field)):
                yield Mutation("link dropped", name, _called(link), {field: _without(getattr(cause, field), place)})


def turned_strengths(knowledge):
    """A strong link made weak, or a weak one strong."""
    table_of = knowledge.strengths.seen
    for name, cause in knowledge.causes.items():
        for field in ("symptom", "check"):
            for place, link in enumerate(getattr(cause, field)):
                other = RARELY if table_of[link.seen] >= 0.5 else OFTEN
                changed = _put(getattr(cause, field), place, replace(link, seen=other))
                yield Mutation("strength turned", name, f"{_called(link)}: {link.seen} -> {other}", {field: changed})


def turned_shifts(knowledge):
    """A fact that speaks for a cause made to speak against it, or the reverse."""
    for name, cause in knowledge.causes.items():
        for here, there in (("likelier", "unlikelier"), ("unlikelier", "likelier")):
            for place, shift in enumerate(getattr(cause, here)):
                changes = {here: _without(getattr(cause, here), place), there: (*getattr(cause, there), shift)}
                yield Mutation("for and against swapped", name, f"{here} {_called(shift)}", changes)


def dropped_likelier(knowledge):
    """A fact that speaks for a cause taken out."""
    for name, cause in knowledge.causes.items():
        for place, shift in enumerate(cause.likelier):
            yield Mutation("likelier dropped", name, _called(shift), {"likelier": _without(cause.likelier, place)})


KINDS = (swapped_symptoms, dropped_links, turned_strengths, turned_shifts, dropped_likelier)


def run(knowledge, plates, seed):
    sound = Bench(knowledge)
    print(f"\nmutations: {len(sound.held)} cases hold before any slip, {sound.failing} do not and are left out")
    rng = random.Random(seed)
    rows, passed = [], []
    for kind in KINDS:
        every = list(kind(knowledge))
        drawn = rng.sample(every, min(plates or NUMBER, len(every)))
        if not drawn:
            continue
        tally = Counter()
        for mutation in drawn:
            case, felt = sound.case_against(mutation)
            complaint, guard = sound.complains(mutation), sound.guard_against(mutation)
            caught = bool(case) or complaint or guard
            tally.update(case=bool(case), proof=complaint, guard=guard, either=caught, felt=felt)
            if not caught:
                passed.append((mutation, felt))
        shares = (tally[name] / len(drawn) for name in ("case", "proof", "guard", "either", "felt"))
        rows.append((drawn[0].kind, len(every), len(drawn), *shares))
    head = (
        "slip",
        "possible",
        "tried",
        "a case goes wrong",
        "proofreader",
        "a guard goes wrong",
        "any",
        "felt by a case",
    )
    table("mutations, share caught", head, rows)
    print('\nmutations that nothing caught ("." no case so much as feels it: none tells what the link is about)')
    for mutation, felt in passed:
        print(f"{' ' if felt else '.'} {mutation.kind}: {mutation.cause}: {mutation.words}")


class Bench:
    """What slips are tried on: the cases that hold, and what the proofreader says of the knowledge as it is."""

    def __init__(self, knowledge):
        self.knowledge = knowledge
        craft = plain_craft(knowledge)
        self.held = []
        self.failing = 0
        for name, case in cases():
            facts = facts_of(case, knowledge)
            chance = leads(facts, case["expect"], craft) if facts is not None else None
            if chance is None:
                self.failing += 1
            else:
                self.held.append((name, facts, case["expect"], chance))
        self.known = set(proofread(draft_of(knowledge)))
        self.guards = [(understand(Plate.read(told), knowledge), first) for told, first in kept_guards()]

    def case_against(self, mutation):
        """The first case that goes wrong, or ""; and whether any case so much as feels the slip."""
        craft = plain_craft(with_cause(self.knowledge, mutation.cause, **mutation.changes))
        felt = False
        for name, facts, expect, before in sorted(
            self.held, key=lambda case: mutation.cause not in {case[2], case[0].split()[0]}
        ):
            now = leads(facts, expect, craft)
            if now is None:
                return name, True
            felt = felt or abs(now - before) >= FELT
        return "", felt

    def guard_against(self, mutation):
        """Whether a plate kept for this very purpose goes wrong; guards are made from the knowledge itself."""
        craft = plain_craft(with_cause(self.knowledge, mutation.cause, **mutation.changes))
        return any(ranked(believe(facts, craft))[0] != first for facts, first in self.guards)

    def complains(self, mutation):
        """Whether the proofreader finds something it did not find before."""
        changed = draft_of(with_cause(self.knowledge, mutation.cause, **mutation.changes))
        return bool(set(proofread(changed)) - self.known)


def draft_of(knowledge):
    """The knowledge as the proofreader takes it, with no files behind it."""
    entries = {field.name: getattr(knowledge, field.name) for field in fields(knowledge) if field.name != "version"}
    return Draft(entries=entries | {"strengths": {"strengths": knowledge.strengths}}, lines={"": {(): 1}})


def leads(facts, cause, craft):
    """The probability of a cause that leads without a tie; None if it does not lead."""
    chances = believe(facts, craft).causes
    best = max((chance for other, chance in chances.items() if other != cause), default=0.0)
    return chances[cause] if cause in chances and chances[cause] > best else None


def _put(items, place, item):
    return (*items[:place], item, *items[place + 1 :])


def _without(items, place):
    return (*items[:place], *items[place + 1 :])


def _called(item):
    """What a link is about, in a few words."""
    for field in ("symptom", "check"):
        if hasattr(item, field):
            return getattr(item, field) + (f"={item.outcome}" if field == "check" else "")
    return " and ".join(item.when)
