"""What a file of answers holds: a line of JSON for each plate a student has answered.

A name is whatever the teacher types. It stands in this file alone, which lies where the teacher put it.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from typing import Any, NamedTuple, TypeGuard, cast

from diagnose.errors import BookError
from diagnose.plate import day_number, shown
from diagnose.teaching.reasons import Verdict
from diagnose.teaching.repetition import Item, Memory
from diagnose.teaching.scoring import MOST_NAMED, Named

VERDICTS = ("", "strongest", "speaks", "hardly", "against")
LONGEST_NAME = 80
LONGEST_LINE = 20_000
MOST_CAUSES = 8
MOST_SHOWN = 5
HIDDEN = 0.05  # what the tool gives less than this was hidden by what the plate shows; missing it is no fault: judged
MOST_POINTS = 1e6
BEGINS = '{"student": "'  # so does every line that was written by this program


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One plate a student has answered.

    Args:
        student: whatever the teacher typed; "" where no name was given
        day: when, as 2026-05-01
        exercise: what the plate is called
        origin: "drawn" or "book"
        level: "easy", "middle" or "hard"
        causes: what truly was the matter
        chances: what the tool gave each of them, from the same telling [0 to 1]
        named: what the student named, each with how sure [0 to 1]
        points: of the student
        tool: points the tool would have earned on the same plate
        sign: the symptom drawn
        sign_named: what the student took it for; "" where that was not asked, "?" for "I don't know"
        reason: the sign or condition the student named for the first cause; "" where none
        verdict: what the reason is worth
        step: check or remedy that was picked; "" where none
        lost: what the step loses against the tool's [min]; None where none was picked
    """

    student: str = ""
    day: str
    exercise: str
    origin: str = "drawn"
    level: str
    causes: tuple[str, ...]
    chances: tuple[float, ...]
    named: tuple[Named, ...]
    points: float
    tool: float
    sign: str = ""
    sign_named: str = ""
    reason: str = ""
    verdict: Verdict = ""
    step: str = ""
    lost: float | None = None

    @property
    def found(self) -> tuple[str, ...]:
        """The causes at work that were named."""
        return tuple(cause for cause in self.causes if cause in {name.cause for name in self.named})

    @property
    def visible(self) -> tuple[str, ...]:
        """The causes at work that could be seen: named, or not hidden from the tool either."""
        return tuple(
            cause
            for cause, chance in zip(self.causes, self.chances, strict=True)
            if chance >= HIDDEN or cause in self.found
        )

    @property
    def missed(self) -> tuple[str, ...]:
        """The causes at work that could be seen and were not named."""
        return tuple(cause for cause in self.visible if cause not in self.found)

    @property
    def by_luck(self) -> bool:
        """Whether the first cause was right, but for a reason that does not speak for it."""
        return bool(self.named) and self.named[0].cause in self.causes and self.verdict in {"hardly", "against"}


class Read(NamedTuple):
    """What a file held.

    Args:
        answers: in order
        cut_off: whether the last line was broken off while it was written; it is left out
    """

    answers: tuple[Answer, ...]
    cut_off: bool


def as_line(answer: Answer) -> str:
    """An answer as a line of a file, with its line end; plain letters only, whatever the name.

    Args:
        answer: one plate
    """
    table = asdict(answer)
    table["named"] = [list(name) for name in answer.named]
    return json.dumps(table, ensure_ascii=True) + "\n"


def read_lines(text: str, file: str) -> Read:
    """Every answer of a file.

    Args:
        text: what it holds
        file: its name, for what is said of it

    Raises:
        BookError: the lines that cannot be read, a line each
    """
    lines = text.split("\n")
    answers: list[Answer] = []
    wrong: list[str] = []
    cut_off = False
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            answers.append(_answer(line))
        except ValueError as error:
            if number == len(lines) and (line.startswith(BEGINS) or BEGINS.startswith(line)):
                # without a line end: it was being written when the power went
                cut_off = True
            else:
                wrong.append(f"{shown(file)}:{number}: {error}")
    if wrong:
        more = f"and {len(wrong) - MOST_SHOWN} lines more" if len(wrong) > MOST_SHOWN else ""
        fix = "mend or delete these lines; a file of answers is written by `diagnose drill --keep FILE`"
        raise BookError("\n".join(filter(None, [*wrong[:MOST_SHOWN], more, fix])))
    return Read(tuple(answers), cut_off)


def memory_of(answers: Iterable[Answer]) -> Memory:
    """What one student's answers leave to come back.

    Args:
        answers: of one student, in order
    """
    memory = Memory()
    for answer in answers:
        memory = remembered(memory, answer)
    return memory


def remembered(memory: Memory, answer: Answer) -> Memory:
    """What is remembered after one answer more: causes by whether they were named, the sign by what it was taken for.

    Args:
        memory: before
        answer: the plate just answered
    """
    found = [Item("cause", cause) for cause in answer.found]
    missed = [Item("cause", cause) for cause in answer.missed]
    if answer.sign_named:
        (found if answer.sign_named == answer.sign else missed).append(Item("sign", answer.sign))
    return memory.after(found, missed)


def _answer(line: str) -> Answer:
    """One line.

    Raises:
        ValueError: what is wrong with it, in words
    """
    if len(line) > LONGEST_LINE:
        raise ValueError("the line is far too long")
    try:
        table = json.loads(line)
    except (ValueError, RecursionError):
        raise ValueError("this is no line of JSON") from None
    if not isinstance(table, Mapping):
        raise ValueError("a line holds one table, { ... }")  # noqa: TRY004 - told as the other slips are
    texts = {name: _text(table, name) for name in ("student", "exercise", "sign", "sign_named", "reason", "step")}
    day, level, origin = (_text(table, name) for name in ("day", "level", "origin"))
    verdict = _text(table, "verdict")
    if day_number(day) is None:
        raise ValueError(f"day: {shown(day)} is not a date, such as 2026-05-01")
    if verdict not in VERDICTS:
        raise ValueError(f"verdict: {shown(verdict)} is none of {', '.join(filter(None, VERDICTS))}")
    causes = table.get("causes")
    if not isinstance(causes, list) or not 0 < len(causes) <= MOST_CAUSES or not all(_is_text(it) for it in causes):
        raise ValueError("causes: write the names of the causes at work, as a list")
    given = table.get("chances")
    chances = [float(chance) for chance in given if _is_chance(chance)] if isinstance(given, list) else []
    if len(chances) != len(causes) or len(given or ()) != len(causes):
        raise ValueError("chances: write a chance from 0 to 1 for each cause at work")
    lost = table.get("lost")
    return Answer(
        **texts,
        day=day,
        level=level,
        origin=origin,
        verdict=cast("Verdict", verdict),
        causes=tuple(causes),
        chances=tuple(chances),
        named=_named(table.get("named")),
        points=_number(table, "points"),
        tool=_number(table, "tool"),
        lost=None if lost is None else _number(table, "lost"),
    )


def _named(value: Any) -> tuple[Named, ...]:
    good = isinstance(value, list) and len(value) <= MOST_NAMED
    for pair in value if good else ():
        good = good and isinstance(pair, list) and len(pair) == 2 and _is_text(pair[0]) and _is_chance(pair[1])
    if not good or len({pair[0] for pair in value}) < len(value):
        raise ValueError("named: write up to three different causes, each with a chance from 0 to 1")
    return tuple(Named(cause, float(sure)) for cause, sure in value)


def _text(table: Mapping[str, Any], name: str) -> str:
    value = table.get(name, "")
    if not _is_text(value):
        raise ValueError(f"{name}: {shown(value)} is no short text")
    return cast("str", value)


def _number(table: Mapping[str, Any], name: str) -> float:
    value = table.get(name)
    if not _is_amount(value):
        raise ValueError(f"{name}: {shown(value)} is no number")
    return float(value)


def _is_text(value: Any) -> bool:
    return isinstance(value, str) and len(value) <= 400


def _is_chance(value: Any) -> TypeGuard[float]:
    return _is_amount(value) and 0 <= value <= 1


def _is_amount(value: Any) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= MOST_POINTS
