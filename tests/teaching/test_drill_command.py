"""`diagnose drill` as it is typed: sets by their endings, reports, errors in one line."""

import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import diagnose
from diagnose import cli
from diagnose.teaching.looks import pictures_can_be_drawn


@pytest.fixture
def run(monkeypatch, capsys, tmp_path):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("TERM", "xterm")

    def runs(*arguments, typed=""):
        stdin = io.TextIOWrapper(io.BytesIO(typed.encode()), encoding="utf-8")
        monkeypatch.setattr(sys, "argv", ["diagnose", *arguments])
        monkeypatch.setattr(sys, "stdin", stdin)
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            cli.run()
        said = capsys.readouterr()
        return left.value.code, said.out, said.err

    return runs


def test_a_drill_from_a_pipe_is_kept_and_reported(run, tmp_path):
    for name, typed in (("Anna", "1 sure\n\n1\n1\n\n\n"), ("Ben\x1b[31m", "?\n?\n\n\n")):
        code, out, err = run(
            "drill", "--seed", "may", "--count", "1", "--student", name, "--keep", "c.jsonl", typed=typed
        )
        assert (code, err) == (0, "")
        assert "What it was" in out
    assert len((tmp_path / "c.jsonl").read_text("ascii").splitlines()) == 2
    code, out, err = run("drill", "report", "c.jsonl")
    assert (code, err) == (0, "")
    assert out.startswith("Anna: 1 plate")
    assert "\x1b" not in out
    assert "All 2 together: 2 plates" in out
    assert "too few plates to tell" in out
    code, out, _ = run("drill", "report", "c.jsonl", "--student", "Anna", "--json")
    assert [student["student"] for student in json.loads(out)["students"]] == ["Anna"]


@pytest.mark.parametrize("ending", ["html", "txt", "json"])
def test_a_class_set_is_written_by_its_ending_and_again_the_same(run, tmp_path, ending):
    for name in ("a", "b"):
        code, out, err = run(
            "drill", "--class", f"{name}.{ending}", "--seed", "may", "--count", "1", "--title", "<b>May</b>"
        )
        assert (code, err) == (0, "")
        assert "--seed may" in out
    first, second = ((tmp_path / f"{name}.{ending}").read_bytes() for name in ("a", "b"))
    assert first == second
    assert (b"<b>May" in first) == (ending != "html")
    pictured = pictures_can_be_drawn() and ending != "txt"
    assert (b"iVBOR" in first) == pictured


def test_a_set_brings_back_what_was_missed(run, tmp_path):
    run("drill", "--seed", "may", "--count", "1", "--keep", "c.jsonl", typed="?\n?\n\n\n")
    missed = json.loads((tmp_path / "c.jsonl").read_text("ascii"))["causes"]
    code, out, _ = run("drill", "--class", "set.json", "--missed", "c.jsonl", "--count", "3", "--words")
    assert code == 0
    assert "what was missed" in out
    plates = json.loads((tmp_path / "set.json").read_text("utf-8"))["plates"]
    knowledge = diagnose.read_knowledge()
    titles = {knowledge.causes[cause].title for cause in missed}
    for number in (0, 2):
        assert titles & {truth["title"] for truth in plates[number]["key"]["truths"]}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--class", "set.pdf"], "end the name in .html, .txt, .json"),
        (["--class", "nowhere/set.html", "--words", "--count", "1"], "cannot be written"),
        (["--keep", "."], "cannot be read"),
        (["--seed", "\x1b[2J"], "take a word or a number"),
        (["--seed", "x" * 41, "--class", "a.txt"], "at most 40 letters"),
        (["--student", "x" * 81], "longer than 80 letters"),
        (["report", "missing.jsonl"], "cannot be read"),
        (["report", "empty.jsonl"], "no answer in empty.jsonl"),
        (["report", "bad.jsonl"], "bad.jsonl:1: this is no line of JSON"),
        (["--class", "set.txt", "--missed", "empty.jsonl"], "nothing was missed"),
        (["report", "binary.jsonl"], "it is no text"),
    ],
)
def test_what_cannot_be_done_is_one_clear_line(run, tmp_path, arguments, words):
    (tmp_path / "empty.jsonl").write_text("\n", "utf-8")
    (tmp_path / "bad.jsonl").write_text("nonsense\n", "utf-8")
    (tmp_path / "binary.jsonl").write_bytes(b"\xff\xfe\x00")
    code, out, err = run("drill", *arguments)
    assert code == 1
    assert words in err
    assert err.startswith("diagnose: ")
    assert len(err.splitlines()) <= 2
    assert "Traceback" not in out + err


def test_the_help_fits_and_its_words_are_whole(run):
    for command in (("drill",), ("drill", "report")):
        code, out, _ = run(*command, "--help")
        assert code == 0
        assert "\\b" not in out
        assert all(len(line) <= 96 for line in out.splitlines())


def test_the_book_is_not_made_by_asking_for_it(run, private_book):
    for more in ((), ("--class", "set.txt")):
        code, _, err = run("drill", "--from-book", *more)
        assert code == 1
        assert "no plate of your daybook has a confirmed cause yet" in err
    assert not private_book.exists()


def test_the_seed_is_said_as_it_must_be_typed(run):
    _, out, _ = run("drill", "--seed", "first of may", "--count", "1", "--words", typed="?\n?\n\n\n")
    assert "--seed 'first of may'" in out
    assert "), first of may/1" in out


def test_a_lesson_by_either_command(run):
    typed = "1 sure\n\nq\n"
    for arguments in (("plate", "comets", "--lesson"), ("--no-book", "plate", "comets", "--talk", "--lesson")):
        code, out, err = run(*arguments, typed=typed)
        assert (code, err) == (0, "")
        assert "For your notebook" in out
    code, out, _ = run("--no-book", "--lesson", typed=f"comets\n\n{typed}")
    assert code == 0
    assert re.search(r"I thought: .+95%", " ".join(out.split()))


def test_the_talk_starts_without_the_drill(run):
    """Nothing of the teaching part is loaded for a diagnosis."""
    here = dict(os.environ, PYTHONPATH=str(Path(__file__).resolve().parents[2]))
    script = (
        "import sys\nfrom diagnose import cli\nsys.argv = ['diagnose', 'plate', 'comets']\n"
        "try: cli.run()\nexcept SystemExit: pass\n"
        "print([name for name in sys.modules if 'teaching' in name or 'drill' in name or name in ('numpy', 'jinja2')])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, env=here)
    assert done.stdout.splitlines()[-1] == "[]"
