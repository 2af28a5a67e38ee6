"""The page: whole, escaped, by itself, fit to be read aloud and printed; and looked at by a browser where there is one."""

import itertools
import re
import shutil
import subprocess
from html.parser import HTMLParser

import pytest

from diagnose.daybook.book import Book, NoteEntry
from diagnose.daybook.demonstration import DAY, STORY, demonstration_book
from diagnose.daybook.page import review_page
from diagnose.daybook.review import review
from diagnose.reasoning.craft import craft_of
from tests.daybook.invented_days import FOG, SHELLS, book, moment, plate, work

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND",
)
VOID = {"meta", "link", "path", "rect", "circle", "br"}
FOUL = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>\x1b[31m\u202e\x07{{ 7 * 7 }}</td>&amp;"


class Seen(HTMLParser):
    """Every tag with its attributes, the text, and whether tags close in order."""

    def __init__(self):
        super().__init__()
        self.tags, self.text, self.open = [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open, tag
        assert self.open.pop() == tag

    def handle_data(self, data):
        if not self.open or self.open[-1] != "style":
            self.text.append(data)


def seen(page):
    parser = Seen()
    parser.feed(page)
    parser.close()
    assert not parser.open
    return parser


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def demonstrated(craft):
    return review(demonstration_book(), craft, DAY, DAY, story=STORY)


@pytest.fixture(scope="module")
def page(demonstrated):
    return review_page(demonstrated)


@pytest.fixture(scope="module")
def foul_page(craft):
    rows = [
        plate(0, FOG, who=FOUL, note=FOUL, made_with={"holder": FOUL}),
        plate(5, SHELLS, who="x", made_with={"holder": "y"}),
        plate(9, who=FOUL, made_with={"holder": FOUL}),
        work(6, "mended", "holder", name=FOUL, remedy=FOUL, amount=FOUL, note=FOUL),
        NoteEntry(moment=moment(7), note=FOUL, who=FOUL),
    ]
    return review_page(review(book(*rows), craft, story=FOUL))


def test_every_part_is_there(page, demonstrated):
    text = " ".join(" ".join(seen(page).text).split())
    for pattern in demonstrated.patterns:
        assert pattern.likely.title in text
    assert demonstrated.trial.title in text
    for meaning in demonstrated.trial.outcomes:
        assert meaning.outcome[1:] in text
    for bar in demonstrated.bars:
        assert bar.title in text
    for row in demonstrated.trend:
        assert row.label in text
    for due in demonstrated.due:
        assert due.do[0] in text
    for line in demonstrated.lines:
        assert f"{line.number} {line.clock} {'good' if line.good else 'spoiled'}" in text
    for caution in demonstrated.trial.cautions:
        assert caution.say in text
    assert STORY in text


def test_it_can_be_read_aloud(page):
    tags = seen(page).tags
    assert ("html", {"lang": "en"}) in tags
    headings = [tag for tag, _ in tags if re.fullmatch("h[1-6]", tag)]
    assert headings[0] == "h1"
    assert headings.count("h1") == 1
    assert all(int(after[1]) - int(before[1]) <= 1 for before, after in itertools.pairwise(headings))
    tables, captions = (sum(tag == kind for tag, _ in tags) for kind in ("table", "caption"))
    assert tables == captions >= 4
    assert all("scope" in look for tag, look in tags if tag == "th")
    for tag, look in tags:
        if tag == "svg":
            assert look.get("aria-hidden") == "true" or (look.get("role") == "img" and look.get("aria-label"))
    named = {look["id"] for _, look in tags if "id" in look}
    assert {look["aria-labelledby"] for _, look in tags if "aria-labelledby" in look} <= named


def test_good_and_spoiled_differ_in_shape_and_words(page, demonstrated):
    figure = page[page.index("<figure>") : page.index("</figure>")]
    assert figure.count("<circle") == demonstrated.good
    assert figure.count('rx="2"') == demonstrated.spoiled
    assert figure.count("<title>") >= demonstrated.plates


def test_it_stands_by_itself(page):
    for tag, look in seen(page).tags:
        assert tag not in {"script", "iframe", "object", "embed", "img"}
        for name in ("href", "src", "action", "data"):
            assert look.get(name, "data:,").startswith("data:")
        assert not [name for name in look if name.startswith("on")]
    assert "http://" not in page
    assert "https://" not in page
    assert "@import" not in page
    assert "url(" not in page


def test_foul_notes_stay_words(foul_page):
    tags = {tag for tag, _ in seen(foul_page).tags}
    assert not tags & {"script", "img"}
    assert "49" not in foul_page[foul_page.index("<body>") :].split("{{ 7 * 7 }}")[1][:3]
    assert "{{ 7 * 7 }}" in foul_page
    assert all(letter == "\n" or letter.isprintable() for letter in foul_page)
    assert "<script>alert(1)</script>" in "".join(seen(foul_page).text)  # told as it was written


@pytest.mark.parametrize("shows", [None, FOG])
@pytest.mark.parametrize("count", [0, 1, 60])
def test_small_and_large_days_are_whole_pages(craft, count, shows):
    rows = [plate(5 * number, shows if number % 2 else None) for number in range(count)]
    tags = seen(review_page(review(book(*rows), craft))).tags
    assert tags[0][0] == "html"


def test_empty_book_is_a_page_too(craft):
    assert "No plate in the book" in review_page(review(Book(), craft))


def contrast(first, second):
    def light(colour):
        full = colour[1:] if len(colour) == 7 else "".join(2 * one for one in colour[1:])
        parts = [int(full[place : place + 2], 16) / 255 for place in (0, 2, 4)]
        linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((light(first), light(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_words_stand_out_from_the_paper_light_dark_and_printed(page):
    """At least 4.5 to 1, as the accessibility guidelines ask of text."""
    looks = [
        dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{3,6});", found))
        for found in re.findall(r":root \{(.*?)\}", page, re.DOTALL)
    ]
    assert len(looks) == 3
    for colours in looks:
        for ink in ("ink", "soft", "bad", "well", "act", "mark"):
            for paper in ("paper", "card"):
                assert contrast(colours[ink], colours[paper]) >= 4.5, (ink, paper, colours)
        for tint in ("bad-tint", "mark-tint", "tint"):
            assert contrast(colours["ink"], colours[tint]) >= 4.5
        assert contrast(colours["mark"], colours["tint"]) >= 4.5


def complaints(page, folder):
    """What a browser says on its console while it shows and prints a page; names of hosts lead it nowhere."""
    written = folder / "review.html"
    written.write_text(page, "utf-8")
    command = [CHROMIUM, *QUIET, f"--user-data-dir={folder / 'person'}", "--enable-logging=stderr"]
    command += ["--no-pdf-header-footer", f"--print-to-pdf={folder / 'review.pdf'}", f"file://{written}"]
    run = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert (folder / "review.pdf").read_bytes().startswith(b"%PDF"), run.stderr
    return [line for line in run.stderr.splitlines() if "CONSOLE" in line]


@pytest.mark.skipif(CHROMIUM is None, reason="no chromium here to look at the page with")
def test_a_browser_has_nothing_to_complain_of(foul_page, tmp_path):
    """The page forbids all that is fetched from outside; what tried all the same would be told on the console."""
    assert not complaints(foul_page, tmp_path)


@pytest.mark.slow
@pytest.mark.skipif(CHROMIUM is None, reason="no chromium here to look at the page with")
def test_the_browser_would_complain(foul_page, tmp_path):
    """So that the test above cannot pass by hearing nothing."""
    assert complaints(foul_page.replace("</main>", '<img src="http://example.invalid/a.png"></main>'), tmp_path)
