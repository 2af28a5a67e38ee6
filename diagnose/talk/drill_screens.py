"""The screens of the drill: the plate, what the answer was worth, and what was the matter."""

from collections.abc import Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from diagnose import phrases
from diagnose.advice.actions import with_cautions
from diagnose.answer import Diagnosis
from diagnose.bands import percent
from diagnose.reasoning.explaining import seen_as, why_not
from diagnose.reasoning.receipts import Receipt
from diagnose.talk.blocks import bulleted, heading, item, labelled, numbered
from diagnose.talk.screens import caution_names, ranked
from diagnose.teaching.chain import chain_of
from diagnose.teaching.exercise import Exercise
from diagnose.teaching.offered import circumstances, main_sign, other_signs
from diagnose.teaching.reasons import Reason
from diagnose.teaching.records import HIDDEN, Answer
from diagnose.teaching.repetition import WAITS
from diagnose.teaching.scoring import marks
from diagnose.teaching.steps import Step

CONFIRMED = {
    "cure": "a remedy put it right",
    "check": "a check decided it",
    "person": "the photographer's own word",
}
SHOWN_TERMS = 3
LEAST_SHOWN = 0.5  # deciban


def plate_screen(exercise: Exercise, diagnosis: Diagnosis, *, drawn: bool) -> RenderableType:
    """What is told of the plate: its signs, and the circumstances.

    Args:
        exercise: the plate
        diagnosis: of it
        drawn: whether its main sign is shown as a drawing, and not yet named
    """
    knowledge = diagnosis.craft.knowledge
    lines: list[RenderableType] = []
    others = other_signs(exercise, knowledge)
    if drawn:
        if others:
            lines += [heading("Beside what is drawn, it shows"), *map(bulleted, others)]
    else:
        lines += [heading("It shows"), bulleted(main_sign(exercise, knowledge)), *map(bulleted, others)]
    told_of_day = circumstances(exercise, knowledge)
    if told_of_day:
        lines += [heading("The session"), *map(bulleted, told_of_day)]
    return Group(*lines)


def points_words(points: float) -> str:
    """Points as they are said.

    >>> points_words(91.0), points_words(-0.2), points_words(1)
    ('+91 points', '0 points', '+1 point')
    """
    whole = round(points)
    return f"{whole:+d} point{'s' if abs(whole) != 1 else ''}" if whole else "0 points"


def truth_screen(exercise: Exercise, diagnosis: Diagnosis) -> RenderableType:
    """What truly was the matter."""
    knowledge = diagnosis.craft.knowledge
    lines: list[RenderableType] = [heading("What it was")]
    for cause in exercise.causes:
        entry = knowledge.causes[cause]
        lines.append(item(Text.assemble((f"{entry.title}. ", "act"), (entry.brief, "why"))))
    if exercise.origin == "book":
        lines.append(item(f"From your daybook, {exercise.name}: {CONFIRMED[exercise.confirmed_by]}.", style="faint"))
    hidden = [cause for cause in exercise.causes if diagnosis.posterior.causes[cause] < HIDDEN]
    if hidden:
        which = "It" if len(exercise.causes) == 1 else f"“{knowledge.causes[hidden[0]].title}”"
        chance = percent(diagnosis.posterior.causes[hidden[0]])
        lines.append(
            item(f"{which} hardly shows in what was told: the tool, too, gave it only {chance}. Such plates come.")
        )
    return Group(*lines)


def sign_lines(answer: Answer, diagnosis: Diagnosis) -> list[RenderableType]:
    """What the drawing showed, and what it was taken for."""
    knowledge = diagnosis.craft.knowledge
    if not answer.sign_named:
        return []
    right = knowledge.symptoms[answer.sign]
    if answer.sign_named == answer.sign:
        return [labelled("The sign", f"{right.title}. Right.", "number")]
    said = f"{right.title}: {phrases.lower_first(right.look)}."
    lines: list[RenderableType] = [labelled("The sign", said)]
    taken = knowledge.symptoms.get(answer.sign_named)
    if taken is not None:
        lines.append(labelled("You took it for", f"{taken.title}: {phrases.lower_first(taken.look)}."))
        sides = ((right, answer.sign_named), (taken, answer.sign))
        told = [near.differs for entry, other in sides for near in entry.beside if near.symptom == other]
        lines += [labelled("To tell them apart", told[0])] if told else []
    return lines


def score_screen(answer: Answer, diagnosis: Diagnosis) -> RenderableType:
    """What each named cause earned, and the sum beside the tool's."""
    titles = diagnosis.craft.knowledge.causes
    lines: list[RenderableType] = [heading("Your answer")]
    for mark in marks(answer.named, answer.causes):
        word = "right" if mark.right else "not so"
        said = f"{titles[mark.cause].title}, {percent(mark.sure)} sure: {word}, "
        lines.append(bulleted(said + points_words(mark.points), style="act" if mark.right else "why"))
    if not answer.named:
        lines.append(bulleted("No cause named: 0 points. Not knowing is no fault."))
    lines += [
        bulleted(f"Not named: {titles[cause].title}.")
        for cause in answer.causes
        if answer.named and cause not in answer.found
    ]
    lines += apart_lines(answer, diagnosis)
    you, tool = points_words(answer.points), points_words(answer.tool)
    best = f"{100 * len(answer.causes)} at most"
    lines.append(labelled("Together", f"{you} ({best}). The tool, from the same telling: {tool}.", "number"))
    return Group(*lines)


def apart_lines(answer: Answer, diagnosis: Diagnosis) -> list[RenderableType]:
    """What parts the first wrong cause that was named from the first right one that was not; [] where nothing says it."""
    knowledge = diagnosis.craft.knowledge
    wrong = next((name.cause for name in answer.named if name.cause not in answer.causes), "")
    missed = next((cause for cause in answer.causes if cause not in answer.found), "")
    if not (wrong and missed):
        return []
    pair = ((knowledge.causes[missed], wrong), (knowledge.causes[wrong], missed))
    said = [alike.apart for entry, other in pair for alike in entry.look_alike if alike.cause == other]
    said += [alike.why for entry, other in pair for alike in entry.treat_alike if alike.cause == other]
    return [labelled("To tell them apart", said[0], indent=4)] if said else []


def reason_lines(answer: Answer, reason: Reason | None, diagnosis: Diagnosis) -> list[RenderableType]:
    """Whether the reason that was named speaks for the cause."""
    if reason is None or not answer.named:
        return []
    knowledge = diagnosis.craft.knowledge
    first = answer.named[0].cause
    right = first in answer.causes
    cause = f"“{knowledge.causes[first].title}”"
    verdicts = {
        "strongest": f"It does speak for {cause}, as much as anything told.",
        "speaks": f"It does speak for {cause}, but something else told speaks more.",
        "hardly": f"It hardly speaks for {cause}" + (": the right answer, but not for this reason." if right else "."),
        "against": f"It speaks against {cause}" + (": the right answer, in spite of this reason." if right else "."),
    }
    lines: list[RenderableType] = []
    if reason.verdict:
        style = "care" if reason.verdict in {"hardly", "against"} else "why"
        lines.append(
            labelled("Your reason", f"{told_words(reason.about, diagnosis)}. {verdicts[reason.verdict]}", style)
        )
    if reason.strongest and reason.verdict != "strongest":
        why = f" {reason.account.why}" if reason.account is not None and reason.account.why else ""
        lines.append(labelled(f"What speaks most for {cause}", f"{told_words(reason.strongest, diagnosis)}.{why}"))
    elif not reason.strongest:
        lines.append(labelled("Your reason", f"Nothing told here speaks for {cause}.", "care"))
    return lines


def told_words(about: str, diagnosis: Diagnosis) -> str:
    """A sign or a condition as it was told.

    Args:
        about: its name
        diagnosis: of the plate
    """
    from diagnose.daybook.condition_words import said

    knowledge = diagnosis.craft.knowledge
    if about in knowledge.symptoms:
        return knowledge.symptoms[about].title
    words = said(about, str(diagnosis.plate.conditions.get(about, "")), knowledge)
    return words[:1].upper() + words[1:]


def tool_screen(answer: Answer, diagnosis: Diagnosis) -> RenderableType:
    """The tool's ranking with what speaks for its first cause, for the truth, and what parts the student's from it."""
    knowledge = diagnosis.craft.knowledge
    leader = diagnosis.ranking[0][0]
    shown = list(dict.fromkeys([leader, *answer.causes]))
    lines: list[RenderableType] = [ranked(diagnosis)]
    for cause in shown:
        lines.append(heading(f"What speaks for “{knowledge.causes[cause].title}”"))
        lines += receipts(cause, diagnosis)
    student = answer.named[0].cause if answer.named else ""
    if student and student not in shown:
        books = diagnosis.account(leader, student)
        first, second = (_told_terms(books[cause]) for cause in (leader, student))
        parts = why_not(first, second, SHOWN_TERMS)
        if parts:
            lines.append(heading(f"Why not “{knowledge.causes[student].title}”"))
        for part in parts:
            receipt = part.for_second or part.for_first
            if receipt is not None:
                lines.append(_term(part.decibans, phrases.receipt(receipt, diagnosis.facts, knowledge), signed=False))
    return Group(*lines)


def receipts(cause: str, diagnosis: Diagnosis, most: int = SHOWN_TERMS) -> list[RenderableType]:
    """The weightiest terms of a cause's account that rest on something told.

    Args:
        cause: "stage/name"
        diagnosis: of the plate
        most: how many
    """
    told = [item for item in _told_terms(diagnosis.account(cause)[cause]) if abs(item.decibans) >= LEAST_SHOWN]
    told.sort(key=lambda item: -abs(item.decibans))
    knowledge = diagnosis.craft.knowledge
    lines = [_term(item.decibans, phrases.receipt(item, diagnosis.facts, knowledge)) for item in told[:most]]
    return lines or [item("Nothing told speaks for it or against it.", style="faint")]


def _told_terms(account: tuple[Receipt, ...]) -> tuple[Receipt, ...]:
    """The terms that rest on something told."""
    return tuple(item for item in account if item.kind not in {"prior", "together", "silent"})


def _term(decibans: float, words: str, *, signed: bool = True) -> RenderableType:
    number = f"{decibans:+5.1f}  " if signed else f"{decibans:5.1f}  "
    return item(Text.assemble((number, "number"), (words, "why")), hang=7)


def step_lines(
    chosen: Step | None, best: Step | None, lost: float | None, diagnosis: Diagnosis
) -> list[RenderableType]:
    """The next step that was picked beside the tool's, and what it loses."""
    knowledge = diagnosis.craft.knowledge
    if best is None:
        return []
    title = phrases.action_title(best.action, knowledge)
    lines: list[RenderableType] = [heading("The next step")]
    if chosen is not None and chosen.action.id == best.action.id:
        lines.append(bulleted(f"{title}. The tool would do the same.", style="act"))
    else:
        if chosen is not None and lost is not None:
            minutes = f"loses about {minutes_words(lost)} on average" if lost >= 0.5 else "loses no time"
            minutes += ", but would hardly change what to do" if chosen.idle else ""
            lines.append(
                bulleted(f"Yours, {phrases.lower_first(phrases.action_title(chosen.action, knowledge))}: {minutes}.")
            )
            if chosen.first:
                wanted = " and ".join(f"“{phrases.told_by(name, knowledge)}”" for name in chosen.first)
                lines.append(
                    bulleted(f"It wants to be called for first, by {wanted}; that time is counted in.", style="care")
                )
        lines.append(bulleted(f"The tool's: {phrases.lower_first(title)} ({phrases.cost(best.action)})."))
    why = phrases.action_why(best.action, knowledge)
    lines += [labelled("Why", why, indent=4)] if why else []
    lines += caution_names(with_cautions(best.action, diagnosis.firing, diagnosis.craft), diagnosis.craft, set(), 4)
    return lines


def minutes_words(minutes: float) -> str:
    """So many minutes.

    >>> minutes_words(0.6), minutes_words(12.4)
    ('1 minute', '12 minutes')
    """
    whole = max(1, round(minutes))
    return f"{whole} minute{'s' if whole != 1 else ''}"


def chain_screen(causes: Sequence[str], diagnosis: Diagnosis) -> RenderableType:
    """How the true causes came about, step by step, with the chemistry in a plain line."""
    knowledge = diagnosis.craft.knowledge
    lines: list[RenderableType] = []
    for cause in causes:
        lines.append(heading(f"How “{knowledge.causes[cause].title}” comes about"))
        for step in chain_of(cause, knowledge).steps:
            shows = f" It shows as: {phrases.lower_first(step.sign)}." if step.shows else ""
            seen = " You saw this." if step.shows and seen_as(step.shows, diagnosis.facts) == "present" else ""
            lines.append(numbered(step.number, f"{step.words.rstrip('.')}.{shows}{seen}"))
            lines += [labelled("Chemistry", line.says, indent=4) for line in step.chemistry]
        lines.append(item(f"The whole of it, with its sources: diagnose why {cause.partition('/')[2]}", style="faint"))
    return Group(*lines)


def again_lines(answer: Answer, diagnosis: Diagnosis) -> list[RenderableType]:
    """What comes back because it was missed."""
    knowledge = diagnosis.craft.knowledge
    missed = [f"“{knowledge.causes[cause].title}”" for cause in answer.missed]
    if answer.sign_named and answer.sign_named != answer.sign:
        missed.append(f"the sign “{knowledge.symptoms[answer.sign].title}”")
    said = f"To come back in {WAITS[0]} plates: {' and '.join(missed)}."
    return [item(said, 0, "faint")] if missed else []


def standing(answers: Sequence[Answer]) -> RenderableType:
    """Where the student stands at the end of a drill."""
    count = len(answers)
    there = sum(len(answer.causes) for answer in answers)
    found = sum(len(answer.found) for answer in answers)
    mean, tool = (sum(values) / count for values in ([a.points for a in answers], [a.tool for a in answers]))
    lines: list[RenderableType] = [
        heading(f"{count} plate{'s' if count != 1 else ''} answered"),
        bulleted(f"{found} of {there} cause{'s' if there != 1 else ''} named"),
        bulleted(f"Points a plate: {mean:+.0f}; the tool, from the same telling: {tool:+.0f}"),
    ]
    asked = [answer for answer in answers if answer.sign_named]
    if asked:
        right = sum(answer.sign == answer.sign_named for answer in asked)
        lines.append(bulleted(f"{right} of {len(asked)} drawing{'s' if len(asked) != 1 else ''} named right"))
    steps = [answer.lost for answer in answers if answer.lost is not None]
    if steps:
        lines.append(bulleted(f"Minutes lost a plate by the next step: {sum(steps) / len(steps):.0f}"))
    lucky = sum(answer.by_luck for answer in answers)
    if lucky:
        lines.append(bulleted(f"{lucky} right for a reason that does not speak for it"))
    return Group(*lines)
