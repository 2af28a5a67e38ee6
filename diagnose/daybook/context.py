"""A book's plates as evidence: for the whole day, and for the next plate in the light of the earlier ones."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from diagnose.daybook.book import USUAL, Book, BookEntry, Moment, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.evidence import facts_of, no_longer_known
from diagnose.daybook.saying import days_between
from diagnose.daybook.shelf import Shelf, told_conditions
from diagnose.daybook.standing import answers_of
from diagnose.daybook.works import RENEWALS, SWAPS, deeds, newly_tried, remedy_of, things_of
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.serial import ahead
from diagnose.reasoning.serial_told import Change, Shown
from diagnose.reasoning.weighing import Evidence, fire, gather

__all__ = ["earlier", "no_longer_known", "shown_plates"]

MOST_EARLIER = 30  # plates; what lies further back says next to nothing more
YESTERDAY = 1  # d; what was kept overnight is still what it was
GONE_BY_MORNING = frozenset({"light", "weather", "room"})  # of these yesterday tells nothing: judged


def shown_plates(
    plates: Sequence[PlateEntry],
    works: Sequence[WorkEntry | ValueEntry],
    craft: Craft,
    *,
    behind: Iterable[BookEntry] = (),
    then: Mapping[str, str] | None = None,
) -> tuple[list[Shown], list[Change]]:
    """Plates and works as the serial inference takes them.

    What was tried after a plate is a change before the next one, no evidence. Each plate is shown with what was told of it and
    with what the book knew of it by itself, save for what changed since the last good plate: that the inference sees for itself.
    What the knowledge no longer has is left out; `no_longer_known` tells of it.

    Args:
        plates: any, told in the order in which they were made
        works: what was done, and told to stand, between them
        craft: the knowledge made ready
        behind: the rest of the book, for what stood behind these plates; entries named above may be among them
        then: kind of thing -> name of the one the plate after these is made with; None where there is none yet
    """
    shelf = Shelf(craft.knowledge)
    own = {_key(entry) for entry in (*plates, *works)}
    rows = Book((*(entry for entry in behind if _key(entry) not in own), *plates, *works)).entries
    made = [entry for entry in rows if isinstance(entry, PlateEntry) and _key(entry) in own]
    shown: list[Shown] = []
    changes: list[Change] = []
    done: set[str] = set()  # remedies logged since the plate before the last
    done_before: set[str] = set()
    for entry in rows:
        mine = _key(entry) in own
        if isinstance(entry, WorkEntry) and mine:
            following = made[len(shown)].made_with if len(shown) < len(made) else then
            last = made[len(shown) - 1].made_with if shown else {}
            changes += _of_work(entry, len(shown), following if following is not None else last, following, craft)
            done.add(remedy_of(entry))
        elif isinstance(entry, PlateEntry) and mine:
            number = len(shown)
            if number:
                changes += _of_trying(made, number - 1, entry.made_with, done | done_before, craft)
            rests = bool(number) and made[number - 1].moment.day != entry.moment.day
            shown.append(Shown(_evidence(entry, shelf, craft), entry.good, dict(entry.made_with), rests))
            done, done_before = set(), done
        shelf.take(entry)
    if shown:
        changes += _of_trying(made, len(shown) - 1, then, done | done_before, craft)
    return shown, sorted(changes, key=lambda change: change.before)


def earlier(
    book: Book, moment: Moment, made_with: Mapping[str, str], craft: Craft, tried: Collection[str] = ()
) -> dict[str, float]:
    """What the earlier plates of the session say of the next one; yesterday's too, of all that is kept overnight.

    Args:
        book: without the plate in hand
        moment: when the plate in hand was made
        made_with: kind of thing -> name of the one it was made with
        craft: the knowledge made ready
        tried: remedies told as tried with the plate in hand, which are weighed there and not here again

    Returns:
        standing cause -> log-odds to add [nat]; empty where there are no earlier plates
    """
    before = book.until(moment)
    recent = [plate for plate in before.plates if _days_ago(plate, moment) in range(YESTERDAY + 1)][-MOST_EARLIER:]
    today = [plate for plate in recent if plate.moment.day == moment.day]
    found = _ahead(recent, before, moment, made_with, craft, tried)
    if len(today) == len(recent):
        return found
    gone = {name for name, cause in craft.knowledge.causes.items() if cause.stands_in in GONE_BY_MORNING}
    fresh = _ahead(today, before, moment, made_with, craft, tried)
    kept = {name: weight for name, weight in found.items() if name not in gone}
    return kept | {name: weight for name, weight in fresh.items() if name in gone}


def _ahead(
    plates: Sequence[PlateEntry],
    before: Book,
    moment: Moment,
    made_with: Mapping[str, str],
    craft: Craft,
    tried: Collection[str],
) -> dict[str, float]:
    if not plates:
        return {}
    works = [work for work in before.works if work.moment.at >= plates[0].moment.at]
    shown, changes = shown_plates(plates, works, craft, behind=before.entries, then=made_with)
    changes = [change for change in changes if change.before < len(shown) or change.remedy not in tried]
    if plates[-1].moment.day != moment.day:  # a plate nothing is known of carries the night over
        nothing = Evidence((), {}, {}, shown[-1].evidence.firing)
        shown.append(Shown(nothing, good=False, uses=made_with, rests=True))
    return ahead(shown, changes, made_with, craft)


def _evidence(plate: PlateEntry, shelf: Shelf, craft: Craft) -> Evidence:
    told = told_conditions(plate)
    stood = answers_of(shelf, plate.moment, plate.made_with, told, changed=False)
    facts, _ = facts_of(plate, craft.knowledge, {item.condition: item.value for item in stood})
    return gather(facts, fire(facts, craft, craft.bulk), craft)


def _of_work(
    work: WorkEntry, before: int, uses: Mapping[str, str], following: Mapping[str, str] | None, craft: Craft
) -> Iterator[Change]:
    if "new" in deeds(work):
        yield Change(before, work.thing, work.name)
    elif remedy := remedy_of(work):
        yield from _of_remedy(remedy, before, {**uses, work.thing: work.name}, following, craft, work.thing)


def _of_trying(
    made: Sequence[PlateEntry],
    number: int,
    following: Mapping[str, str] | None,
    done: Collection[str],
    craft: Craft,
) -> Iterator[Change]:
    """What was tried after a plate; not what was told of the plate before already, nor what was logged as a work, too."""
    plate = made[number]
    for remedy in newly_tried(plate, made[number - 1] if number else None):
        if remedy not in done:
            yield from _of_remedy(remedy, number + 1, plate.made_with, following, craft)


def _of_remedy(
    remedy: str,
    before: int,
    uses: Mapping[str, str],
    following: Mapping[str, str] | None,
    craft: Craft,
    thing_told: str = "",
) -> Iterator[Change]:
    """A remedy puts things right one by one; one that takes another thing ends all that stood in the old one.

    Where the next plate names another thing of the kind, the old one stays as it is, and is simply not in use.
    """
    things = things_of(remedy, craft.knowledge)
    for thing in things if thing_told in things else (*things, thing_told):
        name = uses.get(thing, USUAL)
        if not thing:
            continue
        if SWAPS.get(remedy) != thing:
            yield Change(before, thing, name, remedy)
        elif remedy in RENEWALS or following is None or following.get(thing, USUAL) == name:
            yield Change(before, thing, name)


def _days_ago(plate: PlateEntry, moment: Moment) -> int:
    days = days_between(plate.moment.day, moment.day)
    return -1 if days is None else days


def _key(entry: BookEntry) -> object:
    """What makes an entry itself: its number where the book gave it one."""
    return entry.number or id(entry)
