"""The report on a class, on the screen: each student, then what to practise."""

from rich.console import RenderableType
from rich.text import Text

from diagnose.bands import percent
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.plate import DONT_KNOW
from diagnose.talk.blocks import bulleted, heading, item
from diagnose.talk.theme import Look
from diagnose.teaching.report import Confusion, Grade, Missed, Report, Standing

MOST_STAGES, MOST_CONFUSIONS, MOST_ONCE = 3, 6, 3
LEAST_SEEN = 3  # causes of a stage, below which its share of misses says nothing: judged
ONCE = "Most of this happened once or twice: take it for a hint."


def show_report(report: Report, knowledge: Knowledge, look: Look) -> None:
    """The whole report.

    Args:
        report: from `report_on`
        knowledge: titles
        look: the screen
    """
    for standing in report.students:
        look.show(*student_lines(standing, knowledge), Text(""))
    if len(report.students) > 1:
        look.show(*student_lines(report.whole, knowledge, whole=len(report.students)), Text(""))
    look.show(heading("To practise next"))
    if not report.practise:
        look.show(item("Nothing was missed."))
    for missed in report.practise:
        look.show(bulleted(missed_words(missed, knowledge)))
    if report.practise and max(missed.missed for missed in report.practise) < 3:
        look.show(item(ONCE, style="faint"))


def student_lines(standing: Standing, knowledge: Knowledge, whole: int = 0) -> list[RenderableType]:
    """One student.

    Args:
        standing: how the student stands
        knowledge: titles
        whole: so many students, where it is the whole class
    """
    name = f"All {whole} together" if whole else name_words(standing.student)
    days = standing.first if standing.first == standing.last else f"{standing.first} to {standing.last}"
    plates = f"{standing.plates} plate{'s' if standing.plates != 1 else ''}"
    lines: list[RenderableType] = [heading(f"{name}: {plates}, {days}")]
    score = f"{standing.found} of {standing.there} causes named; points a plate: {standing.points:+.0f}"
    lines.append(bulleted(f"{score}; the tool on the same plates: {standing.tool:+.0f}"))
    if standing.signs_asked:
        lines.append(bulleted(f"{standing.signs_right} of {standing.signs_asked} drawings named right"))
    lines += [bulleted(grade_words(grade)) for grade in standing.grades]
    if standing.reasoned:
        lines.append(
            bulleted(f"{standing.lucky} of {standing.reasoned} right answers for a reason that does not speak for it")
        )
    if standing.lost is not None:
        lines.append(bulleted(f"Minutes lost a plate by the next step: {standing.lost:.0f}"))
    if not whole:
        lines.append(bulleted(trend_words(standing)))
    worst = [stage for stage in standing.stages if stage.missed and stage.seen >= LEAST_SEEN][:MOST_STAGES]
    if worst:
        said = ", ".join(f"{_stage(row.stage, knowledge)} {row.missed} of {row.seen}" for row in worst)
        lines.append(bulleted(f"Missed most, of what could be seen: {said}"))
    for kind, title in (("sign", "Signs taken for others"), ("cause", "Causes taken for others")):
        rows = [row for row in standing.confusions if row.kind == kind]
        often = [row for row in rows if row.times > 1][:MOST_CONFUSIONS] or rows[:MOST_ONCE]
        lines += [item(f"{title}:", style="key")] if rows else []
        lines += [bulleted(confusion_words(row, knowledge), 4) for row in often]
        rest = len(rows) - len(often)
        lines += [bulleted(f"and {rest} more, less often", 4, "faint")] if rest else []
    return lines


def name_words(name: str) -> str:
    """A student's name as it may be put on a screen."""
    return printable(name).strip() or "No name"


def grade_words(grade: Grade) -> str:
    """One line of calibration, with how far so few can be trusted."""
    right = f"right {grade.right} of {grade.named}"
    said = f"When {grade.word} (about {percent(grade.said)}): {right}"
    if grade.fit == "too few to tell":
        return f"{said}; too few to tell"
    return f"{said}, {grade.fit} (it could be {percent(grade.low)} to {percent(grade.high)})"


def trend_words(standing: Standing) -> str:
    """The trend, or why there is none."""
    trend = standing.trend
    if trend is None:
        return "Trend: too few plates to tell"
    said = f"first {trend.plates} plates {trend.earlier:+.0f}, last {trend.plates} {trend.later:+.0f} points against the tool"
    return f"Trend: {said}: {trend.words}"


def confusion_words(row: Confusion, knowledge: Knowledge) -> str:
    """What was taken for what, and how often."""
    taken = {"": "not named", DONT_KNOW: "not known"}.get(row.taken)
    taken = taken or f"taken for “{_title(row.kind, row.taken, knowledge)}”"
    return f"“{_title(row.kind, row.true, knowledge)}”: {taken}, {_times(row.times, row.seen)}"


def missed_words(missed: Missed, knowledge: Knowledge) -> str:
    """One thing to practise."""
    kind = missed.item.kind
    title = _title(kind, missed.item.name, knowledge)
    before = "The sign " if kind == "sign" else ""
    said = f"{before}“{title}”: missed {_times(missed.missed, missed.seen)}"
    said += f", by {missed.students} students" if missed.students > 1 else ""
    return said + (f"; mostly taken for “{_title(kind, missed.taken, knowledge)}”" if missed.taken else "")


def _times(count: int, of: int) -> str:
    return f"{count} of {of} times" if of > 1 else "the one time"


def _stage(name: str, knowledge: Knowledge) -> str:
    """A stage's title, to stand inside a sentence."""
    return knowledge.stages[name].title.casefold() if name in knowledge.stages else printable(name)


def _title(kind: str, name: str, knowledge: Knowledge) -> str:
    """A title; a name the knowledge no longer has stands as it is."""
    known = knowledge.symptoms if kind == "sign" else knowledge.causes
    return known[name].title if name in known else printable(name)
