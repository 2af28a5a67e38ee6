"""The talk as a lesson: the guess first, one change, the notebook last."""

import io

import pytest

from diagnose.plate import Plate
from diagnose.talk.lesson import Lesson
from diagnose.talk.theme import make_look

TOLD = {"symptoms": {"oyster-shell-marks": True}}


@pytest.fixture
def learn(knowledge):
    def type_in(lines, told=TOLD, **look):
        out = io.StringIO()
        typed = iter(lines)

        def listen(prompt):
            out.write(prompt)
            for line in typed:
                out.write(f"{line}\n")
                return line
            raise EOFError

        looks = make_look(file=out, **{"width": 80, **look})
        talk = Lesson(knowledge, looks, listen, Plate.read(told or {}).told(), "sitter-waiting")
        talk.run()
        return talk, out.getvalue()

    return type_in


def test_the_guess_comes_before_the_ranking(learn):
    talk, screen = learn(["1 sure", "2 40", "", "q"])
    before, _, rest = screen.partition("Change this before the next pour")
    assert rest
    assert "what do you think it is?" in before
    assert "What it may be" not in before
    assert [name.sure for name in talk.guess] == [0.95, 0.4]
    assert "Your guess beside it" in rest


def test_it_is_asked_once(learn):
    _, screen = learn(["1 sure", "", "1", "1", "1", "q"])
    assert screen.count("what do you think it is?") == 1


def test_one_change_a_plate(learn):
    talk, screen = learn(["?", "q"])
    assert talk.mode == "find-out"
    assert "Change nothing else on this plate" in screen
    assert "Do these quick things too" not in screen


def test_no_points_where_nobody_knows_the_truth(learn):
    _, screen = learn(["1", "2", "", "q"])
    assert "points" not in screen


def test_it_ends_with_what_to_write_down(learn):
    talk, screen = learn(["1 sure", "", "q"])
    notes = screen.split("For your notebook")[1]
    for words in (
        "Date: ",
        "The plate showed: Oyster-shell",
        "I thought: ",
        "The tool thought: ",
        "and nothing else: ",
    ):
        assert words in " ".join(notes.split())
    assert notes.rstrip().splitlines()[-1].startswith("diagnose plate --talk --lesson ")
    assert talk.guess


def test_a_cure_is_written_down(learn):
    _, screen = learn(["?", "t", "1", "3"])
    notes = " ".join(screen.split("For your notebook")[1].split())
    assert "Next plate: good" in notes
    assert "It worked." in notes


@pytest.mark.parametrize("lines", [[], ["u", "u"], ["q"], ["1"], ["1 sure"], ["1 sure", ""]])
def test_the_input_may_end_anywhere(learn, lines):
    _, screen = learn(lines)
    assert "diagnose plate --talk --lesson" in screen


def test_leaving_before_anything_is_told_writes_nothing(learn):
    _, screen = learn(["q"], told=None)
    assert "For your notebook" not in screen


def test_it_reads_the_same_on_a_narrow_screen(learn):
    lines = ["1 sure", "", "q"]
    wide, narrow = (" ".join(learn(lines, width=width)[1].split()) for width in (80, 50))
    assert wide == narrow
