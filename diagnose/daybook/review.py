"""A day's review: everything the book and the knowledge together can say of some days of plates."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.daybook.book import Book, Moment, NoteEntry, PlateEntry, WorkEntry
from diagnose.daybook.costs import bars_of, cost_of_spoiled
from diagnose.daybook.doubt import doubt_after
from diagnose.daybook.patterns import AT_WORK, likely, patterns_of, plate_causes, second_best
from diagnose.daybook.reviewed import Ahead, ByWhom, Due, Likely, PlateLine, Review, WorkLine
from diagnose.daybook.sharing import common_signs, shared_by
from diagnose.daybook.told import Told, named, signs_of, understood, work_words
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
OUT_OF_RANGE = 0.02  # plate-level causes: shown from here on


def review(
    book: Book, craft: Craft, first: str = "", last: str = "", *, measures: str = "metric", story: str = ""
) -> Review:
    """Everything that can be said of some days of plates.

    Args:
        book: the whole book, so that counts and trend reach back; later days are not looked at
        craft: the knowledge made ready
        first, last: dates, the last one counted in; the last day with a plate where they are left out
        measures: "metric", "us" or "imperial": how amounts are told
        story: of an invented day
    """
    from diagnose.daybook.context import shown_plates
    from diagnose.reasoning.serial import weigh_day

    last = last or first or max((plate.moment.day for plate in book.plates), default="")
    first = first or last
    part = book.between(first, last)
    shown, changes = shown_plates(part.plates, part.works, craft)
    belief = weigh_day(shown, changes, craft)
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
        book, craft, first, last, measures, story: as for `review`
        belief: of the plates of these days
        changes: what was done to the things behind them
    """
    knowledge = craft.knowledge
    part = book.between(first, last)
    plates = part.plates
    works = works_between(part)
    told = _told(book, plates, craft)
    facts = [item.facts for item in told]
    spoiled = [place for place, plate in enumerate(plates) if not plate.good]
    chances = [_of_plate(belief, place, plate) for place, plate in enumerate(plates)]
    bars = bars_of([chances[place] for place in spoiled], knowledge)
    patterns = patterns_of(belief, works, knowledge) if plates else ()
    shared, looks = shared_by(plates, facts, works, craft)
    trend, stretch = trend_of(book.plates, first, last, _standing(book, plates, belief, knowledge), knowledge)
    due, ahead = _upkeep(book, part, craft, measures)
    end = _at_the_end(book, part, facts, craft)
    good = [plate.good for plate in plates]
    return Review(
        knowledge_version=knowledge.version,
        first=first,
        last=last,
        story=story,
        plates=len(plates),
        good=sum(good),
        spoiled=len(spoiled),
        by=_by(plates),
        patterns=patterns,
        second=second_best(belief, len(patterns), knowledge),
        none_standing=belief.none_standing,
        plate_level=tuple(bar for bar in bars if bar.cause and not bar.standing and bar.plates > AT_WORK),
        works=tuple(_work_line(before, work, knowledge) for before, work in works),
        lines=tuple(_lines(plates, told, chances, knowledge)),
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
        trial=trial_of(doubt_after(belief, changes, good, craft), end, len(spoiled), bars, craft, measures),
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


def _told(book: Book, plates: Sequence[PlateEntry], craft: Craft) -> list[Told]:
    """Every plate with what the book knew by itself when it was made, and what can be worked out from that."""
    found = []
    for plate in plates:
        told = understood(plate, craft.knowledge, _carried(book, plate.moment, plate.made_with, craft)[0])
        found.append(Told(with_reckoned(told.facts, craft), told.unread))
    return found


def _carried(
    book: Book, moment: Moment, made_with: Mapping[str, str], craft: Craft
) -> tuple[dict[str, str], dict[str, str]]:
    """Conditions the book knows of at a moment, and how it knows each."""
    from diagnose.daybook.standing import from_book

    known = from_book(book, craft.knowledge, moment, made_with)
    return {item.condition: item.value for item in known}, {item.condition: printable(item.words) for item in known}


def _of_plate(belief: "DayBelief", place: int, plate: PlateEntry) -> Mapping[str, float]:
    """What is believed of a plate; a confirmed cause is no longer a matter of belief."""
    chances = belief.plates[place]
    return {**chances, plate.confirmed: 1.0} if plate.confirmed and not plate.good else chances


def _standing(
    book: Book, plates: Sequence[PlateEntry], belief: "DayBelief", knowledge: Knowledge
) -> dict[int, tuple[str, ...]]:
    """For every plate under review, by its place in the whole book, the standing causes likelier than not at work on it."""
    if not plates:
        return {}
    start = book.plates.index(plates[0])
    called = [(item, likely(item.cause, item.at_work, knowledge, item.name).title) for item in belief.standing]
    leading = [(item, title) for item, title in called if item.at_work > AT_WORK]
    return {
        start + place: tuple(title for item, title in leading if item.active[place] > AT_WORK)
        for place in range(len(plates))
    }


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
    plates: Sequence[PlateEntry], told: Sequence[Told], chances: Sequence[Mapping[str, float]], knowledge: Knowledge
) -> list[PlateLine]:
    several = {kind for kind in {kind for plate in plates for kind in plate.made_with}
               if len({plate.uses(kind) for plate in plates}) > 1}
    found = []
    for place, (plate, item, (leader, chance)) in enumerate(
        zip(plates, told, plate_causes(chances, knowledge), strict=True)
    ):
        then = _then(plate, knowledge)
        now = likely(leader, chance, knowledge) if leader and not plate.good else None
        found.append(
            PlateLine(
                number=place + 1,
                entry=plate.number,
                day=plate.moment.day,
                clock=plate.moment.clock,
                good=plate.good,
                signs=signs_of(item.facts, knowledge),
                then=then,
                now=now,
                changed=then is not None and now is not None and then.cause != now.cause,
                confirmed=likely(plate.confirmed, 1.0, knowledge).title if plate.confirmed else "",
                who=printable(plate.who),
                note=printable(plate.note),
                made_with=tuple(named(kind, name) for kind, name in plate.made_with.items() if kind in several and name),
                unread=item.unread,
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


def _at_the_end(book: Book, part: Book, facts: Sequence[Facts], craft: Craft) -> Facts:
    """What is known when the last day ends: its last spoiled plate, every check that was made, what the book knows by then."""
    plates = part.plates
    places = [place for place, plate in enumerate(plates) if not plate.good]
    if not places:
        return Facts()
    last = plates[places[-1]]
    carried, _ = _carried(book, part.entries[-1].moment, plates[-1].made_with, craft)
    end = understood(last, craft.knowledge, carried).facts
    outcomes = {check: outcome for known in facts for check, outcome in known.outcomes.items()}
    return replace(end, outcomes=outcomes)


def _upkeep(book: Book, part: Book, craft: Craft, measures: str) -> tuple[tuple[Due, ...], tuple[Ahead, ...]]:
    """What is due of every bath, collodion, developer and fixer that was lately used."""
    if not part.entries:
        return (), ()
    moment = part.entries[-1].moment
    sets: dict[tuple[tuple[str, str], ...], None] = {}
    for plate in reversed(part.plates):
        sets.setdefault(tuple((thing, plate.uses(thing)) for thing in UPKEPT))
    due: dict[str, Due] = {}
    ahead: dict[str, Ahead] = {}
    for names in list(sets)[:MOST_SETS]:
        carried, why = _carried(book, moment, dict(names), craft)
        nobody = PlateEntry(moment=moment, outcome="spoiled")
        facts = understood(nobody, craft.knowledge, carried).facts
        now, later = due_now(facts, why, dict(names), craft, measures)
        for item in now:
            due.setdefault(f"{item.thing} {item.name} {item.limit}", item)
        for count in later:
            ahead.setdefault(count.counted, count)
    return tuple(due.values()), tuple(ahead.values())
