"""Marks with a length that lie singly: comets, worms, needles, scratches."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import soft
from diagnose.teaching.pictures.pen import Pen, path
from diagnose.teaching.pictures.places import angle, points
from diagnose.teaching.pictures.sheet import Sheet
from diagnose.teaching.pictures.toning import bare, ink


def comets(sheet: Sheet, looks: Looks) -> None:
    """Specks with a narrowing tail."""
    head, tail = Pen(sheet.wide), Pen(sheet.wide)
    common = sheet.between(0, 2 * math.pi)
    for at in points(sheet, looks.place, sheet.many(11, 17), 0.1):
        radius, length = sheet.between(0.008, 0.014), sheet.between(0.09, 0.17)
        way = angle(sheet, looks.direction, at, common) + sheet.between(-0.06, 0.06)
        tail.taper(path(at, way, length, 1.6 if looks.direction == "curved" else 0.0), radius * 1.7, 0.001)
        head.dot(at, radius)
    ink(sheet, np.maximum(soft(tail.mask(), 0.002) * 0.85, head.mask()), looks.colour)


def worm_lines(sheet: Sheet, looks: Looks) -> None:
    """Short wriggling lines, light and dark."""
    del looks
    for name in ("white", "black"):
        pen = Pen(sheet.wide)
        for x, y in points(sheet, "scattered", sheet.many(8, 12), 0.08):
            way, length = sheet.between(0, 2 * math.pi), sheet.between(0.07, 0.13)
            slow, quick = sheet.between(0, 6), sheet.between(0, 6)
            high = sheet.between(0.011, 0.017)
            line = []
            for part in range(23):
                along = part / 22
                aside = high * (
                    math.sin(2 * math.pi * 1.1 * along + slow) + 0.55 * math.sin(2 * math.pi * 2.3 * along + quick)
                )
                far = along * length
                line.append(
                    (x + far * math.cos(way) - aside * math.sin(way), y + far * math.sin(way) + aside * math.cos(way))
                )
            pen.line(line, 0.0065)
        ink(sheet, pen.mask(), name, 0.9)


def crystal_marks(sheet: Sheet, looks: Looks) -> None:
    """Needles, crosses and stars."""
    del looks
    pen = Pen(sheet.wide)
    for at in points(sheet, "scattered", sheet.many(9, 13), 0.17):
        rays = int(sheet.chance.choice((1, 2, 3, 3, 4)))
        first, length = sheet.between(0, math.pi), sheet.between(0.05, 0.11)
        for ray in range(rays):
            way = first + math.pi * ray / rays
            for turn in (way, way + math.pi):
                end = path(at, turn, length * sheet.between(0.6, 1.0), parts=2)
                pen.taper(end, 0.011, 0.0)
                if rays >= 3:  # the little barbs of frost
                    for side in (-1.05, 1.05):
                        pen.taper(path(end[1], turn + side, length * 0.25, parts=2), 0.006, 0.0)
    ink(sheet, pen.mask(), "white", 0.95)


def scratches(sheet: Sheet, looks: Looks) -> None:
    """Long fine lines and one rubbed place."""
    lines, rub = Pen(sheet.wide), Pen(sheet.wide)
    for at in points(sheet, "scattered", sheet.many(5, 8), 0.15):
        way = sheet.between(0, 2 * math.pi)
        lines.taper(path(at, way, sheet.between(0.25, 0.65), sheet.between(-0.25, 0.25)), 0.0055, 0.0012)
    (x, y), way = points(sheet, "middle", 1)[0], sheet.between(0, math.pi)
    for _ in range(sheet.many(16, 24)):
        at = (x + sheet.between(-0.09, 0.09), y + sheet.between(-0.06, 0.06))
        rub.line(path(at, way + sheet.between(-0.12, 0.12), sheet.between(0.05, 0.13), parts=2), 0.003)
    both = np.maximum(lines.mask(), rub.mask() * 0.8)
    match looks.depth:
        case "on-surface":  # rubs in the surface catch the light
            sheet.cover(both * 0.75, (238, 234, 224))
        case "under-film":  # the plate's own scratch: wide, soft, the picture runs over it
            sheet.add(soft(both, 0.006) * 0.9, 0.62)
        case _:
            ridge = soft(both, 0.0022)
            sheet.cover(np.clip(ridge * 1.5 - both, 0, 1) * 0.7, (214, 204, 184))
            sheet.add(both, 0.0)
            sheet.cover(both * 0.9, bare(sheet.support))
