"""`diagnose plate --batch` as it is run: files, pipes, breaking off and going on, worker processes, a cluster."""

import contextlib
import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from diagnose.bulk import Job, answer_lines
from diagnose.daybook.book import Book, Given, Moment, PlateEntry
from diagnose.errors import BatchError
from diagnose.talk import batching, crew
from diagnose.talk.batching import diagnose_again, run_batch

CHECKOUT = Path(__file__).resolve().parents[2]
SIGNS = ("comets", "fog", "unsharp", "specks", "flat-picture", "oyster shells", "eaten-picture")
NOTHING = {"find_out": False, "out": None, "full": False, "workers": None, "scheduler": None}


def plates(count):
    return [
        {"id": n, "symptoms": [SIGNS[n % 7], SIGNS[n % 6]], "conditions": {"room_temperature": f"{15 + n % 20} °C"}}
        for n in range(count)
    ]


def rows():
    """Lines of plates, three that cannot be used and two blank ones among them."""
    found = [json.dumps(plate) for plate in plates(20)]
    found[5:5] = ["oops", "", '{"symptoms": ["no-such-sign"]}', "  "]
    return [*found, "[]"]


@pytest.fixture
def batch(tmp_path):
    """A file of them."""
    path = tmp_path / "plates.jsonl"
    path.write_text("\n".join(rows()), "utf-8")
    return path


@pytest.fixture(scope="module")
def expected(knowledge):
    """What must come out."""
    numbered = [(n, line.encode()) for n, line in enumerate(rows(), 1) if line.strip()]
    return b"".join(line + b"\n" for line in answer_lines(Job(knowledge, brief=True), numbered))


def run(knowledge, batch, **options):
    return run_batch(knowledge, {**NOTHING, "batch": str(batch), **{k: v and str(v) for k, v in options.items()}})


def environment():
    return {**os.environ, "PYTHONPATH": str(CHECKOUT), "PYTHONUTF8": "1"}


def command(*arguments, **options):
    whole = [sys.executable, "-m", "diagnose", "plate", *map(str, arguments)]
    return subprocess.Popen(whole, cwd=CHECKOUT, env=environment(), **options)


# Files and pipes ------------------------------------------------------------


def test_a_file_in_and_a_file_out(knowledge, batch, expected, tmp_path, capsys):
    out = tmp_path / "answers.jsonl"
    assert run(knowledge, batch, out=out) == 1
    assert out.read_bytes() == expected
    said = capsys.readouterr()
    assert said.err == "diagnose: 3 of 23 lines could not be used; each says why\n"
    assert not said.out
    errors = [json.loads(line) for line in expected.splitlines() if line.startswith(b'{"line": ')]
    assert [error["line"] for error in errors] == [6, 8, 25]


def test_a_pipe_in_and_a_pipe_out(knowledge, batch, expected, monkeypatch, capfdbinary):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(batch.read_bytes())))
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(io.BytesIO()))
    assert run(knowledge, "-") == 1
    assert sys.stdout.buffer.getvalue() == expected


def test_all_well_is_nought(knowledge, tmp_path, capsys):
    batch = tmp_path / "one.jsonl"
    batch.write_text('\ufeff{"symptoms": ["fog"]}\r\n', "utf-8")
    out = tmp_path / "answer.jsonl"
    assert run(knowledge, batch, out=out) == 0
    assert json.loads(out.read_bytes())["causes"]
    assert not capsys.readouterr().err


def test_a_line_without_end_is_passed_over_without_being_held(knowledge, tmp_path):
    batch, out = tmp_path / "long.jsonl", tmp_path / "answers.jsonl"
    batch.write_bytes(b"x" * 3_000_000 + b'\n{"symptoms": ["fog"]}\n')
    assert run(knowledge, batch, out=out) == 1
    first, second = map(json.loads, out.read_bytes().splitlines())
    assert (first["line"], "far too long" in first["error"], "causes" in second) == (1, True, True)


# Breaking off and going on --------------------------------------------------


@pytest.mark.parametrize("keep", [0, 1, 40, 0.2, 0.5, 0.97, -1, 1.0])
def test_it_goes_on_wherever_it_was_broken_off(knowledge, batch, expected, tmp_path, keep, capsys):
    """Whole answers are kept, a half-written one is not, and nothing is answered twice but the first and the last."""
    out = tmp_path / "answers.jsonl"
    end = round(keep * len(expected)) if isinstance(keep, float) else keep % len(expected)
    out.write_bytes(expected[:end])
    assert run(knowledge, batch, out=out) == 1
    assert out.read_bytes() == expected
    assert "3 of 23" in capsys.readouterr().err


def test_going_on_answers_only_what_is_left(knowledge, batch, expected, tmp_path, monkeypatch):
    out = tmp_path / "answers.jsonl"
    half = expected.splitlines(keepends=True)[:15]
    out.write_bytes(b"".join(half))
    asked = []

    def counted(job, lines):
        asked.extend(lines)
        return answer_lines(job, lines)

    monkeypatch.setattr(batching, "answer_lines", counted)
    run(knowledge, batch, out=out)
    assert len(asked) == 2 + 8
    assert out.read_bytes() == expected


@pytest.mark.parametrize("kept", [b"somebody's letter", b'{"other": 1}\n', b"\n", None, "other options", "more"])
def test_a_file_of_something_else_is_left_as_it_is(knowledge, batch, expected, tmp_path, kept):
    out = tmp_path / "answers.jsonl"
    if kept is None:  # answers to other plates
        kept = b"".join(expected.splitlines(keepends=True)[1:9])
    elif kept == "other options":
        kept = answer_lines(Job(knowledge), [(1, b'{"id": 0, "symptoms": ["comets"]}')])[0] + b"\n"
    elif kept == "more":
        kept = expected + expected
    out.write_bytes(kept)
    with pytest.raises(BatchError, match="left as it is"):
        run(knowledge, batch, out=out)
    assert out.read_bytes() == kept


def test_the_plates_are_not_written_over(knowledge, batch):
    before = batch.read_bytes()
    with pytest.raises(BatchError, match="name another file"):
        run(knowledge, batch, out=batch)
    assert batch.read_bytes() == before


def test_killed_and_taken_up_again(batch, expected, tmp_path, knowledge):
    """The pipe stays open, so that it is killed in the middle however slow or quick the machine is."""
    out = tmp_path / "answers.jsonl"
    process = command("--batch", "-", "--out", out, stdin=subprocess.PIPE)
    process.stdin.write(b"".join(batch.read_bytes().splitlines(keepends=True)[:15]))
    process.stdin.flush()
    until(lambda: out.exists() and out.read_bytes().count(b"\n") >= 5)
    process.kill()
    process.wait()
    process.stdin.close()
    broken = out.read_bytes()
    assert expected.startswith(broken)
    assert len(broken) < len(expected)
    assert run(knowledge, batch, out=out) == 1
    assert out.read_bytes() == expected


def until(true, seconds=30):
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "nothing came"
        time.sleep(0.01)


# What cannot be done --------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"batch": "/no/such/file"}, "cannot be read"),
        ({"out": "/no/such/folder/answers"}, "cannot be written"),
        ({"workers": "many"}, "--workers 'many'"),
        ({"workers": "0"}, "--workers '0'"),
        ({"workers": "²"}, "--workers"),
        ({"why": "movement"}, "--why tells of one plate"),
        ({"not_there": ("fog",)}, "--not-there tells of one plate"),
        ({"scheduler": "nonsense://x"}, "no Dask scheduler answers"),
    ],
)
def test_one_clear_line(knowledge, batch, options, words):
    with pytest.raises(BatchError, match=words) as error:
        run_batch(knowledge, {**NOTHING, "batch": str(batch), **options})
    assert "\n" not in str(error.value)


def test_signs_do_not_go_with_a_file(knowledge, batch):
    with pytest.raises(BatchError, match="a sign tells of one plate"):
        run_batch(knowledge, {**NOTHING, "batch": str(batch)}, signs=("fog",))


def test_without_dask(knowledge, batch, monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(BatchError, match="not installed"):
        run(knowledge, batch, scheduler="tcp://127.0.0.1:1")


def test_all_workers_are_the_cores_at_hand():
    assert crew.count_workers("all") >= 1
    assert crew.count_workers("3") == 3


def test_a_bar_only_for_a_terminal(monkeypatch):
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr(sys, "stderr", Terminal())
    with batching._Bar(10, 2, "plates") as step:
        step(8)
    assert "10/10" in sys.stderr.getvalue()
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    with batching._Bar(10, 2, "plates") as step:
        step(8)
    assert not sys.stderr.getvalue()


# Many hands -----------------------------------------------------------------


def test_two_processes_give_the_same_bytes(knowledge, batch, expected, tmp_path, monkeypatch):
    monkeypatch.setattr(batching, "CHUNK", 5)
    out = tmp_path / "answers.jsonl"
    assert run(knowledge, batch, out=out, workers=2) == 1
    assert out.read_bytes() == expected


def lose_a_worker(job, piece):
    os._exit(1)


def test_a_lost_worker_is_told(knowledge):
    with crew.Crew(Job(knowledge), 2) as hands, pytest.raises(BatchError, match="a worker was lost"):
        list(hands.spread(lose_a_worker, [[1]]))


def spoiled(count):
    given = Given("old", {"fixing/fixer-too-strong": 0.5})
    told = {"symptoms": {"unsharp": True}}
    return Book(
        tuple(
            PlateEntry(number=n, moment=Moment(n, f"{1900 + n}-05-01"), outcome="spoiled", told=told, given=given)
            for n in range(1, count + 1)
        )
    )


def test_an_archive_anew_alone_and_with_two(knowledge, monkeypatch):
    monkeypatch.setattr(batching, "FEW", 20)
    alone, together = (diagnose_again(spoiled(50), knowledge, workers=count) for count in ("1", "2"))
    assert alone == together
    assert len(alone.changed) == 50


@pytest.mark.slow
def test_workers_end_with_a_killed_parent(tmp_path):
    batch, out = tmp_path / "plates.jsonl", tmp_path / "answers.jsonl"
    batch.write_text("\n".join(map(json.dumps, plates(20_000))), "utf-8")
    process = command("--batch", batch, "--out", out, "--workers", "2", start_new_session=True)
    until(lambda: out.exists() and out.stat().st_size)
    process.kill()
    process.wait()
    until(lambda: not alive(process.pid))


def alive(group):
    with contextlib.suppress(ProcessLookupError):
        os.killpg(group, 0)
        return True
    return False


@pytest.mark.slow
def test_an_interrupt_ends_it_quietly_and_it_goes_on(knowledge, tmp_path):
    batch, out = tmp_path / "plates.jsonl", tmp_path / "answers.jsonl"
    batch.write_text("\n".join(map(json.dumps, plates(2000))), "utf-8")
    process = command("--batch", batch, "--out", out, "--workers", "2", start_new_session=True, stderr=subprocess.PIPE)
    until(lambda: out.exists() and out.stat().st_size)
    os.killpg(process.pid, signal.SIGINT)
    said = process.communicate(timeout=60)[1].decode()
    assert process.returncode == 130, said
    assert "Traceback" not in said
    assert run(knowledge, batch, out=out) == 0
    assert out.read_bytes().count(b"\n") == 2000


@pytest.mark.slow
@pytest.mark.filterwarnings("default")  # Dask's own warnings, on closing its workers, are not ours
def test_a_cluster_gives_the_same_bytes(knowledge, batch, expected, tmp_path, monkeypatch):
    from distributed import LocalCluster

    monkeypatch.setattr(batching, "CHUNK", 5)
    out = tmp_path / "answers.jsonl"
    with LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster:
        address = cluster.scheduler_address
        assert run(knowledge, batch, out=out, scheduler=address) == 1
        assert out.read_bytes() == expected
        anew = diagnose_again(spoiled(50), knowledge, scheduler=address)
        with pytest.raises(BatchError, match="a worker was lost"):
            next(crew.Crew(Job(knowledge), 1, address).spread(fail, [[1]]))
    assert anew == diagnose_again(spoiled(50), knowledge, workers="1")
    with (
        LocalCluster(n_workers=0, processes=False, dashboard_address=None) as empty,
        pytest.raises(BatchError, match="has no workers"),
    ):
        run(knowledge, batch, out=tmp_path / "none", scheduler=empty.scheduler_address)


def fail(job, piece):
    raise RuntimeError
