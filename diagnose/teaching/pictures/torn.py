"""The film coming off: frills, blisters, tears, holes, pieces sprung."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.cells import cells
from diagnose.teaching.pictures.maps import clear, soft, step
from diagnose.teaching.pictures.pen import Pen, blob, path
from diagnose.teaching.pictures.places import DRAIN_CORNER, distance, edges_of, from_edge, points
from diagnose.teaching.pictures.sheet import Point, Sheet
from diagnose.teaching.pictures.toning import LIP, bare, hues


def film_lifting(sheet: Sheet, looks: Looks) -> None:
    """Frills from the edge, or blisters where no edge is meant."""
    if looks.place in {"whole-plate", "middle", "scattered"}:
        _blisters(sheet, looks)
        return
    inside = np.full((sheet.tall, sheet.wide), -9.0, np.float32)
    pleats = np.zeros_like(inside)
    ruffle, wander, shake = sheet.noise(0.1), 2.2 * sheet.noise(0.35), 3 * sheet.noise(0.12)
    for edge in ("corner",) if looks.place == "drain-corner" else edges_of(sheet, looks.place):
        if edge == "corner":
            away = distance(sheet, DRAIN_CORNER) - 0.17
            along = 0.55 * np.arctan2(DRAIN_CORNER[1] - sheet.y, DRAIN_CORNER[0] - sheet.x)
        else:
            away = from_edge(sheet, edge)
            along = sheet.y if edge in {"left", "right"} else sheet.x
        scallops = np.abs(np.sin(along * math.pi * sheet.between(5.5, 7.5) + wander))
        drawn_back = (0.045 + 0.065 * scallops + 0.02 * ruffle) * sheet.strong**0.5 - away
        pleats = np.where(drawn_back > inside, 0.5 + 0.5 * np.sin(along * 2 * math.pi * 30 + shake), pleats)
        inside = np.maximum(inside, drawn_back)
    band = step(inside, -0.09, -0.01) * (inside < 0)
    sheet.cover(clear(band * (pleats > 0.55) * 0.6), (240, 232, 212))
    sheet.cover(clear(band * (pleats < 0.35) * 0.6), (40, 37, 34))
    sheet.cover(step(inside, 0.0, 0.004), bare(sheet.support))
    sheet.cover(step(np.abs(inside + 0.004), 0.008, 0.004), LIP)


def _blisters(sheet: Sheet, looks: Looks) -> None:
    """Puckered blisters, some burst and bare in the middle."""
    hole, rim = Pen(sheet.wide), Pen(sheet.wide)
    light, dark = Pen(sheet.wide), Pen(sheet.wide)
    count = sheet.many(9, 12) if looks.place == "whole-plate" else sheet.many(3, 5)
    for at in points(sheet, looks.place, count, 0.15):
        radius = sheet.between(0.045, 0.08)
        for ray in range(26):
            way = 2 * math.pi * ray / 26 + sheet.between(-0.08, 0.08)
            pen = light if ray % 2 else dark
            pen.taper(path(at, way, radius * sheet.between(1.2, 1.55), parts=2), 0.012, 0.003)
        border = blob(at, radius, 0.3, sheet.chance)
        rim.shape([(x + 0.06 * (x - at[0]), y + 0.06 * (y - at[1])) for x, y in border])
        hole.shape([(at[0] + 0.9 * (x - at[0]), at[1] + 0.9 * (y - at[1])) for x, y in border])
    sheet.cover(light.mask() * 0.6, LIP)
    sheet.cover(dark.mask() * 0.6, (40, 37, 34))
    sheet.cover(rim.mask(), LIP)
    sheet.cover(hole.mask(), bare(sheet.support))


def soft_torn_film(sheet: Sheet, looks: Looks) -> None:
    """Ragged tears, with the film pushed into folds on one side."""
    hole, fold, shade = Pen(sheet.wide), Pen(sheet.wide), Pen(sheet.wide)
    pushed = sheet.between(0, 2 * math.pi)
    count = sheet.many(8, 10) if looks.place == "whole-plate" else sheet.many(4, 6)
    for at in points(sheet, looks.place, count, 0.14):
        way = pushed + sheet.between(-1.1, 1.1)
        border, upper = _tear(sheet, at, way)
        hole.shape(border)
        for number in range(4):  # the folds lie along one border
            moved = 0.012 * number + 0.006
            line = [(px - moved * math.sin(way), py + moved * math.cos(way)) for px, py in upper[number : 21 - number]]
            fold.line(line, 0.009 - 0.0015 * number)
            shade.line([(px - 0.006 * math.sin(way), py + 0.006 * math.cos(way)) for px, py in line], 0.006)
    sheet.cover(shade.mask() * 0.75, (48, 43, 38))
    sheet.cover(fold.mask() * 0.95, LIP)
    sheet.cover(hole.mask(), bare(sheet.support))


def _tear(sheet: Sheet, at: Point, way: float) -> tuple[list[Point], list[Point]]:
    """The border of a tear, and the side of it where the film lies in folds."""
    long, wide = sheet.between(0.16, 0.27), sheet.between(0.04, 0.065)
    first, bow = sheet.between(0, 6), sheet.between(-0.05, 0.05)
    sides: list[list[Point]] = []
    for sign, ragged in ((1, False), (-1, True)):
        side = []
        for part in range(21):
            along = (part / 20 - 0.5) * long
            half = wide * math.sin(math.pi * part / 20) ** 0.7
            rough = sheet.between(0.45, 1.15) if ragged else 1 + 0.18 * math.sin(part * 0.5 + first)
            aside = sign * half * rough + bow * math.sin(math.pi * part / 20)
            x, y = at[0] + along * math.cos(way), at[1] + along * math.sin(way)
            side.append((x - aside * math.sin(way), y + aside * math.cos(way)))
        sides.append(side)
    return sides[0] + sides[1][::-1], sides[0]


def eaten_film(sheet: Sheet, looks: Looks) -> None:
    """Thin places and holes with round borders."""
    del looks
    thin, hole = Pen(sheet.wide), Pen(sheet.wide)
    for at in points(sheet, "scattered", sheet.many(10, 14), 0.12):
        radius = sheet.between(0.03, 0.07)
        thin.shape(blob(at, radius * 1.5, 0.3, sheet.chance))
        for _ in range(6):  # a hole eaten together from round bites
            near = path(at, sheet.between(0, 6.3), radius * sheet.between(0.2, 0.95), parts=1)[-1]
            hole.dot(near, radius * sheet.between(0.25, 0.55))
            thin.dot(near, radius * 0.9)
    sheet.cover(soft(thin.mask(), 0.01) * 0.62, (116, 122, 130))
    sheet.cover(soft(hole.mask(), 0.002), (26, 24, 24))


def rainbow_film(sheet: Sheet, looks: Looks) -> None:
    """Rainbow bands, long cracks, and pieces sprung off."""
    del looks
    thick = 0.5 * sheet.noise(0.8, 2) + 1.2 * sheet.y - 0.5 * sheet.x
    sheet.cover(np.full_like(thick, 0.34 * min(1.3, sheet.strong)), hues(thick * 1.6))
    gap, luck = cells(sheet, 0.3, 1.0)
    gap = gap + 0.03 * sheet.noise(0.08, 2)
    crack = step(gap, 0.028, 0.012)
    loose = (luck > 0.8).astype(np.float32)
    sheet.cover(step(np.abs(gap - 0.035), 0.03, 0.01) * loose, LIP)
    sheet.cover(loose * step(gap, 0.02, 0.05), bare(sheet.support))
    sheet.cover(crack, bare(sheet.support))
