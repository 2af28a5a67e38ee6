"""The book as a file and back: nothing lost, nothing half taken in, every problem with its line."""

import csv
import io
import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from diagnose.daybook import exchange
from diagnose.daybook.book import Book, Given, Moment, NoteEntry, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.exchange import form_of, read_entries, text_of, without_known, write_entries
from diagnose.daybook.exchange_cells import armed, defused
from diagnose.daybook.exchange_csv import COLUMNS, comparable
from diagnose.errors import BookError
from diagnose.facts import understand
from diagnose.plate import Plate
from tests.daybook.entries import TEXT, entries

FORMS = exchange.FORMS


def at_of(day, clock):
    hours, minutes = clock.split(":") if clock else (0, 0)
    year, month, date = map(int, day.split("-"))
    return ((year * 12 + month) * 31 + date) * 86400 + int(hours) * 3600 + int(minutes) * 60


@pytest.fixture
def read(knowledge):
    return lambda text, form: read_entries(text, form, knowledge, at_of)


def complaints(read, text, form):
    with pytest.raises(BookError) as error:
        read(text, form)
    return str(error.value).splitlines()


def refused(read, text, form):
    """What is said against a file; nothing where it is taken in."""
    try:
        read(text, form)
    except BookError as error:
        return str(error).splitlines()
    return []


def small_book():
    """An invented morning."""
    day = "2026-05-01"
    return Book(
        (
            WorkEntry(moment=Moment(1000, day, "09:10"), work="new", thing="developer", amount="500 mL", note="=cold"),
            PlateEntry(moment=Moment(2000, day, "09:40"), outcome="good", made_with={"holder": "B"}, size=130.0),
            PlateEntry(
                moment=Moment(3000, day, "09:55"),
                outcome="spoiled",
                told={
                    "symptoms": {"fog": {"answer": "present", "place": "lower-part"}, "comets": {"answer": "absent"}},
                    "conditions": {"room_temperature": "82 F"},
                    "story": "came up in the developer",
                },
                made_with={"holder": "B"},
                given=Given("v1", {"darkroom/fumes": 0.25}, "look", 0.01),
                who="A",
                note="the van passed",
            ),
            ValueEntry(moment=Moment(4000, day), condition="bath_temperature", value="18 °C"),
            NoteEntry(moment=Moment(5000, day, "11:00"), note="stopped for rain", who="A"),
        )
    )


@pytest.mark.parametrize("form", ["json", "toml"])
def test_everything_comes_back_exactly(knowledge, form):
    @settings(suppress_health_check=[HealthCheck.too_slow])
    @given(kept=st.lists(entries(knowledge), max_size=4))
    def comes_back(kept):
        book = Book(tuple(kept))
        assert read_entries(write_entries(book, form), form, knowledge, at_of) == book.entries

    comes_back()


def test_a_spreadsheet_brings_back_all_but_seconds_and_diagnoses(knowledge):
    @given(kept=st.lists(entries(knowledge), max_size=4))
    def comes_back(kept):
        book = Book(tuple(kept))
        again = read_entries(write_entries(book, "csv"), "csv", knowledge, at_of)
        assert [comparable(entry) for entry in again] == [comparable(entry) for entry in book.entries]
        for old, new in zip(book.entries, again, strict=True):
            assert type(old) is type(new)
            if isinstance(old, PlateEntry):
                assert understand(Plate.read(old.told), knowledge) == understand(Plate.read(new.told), knowledge)
                assert (old.size, old.note, old.who, old.confirmed) == (new.size, new.note, new.who, new.confirmed)
                assert {k: v for k, v in old.made_with.items() if v} == dict(new.made_with)
            else:
                assert replace(old, moment=new.moment) == new
        assert without_known(again, book) == ((), len(again))

    comes_back()


@given(text=TEXT)
@example("=1")
@example("''=1")
@example("\n=")
@example("\t\t=\r\n -")
@example("a;\t'-x")
def test_a_formula_is_defused_and_comes_back(text):
    cell = defused(text)
    assert armed(cell) == text
    assert not cell.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r"))
    assert not any(piece.startswith(("=", "+", "-", "@")) for piece in cell.split(";"))


def test_no_cell_of_a_hostile_book_is_a_formula(knowledge):
    names = ["=cmd|' /C calc'!A0", "+1", "-1", "@x", "\t=1", "=HYPERLINK(1)"]
    day = "2026-05-01"
    hostile = [
        PlateEntry(moment=Moment(n, day), outcome="good", made_with={"holder": name}, who=name, note=name)
        for n, name in enumerate(names)
    ]
    text = write_entries(Book(tuple(hostile)), "csv")
    cells = [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
    assert not [cell for cell in cells if cell[:1] and cell[0] in "=+-@\t\r"]
    again = read_entries(text, "csv", knowledge, at_of)
    assert [entry.note for entry in again] == names


@pytest.mark.parametrize("form", FORMS)
def test_notes_can_be_stripped(knowledge, form):
    text = write_entries(small_book(), form, strip_notes=True)
    for private in ("van passed", "stopped for rain", "came up in", "cold"):
        assert private in write_entries(small_book(), form)
        assert private not in text
    again = read_entries(text, form, knowledge, at_of)
    assert [type(entry).__name__ for entry in again] == ["WorkEntry", "PlateEntry", "PlateEntry", "ValueEntry"]
    assert not [entry for entry in again if getattr(entry, "who", "") or getattr(entry, "note", "")]


WRITTEN = (
    "kind;day;clock;outcome;signs;holder;size;room temperature;note\r\n"
    "plate;2026-05-01;9:40;ok;;B;13x18 cm;;\r\n"
    ';;09:55:10;bad;veil (lower-part), no comets;B;;82 F;"two\r\nlines; and more"\r\n'
    "\r\n"
    ";2026-05-02;;;oysters;;whole plate;;;;\r\n"
)


@pytest.mark.parametrize("before", ["", "\ufeff", "sep=;\r\n", "\ufeffsep=;\n"])
def test_a_table_written_by_hand(read, before):
    good, bad, other = read(before + WRITTEN, "csv")
    assert (good.outcome, good.made_with, good.size) == ("good", {"holder": "B"}, pytest.approx(234))
    assert bad.told["symptoms"] == {"fog": {"answer": "present", "place": "lower-part"}, "comets": {"answer": "absent"}}
    assert bad.told["conditions"] == {"room_temperature": "82 F"}
    assert bad.moment.clock == "09:55"
    assert bad.note == "two\r\nlines; and more"
    assert (other.outcome, list(other.told["symptoms"]), other.moment.day) == (
        "spoiled",
        ["oyster-shell-marks"],
        "2026-05-02",
    )


def test_the_same_with_commas(read):
    assert (
        read(WRITTEN.replace('"two\r\nlines; and more"', "x").replace(", no comets", "").replace(";", ","), "csv")[
            2
        ].good
        is False
    )


def test_lines_of_a_table_are_told_all_at_once(read):
    text = (
        "kind;day;clock;outcome;signs;holder;room temperature\n"
        'plate;01.05.2026;25:00;goood;fogg;"B\nC";300 °C\n'
        "plat;2026-05-01;;good;;;\n"
        "plate;2026-05-01;;good;;;;stray\n"
    )
    said = complaints(read, text, "csv")
    assert said[0] == "nothing was taken in: 7 problems"
    starts = [
        "line 2, day:",
        "line 2, clock:",
        "line 2, outcome:",
        "line 2, signs:",
        "line 2, conditions:",
        "line 4, kind:",
        "line 5, cell 8:",
    ]
    assert all(any(line.startswith(start) for line in said) for start in starts), said
    assert "2026-05-01" in said[1]
    assert "did you mean" in next(line for line in said if "fogg" in line)


def test_unknown_columns_are_told(read):
    said = complaints(read, "kind,day,holdr,room_temprature\nplate,2026-05-01,B,3\n", "csv")
    assert "'holder'" in said[1]
    assert "room temperature" in said[2]
    assert "twice" in complaints(read, "kind,day,date\n", "csv")[1]


def test_lines_of_json(read):
    text = """{"daybook": 1,
 "entries": [
 {"kind": "note", "day": "2026-05-01", "note": "n"},
 {"kind": "plate",
  "day": "2026-05-01", "outcome": "bad",
  "told": {"symptoms": {"fog": true,
   "fogg": true},
   "conditions": {"room_temperature": "9"}},
 "made_with": {"holdr": "B"}}
]}"""
    said = complaints(read, text, "json")
    assert [line.partition(":")[0] for line in said[1:]] == [
        "line 5, outcome",
        "line 7, symptoms",
        "line 8, conditions",
        "line 9, made_with",
    ]
    assert "'holder'" in said[-1]


def test_lines_of_toml(read):
    head = 'daybook = 1\n[[entries]]\nkind = "note"\nday = 2026-05-01\nnote = """\n[[entries]]\nx = 1\n"""\n'
    work = '[[entries]]\nkind = "work"\nday = "2026-05-01"\nwork = "filterd"\nthing = "bath"\namount = "2 oz"\n'
    text = head + work
    said = complaints(read, text, "toml")
    assert [line.partition(":")[0] for line in said[1:]] == ["line 12, work", "line 14, amount"]
    assert "'filtered'" in said[1]
    assert "which ounce" in said[2]


@pytest.mark.parametrize(
    ("text", "form", "words"),
    [
        ('{"entries": [\n{"kind": "note",\n"kind": 3}]}', "json", "line 3, kind: it stands there twice"),
        ('{"entries": [\n{"day": NaN}]}', "json", "line 2, a number that cannot be kept: NaN"),
        ('{"entries": [\n{"day": ]}', "json", "line 2: this is not JSON"),
        ("[" * 100_000, "json", "tables lie in tables"),
        ('{"entries": [{"size": ' + "9" * 5000 + "}]}", "json", "a number that cannot be kept"),
        ('{"daybook": 2, "entries": []}', "json", "newer version"),
        ('{"daybook": "x", "entries": []}', "json", "no form of a daybook"),
        ('{"plates": []}', "json", "no list called entries"),
        ('{"entries": 3}', "json", "wrong shape"),
        ("3", "json", "no daybook"),
        ("", "json", "not JSON"),
        ("", "csv", "empty"),
        ("\n\n", "csv", "empty"),
        ("x = 1\n" + "a." * 1000 + "a = 1", "toml", "line 2: over 200 full stops"),
        ("x" + ",x" * 400, "csv", "line 1: 401 columns are far too many"),
        ("x = ", "toml", "line 1: this is not TOML"),
        ("entries = " + "[" * 100_000, "toml", "tables lie in tables"),
        ('kind,day\nnote,"2026', "csv", "line 2: a quotation mark is opened"),
        ('kind,day\n"a"b,2026', "csv", "line 2: the quotation marks"),
        ("kind,note\n," + "x" * 30_000, "csv", "line 2: a cell has over"),
    ],
    ids=range(20),
)  # fmt: skip
def test_a_hostile_file_is_one_clear_line(read, text, form, words):
    (said,) = complaints(read, text, form)
    assert words in said
    assert len(said) < 400


def test_a_huge_file_is_refused_before_it_is_read(read, monkeypatch):
    for form in FORMS:
        monkeypatch.setitem(exchange.LARGEST, form, 1000)
        assert "far too large" in complaints(read, "x" * 1001, form)[0]
    monkeypatch.setattr(exchange, "MOST_ENTRIES", 3)
    monkeypatch.setitem(exchange.LARGEST, "json", 10**6)
    monkeypatch.setitem(exchange.LARGEST, "csv", 10**6)
    assert "4 entries" in complaints(read, json.dumps({"entries": [1, 2, 3, 4]}), "json")[0]
    assert "more than 3" in complaints(read, "note\na\nb\nc\nd\n", "csv")[0]


def test_many_problems_are_capped_with_a_count(read):
    text = json.dumps({"entries": [{"kind": "x"}] * 200})
    said = complaints(read, text, "json")
    assert said[0] == "nothing was taken in: 200 problems"
    assert said[-1].startswith("and 180 more")
    assert len(said) == 22


def test_a_file_with_nothing_right_in_it_is_soon_given_up(read):
    text = json.dumps({"entries": [{"kind": "x"}] * 50_000})
    assert complaints(read, text, "json")[0] == "nothing was taken in: 300 or more problems"
    table = "day,kind\n" + "2026-05-01,fogz\n" * 50_000
    assert complaints(read, table, "csv")[0] == "nothing was taken in: 300 or more problems"


def test_a_note_full_of_dots_comes_back_from_toml(read):
    note = NoteEntry(moment=Moment(0, "2026-05-01"), note='."\\.' * 1000)
    assert read(write_entries(Book((note,)), "toml"), "toml") == (note,)


def test_nothing_is_half_taken_in(knowledge):
    asked = []
    text = write_entries(small_book(), "csv").replace('"good"', '"goood"')
    with pytest.raises(BookError):
        read_entries(text, "csv", knowledge, lambda day, clock: asked.append(day))
    assert not asked


def test_synonyms_units_and_dates_of_labels(read):
    entry = {
        "kind": "plate",
        "day": "2026-05-01",
        "outcome": "spoiled",
        "size": "4x5 in",
        "confirmed": "fumes",
        "told": {
            "symptoms": ["veil", "oyster shells"],
            "conditions": {"room_temperature": "82 F", "collodion_age": "2026-04-01"},
        },
    }
    (plate,) = read(json.dumps([entry]), "json")
    assert plate.told["symptoms"] == {"fog": True, "oyster-shell-marks": True}
    assert plate.told["day"] == "2026-05-01"
    assert plate.confirmed == "darkroom/fumes"
    assert plate.size == pytest.approx(129.032)


def test_one_sign_under_two_names_is_told(read):
    entry = {
        "kind": "plate",
        "day": "2026-05-01",
        "outcome": "spoiled",
        "told": {"symptoms": {"fog": True, "veil": True}},
    }
    assert "told twice" in complaints(read, json.dumps([entry]), "json")[1]
    assert "told twice" in complaints(read, "day,signs\n2026-05-01,fog; veil\n", "csv")[1]
    assert (
        "no condition"
        in complaints(read, "day,signs,conditions\n2026-05-01,fog,holder_wiped=no; holder_wiped=yes\n", "csv")[1]
    )


def test_entries_without_a_clock_keep_the_order_of_the_file(read):
    text = "day,clock,note\n2026-05-01,,a\n,14:05,b\n,,c\n,13:00,d\n,,e\n2026-05-02,,f\n"
    found = read(text, "csv")
    assert [entry.note for entry in found] == list("abcdef")
    assert [entry.moment.at for entry in found] == [
        at_of("2026-05-01", ""), *[at_of("2026-05-01", "14:05")] * 2, *[at_of("2026-05-01", "13:00")] * 2, at_of("2026-05-02", ""),
    ]  # fmt: skip


@pytest.mark.parametrize("form", FORMS)
def test_what_is_known_is_skipped_and_counted(knowledge, form):
    book = small_book()
    again = read_entries(write_entries(book, form), form, knowledge, at_of)
    assert without_known(again, book) == ((), 5)
    twice = Book((*book.entries, replace(book.plates[0], number=7)))
    both = read_entries(write_entries(twice, form), form, knowledge, at_of)
    new, skipped = without_known(both, book)
    assert (len(new), skipped) == (1, 5)  # two good plates of one minute are two plates
    assert without_known(both, Book()) == (both, 0)
    changed = replace(again[1], note="other")
    assert without_known([changed], book) == ((changed,), 0)


def test_bytes_of_a_file():
    assert text_of("\ufeffé".encode()) == "é"
    with pytest.raises(BookError, match="line 2: this is not UTF-8"):
        text_of(b"a\n\xe9")
    with pytest.raises(BookError, match="line 1"):
        text_of("kind".encode("utf-16"))


def test_the_form_is_in_the_name():
    assert form_of("a/b.CSV") == "csv"
    with pytest.raises(BookError, match=r"\.json, \.toml or \.csv"):
        form_of("book.xlsx\x1b[2J")


def test_an_empty_book_is_a_table_to_write_into(read):
    text = write_entries(Book(), "csv")
    assert next(csv.reader(io.StringIO(text))) == list(COLUMNS)
    for form in FORMS:
        assert read(write_entries(Book(), form), form) == ()


def test_a_book_with_letters_that_no_file_holds_can_still_be_written(read):
    note = NoteEntry(moment=Moment(0, "2026-05-01"), note="a\ud800\0b")
    for form in FORMS:
        assert read(write_entries(Book((note,)), form).encode().decode(), form)[0].note == "a?\ufffdb"


def test_a_plate_without_sense_cannot_be_written_as_a_table():
    plate = PlateEntry(moment=Moment(0, "2026-05-01", "14:05"), outcome="good", told={"symptoms": 3})
    with pytest.raises(BookError, match="2026-05-01 14:05"):
        write_entries(Book((plate,)), "csv")
    assert without_known([plate], Book((plate,))) == ((), 1)


PIECES = st.sampled_from(
    [
        '"', "'", ";", ",", "\n", "\r\n", "[[entries]]", "{", "}", "[", "]", ":", "=", '"kind"', '"plate"',
        '"entries"', "kind", "day", "plate", "2026-05-01", '"day"', '"2026-05-01"', "told", '"told"', "signs", "fog",
        "null", "1e999", "\0", "\ud800", "-1", '"""', "daybook = 1\n", "note", "(", ")", "comets", "true", " ",
        '{"entries": [', '"at": 1', "\ufeff", "conditions", "x = 1", "size", "_",
    ]
)  # fmt: skip


@pytest.mark.parametrize("form", FORMS)
def test_anything_at_all_is_entries_or_plain_words(read, form):
    pieces = st.lists(st.one_of(PIECES, st.text(max_size=5)), max_size=30)

    @given(text=pieces.map("".join))
    def taken(text):
        said = refused(read, text, form)
        assert all(line.isprintable() and 0 < len(line) <= 400 for line in said or ["taken in"])

    taken()


JUNK = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(allow_nan=False), TEXT),
    lambda inner: st.one_of(st.lists(inner, max_size=2), st.dictionaries(TEXT, inner, max_size=2)),
    max_leaves=5,
)


def test_a_sound_entry_with_one_field_spoiled_is_told(read):
    good = [exchange.entry_table(entry) for entry in small_book().entries]

    @given(which=st.integers(0, 4), junk=JUNK, data=st.data())
    def spoiled(which, junk, data):
        table = dict(good[which])
        table[data.draw(st.sampled_from([*table, "told", "made_with", "given", "size", "confirmed_by", "x"]))] = junk
        said = refused(read, json.dumps([table]), "json")
        assert not said or said[-1].startswith("line 1")
        kept = () if said else read(json.dumps([table]), "json")
        assert read(write_entries(Book(kept), "json"), "json") == kept

    spoiled()


@pytest.mark.slow
def test_a_large_archive_is_read_in_seconds(knowledge):
    from time import perf_counter

    plates = tuple(replace(small_book().plates[1], moment=Moment(n * 600, "2026-05-01", "")) for n in range(10_000))
    for form in FORMS:
        start = perf_counter()
        text = write_entries(Book(plates), form)
        middle = perf_counter()
        assert len(read_entries(text, form, knowledge, at_of)) == len(plates)
        done = perf_counter()
        size = f"{len(plates)} plates, {len(text) / 1e6:.1f} MB"
        print(f"{form}: {size}, written in {middle - start:.1f} s, read in {done - middle:.1f} s")
