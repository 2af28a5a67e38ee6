"""What a day's review says, on invented days."""

import json
import random
import time

import pytest

from diagnose.bands import band
from diagnose.daybook.book import Book, Given, NoteEntry
from diagnose.daybook.demonstration import DAY, STORY, demonstration_book
from diagnose.daybook.review import review
from diagnose.daybook.reviewed import review_record
from diagnose.daybook.stretches import MOST_TOGETHER
from diagnose.reasoning.craft import craft_of
from tests.daybook.invented_days import FOG, SHELLS, book, holder_day, moment, plate, value, work

DIRTY = "holder-and-camera/dirty-holder"


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def demonstrated(craft):
    return review(demonstration_book(), craft, DAY, DAY, story=STORY)


@pytest.fixture(scope="module")
def wiped(craft):
    return review(holder_day(wiped=True), craft)


def test_standing_cause_is_named_with_thing_onset_and_end(wiped):
    (pattern,) = wiped.patterns
    assert (pattern.likely.cause, pattern.name) == (DIRTY, "B")
    assert pattern.likely.probability > 0.9
    assert pattern.likely.words == band(pattern.likely.probability)
    assert pattern.onset_least <= 8 <= pattern.onset_most
    assert pattern.ended_before == 15
    assert "plate holder “B”" in pattern.ended_by
    assert not pattern.helps


def test_what_is_not_put_right_is_still_at_work_and_told_how_to_mend(craft):
    (pattern,) = review(holder_day(wiped=False), craft).patterns
    assert pattern.ended_before is None
    assert pattern.helps == craft.knowledge.remedies["wipe-holder-and-back"].title


def test_repair_after_the_last_plate_is_untested_and_a_plate_as_it_stands_is_the_test(craft):
    entries = holder_day(wiped=False).entries
    after = review(book(*entries, work(300, "cleaned", "holder", name="B")), craft)
    assert "plate holder “B”" in after.patterns[0].untested
    assert after.trial.kind == "plate"
    good, spoiled = after.trial.outcomes
    assert good.leading[0].cause == ""
    assert spoiled.leading[0].cause == DIRTY


def test_plates_made_with_the_other_holder_do_not_end_it(craft):
    """The last plates are made with A and are good: B is as dirty as before, and tomorrow's test is of B."""
    rows = [*holder_day(wiped=False).entries, *[plate(200 + 9 * n, made_with={"holder": "A"}) for n in range(4)]]
    one = review(book(*rows), craft)
    assert one.patterns[0].ended_before is None
    assert DIRTY in craft.model.cures[one.trial.id]
    mended = review(book(*rows, work(300, "cleaned", "holder", name="B")), craft)
    assert "“B”" in mended.patterns[0].untested


def test_work_on_another_holder_ended_nothing(craft):
    entries = holder_day(wiped=False).entries
    other = review(book(*entries, work(145, "cleaned", "holder", name="A")), craft)
    assert other.patterns[0].ended_before is None


def test_only_the_holder_that_was_wiped_counts_as_mended(craft):
    """Both were wiped at once; the end is told of the one the cause stood in."""
    rows = list(holder_day(wiped=True).entries)
    rows.insert(14, work(141, "cleaned", "holder", name="A"))
    (pattern,) = review(book(*rows), craft).patterns
    assert "“B”" in pattern.ended_by
    assert "“A”" not in pattern.ended_by


def test_weeks_are_weighed_a_stretch_at_a_time_and_what_goes_on_begins_once(craft):
    rows = [plate(10 * number, made_with={"holder": "B"}) for number in range(20)]
    for day in (0, 1, 2):
        rows += [plate(250 + 5 * number, SHELLS, day=day, made_with={"holder": "B"}) for number in range(15)]
        rows += [plate(400 + 5 * number, made_with={"holder": "A"}, day=day) for number in range(12)]
    one = review(book(*rows), craft, "2026-06-01", "2026-06-03")
    assert one.plates > MOST_TOGETHER
    pattern = one.patterns[0]
    assert (pattern.likely.cause, pattern.name) == (DIRTY, "B")
    assert pattern.onset_least <= 21 <= pattern.onset_most
    assert pattern.onset_most < 30


def test_no_standing_cause_is_said_plainly(craft):
    rows = [plate(10 * number) for number in range(10)]
    rows[4] = plate(40, {"unsharp": True})
    quiet = review(book(*rows), craft)
    assert not quiet.patterns
    assert quiet.none_standing > 0.5


def test_two_patterns_where_there_are_two(demonstrated):
    assert len(demonstrated.patterns) == 2
    assert {pattern.thing for pattern in demonstrated.patterns} == {"holder", "collodion"}


def test_slips_stand_apart_from_patterns(demonstrated):
    slips = {bar.cause for bar in demonstrated.plate_level}
    assert "development/developer-halted" in slips
    assert not any(bar.standing for bar in demonstrated.plate_level)


def test_changed_diagnoses_are_marked(demonstrated):
    changed = {line.number for line in demonstrated.lines if line.changed}
    assert {7, 10} <= changed
    assert 9 not in changed  # called the holder at the time already
    assert all(not line.changed for line in demonstrated.lines if line.good)


def test_confirmed_cause_is_no_longer_believed_but_known(craft):
    one = review(book(plate(0, FOG, confirmed="exposure/over-exposed", confirmed_by="person"), plate(9)), craft)
    assert one.lines[0].confirmed == craft.knowledge.causes["exposure/over-exposed"].title
    assert [bar.cause for bar in one.bars] == ["exposure/over-exposed"]
    assert one.bars[0].plates == 1


def test_bars_add_up_and_grow(demonstrated):
    assert abs(sum(bar.share for bar in demonstrated.bars) - 1) < 1e-9
    so_far = [bar.so_far for bar in demonstrated.bars]
    assert so_far == sorted(so_far)
    assert so_far[-1] == 1
    sizes = [bar.plates for bar in demonstrated.bars if bar.cause]
    assert sizes == sorted(sizes, reverse=True)


def test_cost_counts_area_at_the_strength_told(craft):
    small = [plate(0, FOG, size=100.0), plate(9, FOG, size=100.0)]
    two = review(book(value(0, "bath_strength", "90 g/L"), *small), craft).cost
    large = review(book(value(0, "bath_strength", "90 g/L"), *[plate(9 * n, FOG, size=200.0) for n in (0, 1)]), craft)
    assert two.plates == 2
    assert two.minutes == 2 * craft.knowledge.strengths.expect.plate_minutes
    assert two.strength_known
    assert two.sizes_known == 2
    least, likely, most = two.silver
    assert least < likely < most
    assert abs(large.cost.silver[1] - 2 * likely) < 1e-9
    assert not review(book(plate(0, FOG)), craft).cost.strength_known


def test_trend_reaches_back_before_the_days_asked_for(demonstrated):
    assert [row.label for row in demonstrated.trend] == ["2026-04-25", "2026-05-02", "2026-05-09", "2026-05-16"]
    assert [row.here for row in demonstrated.trend] == [False, False, False, True]
    assert all(row.least <= row.share <= row.most for row in demonstrated.trend)


def test_later_days_are_not_looked_at(craft):
    rows = [plate(10 * number, FOG if number % 2 else None, day=day) for day in (0, 1) for number in range(6)]
    first = review(book(*rows), craft, "2026-06-01", "2026-06-01")
    alone = review(book(*rows[:6]), craft, "2026-06-01", "2026-06-01")
    assert first == alone


def test_many_days_are_told_by_week_and_month(craft):
    rows = [plate(0, day=day) for day in range(28)]
    assert review(book(*rows), craft, "2026-06-01", "2026-06-28").stretch == "week"
    assert review(book(*rows), craft, "2026-06-01", "2026-06-10").stretch == "day"


@pytest.mark.parametrize("shows", [None, FOG])
@pytest.mark.parametrize("count", [0, 1, 2, 7])
def test_small_days_of_one_kind(craft, count, shows):
    one = review(book(*[plate(10 * number, shows) for number in range(count)]), craft)
    assert (one.plates, one.spoiled) == (count, count if shows else 0)
    assert not one.shared  # nothing to hold against each other
    assert one.trial.title
    if not one.spoiled:
        assert one.trial.kind == "nothing"
        assert not one.bars
        assert one.cost.silver is None


def test_several_makers_are_told_one_does_not_need_it(demonstrated, wiped):
    assert {one.who: (one.spoiled, one.plates) for one in demonstrated.by} == {"Robin": (4, 11), "Wren": (4, 6)}
    assert wiped.by == ()


def test_what_the_knowledge_no_longer_has_is_said_and_costs_nothing_else(craft):
    old = plate(
        0,
        {"fog": True, "sign-of-old": True},
        conditions={"gone": "1"},
        given=Given("old", {"old/cause": 0.9}),
        confirmed="old/cause",
    )
    one = review(book(old, plate(9, FOG)), craft)
    assert "sign-of-old" in one.lines[0].unread
    assert one.lines[0].signs == (craft.knowledge.symptoms["fog"].title,)
    assert one.lines[0].then.title == "old: cause"
    assert not one.lines[1].unread


def test_same_book_same_review_and_it_goes_into_json(demonstrated, craft):
    again = review(demonstration_book(), craft, DAY, DAY, story=STORY)
    assert again == demonstrated
    record = json.loads(json.dumps(review_record(demonstrated), allow_nan=False))
    assert record["patterns"][0]["likely"]["cause"] == DIRTY
    assert record["trial"]["kind"] == demonstrated.trial.kind


def test_controls_never_leave_the_review(craft):
    foul = "\x1b[31m\u202e\x07<b>"
    rows = [
        plate(0, FOG, who=foul, note=foul, made_with={"holder": foul}),
        plate(5, who="x", made_with={"holder": "y"}),
        work(6, "mended", "holder", name=foul, remedy=foul, amount=foul, note=foul),
        NoteEntry(moment=moment(7), note=foul, who=foul),
    ]
    words = json.dumps(review_record(review(book(*rows), craft)), ensure_ascii=False)
    assert "\u202e" not in words
    assert "\\u001b" not in words
    assert "\\u0007" not in words


def test_demonstration_is_invented_and_says_so():
    assert "invented" in STORY.casefold()
    assert all(entry.moment.day <= DAY for entry in demonstration_book().entries)
    plates = demonstration_book().between(DAY, DAY).plates
    assert any(made.good for made in plates)
    assert {made.uses("holder") for made in plates} == {"A", "B"}


def test_empty_book_is_no_trouble(craft):
    nothing = review(Book(), craft)
    assert (nothing.plates, nothing.trend, nothing.due) == (0, (), ())


@pytest.mark.slow
def test_thirty_plates_are_reviewed_in_time(craft):
    """Warm; the limit is that of the whole review. A busy machine is given the best of five."""
    print()
    took = {}
    for count in (30, 60, 120, 240):
        dice = random.Random(3)
        signs = list(craft.knowledge.symptoms)
        rows = []
        for number in range(count):
            day, place = divmod(number, 60)
            shows = {dice.choice(signs): True, dice.choice(signs): True} if dice.random() < 0.4 else None
            told = {"room_temperature": f"{dice.randint(10, 33)} °C"}
            rows.append(plate(10 * place, shows, day=day, conditions=told, made_with={"holder": dice.choice("AB")}))
            if dice.random() < 0.1:
                rows.append(work(10 * place + 1, "filtered", "bath", day=day))
        one = book(*rows)
        times = []
        for _ in range(5):
            start = time.perf_counter()
            review(one, craft, "2026-06-01", "2026-06-30")
            times.append(time.perf_counter() - start)
        took[count] = 1000 * min(times)
        print(f"{count} plates: {took[count]:.0f} ms")
    assert took[30] <= 300
    assert took[240] / took[120] <= 2.6
