"""How much: what each dose still wants to be told, what comes out, that it is right when put back, and how it is shown."""

import dataclasses
import io
import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.advice.actions import Action, checks_action, with_cautions
from diagnose.advice.dosing import dose_of
from diagnose.advice.planning import Plan
from diagnose.amounts import result_line
from diagnose.answer import diagnose
from diagnose.bench.measuring import TOOLS, rounded
from diagnose.bench.table import SUMS
from diagnose.entries.sums import find_sum
from diagnose.record import action_record, answer_record
from diagnose.talk import screens
from diagnose.talk.theme import make_look
from tests.advice.doses import ALSO, TOLD, told

MAY_BE_LEFT_OUT = {
    "mix-fresh-developer": {"acetic_percent": "28 %"},
    "change-the-fixer": {"hypo_form": "dried-hypo"},
    "damp-paper-behind-plate": {"room_humidity": "20 %", "air_movement": "wind"},
    "shorten-the-wait": {"room_humidity": "20 %", "air_movement": "wind"},
    "dilute-filter-restore-bath": {"bath_temperature": "35 °C"},
    "iodise-new-bath": {"bath_temperature": "35 °C"},
    "strengthen-the-bath": {"bath_wanted": "100 g/L", "bath_temperature": "30 °C"},
    "thin-the-bath": {"bath_wanted": "80 g/L", "bath_temperature": "30 °C"},
}
FIXED = {"share", "light"}  # inputs whose amount stands in the file itself


@pytest.fixture(scope="module")
def answer(knowledge):
    """A diagnosis in which just these conditions were told."""

    def made(conditions, **options):
        found = diagnose({"conditions": conditions}, knowledge, **options)
        found.worth_asking = lambda **_: []  # questions are no part of this, and take their time
        return found

    return made


@pytest.fixture(scope="module")
def dose(answer):
    return lambda remedy, conditions: answer(conditions).dose(action(remedy))


def action(remedy):
    return Action(remedy, "remedy", 0.5, (), 10.0, 1.0, 0, reversible=True, cautions=())


def amounts(found):
    return {item.name: item.value for item in found.worked.amounts}


# What is wanted ------------------------------------------------------------------


def test_every_remedy_with_a_dose_is_here(knowledge):
    assert TOLD.keys() == {name for name, remedy in knowledge.remedies.items() if remedy.dose}
    assert ALSO.keys() == {name for name, remedy in knowledge.remedies.items() if remedy.dose_when}


@pytest.mark.parametrize("remedy", TOLD)
def test_with_nothing_told_it_wants_just_what_is_missing(remedy, dose):
    found = dose(remedy, ALSO.get(remedy, {}))
    assert found.wants == tuple(TOLD[remedy])
    assert found.worked is None
    assert found.refused == ""
    assert found.cautions == ()


@pytest.mark.parametrize("remedy", TOLD)
def test_one_answer_after_the_other_it_wants_the_rest(remedy, dose):
    """In any order of answering; nothing told is wanted again."""
    for names in (list(TOLD[remedy]), list(TOLD[remedy])[::-1]):
        said = dict(ALSO.get(remedy, {}))
        for name in names:
            found = dose(remedy, said)
            assert found.wants == tuple(other for other in TOLD[remedy] if other not in said)
            through = {
                "bath_strength": "bath_silver"
            }  # the reading is not used as it is: its warmth is taken into account
            used = {through.get(other, other) for other in said if other not in ALSO.get(remedy, {})}
            assert {source for _, _, source in found.taken} - {""} == used
            said[name] = TOLD[remedy][name]
        assert dose(remedy, said).worked is not None


@pytest.mark.parametrize("remedy", TOLD)
def test_not_knowing_leaves_it_wanted(remedy, dose):
    for name in TOLD[remedy]:
        assert dose(remedy, told(remedy, **{name: "?"})).wants == (name,)


@pytest.mark.parametrize("remedy", TOLD)
def test_a_person_can_be_asked_for_each(remedy, dose, knowledge):
    for name in dose(remedy, ALSO.get(remedy, {})).wants:
        assert knowledge.conditions[name].is_asked


@pytest.mark.parametrize(("remedy", "name"), [(r, name) for r in MAY_BE_LEFT_OUT for name in MAY_BE_LEFT_OUT[r]])
def test_what_may_be_left_out_is_not_wanted_and_counts_when_told(remedy, name, dose):
    usual, other = dose(remedy, told(remedy)), dose(remedy, told(remedy, **{name: MAY_BE_LEFT_OUT[remedy][name]}))
    assert usual.worked is not None
    assert other.worked is not None
    leading = usual.worked.amounts[0]
    assert other.worked.amounts[0].value != pytest.approx(leading.value, rel=0.005) or (
        other.worked.amounts != usual.worked.amounts
    )


def test_what_was_told_outright_of_a_worked_out_strength_counts(dose):
    """A strength known by weighing goes before the hydrometer."""
    weighed = dose("strengthen-the-bath", told("strengthen-the-bath", bath_silver="70 g/L"))
    assert amounts(weighed)["silver"] == pytest.approx(20.3, abs=0.1)
    assert dose("strengthen-the-bath", {"bath_volume": "1 L", "bath_silver": "70 g/L"}).wants == ()


def test_what_an_earlier_telling_gave_is_not_used(answer, knowledge):
    found = answer(told("strengthen-the-bath"))
    stale = dataclasses.replace(found.facts, reckoned={"bath_silver": 20.0})
    again = dose_of("strengthen-the-bath", stale, found.firing, found.craft)
    assert amounts(again) == amounts(found.dose(action("strengthen-the-bath")))
    untold = dataclasses.replace(stale, amounts={"bath_volume": 1000.0})
    assert dose_of("strengthen-the-bath", untold, found.firing, found.craft).wants == ("bath_strength",)


@pytest.mark.parametrize(
    ("conditions", "given_"),
    [
        ({}, False),
        ({"fixer": "?"}, False),
        ({"fixer": "rapid"}, False),
        ({"fixer": "cyanide"}, False),
        ({"fixer": "hypo"}, True),
    ],
)
def test_a_dose_waits_for_what_its_file_says(conditions, given_, dose, answer):
    """Weights of hypo are no weights of rapid fixer, and none of cyanide."""
    assert (dose("change-the-fixer", conditions) is not None) == given_
    found = dose("change-the-fixer", {**TOLD["change-the-fixer"], **conditions})
    assert (found is not None) == given_
    record = action_record(action("change-the-fixer"), answer({**TOLD["change-the-fixer"], **conditions}))
    assert (record.dose is not None) == given_


def test_a_dose_that_waits_for_what_cannot_be_asked_is_not_given(answer, knowledge):
    """The check refuses such a file; were it let by, no amount is safer than one that comes unasked."""
    for words in ("hot-day", "fog seen", "litmus-on-bath found neither-turns"):
        waiting = dataclasses.replace(knowledge.remedies["strengthen-the-bath"], dose_when=(words,))
        other = dataclasses.replace(knowledge, remedies={**knowledge.remedies, "strengthen-the-bath": waiting})
        found = answer(told("strengthen-the-bath", room_temperature="35 °C"))
        craft = dataclasses.replace(found.craft, knowledge=other)
        assert dose_of("strengthen-the-bath", found.facts, found.firing, found.craft).worked
        assert dose_of("strengthen-the-bath", found.facts, found.firing, craft) is None


def test_what_needs_no_amount_has_none(answer, knowledge):
    found = answer({"fixer": "hypo"})
    for name, remedy in knowledge.remedies.items():
        assert (found.dose(action(name)) is None) == (not remedy.dose), name
    for name in knowledge.checks:
        assert found.dose(checks_action(name, 0.5, found.craft)) is None


# What comes out --------------------------------------------------------------------


@pytest.mark.parametrize("remedy", TOLD)
def test_told_what_it_wants_it_gives_amounts(remedy, dose, knowledge):
    found = dose(remedy, told(remedy))
    assert found.wants == ()
    assert found.refused == ""
    assert found.worked.amounts
    assert all(math.isfinite(item.value) for item in found.worked.amounts)
    assert found.sum.name == knowledge.remedies[remedy].dose
    assert [asked.name for asked, _, _ in found.taken] == [asked.name for asked in found.sum.asks]
    for asked, value, source in found.taken:
        if source:
            assert source in {*told(remedy), "bath_silver"}
        elif asked.name in knowledge.remedies[remedy].uses and asked.name not in FIXED:
            assert knowledge.remedies[remedy].uses[asked.name].partition(", else ")[2]
        assert not asked.complaint(value)


def water_of(volume, strength):
    """Silver nitrate and water in a bath, by the sum for a new one."""
    made = SUMS["new-bath"].reckon({"volume": volume, "wanted": strength})
    return made.value("silver"), made.value("water")


def strength_of(silver, water):
    return SUMS["recipe-strength"].reckon({"silver": silver, "water": water}).amounts[0].value


@settings(max_examples=25)
@given(volume=st.floats(200, 5000), marked=st.floats(20, 85), bath=st.floats(8, 30), wanted=st.floats(95, 120))
def test_silver_put_into_the_bath_brings_it_to_the_strength(volume, marked, bath, wanted, dose):
    """Mixed anew as a recipe, silver and water together: the strength that was wanted."""
    conditions = {
        "bath_volume": f"{volume:.6f} mL",
        "bath_strength": f"{marked:.6f} g/L",
        "bath_temperature": f"{bath:.6f} °C",
        "bath_wanted": f"{wanted:.6f} g/L",
    }
    found = dose("strengthen-the-bath", conditions)
    now = next(value for asked, value, _ in found.taken if asked.name == "strength")
    read = SUMS["bath-strength-marked"].reckon({"marked": marked, "temperature": bath}).value("strength")
    assert now == pytest.approx(read, rel=1e-6)
    silver, water = water_of(volume, now)
    assert strength_of(silver + amounts(found)["silver"], water) == pytest.approx(wanted, rel=2e-3)


@settings(max_examples=25)
@given(volume=st.floats(200, 5000), marked=st.floats(125, 200), wanted=st.floats(60, 110))
def test_water_put_into_the_bath_brings_it_to_the_strength(volume, marked, wanted, dose):
    conditions = {
        "bath_volume": f"{volume:.6f} mL",
        "bath_strength": f"{marked:.6f} g/L",
        "bath_wanted": f"{wanted:.6f} g/L",
    }
    found = dose("thin-the-bath", conditions)
    now = next(value for asked, value, _ in found.taken if asked.name == "strength")
    silver, water = water_of(volume, now)
    added = next(item for item in found.worked.amounts if item.name == "water")
    assert strength_of(silver, water + added.value) == pytest.approx(wanted, rel=2e-3)
    assert strength_of(silver, water + rounded(added)) >= wanted * 0.998  # measured out it is never thinned too far
    assert rounded(added) <= added.value


def test_by_hand_the_silver_is_what_is_short(dose):
    """A litre of 60 g/L: about 30 g to 90 g/L, and a little more, for the silver takes room; the salt is weighed to a tenth."""
    found = dose("strengthen-the-bath", {"bath_volume": "1 L", "bath_silver": "60 g/L"})
    assert 30 < amounts(found)["silver"] < 31
    lead = found.worked.amounts[0]
    assert (lead.tool, lead.unit) == ("balance", "g")
    assert rounded(lead) == pytest.approx(amounts(found)["silver"], abs=0.05)


MOLAR = {
    "nitric": 63.013,
    "acetic": 60.052,
    "bicarbonate": 84.007,
    "potassium iodide": 166.003,
    "silver iodide": 234.773,
}
# g/mL at 20 °C, the usual tables of acids: nitric of 1 % and 65 %, acetic of 80 % and 99.5 %
HEAVY = {("nitric", 1): 1.0037, ("nitric", 65): 1.3913, ("acetic", 80): 1.0700, ("acetic", 99.5): 1.0505}


def moles(acid, percent):
    """Of an acid in a litre, from its density."""
    return 10 * percent * HEAVY[acid, percent] / MOLAR[acid]


def test_half_the_acid_is_given_and_again_half_after_it(dose):
    """Half the dose is half the whole; worked again with the reading to expect after it, half as much is left to put in."""
    found = amounts(dose("acidify-the-bath", told("acidify-the-bath")))
    assert found["half_dose"] == pytest.approx(found["whole_dose"] / 2)
    assert found["half_dose_drops"] == pytest.approx(found["half_dose"] / 0.05)
    assert 4 < found["ph_after_half"] < 5
    left = amounts(dose("acidify-the-bath", told("acidify-the-bath", bath_ph=f"{found['ph_after_half']:.9f}")))
    assert left["whole_dose"] == pytest.approx(found["half_dose"], rel=1e-4)


def test_by_hand_the_acid_is_a_trace(dose):
    """From pH 5 to 4 a litre wants 0.00009 mol of free acid, a third more to read so in strong silver; half of it is given."""
    found = amounts(dose("acidify-the-bath", told("acidify-the-bath")))
    wanted = (1e-4 - 1e-5) / 0.75
    assert found["half_dose"] / 1000 * moles("nitric", 1) == pytest.approx(wanted / 2, rel=0.05)
    assert found["half_at_hand"] / 1000 * moles("nitric", 65) == pytest.approx(wanted / 2, rel=0.05)
    assert found["acid_to_thin"] * moles("nitric", 65) == pytest.approx(100 * moles("nitric", 1), rel=0.01)


@settings(max_examples=25)
@given(volume=st.floats(200, 5000), ph=st.floats(4.2, 6.9), percent=st.floats(5, 71))
def test_never_more_than_half_the_acid_by_whatever_it_is_measured(volume, ph, percent, dose):
    conditions = {
        "bath_volume": f"{volume:.6f} mL",
        "bath_ph": f"{ph:.6f}",
        "nitric_percent": f"{percent:.6f} %",
    }
    found = dose("acidify-the-bath", conditions)
    by_name = {item.name: item for item in found.worked.amounts}
    half = by_name["half_dose"]
    assert half.never_over
    assert rounded(half) <= by_name["whole_dose"].value / 2 * (1 + 1e-9)
    assert rounded(by_name["half_dose_drops"]) * 0.05 <= half.value * (1 + 1e-9)
    assert half.name == found.worked.amounts[0].name  # it is the amount that is shown first
    assert any("half" in line for line in found.worked.do)
    assert any("never put in at once" in item.label for item in found.worked.amounts)
    assert "of 65 %" not in half.label  # strong acid never goes into a bath that holds alcohol
    strength = float(half.label.rsplit(" of ", 1)[1].removesuffix(" %"))
    assert strength <= 10


@settings(max_examples=25)
@given(volume=st.floats(200, 5000), ph=st.floats(1.9, 3.7))
def test_half_the_alkali_and_again_half_after_it(volume, ph, dose):
    conditions = {"bath_volume": f"{volume:.6f} mL", "bath_ph": f"{ph:.6f}"}
    found = dose("ease-acid-of-bath", conditions)
    out = amounts(found)
    assert out["half_mass"] == pytest.approx(out["whole_dose"] / 2)
    again = amounts(dose("ease-acid-of-bath", {**conditions, "bath_ph": f"{out['ph_after_half']:.9f}"}))
    assert again["whole_dose"] == pytest.approx(out["half_mass"], rel=1e-4)
    by_hand = volume / 1000 * (10**-ph - 1e-4) / 0.75 * MOLAR["bicarbonate"]
    assert out["whole_dose"] == pytest.approx(by_hand, rel=0.05)
    assert rounded(found.worked.amounts[0]) <= found.worked.amounts[0].value


@settings(max_examples=25)
@given(volume=st.floats(50, 3000), present=st.floats(0, 4), more=st.floats(0.5, 6))
def test_acid_put_into_the_developer_brings_it_to_the_share(volume, present, more, dose):
    """Counted by hand in mol, with the acid's own room in the volume."""
    conditions = {
        "developer_volume": f"{volume:.6f} mL",
        "developer_acid": f"{present:.6f} %",
        "developer_acid_wanted": f"{present + more:.6f} %",
        "acetic_percent": "80 %",
    }
    acid = amounts(dose("add-acid-to-developer", conditions))["acid"]
    glacial = volume * present / 100 + acid * moles("acetic", 80) / moles("acetic", 99.5)
    assert 100 * glacial / (volume + acid) == pytest.approx(present + more, rel=0.02)
    lead = dose("add-acid-to-developer", conditions).worked.amounts[0]
    assert rounded(lead) <= lead.value


def test_recipes_are_made_to_the_volume_with_the_acid_at_hand(dose):
    mild = dose("mix-fresh-developer", told("mix-fresh-developer"))
    double = dose("mix-fresh-developer", told("mix-fresh-developer", developer_volume="1 L"))
    for name, value in amounts(mild).items():
        assert amounts(double)[name] == pytest.approx(2 * value)
    weak = amounts(dose("mix-fresh-developer", told("mix-fresh-developer", acetic_percent="80 %")))
    usual = amounts(mild)
    assert weak["acetic_acid"] * moles("acetic", 80) == pytest.approx(
        usual["acetic_acid"] * moles("acetic", 99.5), rel=0.01
    )
    assert weak["ferrous_sulphate"] == usual["ferrous_sulphate"]
    bath = amounts(dose("replace-the-bath", told("replace-the-bath")))
    assert bath["silver_nitrate"] == pytest.approx(100 * 1.2)  # the book's 100 g, here to the litre filled up
    crystals = amounts(dose("change-the-fixer", told("change-the-fixer")))["hypo"]
    dried = amounts(dose("change-the-fixer", told("change-the-fixer", hypo_form="dried-hypo")))["dried_hypo"]
    assert dried == pytest.approx(crystals * 158.11 / 248.18, rel=2e-3)


def test_by_hand_the_other_amounts(dose):
    spirit = amounts(dose("more-alcohol-in-developer", told("more-alcohol-in-developer")))
    assert spirit["share"] == pytest.approx(100 * spirit["alcohol"] / (500 + spirit["alcohol"]), rel=1e-6)
    assert spirit["share"] < 100 / 20  # one part in twenty at the most, as the remedy says
    thinner = amounts(dose("thin-the-collodion", told("thin-the-collodion")))
    assert thinner["ether"] == pytest.approx(thinner["alcohol"]) == pytest.approx(500 * 0.05 / 2)
    iodide = amounts(dose("iodise-new-bath", told("iodise-new-bath")))
    assert iodide["silver_iodide"] == pytest.approx(
        iodide["iodide"] * MOLAR["silver iodide"] / MOLAR["potassium iodide"], rel=1e-3
    )
    assert iodide["solution"] == pytest.approx(100 * iodide["iodide"], rel=1e-3)
    assert amounts(dose("give-less-exposure", told("give-less-exposure")))["seconds"] == pytest.approx(2)
    assert amounts(dose("give-more-exposure", told("give-more-exposure")))["seconds"] == pytest.approx(8)


@settings(max_examples=25)
@given(room=st.floats(2, 45), humidity=st.floats(5, 95))
def test_a_wait_as_long_as_the_dose_takes_the_whole_of_it(room, humidity, answer):
    """Put back as a wait, the minutes are just a hundred in the hundred: a little less dries nothing, a little more does."""
    weather = {"room_temperature": f"{room:.6f} °C", "room_humidity": f"{humidity:.6f} %"}
    minutes = amounts(answer(weather).dose(action("shorten-the-wait")))["minutes"]
    for part, dried in ((0.99, False), (1.01, True)):
        waited = answer({**weather, "wait_before_developer": f"{minutes * part:.9f} min"})
        assert waited.facts.reckoned["wet_window_used"] == pytest.approx(100 * part, rel=1e-6)
        assert ("state:plate-drying" in waited.firing.facts) == dried


@pytest.mark.parametrize(
    ("remedy", "name", "unit", "values"),
    [
        ("dip-sooner", "room_temperature", "°C", (5, 15, 25, 35)),
        ("wait-for-the-set", "room_temperature", "°C", (5, 15, 25, 35)),
        ("develop-longer", "developer_temperature", "°C", (5, 12, 20, 30)),
        ("stop-development-sooner", "developer_temperature", "°C", (5, 12, 20, 30)),
        ("shorten-the-wait", "room_temperature", "°C", (5, 15, 25, 35)),
        ("damp-paper-behind-plate", "room_temperature", "°C", (5, 15, 25, 35)),
        ("acidify-the-bath", "nitric_percent", "%", (0.2, 0.5, 1)),
    ],
)
def test_warmer_is_quicker_and_stronger_is_less(remedy, name, unit, values, dose):
    found = [dose(remedy, told(remedy, **{name: f"{value} {unit}"})).worked.amounts[0].value for value in values]
    assert found == sorted(found, reverse=True)
    assert found[0] > found[-1] * 1.2


@pytest.mark.parametrize("remedy", ["dip-sooner", "develop-longer", "wash-longer-both-sides"])
def test_a_range_stands_in_order(remedy, dose):
    found = amounts(dose(remedy, told(remedy)))
    least, most = (
        next(found[name] for name in names if name in found) for names in (("least", "shortest"), ("most", "longest"))
    )
    leading = next(iter(found.values()))
    assert 0 < least <= leading <= most


# Refused ----------------------------------------------------------------------------

REFUSED = [
    ("strengthen-the-bath", {"bath_strength": "120 g/L"}, "already stronger than 90 g/L"),
    ("strengthen-the-bath", {"bath_temperature": "45 °C"}, "45 °C cannot be right; 2 to 40 °C is accepted"),
    ("thin-the-bath", {"bath_strength": "60 g/L"}, "already weaker than 100 g/L"),
    ("acidify-the-bath", {"bath_ph": "3"}, "put no acid in"),
    ("acidify-the-bath", {"bath_ph": "8"}, "put nothing in"),
    ("ease-acid-of-bath", {"bath_ph": "5"}, "put no alkali in"),
    ("ease-acid-of-bath", {"bath_ph": "1.2"}, "pH 1.8 to pH 7 is accepted"),
    ("add-acid-to-developer", {"developer_acid": "8 %"}, "put none in"),
    ("develop-longer", {"developer_temperature": "-3 °C"}, "2 to 40 °C is accepted"),
    ("dip-sooner", {"room_temperature": "48 °C"}, "is accepted"),
    ("shorten-the-wait", {"room_temperature": "-8 °C"}, "is accepted"),
    ("iodise-new-bath", {"bath_strength": "10 g/L"}, "is accepted"),
    ("mix-fresh-developer", {"developer_volume": "20 mL", "acetic_percent": "3 %"}, "take a stronger acid"),
]


@pytest.mark.parametrize(("remedy", "changes", "words"), REFUSED)
def test_a_refusal_is_one_clear_line(remedy, changes, words, answer, knowledge):
    found = answer(told(remedy, **changes))
    dose = found.dose(action(remedy))
    assert dose.worked is None
    assert dose.wants == ()
    assert words in dose.refused
    assert dose.refused.isprintable()
    assert len(dose.refused) < 250
    record = action_record(action(remedy), found).dose
    assert record.refused == dose.refused
    assert record.amounts == record.do == record.wants == []
    said = screen_of(screens.dose_lines(action(remedy), found, "whole"))
    assert said == f"No amount: {dose.refused}"


@settings(max_examples=120)
@given(data=st.data())
def test_any_amounts_give_a_dose_or_one_line(data, dose, knowledge):
    """Anything a person may tell: never an exception, never less than nothing, never rounded up where more does harm."""
    remedy = data.draw(st.sampled_from(sorted(TOLD)))
    conditions = dict(ALSO.get(remedy, {}))
    for name in {**TOLD[remedy], **MAY_BE_LEFT_OUT.get(remedy, {})}:
        entry = knowledge.conditions[name]
        if entry.kind == "quantity":
            low, high = entry.range
            value = data.draw(st.sampled_from([low, high, *entry.ordinary]) | st.floats(low, high))
            conditions[name] = f"{value:.9f} {entry.unit}"
        else:
            conditions[name] = data.draw(st.sampled_from(sorted(entry.answers)))
    found = dose(remedy, conditions)
    assert not found.wants
    if found.worked is None:
        assert found.refused.isprintable()
        assert 10 < len(found.refused) < 300
        return
    assert not found.refused
    for item in found.worked.amounts:
        assert math.isfinite(item.value)
        assert item.value >= 0 or item.name == "stops"
        if item.never_over:
            assert rounded(item) <= item.value * (1 + 1e-6) or not item.tool
        assert result_line(item, "metric").isprintable()


# Shown -------------------------------------------------------------------------------


def screen_of(lines, width=90):
    out = io.StringIO()
    make_look(file=out, width=width, plain=True).show(*lines)
    return " ".join(out.getvalue().split())


def beside(remedy, found):
    return with_cautions(action(remedy), found.firing, found.craft)


VESSEL = ("glass", "bottle", "measure", "jug", "cylinder", "vessel", "tray", "holder", "hand", "lens", "plate")


@pytest.mark.parametrize("remedy", TOLD)
def test_screen_and_record_show_all_that_must_stand_beside_an_amount(remedy, answer, knowledge):
    found, entry = answer(told(remedy)), knowledge.remedies[remedy]
    chosen = beside(remedy, found)
    dose, record = found.dose(chosen), action_record(chosen, found)
    whole = screen_of(screens.body(chosen, found, "whole"))
    asked_for = screen_of([screens.amount_screen(chosen, found)])
    for screen in (whole, asked_for):
        for item in dose.worked.amounts:
            assert result_line(item, "metric") in screen, item.name
        for words in (*dose.worked.do, *dose.worked.beware, entry.see, entry.stop):
            assert " ".join(words.split()) in screen, words
        for name in {*chosen.cautions, *dose.cautions}:
            assert knowledge.cautions[name].title in screen, name
        assert screen.index("How much:") < screen.index("Stop:")
        assert screen.index("How much:") < screen.index("You will see:")
    assert " ".join(dose.sum.formula.split()) in whole
    assert any(word in whole for word in VESSEL)
    assert (record.see, record.stop) == (entry.see, entry.stop)
    assert record.dose.do == list(dose.worked.do)
    assert record.dose.beware == list(dose.worked.beware)
    assert set(record.cautions) == set(chosen.cautions)
    assert record.dose.cautions == list(dose.cautions)
    assert record.dose.sum == dose.sum.name
    assert record.dose.formula
    assert record.dose.sources
    assert record.dose.accuracy
    for out, item in zip(record.dose.amounts, dose.worked.amounts, strict=True):
        assert (out.name, out.label, out.value, out.unit) == item[:4]
        assert out.measured == rounded(item)
    given_ = {part.name: part for part in record.dose.taken}
    for asked, value, source in dose.taken:
        if source or not asked.if_known:
            assert (given_[asked.name].value, given_[asked.name].told_by) == (value, source)
    json.dumps(dataclasses.asdict(record), allow_nan=False)


POURED = {"balance", "syringe", "cylinder"}
IN_A_VESSEL = ("glass", "bottle", "measure", "jug", "cylinder", "vessel")


@pytest.mark.parametrize("remedy", TOLD)
def test_what_is_put_into_a_liquid_says_in_what_and_when_to_stop(remedy, dose, knowledge):
    """Vessel, order, what will be seen, when to stop: of every amount that is weighed or poured."""
    found, entry = dose(remedy, told(remedy)), knowledge.remedies[remedy]
    if not POURED & {item.tool for item in found.worked.amounts}:
        return
    said = " ".join((entry.say, entry.see, entry.stop, *found.worked.do)).casefold()
    assert any(word in said for word in IN_A_VESSEL)
    assert entry.see
    assert "stop" in said or "if " in entry.stop.casefold()
    assert len(found.worked.do) >= 2


@pytest.mark.parametrize("remedy", TOLD)
def test_what_is_measured_says_how_it_was_rounded(remedy, dose):
    for item in dose(remedy, told(remedy)).worked.amounts:
        said = result_line(item, "metric")
        if item.tool in {"plates", "drops"}:
            assert f"in {TOOLS[item.tool][2]}, rounded" in said
        elif item.tool:
            tool = TOOLS[item.tool][2]
            assert f"as on {tool})" in said
            assert ("rounded down to a step of" in said) == item.never_over
            assert ("(rounded to" in said) == (not item.never_over)
        else:
            assert "rounded" not in said


@pytest.mark.parametrize("remedy", TOLD)
def test_what_is_still_wanted_is_asked_on_the_screen_and_in_the_record(remedy, answer, knowledge):
    found = answer(ALSO.get(remedy, {}))
    record = action_record(action(remedy), found).dose
    assert [(item.id, item.ask) for item in record.wants] == [
        (name, knowledge.conditions[name].ask) for name in TOLD[remedy]
    ]
    assert record.amounts == []
    said = screen_of(screens.dose_lines(action(remedy), found, "usual"))
    assert said.startswith("For the amount, tell: ")
    for name in TOLD[remedy]:
        assert f"{knowledge.conditions[name].ask} ({name})" in said
    assert "How much:" not in said


def test_who_told_what_stands_beside_the_amount(answer):
    found = answer(told("strengthen-the-bath"))
    said = screen_of(screens.dose_lines(action("strengthen-the-bath"), found, "usual"))
    assert "volume: 1000 mL (told)" in said
    assert "(worked out)" in said
    assert "wanted: 90 g/L (taken as usual)" in said
    record = action_record(action("strengthen-the-bath"), found).dose
    assert {part.name: part.told_by for part in record.taken} == {
        "volume": "bath_volume",
        "strength": "bath_silver",
        "wanted": "",
    }


def test_short_in_the_dialog_and_whole_when_asked_for(answer):
    found = answer(told("acidify-the-bath"))
    lengths = [
        len(screen_of(screens.dose_lines(beside("acidify-the-bath", found), found, how)))
        for how in ("short", "usual", "whole")
    ]
    assert lengths == sorted(lengths)
    assert lengths[0] * 3 < lengths[2]


def test_own_units_on_the_screen_and_metric_in_the_record(answer):
    for measures, unit in (("us", "US fl oz"), ("imperial", "imperial fl oz"), ("metric", " mL")):
        found = answer(told("thin-the-bath"), measures=measures)
        said = screen_of(screens.dose_lines(action("thin-the-bath"), found, "usual"))
        assert f"{unit}" in said.partition("How much:")[2].partition("-")[0]
        record = action_record(action("thin-the-bath"), found).dose
        assert {item.unit for item in record.amounts} == {"mL"}


def test_the_cautions_of_an_answer_hold_those_of_its_amounts(answer, knowledge):
    """A used bath holds alcohol, so its acid brings a caution that the remedy alone has not."""
    found = answer(told("acidify-the-bath"))
    chosen = beside("acidify-the-bath", found)
    found.plan = Plan("find-out", chosen, (), (), ())
    assert "ammonia-and-silver" in found.dose(chosen).cautions
    assert "ammonia-and-silver" not in chosen.cautions
    out = answer_record(found)
    assert set(out.next_action.dose.cautions) <= {item.id for item in out.cautions}
    assert knowledge.cautions["ammonia-and-silver"].title in screen_of(screens.dose_lines(chosen, found, "short"))
    assert knowledge.cautions["ammonia-and-silver"].title in screen_of([screens.cautions_screen(found)])
    for place in ("then", "later", "together"):
        found.plan = Plan("find-out", None, (), (), ())._replace(**{place: (chosen,)})
        assert "ammonia-and-silver" in found.cautions(), place


def test_every_sum_a_remedy_names_is_there(knowledge):
    for remedy in knowledge.remedies.values():
        if remedy.dose:
            assert find_sum(remedy.dose, knowledge.solutions).asks
