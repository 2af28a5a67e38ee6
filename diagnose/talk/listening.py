"""What was typed: a number that picks, an amount, a line from the terminal or a pipe."""

import sys

from diagnose.entries.observed import Condition
from diagnose.talk.theme import AS_BEFORE
from diagnose.units import is_bare, print_amount


class Leave(Exception):  # noqa: N818 - not an error: the person wants to go
    """The person leaves, or the input ends."""


def pick(typed: str, offered: list[str]) -> str | None:
    """The answer a number, a letter or its own name picks.

    Args:
        typed: what was typed
        offered: the answers in the order they stand
    """
    if typed.isascii() and typed.isdigit() and len(typed) <= 6 and 1 <= int(typed) <= len(offered):
        return offered[int(typed) - 1]
    if typed in {"y", "n"} and set(offered) == {"yes", "no"}:
        return {"y": "yes", "n": "no"}[typed]
    return typed if typed in offered else None


def listen_to_terminal(prompt: str) -> str:
    """One line from standard input; the prompt is shown only to a terminal."""
    if sys.stdin.isatty():
        try:
            return input(prompt)
        finally:
            if AS_BEFORE[0] in prompt:
                sys.stdout.write(AS_BEFORE)
                sys.stdout.flush()
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line


def example_of(entry: Condition) -> str:
    """An everyday amount of a condition, to show how it is written.

    Args:
        entry: the condition
    """
    low, high = entry.ordinary or entry.range or (0.0, 0.0)
    return print_amount(low or float(f"{high / 4:.1g}"), entry.unit)


def as_amount(typed: str, unit: str) -> str | None:
    """What was typed as an amount; a bare number gets the condition's own unit.

    Args:
        typed: what was typed
        unit: the condition's unit
    """
    if not any(letter.isdigit() for letter in typed):
        return None
    return f"{typed} {unit}" if is_bare(typed) else typed
