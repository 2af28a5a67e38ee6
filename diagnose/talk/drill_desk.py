"""What `diagnose drill` does: practise, make a set for a class, report."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from diagnose.errors import BookError, PlateError, near, printable
from diagnose.plate import LONGEST_TEXT, shown
from diagnose.reasoning.craft import craft_of
from diagnose.talk.around import Around
from diagnose.talk.clock import today
from diagnose.talk.day_papers import write_out
from diagnose.talk.drill_keeping import answers_in, of_student
from diagnose.talk.drill_picture import HOW_TO_GET, Ways, ways_of
from diagnose.talk.drilling import Drill, Wanted, fresh_seed, seeded
from diagnose.talk.listening import listen_to_terminal
from diagnose.teaching.exercise import Exercise
from diagnose.teaching.looks import draw, pictures_can_be_drawn
from diagnose.teaching.records import LONGEST_NAME

ENDINGS = (".html", ".txt", ".json")


def practise(around: Around, options: Mapping[str, Any]) -> None:
    """Drill one student.

    Args:
        around: book and screen
        options: count, seed, level, student, keep, from_book, pictures, words

    Raises:
        DiagnoseError: a file cannot be used
    """
    student = options["student"].strip()
    if len(student) > LONGEST_NAME:
        raise PlateError(f"--student {shown(student)!r} is longer than {LONGEST_NAME} letters; use a shorter name")
    before = answers_in(options["keep"], around.look, may_be_new=True) if options["keep"] else ()
    book = None
    if options["from_book"]:
        if around.empty():
            return
        with around.opened() as store:
            book = store.read()
    wanted = Wanted(
        seed=options["seed"],
        count=options["count"],
        level=options["level"] or "",
        student=student,
        keep=options["keep"],
        day=today(),
    )
    ways = Ways(False, None, "") if options["words"] else ways_of(around.look, options["pictures"])
    craft = craft_of(around.knowledge)
    Drill(craft, around.look, listen_to_terminal, wanted, ways, book, of_student(before, student)).run()


def make_set(around: Around, options: Mapping[str, Any]) -> None:
    """Make a numbered set for a class, with its key.

    Args:
        around: the screen
        options: paper, seed, count, level, title, words, pictures

    Raises:
        BookError: the file cannot be written
    """
    from diagnose.teaching.class_set import class_set, set_record, set_text

    file, seed = options["paper"], options["seed"] or fresh_seed()
    ending = Path(file).suffix.casefold()
    if ending not in ENDINGS:
        raise PlateError(f"--class {shown(file)!r}: end the name in {', '.join(ENDINGS)} to say what it shall be")
    drawn = drawing_of if pictures_can_be_drawn() and not options["words"] and ending != ".txt" else None
    if drawn is None and not options["words"] and ending != ".txt":
        around.say(HOW_TO_GET, "faint")
    found = class_set(
        seeded,
        craft_of(around.knowledge),
        seed,
        options["count"],
        level=options["level"] or "",
        title=printable(options["title"])[:LONGEST_TEXT],
        drawn=drawn,
    )
    if ending == ".html":
        from diagnose.teaching.set_page import set_page

        text = set_page(found)
    else:
        text = set_record(found) if ending == ".json" else set_text(found)
    write_out(around, file, text)
    level = f" --level {found.level}" if found.level else ""
    around.say(
        f"{len(found.plates)} plates, the key behind them. The same again, or on the screen: --seed {seed}{level}"
    )


def drawing_of(exercise: Exercise) -> tuple[bytes, str]:
    """A drawing as a file, and its words.

    Args:
        exercise: the plate
    """
    drawing = draw(exercise.sign, exercise.looks, exercise.seed, support=exercise.support)
    return drawing.png(), drawing.words


def show_report(around: Around, files: Sequence[str], options: Mapping[str, Any]) -> None:
    """Report on files of answers.

    Args:
        around: the screen
        files: of answers
        options: student, as_json

    Raises:
        DiagnoseError: a file cannot be read, or holds nothing
    """
    from diagnose.teaching.report import report_on

    answers = [answer for file in files for answer in answers_in(file, around.look)]
    student = options["student"].strip()
    if student:
        names = {answer.student for answer in answers}
        answers = list(of_student(answers, student))
        if not answers:
            hint = near(student, names) or f"there are {len(names)} names in it"
            raise BookError(f"no student called {shown(student)!r}; {printable(hint)}")
    found = report_on(answers)
    if found is None:
        raise BookError(f"no answer in {', '.join(map(shown, files))}; `diagnose drill --keep FILE` keeps them")
    if options["as_json"]:
        print(json.dumps(asdict(found), indent=2))  # noqa: T201
        return
    from diagnose.talk import drill_report

    drill_report.show_report(found, around.knowledge, around.look)
