"""Every command and option, and every exit code: 0 done, 1 a slip, 2 usage, 3 a bug, 130 interrupted."""

import io
import json
import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from diagnose import cli
from diagnose.entries.compiled import knowledge_folder
from diagnose.talk import commands

CHECKOUT = Path(__file__).resolve().parents[1]
COMMANDS = (
    "plate", "day", "drill", "demo", "symptoms", "knowledge", "bench", "schema", "completion", "why", "handbook",
)  # fmt: skip


@dataclass(frozen=True)
class Run:
    """A command that is over."""

    code: int
    out: str
    err: str


@pytest.fixture(autouse=True)
def _plain_terminal(monkeypatch):
    for name in ("NO_COLOR", "FORCE_COLOR", "COLORTERM", "PYTHONIOENCODING"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("TERM", "xterm")


@pytest.fixture
def run(monkeypatch, capsys):
    """Run a command in this process, through the same door as the program's own."""

    def runs(*arguments: str, typed: str = "") -> Run:
        class Typed(io.TextIOWrapper):
            def isatty(self):
                return False

        monkeypatch.setattr(sys, "argv", ["diagnose", *arguments])
        monkeypatch.setattr(sys, "stdin", Typed(io.BytesIO(typed.encode()), encoding="utf-8"))
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            cli.run()
        said = capsys.readouterr()
        return Run(left.value.code, said.out, said.err)

    return runs


def child(*arguments, typed=b"", **environment):
    """Run a command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "diagnose", *arguments],
        input=typed,
        capture_output=True,
        timeout=60,
        check=False,
        cwd=CHECKOUT,
        env={**os.environ, **environment},
    )


def assert_said_in_one_line(done: Run, *words: str) -> None:
    """One printable line on standard error, and nothing else."""
    assert done.code == 1
    assert done.out == ""
    (line,) = done.err.splitlines()
    assert line.startswith("diagnose: ")
    assert line.isprintable()
    for word in words:
        assert word in line


# 0: done -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("plate", "fog"), ("What it may be", "Worth telling next")),
        (("plate",), ("Nothing has been told of the plate yet",)),
        (("plate", "comets", "oyster shells", "-c", "holder_wiped=no"), ("What it may be",)),
        (
            ("plate", "--shows", "fog:colour=grey,place=whole-plate", "--full"),
            ("Fog (grey, over the whole plate)", "What would change this answer"),
        ),
        (
            ("plate", "--not-there", "fog", "--unsure", "comets", "--cannot-tell", "specks", "--full"),
            ("not there: Fog",),
        ),
        (("plate", "fog", "--condition", "room_temperature=82 F", "--full"), ("room temperature: 27.778 °C",)),
        (("plate", "fog", "-c", "room_temperature=?"), ("What it may be",)),
        (("plate", "fog", "--check", "proving-plate=fogs", "--full"), ("What was told",)),
        (("plate", "fog", "--tried", "rest-bath-use-reserve=no-change", "--full"), ("(no-change)",)),
        (("plate", "fog", "--trace"), ("Rules that fired", ": because ")),
        (("plate", "fog", "--why", "1"), ("How it comes about",)),
        (("plate", "fog", "--why", "development/over-developed"), ("How it comes about",)),
        (("plate", "fog", "--why-not", "dirty-holder"), ("Why not “",)),
        (("plate", "fog", "--why-not", "1"), ("leads, with ",)),
        (
            ("plate", "fog", "--why", "over-developed", "--why-not", "fumes"),
            ("How it comes about", "Chemistry: ", "Why not “", "What would part them", "What would change this answer"),
        ),
        (("why", "over-exposed"), ("How it comes about", "Born in: Exposure", "What to practise", "Sources")),
        (("why", "oyster", "shells"), ("How it differs from its neighbours", "Tell it by: ")),
        (("why", "weak-bath", "lifted-too-soon", "--plain"), (", or: ", "In short")),
        (("why", "too strong"), ("may mean more than one thing", "diagnose why fixing/fixer-too-strong")),
        (("why", "fog", "--json"), ('"kind": "sign"', '"neighbours"')),
        (("plate", "fog", "--find-out"), ("What it may be",)),
        (("--plain", "plate", "fog"), ("What it may be",)),
        (("--safelight", "plate", "fog"), ("What it may be",)),
        (("demo",), ("An invented afternoon", "diagnose plate --shows oyster-shell-marks")),
        (("demo", "--find-out"), ("An invented afternoon",)),
        (("symptoms",), ("fog Fog",)),
        (("knowledge", "check"), ("No problems.", "causes")),
        (("knowledge", "check", "--judged"), ("links rest on judgement alone",)),
        (("knowledge", "folder"), ("knowledge",)),
        (("knowledge", "numbers", "old-collodion"), ("how common:", "slow-plate:", "odds times")),
        (("bench",), ("silver-to-add How much silver nitrate", "developer-mild Mild iron developer")),
        (
            ("bench", "silver-to-add", "volume=900 mL", "strength=38 gr/oz", "wanted=90 g/L"),
            ("silver nitrate to add: 6.2 g", "How well: "),
        ),
        (("bench", "developer-mild", "volume=500 mL", "--full"), ("From: ", "Keeps: ")),
        (("--units", "us", "bench", "new-bath", "volume=1 L", "wanted=90 g/L"), ("1390 grains (90 g)",)),
        (("--units", "imperial", "bench", "new-bath", "volume=1 L", "wanted=90 g/L"), ("imperial fl oz (980 mL)",)),
        (("--plain", "bench", "new-bath", "volume=1 L", "wanted=90 g/L"), ("silver nitrate: 90 g",)),
        (("--safelight", "bench", "new-bath", "volume=1 L", "wanted=90 g/L"), ("silver nitrate: 90 g",)),
        (
            ("plate", "fog", "-c", "collodion_age=2026-03-14", "--day", "2026-05-01", "--full"),
            ("collodion age: 48 d, from its label of 2026-03-14",),
        ),
        (("plate", "fog", "--day", "2026-05-01"), ("What it may be",)),
        (("schema",), ('"knowledge_version"',)),
        (("schema", "bench"), ('"amounts"', '"cautions"')),
        (("schema", "plate"), ('"symptoms"',)),
        (("--version",), ("diagnose ",)),
    ],
    ids=lambda value: (
        "_".join(value) if value and value[0] in {*COMMANDS, "--plain", "--safelight", "--units", "--version"} else ""
    ),
)
def test_done(arguments, words, run):
    done = run(*arguments)
    assert (done.code, done.err) == (0, "")
    for word in words:
        assert word in re.sub(r"\s+", " ", done.out)
    assert "\x1b" not in done.out


def test_every_command_has_help_that_fits(run):
    for command in (
        (),
        *((name,) for name in COMMANDS),
        ("knowledge", "check"),
        ("knowledge", "folder"),
        ("knowledge", "numbers"),
    ):
        for flag in ("-h", "--help"):
            done = run(*command, flag)
            assert (done.code, done.err) == (0, "")
            assert done.out.startswith("Usage: diagnose")
            assert "\\b" not in done.out
            assert all(len(line) <= 96 for line in done.out.splitlines())


def test_help_lists_every_command(run):
    assert cli.main.list_commands(None) == sorted(COMMANDS)
    assert all(f"\n  {name} " in run("--help").out for name in COMMANDS)


def test_examples_of_the_help_do_what_they_say(run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = run("plate", "--help").out
    (tmp_path / "plate.toml").write_text(plate_of_the_help(text), encoding="utf-8")
    examples = [shlex.split(line)[1:] for line in text.splitlines() if line.startswith("  diagnose plate")]
    assert len(examples) == 3
    for example in examples:
        assert run(*example).code == 0


def test_examples_of_the_bench_do_what_they_say(run):
    text = run("bench", "--help").out
    examples = [shlex.split(line)[1:] for line in text.splitlines() if line.startswith("  diagnose bench")]
    assert len(examples) == 2
    for example in examples:
        assert run(*example, typed="28\n35\n").code == 0


def test_a_label_without_a_day_is_counted_to_today(run):
    from datetime import date

    today = date.today()  # noqa: DTZ011 - the person's own day
    label = today.replace(year=today.year - 1, day=1).isoformat()
    assert f"from its label of {label}" in re.sub(
        r"\s+", " ", run("plate", "fog", "-c", f"collodion_age={label}", "--full").out
    )


@pytest.mark.parametrize("which", ["answer", "plate", "bench", "batch", "review"])
def test_every_schema_is_one(which, run):
    done = run("schema", which)
    assert (done.code, done.err) == (0, "")
    Draft202012Validator.check_schema(json.loads(done.out))


def plate_of_the_help(text: str) -> str:
    """The plate file shown by `diagnose plate --help`."""
    found = re.search(r"^  \[symptoms\]\n(?:  .*\n)+", text, re.MULTILINE)
    return re.sub(r"^  ", "", found[0], flags=re.MULTILINE)


@pytest.mark.parametrize("word", ["comets", "frilling", "oyster", "fog", "streaks", "pinholes", "FOG", "oyster shells"])
def test_symptoms_are_found_by_the_words_people_use(word, run):
    done = run("symptoms", *word.split())
    assert done.code == 0
    assert word.casefold() in done.out.casefold()
    heads = [line for line in done.out.splitlines() if re.match(r"[a-z-]+  \S", line)]
    assert 1 <= len(heads) <= 15


def test_symptoms_alone_lists_every_one(run, knowledge):
    listed = set(re.findall(r"^([a-z-]+)  \S", run("symptoms").out, re.MULTILINE))
    assert listed == set(knowledge.symptoms)


# Plates from files ---------------------------------------------------------

AS_TOML = """
story = "an invented plate"
tried = [{ remedy = "rest-bath-use-reserve", result = "no-change" }]
[symptoms]
fog = { colour = "grey" }
comets = false
specks = "unsure"
[conditions]
room_temperature = "31 °C"
holder_wiped = false
bath_plates = 25
[checks]
proving-plate = "fogs"
"""
AS_JSON = json.dumps(tomllib.loads(AS_TOML))


def test_toml_and_json_from_file_and_from_standard_input_say_the_same(run, tmp_path):
    (tmp_path / "plate.toml").write_text(AS_TOML, encoding="utf-8")
    (tmp_path / "plate.json").write_text("\ufeff" + AS_JSON, encoding="utf-8")  # as some editors save it
    answers = [
        run("plate", "--file", str(tmp_path / "plate.toml"), "--json"),
        run("plate", "--file", str(tmp_path / "plate.json"), "--json"),
        run("plate", "--file", "-", "--json", typed=AS_TOML),
        run("plate", "--file", "-", "--json", typed=AS_JSON),
    ]
    assert {done.code for done in answers} == {0}
    first, *rest = (json.loads(done.out) for done in answers)
    assert all(answer == first for answer in rest)
    assert first["plate"]["conditions"]["bath_plates"] == "25"


def test_options_are_added_to_the_file(run):
    done = run("plate", "--file", "-", "comets", "-c", "fixer=hypo", "--json", typed="[symptoms]\nfog = true\n")
    told = json.loads(done.out)["plate"]
    assert set(told["symptoms"]) == {"fog", "comets"}
    assert told["conditions"] == {"fixer": "hypo"}


def test_a_list_of_symptoms_will_do(run):
    assert run("plate", "--file", "-", "--json", typed='symptoms = ["fog", "oyster shells"]').code == 0


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("[symptoms", ("not TOML", "diagnose plate --help")),
        ('{"symptoms": ', ("not JSON",)),
        ("[]", ("not TOML",)),
        ("{} {}", ("not JSON",)),
        ("[symptoms]\nfog = 3\n", ("symptoms.fog",)),
        ("[symptons]\nfog = true\n", ("symptons", "symptoms, conditions")),
        ("symptoms = 5", ("symptoms",)),
        ("conditions = 5", ("conditions",)),
        ("[conditions]\nroom_temperature = 2026-01-01\n", ("room_temperature",)),
        ('tried = [{ remedy = "x" }]', ("tried",)),
        ("[symptoms]\nfog = true\nfog = false\n", ("not TOML",)),
        ('{"a":' * 5000, ("cannot be read",)),
        ("story = '" + "x" * 1_000_000 + "'", ("too large",)),
    ],
    ids=lambda value: None if isinstance(value, tuple) else value[:18],
)
def test_a_broken_plate_file_is_said_in_one_line(typed, words, run):
    assert_said_in_one_line(run("plate", "--file", "-", typed=typed), *words)


def test_a_plate_file_that_cannot_be_read_is_said_with_its_name(run, tmp_path):
    (tmp_path / "latin.toml").write_bytes('story = "Höhe"'.encode("latin-1"))
    assert_said_in_one_line(run("plate", "--file", str(tmp_path / "missing.toml")), "missing.toml", "No such file")
    assert_said_in_one_line(run("plate", "--file", str(tmp_path)), "cannot be read")
    assert_said_in_one_line(run("plate", "--file", str(tmp_path / "latin.toml")), "save it as UTF-8")
    assert_said_in_one_line(run("plate", "--file", "a\x1b[31mb\0c"), "cannot be read")


# 1: a slip -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("comits",), ("no symptom called 'comits'", "did you mean 'comets'", "diagnose symptoms")),
        (("fog", "-c", "room_temperature=20"), ("room_temperature", "no unit", "°C, °F")),
        (("fog", "-c", "room_temperature=300 °C"), ("room_temperature", "cannot be right", "50 °C")),
        (("fog", "-c", "room_temperature=20 min"), ("room_temperature", "°C")),
        (("fog", "-c", "room_temprature=20 °C"), ("did you mean 'room_temperature'",)),
        (("fog", "-c", "fixer=hippo"), ("fixer", "hypo", "cyanide")),
        (("fog", "-c", "fixer"), ("write it like",)),
        (("fog", "--check", "proving-plat=fogs"), ("did you mean 'proving-plate'",)),
        (("fog", "--check", "proving-plate=nonsense"), ("use one of", "fogs")),
        (("fog", "--tried", "nonsense=better"), ("no remedy called",)),
        (("fog", "--tried", "rest-bath-use-reserve=worse"), ("no-change, better, cured",)),
        (("fog:colour=purple",), ("no colour called purple", "use one of")),
        (("fog:size=large",), ("not described by size",)),
        (("fog:grey",), ("write it like",)),
        (("fog:answer=absent",), ("--not-there",)),
        (("fog", "foggy"), ("told twice",)),
        (("fog", "--why", "dirty-holdr"), ("no cause called", "dirty-holder")),
        (("fog", "--why-not", "0"), ("no cause called",)),
        (("fog", "--why", "0000012345"), ("no cause called",)),
        (("fog", "--why", "9" * 5000), ("no cause called",)),
        (
            ("comits", "fugg", "-c", "x=1", "--check", "y=2"),
            ("comits", "fugg", "condition called 'x'", "check called 'y'"),
        ),
        (("\x1b[31mfog\x07\u202e",), ("no symptom called",)),
        (("fog", "--day", "yesterday"), ("yesterday", "is not a date", "2026-05-01")),
        (("fog", "--day", "2026-02-30"), ("2026-02-30", "is not a date")),
        (("fog", "--day", "01.05.2026"), ("is not a date",)),
        (("fog", "--day", "\x1b[2J"), ("is not a date",)),
        (
            ("fog", "-c", "collodion_age=2026-05-02", "--day", "2026-05-01"),
            ("comes after the day of the plate", "2026-05-01"),
        ),
    ],
    ids=lambda value: (
        None if value and not isinstance(value[0], str) else "_".join(value)[:40].encode("ascii", "replace").decode()
    ),
)
def test_a_slip_is_said_in_one_line_with_what_to_do(arguments, words, run):
    assert_said_in_one_line(run("plate", *arguments), *words)


def test_a_word_for_no_symptom(run):
    done = run("symptoms", "zzzzqqqq")
    assert done.code == 1
    assert "No sign is called 'zzzzqqqq'." in done.out


CAUSE = "causes/fixing/fixed-too-little.toml"


@pytest.fixture
def broken_folder(tmp_path):
    """A copy of the program's knowledge with slips in three files."""
    folder = tmp_path / "knowledge"
    shutil.copytree(knowledge_folder(), folder)
    text = (folder / CAUSE).read_text(encoding="utf-8")
    (folder / CAUSE).write_text(text.replace("title =", "titel =", 1), encoding="utf-8")
    other = folder / "causes" / "silver-bath" / "weak-bath.toml"
    lines = other.read_text(encoding="utf-8").splitlines()
    number = next(number for number, line in enumerate(lines) if line.startswith("symptom = "))
    lines[number] = 'symptom = "thin-blu-film"'
    other.write_text("\n".join(lines), encoding="utf-8")
    (folder / "states.toml").write_text("[hot\n", encoding="utf-8")
    return folder


def test_broken_knowledge_lists_every_problem_with_its_line(broken_folder, run):
    for done, said in (
        (run("--knowledge", str(broken_folder), "plate", "fog"), "err"),
        (run("knowledge", "check", str(broken_folder)), "out"),
        (run("--knowledge", str(broken_folder), "knowledge", "check"), "out"),
    ):
        assert done.code == 1
        text = getattr(done, said)
        *problems, last = text.splitlines()
        assert re.search(r"\d+ problems", last)
        for problem in problems:
            assert re.match(r"\S+\.toml:\d+: \S", problem), problem
        for file in (CAUSE, "causes/silver-bath/weak-bath.toml", "states.toml"):
            assert re.search(rf"^{file}:\d+: ", text, re.MULTILINE)
        assert "'thin-blu-film'" in text
        assert "thin-blue-film" in text.replace("'thin-blu-film'", "")


def test_knowledge_of_ones_own_is_laid_over_the_programs(tmp_path, run):
    (tmp_path / "symptoms").mkdir()
    (tmp_path / "symptoms" / "marks.toml").write_text(
        (knowledge_folder() / "symptoms" / "marks.toml")
        .read_text(encoding="utf-8")
        .replace('title = "Comets"', 'title = "Tadpoles"'),
        encoding="utf-8",
    )
    done = run("--knowledge", str(tmp_path), "symptoms", "tadpoles")
    assert (done.code, done.err) == (0, "")
    assert "comets  Tadpoles" in done.out


def test_a_missing_knowledge_folder_is_said(run):
    for folder in ("no-such-folder", "\x1b[31mno"):
        done = run("--knowledge", folder, "plate", "fog")
        assert done.code == 1
        assert "no such folder" in done.err
        assert all(line.isprintable() for line in done.err.splitlines())


def test_no_terminal_escape_comes_through_a_knowledge_file(tmp_path, run):
    (tmp_path / "causes").mkdir()
    (tmp_path / "causes" / "x\x1b[31m.toml").write_text('"\\u001b[2J" = "\\u001b[2J"\n', encoding="utf-8")
    for done in (run("--knowledge", str(tmp_path), "plate", "fog"), run("knowledge", "check", str(tmp_path))):
        assert done.code == 1
        assert "\x1b" not in done.out + done.err


# 2: usage ------------------------------------------------------------------


@pytest.mark.parametrize(
    "arguments",
    [
        ("nonsense",),
        ("plate", "--nonsense"),
        ("plate", "--file"),
        ("plate", "fog", "-c"),
        ("schema", "nonsense"),
        ("completion", "tcsh"),
        ("completion",),
        ("knowledge", "nonsense"),
        ("demo", "extra"),
        ("--knowledge",),
        ("--units", "furlongs", "bench"),
        ("bench", "--nonsense"),
    ],
    ids="_".join,
)
def test_usage(arguments, run):
    done = run(*arguments)
    assert done.code == 2
    assert done.out == ""
    assert "Error: " in done.err
    assert "Traceback" not in done.err


# 3: a bug ------------------------------------------------------------------


def test_a_bug_leaves_a_log_to_report(run, monkeypatch, tmp_path):
    def breaks(*_given, **_more):
        raise ZeroDivisionError("something inside")

    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    monkeypatch.setattr(commands, "print_schema", breaks)
    done = run("schema", "plate")
    assert (done.code, done.out) == (3, "")
    assert "a fault of the program, not of yours: ZeroDivisionError" in done.err
    assert "Traceback" not in done.err
    (path,) = tmp_path.rglob("bug-*.log")
    assert str(path) in done.err
    log = path.read_text(encoding="utf-8")
    for part in ("diagnose 0.", "Python 3.", "durable-rules ", "pydantic ", "rich ", "['schema', 'plate']"):
        assert part in log
    assert "ZeroDivisionError: something inside" in log


def test_a_bug_is_told_even_where_no_log_can_be_kept(run, monkeypatch, tmp_path):
    def breaks(*_given, **_more):
        raise ZeroDivisionError("something inside")

    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "file"))
    monkeypatch.setattr(commands, "print_schema", breaks)
    done = run("schema")
    assert done.code == 3
    assert "please report these lines" in done.err
    assert "ZeroDivisionError: something inside" in done.err


# 130: interrupted, and readers that go away --------------------------------


@pytest.mark.skipif(os.name == "nt", reason="no SIGINT to a child there")
def test_an_interrupted_talk_prints_how_to_go_on():
    talk = subprocess.Popen(
        [sys.executable, "-u", "-m", "diagnose"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=CHECKOUT,
    )
    talk.stdin.write(b"oyster shells\n\n")
    talk.stdin.flush()
    seen = b""
    while b"What it may be" not in seen:  # it now waits for an answer
        line = talk.stdout.readline()
        assert line, seen
        seen += line
    talk.send_signal(signal.SIGINT)
    out, err = talk.communicate(timeout=30)
    assert talk.returncode == 130
    assert b"diagnose plate --talk --kept 1 --shows oyster-shell-marks" in out
    assert b"Traceback" not in err


def test_a_talk_through_pipes(run):
    done = run(typed="oyster shells\n\n?\nq\n")
    assert (done.code, done.err) == (0, "")
    assert done.out.rstrip().splitlines()[-1].startswith("diagnose plate --talk --kept 1 --shows oyster-shell-marks")


def test_talk_goes_on_from_what_was_told(run):
    done = run("--plain", "plate", "fog", "-c", "fixer=hypo", "--talk", typed="q\n")
    assert done.code == 0
    assert done.out.rstrip().splitlines()[-1] == (
        "diagnose --plain plate --talk --kept 1 --shows fog --condition fixer=hypo"
    )


@pytest.mark.skipif(os.name == "nt", reason="pipes break differently there")
@pytest.mark.parametrize("arguments", [("symptoms",), ("plate", "fog", "--json"), ("schema",)], ids="_".join)
def test_a_reader_that_goes_away_is_no_error(arguments):
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "diagnose", *arguments],
        stdout=writing, stderr=subprocess.PIPE, stdin=subprocess.DEVNULL, timeout=60, check=False, cwd=CHECKOUT,
    )  # fmt: skip
    os.close(writing)
    assert done.stderr == b""
    assert done.returncode in {0, 1}


def test_python_m_diagnose_is_the_same():
    done = child("schema", "plate")
    assert done.returncode == 0
    assert json.loads(done.stdout)["properties"]["symptoms"]


# JSON ----------------------------------------------------------------------

WANTED = {
    "causes": {"id", "title", "stage", "probability", "words", "receipts"},
    "plan": {"id", "title", "minutes", "plates", "reversible", "cautions", "dose"},
    "next_questions": {"id", "ask", "why", "minutes"},
    "trace": {"rule", "because"},
    "cautions": {"id", "title", "say", "level"},
}


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("fog",),
        ("comets", "oyster shells", "-c", "holder_wiped=no", "-c", "fixer=cyanide"),
        ("crystal-marks",),
        ("--unsure", "fog", "--cannot-tell", "comets", "-c", "room_temperature=?"),
        ("fog", "--check", "proving-plate=fogs", "--tried", "rest-bath-use-reserve=no-change", "--find-out"),
    ],
    ids=lambda value: "_".join(value) or "nothing",
)
def test_json_fits_its_schema(arguments, run):
    schema = json.loads(run("schema").out)
    Draft202012Validator.check_schema(schema)
    done = run("plate", *arguments, "--json")
    assert (done.code, done.err) == (0, "")
    answer = json.loads(done.out)
    Draft202012Validator(schema).validate(answer)
    assert re.fullmatch(r"[0-9a-f]{8,}", answer["knowledge_version"])
    assert set(answer["split"]) == {"chemistry", "light", "hand"}
    assert {"probability", "words"} <= set(answer["none_of_these"])
    assert answer["causes"]
    for part, keys in WANTED.items():
        for item in answer[part]:
            assert keys <= set(item)
    for cause in answer["causes"]:
        assert cause["receipts"]
        for receipt in cause["receipts"]:
            assert {"about", "words", "decibans", "source"} <= set(receipt)
    if answer["next_action"] is not None:
        assert WANTED["plan"] <= set(answer["next_action"])


def test_what_a_review_and_a_batch_say_fits_their_schemas(run, tmp_path):
    for arguments in (("good",), ("bad", "comets"), ("bad", "oyster shells", "--with", "holder=B")):
        assert run("day", *arguments).code == 0
    review = json.loads(run("day", "review", "--json").out)
    Draft202012Validator(json.loads(run("schema", "review").out)).validate(review)
    assert (review["plates"], review["good"], len(review["lines"])) == (3, 1, 3)
    plates = tmp_path / "plates.jsonl"
    plates.write_text('{"symptoms": ["comets"]}\n{"symptoms": {"fog": true}}\n', encoding="utf-8")
    answers = [json.loads(line) for line in run("plate", "--batch", str(plates)).out.splitlines()]
    assert len(answers) == 2
    for answer in answers:
        Draft202012Validator(json.loads(run("schema", "batch").out)).validate(answer)


def test_the_schema_is_strict_enough_to_bite(run):
    answer = json.loads(run("plate", "fog", "--json").out)
    validator = Draft202012Validator(json.loads(run("schema").out))
    for spoil in (
        lambda it: it.pop("causes"),
        lambda it: it["causes"][0].pop("receipts"),
        lambda it: it["causes"][0].update(probability="likely"),
        lambda it: it["split"].pop("hand"),
        lambda it: it.update(mode="nonsense"),
    ):
        spoilt = json.loads(json.dumps(answer))
        spoil(spoilt)
        assert list(validator.iter_errors(spoilt))


def test_the_plate_schema_takes_the_plate_of_the_help(run):
    schema = json.loads(run("schema", "plate").out)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    for good in (plate_of_the_help(run("plate", "--help").out), AS_TOML):
        validator.validate(tomllib.loads(good))
    for bad in ({"symptoms": {"fog": 3}}, {"tried": [{"remedy": "x"}]}, {"conditions": {"fixer": []}}):
        assert list(validator.iter_errors(bad))


def test_the_plate_of_an_answer_can_be_told_again(run):
    first = json.loads(run("plate", "--file", "-", "--json", typed=AS_TOML).out)
    again = json.loads(run("plate", "--file", "-", "--json", typed=json.dumps(first["plate"])).out)
    assert again == first


# Completion ----------------------------------------------------------------


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_prints_the_lines_for_a_shell(shell, run):
    done = run("completion", shell)
    assert (done.code, done.err) == (0, "")
    assert f"_DIAGNOSE_COMPLETE={shell}_complete" in done.out
    assert "diagnose" in done.out


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("diagnose pla", {"plate"}),
        ("diagnose plate com", {"comets", "comes-late"}),
        ("diagnose plate --not-there fo", {"fog"}),
        ("diagnose plate -c room_t", {"room_temperature="}),
        ("diagnose plate --check proving", {"proving-plate="}),
        ("diagnose plate --tried rest-b", {"rest-bath-use-reserve="}),
        ("diagnose plate --why fixing/fixed", {"fixing/fixed-too-little"}),
        ("diagnose wh", {"why"}),
        ("diagnose why fixed-t", {"fixed-too-little"}),
        ("diagnose why oys", {"oyster-shell-marks"}),
        ("diagnose schema pl", {"plate"}),
        ("diagnose schema be", {"bench"}),
        ("diagnose be", {"bench"}),
        ("diagnose --units im", {"imperial"}),
        ("diagnose bench wet-", {"wet-window", "wet-bulb"}),
        ("diagnose bench developer-", {"developer-iron", "developer-mild"}),
        ("diagnose bench wet-window hum", {"humidity="}),
        ("diagnose bench wet-window humidity=35 temp", {"temperature="}),
        ("diagnose bench wet-window humidity=35 hum", set()),
        ("diagnose bench wet-window air=w", {"air=wind"}),
        ("diagnose bench fixer-hypo hypo=d", {"hypo=dried-hypo"}),
        ("diagnose bench developer-mild acet", {"acetic_acid_percent="}),
        ("diagnose bench zzzz vol", set()),
        ("diagnose plate zzzz", set()),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_tab_completes(words, wanted, run, monkeypatch):
    monkeypatch.setenv("_DIAGNOSE_COMPLETE", "bash_complete")
    monkeypatch.setenv("COMP_WORDS", words)
    monkeypatch.setenv("COMP_CWORD", str(len(words.split()) - 1))
    done = run()
    assert (done.code, done.err) == (0, "")
    assert {line.partition(",")[2] for line in done.out.splitlines()} >= wanted
    assert bool(done.out.strip()) == bool(wanted)


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash here")
def test_tab_completes_in_bash_itself(tmp_path):
    program = tmp_path / "diagnose"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m diagnose "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    script = """
    source <(diagnose completion bash) || exit 1
    complete -p diagnose >/dev/null || exit 2
    COMP_WORDS=(diagnose plate com) COMP_CWORD=2
    _diagnose_completion diagnose com plate
    printf '%s\\n' "${COMPREPLY[@]}"
    """
    done = subprocess.run(
        ["bash", "--norc", "-c", script],
        capture_output=True, text=True, timeout=60, check=False, cwd=CHECKOUT,
        env={**os.environ, "PATH": f"{tmp_path}{os.pathsep}{os.environ['PATH']}"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "comets" in done.stdout.split()


@pytest.mark.parametrize("words", ["diagnose plate com", "diagnose bench developer-mild vol"])
def test_completion_is_silent_where_the_knowledge_is_broken(words, run, monkeypatch):
    from diagnose.entries import compiled
    from diagnose.errors import KnowledgeError

    def broken():
        raise KnowledgeError(())

    monkeypatch.setattr(compiled, "read_knowledge", broken)
    monkeypatch.setenv("_DIAGNOSE_COMPLETE", "bash_complete")
    monkeypatch.setenv("COMP_WORDS", words)
    monkeypatch.setenv("COMP_CWORD", str(len(words.split()) - 1))
    done = run()
    assert (done.code, done.out.strip(), done.err) == (0, "", "")


# Start-up ------------------------------------------------------------------


def test_help_and_version_load_nothing_heavy():
    script = "import sys, atexit; from diagnose import cli; atexit.register(lambda: print(*sys.modules))"
    script += "; sys.argv = ['diagnose', '--version']; cli.run()"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=True, cwd=CHECKOUT
    )
    assert not {"rich", "pydantic", "durable_rules_engine"} & set(done.stdout.split())


def test_the_bench_through_its_own_door(run):
    listed = run("bench")
    assert listed.code == 0
    assert "silver-to-add" in listed.out
    assert "developer-mild" in listed.out
    done = run("bench", "silver-to-add", "volume=900 mL", "strength=38 gr/oz", "wanted=90 g/L", "--json")
    assert done.code == 0
    Draft202012Validator(json.loads(run("schema", "bench").out)).validate(json.loads(done.out))
    assert_said_in_one_line(run("bench", "silver-to-add", "volume=1 L", "--json"), "wants strength")
    assert_said_in_one_line(run("bench", "nosuch"), "no sum or solution")
    assert run("--units", "furlongs", "bench").code == 2


def test_what_the_shell_completes_at_the_bench(run):
    from types import SimpleNamespace

    from diagnose.completing import complete_bench

    assert "silver-to-add" in complete_bench(SimpleNamespace(params={}), None, "silver-to")
    assert "silver-bath" in complete_bench(SimpleNamespace(params={}), None, "silver-")
    assert complete_bench(SimpleNamespace(params={"name": "silver-to-add"}), None, "v") == ["volume="]


def test_an_age_by_its_label_and_the_day_of_the_plate(run):
    told = ("plate", "fog", "-c", "collodion_age=2026-05-01")
    assert '"value"' not in run(*told, "--day", "2026-05-31", "--json").err
    assert "30 d, from its label of 2026-05-01" in run(*told, "--day", "2026-05-31", "--full").out
    assert_said_in_one_line(run(*told, "--day", "2026-04-01"), "comes after the day of the plate")
    assert_said_in_one_line(run(*told, "--day", "soon"), "write it as 2026-05-01")
    assert run(*told).code in {0, 1}  # today, whatever day that is
