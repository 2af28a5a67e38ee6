"""How quick is it? `python tests/measure_speed.py`, or `pytest -m slow -n 0 -s tests/measure_speed.py`.

Warm, over every case and every book entry: one diagnosis (fire, gather, weigh, plan) and the questions worth asking next; every sum
and solution, worked once. And whole processes: a one-shot diagnosis against one that only imports rich and pydantic, a sum of the
bench against `--version`, taken in turns so that all meet the same machine. Figures are for the machine they are taken on; the
ratio is not.
"""

import gc
import os
import subprocess
import sys
import time
import tomllib
from pathlib import Path
from statistics import median, quantiles

import pytest

TESTS = Path(__file__).resolve().parent
sys.path.append(str(TESTS.parent))  # for `python tests/measure_speed.py`

from tests.bench.ordinary import ORDINARY  # noqa: E402

PARTS = ("symptoms", "conditions", "checks", "tried")
DIAGNOSE_MS, ASKING_MS, SUM_MS, RATIO = 10.0, 60.0, 1.0, 2.0
TURNS = 15
ONE_SHOT = ("-m", "diagnose", "plate", "comets")
MEASURE = ("-c", "from rich.console import Console; from pydantic import BaseModel")
VERSION = ("-m", "diagnose", "--version")
SUM = ("-m", "diagnose", "bench", "wet-window", "temperature=28 °C", "humidity=35 %")
PROCESSES = {
    "diagnose plate comets": ONE_SHOT,
    "import rich, pydantic": MEASURE,
    "diagnose --version": VERSION,
    "diagnose bench wet-window": SUM,
}


def plates():
    files = [(path, "case") for path in sorted((TESTS / "cases").rglob("*.toml"))]
    for path, table in [*files, (TESTS / "handbook" / "entries.toml", "entry")]:
        for entry in tomllib.loads(path.read_text("utf-8"))[table]:
            yield {part: entry[part] for part in PARTS if part in entry}


def warm():
    """Milliseconds of each plate: the diagnosis, and what to ask next."""
    from diagnose import Plate, diagnose, read_knowledge

    knowledge = read_knowledge()
    told = [Plate.read(table) for table in plates()]
    diagnose(told[0], knowledge).worth_asking()
    answers, diagnosing, asking = [], [], []
    gc.collect()
    for plate in told:
        started = time.perf_counter()
        answers.append(diagnose(plate, knowledge))
        diagnosing.append(1000 * (time.perf_counter() - started))
    for answer in answers:
        started = time.perf_counter()
        answer.worth_asking()
        asking.append(1000 * (time.perf_counter() - started))
    return {
        f"diagnose ({answers[0].firing.engine})": (diagnosing, DIAGNOSE_MS),
        "worth asking": (asking, ASKING_MS),
        "sums of the bench": (sums(knowledge.solutions), SUM_MS),
    }


def sums(solutions):
    """Milliseconds of each sum and solution with everyday values, worked once; tables are read beforehand."""
    from diagnose.entries.sums import find_sum
    from diagnose.talk.bench_asking import read_given

    ready = []
    for name, given in ORDINARY.items():
        sum_ = find_sum(name, solutions)
        told = {key: item.value for key, item in read_given(sum_, given).items()}
        sum_.reckon(told)
        ready.append((sum_, told))
    taken = []
    for sum_, told in ready:
        started = time.perf_counter()
        sum_.reckon(told)
        taken.append(1000 * (time.perf_counter() - started))
    return taken


def whole_process():
    """Milliseconds of whole processes, taken in turns; the first of each, which may fill caches, is not counted."""
    taken = {name: [] for name in PROCESSES}
    env = {**os.environ, "PYTHONUTF8": "1", "NO_COLOR": "1"}
    for turn in range(TURNS + 1):
        for name, arguments in PROCESSES.items():
            started = time.perf_counter()
            done = subprocess.run(
                [sys.executable, *arguments], capture_output=True, cwd=TESTS.parent, env=env, check=False
            )
            spent = 1000 * (time.perf_counter() - started)
            assert done.returncode == 0, done.stderr.decode()
            assert bool(done.stdout) == (arguments is not MEASURE)
            if turn:
                taken[name].append(spent)
    return taken


def p95(times):
    return quantiles(times, n=20)[-1]


def report(rows, processes):
    print(f"\nPython {sys.version.split()[0]}, {os.cpu_count()} cores\n")
    print(f"{'warm, ms':28} {'cases':>7} {'median':>8} {'p95':>8} {'most':>8} {'allowed p95':>12}")
    for name, (times, allowed) in rows.items():
        print(f"{name:28} {len(times):7} {median(times):8.2f} {p95(times):8.2f} {max(times):8.2f} {allowed:12.0f}")
    print(f"\n{'whole process, ms':28} {'runs':>7} {'median':>8} {'least':>8} {'most':>8}")
    for name, times in processes.items():
        print(f"{name:28} {len(times):7} {median(times):8.0f} {min(times):8.0f} {max(times):8.0f}")
    print(f"{'ratio of the medians':28} {'':7} {ratio(processes):8.2f} {'':8} {'':8} {RATIO:12.1f}")


def ratio(processes):
    ours, theirs = (median(processes[name]) for name in ("diagnose plate comets", "import rich, pydantic"))
    return ours / theirs


@pytest.mark.slow
def test_it_is_quick_enough():
    rows, processes = warm(), whole_process()
    report(rows, processes)
    for name, (times, allowed) in rows.items():
        assert p95(times) <= allowed, name
    assert ratio(processes) <= RATIO


if __name__ == "__main__":
    report(warm(), whole_process())
