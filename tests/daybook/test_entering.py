"""The paper sheet typed in: what is understood, what is said back, what is asked for."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.daybook.book import Book, Moment, NoteEntry, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.codes import COUNT, codes, mark
from diagnose.daybook.entering import LONGEST_LINE, Desk, read_line
from diagnose.daybook.entering_words import FILLERS, THING_WORDS, WORK_WORDS, phrases
from diagnose.daybook.exchange import read_entries, write_entries
from diagnose.daybook.said_back import said_back
from diagnose.errors import printable
from diagnose.facts import find_symptom, understand
from diagnose.plate import Plate

DAY = "2026-05-01"
DESK = Desk(day=DAY)


def at_of(day, clock):
    return 1_000_000 + (int(clock[:2]) * 3600 + int(clock[3:]) * 60 if clock else 0)


@pytest.fixture
def type_in(knowledge):
    def typed(*lines, desk=DESK):
        entries = []
        for line in lines:
            result = read_line(line, desk, knowledge, at_of)
            assert not result.problems, (line, result.problems)
            desk = result.desk
            entries += result.entries
        return entries

    return typed


@pytest.fixture
def asked(knowledge):
    def wrong(line, desk=DESK):
        result = read_line(line, desk, knowledge, at_of)
        assert result.problems, result.said
        assert not result.entries
        assert result.desk == desk
        return "; ".join(result.problems)

    return wrong


def signs(plate):
    """Every sign told, with a mark for its answer and its look."""
    marks = {"present": "", "absent": "no ", "unsure": "unsure ", "cant-tell": "cannot tell "}
    told = plate.told.get("symptoms", {})
    return {
        name: marks[item["answer"]] + " ".join(value for key, value in item.items() if key != "answer")
        for name, item in told.items()
    }


PLATES = [
    ("14:05 good", "good", {}),
    ("14.05 ok", "good", {}),
    ("1405 fine!", "good", {}),
    ("3) 14:05 good plate", "good", {}),
    ("3. 14:05 - good", "good", {}),
    ("3 14:05 good", "good", {}),
    ("not good, fog", "spoiled", {"fog": ""}),
    ("bad", "spoiled", {}),
    ("14:20 bad comets, fog lower-part; 4 s f/4; holder B", "spoiled", {"comets": "", "fog": "lower-part"}),
    ("14:20 BAD Comets Fog lower part", "spoiled", {"comets": "", "fog": "lower-part"}),
    ("comets and fog", "spoiled", {"comets": "", "fog": ""}),
    ("bad: grey fog at the bottom", "spoiled", {"fog": "grey lower-part"}),
    ("bad fog, grey, all over", "spoiled", {"fog": "grey whole-plate"}),
    ("bad fog grey, white specks here and there", "spoiled", {"fog": "grey", "specks": "white scattered"}),
    ("spoilt; oysters; no fog", "spoiled", {"oyster-shell-marks": "", "fog": "no "}),
    ("spoiled tadpoles? without pinholes", "spoiled", {"comets": "unsure ", "pinholes": "no "}),
    ("failed, perhaps fog", "spoiled", {"fog": "unsure "}),
    ("bad, can't tell fog, comets", "spoiled", {"fog": "cannot tell ", "comets": ""}),
    ("good but slight fog", "good", {"fog": ""}),
    ("light fog", "spoiled", {"fog": ""}),
    ("bad soot and whitewash", "spoiled", {"hard-picture": ""}),
    ("bad bull's eye", "spoiled", None),
    ("bad developer streaks", "spoiled", {"developer-streaks": ""}),
    ("bad flat, washed-out picture", "spoiled", {"flat-picture": ""}),
    ("bad frilling: the film lifts", "spoiled", {"film-lifting": ""}),
    ("bad spots", "spoiled", {"specks": ""}),
    ("bad black spots", "spoiled", {"pinholes": ""}),
    ("bad small black spots everywhere", "spoiled", {"pinholes": "whole-plate"}),
    ("good no fog", "good", {"fog": "no "}),
]


@pytest.mark.parametrize(("line", "outcome", "seen"), PLATES)
def test_plates(type_in, knowledge, line, outcome, seen):
    (plate,) = type_in(line)
    assert isinstance(plate, PlateEntry)
    assert plate.outcome == outcome
    if seen is not None:
        assert {name: set(look.split()) for name, look in signs(plate).items()} == {
            name: set(look.split()) for name, look in seen.items()
        }
    understand(Plate.read(plate.told), knowledge)


def test_exposure_stop_size_and_things(type_in):
    (plate,) = type_in(
        '14:20 good; 2,5 s f/5.6; holder B, collodion "May batch"; whole plate; on glass; by Anna; note van passed; twice'
    )
    assert plate.told["conditions"] == {"exposure_time": "2,5 s", "support": "glass"}
    assert dict(plate.made_with) == {"holder": "B", "collodion": "May batch"}
    assert plate.size == pytest.approx(356.45, abs=0.01)
    assert (plate.who, plate.note) == ("Anna", "f/5.6; van passed; twice")
    assert plate.moment == Moment(at_of(DAY, "14:20"), DAY, "14:20")


def test_what_was_measured(type_in):
    (plate,) = type_in(
        "bad fog; room 28 C, developer 20 s, bath temperature = 68 F, holder wiped no, light window, developer 2 h"
    )
    assert plate.told["conditions"] == {
        "room_temperature": "28 C", "development_time": "20 s", "bath_temperature": "68 F", "holder_wiped": "no", "light": "window",
        "developer_age": "2 h",
    }  # fmt: skip
    values = type_in("room 82 F", "fixer hypo", "bath ph 4", "room temperature ?")
    assert [(entry.condition, entry.value) for entry in values] == [
        ("room_temperature", "82 F"), ("fixer", "hypo"), ("bath_ph", "4"), ("room_temperature", ""),
    ]  # fmt: skip
    assert all(isinstance(entry, ValueEntry) for entry in values)


def test_a_date_on_a_label(type_in, knowledge):
    (plate,) = type_in("bad fog; collodion age 2026-04-01")
    assert understand(Plate.read(plate.told), knowledge).amount("collodion_age") == 30


WORKS = [
    ("14:40 mixed developer 500 mL", "new", "developer", "", "500 mL"),
    ("mixed 500 mL dev", "new", "developer", "", "500 mL"),
    ("new developer", "new", "developer", "", ""),
    ("filtered bath", "filtered", "bath", "", ""),
    ("bath filtered", "filtered", "bath", "", ""),
    ("filtered the silver bath", "filtered", "bath", "", ""),
    ("filtered collodion", "filtered", "collodion", "", ""),
    ('opened collodio "May batch"', "new", "collodion", "May batch", ""),
    ("opened collodion May batch", "new", "collodion", "May batch", ""),
    ("sunned", "sunned", "bath", "", ""),
    ("put in the sun: bath no. 2", "sunned", "bath", "no. 2", ""),
    ("aired tent", "aired", "room", "", ""),
    ("topped up silver bath 60 mL", "topped-up", "bath", "", "60 mL"),
    ("acid bath 2 drops", "acid-added", "bath", "", "2 drops"),
    ("bath acid 2 drops", "acid-added", "bath", "", "2 drops"),
    ("added acid to the bath, 1 mL", "acid-added", "bath", "", "1 mL"),
    ("silver added to bath 12 g", "silver-added", "bath", "", "12 g"),
    ("added silver 180 gr", "silver-added", "bath", "", "180 gr"),
    ("added alkali to bath", "alkali-added", "bath", "", ""),
    ("wiped holder B", "cleaned", "holder", "B", ""),
    ("holder A wiped", "cleaned", "holder", "A", ""),
    ("cleaned the dark slide", "cleaned", "holder", "", ""),
    ("cleaned glass plates", "cleaned", "plates", "", ""),
    ("cleaned lens", "cleaned", "camera", "", ""),
    ("new hypo 1 L", "new", "fixer", "", "1 L"),
    ("fresh fixer", "new", "fixer", "", ""),
    ("opened new varnish", "new", "varnish", "", ""),
]


@pytest.mark.parametrize(("line", "work", "thing", "name", "amount"), WORKS)
def test_works(type_in, line, work, thing, name, amount):
    (entry,) = type_in(line)
    assert isinstance(entry, WorkEntry)
    assert (entry.work, entry.thing, entry.name, entry.amount) == (work, thing, name, amount)


def test_every_word_for_a_work_and_a_thing_is_understood(type_in):
    for work, words in WORK_WORDS.items():
        for word in words:
            assert type_in(f"{word} bath")[0].work == work, word
    for thing, words in THING_WORDS.items():
        for word in words:
            assert type_in(f"cleaned {word}")[0].thing == thing, word


def test_a_remedy_of_the_knowledge(type_in, asked):
    (entry,) = type_in("14:40 wipe-holder-and-back B")
    assert (entry.work, entry.thing, entry.remedy) == ("mended", "holder", "wipe-holder-and-back")


def test_what_was_changed_goes_before_its_plate(type_in):
    work, plate = type_in("15:40 bad fog; new developer 1 L; note after lunch")
    assert (work.work, work.thing, work.amount, work.note) == ("new", "developer", "1 L", "")
    assert (plate.outcome, plate.note) == ("spoiled", "after lunch")
    assert work.moment == plate.moment
    assert Book((work, plate)).entries == (work, plate)


def test_made_with_carries_until_it_is_changed(type_in):
    plates = type_in(
        'collodion "May batch", holder B',
        "good",
        "good holder A",
        "good",
        'opened collodion "June"',
        "13x18 cm good",
        "good holder usual",
    )
    used = [(dict(entry.made_with), entry.size) for entry in plates if isinstance(entry, PlateEntry)]
    may = {"collodion": "May batch"}
    assert used == [
        (may | {"holder": "B"}, None), (may | {"holder": "A"}, None), (may | {"holder": "A"}, None),
        ({"collodion": "June", "holder": "A"}, 234.0), ({"collodion": "June"}, 234.0),
    ]  # fmt: skip


def test_a_work_without_a_name_is_on_the_one_in_use(type_in):
    assert type_in('bath "no. 2"', "filtered bath")[0].name == "no. 2"
    assert type_in("switched to bath 3", "filtered bath")[0].name == "3"


def test_notes_days_and_the_order_of_lines(type_in):
    found = type_in(
        "day 2026-05-01",
        "note the light went",
        "14:05 good",
        "nb: rain",
        "good",
        "2026-05-02",
        "remark start",
        desk=Desk(),
    )
    assert [type(entry) for entry in found] == [NoteEntry, PlateEntry, NoteEntry, PlateEntry, NoteEntry]
    assert [entry.moment.day for entry in found] == [DAY] * 4 + ["2026-05-02"]
    at = at_of(DAY, "14:05")
    assert [entry.moment.at for entry in found] == [at_of(DAY, ""), at, at, at, at_of(DAY, "")]
    assert found[2].note == "rain"
    (plate,) = type_in('bad fog, holder "note; 3" note came late')
    assert (plate.uses("holder"), plate.note) == ("note; 3", "came late")


@pytest.mark.parametrize("line", ["undo", "u", "U", " Undo "])
def test_undo(knowledge, line):
    result = read_line(line, DESK, knowledge, at_of)
    assert result.undo
    assert result.desk == DESK
    assert not result.entries


def test_an_empty_line_says_nothing(knowledge):
    assert read_line("  ", DESK, knowledge, at_of) == (DESK, (), (), (), False)


PROBLEMS = [
    ("15:31 bad fogg", "'fogg' is not understood; did you mean 'foggy'"),
    ("25:10 good", "25:10 is not a time of day"),
    ("14:61 good", "not a time of day"),
    ("day 2026-02-30", "write it as 2026-05-01"),
    ("day 1.5.2026", "write it as 2026-05-01"),
    ("bad fog diagonal", "'diagonal' is not told of fog; it may be told: place whole-plate"),
    ("bad weak picture, bad 99", "no sign has the number 99: the sheet goes from 1 to 20"),
    ("new developer 500", "500 of what? Write the amount with its unit"),
    ("topped up bath 2 oz", "which ounce"),
    ("filtered", "filtered what?"),
    ("good bad", "both good and bad"),
    ("good; bad", "both good and bad"),
    ("bad fog, new holder", "'new holder' is something you did"),
    ("mixed developer and fixer", "one thing a line"),
    ("filtered and sunned bath", "two things were done here, filtered and sunned"),
    ("holder", "holder: which one?"),
    ("14:05", "nothing is said but the time"),
    ("bad lower-part", "of which sign?"),
    ("good 28 C", "of what? Write what it is before it"),
    ("good room temperature", "how much? Write it with its unit"),
    ("good room temperature 28", "no unit"),
    ("good room temperature 280 C", "cannot be right"),
    ("good light", "light: which one?"),
    ("14:05 f/4", "how did the plate come out?"),
    ("by", "by whom?"),
    ("bad, developer ran out", 'write developer "ran"'),
    ("good at 14:05", "write the time first"),
    ("x" * (LONGEST_LINE + 1), "too long"),
    ("legend QQQ", "its numbers mean other signs"),
    ("bad holder_wiped", "write one of yes, no"),
]


@pytest.mark.parametrize(("line", "words"), PROBLEMS)
def test_what_is_not_understood_is_said(asked, line, words):
    assert words in asked(line)


def test_the_day_is_wanted_before_the_first_entry(asked, knowledge):
    assert "day 2026-05-01" in asked("14:05 good", desk=Desk())
    assert not read_line("holder B", Desk(), knowledge, at_of).problems


def test_a_word_for_two_signs_names_both(asked, knowledge):
    double = [words for words, meanings in phrases(knowledge).items() if sum(m.sort == "sign" for m in meanings) > 1]
    for words in double:
        assert " or " in asked("bad " + " ".join(words))


def test_every_word_for_a_sign_is_understood(knowledge):
    for symptom in knowledge.symptoms.values():
        for word in (symptom.title, *symptom.synonyms, *symptom.period):
            name = find_symptom(word, knowledge)
            if name is None:
                continue
            result = read_line(f"bad {word}", DESK, knowledge, at_of)
            assert [list(entry.told["symptoms"]) for entry in result.entries] == [[name]], (word, result)


def test_numbers_of_the_sheet(type_in, knowledge):
    known = codes(knowledge)
    assert list(known) == list(range(1, COUNT + 1))
    assert len(set(known.values())) == COUNT
    assert set(known.values()) <= set(knowledge.symptoms)
    assert {"fog", "comets", "specks", "pinholes", "oyster-shell-marks"} <= set(known.values())
    for code, name in known.items():
        assert list(type_in(f"14:05 bad {code}")[0].told["symptoms"]) == [name]
    assert list(type_in("1405 3, 7")[0].told["symptoms"]) == [known[3], known[7]]
    assert list(type_in("bad 3 7 12")[0].told["symptoms"]) == [known[3], known[7], known[12]]
    assert type_in("bad 3 4 s")[0].told["conditions"] == {"exposure_time": "4 s"}


def test_numbers_stay_while_the_knowledge_does(knowledge, type_in):
    assert codes.__wrapped__(knowledge) == codes(knowledge)
    assert type_in(f"legend {mark(knowledge).lower()}") == []
    assert len(mark(knowledge)) == 3


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("14:05 good", "14:05 good"),
        ("14:20 bad comets, fog lower-part; 4 s f/4; holder B",
         "14:20 spoiled: Comets, Fog (lower part); exposure time 4 s; holder B; note: f/4"),
        ("bad no fog, perhaps comets", "2026-05-01 spoiled: no Fog, perhaps Comets"),
        ("14:40 mixed developer 500 mL", "14:40 new developer; 500 mL"),
        ("acid bath 2 drops by Anna", "2026-05-01 acid added to bath; 2 drops; by Anna"),
        ("room 82 F", "2026-05-01 room 82 F; holds until you say otherwise"),
        ("note rain", "2026-05-01 note: rain"),
        ("holder B, whole plate", "from here on: holder B, plates of 356 cm²"),
        ("wipe-holder-and-back", "2026-05-01 holder: Wipe the holder and the back of the plate dry"),
        ("holder usual", "nothing new is said here"),
    ],
)  # fmt: skip
def test_what_is_understood_is_said_back(knowledge, line, said):
    assert read_line(line, DESK, knowledge, at_of).said == (said,)


def test_what_is_said_back_is_one_line_whatever_it_holds(knowledge):
    plate = PlateEntry(moment=Moment(0, DAY), outcome="good", told={"symptoms": 3}, note="a\n\x1b[2Jb")
    assert said_back(plate, knowledge).isprintable()


PIECES = st.sampled_from(
    [
        "14:05", "good", "bad", "comets", "fog", "lower-part", "lower part", "grey", ",", ";", "holder", "B", '"May',
        'batch"', "collodion", "mixed", "developer", "500 mL", "500", "2 oz", "filtered", "bath", "4 s", "f/4", "no",
        "?", "=", ":", "by", "note", "u", "undo", "day", "2026-05-01", "3", "99", "room", "temperature", "28 C",
        "wiped", "yes", "whole plate", "13x18 cm", "new", "no.", "“x”", "and", "acid", "silver",
        "wipe-holder-and-back", "perhaps", "legend", "light", "window", "\x1b[2J", "\ud800", "ﬁ", "²", "٣", "-",
        "1/0 s", "(", "a",
    ]
)  # fmt: skip


def test_any_line_is_an_entry_or_words(knowledge):
    pieces = st.lists(st.one_of(PIECES, st.text(max_size=8)), max_size=12)

    @given(line=pieces.map(" ".join), desk=st.sampled_from([DESK, Desk()]))
    def understood(line, desk):
        result = read_line(line, desk, knowledge, at_of)
        assert all(said.isprintable() and said for said in (*result.problems, *result.said))
        assert not (result.problems and result.entries)
        assert not result.problems or result.desk == desk
        assert bool(result.problems or result.said) == bool(printable(line).split())
        kept = Book(result.entries)  # whatever is taken in can be kept
        assert read_entries(write_entries(kept, "json"), "json", knowledge, at_of) == kept.entries

    understood()


def test_fillers_hide_no_other_word(knowledge):
    known = phrases(knowledge)
    for word in FILLERS:
        assert known[tuple(word.split())][0].sort in {"filler", "outcome", "look", "thing", "work", "answer"}, word


@pytest.mark.slow
def test_a_line_is_read_in_a_moment(knowledge):
    from time import perf_counter

    lines = [line for line, *_ in (*PLATES, *WORKS)] * 20
    start = perf_counter()
    for line in lines:
        read_line(line, DESK, knowledge, at_of)
    print(f"{(perf_counter() - start) / len(lines) * 1e3:.2f} ms a line")
