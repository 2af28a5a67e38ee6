"""The plate against the knowledge: names found, amounts in their units, everything wrong told at once."""

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose import Plate
from diagnose.errors import PlateError
from diagnose.facts import MOST_COMPLAINTS, Facts, find_symptom, plain, understand


def facts_of(knowledge, **told):
    return understand(Plate.read(told), knowledge)


def error_of(knowledge, **told):
    with pytest.raises(PlateError) as caught:
        facts_of(knowledge, **told)
    assert str(caught.value).isprintable()
    return str(caught.value)


def test_everything_finds_its_place(knowledge):
    facts = facts_of(
        knowledge,
        symptoms={"comets": {"place": "lower-part"}, "fog": False, "frilling": "unsure", "pinholes": "?"},
        conditions={"room_temperature": "82.4 °F", "fixer": "Hypo", "bath_plates": 30, "room_humidity": "?"},
        checks={"litmus-on-bath": "blue-reddens-slowly", "proving-plate": "?"},
        tried=[{"remedy": "filter-the-bath", "result": "no-change"}],
    )
    assert facts.present == {"comets": {"place": "lower-part"}}
    assert facts.unsure == {"film-lifting": {}}
    assert facts.absent == {"fog"}
    assert facts.open == {"pinholes", "room_humidity", "proving-plate"}
    assert facts.amounts == {"room_temperature": pytest.approx(28), "bath_plates": 30}
    assert facts.options == {"fixer": "hypo"}
    assert facts.outcomes == {"litmus-on-bath": "blue-reddens-slowly"}
    assert facts.tried == (("filter-the-bath", "no-change"),)
    assert facts.knows("fixer")
    assert not facts.knows("room_humidity")
    for name in ("comets", "fog", "film-lifting", "pinholes", "room_humidity", "fixer", "litmus-on-bath"):
        assert facts.answered(name)
    assert not facts.answered("reserve-bath")
    assert facts.value_words("room_temperature", knowledge) == "28 °C"
    assert facts.value_words("fixer", knowledge) == knowledge.conditions["fixer"].options["hypo"]


def test_nothing_told_is_nothing_known(knowledge):
    assert facts_of(knowledge) == Facts()


def test_everything_wrong_is_told_in_one_line(knowledge):
    words = error_of(
        knowledge,
        symptoms={"comits": True, "fog": {"place": "moon", "smell": "sour"}},
        conditions={"room_temperature": "28", "rom_humidity": "50 %", "fixer": "vinegar"},
        checks={"litmus-on-bath": "purple", "litmus": "?"},
        tried=[{"remedy": "pray", "result": "cured"}],
    )
    for part in (
        "no symptom called 'comits'; did you mean 'comets'",
        "fog: no place called moon; use one of: whole-plate",
        "fog is not described by smell; it may be told: place",
        "room_temperature: '28' has no unit",
        "no condition called 'rom_humidity'; did you mean 'room_humidity'",
        "fixer: no answer vinegar; use one of: hypo",
        "litmus-on-bath: no outcome purple; use one of: ",
    ):
        assert part in words
    assert "; and 1 more" in words  # nine faults, of which eight are told


def test_dozens_of_faults_are_still_one_short_line(knowledge):
    words = error_of(knowledge, symptoms={f"never heard of {number}": True for number in range(60)})
    assert words.count("no symptom called") == MOST_COMPLAINTS
    assert words.endswith("; and 52 more")


@pytest.mark.parametrize(
    ("told", "near"),
    [
        ("comits", "'comets'"),
        ("pinhole", "'pinholes'"),
        ("fogg", "'fog'"),
        ("friling", "'frilling'"),
        ("oyster shel edges", "oyster"),
    ],
)
def test_an_unknown_symptom_gives_near_names(told, near, knowledge):
    words = error_of(knowledge, symptoms=[told])
    assert words.startswith(f"no symptom called {told!r}; did you mean ")
    assert near in words
    assert "`diagnose symptoms` lists them" in words


def test_a_symptom_like_no_other_gives_no_hint(knowledge):
    assert error_of(knowledge, symptoms=["qqqqqqq"]) == "no symptom called 'qqqqqqq'; `diagnose symptoms` lists them"


def test_a_temperature_without_a_unit_says_what_is_accepted(knowledge):
    expected = "room_temperature: '28' has no unit; write a number and one of: °C, °F"
    assert error_of(knowledge, conditions={"room_temperature": "28"}) == expected
    assert error_of(knowledge, conditions={"room_temperature": 28}) == expected


def test_an_impossible_temperature_says_the_accepted_range(knowledge):
    low, high = knowledge.conditions["room_temperature"].range
    words = error_of(knowledge, conditions={"room_temperature": "300 °C"})
    between = f"anything from {low:g} °C to {high:g} °C is accepted"
    assert words == f"room_temperature: 300 °C cannot be right; {between}"
    assert between in error_of(knowledge, conditions={"room_temperature": "-300 °F"})


def test_the_ends_of_the_range_are_accepted(knowledge):
    for amount in knowledge.conditions["room_temperature"].range:
        told = facts_of(knowledge, conditions={"room_temperature": f"{amount:g} °C"})
        assert told.amounts == {"room_temperature": amount}


@pytest.mark.parametrize(
    "number", [float("nan"), float("inf"), -float("inf"), 1e300, -1e300, 10**400, -1, 1e-300, 28.5]
)
def test_numbers_without_sense_or_unit_are_refused(number, knowledge):
    assert error_of(knowledge, conditions={"room_temperature": number}).startswith("room_temperature: ")


@pytest.mark.parametrize("number", [float("nan"), float("inf"), 1e300, -5, "-5 plates", "1e3", "∞"])
def test_counts_without_sense_are_refused(number, knowledge):
    assert error_of(knowledge, conditions={"bath_plates": number}).startswith("bath_plates: ")


def test_numbers_of_thousands_of_figures_are_refused(knowledge):
    for figures in (400, 5000):
        for name in ("room_temperature", "bath_plates"):
            assert error_of(knowledge, conditions={name: 10**figures}).startswith(f"{name}: ")
        assert "fog: no place called" in error_of(knowledge, symptoms={"fog": {"place": 10**figures}})


@pytest.mark.parametrize("answer", ["?", "", " ", "unknown", "Dont-Know", "don't know", "cant-tell"])
def test_the_ways_not_to_know(answer, knowledge):
    assert facts_of(knowledge, conditions={"room_temperature": answer}).open == {"room_temperature"}
    assert facts_of(knowledge, checks={"proving-plate": answer}).open == {"proving-plate"}


def test_an_attribute_not_known_is_left_out(knowledge):
    assert facts_of(knowledge, symptoms={"fog": {"place": "?"}}).present == {"fog": {}}


def test_a_check_answered_by_conditions_says_so(knowledge):
    name, check = next((name, check) for name, check in knowledge.checks.items() if not check.outcome)
    assert error_of(knowledge, checks={name: "yes"}) == (
        f"{name} has no outcomes of its own; give its conditions: {', '.join(check.answers)}"
    )


def test_synonyms_resolve(knowledge):
    owners = {}
    for name, symptom in knowledge.symptoms.items():
        for word in {plain(word) for word in (*symptom.synonyms, *symptom.period)}:
            owners.setdefault(word, []).append(name)
    names = {plain(word): name for name, item in knowledge.symptoms.items() for word in (name, item.title)}
    for word, owner in owners.items():
        expected = names.get(word) or (owner[0] if len(owner) == 1 else None)
        assert find_symptom(word, knowledge) == expected, word
        if expected:
            assert list(facts_of(knowledge, symptoms=[word.upper()]).present) == [expected]


@pytest.mark.parametrize(
    "words", ["Oyster-Shell Marks", "oyster_shell_marks", "  OYSTER shell  marks ", "oyster-shell-marks"]
)
def test_case_hyphens_and_spaces_do_not_matter(words, knowledge):
    assert find_symptom(words, knowledge) == "oyster-shell-marks"


def test_nothing_is_no_symptom(knowledge):
    assert find_symptom("", knowledge) is None
    assert find_symptom(" - _ ", knowledge) is None


def test_one_symptom_told_twice_is_refused(knowledge):
    words = error_of(knowledge, symptoms={"frilling": True, "film-lifting": False})
    assert words == "film-lifting is told twice, as frilling too; keep one"


HOSTILE = st.one_of(
    st.text(alphabet="\x1b\x07\x00\n\r\t\x7f\x9b\u202e\u2028\ud800[2J;]0", min_size=1),
    st.text(max_size=30),
    st.sampled_from(["\x1b[2J", "\x1b]0;x\x07", "\u202egof", "x" * 5000, "28 °C\x1b[31m", "nan", "-inf °C", "9" * 300]),
    st.text(alphabet=string.digits + " .,°CF%-+e/gLr", max_size=20),
)
NUMBER = st.one_of(st.floats(), st.integers(), st.sampled_from([10**400, -(10**400)]))
NAME = st.one_of(
    HOSTILE,
    st.sampled_from(["fog", "comets", "frilling", "room_temperature", "fixer", "bath_plates", "proving-plate"]),
)
ANSWER = st.one_of(
    HOSTILE, NUMBER, st.booleans(), st.dictionaries(st.sampled_from(["place", "colour"]) | HOSTILE, HOSTILE, max_size=2)
)
TOLD = st.fixed_dictionaries(
    {},
    optional={
        "symptoms": st.dictionaries(NAME, ANSWER, max_size=4) | st.lists(NAME, max_size=3),
        "conditions": st.dictionaries(NAME, HOSTILE | NUMBER | st.booleans(), max_size=4),
        "checks": st.dictionaries(NAME, HOSTILE, max_size=2),
        "tried": st.lists(st.fixed_dictionaries({"remedy": NAME, "result": HOSTILE | st.just("cured")}), max_size=2),
    },
)


def facts_or_words(told, knowledge):
    try:
        return understand(Plate.read(told), knowledge), ""
    except PlateError as error:
        return None, str(error)


@settings(max_examples=150)
@given(told=TOLD)
def test_any_name_or_value_is_known_or_one_printable_line(told, knowledge):
    facts, words = facts_or_words(told, knowledge)
    if facts is None:
        assert words
        assert words.isprintable()
        assert len(words) < 6000
    else:
        assert {*facts.present, *facts.unsure, *facts.absent} <= {*knowledge.symptoms}
        assert {*facts.amounts, *facts.options} <= {*knowledge.conditions}
        for name, amount in facts.amounts.items():
            low, high = knowledge.conditions[name].range
            assert low <= amount <= high


SYMPTOMS = [("comets", True), ("frilling", False), ("fog", {"place": "whole-plate"}), ("pinholes", "?")]
CONDITIONS = [("room_temperature", "28 °C"), ("fixer", "hypo"), ("bath_plates", "30"), ("room_humidity", "?")]
CHECKS = [("litmus-on-bath", "blue-reddens-slowly"), ("proving-plate", "fogs")]
WRONG = [("comits", True), ("streeks", True), ("pin holes", True), ("fogg", True)]


@given(st.permutations(SYMPTOMS), st.permutations(CONDITIONS), st.permutations(CHECKS))
def test_the_order_of_entry_does_not_matter(knowledge, symptoms, conditions, checks):
    told = facts_of(knowledge, symptoms=dict(symptoms), conditions=dict(conditions), checks=dict(checks))
    first = facts_of(knowledge, symptoms=dict(SYMPTOMS), conditions=dict(CONDITIONS), checks=dict(CHECKS))
    assert told == first
    assert list(told.present) == list(first.present)
    assert list(told.amounts) == list(first.amounts)


@settings(max_examples=15)
@given(st.permutations(SYMPTOMS + WRONG))
def test_nor_does_it_for_what_is_wrong(knowledge, symptoms):
    assert error_of(knowledge, symptoms=dict(symptoms)) == error_of(knowledge, symptoms=dict(SYMPTOMS + WRONG))


def test_an_age_may_be_told_by_the_date_on_the_label(knowledge):
    facts = understand(Plate(conditions={"collodion_age": "2026-05-01"}, day="2026-07-30"), knowledge)
    assert facts.amounts == {"collodion_age": 90}
    assert facts.value_words("collodion_age", knowledge) == "90 d, from its label of 2026-05-01"


@pytest.mark.parametrize(
    ("label", "day", "words"),
    [
        ("2026-05-01", "", "say the day of the plate too"),
        ("2026-05-01", "2026-04-30", "comes after the day of the plate"),
        ("1990-05-01", "2026-04-30", "cannot be right"),
        ("2026-02-30", "2026-04-30", "collodion_age"),
    ],
)
def test_a_label_that_cannot_be_right_is_asked_back(knowledge, label, day, words):
    with pytest.raises(PlateError, match=words):
        understand(Plate(conditions={"collodion_age": label}, day=day), knowledge)


@pytest.mark.parametrize(
    "day", ["yesterday", "2026-02-30", "20260501", "2026-W18-5", " 2026-5-1 ", 5, ["2026-05-01"], {}]
)
def test_a_day_that_is_no_date(day):
    with pytest.raises(PlateError, match="write it as 2026-05-01"):
        Plate(day=day)
