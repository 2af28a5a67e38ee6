"""Small invented crafts and days, and an account of them that adds up every history one by one: no table, no chain, no pair."""

import itertools
import math
from types import SimpleNamespace

from diagnose.reasoning.chaining import Firing
from diagnose.reasoning.rules import Note
from diagnose.reasoning.serial import Change, Shown
from diagnose.reasoning.weighing import Evidence, Finding, Shift

UNSURE = 0.8
NO_FIRING = Firing((), frozenset(), "")
NIGHT_GONE, START, HAZARD = 0.1, 1 / 2, 1 / 12


def craft_of(causes, *, groups=(), links=None, notice=None, cures=None):
    """A craft of a few causes: name -> (odds, thing it stands in, or None for a cause of one plate)."""
    grouped = {cause for group in groups for cause in group}
    return SimpleNamespace(
        knowledge=SimpleNamespace(
            causes={
                name: SimpleNamespace(scope="standing" if thing else "this-plate", stands_in=thing)
                for name, (_, thing) in causes.items()
            },
            strengths=SimpleNamespace(expect=SimpleNamespace(unsure_explained=UNSURE)),
        ),
        model=SimpleNamespace(
            base={name: odds for name, (odds, _) in causes.items()},
            groups=(*groups, *((name,) for name in causes if name not in grouped)),
            plain_links=links or {},
            notice=notice or dict.fromkeys(links or {}, 0.5),
            cures=cures or {},
        ),
    )


def plate(findings=(), *, silent=None, shifts=None, good=False, uses=None, rests=False):
    """A plate of the day; shifts: cause -> log-odds."""
    told = {
        cause: (Shift("likelier", value, Note("likelier", cause, 0)), Shift("tried", 9.0, Note("tried", cause, 0)))
        for cause, value in (shifts or {}).items()
    }
    return Shown(Evidence(tuple(findings), silent or {}, told, NO_FIRING), good, uses or {}, rests)


def random_case(chance, *, plates=None, most_standing=4):
    """A craft of two to four standing causes and two or three of one plate, with a day of three to five plates."""
    things = {"bath": ["", "b"], "developer": ["", "d"]}
    standing = [f"standing-{n}" for n in range(chance.randint(2, most_standing))]
    slips = [f"slip-{n}" for n in range(chance.randint(2, 3))]
    causes = {name: (chance.uniform(0.01, 0.4), chance.choice([*things])) for name in standing}
    causes |= {name: (chance.uniform(0.02, 0.5), None) for name in slips}
    groups = []
    if chance.random() < 0.6:
        causes[standing[1]] = (causes[standing[1]][0], causes[standing[0]][1])
        groups.append((standing[0], standing[1]))
    if chance.random() < 0.6:
        groups.append((slips[0], slips[1]))
    marks = [f"mark-{n}" for n in range(5)]
    links = {mark: {c: chance.uniform(0.05, 0.95) for c in causes if chance.random() < 0.6} for mark in marks}
    cures = {"mend": {c: chance.uniform(0.1, 0.95) for c in causes if chance.random() < 0.7}}
    craft = craft_of(
        causes, groups=groups, links=links, notice={mark: chance.uniform(0.2, 0.9) for mark in marks}, cures=cures
    )
    day = []
    for _ in range(plates or chance.randint(3, 5)):
        good = chance.random() < 0.3
        findings = []
        for mark in marks:
            answers = ["absent", ""] if good else ["present", "present", "unsure", "absent", ""]
            answer = chance.choice(answers)
            if answer:
                look = chance.choice([1.0, 0.5])
                told = {c: q * look for c, q in links[mark].items()}
                findings.append(Finding(mark, answer, 10 ** chance.uniform(-4, -1), told))
        silent = {} if good else {c: chance.uniform(0.3, 1.0) for c in causes if chance.random() < 0.7}
        shifts = {c: chance.choice([-9.2, -1.0, 0.9, 2.5]) for c in causes if chance.random() < 0.3}
        uses = {thing: chance.choice(names) for thing, names in things.items() if chance.random() < 0.6}
        day.append(plate(findings, silent=silent, shifts=shifts, good=good, uses=uses, rests=chance.random() < 0.2))
    changes = []
    for _ in range(chance.randint(0, 3)):
        thing = chance.choice([*things])
        remedy = chance.choice(["", "mend", "no-use"])
        changes.append(Change(chance.randint(0, len(day)), thing, chance.choice(things[thing]), remedy))
    return craft, day, changes


def longhand(craft, day, changes, *, told=True):
    """All the same figures: histories enumerated, every set of plate-level causes and leaks too."""
    standing = [name for name, entry in craft.knowledge.causes.items() if entry.scope == "standing"]
    slips = [name for name in craft.model.base if name not in standing]
    troubles = sorted({(c, shown.uses.get(craft.knowledge.causes[c].stands_in, "")) for c in standing for shown in day})
    used = {
        (c, name): [t for t, shown in enumerate(day) if shown.uses.get(craft.knowledge.causes[c].stands_in, "") == name]
        for c, name in troubles
    }
    own = {
        trouble: {
            on: weight for on in subsets(used[trouble]) if (weight := history(trouble, on, used, day, changes, craft))
        }
        for trouble in troubles
    }
    never = {trouble: own[trouble][()] for trouble in troubles}
    memo = {}

    def chance_of(t, at_work, slip=None):
        key = (t, at_work, slip)
        if key not in memo:
            memo[key] = plate_chance(day[t], at_work, slips, craft, slip) if told else 1.0
        return memo[key]

    total = none = 0.0
    at_work = dict.fromkeys(troubles, 0.0)
    onset = {trouble: [0.0] * len(day) for trouble in troubles}
    active = {trouble: [0.0] * len(day) for trouble in troubles}
    on_plate = [dict.fromkeys(slips, 0.0) for _ in day]
    for count in range(3):
        for chosen in itertools.combinations(troubles, count):
            rest = math.prod(weight for trouble, weight in never.items() if trouble not in chosen)
            ways = [[(on, weight) for on, weight in own[trouble].items() if on] for trouble in chosen]
            for picked in itertools.product(*ways):
                sets = [
                    tuple(trouble[0] for trouble, (on, _) in zip(chosen, picked, strict=True) if t in on)
                    for t in range(len(day))
                ]
                if count == 2 and chosen[0][1] == chosen[1][1] and any(len(s) == 2 and rivals(s, craft) for s in sets):
                    continue
                weight = rest * math.prod(weight for _, weight in picked)
                weight *= math.prod(chance_of(t, s) for t, s in enumerate(sets))
                total += weight
                none += weight * (count == 0)
                for trouble, (on, _) in zip(chosen, picked, strict=True):
                    at_work[trouble] += weight
                    onset[trouble][on[0]] += weight
                    for t in on:
                        active[trouble][t] += weight
                for t, s in enumerate(sets):
                    if told and not day[t].good:
                        for slip in slips:
                            on_plate[t][slip] += weight * chance_of(t, s, slip) / chance_of(t, s)
    return SimpleNamespace(
        total=total,
        none=none / total,
        at_work={k: v / total for k, v in at_work.items()},
        onset={k: [x / total for x in v] for k, v in onset.items()},
        active={k: [x / total for x in v] for k, v in active.items()},
        on_plate=[{k: v / total for k, v in chances.items()} for chances in on_plate],
    )


def subsets(items):
    return [chosen for count in range(len(items) + 1) for chosen in itertools.combinations(items, count)]


def rivals(pair, craft):
    return any(set(pair) <= set(group) for group in craft.model.groups)


def history(trouble, on, used, day, changes, craft):
    """Weight of a standing cause being at work on just these plates: every way it may have come and gone between them."""
    cause, name = trouble
    odds = craft.model.base[cause]
    share = odds / (1 + odds)
    thing = craft.knowledge.causes[cause].stands_in
    said = facts(cause, used[trouble], day)
    ways = {
        None: 1.0
    }  # state -> weight; off is None, on is the number of its episode, 0 for one that lasts since the last plate
    before = None
    for place, t in enumerate(used[trouble]):
        first = place == 0
        turns = [("start" if first else "made", "")]
        for number in range(0 if first else before + 1, t + 1):
            if day[number].rests and not first:
                turns.append(("night", ""))
            mine = [c for c in changes if c.before == number and (c.thing, c.name) == (thing, name)]
            turns += [("mend", change.remedy) if change.remedy else ("new", "") for change in mine]
        for kind, remedy in turns:
            after = {}
            for state, weight in ways.items():
                begin, end = {
                    "start": (share * START, 0.0),
                    "made": (share * HAZARD, 0.0),
                    "night": (share * START, NIGHT_GONE),
                    "mend": (0.0, craft.model.cures.get(remedy, {}).get(cause, 0.0)),
                    "new": (share * START, None),
                }[kind]
                drawn = state is None or end is None
                moves = [(None, 1 - begin), ("fresh", begin)] if drawn else [(None, end), (state, 1 - end)]
                for to, part in moves:
                    after[to] = after.get(to, 0.0) + weight * part
            ways = after
        if t in on:
            stayed = math.exp(said[place] - said[place - 1]) if not first else 0.0
            ways = {"lasting": ways.get("lasting", 0.0) * stayed + ways.get("fresh", 0.0) * math.exp(said[place])}
        else:
            ways = {None: ways.get(None, 0.0)}
        before = t
    return sum(ways.values())


def facts(cause, plates, day):
    said = []
    for t in plates:
        shown = day[t]
        if shown.good and not shown.evidence.shifts:
            said.append(said[-1] if said else 0.0)
        else:
            items = shown.evidence.shifts.get(cause, ())
            said.append(sum(item.log_odds for item in items if item.note.kind != "tried"))
    return said


def plate_chance(shown, at_work, slips, craft, wanted=None):
    """Chance of what was told of a plate with these standing causes at work (and a slip, where one is wanted)."""
    positive = [finding for finding in shown.evidence.findings if finding.answer != "absent"]
    odds = {s: craft.model.base[s] * math.exp(sum(x.log_odds for x in shown.evidence.shifts.get(s, ()))) for s in slips}
    whole = math.prod(1 + sum(odds[s] for s in group) for group in craft.model.groups if group[0] in slips)
    total = 0.0
    for chosen in subsets(slips):
        if any(rivals(pair, craft) for pair in itertools.combinations(chosen, 2)) or (wanted and wanted not in chosen):
            continue
        weight = math.prod(odds[s] for s in chosen) / whole
        weight *= math.prod(quiet(cause, shown, craft) for cause in (*at_work, *chosen))
        for finding in positive:
            missed = (1 - finding.leak) * math.prod(1 - finding.links.get(c, 0.0) for c in (*at_work, *chosen))
            weight *= 1 - missed if finding.answer == "present" else UNSURE * (1 - missed) + (1 - UNSURE) * missed
        total += weight
    return total


def quiet(cause, shown, craft):
    """Factor for what was denied or not mentioned."""
    found = shown.evidence.silent.get(cause, 1.0) if not shown.good else 1.0
    named = set()
    for finding in shown.evidence.findings:
        named.add(finding.name)
        if finding.answer == "absent":
            found *= 1 - finding.links.get(cause, 0.0)
    if shown.good:
        for mark, links in craft.model.plain_links.items():
            if mark not in named:
                found *= 1 - (1 - (1 - craft.model.notice[mark]) ** 2) * links.get(cause, 0.0)
    return found
