"""What each command does; the command line itself is in cli.py."""

import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from rich.text import Text

from diagnose.answer import Diagnosis, diagnose
from diagnose.entries.compiled import read_knowledge
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError, near, printable
from diagnose.plate import Plate, shown
from diagnose.talk import blocks, letters, screens
from diagnose.talk.folders import folders_of
from diagnose.talk.theme import Look

if TYPE_CHECKING:  # a diagnosis in one go needs no book
    from diagnose.talk.book_in_hand import BookInHand


def show_answer(diagnosis: Diagnosis, look: Look, *, full: bool = False, trace: bool = False) -> None:
    """The first screen, and more where it is wanted.

    Args:
        diagnosis: what is believed
        look: where and how it is shown
        full: the plan, the accounts and what would change the answer, too
        trace: the rules that fired, too
    """
    if diagnosis.craft.notice:
        print(diagnosis.craft.notice, file=sys.stderr)  # noqa: T201 - said beside the answer, so that piped answers stay clean
    look.show(screens.first_screen(diagnosis, "whole" if full else "usual"))
    if full:
        look.show(
            Text(""),
            screens.told_screen(diagnosis),
            Text(""),
            screens.plan_screen(diagnosis, first_too=False),
            Text(""),
        )
        look.show(screens.turn_screen(diagnosis), Text(""), screens.account_screen(diagnosis.ranking[0][0], diagnosis))
        look.show(Text(""), screens.cautions_screen(diagnosis))
    if trace:
        look.show(Text(""), screens.trace_screen(diagnosis))
    if not full:
        show_questions(diagnosis, look)


def show_questions(diagnosis: Diagnosis, look: Look) -> None:
    """What would be worth telling next, briefly."""
    from diagnose import phrases

    found = diagnosis.worth_asking(most=3)
    if not found:
        return
    look.show(Text(""), blocks.heading("Worth telling next"))
    for question in found:
        option = {"symptom": "--shows", "attribute": "--shows", "condition": "--condition", "check": "--check"}[
            question.kind
        ]
        asked = phrases.question(question, diagnosis.craft.knowledge)
        look.show(
            blocks.bulleted(
                f"{asked} ({option} {question.id.replace('.', ':')}{'=...' if question.kind != 'symptom' else ''})"
            )
        )


def cause_named(name: str, diagnosis: Diagnosis) -> str:
    """A cause by its full name, its last part, or its place in the ranking.

    Args:
        name: as typed
        diagnosis: for the ranking

    Raises:
        PlateError: no such cause
    """
    known = diagnosis.craft.knowledge.causes
    if name.isascii() and name.isdigit() and len(name) <= 6 and 1 <= int(name) <= len(known):
        return diagnosis.ranking[int(name) - 1][0]
    return cause_called(name, diagnosis.craft.knowledge, "the ranking shows their names with --json")


def cause_called(name: str, knowledge: Knowledge, hint: str) -> str:
    """A cause by its full name or its last part.

    Args:
        name: as typed
        knowledge: the craft
        hint: what to do where no name is near

    Raises:
        PlateError: no such cause
    """
    for cause in knowledge.causes:
        if name in {cause, cause.partition("/")[2]}:
            return cause
    known = [*knowledge.causes, *(cause.partition("/")[2] for cause in knowledge.causes)]
    raise PlateError(f"no cause called {shown(name)!r}; {near(name[:100], known) or hint}")


def print_json(diagnosis: Diagnosis) -> None:
    """The whole answer as JSON."""
    from diagnose.record import answer_record

    letters.print_json(asdict(answer_record(diagnosis)))


def print_schema(which: str) -> None:
    """The shape of the JSON that goes out, or of the plate that comes in.

    Args:
        which: "answer", "plate", "bench", "batch" or "review"
    """
    from pydantic import TypeAdapter

    from diagnose.bulk import BriefRecord
    from diagnose.daybook.reviewed import Review
    from diagnose.record import AnswerRecord, PlateTable
    from diagnose.sum_record import SumRecord

    shape: type = {
        "answer": AnswerRecord,
        "plate": PlateTable,
        "bench": SumRecord,
        "batch": BriefRecord,
        "review": Review,
    }[which]
    schema = TypeAdapter(shape).json_schema()
    print(json.dumps({"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}, indent=2))  # noqa: T201


def run_dialog(
    knowledge: Knowledge,
    look: Look,
    plate: Plate,
    mode: str,
    before: Sequence[str] = (),
    measures: str = "metric",
    book: "BookInHand | None" = None,
    *,
    lesson: bool = False,
) -> None:
    """Talk about a plate.

    Args:
        knowledge: the craft
        look: where and how it is shown
        plate: what is known already
        mode: how the plan is made
        before: options given before the command, to be given again when the plate is taken up later
        measures: "metric", "us" or "imperial"
        book: the daybook the plate goes into
        lesson: the person guesses before the ranking is shown, and changes one thing a plate
    """
    from diagnose.talk.dialog import Dialog
    from diagnose.talk.listening import listen_to_terminal

    talk: type[Dialog] = Dialog
    if lesson:
        from diagnose.talk.lesson import Lesson

        talk = Lesson
    talk(knowledge, look, listen_to_terminal, plate.told(), mode, before, measures, book).run()


def run_demo(knowledge: Knowledge, look: Look, mode: str) -> None:
    """The demonstration plate, from its story to its answer."""
    from diagnose.talk.demonstration import PLATE, STORY
    from diagnose.talk.telling import as_command

    plate = Plate.read(PLATE)
    diagnosis = diagnose(plate, knowledge, mode=mode)
    look.show(Text(STORY, style="faint"), Text(""), screens.told_screen(diagnosis), Text(""))
    show_answer(diagnosis, look)
    look.show(Text(""), Text("The same by hand; add --talk to be asked, --full for the reasons:", style="faint"))
    look.line(as_command(plate.told()))


def list_symptoms(words: str, knowledge: Knowledge, look: Look) -> bool:
    """Symptoms by any word for them.

    Args:
        words: what is looked for; "" for all
        knowledge: the craft
        look: where and how it is shown

    Returns:
        whether any was found
    """
    from diagnose.talk.finding import search

    found = search(words, knowledge, most=len(knowledge.symptoms))
    for name in found:
        symptom = knowledge.symptoms[name]
        look.show(Text.assemble((name, "number"), "  ", (symptom.title, "title")))
        look.show(blocks.item(symptom.look))
        look.show(blocks.item(f"also called: {', '.join(symptom.synonyms)}", style="faint"))
        for attribute, values in symptom.attributes.items():
            look.show(blocks.item(f"{attribute}: {', '.join(values)}", style="faint"))
    if not found:
        look.show(Text(f"No sign is called {shown(words)!r}. `diagnose symptoms` alone lists them all.", style="care"))
    return bool(found)


def show_numbers(name: str, knowledge: Knowledge, look: Look) -> None:
    """Where every number of a cause comes from: the word, its number, and the source.

    Args:
        name: the cause, or the last part of its name
        knowledge: the craft
        look: where and how it is shown

    Raises:
        PlateError: no such cause
    """
    from diagnose.reasoning.model import work_out

    cause = cause_called(name, knowledge, "see knowledge/causes/")
    entry, strengths = knowledge.causes[cause], knowledge.strengths
    odds = work_out(knowledge).base[cause]
    look.show(blocks.heading(entry.title))
    scale = odds / (strengths.usual[entry.usual] / (1 - strengths.usual[entry.usual]))
    said = f"how common: {entry.usual} = {strengths.usual[entry.usual]:g}, odds times {scale:.3g} so that all causes together "
    look.show(blocks.bulleted(f"{said}come to {strengths.expect.causes_per_plate:g} a plate: {odds:.4f} (judged)"))
    rows = [(link.symptom, link.seen, link.from_) for link in entry.symptom]
    rows += [(f"{found.check} = {found.outcome}", found.seen, found.from_) for found in entry.check]
    for about, word, sources in rows:
        look.show(blocks.bulleted(f"{about}: {word} = {strengths.seen[word]:g} ({'; '.join(sources)})"))
    for sign, shifts in (("odds times", entry.likelier), ("odds divided by", entry.unlikelier)):
        for shift in shifts:
            number = f"{shift.weight}, {sign} {strengths.weight[shift.weight]:g}"
            look.show(blocks.bulleted(f"{' and '.join(shift.when)}: {number} ({'; '.join(shift.from_)})"))
    for cure in entry.remedy:
        look.show(blocks.bulleted(f"{cure.do}: {cure.surely} = {strengths.surely[cure.surely]:g} (judged)"))


def check_knowledge(folders: tuple[str, ...], look: Look, *, judged: bool) -> bool:
    """Every problem of the knowledge, or what still rests on judgement alone.

    Args:
        folders: as for `knowledge_of`
        look: where and how it is shown
        judged: list the links that rest on judgement alone, too

    Returns:
        whether the knowledge may be used
    """
    from diagnose.entries.proofread import check_folders, judged_links

    paths = folders_of(folders)
    problems = check_folders(*paths)
    for problem in problems:
        look.line(printable(str(problem)))
    if problems:
        look.show(
            Text(
                f"{len(problems)} problem{'s' if len(problems) != 1 else ''}. Mend them and check again.",
                style="danger",
            )
        )
        return False
    knowledge = read_knowledge(*paths)
    counts = ", ".join(
        f"{len(getattr(knowledge, kind))} {kind}"
        for kind in ("causes", "symptoms", "conditions", "states", "checks", "remedies", "solutions")
    )
    look.show(Text(f"No problems. {counts}.", style="act"))
    if judged:
        found, total = judged_links(knowledge)
        for place in found:
            look.line(place)
        look.show(Text(f"{len(found)} of {total} links rest on judgement alone."))
    return True
