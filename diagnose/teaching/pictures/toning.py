"""The colours of plates. Judged by eye for a screen; they are drawings, not measurements."""

import numpy as np

from diagnose.teaching.pictures.maps import step
from diagnose.teaching.pictures.sheet import Colours, Grey, Sheet

Colour = tuple[float, float, float]

PAPER = (236, 232, 224)
# bare plate, half-tone, densest light
TONES: dict[str, tuple[Colour, Colour, Colour]] = {
    "metal": ((25, 22, 20), (112, 104, 94), (208, 197, 174)),
    "glass": ((13, 13, 15), (116, 112, 106), (234, 226, 206)),
}
# creamy on metal; on glass held to the safe light, which is amber
UNDEVELOPED: dict[str, Colour] = {"metal": (192, 183, 152), "glass": (222, 192, 140)}
WET: dict[str, Colour] = {"metal": (52, 48, 46), "glass": (74, 66, 54)}

# what the words for colours look like on the finished picture
COLOURS: dict[str, Colour] = {
    "white": (236, 231, 216),
    "grey": (152, 153, 154),
    "black": (16, 15, 15),
    "brown": (128, 74, 30),
    "yellow": (212, 186, 104),
    "blue": (72, 104, 150),
    "green": (84, 128, 88),
    "silvery": (184, 194, 202),
    "clear": (30, 30, 34),
}
CREAM: Colour = (222, 206, 138)
LIP: Colour = (238, 230, 206)  # the turned-up border of a film


def colour(name: str, otherwise: str = "grey") -> Colour:
    """A colour of the knowledge as red, green, blue [0 to 255].

    Args:
        name: the knowledge's word
        otherwise: the word to take for one not known here
    """
    return COLOURS.get(name, COLOURS[otherwise])


def bare(support: str) -> Colour:
    """The plate with nothing on it.

    Args:
        support: "metal" or "glass"
    """
    return TONES[support][0]


def coated(sheet: Sheet) -> Colours:
    """A dark plate under clear, wet collodion: a soft gloss, the sitter only dotted in.

    Args:
        sheet: the plate
    """
    gloss = step(np.abs(sheet.x * 0.8 + sheet.y * 0.5 - 0.55), 0.3, 0.0)
    picture = np.asarray(WET[sheet.support], np.float32) + 34 * gloss[..., None]
    drawn: Colours = (picture + 60 * sheet.outline[..., None]).astype(np.float32)
    return drawn


def hues(value: Grey) -> Colours:
    """Rainbow colours, as a thin layer shows them.

    Args:
        value: how thick, one round of colours for each whole number
    """
    turn = 2 * np.pi * value
    parts = [150 + 90 * np.cos(turn + shift) for shift in (0.0, 2.1, 4.2)]
    return np.stack(parts, axis=-1).astype(np.float32)


def ink(sheet: Sheet, mask: Grey, name: str, much: float = 1.0) -> None:
    """Draw marks of a colour: bare and white ones change the silver itself, others lie over it.

    Args:
        sheet: the plate
        mask: where, 0 to 1
        name: the knowledge's word for the colour
        much: how thickly, 0 to 1
    """
    much = min(1.0, much * sheet.strong**0.5)
    if name in {"black", "clear", "white"} and sheet.stage == "finished":
        sheet.add(mask * much, 1.0 if name == "white" else 0.0)
    else:
        sheet.cover(mask * much, colour(name))
