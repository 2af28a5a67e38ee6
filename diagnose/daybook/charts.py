"""Where everything stands in the page's drawings; the page itself draws it."""

from dataclasses import dataclass

from diagnose.daybook import review_words as words
from diagnose.daybook.reviewed import Review

IN_A_ROW = 20
CELL, GAP_DAYS, MARGIN = 36, 26, 4  # all lengths in the drawing's own units
ROW = 64
MOST_IN_STRIP = 400  # plates; above that the trend says more
BARS_WIDE = 320.0
TREND_HIGH, TREND_STEP, TREND_LEFT = 150, 56, 44


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One plate of the strip.

    Args:
        x, y: its upper left corner
        number: of the plate
        good: whether it came out well
        standing: whether a pattern was likelier than not at work on it
        began: whether a pattern most likely began with it
        work: what was done before it, in words; "" for nothing
        title: what is said when one points at it
    """

    x: int
    y: int
    number: int
    good: bool
    standing: bool
    began: bool
    work: str
    title: str


@dataclass(frozen=True, kw_only=True)
class Strip:
    """All plates in rows.

    Args:
        wide, high: of the drawing
        cells: the plates
        days: (y, date) of each day's line, where there are several
        after: (x, y, words) of what was done after the last plate; None for nothing
        label: the drawing in words
    """

    wide: int
    high: int
    cells: tuple[Cell, ...]
    days: tuple[tuple[int, str], ...]
    after: tuple[int, int, str] | None
    label: str


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """One bar.

    Args:
        long: its length
        title: the cause
        plates, so_far: its figures, in words
        standing: whether the cause stands until put right
    """

    long: float
    title: str
    plates: str
    so_far: str
    standing: bool


@dataclass(frozen=True, kw_only=True)
class Column:
    """One stretch of the trend.

    Args:
        x: its middle
        top, foot: of its interval
        y: of its share
        label, counts: below it
        here: whether it is under review
        title: what is said when one points at it
    """

    x: int
    top: float
    foot: float
    y: float
    label: str
    counts: str
    here: bool
    title: str


def strip(review: Review) -> Strip | None:
    """The strip of plates; None where there are none, or too many for one.

    Args:
        review: of some days
    """
    lines = review.lines
    if not lines or len(lines) > MOST_IN_STRIP:
        return None
    at_work = {number for pattern in review.patterns for number in pattern.plates}
    began = {pattern.onset for pattern in review.patterns}
    done: dict[int, list[str]] = {}
    for work in review.works:
        done.setdefault(work.before, []).append(f"{work.clock} {work.words}".strip())
    several = review.first != review.last
    cells: list[Cell] = []
    days: list[tuple[int, str]] = []
    y, place, day = MARGIN, 0, ""
    for line in lines:
        if line.day != day:
            y += (ROW if cells else 0) + (GAP_DAYS if several else 0)
            day, place = line.day, 0
            days.append((y - 8, day))
        elif place == IN_A_ROW:
            y, place = y + ROW, 0
        said = [words.plate_head(line, days=several), *line.signs, words.changed_line(line)]
        cells.append(
            Cell(
                x=MARGIN + place * CELL,
                y=y,
                number=line.number,
                good=line.good,
                standing=line.number in at_work,
                began=line.number in began,
                work="; ".join(done.get(line.number, ())),
                title=". ".join(part for part in said if part),
            )
        )
        place += 1
    last, after = cells[-1], done.get(len(lines) + 1)
    widest = max(cell.x for cell in cells) + CELL
    return Strip(
        wide=max(widest + MARGIN + (12 if after else 0), 220),
        high=last.y + ROW,
        cells=tuple(cells),
        days=tuple(days) if several else (),
        after=(last.x + CELL, last.y, "; ".join(after)) if after else None,
        label=_strip_label(review),
    )


def pareto(review: Review) -> tuple[Drawn, ...]:
    """The bars of the Pareto, the longest first.

    Args:
        review: of some days
    """
    most = max((bar.plates for bar in review.bars), default=1.0)
    return tuple(
        Drawn(
            long=max(1.5, BARS_WIDE * bar.plates / most),
            title=bar.title,
            plates=f"{bar.plates:.1f}",
            so_far=words.share(bar.so_far),
            standing=bar.standing,
        )
        for bar in review.bars
    )


def trend(review: Review) -> tuple[Column, ...]:
    """The columns of the trend, oldest first.

    Args:
        review: of some days
    """
    return tuple(
        Column(
            x=TREND_LEFT + TREND_STEP // 2 + number * TREND_STEP,
            top=TREND_HIGH * (1 - row.most) + 10,
            foot=TREND_HIGH * (1 - row.least) + 10,
            y=TREND_HIGH * (1 - row.share) + 10,
            label=row.label.removesuffix(" on")[5:]
            if row.label[4:5] == "-" and review.stretch != "month"
            else row.label,
            counts=f"{row.spoiled}/{row.plates}",
            here=row.here,
            title=words.stretch_line(row),
        )
        for number, row in enumerate(review.trend)
    )


def _strip_label(review: Review) -> str:
    spoiled = words.numbers(line.number for line in review.lines if not line.good)
    said = f"Strip of {words.plates(review.plates)}; spoiled: {spoiled}."
    for pattern in review.patterns:
        said += f" {pattern.likely.title}: {words.began(pattern, review.lines)}"
    return said
