"""Any entry of a daybook that the program could have kept, for hypothesis."""

from datetime import date

from hypothesis import strategies as st

from diagnose.daybook.book import OUTCOMES, THINGS, WORKS, Given, Moment, NoteEntry, PlateEntry, ValueEntry, WorkEntry

WORDS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=30)
AWKWARD = st.sampled_from(
    ["=1+1", "+a", "-", "@sum", "\t=x", "'=x", "''", "a;=1", 'q"q', "a\r\nb", "\ufeff", "[[entries]]", "#", "'''", '"""', "\x7f",
     "\x85", "\u2028", "a\n[[entries]]\nb", "\\", "é", "🂡", " lead", "trail ", ";", ",", "sep=;", "<b>", "\x1b[2J", " =1"]
)  # fmt: skip
TEXT = st.one_of(WORDS, AWKWARD)
NAME = st.one_of(TEXT, st.sampled_from(["B", "May batch", "no. 2"]))
MOMENTS = st.builds(
    Moment,
    st.integers(-(10**9), 10**10),
    st.dates(date(1851, 1, 1), date(2199, 12, 31)).map(str),
    st.one_of(st.just(""), st.times().map(lambda time: f"{time:%H:%M}")),
)
VALUES = {
    "room_temperature": ["28 °C", "82 F", "?", "-3 °C"], "holder_wiped": ["yes", "no"], "light": ["daylight", "window"],
    "exposure_time": ["4 s", "1/2 s", "2,5 s"], "collodion_age": ["3 weeks"], "bath_plates": ["40"],
}  # fmt: skip
PROBABILITY = st.floats(0, 1)


@st.composite
def told(draw, knowledge):
    parts = {}
    names = draw(st.lists(st.sampled_from(sorted(knowledge.symptoms)), max_size=3, unique=True))
    if names:
        parts["symptoms"] = {name: draw(_said(knowledge.symptoms[name])) for name in names}
    conditions = draw(st.lists(st.sampled_from(sorted(VALUES)), max_size=2, unique=True))
    if conditions:
        parts["conditions"] = {name: draw(st.sampled_from(VALUES[name])) for name in conditions}
    if draw(st.booleans()):
        check = draw(st.sampled_from([name for name, item in sorted(knowledge.checks.items()) if item.outcome]))
        parts["checks"] = {check: draw(st.sampled_from([one.id for one in knowledge.checks[check].outcome]))}
    if draw(st.booleans()):
        remedy = draw(st.sampled_from(sorted(knowledge.remedies)))
        parts["tried"] = [{"remedy": remedy, "result": draw(st.sampled_from(["no-change", "better", "cured"]))}]
    story = draw(TEXT)
    return parts | ({"story": story} if story else {})


def _said(symptom):
    tables = st.fixed_dictionaries(
        {"answer": st.sampled_from(["present", "absent", "unsure", "cant-tell"])},
        optional={name: st.sampled_from(values) for name, values in symptom.attributes.items()},
    )
    return st.one_of(tables, st.booleans(), st.sampled_from(["yes", "unsure", "?"]))


def entries(knowledge):
    causes = sorted(knowledge.causes)
    names = st.dictionaries(st.sampled_from(THINGS), NAME, max_size=3)
    given = st.builds(
        Given, version=TEXT, causes=st.dictionaries(st.sampled_from(causes), PROBABILITY, max_size=3), first=TEXT,
        unlisted=PROBABILITY,
    )  # fmt: skip
    plates = st.builds(
        PlateEntry, moment=MOMENTS, outcome=st.sampled_from(OUTCOMES), told=told(knowledge), made_with=names,
        size=st.one_of(st.none(), st.floats(0.1, 20_000)), given=st.one_of(st.none(), given),
        confirmed=st.sampled_from(["", *causes]), confirmed_by=st.sampled_from(["", "cure", "check", "person"]),
        who=NAME, note=TEXT,
    )  # fmt: skip
    works = st.builds(
        WorkEntry, moment=MOMENTS, work=st.sampled_from(WORKS), thing=st.sampled_from(THINGS), name=NAME,
        remedy=st.sampled_from(["", *sorted(knowledge.remedies)]),
        amount=st.sampled_from(["", "50 mL", "2,5 g", "12 drops", "3 apoz"]),
        who=NAME, note=TEXT,
    )  # fmt: skip
    values = st.sampled_from(sorted(VALUES)).flatmap(
        lambda name: st.builds(
            ValueEntry, moment=MOMENTS, condition=st.just(name), value=st.sampled_from(["", *VALUES[name]]), name=NAME
        )
    )
    notes = st.builds(NoteEntry, moment=MOMENTS, note=TEXT.filter(bool), who=NAME)
    return st.one_of(plates, works, values, notes)
