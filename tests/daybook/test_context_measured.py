"""How much the earlier plates help, on simulated sessions; figures with `pytest -m slow -n 0 -s`."""

import math
import random
from datetime import date

import pytest

from diagnose.answer import diagnose
from diagnose.daybook.book import Book, Moment, PlateEntry, WorkEntry
from diagnose.daybook.context import earlier
from diagnose.daybook.standing import from_book
from diagnose.plate import Plate
from diagnose.reasoning.craft import craft_of

SESSIONS, PLATES = 300, 8
TOLD, SLIP = 0.7, 0.3  # how surely a sign is told, how often a plate has a slip of its own
MIXED = {"bath": 60, "collodion": 20, "developer": 1, "fixer": 1}  # days old
BROUGHT_BY_THE_NEW = 0.4
DAY = "2026-05-20"
MIDNIGHT = (date.fromisoformat(DAY).toordinal() - 719163) * 86400


def at(number):
    clock = 9 * 60 + 20 * number
    return Moment(MIDNIGHT + clock * 60, DAY, f"{clock // 60:02}:{clock % 60:02}")


def drawn(causes, craft, chance):
    return chance.choices(causes, [craft.model.base[cause] for cause in causes])[0]


def plate_of(causes, number, craft, chance):
    """The signs that the causes, or nothing listed, bring about, with place and colour as they tend to; some are not told."""
    knowledge, shows = craft.knowledge, {}
    for symptom, leak in craft.model.leaks.items():
        links = [
            link
            for cause in causes
            for link in knowledge.causes[cause].symptom
            if link.symptom == symptom and not link.when
        ]
        brought = [link for link in links if chance.random() < knowledge.strengths.seen[link.seen]]
        if not brought and chance.random() >= leak / 4:
            continue
        looks = {}
        for name, values in knowledge.symptoms[symptom].attributes.items():
            stated = brought[0].attributes.get(name, ()) if brought else ()
            looks[name] = chance.choice(stated if stated and chance.random() < 0.7 else values)
        if chance.random() < TOLD:
            shows[symptom] = {name: value for name, value in looks.items() if chance.random() < 0.5}
    outcome = "spoiled" if shows else "good"
    return PlateEntry(moment=at(number), outcome=outcome, told={"symptoms": shows} if shows else {})


def session(craft, chance):
    """A row of plates with one standing cause that comes on at some plate, and slips; the last one is spoiled by it."""
    knowledge = craft.knowledge
    lasting = [name for name, cause in knowledge.causes.items() if cause.scope == "standing"]
    slips = [name for name, cause in knowledge.causes.items() if cause.scope == "this-plate"]
    while True:
        cause, onset = drawn(lasting, craft, chance), chance.randint(0, PLATES - 3)
        plates = []
        for number in range(PLATES):
            at_work = [cause] * (number >= onset) + [drawn(slips, craft, chance)] * (chance.random() < SLIP)
            plates.append(plate_of(at_work, number, craft, chance))
        if not plates[-1].good:
            return cause, plates, onset


def best(told, craft, weights=None):
    return diagnose(Plate.read(told), craft.knowledge, earlier=weights).ranking


def works_of(cause, plates, onset, craft, chance):
    """Everything is some days old and has made plates; now and then what the cause stands in was new just before it came on."""
    mixed: list[WorkEntry | PlateEntry] = []
    for thing, days in MIXED.items():
        before = Moment(
            MIDNIGHT - days * 86400 + 20 * 3600,
            date.fromordinal(date.fromisoformat(DAY).toordinal() - days).isoformat(),
        )
        mixed.append(WorkEntry(moment=before, work="new", thing=thing, amount="1 L"))
    week = Moment(MIDNIGHT - 7 * 86400, "2026-05-13")
    mixed += [PlateEntry(moment=week, outcome="good") for _ in range(20)]
    thing = craft.knowledge.causes[cause].stands_in
    if thing in MIXED and onset and chance.random() < BROUGHT_BY_THE_NEW:
        mixed.append(WorkEntry(moment=plates[onset - 1].moment, work="new", thing=thing, amount="1 L"))
    return mixed


@pytest.mark.slow
def test_earlier_plates_find_the_standing_cause_more_often(knowledge):
    """What the book answers has nothing to do with the cause here, save where a new thing brought it: it may cost a little."""
    craft, chance = craft_of(knowledge), random.Random("sessions")
    first = dict.fromkeys(("alone", "the book's answers", "earlier plates", "both"), 0)
    third, surprise = dict.fromkeys(first, 0), dict.fromkeys(first, 0.0)
    for _ in range(SESSIONS):
        cause, plates, onset = session(craft, chance)
        book, last = Book((*plates[:-1], *works_of(cause, plates, onset, craft, chance))), plates[-1]
        weights = earlier(book, last.moment, {}, craft)
        known = {item.condition: item.value for item in from_book(book, knowledge, last.moment, {})}
        answered = {**last.told, "conditions": known}
        for name, told, given in (
            ("alone", last.told, None),
            ("the book's answers", answered, None),
            ("earlier plates", last.told, weights),
            ("both", answered, weights),
        ):
            ranked = best(told, craft, given)
            names = [found for found, _ in ranked]
            first[name] += names[0] == cause
            third[name] += cause in names[:3]
            surprise[name] -= math.log2(max(1e-6, dict(ranked)[cause])) / SESSIONS
    for name, count in first.items():
        shares = f"first {count / SESSIONS:.3f}, among three {third[name] / SESSIONS:.3f}"
        print(f"{name}: {shares}, {surprise[name]:.2f} bit from sure, of {SESSIONS}")
    assert first["earlier plates"] > first["alone"] + 0.15 * SESSIONS
    assert first["both"] >= first["earlier plates"] - 0.05 * SESSIONS
    assert surprise["both"] <= surprise["earlier plates"] + 0.2


@pytest.mark.slow
def test_after_a_new_bath_the_old_one_is_no_longer_blamed(knowledge):
    """The share of sessions in which a bath that was put away is still blamed for a slip made after."""
    craft, chance = craft_of(knowledge), random.Random("renewals")
    baths = [name for name, cause in knowledge.causes.items() if cause.stands_in == "bath"]
    slips = [name for name, cause in knowledge.causes.items() if cause.scope == "this-plate"]
    blamed = {"alone": 0, "new bath logged": 0, "not logged": 0}
    done = 0
    while done < SESSIONS // 2:
        cause, slip = drawn(baths, craft, chance), drawn(slips, craft, chance)
        plates = [plate_of([cause], number, craft, chance) for number in range(4)]
        last = plate_of([slip], 7, craft, chance)
        if last.good or all(plate.good for plate in plates):
            continue
        done += 1
        new = WorkEntry(moment=at(4), work="new", thing="bath")
        for name, entries in (("not logged", plates), ("new bath logged", [*plates, new])):
            weights = earlier(Book(tuple(entries)), last.moment, {}, craft)
            blamed[name] += best(last.told, craft, weights)[0][0] in baths
        blamed["alone"] += best(last.told, craft)[0][0] in baths
    print({name: round(count / done, 3) for name, count in blamed.items()}, f"of {done}")
    assert blamed["new bath logged"] < 0.5 * blamed["not logged"]
    assert blamed["new bath logged"] <= blamed["alone"] + 0.03 * done
