"""Plates, works, values and remarks kept by one command each, and said back in one line."""

import pytest

from diagnose.daybook.book import NoteEntry, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.naming import WORK_OF_COMMAND

# Everything here is invented.


def the_one(kept):
    (entry,) = kept().entries
    return entry


def test_a_good_plate_is_one_word(day, kept):
    done = day("good")
    assert (done.code, done.out, done.err) == (0, "Kept as number 1: 15:30 good\n", "")
    plate = the_one(kept)
    assert plate.good
    assert (plate.moment.day, plate.moment.clock) == ("2026-05-21", "15:30")
    assert plate.told == {}


def test_everything_that_can_be_told_of_a_good_plate(day, kept):
    done = day(
        "good", "--with", "holder=B", "--with", "silver tank=two", "-c", "exposure_time=4 s", "-c", "light=window",
        "--at", "14:05", "--day", "2026-05-20", "--who", "Ada", "--note", "north light",
    )  # fmt: skip
    assert done.words == (
        "Kept as number 1: 2026-05-20 14:05 good; exposure time 4 s; light: daylight through a window; holder B; bath two; "
        "by Ada; note: north light"
    )
    plate = the_one(kept)
    assert plate.made_with == {"holder": "B", "bath": "two"}
    assert (plate.moment.day, plate.moment.clock, plate.who, plate.note) == (
        "2026-05-20",
        "14:05",
        "Ada",
        "north light",
    )


def test_a_spoiled_plate_is_kept_with_what_was_thought_of_it(day, kept):
    done = day("bad", "comets", "oyster shells:place=lower-part", "-c", "holder_wiped=no")
    assert done.words == (
        "Kept as number 1: 15:30 spoiled: Comets, Oyster-shell marks from the edge (lower part); holder wiped: no"
    )
    plate = the_one(kept)
    assert not plate.good
    assert plate.given.causes
    assert plate.given.first
    assert 0 < max(plate.given.causes.values()) < 1


def test_the_size_told_with_a_plate_is_its_size(day, kept):
    day("good", "-c", "plate_size=13x18 cm")
    assert the_one(kept).size == pytest.approx(234)


def test_what_was_in_use_is_taken_over(day, kept):
    day("took", "holder", "--name", "B")
    day("good")
    day("bad", "fog", "--with", "holder=C")
    day("good")
    assert [plate.made_with for plate in kept().plates] == [{"holder": "B"}, {"holder": "C"}, {"holder": "C"}]


@pytest.mark.parametrize("name", WORK_OF_COMMAND)
def test_every_work_has_its_command(name, day, kept):
    thing = "holder" if name in {"cleaned", "took"} else "bath"
    done = day(name, thing, "--name", "two", "--note", "slowly", "--who", "Ada")
    assert done.code == 0
    entry = the_one(kept)
    assert isinstance(entry, WorkEntry)
    assert (entry.work, entry.thing, entry.name) == (WORK_OF_COMMAND[name], thing, "two")
    assert done.words.startswith("Kept as number 1: 15:30 ")
    assert done.words.endswith(f"{thing} two; by Ada; note: slowly")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("mixed", "developer", "500 mL"), "new developer; 500 mL"),
        (("acid-added", "bath", "2 drops"), "acid added to bath; 2 drops"),
        (("silver-added", "silver bath", "10 g"), "silver added to bath; 10 g"),
        (("topped-up", "collodion", "50 mL"), "topped up collodion; 50 mL"),
        (("did", "wipe-holder-and-back"), "holder: Wipe the holder and the back of the plate dry"),
        (("note", "the", "north", "wind"), "note: the north wind"),
        (("set", "room_temperature=28 °C"), "room 28 °C; holds until you say otherwise"),
        (("set", "light=window"), "light: daylight through a window; holds this day"),
        (("set", "light="), "light: not known any more"),
        (("set", "holder=B"), "now in use: holder B"),
        (("set", "holder="), "now in use: the usual holder"),
        (("set", "bath_covered=no"), "bath not covered, or not filtered this week; holds until you say otherwise"),
    ],
)
def test_said_back(arguments, said, day):
    assert day(*arguments).words == f"Kept as number 1: 15:30 {said}"


def test_a_work_is_done_to_the_one_in_use(day, kept):
    day("took", "bath", "--name", "two")
    day("filtered", "bath")
    assert kept().works[-1].name == "two"


def test_light_is_a_condition_first_and_a_thing_else(day, kept):
    day("set", "light=window")
    assert isinstance(kept().entries[-1], ValueEntry)
    day("set", "light=the new lamp")
    assert (kept().works[-1].thing, kept().works[-1].name) == ("light", "the new lamp")


def test_a_value_stands_with_the_thing_it_was_told_of(day, kept):
    day("took", "bath", "--name", "two")
    day("set", "bath_strength=80 g/L")
    assert kept().entries[-1].name == "two"


def test_a_remark(day, kept):
    day("note", "hail", "--at", "15:00", "--who", "Ada")
    entry = the_one(kept)
    assert isinstance(entry, NoteEntry)
    assert (entry.note, entry.who, entry.moment.clock) == ("hail", "Ada", "15:00")


def test_several_values_are_one_operation(day, kept):
    day("set", "room_temperature=28 °C", "room_humidity=40 %")
    assert len(kept().entries) == 2
    day("undo")
    assert not kept().entries


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("good", "--at", "25:00"), "'25:00' is not a time of day; write it as 14:05"),
        (("good", "--at", "noon"), "'noon' is not a time of day; write it as 14:05"),
        (("good", "--at", "-1:00"), "is not a time of day"),
        (("good", "--day", "2026-02-30"), "'2026-02-30' is not a date; write it as 2026-05-01"),
        (("good", "--day", "21.5.2026"), "is not a date; write it as 2026-05-01"),
        (("good", "--day", "0001-01-01"), "no calendar here reaches that day"),
        (("good", "--day", "2026-05-22"), "2026-05-22 has not come yet; today is 2026-05-21"),
        (("good", "--day", "9999-12-31"), "9999-12-31 has not come yet"),
        (("note", "hail", "--at", "23:59"), "23:59 has not come yet, it is 15:30; for another day give --day as well"),
        (("good", "--with", "holder"), "cannot read 'holder'; write it like holder=B"),
        (("good", "--with", "sofa=3"), "nothing here is called 'sofa'; use one of: bath, collodion"),
        (("good", "-c", "foo=bar"), "no condition called 'foo'"),
        (("good", "-c", "room_temperature"), "cannot read 'room_temperature'"),
        (("good", "-c", "room_temperature=999 °C"), "cannot be right"),
        (("good", "--note", "x" * 5001), "the note is too long; 5000 letters are kept at most"),
        (("bad", "xyzzy"), "no symptom called 'xyzzy'"),
        (("bad", "fog:colour=purple"), "no colour called purple"),
        (("mixed", "sofa"), "nothing here is called 'sofa'"),
        (("mixed", "develper"), "did you mean 'developer'"),
        (("mixed", "developer", "lots"), "'lots' is not an amount; write it like 500 mL or 10 g"),
        (("mixed", "developer", "500"), "'500' is not an amount"),
        (("sunned", "holder"), "holder and sunned do not go together; sunned is kept of: bath"),
        (("did", "wipe-holder"), "no remedy called 'wipe-holder'; did you mean "),
        (("did", "xyzzyplugh"), "no remedy called 'xyzzyplugh'; answers name them with --json"),
        (("set", "holder"), "cannot read 'holder'; write it like room_temperature="),
        (("set", "hodler=B"), "nothing here is called 'hodler'; did you mean 'holder'"),
        (("set", "xyzzyplugh=1"), "nothing here is called 'xyzzyplugh'; names are like room_temperature="),
        (("set", "room_temperature=28"), "'28' has no unit"),
        (("set", "bath_covered=perhaps"), "no answer perhaps; use one of: yes, no"),
        (("set", "room_temperature=28 °C", "room_humidity=wet"), "room_humidity: "),
    ],
)  # fmt: skip
def test_a_slip_is_one_clear_line_and_keeps_nothing(arguments, words, day, private_book, kept):
    assert words in day(*arguments).complaint
    assert not private_book.exists() or not kept().entries


@pytest.mark.parametrize(
    "arguments",
    [
        ("bad",), ("note",), ("mixed",), ("did",), ("set",), ("good", "--nosuch"), ("nosuch",), ("mixed", "a", "b", "c"),
        ("confirm", "x"), ("confirm", "1", "a", "--not-known"), ("learning", "perhaps"), ("sheet",), ("import",), ("backup",),
        ("export", "--form", "xml"),
    ],
)  # fmt: skip
def test_a_command_used_wrongly_says_how_it_is_used(arguments, day, private_book):
    done = day(*arguments)
    assert done.code == 2
    assert done.err.startswith("Usage: diagnose day")
    assert not private_book.exists()


@pytest.mark.parametrize(
    "arguments", [("--no-book", "day"), ("--no-book", "day", "good"), ("--no-book", "plate", "fog", "--keep")]
)
def test_no_book_and_the_book_do_not_go_together(arguments, run, private_book):
    done = run(*arguments)
    assert done.code == 2
    assert "leave" in done.err
    assert not private_book.exists()


def test_a_watch_may_go_a_little_fast(day, kept):
    assert day("good", "--at", "15:40").code == 0
    assert the_one(kept).moment.clock == "15:40"


def test_a_time_before_the_others_goes_before_them(day, kept):
    day("good")
    day("bad", "fog", "--at", "9:05")
    assert [plate.moment.clock for plate in kept().plates] == ["09:05", "15:30"]
    assert [plate.number for plate in kept().plates] == [2, 1]
    assert isinstance(kept().plates[0], PlateEntry)


def test_an_empty_time_of_another_day_is_left_open(day, kept):
    day("good", "--day", "2026-05-20")
    assert the_one(kept).moment.clock == ""
    assert day("list", "2026-05-20").out == "2026-05-20\n  1 good\n"
