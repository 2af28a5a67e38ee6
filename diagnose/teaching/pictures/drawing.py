"""One drawing, from symptom to pixels."""

import zlib
from dataclasses import dataclass
from io import BytesIO

import numpy as np
from PIL import Image

from diagnose.teaching.drawn import Looks, subject_of
from diagnose.teaching.pictures.render import Pixels, coloured, framed, plate_width
from diagnose.teaching.pictures.sequences import ROWS, row
from diagnose.teaching.pictures.sheet import Sheet
from diagnose.teaching.pictures.sitter import seat
from diagnose.teaching.pictures.table import WAYS, generic


@dataclass(frozen=True, eq=False)
class Drawing:
    """A drawn plate.

    Args:
        symptom: what is drawn; "" for a plate without fault
        looks: how it looks in this drawing
        words: what is to be seen, for those who cannot see it
        rgb: rows of pixels, each red, green, blue [0 to 255]; may not be written to
        plate: the part of it that is plate: upper, lower, left, right [pixels]
    """

    symptom: str
    looks: Looks
    words: str
    rgb: Pixels
    plate: tuple[int, int, int, int]

    def png(self) -> bytes:
        """The drawing as a PNG file; its words go into the file as its description."""
        from PIL.PngImagePlugin import PngInfo

        notes = PngInfo()
        notes.add_itxt("Description", self.words)
        file = BytesIO()
        Image.fromarray(self.rgb).save(file, "PNG", pnginfo=notes)
        return file.getvalue()

    def scaled(self, wide: int, tall: int) -> Pixels:
        """The plate alone, made smaller.

        Args:
            wide: columns wanted [pixels]
            tall: rows wanted [pixels]
        """
        upper, lower, left, right = self.plate
        return np.asarray(
            Image.fromarray(self.rgb[upper:lower, left:right]).resize((wide, tall), Image.Resampling.BOX), np.uint8
        )


def make(
    symptom: str,
    looks: Looks,
    seed: int,
    words: str,
    *,
    support: str,
    wide: int,
    strong: float = 1.0,
    family: str = "",
    sound: bool = False,
) -> Drawing:
    """Draw a plate.

    Args:
        symptom: what is drawn
        looks: how it looks
        seed: the same seed draws the same pixels
        words: what is to be seen
        support: "metal" or "glass"
        wide: width of the drawing [pixels]
        strong: how strong the fault is, 1 is ordinary
        family: the symptom's family, for a stand-in
        sound: draw the same plate without the fault
    """
    across = plate_width(wide)
    stage = subject_of(symptom).stage
    # each symptom its own chance, and the sitter apart from both, so that a sound plate has the same sitter
    fault = np.random.default_rng([seed, zlib.crc32(symptom.encode())])
    sheet = Sheet(across, support, stage, fault, strong)
    seat(sheet, seed)
    if symptom in ROWS:
        plate = row(sheet, symptom, sound=sound)
    else:
        if not sound:
            WAYS.get(symptom, generic(family))(sheet, looks)
        plate = coloured(sheet)
    rgb = framed(plate, support, stage, wide, rim=symptom not in ROWS)
    rgb.setflags(write=False)
    margin = (wide - across) // 2
    return Drawing("" if sound else symptom, looks, words, rgb, (margin, margin + sheet.tall, margin, margin + across))
