"""The drawing of an exercise: in half-blocks on a terminal with colours, as a PNG in a folder, or in words alone."""

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from rich.color import Color
from rich.console import Console
from rich.style import Style
from rich.text import Text

from diagnose.errors import PlateError, printable
from diagnose.plate import shown
from diagnose.talk.theme import Look
from diagnose.teaching.exercise import Exercise
from diagnose.teaching.looks import draw, half_blocks, pictures_can_be_drawn

if TYPE_CHECKING:  # numpy and Pillow are loaded when something is drawn
    from diagnose.teaching.pictures.drawing import Drawing

UPPER_HALF = "▀"
MOST_COLUMNS, LEAST_COLUMNS = 76, 46  # below that, pinholes and fine lines are lost; it scrolls instead
TALL = 1.25  # of a plate, against its width
LINES_LEFT = 6  # for the question below it
HOW_TO_GET = "In words: drawings need two more libraries, pip install numpy pillow."
WHERE_TO_SEE = "In words: this screen shows no drawings; --pictures FOLDER writes them as files."
COARSE = "Drawings are coarse on this screen; --pictures FOLDER writes them fine as well."
LUMA = (0.299, 0.587, 0.114)
AMBER = (0xE0, 0x70, 0x00)


class Ways(NamedTuple):
    """How drawings are shown here.

    Args:
        blocks: on this terminal
        folder: where they are written; None for nowhere
        note: one line to say how to see them, or see them better; "" where nothing is to be said
    """

    blocks: bool
    folder: Path | None
    note: str

    @property
    def drawn(self) -> bool:
        """Whether there are drawings at all."""
        return self.blocks or self.folder is not None


def ways_of(look: Look, folder: str) -> Ways:
    """How drawings can be shown.

    Args:
        look: the screen
        folder: where they are to be written; "" for nowhere

    Raises:
        PlateError: the folder cannot be made
    """
    if not pictures_can_be_drawn():
        return Ways(blocks=False, folder=None, note=HOW_TO_GET)
    path = Path(folder).expanduser() if folder else None
    if path is not None:
        try:
            path.mkdir(parents=True, exist_ok=True)
        except (OSError, ValueError) as error:
            why = error.strerror if isinstance(error, OSError) else str(error)
            raise PlateError(f"no folder {shown(folder)!r} for the drawings: {why}; name another") from None
    blocks = not look.plain and _has_colours(look.console)
    note = "" if path or look.plain else COARSE if blocks else WHERE_TO_SEE
    return Ways(blocks, path, note)


def show_picture(exercise: Exercise, look: Look, ways: Ways, number: int) -> None:
    """Show the drawing of an exercise.

    Args:
        exercise: the plate
        look: the screen
        ways: from `ways_of`
        number: of the plate, for the file's name

    Raises:
        PlateError: the file cannot be written
    """
    drawing = draw(exercise.sign, exercise.looks, exercise.seed, support=exercise.support)
    if ways.blocks:
        room = int((look.console.height - LINES_LEFT) * 2 / TALL)
        columns = min(look.console.width - 2, MOST_COLUMNS, max(LEAST_COLUMNS, room))
        look.show(in_blocks(drawing, columns, safelight=look.safelight))
    if ways.folder is not None:
        path = ways.folder / f"plate-{number}.png"
        try:
            path.write_bytes(drawing.png())
        except OSError as error:
            raise PlateError(f"{shown(str(path))} cannot be written: {error.strerror}; name another folder") from None
        look.line(printable(f"Drawn in {path}"))


def in_blocks(drawing: "Drawing", columns: int, *, safelight: bool) -> Text:
    """A drawing in half-blocks: each letter holds two dots, one above the other.

    Args:
        drawing: what to show
        columns: how many letters wide
        safelight: in shades of amber alone
    """
    text = Text()
    for number, row in enumerate(half_blocks(drawing, columns)):
        text.append("\n" if number else "")
        for above, below in row:
            upper, lower = (_amber(above), _amber(below)) if safelight else (above, below)
            text.append(UPPER_HALF, Style(color=Color.from_rgb(*upper), bgcolor=Color.from_rgb(*lower)))
    return text


def _amber(dot: tuple[int, int, int]) -> tuple[int, int, int]:
    light = sum(part * share for part, share in zip(dot, LUMA, strict=True)) / 255
    red, green, blue = (round(full * light) for full in AMBER)
    return red, green, blue


def _has_colours(console: Console) -> bool:
    """Whether shades can be told apart, and the half-block be printed."""
    if not console.is_terminal or console.no_color or console.color_system not in {"truecolor", "256"}:
        return False
    try:
        UPPER_HALF.encode(console.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
