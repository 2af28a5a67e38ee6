"""A day's review: everything the book and the knowledge together can say of some days of plates."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.daybook.advised import Ahead, Due, Likely
from diagnose.daybook.book import Book, NoteEntry, PlateEntry, WorkEntry
from diagnose.daybook.costs import bars_of, cost_of_spoiled
from diagnose.daybook.doubt import doubt_after
from diagnose.daybook.evidence import facts_of
from diagnose.daybook.patterns import AT_WORK, likely, patterns_of, plate_causes, second_best
from diagnose.daybook.reviewed import ByWhom, PlateLine, Review, WorkLine
from diagnose.daybook.sharing import common_signs, shared_by
from diagnose.daybook.shelf import Shelf, told_conditions
from diagnose.daybook.standing import answers_of
from diagnose.daybook.told import named, signs_of, work_words
from diagnose.daybook.tomorrow import trial_of
from diagnose.daybook.trend import trend_of
from diagnose.daybook.upkeep import due_now
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.facts import Facts
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.reckoning import with_reckoned

if TYPE_CHECKING:
    from diagnose.reasoning.serial import Change, DayBelief

UPKEPT = ("bath", "collodion", "developer", "fixer")
MOST_SETS = 4  # of bath, collodion, developer and fixer used together whose upkeep is looked at; the last used


def review(
    book: Book, craft: Craft, first: str = "", last: str = "", *, measures: str = "metric", story: str = ""
) -> Review:
    """Everything that can be said of some days of plates.

    Args:
        book: the whole book, so that counts and trend reach back; later days are not looked at
        craft: the knowledge made ready
        first: date; the same as the last where it is left out
        last: date, counted in; the last day with a plate where both are left out
        measures: "metric", "us" or "imperial": how amounts are told
        story: of an invented day
    """
    from diagnose.daybook.context import shown_plates
    from diagnose.daybook.stretches import weigh_days

    last = last or first or max((plate.moment.day for plate in book.plates), default="")  # not the clock: the book
    first = first or last
    part = book.between(first, last)
    shown, changes = shown_plates(part.plates, part.works, craft, behind=book.between("", last).entries)
    belief = weigh_days(shown, changes, [plate.moment.day for plate in part.plates], craft)
    return reviewed(book, craft, first, last, belief, changes, measures=measures, story=story)


def reviewed(
    book: Book,
    craft: Craft,
    first: str,
    last: str,
    belief: "DayBelief",
    changes: "Sequence[Change]",
    *,
    measures: str = "metric",
    story: str = "",
) -> Review:
    """The review, once it has been worked out what stood behind each plate.

    Args:
        book: the whole book
        craft: the knowledge made ready
        first: date
        last: date, counted in
        belief: of the plates of these days
        changes: what was done to the things behind them
        measures: "metric", "us" or "imperial"
        story: of an invented day
    """
    knowledge = craft.knowledge
    part = book.between(first, last)
    plates = part.plates
    works = works_between(part)
    facts, unread, shelf = _walk(book, first, last, craft)
    spoiled = [place for place, plate in enumerate(plates) if not plate.good]
    chances = [_of_plate(belief, place, plate) for place, plate in enumerate(plates)]
    bars = bars_of([chances[place] for place in spoiled], knowledge)
    uses = [plate.made_with for plate in plates]
    patterns = patterns_of(belief, works, uses, knowledge) if plates else ()
    shared, looks = shared_by(plates, facts, works, craft)
    trend, stretch = trend_of(book.plates, first, last, _standing(plates, belief, knowledge), knowledge)
    due, ahead = _upkeep(shelf, part, craft, measures)
    end = _at_the_end(shelf, part, facts, craft)
    good = [plate.good for plate in plates]
    return Review(
        knowledge_version=knowledge.version,
        first=first,
        last=last,
        story=printable(story),
        plates=len(plates),
        good=sum(good),
        spoiled=len(spoiled),
        by=_by(plates),
        patterns=patterns,
        second=second_best(belief, len(patterns), knowledge),
        none_standing=belief.none_standing,
        plate_level=tuple(
            bar for bar in bars if bar.cause in knowledge.causes and not bar.standing and bar.plates > AT_WORK
        ),
        works=tuple(_work_line(before, work, knowledge) for before, work in works),
        lines=tuple(_lines(plates, facts, unread, chances, knowledge)),
        remarks=tuple(_remark(entry) for entry in part.entries if isinstance(entry, NoteEntry)),
        shared=shared,
        looks=looks,
        signs=common_signs([facts[place] for place in spoiled], craft),
        bars=bars,
        cost=cost_of_spoiled([plates[place] for place in spoiled], [facts[place] for place in spoiled], knowledge),
        trend=trend,
        stretch=stretch,
        due=due,
        ahead=ahead,
        trial=trial_of(doubt_after(belief, changes, good, uses, craft), end, len(spoiled), bars, craft, measures),
    )


def works_between(part: Book) -> list[tuple[int, WorkEntry]]:
    """What was done, each with the index of the plate it came before.

    Args:
        part: the days under review
    """
    found: list[tuple[int, WorkEntry]] = []
    count = 0
    for entry in part.entries:
        if isinstance(entry, PlateEntry):
            count += 1
        elif isinstance(entry, WorkEntry):
            found.append((count, entry))
    return found


def _walk(book: Book, first: str, last: str, craft: Craft) -> tuple[list[Facts], list[str], Shelf]:
    """What is known of each plate, by itself and from the book, what could not be read, and what stands behind them at the end."""
    shelf, facts, unread = Shelf(craft.knowledge), [], []
    for entry in book.between("", last).entries:
        if isinstance(entry, PlateEntry) and entry.moment.day >= first:
            known = answers_of(shelf, entry.moment, entry.made_with, told_conditions(entry), changed=False)
            found, left_out = facts_of(entry, craft.knowledge, {item.condition: item.value for item in known})
            facts.append(with_reckoned(found, craft))
            unread.append("; ".join(left_out))
        shelf.take(entry)
    return facts, unread, shelf


def _of_plate(belief: "DayBelief", place: int, plate: PlateEntry) -> Mapping[str, float]:
    """What is believed of a plate; a confirmed cause is no longer a matter of belief."""
    chances = belief.plates[place]
    return {plate.confirmed: 1.0} if plate.confirmed and not plate.good else chances


def _standing(
    plates: Sequence[PlateEntry], belief: "DayBelief", knowledge: Knowledge
) -> list[tuple[PlateEntry, tuple[str, ...]]]:
    """Every plate with the standing causes likelier than not to have been at work on it."""
    leading = [item for item in belief.standing if item.at_work > AT_WORK]
    titles = [likely(item.cause, item.at_work, knowledge, item.name).title for item in leading]
    return [
        (plate, tuple(title for item, title in zip(leading, titles, strict=True) if item.active[place] > AT_WORK))
        for place, plate in enumerate(plates)
    ]


def _by(plates: Sequence[PlateEntry]) -> tuple[ByWhom, ...]:
    makers = list(dict.fromkeys(plate.who for plate in plates))
    if len(makers) < 2:
        return ()
    return tuple(
        ByWhom(
            who=printable(who),
            plates=sum(plate.who == who for plate in plates),
            spoiled=sum(plate.who == who and not plate.good for plate in plates),
        )
        for who in makers
    )


def _lines(
    plates: Sequence[PlateEntry],
    facts: Sequence[Facts],
    unread: Sequence[str],
    chances: Sequence[Mapping[str, float]],
    knowledge: Knowledge,
) -> list[PlateLine]:
    kinds = dict.fromkeys(kind for plate in plates for kind in plate.made_with)
    several = {kind for kind in kinds if len({plate.uses(kind) for plate in plates}) > 1}
    found = []
    leading = plate_causes(chances, knowledge)
    for place, (plate, told, lost, (leader, chance)) in enumerate(zip(plates, facts, unread, leading, strict=True)):
        then = _then(plate, knowledge)
        now = likely(leader, chance, knowledge) if leader and not plate.good else None
        found.append(
            PlateLine(
                number=place + 1,
                entry=plate.number,
                day=plate.moment.day,
                clock=plate.moment.clock,
                good=plate.good,
                signs=signs_of(told, knowledge),
                then=then,
                now=now,
                changed=then is not None and now is not None and then.cause != now.cause,
                confirmed=likely(plate.confirmed, 1.0, knowledge).title if plate.confirmed else "",
                who=printable(plate.who),
                note=printable(plate.note),
                made_with=tuple(
                    named(kind, name) for kind, name in plate.made_with.items() if kind in several and name
                ),
                unread=lost,
            )
        )
    return found


def _then(plate: PlateEntry, knowledge: Knowledge) -> Likely | None:
    """The leading cause of the diagnosis given at the time."""
    if plate.given is None or not plate.given.causes:
        return None
    causes = plate.given.causes
    leader = max(causes, key=lambda cause: (causes[cause], cause))
    return likely(printable(leader), causes[leader], knowledge)


def _work_line(before: int, work: WorkEntry, knowledge: Knowledge) -> WorkLine:
    said = work_words(work, knowledge)
    return WorkLine(
        before=before + 1,
        day=work.moment.day,
        clock=work.moment.clock,
        thing=work.thing,
        name=printable(work.name),
        words=f"{said} ({printable(work.note)})" if work.note else said,
    )


def _remark(entry: NoteEntry) -> str:
    when = f"{entry.moment.day} {entry.moment.clock}".strip()
    who = f", {printable(entry.who)}" if entry.who else ""
    return f"{when}{who}: {printable(entry.note)}"


def _at_the_end(shelf: Shelf, part: Book, facts: Sequence[Facts], craft: Craft) -> Facts:
    """What is known when the last day ends: its last spoiled plate, every check that was made, what the book knows by then."""
    spoiled = [place for place, plate in enumerate(part.plates) if not plate.good]
    if not spoiled:
        return Facts()
    last = part.plates[spoiled[-1]]
    known = answers_of(shelf, part.entries[-1].moment, part.plates[-1].made_with, told_conditions(last), changed=False)
    end, _ = facts_of(last, craft.knowledge, {item.condition: item.value for item in known})
    outcomes = {check: outcome for plate in facts for check, outcome in plate.outcomes.items()}
    return replace(end, outcomes=outcomes)


def _upkeep(shelf: Shelf, part: Book, craft: Craft, measures: str) -> tuple[tuple[Due, ...], tuple[Ahead, ...]]:
    """What is due of every bath, collodion, developer and fixer that was lately used."""
    if not part.entries:
        return (), ()
    moment = part.entries[-1].moment
    sets = dict.fromkeys(tuple((thing, plate.uses(thing)) for thing in UPKEPT) for plate in reversed(part.plates))
    due: dict[str, Due] = {}
    ahead: dict[str, Ahead] = {}
    for names in list(sets)[:MOST_SETS] or [()]:
        known = answers_of(shelf, moment, dict(names), changed=False)
        nobody = PlateEntry(moment=moment, outcome="spoiled")
        facts, _ = facts_of(nobody, craft.knowledge, {item.condition: item.value for item in known})
        why = {item.condition: printable(item.words) for item in known}
        now, later = due_now(facts, why, dict(names), craft, measures)
        for item in now:
            due.setdefault(f"{item.thing} {item.name} {item.limit}", item)
        for count in later:
            ahead.setdefault(count.counted, count)
    return tuple(due.values()), tuple(ahead.values())
