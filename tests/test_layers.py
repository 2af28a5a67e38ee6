"""Imports go one way only, and each outside library has one door."""

import ast
import re
from collections import defaultdict
from functools import cache
from pathlib import Path
from statistics import median

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "diagnose"
NAME = PACKAGE.name
# Lowest first: a module imports only from its own layer or from one that stands before it.
LAYERS = (
    "errors",
    "units",
    "bench",
    "entries",
    "plate",
    "facts",
    "reasoning",
    "advice",
    "bands",
    "answer",
    "phrases",
    "amounts",
    "sum_record",
    "record",
    "daybook",
    "bulk",
    "teaching",
    "talk",
    "completing",
    "cli_shared",
    "cli_day",
    "cli_drill",
    "cli_teach",
    "cli_commands",
    "cli",
    "__main__",
)
# What speaks with the person: it may print, and ask clock, disk and chance.
CLI = {"talk", "cli", "cli_commands", "cli_day", "cli_drill", "cli_shared"}
# The front door names a few things of the package and imports them when they are first asked for.
FRONT_DOOR = "__init__"
# Where the daybook is kept: the one edge to the disk below the talk.
STORE = (
    "daybook/store.py",
    "daybook/tables.py",
    "daybook/opening.py",
    "daybook/connecting.py",
    "daybook/copying.py",
    "daybook/checking.py",
    "daybook/trouble.py",
    "daybook/migrations/",
)
DOORS = {
    "durable_rules_engine": ("reasoning/firing.py",),
    "durable": (),
    "rich": ("talk/",),
    "click": ("cli.py", "cli_commands.py", "cli_day.py", "cli_drill.py", "cli_shared.py", "cli_teach.py"),
    "sqlalchemy": STORE,
    "sqlite3": STORE,
    "alembic": ("daybook/migrations/",),
    "psycopg": (),
    "jinja2": ("daybook/page.py", "daybook/sheet.py", "teaching/handbook.py", "teaching/set_page.py"),
    "numpy": ("teaching/pictures/",),
    "PIL": ("teaching/pictures/",),
    "distributed": ("talk/crew.py",),
    "dask": (),
}
MOST_LINES, MEDIAN_LINES = 400, 130


def modules():
    return sorted(path for path in PACKAGE.rglob("*.py"))


def place(path):
    return path.relative_to(PACKAGE).as_posix()


def layer(path):
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


@cache
def tree_of(path):
    return ast.parse(path.read_text("utf-8"))


@cache
def imports(path):
    """Every module a file imports, those inside functions and under TYPE_CHECKING too: (dotted name, line)."""
    found = []
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            found += [(name.name, node.lineno) for name in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{place(path)}:{node.lineno}: a relative import"
            for name in node.names:
                dotted = f"{node.module}.{name.name}"
                found.append((dotted if is_module(dotted) else node.module, node.lineno))
    return found


@cache
def is_module(dotted):
    head, *rest = dotted.split(".")
    target = PACKAGE.parent.joinpath(head, *rest)
    return head == NAME and (target.with_suffix(".py").is_file() or (target / "__init__.py").is_file())


def inside(path):
    """What a file imports of the package itself, below its front door."""
    for dotted, line in imports(path):
        if dotted.partition(".")[0] == NAME:
            assert dotted != NAME, f"{place(path)}:{line}: imports the front door"
            yield dotted, line


def test_every_module_has_its_layer():
    assert {layer(path) for path in modules()} - {FRONT_DOOR} == set(LAYERS)


@pytest.mark.parametrize("path", [p for p in modules() if place(p) != "__init__.py"], ids=place)
def test_imports_go_one_way(path):
    here = LAYERS.index(layer(path))
    for dotted, line in inside(path):
        there = LAYERS.index(dotted.split(".")[1])
        assert there <= here, f"{place(path)}:{line}: {LAYERS[here]} imports {dotted}, which stands above it"


def test_no_two_modules_import_each_other_in_a_circle():
    """Within a layer too, and counting what is imported inside functions."""
    wanted = {".".join((NAME, *path.relative_to(PACKAGE).with_suffix("").parts)): path for path in modules()}
    graph = {name: {dotted for dotted, _ in inside(path)} & wanted.keys() for name, path in wanted.items()}
    done, waiting = set(), []

    def visit(name):
        assert name not in waiting, f"a circle: {' -> '.join([*waiting, name])}"
        if name not in done:
            waiting.append(name)
            for other in sorted(graph[name]):
                visit(other)
            waiting.pop()
            done.add(name)

    for name in graph:
        visit(name)


def test_the_front_door_imports_nothing_until_asked():
    tree = ast.parse((PACKAGE / "__init__.py").read_text("utf-8"))
    at_once = [node for node in tree.body if isinstance(node, ast.Import | ast.ImportFrom)]
    assert {getattr(node, "module", "") for node in at_once} <= {"typing"}
    import diagnose

    for name in diagnose.__all__:
        home = diagnose._HOMES[name]
        assert home.split(".")[1] in LAYERS
        assert getattr(diagnose, name).__module__ == home


@pytest.mark.parametrize("library", DOORS)
def test_each_library_has_its_door(library):
    users = defaultdict(list)
    for path in modules():
        for dotted, line in imports(path):
            users[dotted.partition(".")[0]].append(f"{place(path)}:{line}")
    allowed = DOORS[library]
    strangers = [user for user in users[library] if not user.startswith(allowed or ("nobody",))]
    assert not strangers
    assert bool(users[library]) == bool(allowed)


def test_nothing_is_imported_by_a_name_made_up_on_the_way():
    """`importlib.import_module` and `__import__` could pass by every other test here."""
    for path in modules():
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.Call):
                called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                if called in {"import_module", "__import__", "exec", "eval"}:
                    assert place(path) == "__init__.py", f"{place(path)}:{node.lineno}: {called}"


def test_only_the_talk_and_the_command_line_print():
    for path in modules():
        if layer(path) in CLI:
            continue
        for node in ast.walk(tree_of(path)):
            where = f"{place(path)}:{getattr(node, 'lineno', 0)}"
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in {"print", "input"}, where
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "sys":
                assert node.attr not in {"stdout", "stderr", "stdin"}, where


def test_the_middle_keeps_off_the_clock_the_disk_and_chance():
    """Frozen values in, frozen values out: no file, no time, no chance below the talk, save where knowledge is read."""
    edges = {"entries/compiled.py", "entries/files.py"}
    for path in modules():
        if layer(path) in {*CLI, FRONT_DOOR} or place(path) in edges:
            continue
        names = {dotted.partition(".")[0] for dotted, _ in imports(path)}
        if place(path) == "plate.py":  # the date on a label is counted with the calendar, not with the clock
            names -= {"datetime"}
            assert ".today" not in path.read_text("utf-8")
            assert ".now" not in path.read_text("utf-8")
        if place(path).startswith(STORE):  # files and waiting for another writer, but no clock and no chance
            names -= {"os", "tempfile"}
            text = path.read_text("utf-8")
            if re.findall(r"^\s*(?:from|import) time\b.*", text, re.MULTILINE) == ["from time import sleep"]:
                names -= {"time"}
        assert not names & {"os", "time", "datetime", "random", "tempfile", "shutil", "socket", "subprocess"}, place(
            path
        )


def test_modules_are_short():
    lines = {place(path): len(path.read_text("utf-8").splitlines()) for path in modules()}
    long = {name: count for name, count in lines.items() if count > MOST_LINES}
    assert not long
    assert median(count for count in lines.values() if count) < MEDIAN_LINES


def test_these_tests_bite(tmp_path):
    """A file that breaks the rules in hidden places is caught reading it the same way."""
    bad = tmp_path / "bad.py"
    bad.write_text(
        "def late():\n    from diagnose.talk import screens\n    import durable.lang, rich.text\n    return screens\n",
        "utf-8",
    )
    assert [name for name, _ in imports(bad)] == ["diagnose.talk.screens", "durable.lang", "rich.text"]
