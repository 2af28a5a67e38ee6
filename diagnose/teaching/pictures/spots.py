"""Spots without a direction."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import clear, soft
from diagnose.teaching.pictures.pen import Pen, blob
from diagnose.teaching.pictures.places import points
from diagnose.teaching.pictures.sheet import Sheet
from diagnose.teaching.pictures.toning import ink


def pinholes(sheet: Sheet, looks: Looks) -> None:
    """Very many tiny bare dots."""
    pen = Pen(sheet.wide)
    for at in points(sheet, looks.place, sheet.many(170, 260)):
        pen.dot(at, sheet.between(0.0022, 0.0042))
    ink(sheet, pen.mask(), "black")


def specks(sheet: Sheet, looks: Looks) -> None:
    """Separate specks with a grain in the middle."""
    spot, grain = Pen(sheet.wide), Pen(sheet.wide)
    for at in points(sheet, looks.place, sheet.many(18, 30), 0.05):
        radius = sheet.between(0.008, 0.017)
        spot.shape(blob(at, radius, 0.35, sheet.chance, 16))
        grain.shape(blob(at, radius * 0.38, 0.5, sheet.chance, 8))
    ink(sheet, spot.mask(), looks.colour)
    sheet.cover(grain.mask(), (60, 46, 34) if looks.colour != "black" else (150, 140, 122))


def round_marks(sheet: Sheet, looks: Looks) -> None:
    """A few large rings with an edge."""
    fill, ring = Pen(sheet.wide), Pen(sheet.wide)
    for at in points(sheet, looks.place, sheet.many(4, 7), 0.17):
        radius = sheet.between(0.045, 0.085)
        fill.dot(at, radius)
        ring.dot(at, radius)
        ring.dot(at, radius * 0.86, 0)
    ink(sheet, fill.mask(), looks.colour, 0.5)
    ink(sheet, soft(ring.mask(), 0.0015), "black" if looks.colour in {"black", "clear"} else "white", 0.95)


def subject_spots(sheet: Sheet, looks: Looks) -> None:
    """Freckles and flushed cheeks: in the sitter, not in the plate."""
    del looks
    face = sheet.face
    rows, columns = np.nonzero(face > 0.5)
    middle = (float(columns.mean() + 0.5) / sheet.wide, float(rows.mean() + 0.5) / sheet.wide)
    pen, flush = Pen(sheet.wide), Pen(sheet.wide)
    for _ in range(sheet.many(60, 80)):
        turn, far = sheet.between(0, 2 * math.pi), sheet.between(0.1, 1) ** 0.5
        at = (middle[0] + 0.13 * far * math.cos(turn), middle[1] + 0.02 + 0.13 * far * math.sin(turn))
        pen.dot(at, sheet.between(0.003, 0.0065), 0.85)
    for way in (-1, 1):
        flush.oval((middle[0] + way * 0.075, middle[1] + 0.045), 0.045, 0.035)
    flush.oval((middle[0], middle[1] + 0.108), 0.045, 0.014)
    sheet.add(clear(pen.mask() * face), 0.22)
    sheet.add(soft(flush.mask(), 0.012) * face * min(1.0, 0.75 * sheet.strong), 0.28)
