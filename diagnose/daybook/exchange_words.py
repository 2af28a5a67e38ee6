"""Small things that stand in a file of entries: a day, a clock, an amount, a text, one of several words."""

import re
from collections.abc import Iterable
from typing import Any

from diagnose.daybook.exchange_problems import Place, Problems
from diagnose.errors import near, printable
from diagnose.plate import day_number, shown
from diagnose.units import UnitError, read_amount

FIRST_DAY, LAST_DAY = "1851-01-01", "2199-12-31"  # the process was published in 1851; the end is judged
LONGEST_AMOUNT = 60
_CLOCK = re.compile(r"([01]?\d|2[0-3])[:.h]([0-5]\d)(?:[:.][0-5]\d)?", re.ASCII)
# What is put into things, or what there is of them; the last two are for acids and for scales without grams.
_AMOUNT_UNITS = ("mL", "g", "drops", "plates")


def day_meant(value: Any, place: Place, problems: Problems) -> str:
    """A date; "" where it is none.

    Args:
        value: as read
        place: where it stands
        problems: takes in what is wrong
    """
    text = value.strip() if isinstance(value, str) else value.isoformat() if hasattr(value, "isoformat") else ""
    text = text[: len(FIRST_DAY)] if isinstance(value, str) is False else text  # a date of the file's own kind
    if text and day_number(text) is not None and FIRST_DAY <= text <= LAST_DAY:
        return text
    if value in (None, ""):
        problems.add(place, "day", "no day is told; write it as 2026-05-01")
    else:
        problems.add(place, "day", f"{shown(value)!r} is not a day that can be right; write it as 2026-05-01")
    return ""


def clock_meant(value: Any, place: Place, problems: Problems) -> str:
    """A time of day as 14:05; "" where none was noted.

    Args:
        value: as read; seconds are left out
        place: where it stands
        problems: takes in what is wrong
    """
    text = value.strip() if isinstance(value, str) else value.isoformat() if hasattr(value, "isoformat") else None
    if text == "":
        return ""
    found = clock_in(text) if text else ""
    if not found:
        problems.add(place, "clock", f"{shown(value)!r} is not a time of day; write it as 14:05")
    return found


def clock_in(text: str) -> str:
    """A time of day as 14:05; "" where it is none.

    Args:
        text: such as 14:05, 9.30 or 14:05:10

    >>> clock_in("9.30"), clock_in("14:05:59"), clock_in("25:00")
    ('09:30', '14:05', '')
    """
    found = _CLOCK.fullmatch(text)
    return f"{int(found[1]):02d}:{found[2]}" if found else ""


def text_meant(value: Any, place: Place, label: str, problems: Problems, most: int) -> str:
    """Words that can be kept; "" where they cannot.

    Args:
        value: as read
        place: where it stands
        label: the name of the field
        problems: takes in what is wrong
        most: how many letters
    """
    if not isinstance(value, str):
        problems.add(place, label, f"{shown(value)} is not a text; write words in quotation marks")
    elif len(value) > most:
        problems.add(place, label, f"{len(value)} letters are too many; {most} are kept")
    elif not keepable(value):
        problems.add(place, label, "there is a sign in it that is no letter and cannot be kept; write it anew")
    else:
        return value
    return ""


def keepable(text: str) -> bool:
    """Whether a text can be written to any file and any book.

    Args:
        text: any
    """
    return "\0" not in text and not any("\ud800" <= letter <= "\udfff" for letter in text)


def one_of(value: Any, known: Iterable[str], place: Place, label: str, problems: Problems) -> str:
    """A word out of several; "" where it is none of them.

    Args:
        value: as read
        known: what is accepted
        place: where it stands
        label: the name of the field
        problems: takes in what is wrong
    """
    names = tuple(known)
    if isinstance(value, str) and value in names:
        return value
    told = "nothing is told" if value in (None, "") else f"no {label} called {shown(value)!r}"
    hint = near(value[:LONGEST_AMOUNT], names) if isinstance(value, str) else ""
    problems.add(place, label, "; ".join(filter(None, (told, hint, f"use {', '.join(names)}"))))
    return ""


def amount_said(value: Any, place: Place, problems: Problems) -> str:
    """An amount as it was told, in any unit; "" where none was told or it cannot be read.

    Args:
        value: as read
        place: where it stands
        problems: takes in what is wrong
    """
    text = text_meant(value, place, "amount", problems, LONGEST_AMOUNT)
    if text and (wrong := amount_wrong(text)):
        problems.add(place, "amount", wrong)
        return ""
    return text


def amount_wrong(text: str) -> str:
    """What is wrong with an amount of something; "" where it can be read.

    Args:
        text: such as "50 mL", "10 g" or "12 drops"

    >>> amount_wrong("500 mL"), amount_wrong("3 apoz")
    ('', '')
    """
    said = []
    for unit in _AMOUNT_UNITS:
        try:
            if read_amount(text, unit) >= 0 and not re.fullmatch(r"[\d.,\s/+-]*", text, re.ASCII):
                return ""
        except UnitError as error:
            said.append(str(error))
    ounce = next((words for words in said if "which ounce" in words), "")
    return printable(ounce) or f"{shown(text)!r} is not an amount; write a number and a unit, such as 50 mL or 10 g"
