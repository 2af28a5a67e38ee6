"""Any plate at all: an answer, or one line that says what is wrong; and nothing typed reaches the terminal as a command to it."""

import io
import json
import math
from dataclasses import asdict

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from diagnose.answer import diagnose
from diagnose.errors import PlateError
from diagnose.plate import Plate
from diagnose.record import answer_record
from diagnose.talk import commands, screens
from diagnose.talk.telling import as_command
from diagnose.talk.theme import make_look

FAST, SLOW = 200, 10_000
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
    "45 gr/oz", "3 weeks",
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


@pytest.fixture(scope="session")
def tables(knowledge):
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

    good_condition = st.sampled_from(sorted(knowledge.conditions)).flatmap(
        lambda name: st.tuples(
            st.just(name), st.sampled_from([*sorted(knowledge.conditions[name].answers), "?", *AMOUNTS[:3]])
        )
    )
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
    }
    right = st.fixed_dictionaries(
        {},
        optional={
            "symptoms": st.dictionaries(st.sampled_from(sorted(knowledge.symptoms)), plain, max_size=8),
            "conditions": st.lists(good_condition, max_size=6).map(dict),
            "story": st.text(max_size=20),
        },
    )
    return st.one_of(
        right, st.fixed_dictionaries({}, optional=parts), st.dictionaries(st.sampled_from(HOSTILE), JUNK, max_size=2)
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


def test_all_that_can_be_told_at_once(knowledge):
    """Every sign, every condition, every check, every remedy tried."""
    conditions = {
        name: f"{entry.range[1]:g} {entry.unit}" if entry.kind == "quantity" else min(entry.answers)
        for name, entry in knowledge.conditions.items()
    }
    told = Plate.read(
        {
            "symptoms": dict.fromkeys(knowledge.symptoms, True),
            "conditions": conditions,
            "checks": {name: check.outcome[0].id for name, check in knowledge.checks.items() if check.outcome},
            "tried": [{"remedy": name, "result": "no-change"} for name in knowledge.remedies],
        }
    )
    assert_shows_well(answer_or_one_line(told, knowledge))
