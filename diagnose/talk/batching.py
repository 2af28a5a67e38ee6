"""Many plates at once: from a file of JSON lines to another, with a bar on the way, and on again where it was broken off."""

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack
from itertools import islice
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple, Self

from diagnose.bulk import CHUNK, ERROR_STARTS, LONGEST_LINE, Job, Numbered, Rediagnosis, Work, answer_lines, rediagnose
from diagnose.daybook.book import Book
from diagnose.daybook.learning import Rates
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import BatchError, printable
from diagnose.talk.crew import Crew, count_workers

ALONE = ("batch", "out", "full", "workers", "scheduler", "find_out", "as_json", "safelight", "plain")
STEP = Callable[[int], object]
ANSWER_STARTS = (ERROR_STARTS, b'{"id": ', b'{"knowledge_version": ')


def run_batch(knowledge: Knowledge, options: Mapping[str, Any], *, measures: str = "metric", signs: object = ()) -> int:
    """`diagnose plate --batch`: answer every line of a file.

    Args:
        knowledge: the craft
        options: of the command: batch, out, full, workers, scheduler, find_out; none that tells of one plate
        measures: "metric", "us" or "imperial"
        signs: told for one plate; there must be none

    Returns:
        the exit code: 0, or 1 where a line could not be used

    Raises:
        BatchError: a file, a worker or an option cannot be used
    """
    strange = [name for name, value in options.items() if value and name not in ALONE]
    if signs or strange:
        what = f"--{strange[0].replace('_', '-')}" if strange else "a sign"
        raise BatchError(f"{what} tells of one plate; with --batch the plates stand in the file")
    job = Job(knowledge, "find-out" if options["find_out"] else "sitter-waiting", measures, not options["full"])
    workers = count_workers(options["workers"] or "1")
    with ExitStack() as opened:
        lines = opened.enter_context(_Lines(options["batch"]))
        sink: BinaryIO = sys.stdout.buffer
        kept = _Kept()
        if options["out"]:
            sink = opened.enter_context(_opened(options["out"], options["batch"]))
            kept = _go_on(sink, options["out"], lines, job)
        crew = opened.enter_context(Crew(job, workers, options["scheduler"] or ""))
        step = opened.enter_context(_Bar(lines.total, kept.answers, "plates"))
        done, bad = kept.answers, kept.bad
        for answers in crew.spread(answer_lines, _chunks(lines, 1 if crew.alone else CHUNK)):
            sink.write(b"".join(answer + b"\n" for answer in answers))
            sink.flush()
            done += len(answers)
            bad += sum(answer.startswith(ERROR_STARTS) for answer in answers)
            step(len(answers))
    if bad:
        print(f"diagnose: {bad} of {done} lines could not be used; each says why", file=sys.stderr)  # noqa: T201
    return 1 if bad else 0


FEW = 200  # plates a process must have to do before it is worth starting one


def diagnose_again(
    book: Book, knowledge: Knowledge, *, rates: Rates | None = None, workers: str = "all", scheduler: str = ""
) -> Rediagnosis:
    """`diagnose day again`: every spoiled plate of an archive diagnosed anew, with a bar on the way.

    Args:
        book: the daybook or a part of it
        knowledge: as it is now
        rates: of the studio, where its plates are to be weighed with them
        workers: how many processes, or "all"
        scheduler: address of a Dask scheduler; "" for none

    Raises:
        BatchError: a worker or the scheduler cannot be used
    """
    spoiled = sum(not entry.good for entry in book.plates)
    count = min(count_workers(workers), max(1, spoiled // FEW))
    with Crew(Job(knowledge, rates=rates), count, scheduler) as crew, _Bar(spoiled, 0, "plates") as step:

        def counted(work: Work, pieces: Iterable[list[Any]]) -> Iterator[list[Any]]:
            for found in crew.spread(work, pieces):
                step(len(found))
                yield found

        return rediagnose(book, crew.job, counted)


class _Lines:
    """The lines of a file, or of standard input, that are not blank, each with its number."""

    def __init__(self, name: str) -> None:
        self.total: int | None = None
        try:
            self._file: BinaryIO = sys.stdin.buffer if name == "-" else Path(name).expanduser().open("rb")
        except (OSError, ValueError) as error:
            raise BatchError(f"{_short(name)}: cannot be read: {getattr(error, 'strerror', None) or error}") from None
        if self._file.seekable() and name != "-":
            self.total = sum(1 for _ in self._numbered())
            self._file.seek(0)
        self._left = self._numbered()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._file is not sys.stdin.buffer:
            self._file.close()

    def __iter__(self) -> Iterator[Numbered]:
        return self._left

    def _numbered(self) -> Iterator[Numbered]:
        number = 0
        while line := self._file.readline(LONGEST_LINE + 2):
            number += 1
            rest = line
            while rest and not rest.endswith(b"\n"):  # of a line far too long for a plate
                rest = self._file.readline(LONGEST_LINE)
            if line.strip():
                yield number, line.rstrip(b"\r\n")


class _Kept(NamedTuple):
    """How many answers a file holds already, and how many of them say that a line could not be used."""

    answers: int = 0
    bad: int = 0


def _go_on(sink: BinaryIO, out: str, lines: _Lines, job: Job) -> _Kept:
    """Pass over the plates that are answered already, and stand behind the last whole answer; what comes after it is cut off.

    The first and the last answer are worked out again and must come out the same: otherwise the file belongs to other plates, or
    to other knowledge, and is left as it is.
    """
    count = bad = end = 0
    first = last = rest = b""
    for line in sink:
        if not line.endswith(b"\n"):
            rest = line
            break
        count, end = count + 1, end + len(line)
        bad += line.startswith(ERROR_STARTS)
        first, last = first or line, line
    passed = list(_ends(islice(lines, count)))
    answers = [answer + b"\n" for answer in answer_lines(job, [plate for _, plate in passed])]
    whole = (not count) or (passed and passed[-1][0] == count and [answers[0], answers[-1]] == [first, last])
    if not whole or not any(rest.startswith(start[: len(rest)]) for start in ANSWER_STARTS):
        raise BatchError(
            f"{_short(out)}: holds something else than answers to these plates, given with this knowledge and these options; "
            "it was left as it is: name another file, or remove it"
        )
    sink.truncate(end)
    sink.seek(end)
    return _Kept(count, bad)


def _ends(plates: Iterable[Numbered]) -> Iterator[tuple[int, Numbered]]:
    """The first and the last of some plates, each with its place among them."""
    place, last = 0, None
    for place, plate in enumerate(plates, 1):
        if place == 1:
            yield 1, plate
        last = plate
    if last is not None and place > 1:
        yield place, last


def _chunks(plates: Iterable[Numbered], size: int) -> Iterator[list[Numbered]]:
    every = iter(plates)
    while chunk := list(islice(every, size)):
        yield chunk


def _opened(out: str, batch: str) -> BinaryIO:
    path = Path(out).expanduser()
    try:
        path.touch()
        if batch != "-" and path.samefile(Path(batch).expanduser()):
            raise BatchError(f"{_short(out)}: the answers cannot go where the plates stand; name another file")
        return path.open("r+b")
    except (OSError, ValueError) as error:
        raise BatchError(f"{_short(out)}: cannot be written: {getattr(error, 'strerror', None) or error}") from None


def _short(name: str) -> str:
    return printable(name if len(name) <= 60 else "..." + name[-57:])


def _no_step(count: int) -> None:
    """Nobody watches."""


class _Bar:
    """A bar on standard error, where that is a terminal; else nothing."""

    def __init__(self, total: int | None, done: int, words: str) -> None:
        self._total, self._done, self._words = total, done, words
        self._progress: Any = None

    def __enter__(self) -> STEP:
        if not sys.stderr.isatty():
            return _no_step
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

        self._progress = Progress(
            TextColumn(self._words),
            BarColumn(),
            MofNCompleteColumn(),
            TimeRemainingColumn(),
            console=Console(stderr=True),
        )
        self._progress.start()
        task = self._progress.add_task(self._words, total=self._total, completed=self._done)
        return lambda count: self._progress.update(task, advance=count)

    def __exit__(self, *_: object) -> None:
        if self._progress is not None:
            self._progress.stop()
