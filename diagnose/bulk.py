"""Many plates at once: a line of JSON in, a line of JSON out; and a whole archive diagnosed anew.

Everything here is done one chunk at a time and knows nothing of files or workers, so that the answers are the same bytes
whichever way the chunks are spread. Rules are fired by the plain engine, which fires the same rules in the same order.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from functools import cached_property
from typing import Any, NamedTuple

from diagnose.advice.planning import MODES, first_action
from diagnose.answer import Diagnosis
from diagnose.daybook.book import Book, PlateEntry
from diagnose.daybook.confirming import told_on
from diagnose.daybook.context import earlier
from diagnose.daybook.learning import Rates, with_rates
from diagnose.daybook.saying import days_between
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import DiagnoseError, PlateError
from diagnose.facts import Facts, understand
from diagnose.plate import Plate, shown
from diagnose.reasoning.asking import unlisted
from diagnose.reasoning.craft import Craft, plain_craft
from diagnose.reasoning.reckoning import with_reckoned
from diagnose.reasoning.weighing import Posterior, fire, gather, weigh
from diagnose.record import CAUSES_TOLD, answer_record

LONGEST_LINE = 1_000_000
LONGEST_ID = 200
ERROR_STARTS = b'{"line": '  # how a line begins that could not be used, and no other


@dataclass(frozen=True, eq=False)
class Job:
    """What is to be done with every plate; the same for all, and sent once to each worker.

    Args:
        knowledge: checked knowledge
        mode: as for `diagnose`
        measures: as for `diagnose`
        brief: the leading causes and the first action only
        rates: of the studio, where its plates are to be weighed with them
    """

    knowledge: Knowledge
    mode: str = MODES[0]
    measures: str = "metric"
    brief: bool = False
    rates: Rates | None = None

    @cached_property
    def craft(self) -> Craft:
        """The knowledge made ready, once in each process."""
        craft = plain_craft(self.knowledge)
        return with_rates(craft, self.rates) if self.rates else craft

    def __reduce__(self) -> tuple[type["Job"], tuple[Any, ...]]:
        """Only what cannot be worked out again travels."""
        return Job, (self.knowledge, self.mode, self.measures, self.brief, self.rates)


Numbered = tuple[int, bytes]
Work = Callable[[Job, list[Any]], list[Any]]
Spread = Callable[[Work, Iterable[list[Any]]], Iterator[list[Any]]]


@dataclass(frozen=True, kw_only=True)
class BriefCause:
    """A cause and how likely it is."""

    id: str
    probability: float


@dataclass(frozen=True, kw_only=True)
class BriefAction:
    """What to do first."""

    id: str
    kind: str


@dataclass(frozen=True, kw_only=True)
class BriefRecord:
    """The answer to one plate of many, in brief."""

    knowledge_version: str
    causes: list[BriefCause]
    none_of_these: float
    next_action: BriefAction | None


def answer_lines(job: Job, lines: Sequence[Numbered]) -> list[bytes]:
    """The answer to each line, in order, each a line of JSON without its end.

    Args:
        job: what is to be done
        lines: number of the line, and the line
    """
    return [_answer_line(job, number, line) for number, line in lines]


class Again(NamedTuple):
    """One plate of an archive, diagnosed anew.

    Args:
        number: of the plate in its book
        day: when it was made
        old: the cause that led then; "" where none was given
        old_chance: its probability then
        new: the cause that leads now; "" where the plate can no longer be read
        new_chance: its probability now
        problem: why it can no longer be read, in words; "" where it can
    """

    number: int
    day: str
    old: str
    old_chance: float
    new: str
    new_chance: float
    problem: str = ""

    @property
    def changed(self) -> bool:
        """Whether another cause leads than did then."""
        return bool(self.old and self.new) and self.old != self.new


class Rediagnosis(NamedTuple):
    """An archive diagnosed anew.

    Args:
        version: of the knowledge it was done with
        plates: every spoiled plate, in order
    """

    version: str
    plates: tuple[Again, ...]

    @property
    def changed(self) -> tuple[Again, ...]:
        """Plates on which another cause leads now."""
        return tuple(plate for plate in self.plates if plate.changed)

    @property
    def same(self) -> tuple[Again, ...]:
        """Plates on which the same cause leads."""
        return tuple(plate for plate in self.plates if plate.old and plate.old == plate.new)

    @property
    def first_time(self) -> tuple[Again, ...]:
        """Plates for which no cause had been given."""
        return tuple(plate for plate in self.plates if plate.new and not plate.old)

    @property
    def unread(self) -> tuple[Again, ...]:
        """Plates that can no longer be read."""
        return tuple(plate for plate in self.plates if plate.problem)


CHUNK = 32  # plates sent to a worker at once: some tenths of a second of work


def rediagnose(book: Book, job: Job, spread: Spread | None = None) -> Rediagnosis:
    """Every spoiled plate of a book diagnosed anew in the light of its session, with the knowledge as it is now.

    Args:
        book: the daybook or a part of it
        job: what is to be done; only its knowledge and rates matter here
        spread: how chunks are spread over workers; one after another where it is not given
    """
    plates = list(_with_sessions(book))
    pieces = [plates[start : start + CHUNK] for start in range(0, len(plates), CHUNK)]
    found = spread(again, pieces) if spread else (again(job, piece) for piece in pieces)
    return Rediagnosis(job.knowledge.version, tuple(plate for piece in found for plate in piece))


def again(job: Job, plates: Sequence[tuple[PlateEntry, Book]]) -> list[Again]:
    """Some plates diagnosed anew.

    Args:
        job: as for `rediagnose`
        plates: spoiled plates, each with what the book holds of its day and of the day before, up to it
    """
    found = []
    for entry, session in plates:
        given = entry.given.causes if entry.given else {}
        old = max(given, key=lambda cause: (given[cause], cause), default="")
        before = entry.number, entry.moment.day, old, given.get(old, 0.0)
        try:
            facts = understand(Plate.read(told_on(entry)), job.knowledge)
        except DiagnoseError as error:
            found.append(Again(*before, "", 0.0, str(error)))
            continue
        tried = [remedy for remedy, _ in facts.tried]
        weights = earlier(session, entry.moment, entry.made_with, job.craft, tried)
        facts = replace(facts, earlier=weights) if weights else facts
        causes = weigh(gather(facts, fire(facts, job.craft), job.craft), job.craft).causes
        new = min(causes, key=lambda cause: (-causes[cause], cause))
        found.append(Again(*before, new, causes[new]))
    return found


def _with_sessions(book: Book) -> Iterator[tuple[PlateEntry, Book]]:
    """Every spoiled plate with the entries before it, of its day and of the day before."""
    first = 0
    for place, entry in enumerate(book.entries):
        while (days_between(book.entries[first].moment.day, entry.moment.day) or 0) > 1:
            first += 1
        if isinstance(entry, PlateEntry) and not entry.good:
            yield entry, Book(book.entries[first:place])


def _answer_line(job: Job, number: int, line: bytes) -> bytes:
    name: dict[str, Any] = {}
    try:
        told = _read(line)
        if "id" in told:
            name = {"id": _id(told.pop("id"))}
        plate = Plate.read(told)
        facts = understand(plate, job.knowledge)
        record = asdict(_brief(facts, job)) if job.brief else _full(plate, facts, job)
        return _line({**name, **record})
    except DiagnoseError as error:
        return _line({"line": number, "error": str(error), **name})
    except Exception as error:  # noqa: BLE001 - a fault of ours on one plate must not cost the answers to all others
        words = f"a fault of the program on this plate ({type(error).__name__}); please report it with the line itself"
        return _line({"line": number, "error": words, **name})


def _read(line: bytes) -> dict[str, Any]:
    if len(line) > LONGEST_LINE:
        raise PlateError("far too long for one plate")
    try:
        told = json.loads(line.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise PlateError("not UTF-8 text; save the file as UTF-8") from None
    except (ValueError, RecursionError) as error:
        raise PlateError(f"not JSON: {shown(str(error))}; write one plate a line") from None
    if not isinstance(told, dict):
        raise PlateError("a plate is a table with symptoms, conditions, checks and tried")
    return told


def _id(given: object) -> str | int:
    if isinstance(given, bool) or not isinstance(given, str | int) or len(str(given)) > LONGEST_ID:
        raise PlateError(f"id: {shown(given)} cannot be used; give a whole number or a short text")
    return given


def _full(plate: Plate, facts: Facts, job: Job) -> dict[str, Any]:
    return asdict(answer_record(Diagnosis(plate, facts, job.craft, job.mode, job.measures)))


def _brief(facts: Facts, job: Job) -> BriefRecord:
    facts = with_reckoned(facts, job.craft)
    firing = fire(facts, job.craft)
    posterior: Posterior = weigh(gather(facts, firing, job.craft), job.craft)
    action = first_action(facts, posterior, firing, job.craft, job.mode)
    leading = sorted(posterior.causes.items(), key=lambda pair: (-pair[1], pair[0]))[:CAUSES_TOLD]
    return BriefRecord(
        knowledge_version=job.knowledge.version,
        causes=[BriefCause(id=cause, probability=chance) for cause, chance in leading],
        none_of_these=unlisted(posterior),
        next_action=BriefAction(id=action.id, kind=action.kind) if action else None,
    )


def _line(record: dict[str, Any]) -> bytes:
    """One line of plain ASCII, whatever words stand in it."""
    return json.dumps(record).encode("ascii")
