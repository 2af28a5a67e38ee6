"""Guards: plates on which one link decides which cause comes first, found by reckoning and kept in tests/guards.toml.

They are made from the knowledge itself, so they say nothing of whether it is true. They hold it as it is: a link dropped, turned or
swapped by a slip makes one of them go wrong. After a wanted change make them again: `python -m tests.measure.guards`.
"""

import itertools
import json
import random
from concurrent.futures import ProcessPoolExecutor

from diagnose import read_knowledge
from diagnose.errors import PlateError
from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.units import print_amount
from tests.measure.days import demands, settle
from tests.measure.mutations import dropped_likelier, dropped_links, turned_shifts, turned_strengths
from tests.measure.ready import GUARDS as FILE
from tests.measure.ready import believe, plain_craft, ranked, with_cause

KINDS = (dropped_links, turned_strengths, dropped_likelier, turned_shifts)
MOST_TRIED = 40  # plates tried against one slip, those nearest a tie first
MARGIN = 1.05  # how far the first must be ahead, in odds, so that no rounding turns it
HEAD = """# Plates on which one link decides which cause comes first; made by `python -m tests.measure.guards`, not by hand.
# They come from the knowledge itself and say nothing of whether it is true: they guard it against slips.
"""


def leader(told, craft):
    """Who leads on a plate, and how far ahead in odds; None where the plate cannot be read."""
    try:
        facts = understand(Plate.read(told), craft.knowledge)
    except PlateError:
        return None
    chances = believe(facts, craft).causes
    first, second = ranked(believe(facts, craft))[:2]
    odds = [chances[name] / max(1e-12, 1 - chances[name]) for name in (first, second)]
    return first, odds[0] / max(1e-300, odds[1])


def plates_about(cause, item, knowledge, rng):
    """Plates on which a link of a cause could decide."""
    signs = _signs(cause, knowledge)
    days = [{}, *_days(cause, knowledge, rng)]
    checks = [{}, *({found.check: found.outcome} for found in knowledge.causes[cause].check)]
    if hasattr(item, "symptom"):
        looks = [{item.symptom: look} for look in _looks(item, knowledge)]
        signs = [look | other for look in looks for other in ({}, *signs) if item.symptom not in other]
    elif hasattr(item, "check"):
        checks = [{item.check: item.outcome}]
    else:
        wanted = [_told(demands(item.when, item.unless, knowledge, rng), knowledge, rng) for _ in range(4)]
        days = [dict(found) for found in {tuple(sorted(day.items())) for day in wanted if day}]
    for sign, day, check in itertools.product(signs, days, checks):
        if sign or check:
            yield {"symptoms": sign, "conditions": day, "checks": check}


def _signs(cause, knowledge):
    """Symptoms of a cause and of its nearest rivals, one or two at a time."""
    own = [link.symptom for link in knowledge.causes[cause].symptom]
    single = [{name: True} for name in own]
    pairs = [{first: True, second: True} for first, second in itertools.combinations(own, 2)]
    near = [other for other in knowledge.causes.values() if {link.symptom for link in other.symptom} & set(own[:2])]
    beside = sorted({link.symptom for other in near for link in other.symptom})
    mixed = [{own[0]: True, name: True} for name in beside if name not in own]
    absent = [{own[0]: True, name: False} for name in own[1:]]
    return [*single, *pairs[:10], *absent[:5], *mixed[:14]]


def _looks(link, knowledge):
    looks = [True]
    for attribute, values in link.attributes.items():
        looks.append({attribute: values[0]})
        other = [value for value in knowledge.symptoms[link.symptom].attributes[attribute] if value not in values]
        looks += [{attribute: value} for value in other[:1]]
    return looks


def _days(cause, knowledge, rng):
    entry = knowledge.causes[cause]
    for shift in (*entry.likelier, *entry.unlikelier):
        day = _told(demands(shift.when, shift.unless, knowledge, rng), knowledge, rng)
        if day:
            yield day


def _told(asked, knowledge, rng):
    """Demands as a person would tell them; None where they cannot be told."""
    if not asked:
        return None
    values = settle([demand for demand in asked if demand.told], knowledge, rng)
    if not values:
        return None
    told = {}
    for name, value in values.items():
        unit = knowledge.conditions[name].unit
        told[name] = print_amount(round(value, 1), unit) if isinstance(value, float) else value
    return told


def _find(task):
    """Guards for every slip of one cause."""
    cause, seed = task
    knowledge = read_knowledge()
    craft, rng = plain_craft(knowledge), random.Random(f"{seed} {cause}")
    found = {}
    slips = [slip for kind in KINDS for slip in kind(knowledge) if slip.cause == cause]
    known = {}
    for slip in slips:
        changed = plain_craft(with_cause(knowledge, cause, **slip.changes))
        if any(_goes_wrong(json.loads(text), first, changed) for text, first in found.items()):
            continue
        item = _item_of(slip, knowledge)
        if id(item) not in known:
            known[id(item)] = _nearest(cause, item, knowledge, craft, rng)
        for told, first in known[id(item)]:
            if _goes_wrong(told, first, changed):
                found[json.dumps(told, ensure_ascii=False, sort_keys=True)] = first
                break
    return list(found.items()), len(slips)


def _nearest(cause, item, knowledge, craft, rng):
    """Plates about a link, those nearest a tie first; a tie too near is no guard."""
    seen = []
    for told in itertools.islice(plates_about(cause, item, knowledge, rng), 160):
        led = leader(told, craft)
        if led is not None and led[1] >= MARGIN:
            seen.append((led[1], len(seen), told, led[0]))
    seen.sort()
    return [(told, first) for _, _, told, first in seen[:MOST_TRIED]]


def _goes_wrong(told, first, craft):
    led = leader(told, craft)
    return led is not None and led[0] != first


def _item_of(slip, knowledge):
    """The link a slip is about: the one its change leaves out or alters."""
    entry = knowledge.causes[slip.cause]
    for field, changed in slip.changes.items():
        kept = set(map(id, changed))
        for item in getattr(entry, field):
            if id(item) not in kept:
                return item
    raise ValueError(slip)


def make(seed=1):
    """Find guards for every cause and write them."""
    knowledge = read_knowledge()
    lines, slips = [HEAD], 0
    with ProcessPoolExecutor() as pool:
        for found, count in pool.map(_find, [(cause, seed) for cause in sorted(knowledge.causes)], chunksize=4):
            slips += count
            for text, first in found:
                lines.append(
                    f"[[guard]]\nplate = {json.dumps(text, ensure_ascii=False)}\nfirst = {json.dumps(first)}\n"
                )
    FILE.write_text("\n".join(lines), "utf-8")
    print(f"{len(lines) - 1} guards against {slips} slips, in {FILE.name}")


if __name__ == "__main__":
    make()
