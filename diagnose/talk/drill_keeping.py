"""The file of answers: read whole, and written a line at a time so that nothing answered is lost."""

import os
from collections.abc import Sequence
from pathlib import Path

from diagnose.errors import BookError, printable
from diagnose.plate import shown
from diagnose.talk.theme import Look
from diagnose.teaching.records import Answer, as_line, read_lines

MOST_BYTES = 50_000_000


def answers_in(file: str, look: Look, *, may_be_new: bool = False) -> tuple[Answer, ...]:
    """Every answer of a file.

    Args:
        file: its name
        look: where a line that was broken off is told of
        may_be_new: a file that is not there yet holds nothing

    Raises:
        BookError: it cannot be read, or lines of it cannot; all of them are told
    """
    path = Path(file).expanduser()
    try:
        if may_be_new and not path.exists():
            return ()
        if path.stat().st_size > MOST_BYTES:
            raise BookError(f"{shown(file)} is far too large for a file of answers; name another file")
        text = path.read_text(encoding="utf-8")
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else "it is no text"
        raise BookError(f"{shown(file)} cannot be read: {why}; name another file") from None
    read = read_lines(text, file)
    if read.cut_off:
        look.line(printable(f"{shown(file)}: the last line was broken off, and is left out."))
    return read.answers


def keep_answer(file: str, answer: Answer) -> None:
    """Put one answer at the end of a file, safely on the disk when this returns.

    Args:
        file: its name; made where it is not there
        answer: one plate

    Raises:
        BookError: it cannot be written
    """
    path = Path(file).expanduser()
    try:
        with path.open("a+b") as target:
            target.seek(0, os.SEEK_END)
            if target.tell():
                target.seek(-1, os.SEEK_END)
                if target.read(1) != b"\n":  # broken off: the half line stays, on a line of its own
                    target.truncate(_end_of_whole_lines(path))
            target.write(as_line(answer).encode("ascii"))
            target.flush()
            os.fsync(target.fileno())
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise BookError(f"{shown(file)} cannot be written: {why}; name another file with --keep") from None


def of_student(answers: Sequence[Answer], student: str) -> tuple[Answer, ...]:
    """One student's answers.

    Args:
        answers: of a file
        student: the name as it was typed
    """
    return tuple(answer for answer in answers if answer.student == student)


def _end_of_whole_lines(path: Path) -> int:
    return path.read_bytes().rfind(b"\n") + 1
