"""What a review advises: upkeep that is due, and the one test for tomorrow, each with all that stands beside it."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, kw_only=True)
class Likely:
    """A cause with its probability.

    Args:
        cause: its name; "" for none of the standing ones
        title: what it is called, with the thing it stands in where there are several
        probability: from 0 to 1
        words: the word for that probability
    """

    cause: str
    title: str
    probability: float
    words: str


@dataclass(frozen=True, kw_only=True)
class Warned:
    """A caution that stands beside something to do."""

    title: str
    say: str
    level: Literal["danger", "care"]


@dataclass(frozen=True, kw_only=True)
class Dosed:
    """How much it takes.

    Args:
        lines: amounts, in words
        wants: what must be told before an amount can be given, as questions
        beware: doubts and limits
    """

    lines: tuple[str, ...]
    wants: tuple[str, ...]
    beware: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Due:
    """Upkeep that a count calls for.

    Args:
        thing, name: of what
        counted: what was counted, in words, with why it is known
        limit: the limit of the knowledge that it passed, in words
        therefore: what grows likelier
        do: remedies by title, best first, with what must come before them
        dose: of the first of them; None where it needs none
        cautions: beside the first of them
    """

    thing: str
    name: str
    counted: str
    limit: str
    therefore: str
    do: tuple[str, ...]
    dose: Dosed | None
    cautions: tuple[Warned, ...]


@dataclass(frozen=True, kw_only=True)
class Ahead:
    """A count that has passed no limit yet.

    Args:
        counted: in words
        limit: the next one, in words
    """

    counted: str
    limit: str


@dataclass(frozen=True, kw_only=True)
class Meaning:
    """What one outcome of the test would mean.

    Args:
        outcome: in words
        chance: how likely it is
        leading: what is then believed, likeliest first
        then: what to do then
    """

    outcome: str
    chance: float
    leading: tuple[Likely, ...]
    then: str


@dataclass(frozen=True, kw_only=True)
class Trial:
    """The one single-change test for tomorrow, or what to do where none is worth a plate.

    Args:
        kind: "check", "remedy", "plate" (nothing changed), "do" (no doubt is left: do it) or "nothing"
        id: the check or remedy; "" for the last two
        title: in words
        do: how
        why: why this one
        minutes, plates: what it takes, beside the plate one would make anyhow
        reversible: whether it can be undone
        bits: what it tells, on average [bit]
        per_minute: the same for each minute it costs [bit/min]
        doubt: how much is open [bit]
        between: what it parts, with probabilities
        cautions: everything that must stand beside it
        first: what has to be looked at before it
        outcomes: what each would mean
        dose: how much; None where none is needed
        stop: when to stop; "" where nothing is said
    """

    kind: Literal["check", "remedy", "plate", "do", "nothing"]
    id: str = ""
    title: str
    do: str
    why: str
    minutes: float = 0.0
    plates: int = 0
    reversible: bool = True
    bits: float = 0.0
    per_minute: float = 0.0
    doubt: float = 0.0
    between: tuple[Likely, ...] = ()
    cautions: tuple[Warned, ...] = ()
    first: tuple[str, ...] = ()
    outcomes: tuple[Meaning, ...] = ()
    dose: Dosed | None = None
    stop: str = ""
