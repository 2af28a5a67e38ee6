"""A file of answers goes in and out whole, whatever the names; the report says no more than the numbers bear."""

import io
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.errors import BookError
from diagnose.talk.drill_keeping import answers_in, keep_answer
from diagnose.talk.drill_report import name_words, show_report
from diagnose.talk.theme import make_look
from diagnose.teaching.records import Answer, as_line, memory_of, read_lines
from diagnose.teaching.repetition import WAITS, Item
from diagnose.teaching.report import Trend, calibration, confusions, report_on, to_practise, trend_of
from diagnose.teaching.scoring import Named, score

DIRTY, BACK = "holder-and-camera/dirty-holder", "holder-and-camera/silver-on-the-back"
HOSTILE = [
    "\x1b[2J\x1b[31m", "\x00", "a\nb", "\u202etxt", "<script>alert(1)</script>", "'; DROP TABLE", "$(reboot)", "[bold]x", "{0}",
    "\ud800", "🂡", "../../etc/passwd", "--help", " ", "名前", "%s",
]  # fmt: skip
names = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=80))


def answer(named=((DIRTY, 0.7),), causes=(DIRTY,), **more):
    given_ = tuple(Named(*pair) for pair in named)
    usual = {"day": "2026-05-01", "exercise": "may/1", "level": "easy", "tool": 60.0, "sign": "comets"}
    usual["chances"] = (0.3,) * len(causes)
    return Answer(**{**usual, "causes": causes, "named": given_, "points": score(given_, causes), **more})


@given(names, st.floats(0.01, 1), st.sampled_from(["", "?", "fog", "comets"]))
def test_an_answer_comes_back_as_it_was(name, sure, taken):
    first = answer(((DIRTY, sure), (BACK, 0.2)), student=name, sign_named=taken, lost=3.5, step="x", verdict="speaks")
    line = as_line(first)
    assert line.isascii()
    assert line.count("\n") == 1
    assert read_lines(line + line, "f").answers == (first, first)


def test_the_file_grows_by_whole_lines(tmp_path, draw_look):
    file = str(tmp_path / "class.jsonl")
    assert answers_in(file, draw_look()[0], may_be_new=True) == ()
    for number in range(3):
        keep_answer(file, answer(student="Anna", exercise=f"may/{number}"))
    with Path(file).open("ab") as target:
        target.write(as_line(answer())[:40].encode())
    look, out = draw_look()
    assert len(answers_in(file, look)) == 3
    assert "broken off" in out.getvalue()
    keep_answer(file, answer(student="Ben"))
    look, out = draw_look()
    assert [it.student for it in answers_in(file, look)] == ["Anna", "Anna", "Anna", "Ben"]
    assert not out.getvalue()


@pytest.mark.parametrize(
    "bad",
    [
        "nonsense", "[]", "{}", "null", "1" * 30_000, '{"student": 1}', "[" * 5000,
        json.dumps({**json.loads(as_line(answer())), "points": float("nan")}),
        json.dumps({**json.loads(as_line(answer())), "points": 10**400}),
        json.dumps({**json.loads(as_line(answer())), "named": [["a", 7]]}),
        json.dumps({**json.loads(as_line(answer())), "named": [["a", 0.1], ["a", 0.2]]}),
        json.dumps({**json.loads(as_line(answer())), "causes": []}),
        json.dumps({**json.loads(as_line(answer())), "chances": [0.5, 0.5]}),
        json.dumps({**json.loads(as_line(answer())), "chances": [7]}),
        json.dumps({**json.loads(as_line(answer())), "day": "yesterday"}),
        json.dumps({**json.loads(as_line(answer())), "verdict": "guilty"}),
    ],
)  # fmt: skip
def test_a_bad_line_is_told_with_its_number(bad):
    with pytest.raises(BookError, match=r"f:2: .+") as told:
        read_lines(as_line(answer()) + bad + "\n" + as_line(answer()), "f")
    assert "diagnose drill --keep FILE" in str(told.value)


def test_a_file_that_is_something_else_is_left_alone(tmp_path, draw_look):
    """Its last line has no line end, as a broken one of ours would: it must not be cut off."""
    path = tmp_path / "thesis.txt"
    path.write_text("dear reader", "utf-8")
    with pytest.raises(BookError):
        answers_in(str(path), draw_look()[0], may_be_new=True)
    assert path.read_text("utf-8") == "dear reader"


def test_what_was_missed_is_remembered_from_the_file():
    memory = memory_of([answer(((BACK, 0.9),), sign_named="fog")])
    assert memory.waiting.keys() == {Item("cause", DIRTY), Item("sign", "comets")}
    memory = memory_of([answer(((BACK, 0.9),), sign_named="fog")] + [answer(sign_named="comets")] * WAITS[0])
    assert {when.step for when in memory.waiting.values()} == {3}


def test_calibration_is_judged_only_where_there_is_enough():
    few = calibration([answer(((DIRTY, 0.95),), (BACK,))] * 5)
    assert [(grade.word, grade.named, grade.right, grade.fit) for grade in few] == [("sure", 5, 0, "too few to tell")]
    assert calibration([answer(((DIRTY, 0.95),), (BACK,))] * 10)[0].fit == "too sure"
    assert calibration([answer(((DIRTY, 0.4),))] * 10)[0].fit == "not sure enough"
    mixed = [answer(((DIRTY, 0.7),), (DIRTY if number % 10 < 7 else BACK,)) for number in range(20)]
    assert calibration(mixed)[0].fit == "fits"


def test_confusions_say_which_for_which():
    rows = confusions(
        [answer(((BACK, 0.9),), sign_named="fog")] * 2
        + [answer(sign_named="comets"), answer((), sign_named="?"), answer(((BACK, 0.5), (DIRTY, 0.3)))]
    )
    found = {(row.kind, row.true, row.taken): (row.times, row.seen) for row in rows}
    assert found == {
        ("sign", "comets", "fog"): (2, 4),
        ("sign", "comets", "?"): (1, 4),
        ("cause", DIRTY, BACK): (2, 5),
        ("cause", DIRTY, ""): (1, 5),
    }


def test_a_trend_is_spoken_of_only_when_it_is_one():
    good, bad = answer(((DIRTY, 0.95),)), answer(((BACK, 0.95),))
    assert trend_of([bad] * 4 + [good] * 5) is None
    assert trend_of([bad, bad, bad, good] * 2 + [good, good, good, bad] * 2).words == "better, though it may be chance"
    assert trend_of([good, bad] * 8).words == "no clear change"
    clear = trend_of([bad] * 9 + [good] * 10)
    assert isinstance(clear, Trend)
    assert clear.words == "clearly better"


def test_the_trend_is_measured_against_the_tool_so_that_harder_plates_are_no_fall():
    easy = [answer(((DIRTY, 0.9),), tool=99.0)] * 8
    hard = [answer(((BACK, 0.1),), tool=0.0)] * 8
    assert trend_of(easy + hard).words == "no clear change"


def test_practice_begins_with_what_is_missed_most_not_with_one_bad_day():
    often = [answer(((BACK, 0.9),), student=f"s{number % 3}") for number in range(8)]
    once = [answer(((DIRTY, 0.9),), ("fixing/fixed-too-little",))]
    rows = to_practise(often + once)
    assert rows[0].item == Item("cause", DIRTY)
    assert (rows[0].missed, rows[0].seen, rows[0].students, rows[0].taken) == (8, 8, 3, BACK)


def test_a_right_answer_for_a_wrong_reason_is_counted_apart():
    found = report_on(
        [answer(verdict="against"), answer(verdict="strongest"), answer(((BACK, 0.5),), verdict="against")]
    )
    assert (found.whole.lucky, found.whole.reasoned) == (1, 2)


def test_missing_what_the_tool_could_not_see_either_is_no_fault():
    hidden = answer(((BACK, 0.9),), chances=(0.04,))
    assert (hidden.visible, hidden.missed) == ((), ())
    assert confusions([hidden]) == ()
    assert memory_of([hidden]).waiting == {}
    assert answer(chances=(0.04,)).visible == (DIRTY,)


def test_stages_are_counted_together_because_single_causes_come_seldom():
    rows = report_on(
        [answer(((BACK, 0.9),))] * 3 + [answer()] + [answer(causes=("fixing/fixed-too-little",))]
    ).whole.stages
    assert [(row.stage, row.missed, row.seen) for row in rows] == [("holder-and-camera", 3, 4), ("fixing", 1, 1)]


def test_no_answers_no_report():
    assert report_on([]) is None


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_does_nothing_to_the_screen(name, knowledge, draw_look):
    look, out = draw_look()
    show_report(
        report_on([answer(student=name), answer(student="Anna", causes=("gone/cause",), sign="gone")]), knowledge, look
    )
    screen = out.getvalue()
    assert all(letter == "\n" or letter.isprintable() for letter in screen)
    assert name_words(name) in screen.replace("\n", " ")


@pytest.fixture
def draw_look():
    def made():
        out = io.StringIO()
        return make_look(file=out, width=96, plain=True), out

    return made
