"""How many plates a second? `python tests/measure_batch.py`, or `pytest -m slow -n 0 -s tests/measure_batch.py`.

Every case and every book entry, over and over: the brief record and the full one on one core, by the processor's own time, which
other programs do not spoil; then one process against two by the clock, start of the workers counted apart. The clock is only
trusted, and the ratio only asserted, where the machine was quiet.
"""

import json
import os
import sys
import time
from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parent
sys.path.append(str(TESTS.parent))  # for `python tests/measure_batch.py`

from diagnose import read_knowledge  # noqa: E402
from diagnose.bulk import CHUNK, Job, answer_lines  # noqa: E402
from diagnose.talk.crew import Crew  # noqa: E402
from tests.measure_speed import plates  # noqa: E402

BRIEF_A_SECOND, TWICE = 300, 1.7
BRIEF, FULL, SPREAD = 2000, 200, 6000
TURNS = 3
QUIET = 0.5  # load of the machine below which the clock is trusted


def many(count):
    told = [json.dumps(plate).encode() for plate in plates()]
    return [(number, told[number % len(told)]) for number in range(count)]


def one_core(job, lines):
    """Plates a second of the processor's time."""
    answer_lines(job, lines[:50])
    started = time.process_time()
    answer_lines(job, lines)
    return len(lines) / (time.process_time() - started)


def by_the_clock(job, workers, lines):
    """Seconds for all, once the workers stand ready."""
    pieces = [lines[start : start + CHUNK] for start in range(0, len(lines), CHUNK)]
    with Crew(job, workers) as crew:
        list(crew.spread(answer_lines, pieces[: 4 * workers]))
        started = time.perf_counter()
        answers = [line for piece in crew.spread(answer_lines, pieces) for line in piece]
        return time.perf_counter() - started, answers


def report():
    knowledge = read_knowledge()
    brief = Job(knowledge, brief=True)
    speeds = {"brief": one_core(brief, many(BRIEF)), "full": one_core(Job(knowledge), many(FULL))}
    for name, speed in speeds.items():
        print(f"{name}: {speed:.0f} plates a second of one core's time, rules fired")
    load, lines = os.getloadavg()[0], many(SPREAD)
    taken = {1: [], 2: []}
    for _ in range(TURNS):
        for workers, found in taken.items():
            spent, answers = by_the_clock(brief, workers, lines)
            found.append(spent)
            assert len(answers) == SPREAD
    ratio = min(taken[1]) / min(taken[2])
    print(f"{SPREAD} plates, brief: {min(taken[1]):.2f} s alone, {min(taken[2]):.2f} s by two: {ratio:.2f} times")
    print(f"load of the machine before: {load:.2f}")
    return speeds, ratio, load


@pytest.mark.slow
def test_many_plates_are_quick():
    speeds, ratio, load = report()
    assert speeds["brief"] >= BRIEF_A_SECOND
    if load < QUIET and (os.cpu_count() or 1) >= 2:
        assert ratio >= TWICE


if __name__ == "__main__":
    report()
