"""What a file of answers tells of each student and of the class, honest about small numbers."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from statistics import mean, variance
from typing import Literal, NamedTuple

from diagnose.daybook.small_numbers import share_interval
from diagnose.teaching.records import Answer
from diagnose.teaching.repetition import Item

# Named with at least so much belief; the words are those of the drill.
GRADES = (("sure", 0.85), ("likely", 0.55), ("unsure", 0.0))
FEW = 8  # below so many, a share is not judged: judged
HALF_AT_LEAST = 5  # plates in each half, or no trend is spoken of: judged
CLEAR, HINT = 2.6, 1.6  # standard errors: about 1 in 100, and 1 in 10, by chance alone
LEAST_GAIN = 5.0  # points a plate, under which nothing is called a change: judged
MOST_TO_PRACTISE = 5

Fit = Literal["too few to tell", "fits", "too sure", "not sure enough"]


class Grade(NamedTuple):
    """How often a student was right when so sure.

    Args:
        word: "sure", "likely" or "unsure"
        said: the mean chance given [0 to 1]
        named: so many causes
        right: so many of them were at work
        low, high: between which shares the true one lies, 95 times in 100
        fit: what that amounts to
    """

    word: str
    said: float
    named: int
    right: int
    low: float
    high: float
    fit: Fit


class Confusion(NamedTuple):
    """One thing taken for another.

    Args:
        kind: "sign" or "cause"
        true: what it was
        taken: what it was taken for; "?" for "I don't know", "" for nothing named
        times: how often
        seen: how often it was there to be named
    """

    kind: str
    true: str
    taken: str
    times: int
    seen: int


class Stage(NamedTuple):
    """What was missed of one stage of the work.

    Args:
        stage: its name
        missed: so many causes
        seen: of so many that could be seen
        low, high: between which shares the true one lies, 95 times in 100
    """

    stage: str
    missed: int
    seen: int
    low: float
    high: float


class Trend(NamedTuple):
    """Points against the tool's on the same plates: the earlier half and the later.

    Args:
        plates: in each half
        earlier, later: mean difference to the tool [points a plate]
        words: what that amounts to
    """

    plates: int
    earlier: float
    later: float
    words: str


class Missed(NamedTuple):
    """Something to practise.

    Args:
        item: the cause, or the sign
        missed: so often
        seen: of so many times it was there
        students: how many missed it
        taken: what it was mostly taken for; "" where nothing stands out
    """

    item: Item
    missed: int
    seen: int
    students: int
    taken: str


@dataclass(frozen=True)
class Standing:
    """One student, or a whole class.

    Args:
        student: the name as typed; "" without one
        plates: answered
        first, last: dates
        points: mean [a plate]
        tool: the tool's mean on the same plates
        found: causes at work that were named
        there: causes at work
        signs_right, signs_asked: drawings named right, of so many
        grades: calibration
        confusions: what was taken for what, the most frequent first
        stages: what was missed by the stage of the work, the most first
        trend: None where there are too few plates
        lucky: right first causes for a reason that does not speak for them
        reasoned: right first causes with a reason given
        lost: mean minutes lost by the next step; None where none was picked
    """

    student: str
    plates: int
    first: str
    last: str
    points: float
    tool: float
    found: int
    there: int
    signs_right: int
    signs_asked: int
    grades: tuple[Grade, ...]
    confusions: tuple[Confusion, ...]
    stages: tuple[Stage, ...]
    trend: Trend | None
    lucky: int
    reasoned: int
    lost: float | None


@dataclass(frozen=True)
class Report:
    """The students one by one, and the class.

    Args:
        students: by name
        whole: all answers together
        practise: what the class should practise next, the most missed first
    """

    students: tuple[Standing, ...]
    whole: Standing
    practise: tuple[Missed, ...]


def report_on(answers: Sequence[Answer]) -> Report | None:
    """The report; None where there is no answer.

    Args:
        answers: in the order in which they were given
    """
    if not answers:
        return None
    by_name: dict[str, list[Answer]] = {}
    for answer in answers:
        by_name.setdefault(answer.student, []).append(answer)
    students = tuple(standing_of(name, by_name[name]) for name in sorted(by_name))
    return Report(students, standing_of("", answers), to_practise(answers))


def standing_of(student: str, answers: Sequence[Answer]) -> Standing:
    """One student.

    Args:
        student: the name
        answers: in order, at least one
    """
    asked = [answer for answer in answers if answer.sign_named]
    reasoned = [
        answer for answer in answers if answer.verdict and answer.named and answer.named[0].cause in answer.causes
    ]
    lost = [answer.lost for answer in answers if answer.lost is not None]
    return Standing(
        student=student,
        plates=len(answers),
        first=min(answer.day for answer in answers),
        last=max(answer.day for answer in answers),
        points=mean(answer.points for answer in answers),
        tool=mean(answer.tool for answer in answers),
        found=sum(len(answer.found) for answer in answers),
        there=sum(len(answer.causes) for answer in answers),
        signs_right=sum(answer.sign == answer.sign_named for answer in asked),
        signs_asked=len(asked),
        grades=calibration(answers),
        confusions=confusions(answers),
        stages=by_stage(answers),
        trend=trend_of(answers),
        lucky=sum(answer.by_luck for answer in reasoned),
        reasoned=len(reasoned),
        lost=mean(lost) if lost else None,
    )


def calibration(answers: Iterable[Answer]) -> tuple[Grade, ...]:
    """How often a student was right, by how sure.

    Args:
        answers: of the student
    """
    rows: dict[str, list[tuple[float, bool]]] = {word: [] for word, _ in GRADES}
    for answer in answers:
        for name in answer.named:
            word = next(word for word, least in GRADES if name.sure >= least)
            rows[word].append((name.sure, name.cause in answer.causes))
    return tuple(_grade(word, row) for word, row in rows.items() if row)


def _grade(word: str, row: list[tuple[float, bool]]) -> Grade:
    said, right = mean(sure for sure, _ in row), sum(good for _, good in row)
    low, high = share_interval(right, len(row))
    fit: Fit = "too sure" if high < said else "not sure enough" if low > said else "fits"
    return Grade(word, said, len(row), right, low, high, "too few to tell" if len(row) < FEW else fit)


def confusions(answers: Iterable[Answer]) -> tuple[Confusion, ...]:
    """What was taken for what.

    Of causes, the true one that could be seen and was not named, and the first named that was not true.

    Args:
        answers: of one student, or of several
    """
    seen: Counter[tuple[str, str]] = Counter()
    taken: Counter[tuple[str, str, str]] = Counter()
    for answer in answers:
        if answer.sign_named:
            seen["sign", answer.sign] += 1
            if answer.sign_named != answer.sign:
                taken["sign", answer.sign, answer.sign_named] += 1
        wrong = next((name.cause for name in answer.named if name.cause not in answer.causes), "")
        for cause in answer.visible:
            seen["cause", cause] += 1
        for cause in answer.missed:
            taken["cause", cause, wrong] += 1
    rows = [Confusion(*key, times, seen[key[:2]]) for key, times in taken.items()]
    return tuple(sorted(rows, key=lambda row: (-row.times, row.seen, row[:3])))


def trend_of(answers: Sequence[Answer]) -> Trend | None:
    """The earlier half of the plates against the later one, each against the tool on the same plates, since plates differ.

    Args:
        answers: of one student, in order
    """
    half = len(answers) // 2
    if half < HALF_AT_LEAST:
        return None
    behind = [answer.points - answer.tool for answer in answers]
    first, second = behind[:half], behind[-half:]
    spread = ((variance(first) + variance(second)) / half) ** 0.5
    gain = mean(second) - mean(first)
    size = 0.0 if abs(gain) < LEAST_GAIN else abs(gain) / spread if spread else CLEAR
    way = "better" if gain > 0 else "worse"
    words = (
        f"clearly {way}" if size >= CLEAR else f"{way}, though it may be chance" if size >= HINT else "no clear change"
    )
    return Trend(half, mean(first), mean(second), words)


def to_practise(answers: Sequence[Answer]) -> tuple[Missed, ...]:
    """What was missed most: by the least share of misses that its few plates allow, so that one miss does not lead.

    Args:
        answers: of everyone
    """
    mistaken = confusions(answers)
    found: list[Missed] = []
    for kind, name in dict.fromkeys((row.kind, row.true) for row in mistaken):
        rows = [row for row in mistaken if (row.kind, row.true) == (kind, name)]
        item = Item("sign" if kind == "sign" else "cause", name)
        named = [row for row in rows if row.taken not in {"", "?"}]
        most = named[0].taken if named and named[0].times > 1 else ""
        missed_by = {answer.student for answer in answers if _missed(item)(answer)}
        found.append(Missed(item, sum(row.times for row in rows), rows[0].seen, len(missed_by), most))
    found.sort(key=lambda row: (-share_interval(row.missed, row.seen)[0], -row.missed, row.item))
    return tuple(found[:MOST_TO_PRACTISE])


def _missed(item: Item) -> Callable[[Answer], bool]:
    if item.kind == "sign":
        return lambda answer: bool(answer.sign_named) and answer.sign == item.name != answer.sign_named
    return lambda answer: item.name in answer.missed


def by_stage(answers: Iterable[Answer]) -> tuple[Stage, ...]:
    """How many causes of each stage of the work were missed, the most first: single causes come too seldom to tell.

    Args:
        answers: of one student, or of several
    """
    seen: Counter[str] = Counter()
    missed: Counter[str] = Counter()
    for answer in answers:
        seen.update(cause.partition("/")[0] for cause in answer.visible)
        missed.update(cause.partition("/")[0] for cause in answer.missed)
    rows = [Stage(stage, missed[stage], count, *share_interval(missed[stage], count)) for stage, count in seen.items()]
    return tuple(sorted(rows, key=lambda row: (-row.low, -row.missed, row.stage)))
