"""The paper log sheet typed in: a line an entry, kept as soon as it is understood."""

import sys
from typing import TYPE_CHECKING

from rich.text import Text

from diagnose.daybook.entering import Desk, Entered, read_line
from diagnose.daybook.saying import counted
from diagnose.daybook.using import in_use
from diagnose.errors import PlateError, printable
from diagnose.talk.around import Around
from diagnose.talk.clock import now, past, today
from diagnose.talk.day_papers import text_of_file
from diagnose.talk.listening import listen_to_terminal

if TYPE_CHECKING:
    from diagnose.daybook.store import Store

HELP = (
    "A line a plate: 14:05 good / 14:20 bad comets, fog; holder B / 14:40 mixed developer 500 mL. "
    "undo takes the last line back; q ends."
)
ENDS = frozenset({"q", "quit", "end"})


def enter(around: Around, file: str, day: str) -> bool:
    """Type in a paper sheet; typed lines are kept one by one, those of a file all together or not at all.

    Args:
        around: book and screen
        file: lines already written, or "-" for the keyboard or a pipe
        day: the date of the sheet; today until a line says another

    Returns:
        whether every line was understood; at the keyboard that is seen to at once

    Raises:
        PlateError: it is no date
        BookError: the file cannot be read
    """
    if day:
        past(day, "")
    text = None if file == "-" else text_of_file(file)
    with around.opened() as store:
        desk = Desk(day=day or today(), made_with=in_use(store.read(), now()))
        if text is not None:
            return _enter_file(store, desk, text.splitlines(), around)
        around.look.show(Text(f"The day is {desk.day}. {HELP}", style="faint"))
        return _enter(store, desk, around)


def _enter(store: "Store", desk: Desk, around: Around) -> bool:
    """Line after line; a line that is not understood keeps nothing and stops nothing."""
    before: list[Desk] = []
    kept, refused, number = 0, 0, 0
    typing = sys.stdin.isatty()
    while True:
        number += 1
        try:
            line = listen_to_terminal(around.look.prompt)
        except EOFError:
            break
        if line.strip().casefold() in ENDS:
            break
        found = _read(line, desk, around)
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
            _refuse(found, 0 if typing else number, around)
            continue
        if found.entries:
            store.add(*found.entries)
            before.append(desk)
            kept += 1
        desk = found.desk
        _say(found, around)
    around.say(f"{counted(kept, 'line')} kept{f', {refused} not understood' if refused else ''}.")
    return typing or not refused


def _enter_file(store: "Store", desk: Desk, lines: list[str], around: Around) -> bool:
    """All lines of a file, or none: it can be mended and entered again."""
    before: list[Desk] = []
    understood: list[Entered] = []
    refused = 0
    for number, line in enumerate(lines, start=1):
        if line.strip().casefold() in ENDS:
            break
        found = _read(line, desk, around)
        if found.problems:
            refused += 1
            _refuse(found, number, around)
        elif found.undo:
            if before:
                desk, _ = before.pop(), understood.pop()
        else:
            if found.entries:
                before.append(desk)
                understood.append(found)
            desk = found.desk
    if refused:
        not_understood = f"{counted(refused, 'line')} not understood"
        around.say(f"{not_understood}; nothing was kept. Mend the file and enter it again.", "care")
        return False
    store.add(*(entry for found in understood for entry in found.entries))
    for found in understood:
        _say(found, around)
    kept = counted(len(understood), "line")
    around.say(f"{kept} kept.{' `diagnose day undo` takes them back.' if understood else ''}")
    return True


def _read(line: str, desk: Desk, around: Around) -> Entered:
    """One line; a time that has not come yet is a problem like any other."""
    try:
        return read_line(line, desk, around.knowledge, past)
    except PlateError as error:
        return Entered(desk, problems=(str(error),))


def _say(found: Entered, around: Around) -> None:
    for words in found.said:
        around.say(f"{'Kept: ' if found.entries else ''}{words}", "act" if found.entries else "faint")


def _refuse(found: Entered, number: int, around: Around) -> None:
    where = f"line {number}: " if number else ""
    for problem in found.problems:
        around.say(printable(f"{where}{problem}"), "care")
