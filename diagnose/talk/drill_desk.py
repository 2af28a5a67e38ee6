"""What `diagnose drill` does: practise, make a set for a class, report."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from diagnose.answer import Diagnosis
from diagnose.daybook.book import Book
from diagnose.errors import BookError, PlateError, near, printable
from diagnose.plate import LONGEST_TEXT, shown
from diagnose.reasoning.craft import craft_of
from diagnose.talk.around import Around
from diagnose.talk.book_place import there_is
from diagnose.talk.clock import today
from diagnose.talk.day_papers import write_out
from diagnose.talk.drill_keeping import answers_in, of_student
from diagnose.talk.drill_picture import HOW_TO_GET, Ways, ways_of
from diagnose.talk.drilling import Drill, Wanted, fresh_seed, same_again, seeded
from diagnose.talk.listening import listen_to_terminal
from diagnose.teaching.exercise import Exercise
from diagnose.teaching.looks import draw, pictures_can_be_drawn
from diagnose.teaching.records import LONGEST_NAME
from diagnose.teaching.report import to_practise
from diagnose.teaching.session import known, plate_of, tell

LONGEST_SEED = 40
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
    seed = _seed(options["seed"])
    before = answers_in(options["keep"], around.look, may_be_new=True) if options["keep"] else ()
    book = _book(around) if options["from_book"] else None
    wanted = Wanted(
        seed=seed,
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
        options: paper, seed, count, level, title, words, from_book, missed

    Raises:
        BookError: the file cannot be written
    """
    from diagnose.teaching.class_set import class_set, set_record, set_text

    file, seed = options["paper"], _seed(options["seed"]) or fresh_seed()
    ending = Path(file).suffix.casefold()
    if ending not in ENDINGS:
        raise PlateError(f"--class {shown(file)!r}: end the name in {', '.join(ENDINGS)} to say what it shall be")
    drawn = drawing_of if pictures_can_be_drawn() and not options["words"] and ending != ".txt" else None
    if drawn is None and not options["words"] and ending != ".txt":
        around.say(HOW_TO_GET, "faint")
    plates, origin, again = _plates(around, options, seed)
    title = printable(options["title"])[:LONGEST_TEXT]
    found = class_set(plates, around.knowledge, origin=origin, title=title, drawn=drawn)
    if ending == ".html":
        from diagnose.teaching.set_page import set_page

        text = set_page(found)
    else:
        text = set_record(found) if ending == ".json" else set_text(found)
    write_out(around, file, text)
    count = len(found.plates)
    around.say(f"{count} plate{'s' if count != 1 else ''}, the key behind {'them' if count != 1 else 'it'}. {again}")


def _plates(
    around: Around, options: Mapping[str, Any], seed: str
) -> tuple[Iterator[tuple[Exercise, Diagnosis]], str, str]:
    """The plates of a set, where they are from, and how to have them again."""
    craft, count, level = craft_of(around.knowledge), options["count"], options["level"] or ""
    if options["from_book"]:
        from diagnose.teaching.from_book import from_book

        chosen = from_book(_book(around), craft, count, seeded(seed).shuffle)
        said = "Plates of our own daybook, each with a cause that was confirmed."
        return (
            ((exercise, tell(exercise, craft)) for exercise in chosen),
            said,
            f"The same again: {same_again(seed, '')}",
        )
    numbers = range(1, count + 1)
    invented = "Invented plates, drawn by chance from what is known of the craft; no real plate, no real sitter."
    if options["missed"]:
        items = [it.item for it in to_practise(answers_in(options["missed"], around.look)) if known(it.item, craft)]
        if not items:
            raise BookError(f"nothing was missed in {shown(options['missed'])}; make a set without --missed")
        # Every other plate brings back what was missed; in between stand others, so that nobody need only count.
        chosen_items = [items[number // 2 % len(items)] if number % 2 else None for number in numbers]
        plates = (
            plate_of(seeded, craft, seed, number, level="" if item else level, again=item)
            for number, item in zip(numbers, chosen_items, strict=True)
        )
        return plates, invented, f"Every other one brings back what was missed. The same again: {same_again(seed, '')}"
    again = same_again(seed, level)
    plates = (plate_of(seeded, craft, seed, number, level=level) for number in numbers)
    return plates, f"{invented} The same again: {again}.", f"The same again, or on the screen: {again}"


def _seed(typed: str) -> str:
    """A seed as it was typed; it stands in headings and on paper, so it must be fit for both.

    Raises:
        PlateError: it is not
    """
    if len(typed) > LONGEST_SEED or not typed.isprintable():
        raise PlateError(
            f"--seed {shown(typed)!r} will not do; take a word or a number of at most {LONGEST_SEED} letters"
        )
    return typed


def _book(around: Around) -> Book:
    """The daybook; an empty one where there is none yet, and none is made."""
    if not there_is(around.place):
        return Book()
    with around.opened() as store:
        return store.read()


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
