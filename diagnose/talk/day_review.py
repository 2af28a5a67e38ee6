"""A day's review on the terminal: the pattern and tomorrow's test first, everything else with `--full`."""

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.text import Text

from diagnose.bands import percent
from diagnose.daybook import review_words as words
from diagnose.daybook.advised import Dosed, Due, Trial, Warned
from diagnose.daybook.reviewed import Bar, Pattern, Review
from diagnose.daybook.small_numbers import HINTING
from diagnose.phrases import lower_first
from diagnose.talk.blocks import INDENT, bulleted, first_sentence, heading, item, labelled
from diagnose.talk.theme import Look

GOOD, SPOILED, WORK, BEGAN = "o", "X", "|", "^"
IN_A_ROW = 20
NARROW, FEW_IN_A_ROW = 46, 10  # columns
MOST_IN_STRIP = 120  # plates; more are told by days or by the trend
MOST_DAYS = 31
BAR, PLAIN_BAR = "\u2588", "#"
WIDEST_BAR = 24  # cells
SHARED_FIRST = 2


def show_review(review: Review, look: Look, full: bool) -> None:
    """The review, briefly or whole.

    Args:
        review: of some days
        look: where and how it is shown
        full: plate by plate, all counts, bars, cost, trend and upkeep too
    """
    parts: list[RenderableType | None] = [_head(review, look)]
    if review.plates:
        parts += [_pattern(review), _trial(review.trial, full=full)]
        if full:
            parts += [_shared(review), _bars(review, look), _plates(review), _cost(review)]
        else:
            parts += [_shared_briefly(review)]
    if review.trend and full:
        parts.append(_trend(review, look))
    parts.append(_upkeep(review, full=full))
    if full:
        parts.append(_remarks(review))
    elif review.plates:
        parts.append(Text("--full: every plate, what they share, causes, cost, trend, upkeep.", style="faint"))
    shown = [part for part in parts if part is not None]
    for number, part in enumerate(shown):
        look.show(*([Text("")] if number else []), part)


def _head(review: Review, look: Look) -> RenderableType:
    lines: list[RenderableType] = [
        heading(words.title(review)),
        item(words.day_line(review), style="key"),
    ]
    lines += [item(line, style="faint") for line in (review.story, words.by_line(review)) if line]
    return Group(*lines, *_strip(review, look))


def _strip(review: Review, look: Look) -> list[RenderableType]:
    """One cell a plate; in plain words where signs would only be read out one by one."""
    if not review.plates:
        return []
    if look.plain:
        good = [line.number for line in review.lines if line.good]
        spoiled = [line.number for line in review.lines if not line.good]
        lines = [labelled("Good", words.numbers(good))] if good else []
        return [*lines, *([labelled("Spoiled", words.numbers(spoiled))] if spoiled else [])]
    days = list(dict.fromkeys(line.day for line in review.lines))
    if len(days) > MOST_DAYS or len(review.lines) > MOST_IN_STRIP:
        return []
    wide = IN_A_ROW if look.console.width >= NARROW else FEW_IN_A_ROW
    onsets = {pattern.onset for pattern in review.patterns}
    works = {work.before for work in review.works}
    rows: list[RenderableType] = []
    for day in days:
        numbers = [line.number for line in review.lines if line.day == day]
        if len(days) > 1:
            rows.append(item(day, style="faint"))
        for start in range(0, len(numbers), wide):
            rows += _row(review, numbers[start : start + wide], onsets, works)
    signs = f"{GOOD} good  {SPOILED} spoiled" + (f"  {WORK} something was done" if works else "")
    began = f"  {BEGAN} it began" if onsets else ""
    return [*rows, item(f"{signs}{began}", style="faint")]


def _row(review: Review, numbers: list[int], onsets: set[int], works: set[int]) -> Iterator[RenderableType]:
    marks, under = Text(f"{numbers[0]:>4} ", style="faint"), Text(" " * 5)
    for number in numbers:
        good = review.lines[number - 1].good
        marks.append(WORK if number in works else " ", style="number")
        marks.append(GOOD if good else SPOILED, style="why" if good else "danger")
        under.append(f" {BEGAN if number in onsets else ' '}", style="care")
    if numbers[-1] == len(review.lines) and numbers[-1] + 1 in works:
        marks.append(WORK, style="number")
    yield marks
    if any(number in onsets for number in numbers):
        under.rstrip()
        yield under


def _pattern(review: Review) -> RenderableType:
    lines: list[RenderableType] = [heading(words.pattern_heading(review))]
    none = words.no_pattern(review)
    lines += [item(none, style="act")] if none else []
    for pattern in review.patterns:
        lines += _one_pattern(pattern, review)
    lines += [item(line, style="faint") for line in (words.second(review),) if line]
    lines += [item(line) for line in (words.plate_level(review),) if line]
    return Group(*lines)


def _one_pattern(pattern: Pattern, review: Review) -> list[RenderableType]:
    said = Text.assemble((f"{pattern.likely.title}: ", "act"), (words.how_sure(pattern.likely), "number"))
    return [
        item(said),
        item(pattern.brief, INDENT + 2, "faint"),
        item(words.began(pattern, review.lines), INDENT + 2),
        item(words.ended(pattern, review.lines), INDENT + 2),
    ]


def _trial(trial: Trial, *, full: bool) -> RenderableType:
    lines: list[RenderableType] = [heading(words.trial_heading(trial)), item(trial.title, style="act")]
    lines.append(labelled("Why", trial.why))
    lines += _cautions(trial.cautions, whole=full)
    if trial.first:
        lines.append(labelled("Look first", "; ".join(trial.first), "care"))
    lines.append(item(trial.do) if trial.kind == "nothing" else labelled(f"Do ({words.trial_cost(trial)})", trial.do))
    lines += _dose(trial.dose)
    lines += [labelled("Stop", trial.stop, "care")] if trial.stop else []
    for meaning in trial.outcomes:
        label = f"{words.upper_first(meaning.outcome)} ({percent(meaning.chance)})"
        lines.append(labelled(label, words.meaning_line(meaning)))
    tells = words.trial_tells(trial)
    if full and trial.between:
        lines.append(labelled("Open", words.between(trial), "faint"))
    lines += [item(tells, style="faint")] if tells and full else []
    return Group(*lines)


def _cautions(cautions: tuple[Warned, ...], *, whole: bool) -> list[RenderableType]:
    if whole:
        return [
            labelled("Danger" if one.level == "danger" else "Care", f"{one.title}. {one.say}", one.level)
            for one in cautions
        ]
    lines: list[RenderableType] = [
        labelled("Danger", f"{one.title}. {first_sentence(one.say)}", "danger")
        for one in cautions
        if one.level == "danger"
    ]
    cares = [one.title for one in cautions if one.level == "care"]
    return [*lines, labelled("Care", "; ".join(cares), "care")] if cares else lines


def _dose(dose: Dosed | None, indent: int = INDENT) -> list[RenderableType]:
    if dose is None:
        return []
    lines: list[RenderableType] = [labelled("How much", "; ".join(dose.lines), "act", indent)] if dose.lines else []
    lines += [labelled("For the amount, tell", " ".join(dose.wants), "faint", indent)] if dose.wants else []
    return [*lines, *(labelled("Mind", line, "care", indent) for line in dose.beware[:1])]


def _shared_briefly(review: Review) -> RenderableType | None:
    telling = [one for one in review.shared if not one.too_few and one.corrected <= HINTING][:SHARED_FIRST]
    if not telling:
        return None
    lines = [bulleted(words.shared_line(shared)) for shared in telling]
    return Group(heading("What the spoiled plates have and good ones have less"), *lines)


def _shared(review: Review) -> RenderableType | None:
    lines: list[RenderableType] = [heading("What the spoiled plates have and good ones have less")]
    none = words.shared_none(review)
    lines += [item(none)] if none else []
    lines += [bulleted(words.shared_line(shared)) for shared in review.shared]
    lines += [item(words.looks(review), style="faint")] if review.shared else []
    if review.signs:
        lines.append(heading("What they show"))
        lines += [bulleted(words.sign_line(sign, review.spoiled)) for sign in review.signs]
    return Group(*lines) if review.spoiled else None


def _bars(review: Review, look: Look) -> RenderableType | None:
    if not review.bars:
        return None
    most = max(bar.plates for bar in review.bars)
    drawn = [_bar(bar, most, look) for bar in review.bars]
    return Group(heading("Causes, by spoiled plates expected of them"), *drawn, item(words.PARETO, style="faint"))


def _bar(bar: Bar, most: float, look: Look) -> RenderableType:
    cells = max(1, round(WIDEST_BAR * bar.plates / most))
    said = f"{words.expected(bar)}, {words.share(bar.so_far)} with those above"
    drawn = [] if look.plain else [item(Text(_bar_sign(look) * cells, style="care"), INDENT + 2)]
    standing = " (stands until put right)" if bar.standing else ""
    return Group(bulleted(f"{bar.title}{standing}: {said}"), *drawn)


def _bar_sign(look: Look) -> str:
    try:
        BAR.encode(look.console.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return PLAIN_BAR
    return BAR


def _plates(review: Review) -> RenderableType:
    several = review.first != review.last
    lines: list[RenderableType] = [heading("Plate by plate")]
    waiting = list(review.works)
    for line in review.lines:
        while waiting and waiting[0].before <= line.number:
            lines.append(_work(waiting.pop(0).words))
        about = [
            words.plate_head(line, days=several),
            *line.made_with,
            *([f"by {line.who}"] if line.who and review.by else []),
        ]
        lines.append(item(Text(", ".join(about), style="why" if line.good else "care"), hang=2))
        for said in (*line.signs, words.changed_line(line)):
            lines += [item(said, INDENT + 2, "faint" if said in line.signs else "why", hang=2)] if said else []
        lines += [item(f"note: {line.note}", INDENT + 2, "faint", hang=2)] if line.note else []
        lines += [item(f"not read: {line.unread}", INDENT + 2, "care", hang=2)] if line.unread else []
    lines += [_work(work.words) for work in waiting]
    return Group(*lines)


def _work(said: str) -> RenderableType:
    return item(f"| {said}", style="number", hang=2)


def _cost(review: Review) -> RenderableType | None:
    lines = words.cost_lines(review.cost)
    return Group(heading("What it cost"), *(item(line) for line in lines)) if lines else None


def _trend(review: Review, look: Look) -> RenderableType:
    lines: list[RenderableType] = [heading(f"By {review.stretch}")]
    for row in review.trend:
        lines.append(item(words.stretch_line(row), style="why" if row.here else "faint", hang=2))
        if row.spoiled and not look.plain:
            lines.append(item(Text(_bar_sign(look) * max(1, round(WIDEST_BAR * row.share)), style="care"), INDENT + 2))
        if row.standing:
            label = "standing, as told then" if row.at_the_time else "standing"
            lines.append(item(f"{label}: {'; '.join(map(lower_first, row.standing))}", INDENT + 2, "faint", hang=2))
    return Group(*lines, item(words.INTERVAL, style="faint"))


def _upkeep(review: Review, *, full: bool) -> RenderableType | None:
    lines: list[RenderableType] = []
    for due in review.due:
        lines += _due(due) if full else _due_briefly(due)
    if full:
        lines += [item(f"Not yet due: {count.counted}; {count.limit}", style="faint") for count in review.ahead]
    return Group(heading("Upkeep due" if review.due else "Upkeep"), *lines) if lines else None


def _due(due: Due) -> list[RenderableType]:
    lines: list[RenderableType] = [item(f"{words.upper_first(due.counted)}; {due.limit}. {due.therefore}")]
    lines += [bulleted(title, INDENT + 2, "act" if not number else "why") for number, title in enumerate(due.do)]
    lines += _dose(due.dose, INDENT + 2)
    return lines + _cautions(due.cautions, whole=False)


def _due_briefly(due: Due) -> list[RenderableType]:
    lines: list[RenderableType] = [bulleted(f"{due.do[0]} ({due.counted}; {due.limit})")]
    for level, label in (("danger", "Danger"), ("care", "Care")):
        titles = [caution.title for caution in due.cautions if caution.level == level]
        lines += [labelled(label, "; ".join(titles), level, INDENT + 2)] if titles else []
    return lines


def _remarks(review: Review) -> RenderableType | None:
    lines = [bulleted(remark) for remark in review.remarks]
    return Group(heading("Notes"), *lines) if lines else None
