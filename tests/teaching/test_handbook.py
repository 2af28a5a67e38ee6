"""The handbook: whole, escaped, by itself, the same every time; searched and printed by a browser where there is one."""

import dataclasses
import itertools
import json
import os
import re
import shutil
import subprocess
import sys
from base64 import b64encode
from hashlib import sha256
from html import escape
from html.parser import HTMLParser
from time import process_time

import pytest

from diagnose import cli
from diagnose.teaching import handbook as made
from diagnose.teaching import looks
from diagnose.teaching.handbook import anchor, handbook
from diagnose.teaching.pages import cause_page

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
NO_BROWSER = pytest.mark.skipif(CHROMIUM is None, reason="no chromium here to open the handbook with")
QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-logging=stderr",
    "--host-resolver-rules=MAP * ~NOTFOUND",
)
VOID = {"meta", "link", "br", "input"}
FOUL = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>\x1b[31m\u202e\x07{{ 7 * 7 }}</td></script>&amp;"
MOST_BYTES, MOST_SECONDS = 8_000_000, 5


class Seen(HTMLParser):
    """Every tag with its attributes, the text, and whether tags close in order."""

    def __init__(self, page):
        super().__init__()
        self.tags, self.text, self.open = [], [], []
        self.feed(page)
        self.close()
        assert not self.open

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if not self.open or self.open[-1] not in {"style", "script"}:
            self.text.append(data)

    def all(self, name):
        return [look[name] for _, look in self.tags if name in look]

    @property
    def words(self):
        return " ".join("".join(self.text).split())


@pytest.fixture(scope="module")
def page(knowledge):
    return handbook(knowledge, pictures=False)


@pytest.fixture(scope="module")
def seen(page):
    return Seen(page)


@pytest.fixture(scope="module")
def drawn(knowledge):
    """The page as it is usual, and the seconds it took."""
    pytest.importorskip("PIL", reason="the drawing libraries are not installed")
    began = process_time()
    text = handbook(knowledge)
    return text, process_time() - began


@pytest.fixture(scope="module")
def seen_drawn(drawn):
    return Seen(drawn[0])


@pytest.fixture(scope="module")
def foul_page(knowledge):
    """A page of knowledge whose every kind of text was written with ill will."""

    def put(entries, **fields):
        name = next(iter(entries))
        return {**entries, name: dataclasses.replace(entries[name], **fields)}

    foul = dataclasses.replace(
        knowledge,
        symptoms=put(knowledge.symptoms, title=FOUL, look=FOUL, synonyms=(FOUL,), period=(FOUL,), on_negative=FOUL),
        causes=put(knowledge.causes, title=FOUL, brief=FOUL, practise=FOUL),
        checks=put(knowledge.checks, title=FOUL, do=FOUL, tells_apart=FOUL),
        remedies=put(knowledge.remedies, title=FOUL, say=FOUL, see=FOUL, stop=FOUL),
        cautions=put(knowledge.cautions, title=FOUL, say=FOUL),
        sources=put(knowledge.sources, title=FOUL, author=FOUL),
        reactions=put(knowledge.reactions, title=FOUL, says=FOUL, equation=FOUL),
        stages=put(knowledge.stages, title=FOUL),
    )
    return handbook(foul, pictures=False)


def test_every_sign_cause_check_and_caution_stands_there_once(seen, knowledge):
    ids = seen.all("id")
    assert len(ids) == len(set(ids))
    kinds = [("sign", knowledge.symptoms), ("cause", knowledge.causes), ("check", knowledge.checks)]
    for kind, entries in (*kinds, ("caution", knowledge.cautions)):
        assert {name for name in ids if name.startswith(f"{kind}-")} == {anchor(kind, name) for name in entries}
    assert {name for name in ids if name.startswith("look-")} == {
        f"look-{anchor('sign', n)}" for n in knowledge.symptoms
    }


def test_no_link_is_dead(seen, seen_drawn):
    for one in (seen, seen_drawn):
        aims = [aim for aim in one.all("href") if aim.startswith("#")]
        assert len(aims) > 1000
        assert {aim[1:] for aim in aims} <= set(one.all("id"))


def test_everything_taught_is_told(seen, knowledge):
    words = seen.words
    for name, entry in knowledge.symptoms.items():
        for said in (entry.title, entry.look, *entry.synonyms, *entry.period):
            assert " ".join(said.split()) in words, name
    for name, entry in knowledge.causes.items():
        page = cause_page(name, knowledge)
        told = [entry.title, entry.brief, entry.practise, *(step.then for step in entry.step)]
        told += [line.says for step in page.chain.steps for line in step.chemistry]
        told += [doing.say for doing in (*page.remedies, *page.prevention)]
        told += [dissent.says for dissent in entry.dissent] + [alike.apart for alike in entry.look_alike]
        for said in filter(None, told):
            assert " ".join(said.split()) in words, name
    for caution in knowledge.cautions.values():
        assert caution.say in words


def test_every_source_that_is_named_is_listed(seen, knowledge):
    named = {
        source.partition(" ")[0]
        for text in re.findall(r"\(([^()]*)\)", seen.words)
        for source in text.split("; ")
        if source.partition(" ")[0] in knowledge.sources
    }
    listed = {name.removeprefix("source-") for name in seen.all("id") if name.startswith("source-")}
    assert len(named) > 20
    assert named <= listed <= set(knowledge.sources)


def test_it_can_be_read_aloud_and_reached_with_keys(seen, page):
    assert ("html", {"lang": "en"}) in seen.tags
    headings = [tag for tag, _ in seen.tags if re.fullmatch("h[1-6]", tag)]
    assert headings[0] == "h1"
    assert headings.count("h1") == 1
    assert all(int(after[1]) - int(before[1]) <= 1 for before, after in itertools.pairwise(headings))
    assert sum(tag == "table" for tag, _ in seen.tags) == sum(tag == "caption" for tag, _ in seen.tags) > 150
    assert all("scope" in look for tag, look in seen.tags if tag == "th")
    first = next(look for tag, look in seen.tags if tag == "a")
    assert first == {"class": "skip", "href": "#content"}
    labelled = {look["for"] for tag, look in seen.tags if tag == "label" and "for" in look}
    asked = {look["id"] for tag, look in seen.tags if tag in {"input", "select"}}
    assert asked - {"with-causes"} == labelled  # the box to tick stands inside its label
    assert ":focus-visible { outline: 3px" in page
    assert not [look for _, look in seen.tags if int(look.get("tabindex", 0)) > 0]


def test_every_drawing_has_its_words_and_says_it_is_one(drawn, seen_drawn, knowledge):
    tags = seen_drawn.tags
    drawings = [look for tag, look in tags if tag == "svg"]
    assert len(drawings) == 2 * len(knowledge.symptoms)
    assert all(look["role"] == "img" and look["aria-label"].startswith("Drawing, not a photo") for look in drawings)
    assert len({look["aria-label"] for look in drawings}) == len(knowledge.symptoms)
    assert drawn[0].count("Drawing, not a photograph.</figcaption>") == len(knowledge.symptoms)
    assert sum(tag == "image" for tag, _ in tags) == len(knowledge.symptoms)


def test_it_stands_by_itself(drawn, seen_drawn):
    text, tags = drawn[0], seen_drawn.tags
    assert sum(tag == "script" for tag, _ in tags) == 1
    for tag, look in tags:
        assert tag not in {"iframe", "object", "embed"}
        for name in ("href", "src", "action", "data"):
            assert look.get(name, "#").startswith(("#", "data:image/png;base64,", "data:,"))
        assert not [name for name in look if name.startswith("on")]
    assert "default-src 'none'" in text
    for outside in ("http://", "https://", "@import", "url("):
        assert outside not in text


def test_foul_knowledge_stays_words(foul_page):
    seen = Seen(foul_page)
    tags = seen.tags
    assert sum(tag == "script" for tag, _ in tags) == 1
    assert not [tag for tag, look in tags if tag == "img" or any(name.startswith("on") for name in look)]
    assert foul_page.count("{{ 7 * 7 }}") > 20
    assert all(letter == "\n" or letter.isprintable() for letter in foul_page)
    assert "<script>alert(1)</script>" in seen.words  # told as it was written


def test_it_is_quick_and_small(drawn):
    text, took = drawn
    print(f"handbook: {took:.2f} s of work, {len(text.encode()) / 1e6:.2f} MB")
    assert took <= MOST_SECONDS
    assert 2_000_000 < len(text.encode()) < MOST_BYTES


def test_the_same_knowledge_gives_the_same_bytes(page, knowledge, tmp_path):
    """In another process with another order of hashes, too."""
    code = (
        "import sys, pathlib; from diagnose.entries.compiled import read_knowledge;"
        "from diagnose.teaching.handbook import handbook;"
        "pathlib.Path(sys.argv[1]).write_text(handbook(read_knowledge(), pictures=False), 'utf-8')"
    )
    out = tmp_path / "page.html"
    subprocess.run([sys.executable, "-c", code, str(out)], check=True, env={**os.environ, "PYTHONHASHSEED": "7"})
    assert out.read_text("utf-8") == page
    pytest.importorskip("PIL")
    some = dataclasses.replace(knowledge, symptoms=dict(itertools.islice(knowledge.symptoms.items(), 5)))
    assert made.drawings(some, 64) == made.drawings(some, 64)


def run(*arguments):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "argv", ["diagnose", *arguments])
        with pytest.raises(SystemExit) as left:
            cli.run()
    return left.value.code


def test_without_the_drawing_libraries_it_is_in_words_and_says_so(monkeypatch, tmp_path, capsys, page):
    monkeypatch.setattr(looks, "pictures_can_be_drawn", lambda: False)
    out = tmp_path / "book.html"
    assert run("handbook", "-o", str(out)) == 0
    assert "pip install numpy pillow" in " ".join(capsys.readouterr().out.split())
    assert out.read_text("utf-8") == page
    assert page.count(escape("pip install numpy pillow", quote=False)) == 1
    assert "<svg" not in page
    assert "On a plate: " in page
    assert [path.name for path in tmp_path.iterdir()] == ["book.html"]


def test_a_place_that_cannot_be_written_is_one_line(monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(made, "handbook", lambda *_, **__: "a page")
    assert run("handbook", "-o", str(tmp_path / "none" / "book.html")) == 1
    said = capsys.readouterr().err
    assert "cannot be written" in said
    assert "Traceback" not in said


def contrast(first, second):
    def light(colour):
        full = colour[1:] if len(colour) == 7 else "".join(2 * one for one in colour[1:])
        parts = [int(full[place : place + 2], 16) / 255 for place in (0, 2, 4)]
        linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((light(first), light(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_words_stand_out_light_dark_and_printed(page):
    """At least 4.5 to 1, as the accessibility guidelines ask of text."""
    found = re.findall(r":root \{(.*?)\}", page, re.DOTALL)
    assert len(found) == 3
    light, dark, printed = (dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{3,6});", one)) for one in found)
    for colours in (light, dark, {**light, **printed}):
        for ink in ("ink", "soft", "bad", "act", "mark"):
            for paper in ("paper", "card", "tint"):
                assert contrast(colours[ink], colours[paper]) >= 4.5, (ink, paper, colours)
        for ink in ("ink", "soft"):
            assert contrast(colours[ink], colours["bad-tint"]) >= 4.5


def test_it_is_laid_out_for_paper(page):
    """No row is cut, heads come again on the next sheet, and the search is not printed."""
    paper = page[page.index("@media print") : page.index("</style>")]
    kept = next(line for line in paper.splitlines() if "break-inside: avoid" in line)
    assert {"tr", "li", "figure", ".card", ".caution", "table.short"} <= set(re.split(r"[,{]\s*|\s+", kept))
    assert "thead { display: table-header-group; }" in paper
    assert "nav, form, .skip { display: none !important; }" in paper
    assert "prefers-color-scheme: dark" not in paper


# In a browser. The questions a student types are put by a script beside the page's own; the page is told to allow both.
DRIVER = """
const answers = {};
const box = document.getElementById("word"), stage = document.getElementById("stage");
const tick = document.getElementById("with-causes");
function ask(name, word, born, causes) {
  box.value = word; stage.value = born || ""; tick.checked = Boolean(causes);
  box.dispatchEvent(new Event("input"));
  const shown = Array.from(document.querySelectorAll("[data-kind]"), (item) => item)
    .filter((item) => item.getClientRects().length && item.id).map((item) => item.id);
  answers[name] = {shown: shown, told: document.getElementById("told").textContent,
    cards: document.querySelectorAll(".card:not([hidden])").length,
    safety: document.querySelectorAll("#safety .caution").length};
}
ask("all", ""); ask("comets", "Comets"); ask("tadpoles", "TADPOLES"); ask("joined", "comets", "", true);
ask("stage", "", "varnish"); ask("both", "comets", "varnish"); ask("whole", "thiosulphate"); ask("nothing", "zzqqzz");
const link = document.createElement("a"); link.href = "#cause-exposure.over-exposed"; document.body.append(link);
link.click();
answers.revealed = document.getElementById("cause-exposure.over-exposed").getClientRects().length > 0;
const out = document.createElement("pre"); out.id = "answers"; out.textContent = JSON.stringify(answers);
document.body.append(out);
"""


def browse(page, folder, *more):
    """What a browser makes of a page: the document after its script, and its complaints."""
    written = folder / "handbook.html"
    written.write_text(page, "utf-8")
    command = [
        CHROMIUM,
        *QUIET,
        f"--user-data-dir={folder / 'person'}",
        *(more or ("--dump-dom",)),
        f"file://{written}",
    ]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    return done.stdout, [line for line in done.stderr.splitlines() if "CONSOLE" in line]


@NO_BROWSER
def test_search_and_filter_without_complaint(foul_page, knowledge, tmp_path):
    """The page forbids whatever is fetched, and every script but its own and the one here: all else would be told."""
    driver = b64encode(sha256(DRIVER.encode()).digest()).decode()
    page = foul_page.replace("script-src '", f"script-src 'sha256-{driver}' '")
    assert '<form id="find" role="search" hidden>' in page
    document, complaints = browse(page.replace("</body>", f"<script>{DRIVER}</script></body>"), tmp_path)
    assert not complaints
    assert '<form id="find" role="search">' in document
    answers = json.loads(re.search(r'<pre id="answers">(.*?)</pre>', document, re.DOTALL)[1])

    def of(name, kind):
        return {one for one in answers[name]["shown"] if one.startswith(f"{kind}-")}

    assert len(of("all", "sign")) == answers["all"]["cards"] == len(knowledge.symptoms)
    assert len(of("all", "cause")) == len(knowledge.causes)
    assert len(of("all", "check")) == len(knowledge.checks)
    assert not answers["all"]["told"]
    assert "sign-comets" in of("comets", "sign")
    assert len(of("comets", "sign")) < 4
    assert of("tadpoles", "sign") == {"sign-comets"}
    assert answers["tadpoles"]["cards"] == 1
    behind = {anchor("cause", n) for n, c in knowledge.causes.items() if "comets" in {s.symptom for s in c.symptom}}
    assert behind <= of("joined", "cause")
    assert of("joined", "check")
    assert of("stage", "cause") == {anchor("cause", name) for name in knowledge.causes if name.startswith("varnish/")}
    assert of("both", "sign") <= of("stage", "sign")
    assert "sign-comets" not in of("both", "sign")
    assert "the whole text was searched" in answers["whole"]["told"]
    assert of("whole", "cause")
    assert not answers["nothing"]["shown"]
    assert answers["nothing"]["told"].startswith("0 signs and 0 causes")
    assert all(answer["safety"] == len(knowledge.cautions) for name, answer in answers.items() if name != "revealed")
    assert answers["revealed"]


@pytest.mark.slow
@NO_BROWSER
@pytest.mark.parametrize("size", ["A4", "letter"])
def test_it_prints(drawn, tmp_path, size):
    page = drawn[0].replace("@page { margin", f"@page {{ size: {size}; margin")
    _, complaints = browse(page, tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'book.pdf'}")
    assert not complaints
    assert (tmp_path / "book.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.slow
@NO_BROWSER
def test_nothing_that_must_stay_whole_is_taller_than_a_sheet(drawn, tmp_path):
    """Laid out as on paper, as wide as A4 and as Letter leave room for."""
    page = (
        drawn[0]
        .replace("@media print", "@media all")
        .replace("@media screen and (max-width", "@media speech and (max-width")
    )
    whole = "tr, li, figure, .top, .card, .caution, .check, table.short"
    script = f"document.title = Math.max(...Array.from(document.querySelectorAll('{whole}'), (one) => one.offsetHeight || 0))"
    page = re.sub(r"script-src '[^']*'", "script-src 'unsafe-inline'", page)
    page = page.replace("</body>", f"<script>{script}</script></body>")
    for wide, high in ((184, 268), (190, 250)):  # [mm] inside the margins
        size = f"--window-size={round(wide * 96 / 25.4)},900"
        tallest = int(re.search(r"<title>(\d+)</title>", browse(page, tmp_path, size, "--dump-dom")[0])[1])
        print(f"tallest: {tallest * 25.4 / 96:.0f} mm of {high}")
        assert 30 < tallest * 25.4 / 96 < high


@pytest.mark.slow
@NO_BROWSER
def test_the_browser_would_complain(page, tmp_path):
    """So that the quiet ones cannot pass by hearing nothing."""
    assert browse(page.replace("</main>", '<img src="http://example.invalid/a.png"></main>'), tmp_path)[1]
    assert browse(page.replace("</main>", "<script>1</script></main>"), tmp_path)[1]
