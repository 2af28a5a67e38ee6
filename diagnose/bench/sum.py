"""What a sum of the darkroom is: what it asks, how it is worked, and how far it may be trusted."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from diagnose.bench.wording import in_words, range_words
from diagnose.errors import DiagnoseError, near, printable

NO_CHOICES: Mapping[str, str] = MappingProxyType({})


class BenchError(DiagnoseError):
    """A sum cannot be worked with what was given; the message says what is accepted."""


class MoreWantedError(BenchError):
    """One of the things that need not be told is wanted after all; the message says which."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)  # made at every start: eq and repr cost time
class Asked:
    """One thing a sum has to be told.

    Args:
        name: as it is written on the command line
        ask: the question, in plain words
        unit: unit in which the work gets it; "" where one of `choices` is picked
        range: least and most that can be right [unit]
        choices: answer -> its words
        usual: what is taken where nothing is said; None where it must be told
        usual_because: why that may be taken
        if_known: it may simply be unknown; `usual` then only stands for that, and is not shown
    """

    name: str
    ask: str
    unit: str = ""
    range: tuple[float, float] = (0.0, math.inf)
    choices: Mapping[str, str] = field(default_factory=lambda: NO_CHOICES)
    usual: float | str | None = None
    usual_because: str = ""
    if_known: bool = False

    def complaint(self, value: float | str) -> str:
        """What is wrong with a value, with what is accepted; "" if nothing is.

        Args:
            value: an amount in the wanted unit, or a choice
        """
        if self.choices:
            return "" if value in self.choices else f"no answer {_shown(value)}; use one of: {', '.join(self.choices)}"
        if isinstance(value, str) or not math.isfinite(value):
            return f"{_shown(value)} is not an amount"
        low, high = self.range
        if low <= value <= high:
            return ""
        right = range_words(low, high, self.unit)
        if self.if_known and low == 0 and not math.isinf(high):
            right = f"more than 0, up to {in_words(high, self.unit)},"
        return f"{in_words(float(f'{value:.6g}'), self.unit)} cannot be right; {right} is accepted"


class Amount(NamedTuple):
    """One result.

    Args:
        name: for scripts, in small letters with underscores
        label: for people
        value: as worked out, not rounded [unit]
        unit: its unit; "" for a word in `label`
        tool: what it is measured out or read with: "balance", "syringe", "cylinder", "drops", "clock", "hydrometer", "plates";
            "" for a figure only looked at; decides how it is rounded
        never_over: rounded down, because more would do harm
        figures: how many figures are worth reading where it is only looked at
        aside: not what was asked for: shown with `--full` and in JSON only
    """

    name: str
    label: str
    value: float
    unit: str
    tool: str = ""
    never_over: bool = False
    figures: int = 3
    aside: bool = False


class Worked(NamedTuple):
    """What came out.

    Args:
        amounts: the leading one first
        do: what to do with them, in order, one sentence each
        beware: doubts, limits and what would falsify the result, one sentence each
        cautions: cautions of the knowledge that this result calls for, besides those of the sum
        keeps: how long what was mixed keeps; "" where nothing was
    """

    amounts: tuple[Amount, ...]
    do: tuple[str, ...] = ()
    beware: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    keeps: str = ""

    def value(self, name: str) -> float:
        """One result by its name [its unit]."""
        return next(amount.value for amount in self.amounts if amount.name == name)


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)  # made at every start: eq and repr cost time
class Sum:
    """One sum of the darkroom.

    Args:
        name: what it is called by, words joined with hyphens
        title: what it answers, in plain words
        asks: what it has to be told, in the order it is asked
        work: takes every `asks` by name and gives the result; raises BenchError where the inputs do not go together
        formula: how it is worked, in one line
        holds: where it holds: range and assumptions
        accuracy: how well, in words with a number
        sources: "key place" as in the knowledge's sources, or a mark such as "from-memory"
        cautions: cautions of the knowledge that always stand beside it
    """

    name: str
    title: str
    asks: tuple[Asked, ...]
    work: Callable[..., Worked]
    formula: str
    holds: str
    accuracy: str
    sources: tuple[str, ...]
    cautions: tuple[str, ...] = ()

    def asked(self, name: str) -> Asked:
        """One of the things it has to be told.

        Args:
            name: its name

        Raises:
            BenchError: it asks no such thing
        """
        for item in self.asks:
            if item.name == name:
                return item
        names = [item.name for item in self.asks]
        raise BenchError(
            f"{self.name} asks nothing called {_shown(name)}; {near(name[:60], names) or ', '.join(names)}"
        )

    def missing(self, given: Mapping[str, float | str]) -> tuple[Asked, ...]:
        """What must still be told.

        Args:
            given: name -> amount in its unit, or choice
        """
        return tuple(item for item in self.asks if item.usual is None and item.name not in given)

    def taken(self, given: Mapping[str, float | str]) -> dict[str, float | str]:
        """Every input as it is used: what was given, and the usual value for the rest.

        Args:
            given: name -> amount in its unit, or choice

        Raises:
            BenchError: something is missing, unknown or cannot be right
        """
        for name, amount in given.items():
            if wrong := self.asked(name).complaint(amount):
                raise BenchError(f"{name}: {wrong}")
        values: dict[str, float | str] = {}
        for item in self.asks:
            told: float | str | None = given.get(item.name)
            value = item.usual if told is None else told
            if value is None:
                raise BenchError(f"{self.name} wants {item.name}: {item.ask}")
            values[item.name] = value
        return values

    def reckon(self, given: Mapping[str, float | str]) -> Worked:
        """Work it.

        Args:
            given: name -> amount in its unit, or choice; what is left out is taken as usual

        Raises:
            BenchError: something is missing, unknown or cannot be right, or the inputs do not go together
        """
        return self.work(**self.taken(given))


def _shown(value: float | str) -> str:
    text = printable(str(value))
    return repr(text if len(text) <= 40 else text[:37] + "...")
