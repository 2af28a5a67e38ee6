"""The clock, read in one place: now, and the moment a date and a time of day stand for."""

from datetime import datetime

from diagnose.daybook.book import Moment
from diagnose.errors import PlateError
from diagnose.plate import day_number, shown

FAST_WATCH = 15 * 60  # s; a watch may go fast by so much: judged


def reading() -> datetime:
    """What the clock shows; the one place where it is looked at."""
    return datetime.now().astimezone()


def now() -> Moment:
    """This moment, by the person's own clock."""
    here = reading()
    return Moment(int(here.timestamp()), here.date().isoformat(), f"{here:%H:%M}")


def today() -> str:
    """Today's date, by the person's own calendar."""
    return reading().date().isoformat()


def at_of(day: str, clock: str) -> int:
    """Seconds since 1970 began, of a time of day on a date where the person is [s].

    Args:
        day: as 2026-05-01
        clock: as 14:05; "" for the start of the day

    Raises:
        PlateError: it is no date, or no time of day
    """
    if day_number(day) is None:
        raise PlateError(f"{shown(day)!r} is not a date; write it as 2026-05-01")
    hours, colon, minutes = (clock or "0:00").partition(":")
    figures = hours.isascii() and hours.isdigit() and minutes.isascii() and minutes.isdigit()
    if not (colon and figures and len(hours) <= 2 and len(minutes) == 2 and int(hours) < 24 and int(minutes) < 60):
        raise PlateError(f"{shown(clock)!r} is not a time of day; write it as 14:05")
    try:
        return int(datetime.fromisoformat(f"{day}T{int(hours):02}:{minutes}").astimezone().timestamp())
    except (OverflowError, OSError, ValueError):
        raise PlateError(f"{shown(day)}: no calendar here reaches that day; write the day as 2026-05-01") from None


def moment_of(day: str = "", clock: str = "") -> Moment:
    """The moment a person means; now, where neither day nor time is said.

    Args:
        day: as 2026-05-01; "" for today
        clock: as 14:05; "" for now, or for an unknown time of another day

    Raises:
        PlateError: it is no date or no time of day, or has not come yet
    """
    here = now()
    if not clock and day in {"", here.day}:
        return here
    seconds = at_of(day or here.day, clock)
    if seconds > here.at + FAST_WATCH:
        raise PlateError(_ahead(day or here.day, clock, here))
    return Moment(seconds, day or here.day, clock if not clock else f"{int(clock.partition(':')[0]):02}:{clock[-2:]}")


def past(day: str, clock: str) -> int:
    """The same as `at_of`, of what has happened already [s].

    Args:
        day: as 2026-05-01
        clock: as 14:05; "" for the start of the day

    Raises:
        PlateError: it is no date or no time of day, or has not come yet
    """
    return moment_of(day, clock).at if clock or day > today() else at_of(day, clock)


def _ahead(day: str, clock: str, here: Moment) -> str:
    if day != here.day:
        return f"{day} has not come yet; today is {here.day}"
    return f"{clock} has not come yet, it is {here.clock}; for another day give --day as well"
