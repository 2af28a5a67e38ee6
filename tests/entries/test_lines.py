"""Which line of a TOML file a value stands on."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.entries.lines import line_map, line_of

ROOT = Path(__file__).resolve().parents[2]
FILE = """\
# A comment, and then an empty line.

title = "A plate"
[marks]  # a table
size = 3
[marks.place]
where = "edge"
[[step]]
then = "first"
[[step]]
  then = "second"
from = [
  "one",
  "two",
]
[[step.way]]
when = "now"
[[step.way]]
when = "then"
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 3),
        (("marks",), 4),
        (("marks", "size"), 5),
        (("marks", "place"), 6),
        (("marks", "place", "where"), 7),
        (("step", 0), 8),
        (("step", 0, "then"), 9),
        (("step", 1), 10),
        (("step", 1, "then"), 11),
        (("step", 1, "from"), 12),
        (("step", 1, "way", 0), 16),
        (("step", 1, "way", 0, "when"), 17),
        (("step", 1, "way", 1, "when"), 19),
    ],
)
def test_every_table_and_key_has_its_line(path, line):
    assert line_map(FILE)[path] == line
    assert line_of(line_map(FILE), path) == line


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("step", 1, "from", 1), 12),  # inside a list: the line of the list
        (("step", 1, "why"), 10),  # a key that is not there: the table around it
        (("step", 7), 8),
        (("marks", "size", "deeper", 3), 5),
        (("nowhere",), 1),
        ((), 1),
    ],
)
def test_what_has_no_line_has_that_of_the_nearest_thing_around_it(path, line):
    assert line_of(line_map(FILE), path) == line


def test_a_nested_table_of_a_list_goes_to_the_latest_item():
    lines = line_map("[[case]]\n[case.symptoms]\nfog = true\n[[case]]\n[case.symptoms]\nfog = false\n")
    assert (lines["case", 0, "symptoms", "fog"], lines["case", 1, "symptoms", "fog"]) == (3, 6)


def test_only_a_new_line_is_a_new_line():
    """TOML counts no other character as the end of a line, so neither may the numbers people are sent to."""
    text = 'a = "one\u2028two\u0085three"\r\nb = 2\n'
    assert tomllib.loads(text)["b"] == 2
    assert line_map(text)["b",] == 2


@pytest.mark.parametrize("file", sorted((ROOT / "knowledge").glob("*.toml")), ids=lambda path: path.name)
def test_every_entry_of_the_real_files_is_found_at_its_own_line(file):
    text = file.read_text(encoding="utf-8")
    lines, rows = line_map(text), text.split("\n")
    for name, entry in tomllib.loads(text).items():
        assert rows[lines[name,] - 1].startswith(f"[{name}]")
        for key in entry:
            row = rows[line_of(lines, (name, key)) - 1].strip()
            row = row.removeprefix("[[").removeprefix("[").removeprefix(f"{name}.")
            assert row.startswith(key) or isinstance(entry[key], list | dict)


@given(st.text(), st.lists(st.one_of(st.text(max_size=5), st.integers(0, 3)), max_size=4))
def test_any_text_has_lines_that_exist(text, path):
    lines = line_map(text)
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())
    assert 1 <= line_of(lines, path) <= text.count("\n") + 1
