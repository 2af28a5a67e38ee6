"""`diagnose handbook`: the handbook as one page, written whole."""

from diagnose.talk.around import Around
from diagnose.talk.day_papers import write_out


def write_handbook(around: Around, out: str) -> None:
    """Make the handbook and say where it is; without the drawing libraries it is in words, and one line says so.

    Args:
        around: knowledge and screen
        out: file to write

    Raises:
        BookError: the file cannot be written
    """
    from diagnose.teaching.handbook import handbook
    from diagnose.teaching.looks import pictures_can_be_drawn

    drawn = pictures_can_be_drawn()
    write_out(around, out, handbook(around.knowledge, pictures=drawn))
    if not drawn:
        around.say("It is in words. For drawings: pip install numpy pillow, then make it anew.")
