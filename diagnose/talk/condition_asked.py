"""One condition asked outside the run of questions: for an amount, or to put right what came from the book."""

import copy
from typing import Any, Protocol

from rich.text import Text

from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError
from diagnose.facts import understand
from diagnose.plate import DONT_KNOW, Plate
from diagnose.talk import blocks
from diagnose.talk.listening import Leave, as_amount, example_of, pick
from diagnose.talk.telling import with_today
from diagnose.talk.theme import Look


class Talk(Protocol):
    """What is needed of a dialog."""

    look: Look
    knowledge: Knowledge
    told: dict[str, Any]

    def hear(self) -> str:
        """One line, in small letters."""
        ...

    def keep(self, told: dict[str, Any]) -> None:
        """Keep a new state of the plate."""
        ...


def ask_condition(condition: str, talk: Talk, *, hint: str, slip: str, take_unknown: bool = False) -> str | None:
    """Ask one condition until it is told or left.

    Args:
        condition: which
        talk: whose plate takes the answer in
        hint: what stands behind the example of an amount
        slip: what is said to an answer that is none
        take_unknown: whether "don't know" is an answer to keep, and not a way to leave it

    Returns:
        the value that was kept; None where it was left as it is

    Raises:
        Leave: the person wants to go
    """
    entry = talk.knowledge.conditions[condition]
    talk.look.show(Text(entry.ask, style="title"))
    offered = list(entry.answers)
    for number, words in enumerate(entry.answers.values(), start=1):
        talk.look.show(blocks.numbered(number, words))
    if not offered:
        talk.look.show(Text(f"Type an amount, such as {example_of(entry)}; {hint}.", style="faint"))
    while True:
        typed = talk.hear()
        if typed == "q":
            raise Leave
        if typed in {"", "u"} or (typed == DONT_KNOW and not take_unknown):
            return None
        unknown = typed == DONT_KNOW
        value = typed if unknown else pick(typed, offered) if offered else as_amount(typed, entry.unit)
        if value is None:
            talk.look.show(Text(slip, style="care"))
            continue
        trial = copy.deepcopy(talk.told)
        trial["conditions"][condition] = value
        trial = with_today(trial)
        try:
            understand(Plate.read(trial), talk.knowledge)
        except PlateError as error:
            talk.look.show(Text(str(error), style="care"))
            continue
        talk.keep(trial)
        return value
