"""An archive diagnosed anew: what the knowledge as it is now would say of the plates of a book."""

import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from rich.console import RenderableType

from diagnose.bands import band
from diagnose.bulk import Again, Job, Rediagnosis, Work, rediagnose
from diagnose.daybook.book import Book
from diagnose.daybook.learning import Rates
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.phrases import percent
from diagnose.talk import blocks
from diagnose.talk.around import Around
from diagnose.talk.batching import Bar
from diagnose.talk.crew import Crew, count_workers

FEW = 200  # plates a process must have to do before it is worth starting one


def diagnose_again(book: Book, around: Around, options: Mapping[str, Any], learned: Rates | None = None) -> None:
    """`diagnose day again`: every spoiled plate of a book diagnosed anew, and what became of it.

    Args:
        book: the daybook or a part of it
        around: screen and knowledge
        options: workers, scheduler, as_json
        learned: the studio's own rates

    Raises:
        BatchError: a worker or the scheduler cannot be used
    """
    found = _with_bar(
        book, Job(around.knowledge, rates=learned), options["workers"] or "all", options["scheduler"] or ""
    )
    if options["as_json"]:
        for plate in found.plates:
            print(json.dumps({"knowledge_version": found.version, **plate._asdict(), "changed": plate.changed}))  # noqa: T201
        return
    around.look.show(*_screen(found, around.knowledge))


def _with_bar(book: Book, job: Job, workers: str, scheduler: str) -> Rediagnosis:
    spoiled = sum(not entry.good for entry in book.plates)
    count = min(count_workers(workers), max(1, spoiled // FEW))
    with Crew(job, count, scheduler) as crew, Bar(spoiled, 0, "plates") as step:

        def counted(work: Work, pieces: Iterable[list[Any]]) -> Iterator[list[Any]]:
            for found in crew.spread(work, pieces):
                step(len(found))
                yield found

        return rediagnose(book, job, counted)


def _screen(found: Rediagnosis, knowledge: Knowledge) -> Iterator[RenderableType]:
    plates = len(found.plates)
    yield blocks.heading(f"{plates} spoiled plate{'' if plates == 1 else 's'} diagnosed anew, each by itself")
    counts = (
        (found.same, "the same cause leads as before"),
        (found.changed, "another cause leads now"),
        (found.first_time, "no cause had been kept; one is named now"),
        (found.unread, "told in words the knowledge no longer has"),
    )
    for group, words in counts:
        if group:
            yield blocks.bulleted(f"{len(group)}: {words}")
    for plate in found.changed:
        old, new = (_called(cause, knowledge) for cause in (plate.old, plate.new))
        yield blocks.item(
            f"{_plate(plate)}: {old} ({percent(plate.old_chance)}) then; "
            f"{new} ({percent(plate.new_chance)}, {band(plate.new_chance)}) now"
        )
    for plate in found.unread:
        yield blocks.item(f"{_plate(plate)} cannot be read: {printable(plate.problem)}")


def _plate(plate: Again) -> str:
    return f"plate {plate.number} of {plate.day}"


def _called(cause: str, knowledge: Knowledge) -> str:
    return knowledge.causes[cause].title if cause in knowledge.causes else printable(cause)
