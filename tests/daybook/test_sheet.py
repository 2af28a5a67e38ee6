"""The paper sheet: one page, everything on it, nothing hostile in it."""

import re
import shutil
import subprocess
from html.parser import HTMLParser
from pathlib import Path

import pytest

from diagnose.daybook.book import Book, Moment, PlateEntry, WorkEntry
from diagnose.daybook.codes import codes, mark
from diagnose.daybook.entering import Desk, read_line
from diagnose.daybook.sheet import ROWS, InUse, example, in_use, sheet

HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'&{{ 7*7 }}"
LONG = "a batch with a very long name " * 6
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


class Page(HTMLParser):
    """Tags, attributes and words of a page."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.attributes, self.words = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs

    def handle_data(self, data):
        self.words.append(data.strip())


def invented(name="no. 2"):
    """An invented studio's works."""
    return Book(
        (
            WorkEntry(moment=Moment(1, "2026-04-01"), work="new", thing="bath", name="no. 1"),
            WorkEntry(moment=Moment(2, "2026-04-02"), work="new", thing="bath", name=name),
            WorkEntry(moment=Moment(3, "2026-04-20"), work="filtered", thing="bath", name=name),
            WorkEntry(moment=Moment(4, "2026-04-21"), work="filtered", thing="bath", name="no. 1"),
            WorkEntry(moment=Moment(5, "2026-04-22"), work="filtered", thing="developer"),
            WorkEntry(moment=Moment(6, "2026-04-23"), work="new", thing="developer"),
            WorkEntry(moment=Moment(9, "2026-06-01"), work="new", thing="developer", name="later"),
        )
    )


def test_everything_is_on_the_page(knowledge):
    text = sheet(invented(), "2026-05-01", knowledge)
    page = Page(text)
    assert page.tags.count("tr") == 4 + 1 + ROWS
    assert page.tags.count("i") == 2 * ROWS
    for words in (
        "No sitter’s name here.",
        "2026-05-01",
        "no. 2",
        "2026-04-02",
        "2026-04-20",
        "2026-04-23",
        "Done today",
    ):
        assert words in page.words, words
    assert "later" not in text
    for code, name in codes(knowledge).items():
        place = page.words.index(knowledge.symptoms[name].title)
        assert page.words[place - 1] == str(code)
    assert f"legend {mark(knowledge)}" in page.words
    assert [str(row) for row in range(1, ROWS + 1)] == [word for word in page.words if word.isdigit()][:ROWS]


def test_the_page_wants_nothing_from_outside(knowledge):
    text = sheet(invented(), "2026-05-01", knowledge)
    page = Page(text)
    assert not set(page.tags) & {"script", "link", "img", "iframe", "object", "embed", "svg", "form"}
    assert not [name for name, _ in page.attributes if name in {"src", "href", "action"} or name.startswith("on")]
    assert "url(" not in text
    assert "@import" not in text
    assert "http" not in text.replace("http-equiv", "")
    colours = set(re.findall(r"#[0-9a-f]{3,8}\b", text))
    assert colours == {"#fff", "#000"}


def test_hostile_names_are_words(knowledge):
    text = sheet(invented(HOSTILE), HOSTILE, knowledge)
    page = Page(text)
    assert "script" not in page.tags
    assert "img" not in page.tags
    assert text.count("&lt;script&gt;") == 3  # title, day and bath
    assert "{{ 7*7 }}" in text


def test_an_empty_sheet_is_to_be_written_in(knowledge):
    text = sheet(Book(), "", knowledge)
    assert "None" not in text
    assert Page(text).tags.count("tr") == 4 + 1 + ROWS


def test_what_is_in_use():
    book = invented()
    assert in_use(book, "bath") == InUse("bath", "no. 2", "2026-04-02", "2026-04-20")
    assert in_use(book, "bath", "2026-04-01") == InUse("bath", "no. 1", "2026-04-01")
    assert in_use(book, "developer", "2026-05-01") == InUse(
        "developer", "", "2026-04-23"
    )  # filtered before it was mixed anew
    assert in_use(book, "developer").name == "later"
    assert in_use(book, "fixer") == InUse("fixer")
    plate = PlateEntry(moment=Moment(7, "2026-04-24"), outcome="good", made_with={"bath": "no. 1"})
    assert in_use(book.also(plate), "bath") == InUse("bath", "no. 1", "2026-04-01", "2026-04-21")
    assert in_use(book.also(plate), "developer", "2026-05-01").made == "2026-04-23"
    taken = WorkEntry(moment=Moment(8, "2026-04-25"), work="taken", thing="bath", name="no. 2")
    assert in_use(book.also(plate, taken), "bath").name == "no. 2"


def test_the_example_of_the_sheet_is_understood(knowledge):
    result = read_line(example(knowledge), Desk(day="2026-05-01"), knowledge, lambda day, clock: 0)
    assert not result.problems
    assert result.entries[0].told["symptoms"]


def test_the_template_lies_beside_its_module():
    import diagnose.daybook.sheet as module

    assert (Path(module.__file__).parent / "templates" / "sheet.html").is_file()  # the wheel takes the whole package


@pytest.mark.skipif(CHROMIUM is None, reason="no chromium here to print the sheet with")
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_it_prints_on_one_page(knowledge, tmp_path, paper):
    text = sheet(invented(LONG), "2026-05-01", knowledge)
    page = tmp_path / "sheet.html"
    page.write_text(text.replace("@page {", f"@page {{ size: {paper};"), "utf-8")
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync", "--no-pdf-header-footer"]  # fmt: skip
    printed = tmp_path / "sheet.pdf"
    subprocess.run(
        [CHROMIUM, *flags, f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={printed}", page.as_uri()],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    assert len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes())) == 1
