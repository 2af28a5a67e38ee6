"""Days and counts of a daybook in words."""

from diagnose.daybook.book import Moment
from diagnose.plate import day_number

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def when(moment: Moment, now: Moment) -> str:
    """When something was, seen from another moment.

    Args:
        moment: when it was
        now: when it is told

    >>> when(Moment(0, "2026-05-20", "09:10"), Moment(9, "2026-05-20", "14:00"))
    'today at 09:10'
    >>> when(Moment(0, "2025-05-20"), Moment(9, "2026-05-21"))
    'on 20 May 2025'
    """
    if moment.day == now.day:
        return f"today at {moment.clock}" if moment.clock else "today"
    return f"on {day_in_words(moment.day, now.day)}"


def day_in_words(day: str, today: str = "") -> str:
    """A date as it is said; its year only where it is another than today's.

    Args:
        day: as 2026-05-20
        today: the same; "" tells the year

    >>> day_in_words("2026-05-20", "2026-06-01")
    '20 May'
    """
    if day_number(day) is None:
        return day
    said = f"{int(day[8:])} {MONTHS[int(day[5:7]) - 1]}"
    return said if day[:4] == today[:4] else f"{said} {day[:4]}"


def days_between(earlier: str, later: str) -> int | None:
    """Days from one date to another [d]; None where one of them is no date.

    Args:
        earlier: as 2026-05-20
        later: the same
    """
    first, last = day_number(earlier), day_number(later)
    return None if first is None or last is None else last - first


def counted(count: float, word: str) -> str:
    """A whole number of things.

    Args:
        count: how many
        word: one of them

    >>> counted(1, "plate"), counted(34.2, "plate")
    ('1 plate', '34 plates')
    """
    whole = round(count)
    return f"{whole} {word}{'' if whole == 1 else 's'}"
