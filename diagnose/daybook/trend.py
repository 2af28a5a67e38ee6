"""How spoiled plates went over days, weeks or months."""

from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from diagnose.daybook.book import PlateEntry
from diagnose.daybook.patterns import AT_WORK
from diagnose.daybook.reviewed import Stretch
from diagnose.daybook.small_numbers import share_interval
from diagnose.entries.knowledge import Knowledge
from diagnose.plate import day_number

DAYS_BEFORE = 7  # days with plates that are shown before the ones under review
MOST_ROWS = 14

Scale = Literal["day", "week", "month"]


def trend_of(
    plates: Sequence[PlateEntry],
    first: str,
    last: str,
    here: Sequence[tuple[PlateEntry, Sequence[str]]],
    knowledge: Knowledge,
) -> tuple[tuple[Stretch, ...], Scale]:
    """The days under review and some before them, together by weeks or months where there are many.

    Args:
        plates: every plate of the book, in order
        first: date under review
        last: the last such date
        here: the plates under review, each with titles of the standing causes at work on it
        knowledge: titles

    Returns:
        the rows, oldest first, and what a row is
    """
    days = list(dict.fromkeys(plate.moment.day for plate in plates if plate.moment.day <= last))
    inside = [day for day in days if day >= first]
    shown = {*days[-max(DAYS_BEFORE, len(inside)) :]}
    scale, label = _scale(sorted(shown))
    rows: dict[str, list[PlateEntry]] = {}
    for plate in plates:
        if plate.moment.day in shown:
            rows.setdefault(label(plate.moment.day), []).append(plate)
    behind = {id(plate): standing for plate, standing in here}
    return tuple(_row(name, made, behind, knowledge) for name, made in sorted(rows.items())), scale


def _scale(days: Sequence[str]) -> tuple[Scale, Callable[[str], str]]:
    """Days while they are few, then weeks, then months."""
    if len(days) <= MOST_ROWS:
        return "day", str
    if len({_week(day) for day in days}) <= MOST_ROWS:
        firsts: dict[int, str] = {}
        for day in days:
            firsts.setdefault(_week(day), day)
        return "week", lambda day: f"{firsts[_week(day)]} on"
    return "month", lambda day: day[:7]


def _week(day: str) -> int:
    """Which week a day lies in; weeks begin on Monday, as the first of all days did."""
    return ((day_number(day) or 1) - 1) // 7


def _row(name: str, made: Sequence[PlateEntry], behind: Mapping[int, Sequence[str]], knowledge: Knowledge) -> Stretch:
    spoiled = sum(not plate.good for plate in made)
    least, most = share_interval(spoiled, len(made))
    reviewed = any(id(plate) in behind for plate in made)
    standing: dict[str, None] = {}
    for plate in made:
        standing |= dict.fromkeys(behind[id(plate)] if id(plate) in behind else _given(plate, knowledge))
    return Stretch(
        label=name,
        plates=len(made),
        spoiled=spoiled,
        share=spoiled / len(made),
        least=least,
        most=most,
        standing=tuple(standing),
        at_the_time=not reviewed and bool(standing),
        here=reviewed,
    )


def _given(plate: PlateEntry, knowledge: Knowledge) -> list[str]:
    """Standing causes likelier than not by the diagnosis given at the time."""
    if plate.good or plate.given is None:
        return []
    known = knowledge.causes
    return [
        known[cause].title
        for cause, chance in plate.given.causes.items()
        if cause in known and known[cause].scope == "standing" and chance > AT_WORK
    ]
