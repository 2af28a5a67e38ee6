"""What a sum is told: read from the command line, or asked for one thing at a time."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from rich.text import Text

from diagnose.bench.showing import own_unit
from diagnose.bench.sum import Asked, BenchError, Sum
from diagnose.bench.wording import in_words
from diagnose.errors import near, printable
from diagnose.talk import blocks
from diagnose.talk.listening import as_amount, pick
from diagnose.talk.theme import Look
from diagnose.units import UNITS, UnitError, read_amount, takes_bare_numbers

LEAVE = "q"
PLAIN = {"in": "inches", "ft": "feet", "s": "seconds", "min": "minutes"}  # "in in" is no English
LONGEST = 200  # letters of a value that are read


class Left(Exception):  # noqa: N818 - no error: the person had enough
    """The person left in the middle of the questions."""


@dataclass(frozen=True)
class Told:
    """One thing that was told.

    Args:
        value: amount in the unit that was asked for, or a choice
        words: as it would be typed again, with its unit
    """

    value: float | str
    words: str


@dataclass(frozen=True)
class Asking:
    """Whom to ask, and how.

    Args:
        look: where it is asked
        listen: gives the next line typed
        measures: "metric", "us" or "imperial": what a bare number is taken in
    """

    look: Look
    listen: Callable[[str], str]
    measures: str


def read_given(sum_: Sum, given: Sequence[str]) -> dict[str, Told]:
    """What was typed after the name.

    Args:
        sum_: which sum
        given: "input=value"

    Raises:
        BenchError: an input is unknown, told twice, or its value cannot be used
    """
    told: dict[str, Told] = {}
    for word in given:
        name, equals, text = word.partition("=")
        name = name.strip()
        if not equals:
            raise BenchError(f"cannot read {printable(word[:40])!r}; write input=value, such as {_example(sum_)}")
        if name in told:
            raise BenchError(f"{name} is told twice; keep one")
        told[name] = read_value(sum_.asked(name), text)
    return told


def read_value(asked: Asked, text: str) -> Told:
    """One value as typed.

    Args:
        asked: what was asked
        text: an amount with its unit, or a choice

    Raises:
        BenchError: it cannot be read, or cannot be right
    """
    word = printable(text[:LONGEST]).strip()
    if asked.choices:
        chosen = word.casefold()
        if chosen not in asked.choices:
            hint = near(word, asked.choices)
            raise BenchError(
                f"{asked.name}: no answer {word[:40]!r}; use one of: {', '.join(asked.choices)}"
                + (f"; {hint}" if hint else "")
            )
        return Told(chosen, chosen)
    try:
        value = read_amount(word, asked.unit)
    except UnitError as error:
        raise BenchError(f"{asked.name}: {error}") from None
    if wrong := asked.complaint(value):
        raise BenchError(f"{asked.name}: {wrong}")
    return Told(value, word)


def ask_for(asked_for: Iterable[Asked], told: dict[str, Told], asking: Asking) -> None:
    """Ask one plain question for each thing, until each that must be told is told.

    Args:
        asked_for: what is asked, in order
        told: the answers are put in
        asking: whom, and how

    Raises:
        Left: the person left
        EOFError: the input ended before everything was told that must be
    """
    first = True
    for asked in asked_for:
        asking.look.show(Text(asked.ask, style="title"))
        for number, words in enumerate(asked.choices.values(), start=1):
            asking.look.show(blocks.numbered(number, words))
        hint = [how_to_answer(asked, asking.measures)]
        hint += (
            [f"just Enter leaves it out: {asked.usual_because.removeprefix('left out, ')}"] if asked.if_known else []
        )
        hint += [f"{LEAVE} leaves the sum"] if first else []
        asking.look.show(Text(f"({'; '.join(hint)})", style="faint"))
        first = False
        answer = _answer(asked, asking)
        if answer:
            told[asked.name] = answer


def how_to_answer(asked: Asked, measures: str) -> str:
    """How an answer may be typed, in words.

    Args:
        asked: what is asked
        measures: "metric", "us" or "imperial"
    """
    if asked.choices:
        return "its number"
    unit = own_unit(asked.unit, measures)
    kind = UNITS[unit.casefold()].kind
    if kind == "area":
        return f"a size such as 13x18 cm, 4x5 in or whole plate, or a number of {unit}"
    if kind == "light":
        return "a plain number of lux"
    if takes_bare_numbers(unit):
        return "a plain number"
    name = PLAIN.get(unit) or in_words(0, unit).removeprefix("0 ")
    alone = not [other for other in UNITS.values() if other.kind == kind and other.name != unit]
    return f"in {name}" if alone else f"in {name}, or with another unit"


def _answer(asked: Asked, asking: Asking) -> Told | None:
    """The answer to one question; None where it is left out."""
    while True:
        try:
            typed = asking.listen(asking.look.prompt).strip()
        except EOFError:
            if asked.if_known:
                return None
            raise
        if typed.casefold() == LEAVE:
            raise Left
        if typed in {"", "?"}:
            if asked.if_known:
                return None
            asking.look.show(Text(f"It cannot be worked without this; {LEAVE} leaves the sum.", style="care"))
            continue
        try:
            return read_value(asked, _meant(typed[:LONGEST], asked, asking.measures))
        except BenchError as error:
            asking.look.show(Text(str(error).removeprefix(f"{asked.name}: "), style="care"))


def _meant(typed: str, asked: Asked, measures: str) -> str:
    """What was typed, a number of an answer as that answer, and a bare number with its unit."""
    if asked.choices:
        if typed.isascii() and typed.isdigit() and not pick(typed, list(asked.choices)):
            raise BenchError(f"type a number from 1 to {len(asked.choices)}")
        return pick(typed.casefold(), list(asked.choices)) or typed
    unit = own_unit(asked.unit, measures)
    return typed if takes_bare_numbers(unit) else as_amount(typed, unit) or typed


def _example(sum_: Sum) -> str:
    asked = sum_.asks[0]
    if asked.choices:
        return f"{asked.name}={next(iter(asked.choices))}"
    return f"{asked.name}=..." if takes_bare_numbers(asked.unit) else f'{asked.name}="... {asked.unit}"'
