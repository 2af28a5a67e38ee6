"""From silver to colours: the plate as one sees it, on its paper, with the line that says it is drawn."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from diagnose.teaching.pictures.sheet import TALL, Colours, Grey, Sheet
from diagnose.teaching.pictures.toning import PAPER, TONES, UNDEVELOPED, coated

Pixels = NDArray[np.uint8]

CAPTION = "drawing, not a photograph"
MARGIN = 0.04  # paper round the plate [parts of the width of the drawing]
STRIP = 0.075  # paper under it for the line of words
NOTES = {
    "finished": "",
    "film": "film before the developer - ",
    "coated": "collodion before the bath - ",
    "developing": "in the developer - ",
}


def coloured(sheet: Sheet) -> Colours:
    """The plate in colours, as rows of red, green, blue [0 to 255].

    Args:
        sheet: the plate, drawn
    """
    if sheet.stage in {"film", "developing"}:
        picture = _film(sheet)
    elif sheet.stage == "coated":
        picture = coated(sheet)
    else:
        picture = toned(sheet.silver, sheet.support)
    for cover in sheet.covers:
        over = np.asarray(cover.colour, np.float32)
        picture += (over - picture) * cover.mask[..., None]
    return picture


def toned(silver: Grey, support: str) -> Colours:
    """Silver as it looks on the dark plate.

    Args:
        silver: 0 is bare plate, 1 the densest light
        support: "metal" or "glass"
    """
    return _ladder(support)[(np.clip(silver, 0, 1) * 255).astype(np.uint8)]


@lru_cache(maxsize=4)
def _ladder(support: str) -> Colours:
    """256 steps from the bare plate to the densest silver."""
    at = np.linspace(0, 1, 256)
    tones = np.asarray(TONES[support], np.float32)
    return np.stack([np.interp(at, (0, 0.5, 1), tones[:, part]) for part in range(3)], axis=1).astype(np.float32)


def _film(sheet: Sheet) -> Colours:
    """The creamy film that has no picture yet; the sitter is only dotted in."""
    shade = 1 - 0.1 * np.hypot(sheet.x - 0.45, sheet.y - 0.5)
    picture = np.asarray(UNDEVELOPED[sheet.support], np.float32) * shade[..., None].astype(np.float32)
    return picture * (1 - 0.35 * sheet.outline[..., None])


def framed(plate: Colours, support: str, stage: str, wide: int, *, rim: bool = True) -> Pixels:
    """The plate on its paper.

    Args:
        plate: the plate in colours
        support: "metal" or "glass"
        stage: what one looks at
        wide: width of the whole drawing [pixels]
        rim: whether the plate has an edge of its own
    """
    margin, strip = round(wide * MARGIN), round(wide * STRIP)
    tall, across = plate.shape[:2]
    whole = np.full((tall + 2 * margin + strip, wide, 3), PAPER, np.uint8)
    inner = np.clip(plate, 0, 255).astype(np.uint8)
    whole[margin : margin + tall, margin : margin + across] = inner
    image = Image.fromarray(whole)
    hand = ImageDraw.Draw(image)
    if rim:
        edge = (60, 56, 52) if support == "metal" else (150, 172, 160)
        hand.rectangle((margin - 1, margin - 1, margin + across, margin + tall), outline=edge)
    words(hand, (wide / 2, tall + 2 * margin + strip * 0.3), NOTES.get(stage, "") + CAPTION, wide / 26)
    return np.asarray(image, np.uint8)


def words(hand: ImageDraw.ImageDraw, at: tuple[float, float], text: str, size: float) -> None:
    """A line of words, centred.

    Args:
        hand: what draws
        at: its middle [pixels]
        text: the words
        size: of the letters [pixels]
    """
    hand.text(at, text, fill=(70, 66, 60), font=ImageFont.load_default(max(7.0, size)), anchor="mm")


def plate_width(wide: int) -> int:
    """How wide the plate is in a drawing of a width [pixels].

    Args:
        wide: width of the whole drawing [pixels]
    """
    return wide - 2 * round(wide * MARGIN)


def on_paper(panels: list[tuple[Colours, str]], wide: int) -> Colours:
    """Several small plates side by side, each with its words below, where else one plate stands.

    Args:
        panels: the plates in colours, and the words of each
        wide: width of the plate they stand for [pixels]
    """
    tall = round(wide * TALL)
    image = Image.new("RGB", (wide, tall), PAPER)
    hand = ImageDraw.Draw(image)
    count = len(panels)
    gap = round(wide * 0.03)
    each = (wide - gap * (count - 1)) // count
    top = (tall - round(each * TALL)) // 2
    for number, (plate, text) in enumerate(panels):
        small = Image.fromarray(np.clip(plate, 0, 255).astype(np.uint8)).resize(
            (each, round(each * TALL)), Image.Resampling.BOX
        )
        left = number * (each + gap)
        image.paste(small, (left, top))
        words(hand, (left + each / 2, top + each * TALL + wide * 0.05), text, wide / 24)
    return np.asarray(image, np.float32)
