"""A studio's rates come from confirmed plates and from nothing else; they are bounded, forget, and show beside the books'."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.answer import Diagnosis
from diagnose.daybook.book import Book, Given, Moment, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.learning import (
    BOOKS_WEIGH,
    HALF_AFTER,
    LEAST_OF_BOOK,
    MOST_SHARE,
    confirmed_cause,
    learning_on,
    newly_confirmed,
    rates,
    rates_from,
    rates_rows,
    with_rates,
)
from diagnose.errors import BookError
from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.receipts import log_odds
from diagnose.record import answer_record

DAY = "2026-05-01"
MOVED, STRONG = "holder-and-camera/movement", "fixing/fixer-too-strong"
CURE = {"remedy": "steady-camera-and-sitter", "result": "cured"}


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


def spoiled(at=0, day=DAY, **parts):
    parts = {"told": {"symptoms": {"unsharp": True}}} | parts
    return PlateEntry(number=at + 1, moment=Moment(at, day), outcome="spoiled", **parts)


def good(at, day=DAY, **parts):
    return PlateEntry(number=at + 1, moment=Moment(at, day), outcome="good", **parts)


def work(at, remedy="steady-camera-and-sitter", thing="camera"):
    return WorkEntry(number=at + 1, moment=Moment(at, DAY), work="mended", thing=thing, remedy=remedy)


def told(*signs, checks=None, tried=()):
    return {"symptoms": dict.fromkeys(signs, True), "checks": checks or {}, "tried": list(tried)}


# What counts as confirmed ---------------------------------------------------


def test_the_person_said_so(craft):
    entry = spoiled(confirmed=STRONG, confirmed_by="person")
    assert confirmed_cause(entry, craft) == (STRONG, "person")
    assert confirmed_cause(replace(entry, confirmed_by=""), craft) is None
    assert confirmed_cause(replace(entry, confirmed="fixing/no-such-cause"), craft) is None


def test_a_cure_that_singles_one_cause_out(craft):
    assert confirmed_cause(spoiled(told=told("unsharp", tried=[CURE])), craft) == (MOVED, "cure")
    for result in ("better", "no-change"):
        assert confirmed_cause(spoiled(told=told("unsharp", tried=[{**CURE, "result": result}])), craft) is None


@pytest.mark.parametrize(
    ("signs", "remedy"),
    [
        (("varnish-bloom",), "warm-plate-for-varnish"),  # puts two causes right, both of them likely
        (("flat-picture", "flashes-up"), "weaken-the-fixer"),  # puts one right that was never likely: luck
    ],
)
def test_a_cure_that_singles_nothing_out(craft, signs, remedy):
    entry = spoiled(told=told(*signs, tried=[{"remedy": remedy, "result": "cured"}]))
    assert confirmed_cause(entry, craft) is None


def test_a_decisive_check(craft):
    seen = spoiled(told=told("unsharp", checks={"loupe-on-the-plate": "doubled"}))
    assert confirmed_cause(seen, craft) == (MOVED, "check")
    # The link is as strong, but nothing else speaks for the cause: it does not hold nine times in ten.
    weak = spoiled(told=told("fog", checks={"closed-holder-plate": "fogs-in-places"}))
    assert confirmed_cause(weak, craft) is None


def test_an_outcome_that_other_causes_give_too_is_not_decisive(craft):
    """However sure the leading cause is."""
    shared = next(
        (finding, max(links, key=links.get))
        for finding, links in craft.model.check_links.items()
        if len(links) > 1 and sorted(links.values())[-2] > 0.5
    )
    check, _, outcome = shared[0].partition("=")
    base = {**craft.model.base, shared[1]: 1e6}
    sure = replace(craft, model=craft.model._replace(base=base))
    assert confirmed_cause(spoiled(told=told("fog", checks={check: outcome})), sure) is None


def test_what_was_answered_and_what_cannot_be_read_confirm_nothing(craft):
    answered = Given("1", {MOVED: 0.999}, "steady-camera-and-sitter")
    assert confirmed_cause(spoiled(given=answered), craft) is None
    assert confirmed_cause(spoiled(told={"symptoms": {"no-such-sign": True}, "tried": [CURE]}), craft) is None
    assert confirmed_cause(good(0, told=told(tried=[CURE])), craft) is None


@pytest.mark.parametrize(
    ("between", "after", "confirmed"),
    [
        ([work(1)], good(2), True),
        ([work(1), ValueEntry(moment=Moment(1, DAY), condition="holder_wiped", value="yes")], good(2), True),
        ([], good(2), False),
        ([work(1), work(1, "weaken-the-fixer", "fixer")], good(2), False),
        ([work(1, "")], good(2), False),
        ([work(1)], spoiled(2), False),
        ([work(1)], good(2, "2026-05-02"), False),
        ([work(1)], good(2, who="a pupil"), False),
        ([work(1)], good(2, made_with={"holder": "B"}), False),
        ([work(1)], good(2, made_with={"holder": "A", "camera": "old"}), True),
        ([work(1), spoiled(2)], good(3), False),  # the last plate before the good one had nothing done to it
    ],
)
def test_the_next_comparable_plate_in_the_book(knowledge, between, after, confirmed):
    book = Book((spoiled(0, made_with={"holder": "A"}), *between, after))
    found = newly_confirmed(book, knowledge)
    assert [(entry.number, entry.confirmed, entry.confirmed_by) for entry in found] == [(1, MOVED, "cure")] * confirmed
    assert rates(book, knowledge).plates == confirmed


# Rates ----------------------------------------------------------------------


def test_thousands_of_unconfirmed_answers_change_nothing(knowledge, craft):
    sure = Given(knowledge.version, {MOVED: 0.99}, "steady-camera-and-sitter")
    steps = [{**CURE, "result": "no-change"}, {**CURE, "result": "better"}]
    book = Book(tuple(spoiled(n, given=sure, told=told("unsharp", tried=steps)) for n in range(3000)))
    learned = rates(book, knowledge)
    assert learned.studio == pytest.approx(rates(Book(), knowledge).studio, abs=0)
    assert learned.plates == 0
    assert with_rates(craft, learned) is craft


def test_counts_by_hand(knowledge):
    learned = rates_from([STRONG, MOVED, STRONG, "fixing/no-such-cause"], knowledge)
    old = 0.5 ** (2 / HALF_AFTER)
    assert learned.counts == pytest.approx({STRONG: 1 + old, MOVED: 0.5 ** (1 / HALF_AFTER)})
    assert learned.confirmed == {STRONG: 2, MOVED: 1}
    assert learned.plates == 3
    total = BOOKS_WEIGH + learned.weight
    for cause in (STRONG, MOVED, "collodion/bad-cotton"):
        wanted = (BOOKS_WEIGH * learned.book[cause] + learned.counts.get(cause, 0)) / total
        assert learned.studio[cause] == pytest.approx(wanted)


def test_a_plate_counts_half_when_so_many_came_after_it(knowledge):
    learned = rates_from([STRONG, *[MOVED] * round(HALF_AFTER)], knowledge)
    assert learned.counts[STRONG] == pytest.approx(0.5)


@settings(max_examples=20)
@given(data=st.data())
def test_shares_stay_within_bounds_and_add_up(data, knowledge):
    some = st.sampled_from(sorted(knowledge.causes)[:6])
    found = data.draw(st.lists(some, max_size=40)) * data.draw(st.sampled_from([1, 30]))
    learned = rates_from(found, knowledge)
    assert math.fsum(learned.studio.values()) == pytest.approx(1)
    for cause, share in learned.studio.items():
        assert learned.book[cause] * LEAST_OF_BOOK * (1 - 1e-9) <= share <= MOST_SHARE * (1 + 1e-9)


def test_off_since_and_kept_only(knowledge, craft):
    days = [f"2026-05-{n:02}" for n in range(1, 11)]
    book = Book(tuple(spoiled(n, day, told=told("unsharp", tried=[CURE])) for n, day in enumerate(days)))
    assert rates(book, knowledge).confirmed == {MOVED: 10}
    assert rates(book, knowledge, since="2026-05-08").confirmed == {MOVED: 3}
    assert rates(book, knowledge, since="4").confirmed == {MOVED: 6}
    assert rates(book, knowledge, kept_only=True).plates == 0
    off = rates(book, knowledge, on=False)
    assert (off.plates, off.on) == (0, False)
    assert with_rates(craft, off) is craft
    assert with_rates(craft, replace(rates(book, knowledge), on=False)) is craft
    assert rates(Book((spoiled(confirmed=MOVED),)), knowledge, kept_only=True).plates == 0
    kept = Book(newly_confirmed(book, knowledge))
    assert rates(kept, knowledge, kept_only=True) == rates(book, knowledge)
    assert not newly_confirmed(kept, knowledge)
    with pytest.raises(BookError, match="no date"):
        rates(book, knowledge, since="last week")


@pytest.mark.parametrize(("setting", "on"), [(None, True), ("", True), ("on", True), ("off", False), (" Off ", False)])
def test_the_setting(setting, on):
    assert learning_on(setting) is on


# In use ---------------------------------------------------------------------


def test_a_craft_with_rates_keeps_its_rules_and_its_scale(craft, knowledge):
    _ = craft.reach, craft.reckonings
    learned = with_rates(craft, rates_from([MOVED] * 60, knowledge))
    assert learned.book is craft.book
    assert learned.engine is craft.engine
    assert learned.reach is craft.reach
    odds = learned.model.base
    chances = {cause: value / (1 + value) for cause, value in odds.items()}
    assert math.fsum(chances.values()) == pytest.approx(knowledge.strengths.expect.causes_per_plate)
    assert odds[MOVED] > 5 * craft.model.base[MOVED]
    assert odds[STRONG] < craft.model.base[STRONG]
    assert learned.model.books is craft.model.base
    again = with_rates(learned, rates_from([STRONG] * 60, knowledge))
    assert again.model.books is craft.model.base
    assert again.model.base[MOVED] < craft.model.base[MOVED]


def test_the_account_says_so_and_adds_up(craft, knowledge):
    plate = Plate.read(told("unsharp"))
    learned = with_rates(craft, rates_from([MOVED] * 30, knowledge))
    diagnosis = Diagnosis(plate, understand(plate, knowledge), learned, "sitter-waiting")
    receipts = diagnosis.account(MOVED)[MOVED]
    total = math.fsum(receipt.decibans for receipt in receipts) * math.log(10) / 10
    assert total == pytest.approx(log_odds(diagnosis.posterior.causes[MOVED]), abs=1e-9)
    first = answer_record(diagnosis).causes[0].receipts[0]
    here, books = (odds[MOVED] / (1 + odds[MOVED]) for odds in (learned.model.base, craft.model.base))
    assert "in your studio" in first.words
    assert f"{100 * here:.2g} %" in first.words
    assert f"{100 * books:.2g} %" in first.words
    assert first.decibans == pytest.approx(10 * math.log10(learned.model.base[MOVED]))
    assert "your-daybook" in first.source
    plain = answer_record(Diagnosis(plate, understand(plate, knowledge), craft, "sitter-waiting")).causes[0].receipts[0]
    assert "studio" not in plain.words


def test_rows_show_what_was_confirmed_and_what_was_to_be_expected(knowledge):
    rows = rates_rows(rates_from([STRONG] * 60, knowledge), knowledge)
    assert (rows[0].cause, rows[0].confirmed) == (STRONG, 60)
    assert rows[0].studio > rows[0].book
    assert all(row.book * 40 >= 0.5 and row.studio < row.book for row in rows[1:])
    assert 1 < len(rows) < len(knowledge.causes)
    assert not rates_rows(rates_from([], knowledge), knowledge)
