"""What the book knows of the next plate by itself. All days, plates and names here are invented."""

import random
from dataclasses import replace
from datetime import date

import pytest

from diagnose.daybook.book import Book, Moment, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.counting import counts_of
from diagnose.daybook.shelf import USUAL_AREA
from diagnose.daybook.standing import from_book, readable
from diagnose.daybook.using import in_use
from diagnose.facts import understand
from diagnose.plate import Plate

DAY = "2026-05-20"


def at(day=DAY, clock="12:00"):
    noted = clock or "12:00"
    seconds = int(noted[:2]) * 3600 + int(noted[3:]) * 60
    return Moment((date.fromisoformat(day).toordinal() - 719163) * 86400 + seconds, day, clock)


def plate(clock="10:00", day=DAY, *, good=False, size=None, made_with=None, **conditions):
    told = {"conditions": conditions}
    outcome = "good" if good else "spoiled"
    return PlateEntry(moment=at(day, clock), outcome=outcome, told=told, made_with=made_with or {}, size=size)


def work(kind, thing, clock="09:00", day=DAY, **more):
    return WorkEntry(moment=at(day, clock), work=kind, thing=thing, **more)


def value(condition, said, clock="09:30", day=DAY, name=""):
    return ValueEntry(moment=at(day, clock), condition=condition, value=said, name=name)


@pytest.fixture(scope="module")
def known(knowledge):
    """What the book says at a moment: condition -> value; `why` the same with words."""

    def ask(*entries, now=None, made_with=None, told=None, why=False):
        found = from_book(Book(entries), knowledge, now or at(), made_with or {}, told)
        assert len({item.condition for item in found}) == len(found)
        return {item.condition: item.words if why else item.value for item in found}

    return ask


# Answers that hold ------------------------------------------------------------------------------------------------------


def test_an_empty_book_knows_nothing(known):
    assert known() == {}


def test_what_was_told_of_a_thing_holds_until_it_is_renewed(known):
    told = plate(collodion_spirit="absolute", fixer="hypo", made_with={"collodion": "C1"})
    assert known(told, now=at("2026-07-01"), made_with={"collodion": "C1"})["collodion_spirit"] == "absolute"
    assert "collodion_spirit" not in known(told, made_with={"collodion": "C2"})
    assert known(told, made_with={"collodion": "C2"})["fixer"] == "hypo"
    renewed = work("new", "collodion", "11:00", name="C1")
    assert "collodion_spirit" not in known(told, renewed, made_with={"collodion": "C1"})
    other = work("new", "collodion", "11:00", name="C2")
    assert "collodion_spirit" in known(told, other, made_with={"collodion": "C1"})


def test_what_is_true_of_one_plate_is_not_carried_over(known):
    assert (
        known(plate(pour_even="no", wait_before_developer="4 min", development_time="15 s", changed_bath="yes")) == {}
    )


@pytest.mark.parametrize("kind", ["silver-added", "topped-up", "sunned"])
def test_work_that_makes_an_answer_stale_ends_it(known, kind):
    told = plate(bath_strength="80 g/L")
    assert known(told)["bath_strength"] == "80 g/L"
    assert "bath_strength" not in known(told, work(kind, "bath", "11:00"))
    assert "bath_strength" in known(told, work(kind, "bath", "09:00"))
    assert "bath_strength" in known(told, work("filtered", "bath", "11:00"))
    assert "bath_strength" in known(told, work(kind, "bath", "11:00", name="reserve"))


def test_a_remedy_ends_what_it_changes(known):
    told = plate(bath_temperature="12 °C")
    assert known(told)["bath_temperature"] == "12 °C"
    assert "bath_temperature" not in known(told, work("mended", "bath", "11:00", remedy="warm-the-bath"))
    strengthened = work("mended", "bath", "11:00", remedy="strengthen-the-bath")
    assert "bath_strength" not in known(plate(bath_strength="60 g/L"), strengthened)


def test_a_warmth_holds_for_its_day_and_a_colour_for_a_week(known):
    told = plate(room_temperature="28 °C", collodion_colour="amber", light="window", bath_volume="1 L")
    assert known(told, now=at(clock="23:00")).keys() == {"room_temperature", "collodion_colour", "light", "bath_volume"}
    assert known(told, now=at("2026-05-21")).keys() == {"collodion_colour", "bath_volume"}
    assert known(told, now=at("2026-05-26")).keys() == {"collodion_colour", "bath_volume"}
    assert known(told, now=at("2026-05-27")).keys() == {"bath_volume"}
    assert known(told, now=at("2026-06-19")) == {}


def test_the_later_word_wins_whoever_gave_it(known):
    first, second = value("room_temperature", "20 °C"), value("room_temperature", "26 °C", "11:00")
    assert known(first, second)["room_temperature"] == "26 °C"
    assert known(first, plate(room_temperature="23 °C"))["room_temperature"] == "23 °C"
    assert known(plate(room_temperature="23 °C"), second)["room_temperature"] == "26 °C"


def test_an_empty_value_takes_back(known):
    told = (plate(fixer="cyanide"), value("fixer", "", "11:00"))
    assert "fixer" not in known(*told)
    assert known(*told, value("fixer", "rapid", "11:30"))["fixer"] == "rapid"


def test_a_value_set_by_hand_holds_for_its_day_though_it_is_a_plate_s_own(known):
    assert known(value("sensitising_time", "4 min"))["sensitising_time"] == "4 min"
    assert known(value("sensitising_time", "4 min"), now=at("2026-05-21")) == {}


def test_what_is_not_known_is_not_carried_over_and_hides_nothing(known):
    told = value("fixer", "hypo")
    for nothing in ("?", "unknown", ""):
        assert known(told, plate(fixer=nothing))["fixer"] == "hypo"


def test_what_was_told_of_the_plate_itself_is_left_alone(known):
    standing = value("fixer", "hypo")
    assert "fixer" not in known(standing, told={"fixer": "rapid"})


def test_nothing_that_comes_later_is_known(known):
    assert known(value("fixer", "hypo", "13:00"), work("new", "collodion", "12:30"), plate("14:00", good=True)) == {}


def test_an_age_grows_and_a_date_on_a_label_becomes_an_age(known):
    assert known(plate(collodion_age="3 weeks"), now=at("2026-05-25"))["collodion_age"] == "26 d"
    assert known(plate(collodion_age="2026-05-01"), now=at("2026-05-25"))["collodion_age"] == "24 d"
    assert known(plate(developer_age="2 d"), work("new", "developer", "11:00"))["developer_age"] == "0 d"
    assert known(work("new", "developer"), plate(developer_age="2 d"), now=at("2026-05-21"))["developer_age"] == "3 d"


def test_words_say_when(known):
    told = plate(fixer="hypo", day="2026-05-18")
    assert known(told, why=True)["fixer"] == "told on 18 May"
    assert known(plate(fixer="hypo"), why=True)["fixer"] == "told today at 10:00"
    assert known(told, now=at("2027-05-18"), why=True)["fixer"] == "told on 18 May 2026"


def test_what_the_condition_does_not_take_is_dropped(known):
    odd = {"bath_strength": "9000 g/L", "fixer": "vinegar", "room_temperature": "warm", "no_such": "yes", "light": True}
    assert known(plate(**odd), value("bath_volume", "1 m"), value("nothing_known", "3")) == {}
    assert known(work("new", "developer", day="2024-01-01")) == {}


def tried(entry, *remedies):
    steps = [{"remedy": name, "result": "no-change"} for name in remedies]
    return replace(entry, told={**entry.told, "tried": steps})


def test_what_was_tried_after_a_plate_was_done(known):
    filtered, sunned = "filter-the-bath", "sun-the-bath"
    book = (work("new", "bath"), plate(), plate("10:10"), tried(plate("10:20"), filtered), plate("10:30"))
    assert known(*book)["bath_plates"] == "1 plates"
    again = (*book[:4], tried(plate("10:30"), filtered), plate("10:40"))
    assert known(*again)["bath_plates"] == "2 plates"
    other = (*book[:4], tried(plate("10:30"), filtered, sunned), plate("10:40"))
    assert known(*other, why=True)["bath_plates"] == "1 plate since it was sunned today at 10:30"
    logged = (*book[:3], work("filtered", "bath", "10:15"), tried(plate("10:20"), filtered), plate("10:30"))
    assert known(*logged)["bath_plates"] == "2 plates"
    assert "bath_temperature" not in known(tried(plate(bath_temperature="12 °C"), "warm-the-bath"))
    assert known(tried(plate(bath_temperature="12 °C"), "cool-the-developer"))["bath_temperature"] == "12 °C"


def test_after_a_swap_nothing_is_known_of_the_one_that_is_there_now(known):
    told = plate(bath_strength="80 g/L", collodion_spirit="usual")
    book = (work("new", "bath", name=""), work("new", "collodion"), told, plate("10:10", good=True))
    assert known(*book).keys() >= {"bath_plates", "bath_new", "bath_strength", "collodion_age", "collodion_matched"}
    swapped = known(*book, work("mended", "bath", "11:00", remedy="rest-bath-use-reserve"))
    assert not swapped.keys() & {"bath_plates", "bath_new", "bath_strength", "collodion_matched"}
    assert swapped["changed_bath"] == "yes"
    assert swapped["collodion_age"] == "0 d"
    bottle = known(*book, tried(plate("11:00"), "use-other-collodion"))
    assert not bottle.keys() & {"collodion_age", "collodion_rested", "collodion_spirit", "collodion_matched"}
    assert (bottle["changed_collodion"], bottle["changed_bath"]) == ("yes", "no")
    anew = known(*book, tried(plate("11:00"), "mix-fresh-developer"))
    assert (anew["developer_age"], anew["changed_developer"]) == ("0 d", "yes")


# Counts -----------------------------------------------------------------------------------------------------------------


def test_plates_since_the_bath_was_filtered(known):
    book = [work("filtered", "bath"), *(plate(f"{10 + n // 60}:{n % 60:02}") for n in range(34))]
    assert known(*book)["bath_plates"] == "34 plates"
    assert known(*book, now=at("2026-05-23"), why=True)["bath_plates"] == "34 plates since it was filtered on 20 May"
    assert known(*book, work("aired", "bath", "11:30"))["bath_plates"] == "0 plates"
    assert known(*book, work("cleaned", "bath", "11:30"))["bath_plates"] == "34 plates"
    assert "bath_plates" not in known(*book[1:])
    assert known(*book, made_with={"bath": "reserve"}).get("bath_plates") is None


def test_large_plates_count_for_more(known):
    whole = 2 * USUAL_AREA
    book = (work("new", "bath"), plate(size=whole), plate("10:10"), plate("10:20", size=whole, good=True))
    assert known(*book)["bath_plates"] == "5 plates"
    assert (
        known(*book, why=True)["bath_plates"] == "3 plates since it was new today at 09:00, as much as 5 of 13 x 18 cm"
    )
    standing = (work("new", "bath"), value("plate_size", f"{whole:g} cm2"), plate(), plate("10:10", size=USUAL_AREA))
    assert known(*standing)["bath_plates"] == "3 plates"


def test_a_count_that_was_told_is_counted_on(known):
    told = (plate(bath_plates="50 plates"), plate("10:10"), plate("10:20"))
    assert known(*told)["bath_plates"] == "53 plates"
    assert known(*told, why=True)["bath_plates"] == "50 plates told today at 10:00, and 3 plates since"
    assert known(*told, work("sunned", "bath", "10:15"))["bath_plates"] == "1 plates"
    assert known(work("filtered", "bath"), value("bath_plates", "12", "09:30"), plate())["bath_plates"] == "13 plates"


def test_ages_are_counted_from_the_mixing(known):
    mixed = (work("new", "collodion", day="2026-04-20"), work("new", "developer", day="2026-05-18"))
    assert known(*mixed)["collodion_age"] == "30 d"
    assert known(*mixed)["developer_age"] == "2 d"
    assert known(*mixed, why=True)["collodion_age"] == "new on 20 April"


def test_how_long_the_collodion_stood(known):
    assert known(work("new", "collodion", "09:00"))["collodion_rested"] == "3.0 h"
    topped = (work("new", "collodion", day="2026-05-01"), work("topped-up", "collodion", "20:00", "2026-05-19"))
    assert known(*topped)["collodion_rested"] == "16 h"
    assert "collodion_rested" not in known(work("new", "collodion", "", "2026-05-19"))
    assert "collodion_rested" not in known(work("new", "collodion", "", "2026-05-18"))
    assert known(work("new", "collodion", "", "2026-05-17"))["collodion_rested"] == "72 h"


def test_a_bath_is_new_for_ten_plates(known):
    new, plates = work("new", "bath"), [plate(f"10:{n:02}") for n in range(12)]
    assert known(new)["bath_new"] == "yes"
    assert known(new, *plates[:9])["bath_new"] == "yes"
    assert known(new, *plates[:10])["bath_new"] == "no"
    assert known(*plates[:10])["bath_new"] == "no"
    assert "bath_new" not in known(*plates[:9])
    said = value("bath_new", "yes")
    assert known(said, *plates[:4])["bath_new"] == "yes"
    assert "bath_new" not in known(said, *plates[:7])
    assert known(said, *plates[:10])["bath_new"] == "no"
    assert known(value("bath_new", "no"), plates[0])["bath_new"] == "no"


def test_the_fixer_is_counted_by_the_litre_or_not_at_all(known):
    plates = [plate(f"10:{n:02}") for n in range(6)]
    assert known(work("new", "fixer", amount="500 mL"), *plates)["fixer_plates"] == "12 plates"
    for amount in ("", "a tray", "0 L"):
        assert "fixer_plates" not in known(work("new", "fixer", amount=amount), *plates)
    topped = work("topped-up", "fixer", "10:03")
    assert "fixer_plates" not in known(work("new", "fixer", amount="500 mL"), *plates, topped)
    assert "fixer_plates" not in known(value("fixer_plates", "10"), *plates)
    assert known(value("fixer_plates", "10"))["fixer_plates"] == "10 plates"
    counted = known(work("new", "fixer", amount="2 L"), value("fixer_plates", "10"), *plates)
    assert counted["fixer_plates"] == "13 plates"


def test_a_collodion_is_matched_when_a_good_plate_was_made_with_both(known):
    uses = {"collodion": "C1", "bath": "B1"}
    good = plate(good=True, made_with=uses)
    assert known(good, made_with=uses)["collodion_matched"] == "yes"
    assert "collodion_matched" not in known(plate(made_with=uses), made_with=uses)
    assert "collodion_matched" not in known(good, made_with={**uses, "bath": "B2"})
    assert "collodion_matched" not in known(good, work("new", "bath", "11:00", name="B1"), made_with=uses)


def test_counts_for_the_screen(knowledge):
    uses = {"bath": "B1"}
    book = Book(
        (
            work("new", "bath", day="2026-05-10", name="B1", amount="1 L"),
            plate(day="2026-05-19", made_with=uses, size=100.0),
            work("filtered", "bath", "08:00", name="B1"),
            plate("10:00", made_with=uses, size=200.0),
            plate("10:30", made_with={"bath": "B2"}),
            plate("11:00", made_with=uses, good=True),
        )
    )
    counts = counts_of(book, knowledge, at(clock="11:30"), uses)
    assert [(item.thing, item.work, item.plates, item.days) for item in counts.since] == [
        ("bath", "filtered", 2, 0),
        ("bath", "new", 3, 10),
    ]
    assert counts.since[0].area == pytest.approx(200 + USUAL_AREA)
    assert (counts.bath_plates, counts.plates_today, counts.minutes) == (3, 3, 90)
    assert counts.bath_area == pytest.approx(300 + USUAL_AREA)
    assert counts_of(book, knowledge, at("2026-05-21"), uses)[3:] == (0, None)


# What changed -----------------------------------------------------------------------------------------------------------


def changed(found):
    return {name.removeprefix("changed_"): said for name, said in found.items() if name.startswith("changed_")}


def test_without_a_good_plate_nothing_is_said_of_changes(known):
    assert changed(known(work("new", "bath"), plate(), work("filtered", "bath", "11:00"))) == {}


def test_what_was_renewed_or_treated_since_the_last_good_plate(known):
    book = (work("new", "collodion"), work("new", "bath"), work("new", "developer"), plate(good=True))
    assert changed(known(*book)) == {"collodion": "no", "bath": "no", "developer": "no"}
    assert changed(known(*book, work("filtered", "bath", "11:00")))["bath"] == "yes"
    assert changed(known(*book, work("filtered", "collodion", "11:00")))["collodion"] == "no"
    assert changed(known(*book, work("topped-up", "collodion", "11:00")))["collodion"] == "yes"
    assert changed(known(*book, work("new", "developer", "11:00")))["developer"] == "yes"
    again = (*book, work("filtered", "bath", "11:00"), plate("11:30", good=True))
    assert changed(known(*again))["bath"] == "no"


def test_another_of_its_kind_is_a_change(known):
    uses = {"bath": "B1", "holder": "left", "camera": "view"}
    book = (work("new", "bath", name="B1"), work("new", "camera"), plate(good=True, made_with=uses))
    assert changed(known(*book, made_with=uses)) == {"bath": "no", "camera": "no"}
    assert changed(known(*book, made_with={**uses, "bath": "B2"}))["bath"] == "yes"
    assert changed(known(*book, made_with={**uses, "holder": "right"}))["camera"] == "yes"
    assert "bath" not in changed(known(*book, made_with={"holder": "left", "camera": "view"}))


def test_no_is_only_said_of_today(known):
    book = (work("new", "bath"), plate(good=True))
    assert changed(known(*book)) == {"bath": "no"}
    assert changed(known(*book, now=at("2026-05-21"))) == {}
    later = (*book, work("acid-added", "bath", "08:00", "2026-05-21"))
    assert changed(known(*later, now=at("2026-05-21"))) == {"bath": "yes"}


def test_another_light_or_plate_is_seen_by_the_answers(known):
    good = plate(good=True, light="window", support="glass", plate_size="13x18 cm")
    assert changed(known(good)) == {}
    assert changed(known(good, value("light", "flash", "11:00"))) == {"light": "yes"}
    assert changed(known(good, told={"light": "flash"})) == {"light": "yes"}
    assert changed(known(good, told={"support": "iron"})) == {"plates": "yes"}
    assert changed(known(good, told={"plate_size": "4x5 in"})) == {"plates": "yes"}
    assert changed(known(good, told={"plate_size": "18x13 cm", "light": "Window"})) == {}


@pytest.mark.parametrize(
    ("now", "answer"),
    [
        ("30 °C", "yes"),
        ("19 °C", "yes"),
        ("25 °C", "no"),
        ("28 °C", "yes"),
        ("26 °C", "no"),
        ("27 °C", None),
        ("75 °F", "no"),
        ("hot", None),
    ],
)
def test_the_weather_turns_when_it_clearly_differs(known, now, answer):
    good = plate(good=True, room_temperature="24 °C")
    assert changed(known(good, told={"room_temperature": now})).get("weather") == answer
    assert changed(known(good, value("room_temperature", now, "11:00"))).get("weather") == answer


def test_one_measurement_is_no_comparison(known):
    assert changed(known(value("room_temperature", "24 °C"), plate(good=True))) == {}
    damp = plate(good=True, room_humidity="40 %")
    assert changed(known(damp, told={"room_humidity": "70 %"})) == {"weather": "yes"}
    assert changed(known(damp, told={"room_humidity": "42 %"})) == {}


# Any book ---------------------------------------------------------------------------------------------------------------


def any_book(chance, knowledge, most=40):
    entries, names = [], sorted(knowledge.conditions)
    for _ in range(chance.randint(0, most)):
        day, clock = f"2026-05-{chance.randint(10, 25)}", f"{chance.randint(8, 19):02}:{chance.randint(0, 59):02}"
        clock = chance.choice((clock, clock, ""))
        kind, name = chance.choice("ppwv"), chance.choice(("", "one", "two"))
        if kind == "p":
            told = {of: any_value(chance, knowledge.conditions[of]) for of in chance.sample(names, 6)}
            uses = {thing: name for thing in ("bath", "collodion", "developer", "holder") if chance.random() < 0.7}
            size = chance.choice((None, 234.0, 500.0))
            entries.append(plate(clock, day, good=chance.random() < 0.4, size=size, made_with=uses, **told))
        elif kind == "w":
            kinds = ("new", "filtered", "sunned", "topped-up", "acid-added", "cleaned")
            thing = chance.choice(("bath", "collodion", "developer", "fixer", "room"))
            entries.append(work(chance.choice(kinds), thing, clock, day, name=name, amount=chance.choice(("", "1 L"))))
        else:
            of = chance.choice(names)
            entries.append(value(of, any_value(chance, knowledge.conditions[of]), clock, day, name))
    return entries


def any_value(chance, entry):
    if entry.kind != "quantity":
        return chance.choice((*entry.answers, "?", "nonsense"))
    low, high = entry.range
    return chance.choice((f"{low + (high - low) * chance.random() ** 3:.2f} {entry.unit}", "?", "", "99999 x"))


@pytest.mark.parametrize("seed", range(8))
def test_whatever_the_book_says_is_understood(knowledge, seed):
    chance = random.Random(seed)
    said = 0
    for _ in range(25):
        entries = any_book(chance, knowledge)
        now = at(f"2026-05-{chance.randint(10, 30)}")
        uses = chance.choice(({}, {"bath": "one"}, {"bath": "two", "collodion": "one"}))
        found = from_book(Book(tuple(entries)), knowledge, now, uses)
        understand(Plate(conditions={item.condition: item.value for item in found}), knowledge)
        assert [item.condition for item in found] == [
            name for name in knowledge.conditions if name in dict(x[:2] for x in found)
        ]
        assert all(item.words and readable(*item[:2], knowledge.conditions[item.condition]) for item in found)
        assert not any(knowledge.conditions[item.condition].reckoned_by for item in found)
        said += len(found)
        shuffled = chance.sample(entries, len(entries))
        if len({entry.moment.at for entry in entries}) == len(entries):
            assert from_book(Book(tuple(shuffled)), knowledge, now, uses) == found
    assert said > 50


@pytest.mark.parametrize("seed", range(4))
def test_the_count_of_plates_equals_counting_by_hand(knowledge, seed):
    chance = random.Random(seed)
    for _ in range(40):
        entries = [entry for entry in any_book(chance, knowledge, 60) if not isinstance(entry, ValueEntry)]
        for entry in entries:
            for name in ("bath_plates", "plate_size"):
                entry.told["conditions"].pop(name, None) if isinstance(entry, PlateEntry) else None
        uses, count, known = {"bath": "one"}, 0.0, None
        for entry in Book(tuple(entries)).entries:
            if isinstance(entry, PlateEntry) and entry.uses("bath") == "one":
                count += (entry.size or USUAL_AREA) / USUAL_AREA
            if isinstance(entry, WorkEntry) and (entry.thing, entry.name) == ("bath", "one"):
                count, known = (0.0, True) if entry.work in {"new", "filtered", "sunned"} else (count, known)
        found = {
            item.condition: item.value for item in from_book(Book(tuple(entries)), knowledge, at("2026-05-30"), uses)
        }
        assert found.get("bath_plates") == (f"{count:.0f} plates" if known else None)


def test_names_in_use_are_those_of_the_last_plate_or_brought_into_use_since():
    book = Book((plate(made_with={"bath": "B1", "collodion": "C1"}), work("new", "collodion", "11:00", name="C2")))
    assert in_use(book, at(clock="23:00")) == {"bath": "B1", "collodion": "C2"}
    assert in_use(Book(), at()) == {}


def test_a_long_book_is_read_quickly(knowledge):
    import time

    entries = []
    for number in range(3000):
        day = date.fromordinal(date(2026, 1, 1).toordinal() + number // 12).isoformat()
        entries.append(
            plate(f"{9 + number % 12}:00".zfill(5), day, good=number % 3 > 0, light="window", support="glass")
        )
    began = time.process_time()
    from_book(Book(tuple(entries)), knowledge, at("2027-01-01"), {})
    assert time.process_time() - began < 0.5
