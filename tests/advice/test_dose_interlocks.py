"""Amounts and what can hurt: every fixer x every remedy with a dose or with acid x its dose told or not, from the outside.

What a remedy puts in is read from its words and from the labels of its amounts, not from the code that hands out cautions.
"""

import dataclasses
import io
import itertools
import re

import pytest

import diagnose
from diagnose.reasoning.craft import make_craft
from diagnose.record import action_record
from diagnose.talk import screens
from diagnose.talk.theme import make_look
from tests.advice.doses import TOLD, told
from tests.advice.test_interlocks import (
    FIXERS,
    HARMLESS,
    WET_STAGES,
    lacking,
    puts_in,
    screen_and_json,
    whole,
)

PUTS_ACID = {"acidify-the-bath", "add-acid-to-developer", "mix-fresh-developer", "replace-the-bath"}  # read by eye
PUTS_SILVER = {"strengthen-the-bath", "replace-the-bath"}
PUTS_ALKALI = {"ease-acid-of-bath"}
PUTS_SPIRIT = {"thin-the-collodion", "more-alcohol-in-developer", "mix-fresh-developer"}
LABELS = {
    "acid": re.compile(r"\b(acid|nitric|acetic)\b", re.IGNORECASE),
    "silver": re.compile(r"\bsilver nitrate\b(?! it)", re.IGNORECASE),
    "alkali": re.compile(r"\b(bicarbonate|carbonate|alkali|ammonia)\b", re.IGNORECASE),
    "spirit": re.compile(r"\b(alcohol|ether)\b", re.IGNORECASE),
}
MEASURED = {"balance", "syringe", "cylinder", "drops"}


def in_hand(knowledge):
    """Remedies with a dose, and those that put acid in."""
    return [name for name, remedy in knowledge.remedies.items() if remedy.dose or puts_in(remedy, "acid")]


def conditions_for(name, fixer, how):
    said = told(name) if how == "told" and name in TOLD else {}
    return {**{key: value for key, value in said.items() if key != "fixer"}, **FIXERS[fixer]}


def measured_out(dose, what):
    """Whether an amount that is measured out is of this."""
    worked = dose.worked.amounts if dose and dose.worked else ()
    return any(item.tool in MEASURED and LABELS[what].search(item.label) for item in worked)


def text_of(*lines):
    out = io.StringIO()
    make_look(plain=True, width=90, file=out).show(*lines)
    return " ".join(out.getvalue().split())


def on_screen(words, screen):
    return " ".join(words.split()) in screen


def first_words(say):
    """The first sentence of a caution: what the screen shows beside an action."""
    return say.partition(". ")[0]


def test_what_is_measured_out_is_what_was_read_by_eye(knowledge):
    found = {what: set() for what in LABELS}
    for name in TOLD:
        answer = diagnose.diagnose({"conditions": told(name)}, knowledge)
        dose = answer.dose(whole(name, answer.firing, answer.craft))
        for what, names in found.items():
            if measured_out(dose, what):
                names.add(name)
    assert found == {"acid": PUTS_ACID, "silver": PUTS_SILVER, "alkali": PUTS_ALKALI, "spirit": PUTS_SPIRIT}
    assert set(TOLD) < set(in_hand(knowledge))  # acid is put in without a sum too


@pytest.mark.parametrize(("fixer", "how"), list(itertools.product(FIXERS, ["told", "not told"])))
def test_every_dose_under_every_fixer(fixer, how, knowledge, capsys):
    known = knowledge.cautions
    together, deadly = known["cyanide-and-acid"], known["cyanide"]
    doses = acids = 0
    for name in in_hand(knowledge):
        remedy = knowledge.remedies[name]
        answer = diagnose.diagnose({"conditions": conditions_for(name, fixer, how)}, knowledge)
        answer.worth_asking = lambda **_: []
        action = whole(name, answer.firing, answer.craft)
        dose = answer.dose(action)
        beside = {*action.cautions, *(dose.cautions if dose else ())}
        assert not lacking(remedy, beside, fixer, knowledge), name
        screen, out = screen_and_json(answer, action, capsys)
        record = out["next_action"]
        in_answer = {item["id"]: item for item in out["cautions"]}

        # the amount is there or asked for, and no caution is lost on the way to the screen or the JSON
        if dose and dose.worked:
            doses += 1
            assert "How much:" in screen
            assert record["dose"]["amounts"]
        elif dose and how == "not told":
            assert "For the amount, tell:" in screen
            assert record["dose"]["wants"]
        assert ("How much:" in screen) == bool(dose and dose.worked), name
        assert {*record["cautions"], *(record["dose"]["cautions"] if record["dose"] else ())} == beside
        assert beside <= in_answer.keys()
        for caution in beside:
            assert known[caution].title in screen, (name, caution)
            if known[caution].level == "danger":
                assert on_screen(first_words(known[caution].say), screen), (name, caution)
                assert in_answer[caution]["say"] == known[caution].say
                if caution in action.cautions and "How much:" in screen:  # the danger is read before the amount
                    assert screen.index(known[caution].title) < screen.index("How much:"), (name, caution)

        # acid: the cyanide caution unless the fixer is known and is another
        acid = puts_in(remedy, "acid") or name in PUTS_ACID or measured_out(dose, "acid")
        if acid:
            acids += 1
            assert ("cyanide-and-acid" in record["cautions"]) == (fixer not in HARMLESS), name
            assert (together.title in screen) == (fixer not in HARMLESS), name
            assert ("cyanide-and-acid" in in_answer) == (fixer not in HARMLESS), name
            if measured_out(dose, "acid"):  # and once more with the amount itself, should the remedy forget it
                assert ("cyanide-and-acid" in record["dose"]["cautions"]) == (fixer not in HARMLESS), name
        if fixer in HARMLESS:
            assert together.title not in screen, name
            assert deadly.title not in screen, name
            assert not {"cyanide", "cyanide-and-acid"} & in_answer.keys(), name

        # cyanide in use: over every answer, and beside all wet work
        if fixer == "cyanide":
            assert deadly.title in screen, name
            assert together.title in screen, name
            assert {"cyanide", "cyanide-and-acid"} <= in_answer.keys(), name
            if remedy.stage in WET_STAGES:
                assert {"cyanide", "cyanide-and-acid"} <= set(record["cautions"]), name
                assert screen.index(deadly.title) < screen.index("Do ("), name

        # the rest, whatever the fixer
        if name in PUTS_ALKALI or measured_out(dose, "alkali"):
            assert "ammonia-and-silver" in record["cautions"], name
            assert "never mix ammonia with a silver bath" in screen, name
        if remedy.touches == "silver-bath" or name in PUTS_SILVER or measured_out(dose, "silver"):
            assert "silver-nitrate" in record["cautions"], name
            assert "goggles" in known["silver-nitrate"].title
        if name == "acidify-the-bath":
            assert "nitric-acid" in record["cautions"]
            assert "drop by drop to water or bath, never the reverse" in screen
        if name in PUTS_SPIRIT or measured_out(dose, "spirit"):
            assert "ether-and-alcohol" in record["cautions"], name
            assert "no flame, no spark" in screen, name
    assert acids >= len(PUTS_ACID)
    assert doses >= (len(TOLD) - 2 if how == "told" else 0)


@pytest.mark.parametrize("fixer", FIXERS)
def test_the_amount_asked_for_long_after_still_stands_beside_its_dangers(fixer, knowledge):
    """Key h in the dialog: the first screen has scrolled away, or the change never stood on it whole."""
    for name in TOLD:
        answer = diagnose.diagnose({"conditions": conditions_for(name, fixer, "told")}, knowledge)
        action = whole(name, answer.firing, answer.craft)
        dose = answer.dose(action)
        if dose is None or dose.worked is None:
            continue
        screen = text_of(screens.amount_screen(action, answer))
        for caution in {*action.cautions, *dose.cautions}:
            assert knowledge.cautions[caution].title in screen, (name, caution)
            if knowledge.cautions[caution].level == "danger" and caution in action.cautions:
                assert screen.index(knowledge.cautions[caution].title) < screen.index("How much:"), (name, caution)
        if name in PUTS_ACID:
            assert (knowledge.cautions["cyanide-and-acid"].title in screen) == (fixer not in HARMLESS), name


def test_a_dose_refused_keeps_the_cautions_of_its_remedy(knowledge, capsys):
    """Where ammonia may have got into the bath no acid is reckoned, and every danger still stands there."""
    answer = diagnose.diagnose({"conditions": told("acidify-the-bath", bath_ph="8")}, knowledge)
    answer.worth_asking = lambda **_: []
    action = whole("acidify-the-bath", answer.firing, answer.craft)
    assert answer.dose(action).refused
    screen, out = screen_and_json(answer, action, capsys)
    assert "How much:" not in screen
    assert "No amount:" in screen
    assert "if ammonia may have got in, put nothing in" in screen
    assert {"silver-nitrate", "nitric-acid", "cyanide-and-acid"} <= set(out["next_action"]["cautions"])


@pytest.mark.parametrize("fixer", FIXERS)
@pytest.mark.parametrize("name", sorted(PUTS_ACID))
def test_a_remedy_that_forgets_the_caution_gets_it_with_its_amount(name, fixer, knowledge):
    """The checker refuses such a file; were it let by, the sum still warns wherever its acid is measured out."""
    forgetful = dataclasses.replace(knowledge.remedies[name], adds=(), caution=())
    craft = make_craft(
        dataclasses.replace(knowledge, version=f"forgot {name}", remedies={**knowledge.remedies, name: forgetful})
    )
    answer = diagnose.diagnose({"conditions": conditions_for(name, fixer, "told")}, knowledge)
    answer.craft = craft
    action = whole(name, answer.firing, craft)
    record = action_record(action, answer)
    title = knowledge.cautions["cyanide-and-acid"].title
    assert ("cyanide-and-acid" in record.dose.cautions) == (fixer not in HARMLESS)
    assert (title in text_of(*screens.dose_lines(action, answer, "short"))) == (
        fixer not in HARMLESS and "cyanide-and-acid" not in action.cautions
    )
    assert (title in text_of(screens.amount_screen(action, answer))) == (fixer not in HARMLESS)


@pytest.mark.parametrize("name", sorted(PUTS_ACID))
def test_acid_goes_slowly_into_what_is_wet(name, knowledge):
    """Into water, bath or developer, a little at a time, and never water onto acid: beside every amount of acid."""
    answer = diagnose.diagnose({"conditions": told(name)}, knowledge)
    dose = answer.dose(whole(name, answer.firing, answer.craft))
    said = " ".join(dose.worked.do)
    assert re.search(r"into the (water|bath|developer)|to the bath", said)
    assert re.search(r"drop by drop|a little at a time|a few drops at a time|never the reverse", said)
    assert not re.search(r"water (in)?to (the )?(strong )?acid", said)
    if name == "acidify-the-bath":
        thinning, putting = dose.worked.do[:2]
        assert re.search(r"acid run slowly into the water, never the reverse", thinning)
        assert "drop by drop into the bath" in putting
    if name == "mix-fresh-developer":
        assert "Pour the acid into the water, never the reverse" in said


def test_no_amount_of_cyanide_and_none_of_ammonia_is_ever_given(knowledge):
    """Cyanide has no dose, told or not; no amount, label or line of a dose names ammonia but to forbid it."""
    for name in TOLD:
        for fixer in FIXERS:
            answer = diagnose.diagnose({"conditions": conditions_for(name, fixer, "told")}, knowledge)
            dose = answer.dose(whole(name, answer.firing, answer.craft))
            if dose is None or dose.worked is None:
                continue
            assert "cyanide" not in " ".join(item.label for item in dose.worked.amounts).casefold(), name
            for line in (*(item.label for item in dose.worked.amounts), *dose.worked.do):
                assert not re.search(r"ammonia|boil|over a flame(?<!never over a flame)", line), (name, line)
            if name == "change-the-fixer":
                assert fixer == "hypo"
    remedy = knowledge.remedies["change-the-fixer"]
    assert remedy.dose == "fixer-hypo"
    assert not any(item.dose == "fixer-cyanide" for item in knowledge.remedies.values())
    assert not knowledge.solutions["fixer-cyanide"].part
