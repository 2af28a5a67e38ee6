"""What the READMEs show can be done, and what they count is so."""

import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner

from diagnose import cli
from diagnose.plate import Plate

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"```(\w+)\n(.*?)```", README, re.DOTALL)
SHELL = [line for kind, text in BLOCKS if kind == "sh" for line in text.strip().splitlines()]
SHOWN = [line for line in SHELL if line.startswith("diagnose ")]
SETUPS = [line for line in SHELL if line.startswith("python3 -m venv")]
PLATE = next(text for kind, text in BLOCKS if kind == "toml")


@pytest.mark.parametrize("line", SHOWN)
def test_every_command_shown_runs(line, tmp_path, monkeypatch):
    """In this process, for speed; the commands of a bare checkout are run whole by the tests of the command line."""
    (tmp_path / "plate.toml").write_text(PLATE, "utf-8")
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(cli.main, shlex.split(line)[1:])
    assert (done.exit_code, done.stderr) == (0, ""), done.exception
    assert done.stdout.strip()


def test_every_command_is_shown():
    shown = {shlex.split(line)[1] for line in SHOWN} | {part for line in SETUPS for part in line.split()[-1:]}
    assert set(cli.main.commands) <= shown


def test_the_two_setups_use_what_is_there():
    demo, tests = SETUPS
    assert demo.endswith(".venv/bin/diagnose demo")
    assert tests.endswith(".venv/bin/python -m pytest")
    for line in SETUPS:
        for lock in re.findall(r"-r (\S+)", line):
            assert (ROOT / lock).is_file()


def test_locks_pin_what_the_project_asks_for():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = {re.match(r"[\w-]+", text)[0].casefold() for text in project["dependencies"]}
    extra = {re.match(r"[\w-]+", t)[0].casefold() for texts in project["optional-dependencies"].values() for t in texts}
    for name, names in (("requirements.lock", wanted), ("tests/requirements.lock", wanted | extra)):
        text = (ROOT / name).read_text("utf-8")
        assert names <= {pin.casefold() for pin in re.findall(r"^([\w-]+)==", text, re.MULTILINE)}
        assert "http" not in text
        assert "--hash=sha256:" in text


def test_the_plate_file_shown_is_read():
    assert Plate.read(tomllib.loads(PLATE)).symptoms["comets"].attributes == {"place": "scattered"}


def test_the_python_shown_runs():
    code = next(text for kind, text in BLOCKS if kind == "python")
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, timeout=60, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert "/" in done.stdout


def test_counts_are_true(knowledge):
    counted = re.search(
        r"(\d+) causes in (\w+) stages of the work, (\d+) signs, (\d+) conditions, (\d+) checks, (\d+) remedies", README
    )
    assert counted
    assert counted[2] == "ten"
    assert len(knowledge.stages) == 10
    kinds = (knowledge.causes, knowledge.symptoms, knowledge.conditions, knowledge.checks, knowledge.remedies)
    assert [int(counted[n]) for n in (1, 3, 4, 5, 6)] == [len(kind) for kind in kinds]


def test_the_key_table_is_the_dialogs(knowledge):
    from diagnose.talk.dialog import KEYS

    for key in ("?", "w", "u", "s", "t", "m", "q"):
        assert f"| `{key}` |" in README
        assert f"{key} " in KEYS


def test_the_top_level_is_what_it_should_be():
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("not a checkout")
    top = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert top == {
        ".ci",
        ".gitignore",
        "LICENSE",
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "requirements.lock",
        "diagnose",
        "knowledge",
        "tests",
    }
