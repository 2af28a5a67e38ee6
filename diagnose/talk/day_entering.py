"""The paper log sheet typed in: a line an entry, kept as soon as it is understood."""

import sys
from typing import TYPE_CHECKING

from rich.text import Text

from diagnose.daybook.entering import Desk, Entered, read_line
from diagnose.daybook.using import in_use
from diagnose.errors import PlateError
from diagnose.plate import day_number, shown
from diagnose.talk.around import Around
from diagnose.talk.clock import at_of, now, today
from diagnose.talk.day_papers import text_of_file
from diagnose.talk.listening import listen_to_terminal

if TYPE_CHECKING:
    from diagnose.daybook.store import Store

HELP = (
    "A line a plate: 14:05 good / 14:20 bad comets, fog; holder B / 14:40 mixed developer 500 mL. "
    "undo takes the last line back; q ends."
)
ENDS = frozenset({"q", "quit", "end"})


def enter(around: Around, file: str, day: str) -> None:
    """Type in a paper sheet; each line is kept as soon as it is understood.

    Args:
        around: book and screen
        file: lines already written, or "-" for the keyboard or a pipe
        day: the date of the sheet; today until a line says another

    Raises:
        PlateError: it is no date, or the file cannot be read
    """
    if day and day_number(day) is None:
        raise PlateError(f"{shown(day)!r} is not a date; write it as 2026-05-01")
    lines = None if file == "-" else text_of_file(file).splitlines()
    with around.opened() as store:
        desk = Desk(day=day or today(), made_with=in_use(store.read(), now()))
        around.look.show(Text(f"The day is {desk.day}. {HELP}", style="faint"))
        _enter(store, desk, lines, around)


def _enter(store: "Store", desk: Desk, lines: list[str] | None, around: Around) -> None:
    """Line after line; a line that is not understood keeps nothing and stops nothing."""
    before: list[Desk] = []
    kept, refused, number = 0, 0, 0
    while True:
        number += 1
        try:
            if lines is None:
                line = listen_to_terminal(around.look.prompt)
            elif number <= len(lines):
                line = lines[number - 1]
            else:
                break
        except EOFError:
            break
        if line.strip().casefold() in ENDS:
            break
        found = read_line(line, desk, around.knowledge, at_of)
        if found.undo:
            if before:
                store.undo()
                desk, kept = before.pop(), kept - 1
                around.say("The last line is taken back.")
            else:
                around.say("There is nothing to take back.", "care")
            continue
        if found.problems:
            refused += 1
            _refuse(found, number, lines is None and sys.stdin.isatty(), around)
            continue
        if found.entries:
            before.append(desk)
            store.add(*found.entries)
            kept += 1
        desk = found.desk
        for words in found.said:
            around.say(f"{'Kept: ' if found.entries else ''}{words}", "act" if found.entries else "faint")
    around.say(f"{kept} line{'' if kept == 1 else 's'} kept{f', {refused} not understood' if refused else ''}.")


def _refuse(found: Entered, number: int, typing: bool, around: Around) -> None:
    where = "" if typing else f"line {number}: "
    for problem in found.problems:
        around.say(f"{where}{problem}", "care")
