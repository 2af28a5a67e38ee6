"""From TOML to frozen entries, or to every problem at once; never to a traceback."""

import datetime as dt
import json
import math
import tomllib
from dataclasses import FrozenInstanceError
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.entries.files import read_files, version_of
from diagnose.entries.packing import pack, unpack
from diagnose.entries.proofread import proofread
from diagnose.entries.read import build, draft_knowledge

BASE = read_files([Path(__file__).resolve().parents[1] / "knowledge" / "base"])
GREASY, FIXED = "causes/support/greasy-plate.toml", "causes/fixing/fixed-too-little.toml"


def problems_of(files):
    return proofread(draft_knowledge(files))


def spoiled(*changes):
    files = dict(BASE)
    for file, old, new in changes:
        assert old.encode() in files[file]
        files[file] = files[file].replace(old.encode(), new.encode(), 1)
    return files


def test_the_base_folder_becomes_knowledge():
    knowledge = build(draft_knowledge(BASE), version_of(BASE))
    assert knowledge.version == version_of(BASE)
    assert knowledge.causes.keys() == {"support/greasy-plate", "fixing/fixed-too-little"}
    assert knowledge.stage_of("support/greasy-plate") == "support"
    assert knowledge.symptoms["finger-marks"].family == "marks"
    assert knowledge.remedies["fix-longer"].stage == "fixing"
    assert knowledge.causes["support/greasy-plate"].symptom[0].attributes == {"place": ("all-edges",)}
    assert list(knowledge.stages) == ["support", "fixing"]  # the order of the work, as it stands in the file


def test_knowledge_is_frozen():
    knowledge = build(draft_knowledge(BASE), "1")
    with pytest.raises(FrozenInstanceError):
        knowledge.version = "2"
    with pytest.raises(FrozenInstanceError):
        knowledge.causes["support/greasy-plate"].usual = "rare"


def test_three_faults_in_two_files_are_all_told_in_order():
    files = spoiled(
        (GREASY, 'seen = "usually"', 'seen = "oftne"'),
        (GREASY, 'surely = "usually"', 'surely = "surely"'),
        (FIXED, "oldbook p. 42", "olbook p. 42"),
    )
    assert [str(problem) for problem in problems_of(files)] == [
        f"{FIXED}:34: no source called 'olbook' -> did you mean 'oldbook'?",
        f"{GREASY}:9: no strength word 'oftne' for seen -> did you mean 'often'?",
        f"{GREASY}:36: no strength word 'surely' for surely -> did you mean 'usually'?",
    ]


def test_faults_of_one_file_and_between_files_are_told_together():
    files = spoiled(
        ("strengths.toml", "slightly = 1.5", "slightly = 0.5"),
        (GREASY, 'brief = "', 'breif = "'),
        ("states.toml", "27 °C", "27"),
        ("cautions.toml", 'level = "danger"', 'level = "deadly"'),
    )
    found = [(problem.file, problem.line) for problem in problems_of(files)]
    assert {("strengths.toml", 21), (GREASY, 1), (GREASY, 2), ("states.toml", 4), ("cautions.toml", 16)} <= {*found}
    assert found == sorted(found)


def test_every_fault_of_one_entry_is_told():
    text = b'title = 5\nminutes = "long"\nreversible = 7\ntouches = "sky"\nzzz = 1\n'
    lines = [problem.line for problem in problems_of({**BASE, "remedies/support/odd.toml": text})]
    assert lines == [1, 1, 1, 2, 3, 4, 5]  # two of line 1 are what is missing


@pytest.mark.parametrize(
    "change",
    [
        lambda content: b"\xef\xbb\xbf" + content,  # as some editors save it
        lambda content: content.replace(b"\n", b"\r\n"),
        lambda content: content + b"\n\n# The end.\n\n",
    ],
    ids=["byte order mark", "carriage returns", "comments"],
)
def test_the_ways_of_editors_are_no_problem(change):
    assert problems_of({name: change(content) for name, content in BASE.items()}) == []


def test_the_order_of_the_files_does_not_matter():
    assert version_of(dict(reversed(BASE.items()))) == version_of(BASE)
    draft, turned = draft_knowledge(BASE), draft_knowledge(dict(reversed(BASE.items())))
    assert list(draft.entries["causes"]) == list(turned.entries["causes"])


def test_two_faults_of_the_same_words_and_line_are_told_once():
    files = spoiled((GREASY, 'from = ["oldbook p. 3"]', 'from = ["olbook p. 3", "olbook p. 4"]'))
    assert len(problems_of(files)) == 1


def test_a_faulty_entry_in_a_list_does_not_make_the_list_empty():
    files = spoiled((GREASY, 'why = "The plate is held at its edges."\n', ""))
    assert "symptom: nothing is written here" not in {problem.words for problem in problems_of(files)}


def test_file_names_that_cannot_be_shown_are_told_in_letters_that_can(tmp_path):
    (tmp_path / "two\nlines.toml").write_bytes(b"")
    try:
        (tmp_path / "caf\udce9.toml").write_bytes(b"")
    except OSError:  # a file system that only takes proper names
        (tmp_path / "café\x1b.toml").write_bytes(b"")
    files = read_files([tmp_path])
    assert len(files) == 2
    assert all(name.isprintable() for name in files)
    assert all(str(problem).isprintable() for problem in problems_of({**BASE, **files}))
    assert version_of(files)


# Whatever a folder says: knowledge, or problems that name a file and a line that exists -------------------------------

ODD_TEXT = st.one_of(
    st.sampled_from(['"', "'''", "[", "]]", "=", "\\", "\x00", "\x1b[2J", "é", "\ud7ff", "# ", "\n", "nan", "-inf"]),
    st.text(max_size=12),
)
FILE = st.sampled_from(sorted(BASE))


@st.composite
def mangled_folders(draw):
    """The base folder with a few files cut, doubled, swapped or scribbled on."""
    files = dict(BASE)
    for _ in range(draw(st.integers(1, 4))):
        name = draw(FILE)
        rows = files.get(name, b"").split(b"\n")
        row = draw(st.integers(0, len(rows) - 1))
        match draw(st.sampled_from(["drop", "double", "move", "swap", "scribble", "cut", "copy", "lose", "bytes"])):
            case "drop":
                del rows[row]
            case "double":
                rows.insert(row, rows[row])
            case "move":
                rows.insert(draw(st.integers(0, len(rows) - 1)), rows.pop(row))
            case "swap":
                left, _, right = rows[row].partition(b"=")
                rows[row] = right + b"=" + left
            case "scribble":
                place = draw(st.integers(0, len(rows[row])))
                odd = draw(ODD_TEXT).encode("utf-8", "replace")
                rows[row] = rows[row][:place] + odd + rows[row][place:]
            case "cut":
                rows = rows[:row]
            case "copy":
                files[draw(FILE | st.sampled_from(["x.toml", "causes/a.toml", "causes/a/b/c.toml"]))] = b"\n".join(rows)
            case "lose":
                files.pop(name, None)
                continue
            case "bytes":
                rows[row] = draw(st.binary(max_size=8))
        files[name] = b"\n".join(rows)
    return files


ODD_VALUE = st.recursive(
    st.one_of(
        st.booleans(),
        st.integers(-(10**20), 10**20),
        st.floats(),
        st.text(max_size=20),
        st.sampled_from(["judged", "finger-marks", "fixing", "fixer is hypo", "hot-room", "nan", "usually", "°C"]),
        st.dates(dt.date(1850, 1, 1)),
    ),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


def as_toml(value):
    """A value in one line of TOML."""
    match value:
        case bool():
            return str(value).lower()
        case float() if not math.isfinite(value):
            return str(value)
        case list():
            return f"[{', '.join(map(as_toml, value))}]"
        case dict():
            return f"{{ {', '.join(f'{as_toml(str(key))} = {as_toml(item)}' for key, item in value.items())} }}"
        case str():
            return json.dumps(value.encode("utf-8", "replace").decode(), ensure_ascii=False).replace("\x7f", "\\u007F")
        case _:
            return str(value)


def leaves(value, path=()):
    yield path
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        yield from leaves(item, (*path, key))


@st.composite
def odd_folders(draw):
    """The base folder with some values replaced by odd ones of any type, and odd keys put in."""
    files = dict(BASE)
    for _ in range(draw(st.integers(1, 3))):
        name = draw(FILE)
        table = tomllib.loads(files[name].decode())
        path = draw(st.sampled_from(sorted(leaves(table), key=str)))
        here = table
        for step in path[:-1]:
            here = here[step]
        if path:
            here[path[-1]] = draw(ODD_VALUE)
        else:
            here[draw(st.text(max_size=8))] = draw(ODD_VALUE)
        files[name] = "".join(f"{as_toml(key)} = {as_toml(value)}\n" for key, value in table.items()).encode()
    return files


def reads_or_complains(files):
    draft = draft_knowledge(files)
    problems = proofread(draft)
    for problem in problems:
        rows = files.get(problem.file, b"").count(b"\n") + 1
        assert problem.file
        assert 1 <= problem.line <= rows
        assert problem.words
        assert str(problem).isprintable()
    if not problems:
        knowledge = build(draft, version_of(files))
        assert pack(unpack(pack(knowledge))) == pack(knowledge)


@settings(max_examples=150)
@given(mangled_folders())
def test_any_mangled_folder_reads_or_gives_problems(files):
    reads_or_complains(files)


@settings(max_examples=150)
@given(odd_folders())
def test_any_odd_value_reads_or_gives_problems(files):
    reads_or_complains(files)


@given(st.dictionaries(FILE, st.binary(max_size=60) | ODD_TEXT.map(lambda text: text.encode("utf-8", "replace"))))
def test_any_folder_of_rubbish_gives_problems(files):
    assert problems_of(files)
    reads_or_complains(files)
