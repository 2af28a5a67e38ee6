"""Any plate at all: an answer, or one line that says what is wrong; and nothing typed reaches the terminal as a command to it."""

import io
import json
import math
from collections import Counter
from dataclasses import asdict
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from diagnose.advice.actions import Action
from diagnose.answer import diagnose
from diagnose.entries.observed import conditions_in
from diagnose.errors import PlateError
from diagnose.plate import Plate
from diagnose.record import action_record, answer_record
from diagnose.talk import commands, screens
from diagnose.talk.telling import as_command
from diagnose.talk.theme import make_look
from diagnose.units import UNITS, convert

FAST, SLOW = 75, 10_000
LONGEST_COMPLAINT = 4000

HOSTILE = [
    "", " ", "?", "yes", "no", "true", "null", "None", "nan", "inf", "-inf", "\x00", "\x1b[2J", "\x1b]0;title\x07", "\x9b31m",
    "\r\n", "\x85", "\u2028", "\x1c", "\u202e", "\u200b", "\ufeff", "\ud800", "🂡", "ß", "ﬁ", "İ", "²", "٣", "½", "a" * 300,
    "'; drop table plates; --", "../../etc/passwd", "${jndi:ldap://x}", "{0}", "%s%n", "[bold]", "fog\x1b[31m", " fog ", "FOG",
    "Fog\x1c", "-comets", "holder_wiped", "fog=", "a=b and c", "seen:fog", "state:hot-day", "not:x", "__class__", "answer",
]  # fmt: skip
AMOUNTS = [
    "28 °C", "82 F", "28", "300 °C", "-300 °C", "1e999 °C", "nan °C", "inf °C", "1e3 s", "5 min", "5 parsec", "°C", "2,5 min",
    "1.2.3 °C", "９ °C", "28\x00°C", "28 °C\x1b[31m", "28 °C\x1c", "9" * 13 + " °C", "0x1F °C", "--5 °C", "5 g/L",
    "45 gr/oz", "3 weeks", "0 min", "0 s", "1 L", "35 usfloz", "12 oz", "1.074", "13x18 cm", "0x0 cm", "whole plate", "pH 4",
    "f/5.6", "50 %", "-0 %", "1 ft3", "99999 L", "2026-04-01", "1e-9 mL",
]  # fmt: skip
# Days of a plate and dates on labels: right, wrong and no dates at all.
DAYS = ["2026-05-01", "2026-04-30", "2024-02-29", "0001-01-01", "9999-12-31"]
NO_DAYS = [
    "2026-13-01", "2026-02-30", "2026-5-1", "01.05.2026", "yesterday", "2026-05-01\x1b[31m", "２０２６-05-01", "-2026-05-01",
    "2026-05-01T10:00", "20260501", " ", "2026-W18-5", 20260501, None, ["2026-05-01"], math.nan,
]  # fmt: skip
NUMBERS = st.one_of(
    st.integers(),
    st.floats(),
    st.sampled_from([0, -1, 10**400, -(10**4000), math.nan, math.inf, -0.0, 1e308, True, False]),
)
JUNK = st.recursive(
    st.one_of(st.none(), NUMBERS, st.sampled_from(HOSTILE), st.text(max_size=12), st.binary(max_size=4)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.one_of(st.sampled_from(HOSTILE), st.integers()), inner, max_size=3),
        st.tuples(inner, inner),
        st.frozensets(st.integers(), max_size=2),
    ),
    max_leaves=8,
)


def deep(levels: int) -> object:
    """A table in a table in a table."""
    inner: object = True
    for _ in range(levels):
        inner = {"fog": inner}
    return inner


def good_answer(name, knowledge):
    """A condition with an answer it can have: any amount of its range in any unit of its kind."""
    entry = knowledge.conditions[name]
    if entry.kind != "quantity":
        return st.tuples(st.just(name), st.sampled_from([*sorted(entry.answers), "?"]))
    low, high = entry.range
    kind = UNITS[entry.unit.casefold()].kind
    units = sorted({unit.name for unit in UNITS.values() if unit.kind == kind})
    everyday = entry.ordinary or entry.range
    amount = st.one_of(st.floats(*everyday), st.floats(*everyday), st.sampled_from([low, high]), st.floats(low, high))

    def written(pair):
        value, unit = pair
        if unit != entry.unit:  # an end of the range in another unit may lie a hair outside it
            edge = (high - low) * 1e-6
            value = min(high - edge, max(low + edge, value))
        return f"{convert(value, entry.unit, unit):.12f} {unit}"

    return st.tuples(st.just(name), st.tuples(amount, st.just(entry.unit) | st.sampled_from(units)).map(written))


@pytest.fixture(scope="session")
def good_plates(knowledge):
    """Tables that are quite right, or nearly: what the sums ask is told more often than it would be by chance."""
    known = knowledge.conditions
    asked_by_sums = {
        tuple(
            dict.fromkeys(
                told
                for name in conditions_in(entry.uses)
                if name in known
                for told in ((name,) if known[name].is_asked else conditions_in(known[name].uses))
                if told in known
            )
        )
        for entry in (*known.values(), *knowledge.remedies.values())
        if entry.uses
    }
    ages = sorted(name for name, entry in known.items() if entry.unit == "d")

    def conditions(names, most):
        one = st.sampled_from(sorted(names)).flatmap(lambda name: good_answer(name, knowledge))
        return st.lists(one, max_size=most).map(dict)

    whole_sums = st.lists(
        st.sampled_from(sorted(asked_by_sums)).flatmap(
            lambda names: st.tuples(*(good_answer(n, knowledge) for n in names))
        ),
        min_size=1,
        max_size=4,
    ).map(lambda sums: {name: answer for one in sums for name, answer in one})
    told = st.tuples(conditions(known, 5), whole_sums).map(lambda parts: {**parts[0], **parts[1]})
    labels = st.dictionaries(st.sampled_from(ages), st.integers(0, 360), max_size=2)
    outcomes = [(name, outcome.id) for name, check in sorted(knowledge.checks.items()) for outcome in check.outcome]
    tables = st.fixed_dictionaries(
        {"conditions": told},
        optional={
            "symptoms": st.dictionaries(st.sampled_from(sorted(knowledge.symptoms)), st.booleans(), max_size=4),
            "checks": st.lists(st.sampled_from(outcomes), max_size=3).map(dict),
        },
    )
    return st.tuples(tables, labels, st.sampled_from([*DAYS[:3], ""])).map(lambda drawn: labelled(*drawn))


def labelled(table, labels, day):
    """The table with ages told by the dates on labels, so many days before the day of the plate."""
    if not day:
        return table
    dates = {name: str(date.fromisoformat(day) - timedelta(days=days)) for name, days in labels.items()}
    return {**table, "day": day, "conditions": {**table["conditions"], **dates}}


@pytest.fixture(scope="session")
def tables(knowledge, good_plates):
    """Tables that look like a plate, from quite right to not at all."""
    words = sorted({word for item in knowledge.symptoms.values() for word in (item.title, *item.synonyms)})
    signs = st.one_of(
        st.sampled_from(sorted(knowledge.symptoms)),
        st.sampled_from(words),
        st.sampled_from(HOSTILE),
        st.text(max_size=8),
    )
    looks = sorted({key for item in knowledge.symptoms.values() for key in item.attributes})
    values = sorted({value for item in knowledge.symptoms.values() for of in item.attributes.values() for value in of})
    look = st.dictionaries(
        st.sampled_from([*looks, "answer", "nonsense", "\x1b[31m"]),
        st.one_of(st.sampled_from([*values, "present", "absent"]), st.sampled_from(HOSTILE), JUNK),
        max_size=3,
    )
    plain = st.sampled_from([True, False, "yes", "no", "present", "absent", "unsure", "cant-tell", "?"])
    options = sorted({option for item in knowledge.conditions.values() for option in item.answers})
    told = st.one_of(st.sampled_from([*options, *AMOUNTS]), NUMBERS, st.sampled_from(HOSTILE), JUNK)
    outcomes = sorted({outcome.id for check in knowledge.checks.values() for outcome in check.outcome})

    def named(names):
        return st.one_of(st.sampled_from(sorted(names)), st.sampled_from(sorted(names)), st.sampled_from(HOSTILE))

    good_condition = st.sampled_from(sorted(knowledge.conditions)).flatmap(lambda name: good_answer(name, knowledge))
    parts = {
        "symptoms": st.one_of(
            st.dictionaries(signs, st.one_of(plain, plain, look, JUNK), max_size=6),
            st.dictionaries(st.sampled_from(sorted(knowledge.symptoms)), plain, max_size=8),
            st.lists(signs, max_size=5),
            JUNK,
        ),
        "conditions": st.one_of(
            st.lists(good_condition, max_size=6).map(dict),
            st.dictionaries(named(knowledge.conditions), told, max_size=6),
            JUNK,
        ),
        "checks": st.one_of(
            st.dictionaries(
                named(knowledge.checks),
                st.one_of(st.sampled_from(outcomes), st.sampled_from(HOSTILE), JUNK),
                max_size=3,
            ),
            JUNK,
        ),
        "tried": st.one_of(
            st.lists(
                st.one_of(
                    st.fixed_dictionaries(
                        {
                            "remedy": named(knowledge.remedies),
                            "result": st.sampled_from(["no-change", "better", "cured", "worse", "\x1b[0m", 5]),
                        }
                    ),
                    JUNK,
                ),
                max_size=3,
            ),
            JUNK,
        ),
        "story": st.one_of(st.text(max_size=20), st.sampled_from(HOSTILE), JUNK),
        "day": st.one_of(st.sampled_from([*DAYS, *NO_DAYS]), st.sampled_from(HOSTILE), st.dates().map(str), JUNK),
    }
    right = st.fixed_dictionaries(
        {},
        optional={
            "symptoms": st.dictionaries(st.sampled_from(sorted(knowledge.symptoms)), plain, max_size=8),
            "conditions": st.lists(good_condition, max_size=6).map(dict),
            "story": st.text(max_size=20),
            "day": st.sampled_from([*DAYS, *NO_DAYS]) | st.dates().map(str),
        },
    )
    return st.one_of(
        right,
        good_plates,
        st.fixed_dictionaries({}, optional=parts),
        st.dictionaries(st.sampled_from(HOSTILE), JUNK, max_size=2),
    )


def assert_harmless(screen: str) -> None:
    """Only letters and line ends."""
    strange = {letter for letter in screen if letter != "\n" and not letter.isprintable()}
    assert not strange, strange


def answer_or_one_line(table, knowledge):
    """Diagnose whatever this is; returns the diagnosis, or nothing if it was refused as it should be."""
    try:
        diagnosis = diagnose(table, knowledge)
    except PlateError as error:
        said = str(error)
        assert said
        assert said.isprintable(), repr(said)
        assert len(said) <= LONGEST_COMPLAINT
        return None
    chances = [chance for _, chance in diagnosis.ranking]
    assert all(0 <= chance <= 1 for chance in chances)
    assert len(chances) == len(knowledge.causes)
    for item in diagnosis.reckoned:
        low, high = knowledge.conditions[item.condition].range
        assert low <= item.value <= high
    return diagnosis


def assert_shows_well(diagnosis) -> None:
    """Every screen, the JSON and the command to go on with, without a trace of what was hostile."""
    json.dumps(asdict(answer_record(diagnosis)), allow_nan=False)
    out = io.StringIO()
    look = make_look(file=out, width=50)
    commands.show_answer(diagnosis, look, full=True, trace=True)
    look.show(screens.why_screen(diagnosis.ranking[0][0], diagnosis))
    look.show(screens.why_not_screen(diagnosis.ranking[-1][0], diagnosis))
    look.line(as_command(diagnosis.plate.told()))
    assert_harmless(out.getvalue())
    for line in out.getvalue().splitlines():
        assert len(line) <= 50 or line.startswith("diagnose plate")


def assert_doses_show_well(diagnosis) -> None:
    """Whatever was told, every remedy's dose is wanted, refused or worked out, and goes out as it should."""
    knowledge, out = diagnosis.craft.knowledge, io.StringIO()
    look = make_look(file=out, width=50)
    for name, remedy in knowledge.remedies.items():
        action = Action(name, "remedy", 0.5, (), 10.0, 1.0, 0, reversible=True, cautions=())
        record = action_record(action, diagnosis)
        if not remedy.dose:
            assert record.dose is None
            continue
        if record.dose is None:
            assert remedy.dose_when
            continue
        out_ = json.loads(json.dumps(asdict(record.dose), allow_nan=False))
        assert sum(map(bool, (out_["amounts"], out_["wants"], out_["refused"]))) == 1, name
        assert out_["refused"].isprintable()
        assert len(out_["refused"]) < 300
        for amount in out_["amounts"]:
            assert math.isfinite(amount["value"])
            assert amount["value"] >= 0 or amount["name"] == "stops"
            if "rounded down" in amount["rounding"]:
                assert amount["measured"] <= amount["value"] * (1 + 1e-6)
        assert all(not diagnosis.facts.knows(item["id"]) for item in out_["wants"])
        look.show(screens.amount_screen(action, diagnosis))
    assert_harmless(out.getvalue())
    assert max(len(line) for line in out.getvalue().splitlines()) <= 50


@settings(max_examples=FAST, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_plate_is_answered_or_refused_in_one_line(data, tables, knowledge):
    answer_or_one_line(data.draw(tables), knowledge)


@settings(max_examples=FAST // 15, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_whatever_is_answered_can_be_shown(data, tables, knowledge):
    diagnosis = answer_or_one_line(data.draw(tables), knowledge)
    if diagnosis is not None:
        assert_shows_well(diagnosis)


@settings(max_examples=FAST // 7, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_whatever_is_told_every_dose_can_be_shown(data, good_plates, knowledge):
    diagnosis = answer_or_one_line(data.draw(good_plates), knowledge)
    if diagnosis is not None:
        assert_doses_show_well(diagnosis)
        assert_shows_well(diagnosis)


def test_the_plates_drawn_come_to_the_sums_the_dates_and_the_doses(good_plates, knowledge):
    """The tests here would pass of themselves if nothing drawn were understood."""
    seen, worked_out = Counter(), set()

    @settings(max_examples=250, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
    @given(table=good_plates)
    def look(table):
        diagnosis = answer_or_one_line(table, knowledge)
        seen["drawn"] += 1
        if diagnosis is None:
            return
        seen["understood"] += 1
        worked_out.update(item.condition for item in diagnosis.reckoned)
        seen["dated"] += bool(diagnosis.facts.labels)
        for name, remedy in knowledge.remedies.items():
            if remedy.dose:
                dose = diagnosis.dose(Action(name, "remedy", 0.5, (), 10.0, 1.0, 0, reversible=True, cautions=()))
                seen["worked" if dose and dose.worked else "refused" if dose and dose.refused else "wanted"] += 1

    look()
    assert seen["understood"] > seen["drawn"] / 2
    from_sums = {name for name, entry in knowledge.conditions.items() if entry.reckoned_by}
    assert len(from_sums - worked_out) <= 1
    assert seen["dated"] > 20
    assert min(seen["worked"], seen["refused"], seen["wanted"]) > 50


@pytest.mark.parametrize("day", NO_DAYS, ids=ascii)
def test_a_day_that_is_none_is_refused_or_harmless(day, knowledge):
    """Also beside the date on a label, which wants a day to count from."""
    for table in ({"day": day}, {"day": day, "conditions": {"collodion_age": "2026-04-01"}}):
        diagnosis = answer_or_one_line(table, knowledge)
        if diagnosis is not None:
            assert not diagnosis.facts.labels
            assert_shows_well(diagnosis)
    dated = answer_or_one_line({"day": "2026-05-01", "conditions": {"collodion_age": day}}, knowledge)
    assert dated is None or "collodion_age" not in dated.facts.labels


def test_ages_as_dates_are_counted_and_shown(knowledge):
    ages = [name for name, entry in knowledge.conditions.items() if entry.unit == "d"]
    assert len(ages) >= 2
    table = {"symptoms": ["fog"], "day": "2026-05-01", "conditions": dict.fromkeys(ages, "2026-04-21")}
    diagnosis = answer_or_one_line(table, knowledge)
    assert diagnosis.facts.amounts == dict.fromkeys(ages, 10.0)
    assert_shows_well(diagnosis)
    for day, label in (("2026-05-01", "2026-05-02"), ("", "2026-04-21"), ("9999-12-31", "0001-01-01")):
        assert answer_or_one_line({"day": day, "conditions": {ages[0]: label}}, knowledge) is None


@pytest.mark.slow
@settings(max_examples=SLOW, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_ten_thousand_plates(data, tables, knowledge):
    diagnosis = answer_or_one_line(data.draw(tables), knowledge)
    if diagnosis is not None:
        assert_shows_well(diagnosis)


@settings(max_examples=FAST // 5, deadline=None, suppress_health_check=list(HealthCheck))
@given(table=st.dictionaries(st.text(max_size=4), JUNK, max_size=3))
@example(table={"symptoms": deep(3)})
@example(table={"story": "x" * 10_000})
@example(table={"symptoms": {f"sign {number}": True for number in range(2000)}})
@example(table={"symptoms": ["fog"] * 5000})
@example(table={"conditions": {"room_temperature": math.nan}})
@example(table={"tried": [{"remedy": "\x1b[31m", "result": "better"}] * 300})
@example(table={"symptoms": {"fog": {"place": "\x1b[31m"}, "\x1b[2J": {"\x07": "\x1b"}}})
@example(table={"symptoms": {"fog": {"answer": ["present"]}}})
@example(table={"symptoms": {"fog": {"answer": {}}}})
@example(table={"checks": {"proving-plate": {}}})
@example(table={1: 2})
@example(table={"symptoms": {None: True, 3: True}})
def test_junk_is_refused_in_one_line(table, knowledge):
    answer_or_one_line(table, knowledge)


@pytest.mark.parametrize("levels", [50, 900, 100_000])
@pytest.mark.parametrize("part", ["symptoms", "conditions", "checks", "tried", "story", "nonsense"])
def test_tables_in_tables_are_refused(part, levels, knowledge):
    for table in ({part: deep(levels)}, {part: {"fog": {"place": deep(levels)}}}, {part: [deep(levels)]}):
        assert answer_or_one_line(table, knowledge) is None


@pytest.mark.parametrize("table", [None, 5, "fog", [], ["fog"], b"fog", math.nan], ids=repr)
def test_what_is_no_table_at_all_is_refused(table, knowledge):
    with pytest.raises(PlateError):
        diagnose(table, knowledge)


@pytest.mark.parametrize("letters", [letter for letter in HOSTILE if not letter.isprintable()], ids=ascii)
def test_control_characters_in_any_place_are_kept_off_the_screen(letters, knowledge):
    """Also where they stand at the end of a name or an amount that is otherwise understood."""
    places = [
        {"symptoms": [f"fog{letters}"]},
        {"symptoms": [f"{letters}fog"]},
        {"symptoms": {"fog": {"colour": f"grey{letters}"}}},
        {"symptoms": {"fog": {f"colour{letters}": "grey"}}},
        {"symptoms": {"fog": f"present{letters}"}},
        {"conditions": {"room_temperature": f"28 °C{letters}"}},
        {"conditions": {"room_temperature": f"28{letters} °C"}},
        {"conditions": {"holder_wiped": f"{letters}no{letters}"}},
        {"conditions": {f"holder_wiped{letters}": "no"}},
        {"conditions": {"holder_wiped": f"?{letters}"}},
        {"checks": {"proving-plate": f"fogs{letters}"}},
        {"tried": [{"remedy": f"rest-bath-use-reserve{letters}", "result": "better"}]},
        {"story": letters},
        {letters: {}},
    ]
    for table in places:
        diagnosis = answer_or_one_line(table, knowledge)
        if diagnosis is not None:
            assert_shows_well(diagnosis)


def test_a_number_of_thousands_of_figures_is_refused(knowledge):
    """Python itself will not write it out, not even for an error."""
    number = 10**5000
    for table in (
        {"conditions": {"room_temperature": number}},
        {"conditions": {"holder_wiped": number}},
        {"checks": {"proving-plate": number}},
        {"symptoms": {"fog": number}},
        {"symptoms": {"fog": {"colour": number}}},
        {"symptoms": [number]},
        {"symptoms": number},
        {"tried": [{"remedy": number, "result": number}]},
        {"story": number},
    ):
        assert answer_or_one_line(table, knowledge) is None


def test_contradictions_are_met(knowledge):
    for table, words in (
        ({"symptoms": {"fog": True, "veil": False}}, "told twice"),
        ({"symptoms": {"fog": True, "FOG": True, "Fog": "?"}}, "told twice"),
    ):
        with pytest.raises(PlateError, match=words):
            diagnose(table, knowledge)
    everything = {"symptoms": dict.fromkeys(knowledge.symptoms, True)}
    nothing = {"symptoms": dict.fromkeys(knowledge.symptoms, False)}
    for table in (everything, nothing):
        assert_shows_well(answer_or_one_line(table, knowledge))


@pytest.mark.parametrize(
    ("end", "outright"), [(1, True), *(pytest.param(end, False, marks=pytest.mark.slow) for end in (0, 0.3))]
)
def test_all_that_can_be_told_at_once(end, outright, knowledge):
    """Every sign, every condition, every check, every remedy tried; what comes from sums told outright, and left to them."""
    conditions = {
        name: f"{entry.range[0] + end * (entry.range[1] - entry.range[0]):.9f} {entry.unit}"
        if entry.kind == "quantity"
        else min(entry.answers)
        for name, entry in knowledge.conditions.items()
        if outright or entry.is_asked
    }
    told = Plate.read(
        {
            "symptoms": dict.fromkeys(knowledge.symptoms, True),
            "conditions": conditions,
            "checks": {name: check.outcome[0].id for name, check in knowledge.checks.items() if check.outcome},
            "tried": [{"remedy": name, "result": "no-change"} for name in knowledge.remedies],
        }
    )
    diagnosis = answer_or_one_line(told, knowledge)
    assert_shows_well(diagnosis)
    assert_doses_show_well(diagnosis)
