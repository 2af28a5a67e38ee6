"""Triage in its context: what the earlier plates of a session say of the next. All sessions here are invented."""

import math
from datetime import date

import pytest

from diagnose.answer import diagnose
from diagnose.daybook.book import Book, Moment, PlateEntry, ValueEntry, WorkEntry
from diagnose.daybook.context import earlier, no_longer_known, shown_plates
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.serial_told import Change

DAY, DAY_BEFORE = "2026-05-20", "2026-05-19"
FOG = {"symptoms": {"fog": True}}
HAND = "hand"


def at(clock, day=DAY):
    seconds = int(clock[:2]) * 3600 + int(clock[3:]) * 60
    return Moment((date.fromisoformat(day).toordinal() - 719163) * 86400 + seconds, day, clock)


def bad(clock, told, day=DAY, *, tried=(), **made_with):
    steps = [{"remedy": name, "result": "no-change"} for name in tried]
    return PlateEntry(moment=at(clock, day), outcome="spoiled", told={**told, "tried": steps}, made_with=made_with)


def good(clock, day=DAY, **made_with):
    return PlateEntry(moment=at(clock, day), outcome="good", made_with=made_with)


def work(kind, thing, clock, name="", day=DAY, remedy=""):
    return WorkEntry(moment=at(clock, day), work=kind, thing=thing, name=name, remedy=remedy)


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


@pytest.fixture(scope="module")
def ahead(craft):
    def ask(*entries, clock="15:00", day=DAY, tried=(), **made_with):
        return earlier(Book(entries), at(clock, day), made_with, craft, tried)

    return ask


def look_of(cause, knowledge):
    """A plate that shows what the cause usually shows, where it usually shows it."""
    symptoms = {}
    for link in knowledge.causes[cause].symptom:
        if knowledge.strengths.seen[link.seen] >= 0.65 and not link.when:
            symptoms[link.symptom] = {name: values[0] for name, values in link.attributes.items()}
    return {"symptoms": symptoms}


def standing_in(thing, knowledge):
    return [name for name, cause in knowledge.causes.items() if cause.stands_in == thing]


def believed(told, knowledge, weights):
    return diagnose(told, knowledge, earlier=weights).posterior.causes


# What a session tells ---------------------------------------------------------------------------------------------------


def test_without_earlier_plates_nothing_is_said(ahead):
    assert ahead() == {}
    assert ahead(work("filtered", "bath", "09:00"), bad("16:00", FOG), bad("09:00", FOG, "2026-05-12")) == {}


def test_the_same_mark_in_the_same_place_raises_the_causes_that_stand(ahead, knowledge):
    """On every cause that has a look of its own: three plates with it raise the cause, and make slips unlikelier."""
    raised = told = 0
    for cause, entry in knowledge.causes.items():
        look = look_of(cause, knowledge)
        if entry.scope != "standing" or not look["symptoms"]:
            continue
        weights = ahead(*(bad(f"1{hour}:00", look) for hour in range(3)))
        alone, after = believed(look, knowledge, {}), believed(look, knowledge, weights)
        told += 1
        raised += weights.get(cause, 0.0) > 0 and after[cause] > alone[cause]
        lasting = [name for name, other in knowledge.causes.items() if other.scope == "standing"]
        slips = [name for name, other in knowledge.causes.items() if other.scope == "this-plate"]
        assert sum(after[name] for name in slips) <= sum(alone[name] for name in slips) + 1e-9, cause
        assert max(after[name] for name in lasting) > max(alone[name] for name in lasting), cause
        assert not weights.keys() & set(slips)
    print(f"raised by three plates with its own look: {raised} of {told} standing causes")
    assert raised >= 0.85 * told


def test_it_grows_with_the_count_of_plates(ahead):
    cause, weights = "silver-bath/bath-short-of-acid", []
    for count in range(1, 6):
        fogged = (bad(f"{9 + number:02}:00", FOG) for number in range(count))
        weights += [ahead(*fogged)[cause]]
    assert weights == sorted(weights)
    assert weights[0] > 0
    assert weights[-1] > weights[0] + 1


def test_another_place_each_time_says_less_than_the_same_place(ahead, knowledge):
    cause = "silver-bath/dipper-or-level"
    link = next(link for link in knowledge.causes[cause].symptom if link.place)
    places = knowledge.symptoms[link.symptom].attributes["place"]
    there, elsewhere = link.place[0], [place for place in places if place not in link.place][:2]

    def plates(*where):
        return (
            bad(f"1{n}:00", {"symptoms": {link.symptom: {"answer": "present", "place": place}}})
            for n, place in enumerate(where)
        )

    same, moving = ahead(*plates(there, there)), ahead(*plates(*elsewhere))
    assert same[cause] > moving.get(cause, 0.0) + 1


def test_gone_after_a_renewal_clears_what_stood_in_the_old_one(ahead, knowledge):
    fogged = [bad("10:00", FOG), bad("11:00", FOG), bad("12:00", FOG)]
    new = work("new", "bath", "12:30")
    still, renewed, well = ahead(*fogged), ahead(*fogged, new), ahead(*fogged, new, good("13:00"))
    stood = "silver-bath/bath-short-of-acid"
    assert still[stood] > 2
    assert renewed.get(stood, 0.0) < 0.5
    assert well[stood] < -0.5
    for cause in standing_in("bath", knowledge):
        assert renewed.get(cause, 0.0) < max(0.5, still.get(cause, 0.0)), cause
    elsewhere = "development/developer-short-of-acid"
    assert renewed[elsewhere] > still[elsewhere] - 0.05
    other = ahead(*fogged, work("new", "bath", "12:30", name="reserve"))
    assert other == still


def test_a_treatment_clears_what_it_cures_and_no_more(ahead):
    comets = {"symptoms": {"comets": True}}
    seen = [bad("10:00", comets), bad("11:00", comets)]
    before, after = ahead(*seen), ahead(*seen, work("filtered", "bath", "12:00"))
    assert after["silver-bath/dirt-in-bath"] < before["silver-bath/dirt-in-bath"] - 0.5
    settled = "collodion/unsettled-collodion"
    assert after[settled] == pytest.approx(before[settled], abs=0.3)


def test_one_holder_of_two(ahead, craft):
    shells = {"symptoms": {"oyster-shell-marks": True}}
    session = [
        bad("10:00", shells, holder="left"),
        good("10:30", holder="right"),
        bad("11:00", shells, holder="left"),
        good("11:30", holder="right"),
    ]
    left, right = ahead(*session, holder="left"), ahead(*session, holder="right")
    cause = "holder-and-camera/dirty-holder"
    assert left[cause] > 3
    assert right[cause] < 0
    assert left[cause] == max(left.values())
    assert believed(shells, craft.knowledge, left)[cause] > 0.9


def test_a_good_plate_just_before_clears_what_it_was_made_with(ahead, knowledge):
    weights = ahead(good("14:00", bath="B1", collodion="C1"), bath="B1", collodion="C2")
    for cause in standing_in("bath", knowledge):
        assert weights[cause] < -0.5, cause
    for cause in standing_in("collodion", knowledge):
        assert abs(weights.get(cause, 0.0)) < 0.2, cause
    alone, after = believed(FOG, knowledge, {}), believed(FOG, knowledge, weights)
    baths = standing_in("bath", knowledge)
    assert sum(after[name] for name in baths) < 0.6 * sum(alone[name] for name in baths)


def test_a_fault_of_the_first_plate_only_is_none_that_stands(ahead, knowledge):
    first = bad("10:00", FOG)
    weights = ahead(first, good("10:30"), good("11:00"), good("11:30"))
    assert max(weights.values()) < 0
    alone, after = believed(FOG, knowledge, {}), believed(FOG, knowledge, weights)
    slips = [name for name, cause in knowledge.causes.items() if cause.scope == "this-plate"]
    assert max(after[name] for name in slips) > max(alone[name] for name in slips)


def test_a_swap_for_the_reserve_bath(ahead, knowledge):
    """Named, the reserve is a bath of its own; not named, all that stood in the old bath ends with the swap."""
    stood, swap = "silver-bath/bath-short-of-acid", "rest-bath-use-reserve"
    unnamed = [bad("10:00", FOG), bad("11:00", FOG, tried=[swap])]
    assert ahead(*unnamed).get(stood, 0.0) < 0.5
    named = [bad("10:00", FOG, bath="old"), bad("11:00", FOG, bath="old", tried=[swap])]
    reserve, old = ahead(*named, bath="reserve"), ahead(*named, bath="old")
    assert abs(reserve.get(stood, 0.0)) < 0.2
    assert old.get(stood, 0.0) < 0.5  # it says it is the same name, so the swap was within the name
    back = [*named, good("12:00", bath="reserve")]
    assert ahead(*back, bath="old")[stood] > 1


def test_yesterday_tells_of_what_is_kept_overnight(ahead, knowledge):
    """Less surely than today's plates, and nothing of the light."""
    session = [("10:00", FOG), ("11:00", FOG)]
    today = ahead(*(bad(clock, told) for clock, told in session))
    yesterday = ahead(*(bad(clock, told, DAY_BEFORE) for clock, told in session))
    stood = "silver-bath/bath-short-of-acid"
    assert 0.5 < yesterday[stood] < today[stood]
    gone = standing_in("light", knowledge) + standing_in("room", knowledge)
    assert not yesterday.keys() & set(gone)
    assert today.keys() & set(gone)
    both = ahead(*(bad(clock, told, DAY_BEFORE) for clock, told in session), good("09:00"))
    assert both["darkroom/white-light-in-darkroom"] == ahead(good("09:00"))["darkroom/white-light-in-darkroom"]
    assert ahead(*(bad(clock, told, "2026-05-18") for clock, told in session)) == {}


def test_what_was_tried_with_the_plate_in_hand_is_weighed_once(ahead):
    plates = [bad("10:00", FOG), bad("11:00", FOG, tried=["acidify-the-bath"])]
    stood = "silver-bath/bath-short-of-acid"
    counted, spared = ahead(*plates), ahead(*plates, tried=["acidify-the-bath"])
    assert counted[stood] < spared[stood]
    assert spared == ahead(bad("10:00", FOG), bad("11:00", FOG))


def test_no_weight_is_without_bounds(ahead):
    shells = {"symptoms": {"oyster-shell-marks": True, "fog": True, "comets": True}}
    weights = ahead(*(bad(f"{8 + n // 6:02}:{n % 6}0", shells) for n in range(40)))
    assert all(math.isfinite(weight) and abs(weight) <= math.log(1000) + 1e-9 for weight in weights.values())


# Plates and works as the serial inference takes them --------------------------------------------------------------------


def test_plates_and_works_in_their_order(craft):
    plates = [good("10:00", DAY_BEFORE, bath="B1"), bad("09:00", FOG, bath="B1"), bad("10:00", FOG, bath="B1")]
    works = [
        work("new", "bath", "08:00", "B1", DAY_BEFORE),
        work("filtered", "bath", "09:30", "B1"),
        work("mended", "developer", "11:00", remedy="mix-fresh-developer"),
        work("filtered", "fixer", "11:00"),
        ValueEntry(moment=at("08:00"), condition="room_temperature", value="24 °C"),
    ]
    shown, changes = shown_plates(plates, works, craft)
    assert [(item.good, item.rests, item.uses) for item in shown] == [
        (True, False, {"bath": "B1"}),
        (False, True, {"bath": "B1"}),
        (False, False, {"bath": "B1"}),
    ]
    assert changes[0] == Change(0, "bath", "B1")
    assert Change(2, "bath", "B1", "filter-the-bath") in changes
    assert Change(3, "developer", "") in changes
    assert {change.before for change in changes} == {0, 2, 3}
    assert not any(change.thing == "fixer" for change in changes)
    assert shown_plates([], works, craft)[0] == []


def test_a_remedy_is_a_change_of_every_thing_it_puts_right(craft):
    shown, changes = shown_plates([bad("10:00", FOG, bath="B1", tried=["add-acid-to-developer"])], [], craft)
    assert len(shown) == 1
    assert changes == [
        Change(1, "developer", "", "add-acid-to-developer"),
        Change(1, "bath", "B1", "add-acid-to-developer"),
    ]


def test_what_was_tried_is_no_evidence_and_counts_once(craft):
    one, two = ["filter-the-bath"], ["filter-the-bath", "sun-the-bath"]
    plates = [bad("10:00", FOG, tried=one), bad("11:00", FOG, tried=two)]
    shown, changes = shown_plates(plates, [], craft)
    kinds = {shift.note.kind for item in shown for shifts in item.evidence.shifts.values() for shift in shifts}
    assert kinds == {"unlikelier"}  # no plate since the bath was filtered
    assert shown[0].evidence.shifts == {}
    bath = [change for change in changes if change.thing == "bath"]
    assert bath == [Change(1, "bath", "", "filter-the-bath"), Change(2, "bath", "", "sun-the-bath")]
    logged = [work("filtered", "bath", "10:30")]
    _, changes = shown_plates([bad("10:00", FOG, tried=one), bad("11:00", FOG)], logged, craft)
    assert [change for change in changes if change.thing == "bath"] == [Change(1, "bath", "", "filter-the-bath")]


def test_each_plate_is_shown_with_what_stood_for_it(craft):
    """A bath's count, a told strength and the warmth of the morning move the causes of later plates, too."""
    told = {**FOG, "conditions": {"room_temperature": "33 °C", "bath_strength": "40 g/L"}}
    first, second = bad("10:00", told), bad("11:00", FOG)
    shown, _ = shown_plates([first, second], [], craft)
    assert shown[1].evidence.shifts == shown[0].evidence.shifts != {}
    alone, _ = shown_plates([second], [], craft)
    assert alone[0].evidence.shifts == {}
    behind, _ = shown_plates([second], [], craft, behind=[first, second])
    assert behind[0].evidence.shifts == shown[1].evidence.shifts
    own = bad("11:00", {**FOG, "conditions": {"room_temperature": "20 °C", "bath_strength": "80 g/L"}})
    shown, _ = shown_plates([first, own], [], craft)
    assert shown[1].evidence.shifts != shown[0].evidence.shifts


def test_what_changed_is_left_to_the_inference(craft):
    plates = [good("09:00"), bad("10:00", FOG)]
    shown, changes = shown_plates(plates, [work("new", "bath", "09:30")], craft)
    assert changes == [Change(1, "bath", "")]
    fired = {word for rule in shown[1].evidence.firing.trace for word in rule.when}
    assert not any("changed" in word for word in fired)
    said = bad("10:00", {**FOG, "conditions": {"changed_bath": "yes"}})
    shown, _ = shown_plates([good("09:00"), said], [], craft)
    assert any("changed_bath" in word for rule in shown[1].evidence.firing.trace for word in rule.when)


def test_what_the_knowledge_no_longer_has_is_left_out_and_told(craft, knowledge):
    told = {
        "symptoms": {"fog": {"answer": "present", "place": "nowhere-known"}, "green-stars": True, "pinholes": False},
        "conditions": {"room_temperature": "33 °C", "moon_phase": "full", "fixer": "vinegar"},
        "checks": {"tea-leaves": "dark"},
        "tried": [{"remedy": "dance", "result": "better"}, "nonsense", 3],
        "story": "an odd day",
    }
    plate = bad("10:00", FOG)
    odd = PlateEntry(moment=plate.moment, outcome="spoiled", told=told)
    shown, changes = shown_plates([odd], [], craft)
    assert {finding.name for finding in shown[0].evidence.findings} == {"fog", "pinholes"}
    assert shown[0].evidence.shifts
    assert changes == []
    lines = no_longer_known([plate, odd], knowledge)
    assert len(lines) == 5
    for word in ("nowhere-known", "green-stars", "moon_phase", "vinegar", "tea-leaves"):
        assert sum(word in line for line in lines) == 1
    assert all(line.startswith("the plate of 20 May 2026: ") for line in lines)
    hopeless = PlateEntry(moment=plate.moment, outcome="spoiled", told={"symptoms": 3, "conditions": [1], "tried": "x"})
    assert len(shown_plates([hopeless], [], craft)[0]) == 1


def test_a_label_s_date_is_counted_from_the_plate_s_day(craft):
    told = {**FOG, "conditions": {"collodion_age": "2025-01-01"}}
    shown, _ = shown_plates([bad("10:00", told)], [], craft)
    assert shown[0].evidence.shifts
    assert not no_longer_known([bad("10:00", told)], craft.knowledge)
