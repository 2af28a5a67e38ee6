"""Every check on the knowledge is shown a folder it must complain about: a check that never fires is no check.

Each file in tests/knowledge/bad spoils the small good folder tests/knowledge/base in one way. Its first lines say how:

    # replaces <file of the base>        (or: adds <a new file>)
    # expect: <file>:<line>: <what is wrong> -> <what to do>     (once for each problem; "..." at the end: and so on)
    # check: <the key of CHECKS, or "reading", or "wording" and the kind of complaint>
"""

import ast
import inspect
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from diagnose.entries import (
    files,
    proof_limits,
    proof_names,
    proof_sense,
    proof_solutions,
    proof_sums,
    proof_teaching,
    proof_tests,
    read,
    wording,
)
from diagnose.entries.files import read_files
from diagnose.entries.limits import MOST_CONDITIONS_A_RULE, MOST_CONDITIONS_IN_ALL, MOST_RULES
from diagnose.entries.proofread import CHECKS, check_folders, proofread
from diagnose.entries.read import NEEDED_FILES, draft_knowledge
from diagnose.errors import KnowledgeError, Problem

KNOWLEDGE = Path(__file__).resolve().parents[1] / "knowledge"
BASE = read_files([KNOWLEDGE / "base"])
BASE_RULES, BASE_TESTS = 11, 13  # what the base folder gives the rule engine to hold


@dataclass(frozen=True)
class Bad:
    """One way to spoil the good folder."""

    files: dict[str, bytes]
    check: str
    expected: tuple[str, ...]


def from_disk(path):
    content = path.read_bytes()
    head = [line[2:] for line in content.decode("utf-8", "replace").split("\n") if line.startswith("# ")]
    verb, file = head[0].split(" ", 1)
    assert verb == ("replaces" if file in BASE else "adds"), path.name
    (check,) = (line.removeprefix("check: ") for line in head if line.startswith("check: "))
    expected = tuple(line.removeprefix("expect: ") for line in head if line.startswith("expect: "))
    assert expected, f"{path.name} does not say what to expect"
    return Bad({**BASE, file: content}, check, expected)


def many_ways(tests):
    """A state with far too many ways."""
    ways = "".join(f'[[hot-room.way]]\nfrom = ["judged"]\nwhen = [{group}]\n' for group in tests)
    return BASE["states.toml"] + ways.encode()


def without(name):
    return {file: content for file, content in BASE.items() if file != name}


def groups_of_tests(count):
    """Tests in groups, so many that the whole folder has `count`."""
    groups, rest = divmod(count - BASE_TESTS, 10)
    return [", ".join(['"fixer known"'] * size) for size in [10] * groups + [rest] * bool(rest)]


# What cannot stand in a file with a heading, or would be too long to keep.
RULES = f"causes:1: {{}} rules in all; the rule engine can safely hold {MOST_RULES} -> take weak links out"
TESTS = (
    f"causes:1: {{}} tests in all; the rule engine stays quick up to {MOST_CONDITIONS_IN_ALL} -> take weak links out"
)
MADE = {
    "too-many-rules": Bad(
        {**BASE, "states.toml": many_ways(['"fixer known"'] * MOST_RULES)},
        "rules fit the engine",
        (RULES.format(MOST_RULES + BASE_RULES),),
    ),
    "too-many-tests": Bad(
        {**BASE, "states.toml": many_ways(groups_of_tests(MOST_CONDITIONS_IN_ALL + 1))},
        "rules fit the engine",
        (TESTS.format(MOST_CONDITIONS_IN_ALL + 1),),
    ),
    "strengths-missing": Bad(
        without("strengths.toml"),
        "reading",
        ("strengths.toml:1: the file is missing -> a knowledge folder needs it",),
    ),
    "nested-too-deeply": Bad(
        {**BASE, "cautions.toml": BASE["cautions.toml"] + b"deep = " + b"[" * 3000 + b"]" * 3000},
        "reading",
        ("cautions.toml:1: nested too deeply -> no entry needs more than two levels", "..."),
    ),
}
BAD = {path.stem: from_disk(path) for path in sorted((KNOWLEDGE / "bad").glob("*.toml"))} | MADE


def problems_of(bad):
    return proofread(draft_knowledge(bad.files))


def fits(problem, expected):
    if expected.endswith("..."):
        return str(problem).startswith(expected[:-3])
    return str(problem) == expected


def test_the_good_folder_has_no_problem():
    assert check_folders(KNOWLEDGE / "base") == []


@pytest.mark.parametrize("name", BAD)
def test_the_problem_is_told_with_file_line_words_and_fix(name):
    bad = BAD[name]
    problems = problems_of(bad)
    told = "\n".join(map(str, problems))
    for expected in bad.expected:
        assert any(fits(problem, expected) for problem in problems), f"missing: {expected}\ntold:\n{told}"
    for problem in problems:
        assert any(fits(problem, expected) for expected in bad.expected), f"one too many: {problem}"
    assert problems == sorted(problems)
    assert all(problem.fix for problem in problems)


@pytest.mark.parametrize("name", [name for name, bad in BAD.items() if bad.check in CHECKS])
def test_it_is_this_check_that_bites(name):
    bad = BAD[name]
    found = list(CHECKS[bad.check](draft_knowledge(bad.files)))
    assert any(fits(problem, expected) for problem in found for expected in bad.expected)


def test_what_just_fits_the_engine_is_no_problem():
    wide = BASE["states.toml"].replace(
        b'"room_temperature > 27',
        b", ".join(b'"room_temperature > %d \xc2\xb0C"' % n for n in range(1, MOST_CONDITIONS_A_RULE))
        + b', "room_temperature > 27',
    )
    assert proofread(draft_knowledge({**BASE, "states.toml": wide})) == []
    full = many_ways(groups_of_tests(MOST_CONDITIONS_IN_ALL))
    assert proofread(draft_knowledge({**BASE, "states.toml": full})) == []


WELL_GIVEN = {
    "a fixed amount, the rest as usual": 'dose = "hypo-for-fixer"\nuses = { volume = "1 L" }',
    "an answer the sum knows": 'dose = "hypo-for-fixer"\nuses = { volume = "35 usfloz", form = "anhydrous" }',
    "told, or usual": 'dose = "setting-time"\nuses = { temperature = "room_temperature", known = "30 s" }',
    "told, or else": 'dose = "wet-window"\nuses = { temperature = "room_temperature, else 68 °F", humidity = "50 %" }',
    "a choice whose answers the sum knows": 'dose = "washing-time"\nuses = { fixer = "fixer", support = "glass" }',
    "a recipe": 'dose = "hypo-fixer"\nuses = { volume = "1 L" }\ndose_when = ["fixer is hypo", "room_temperature > 5 °C"]',
}


@pytest.mark.parametrize("dose", WELL_GIVEN.values(), ids=WELL_GIVEN)
def test_a_dose_given_what_it_asks_is_no_problem(dose):
    file = "remedies/fixing/fix-longer.toml"
    told = BASE[file].replace(b'caution = ["hypo"]', f'caution = ["hypo", "ether-and-alcohol"]\n{dose}'.encode())
    warned = BASE["cautions.toml"] + BASE["cautions.toml"].partition(b"\n\n")[0].replace(
        b"[hypo]", b"\n[ether-and-alcohol]"
    )
    assert proofread(draft_knowledge({**BASE, file: told, "cautions.toml": warned})) == []


def test_a_condition_given_what_its_sum_asks_is_no_problem():
    more = (
        BASE["conditions.toml"]
        + (
            '\n[colder_by]\nask = "How much colder the fixer is"\nkind = "quantity"\nunit = "degrees F"\nrange = [-90, 90]\n'
            'reckoned_by = "warmth-apart"\nresult = "apart"\nuses = { warmth = "68 °F", room = "room_temperature" }\n'
            'station = "memory"\nminutes = 0\n'
        ).encode()
    )
    used = BASE["states.toml"].replace(b'"room_temperature > 27', b'"colder_by < 9 degrees F", "room_temperature > 27')
    assert used != BASE["states.toml"]
    assert proofread(draft_knowledge({**BASE, "conditions.toml": more, "states.toml": used})) == []


def test_every_check_has_a_bad_file():
    assert set(CHECKS) <= {bad.check for bad in BAD.values()}


def test_every_bad_file_names_a_check():
    kinds = {f"wording {kind}" for kind in complaint_kinds() | {"other"}}
    assert {bad.check for bad in BAD.values()} <= {*CHECKS, *kinds, "reading"}


def complaint_kinds():
    """Every kind of complaint that wording.py puts into words of its own."""
    tree = ast.parse(inspect.getsource(wording))
    return {node.value.value for node in ast.walk(tree) if isinstance(node, ast.MatchValue)}


def test_every_kind_of_complaint_about_one_file_has_a_bad_file():
    shown = {bad.check.removeprefix("wording ") for bad in BAD.values() if bad.check.startswith("wording ")}
    assert complaint_kinds() <= shown
    assert "other" in shown


def test_the_kind_of_complaint_is_the_one_the_file_says(monkeypatch):
    """A bad file filed under the wrong kind would leave the right kind untried."""
    seen = []
    words = read.problem_words
    monkeypatch.setattr(read, "problem_words", lambda item, model: seen.append(item["type"]) or words(item, model))
    for name, bad in BAD.items():
        if bad.check.startswith("wording "):
            seen.clear()
            draft_knowledge(bad.files)
            kind = bad.check.removeprefix("wording ")
            assert kind in seen or (kind == "other" and not complaint_kinds() & {*seen}), f"{name}: {seen}"


MODULES = (
    read,
    files,
    proof_limits,
    proof_names,
    proof_sense,
    proof_solutions,
    proof_sums,
    proof_teaching,
    proof_tests,
)


def complaining_places():
    """Every place in the code that makes a Problem: module and lines."""
    for module in MODULES:
        for node in ast.walk(ast.parse(inspect.getsource(module))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Problem":
                yield module.__name__, node.lineno, node.end_lineno


def test_every_place_that_can_complain_does(monkeypatch, tmp_path):
    reached = set()

    def noting(*arguments):
        frame = sys._getframe(1)
        reached.add((frame.f_globals["__name__"], frame.f_lineno))
        return Problem(*arguments)

    for module in MODULES:
        monkeypatch.setattr(module, "Problem", noting)
    for bad in BAD.values():
        problems_of(bad)
    for spoil in FOLDER_FAULTS.values():
        spoil(tmp_path, monkeypatch)
    silent = [
        f"{module}:{first}"
        for module, first, last in complaining_places()
        if not any(name == module and first <= line <= last for name, line in reached)
    ]
    assert not silent, f"never shown a bad file: {silent}"


def no_folder(tmp_path, _monkeypatch):
    return check_folders(tmp_path / "nowhere"), (
        f"{tmp_path / 'nowhere'}:1: no such folder -> give the folder that holds stages.toml and causes/"
    )


def far_too_long(tmp_path, _monkeypatch):
    (tmp_path / "long").mkdir(exist_ok=True)
    (tmp_path / "long/sources.toml").write_bytes(b"# all the books\n" * 30_000)
    return check_folders(tmp_path / "long"), (
        "sources.toml:1: the file is far too long -> split it into one entry a file"
    )


def unreadable(tmp_path, monkeypatch):
    (tmp_path / "locked").mkdir(exist_ok=True)
    (tmp_path / "locked/sources.toml").write_bytes(b"")

    def refuse(*_path, **_way):
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr("builtins.open", refuse)
        problems = check_folders(tmp_path / "locked")
    return problems, "sources.toml:1: cannot be read: Permission denied -> check the file's permissions"


FOLDER_FAULTS = {"no such folder": no_folder, "far too long": far_too_long, "unreadable": unreadable}


@pytest.mark.parametrize("fault", FOLDER_FAULTS)
def test_folders_that_cannot_be_read_are_problems_too(fault, tmp_path, monkeypatch):
    problems, expected = FOLDER_FAULTS[fault](tmp_path, monkeypatch)
    assert [str(problem) for problem in problems] == [expected]


@pytest.mark.parametrize("name", NEEDED_FILES)
def test_a_missing_file_is_told(name):
    assert f"{name}:1: the file is missing -> a knowledge folder needs it" in map(
        str, proofread(draft_knowledge(without(name)))
    )


def test_an_error_counts_its_problems():
    problem = Problem("b.toml", 2, "words", "fix")
    assert str(KnowledgeError([problem])) == f"the knowledge files have 1 problem, first: {problem}"
    assert KnowledgeError([problem, Problem("a.toml", 3, "words")]).problems[0].file == "a.toml"
