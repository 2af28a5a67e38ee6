"""The whole rule language: six short forms, read with a handful of regular expressions.

room_temperature > 28 °C           a measured condition compared
fixer is cyanide                   a choice, or yes / no
bath_strength known                a condition that was given at all
plate-drying                       a state some rule has derived
comets seen                        a symptom of the plate
litmus-on-bath found red-turns-blue    the outcome of a check
"""

import re
from functools import lru_cache
from typing import NamedTuple

from diagnose.errors import DiagnoseError

FORMS = (
    'write it like "room_temperature > 28 °C", "fixer is cyanide", "bath_strength known", "plate-drying", '
    '"comets seen" or "litmus-on-bath found red-turns-blue"'
)


class TestError(DiagnoseError):
    """A test in a knowledge file cannot be read."""

    __test__ = False  # not a test case, whatever the name suggests to pytest


class Comparison(NamedTuple):
    """A measured condition compared with an amount."""

    condition: str
    sign: str
    amount: str


class IsOption(NamedTuple):
    """A choice or a yes-or-no condition with one answer."""

    condition: str
    option: str


class IsKnown(NamedTuple):
    """A condition that was given at all."""

    condition: str


class InState(NamedTuple):
    """A state some rule has derived."""

    state: str


class Seen(NamedTuple):
    """A symptom present on the plate."""

    symptom: str


class Found(NamedTuple):
    """A check that came out one way."""

    check: str
    outcome: str


Test = Comparison | IsOption | IsKnown | InState | Seen | Found

_CONDITION = r"[a-z][a-z0-9]*(?:_[a-z0-9]+)*"
_SLUG = r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*"
_COMPARISON = re.compile(rf"({_CONDITION}) (>=|<=|>|<) (\S.*)")
_IS_OPTION = re.compile(rf"({_CONDITION}) is ({_SLUG})")
_IS_KNOWN = re.compile(rf"({_CONDITION}) known")
_SEEN = re.compile(rf"({_SLUG}) seen")
_FOUND = re.compile(rf"({_SLUG}) found ({_SLUG})")
_IN_STATE = re.compile(rf"({_SLUG})")


@lru_cache(maxsize=4096)
def read_test(text: str) -> Test:
    """One test from its words.

    Args:
        text: the test as it stands in a file

    Raises:
        TestError: none of the six forms fits

    >>> read_test("fixer is cyanide")
    IsOption(condition='fixer', option='cyanide')
    """
    if " " not in text:
        if _IN_STATE.fullmatch(text):
            return InState(text)
    elif match := _COMPARISON.fullmatch(text):
        return Comparison(match[1], match[2], match[3])
    elif match := _IS_OPTION.fullmatch(text):
        return IsOption(match[1], match[2])
    elif match := _IS_KNOWN.fullmatch(text):
        return IsKnown(match[1])
    elif match := _FOUND.fullmatch(text):
        return Found(match[1], match[2])
    elif match := _SEEN.fullmatch(text):
        return Seen(match[1])
    raise TestError(f"cannot read {text!r}; {FORMS}")
