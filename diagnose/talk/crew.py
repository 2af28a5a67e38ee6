"""Workers for bulk work: processes of this machine, or those of a Dask cluster; answers come back in order either way."""

import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack
from types import TracebackType
from typing import Any, Self

from diagnose.bulk import Job, Work
from diagnose.errors import BatchError

WAITING_EACH = 4  # chunks handed out ahead for each worker, so that none stands idle and memory stays small
SCHEDULER_SECONDS = 10  # how long a scheduler is waited for
ALL = "all"


def count_workers(wanted: str) -> int:
    """How many worker processes are meant.

    Args:
        wanted: a whole number, or "all" for every core this program may use

    Raises:
        BatchError: it is neither
    """
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if wanted == ALL:
        return cores
    if not (wanted.isascii() and wanted.isdigit() and 1 <= int(wanted[:6]) <= 1000):
        raise BatchError(f"--workers {wanted[:20]!r}: give a whole number from 1 to 1000, or all")
    return int(wanted)


class Crew:
    """Workers that all do the same job.

    Args:
        job: what is to be done with every plate
        workers: how many processes; 1 does the work here
        scheduler: address of a Dask scheduler, which then does the work; "" for none

    Raises:
        BatchError: the scheduler cannot be used
    """

    def __init__(self, job: Job, workers: int = 1, scheduler: str = "") -> None:
        self.job = job
        self._open = ExitStack()
        self._submit: Callable[[Work, list[Any]], Any] | None = None
        self.workers = workers
        if scheduler:
            self._join_cluster(scheduler)
        elif workers > 1:
            self._start_processes(workers)

    @property
    def alone(self) -> bool:
        """Whether the work is done here."""
        return self._submit is None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._open.close()

    def spread(self, work: Work, pieces: Iterable[list[Any]]) -> Iterator[list[Any]]:
        """The work done on every piece, in the order of the pieces.

        Args:
            work: `answer_lines` or `again`
            pieces: what it is done on, a chunk at a time

        Raises:
            BatchError: a worker was lost
        """
        if self._submit is None:
            for piece in pieces:
                yield work(self.job, piece)
            return
        waiting: deque[Any] = deque()
        try:
            for piece in pieces:
                waiting.append(self._submit(work, piece))
                if len(waiting) >= WAITING_EACH * self.workers:
                    yield self._result(waiting.popleft())
            while waiting:
                yield self._result(waiting.popleft())
        finally:
            for later in waiting:
                later.cancel()

    def _result(self, future: Any) -> list[Any]:
        try:
            found: list[Any] = future.result()
        except Exception as error:
            words = f"a worker was lost ({type(error).__name__}); what is written stays, the same command goes on from there"
            raise BatchError(words) from error
        return found

    def _start_processes(self, workers: int) -> None:
        from concurrent.futures import ProcessPoolExecutor
        from multiprocessing import get_context

        pool = ProcessPoolExecutor(workers, get_context("spawn"), _take_up, (self.job,))
        self._open.callback(pool.shutdown, cancel_futures=True)
        self._submit = lambda work, piece: pool.submit(_do, work, piece)

    def _join_cluster(self, address: str) -> None:
        try:
            from distributed import Client
        except ImportError:
            raise BatchError("--scheduler wants Dask, which is not installed; pip install distributed") from None
        connect: Any = Client  # Dask tells no types
        try:
            client = connect(address, timeout=SCHEDULER_SECONDS, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as error:
            raise BatchError(
                f"no Dask scheduler answers at {address[:100]!r} ({type(error).__name__}); "
                "give its address, such as tcp://host:8786, or leave --scheduler out"
            ) from None
        self._open.callback(client.close)
        threads = sum(client.nthreads().values())
        if not threads:
            raise BatchError(
                f"the Dask scheduler at {address[:100]!r} has no workers; start some, or leave --scheduler out"
            )
        self.workers = threads
        job = client.scatter(self.job, broadcast=True, hash=False)
        self._submit = lambda work, piece: client.submit(work, job, piece, pure=False)


_taken_up: list[Job] = []


def _take_up(job: Job) -> None:
    """In a new worker process: make the knowledge ready once; end with the parent, and leave Ctrl-C to it."""
    import gc
    import signal
    from threading import Thread

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()
    gc.set_threshold(100_000, 20, 20)
    _taken_up[:] = [job]
    _ = job.craft
    gc.freeze()


def _end_with_parent() -> None:
    """A worker whose parent was killed would wait for work for ever."""
    from multiprocessing import connection, parent_process

    parent = parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


def _do(work: Work, piece: list[Any]) -> list[Any]:
    return work(_taken_up[0], piece)
