"""Faults of the film itself: its coating, its hold on the plate, what lies on it when it leaves the bath."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.cells import cells
from diagnose.teaching.pictures.pen import Pen, blob, path
from diagnose.teaching.pictures.places import (
    DRAIN_CORNER,
    DRAINING,
    distance,
    edges_of,
    from_edge,
    patches,
    points,
    where,
)
from diagnose.teaching.pictures.sheet import Grey, Sheet, clear, soft, step
from diagnose.teaching.pictures.toning import bare, hues

LIP = (238, 230, 206)  # the turned-up border of a film


def thin_blue_film(sheet: Sheet, looks: Looks) -> None:
    """A clear, bluish film: the dark plate shows through."""
    del looks
    thin = clear((0.82 + 0.07 * sheet.noise(0.5)) * min(1.0, sheet.strong**0.3))
    blue = np.asarray((78, 98, 132), np.float32) - 30 * step(sheet.y, 0.2, 1.2)[..., None]
    sheet.cover(thin, blue.astype(np.float32))
    sheet.cover(sheet.outline * 0.3, (30, 34, 44))


def relief(sheet: Sheet, looks: Looks, count: float, sharp: float) -> Grey:
    """Waves of thickness the way a direction says, between -1 and 1.

    Args:
        sheet: the plate
        looks: whose direction is taken
        count: waves to a plate width
        sharp: how much the waves are narrowed to ridges
    """
    wander = 0.045 * sheet.noise(0.35, 2)
    match looks.direction:
        case "curved":
            value = distance(sheet, (sheet.between(-0.2, 0.1), sheet.between(-0.3, 0.0)))
        case "none":
            value = 0.2 * sheet.noise(0.3, 2) + 0.5
            wander = np.zeros_like(value)
        case _:
            value = -sheet.x * math.sin(DRAINING) + sheet.y * math.cos(DRAINING)
    phase = (value + wander) * 2 * math.pi * count
    return (np.sin(phase + sharp * np.sin(phase + 1.2))).astype(np.float32)


def uneven_film(sheet: Sheet, looks: Looks) -> None:
    """Thick and thin, in ridges and furrows."""
    waves = relief(sheet, looks, 7.5, 0.6) * where(sheet, looks.place)
    tilt = np.gradient(waves, axis=1) * sheet.wide / 60
    strong = min(1.0, sheet.strong)
    sheet.cover(clear(waves * 0.55 * strong), (240, 232, 206))
    sheet.cover(clear(-waves * 0.6 * strong), (118, 106, 86))
    sheet.cover(clear(tilt * 0.35), (255, 250, 232))


def crapy_film(sheet: Sheet, looks: Looks) -> None:
    """A net of small meshes."""
    del looks
    gap, luck = cells(sheet, sheet.between(0.042, 0.055), 0.45, sheet.between(0.75, 1.1))
    net = step(gap, 0.28, 0.1)
    sheet.cover(net * 0.7 * min(1.0, sheet.strong), (92, 80, 58))
    sheet.cover(clear(step(gap, 0.35, 0.8) * 0.45 + 0.1 * luck), (246, 238, 212))


def film_lifting(sheet: Sheet, looks: Looks) -> None:
    """Frills from the edge, or blisters where no edge is meant."""
    if looks.place in {"whole-plate", "middle", "scattered"}:
        _blisters(sheet, looks)
        return
    away = np.minimum.reduce([from_edge(sheet, edge) for edge in edges_of(sheet, looks.place)])
    if looks.place == "drain-corner":
        away = distance(sheet, DRAIN_CORNER) * 0.42
    along = (
        sheet.x + 0.9 * sheet.y
        if looks.place == "all-edges"
        else (sheet.y if looks.place == "one-side" else sheet.x - sheet.y)
    )
    scallops = np.abs(np.sin(along * math.pi * sheet.between(5.5, 7.5) + 2.2 * sheet.noise(0.35)))
    width = (0.045 + 0.065 * scallops + 0.02 * sheet.noise(0.1)) * sheet.strong**0.5
    inside = width - away
    pleats = 0.5 + 0.5 * np.sin(along * 2 * math.pi * 30 + 3 * sheet.noise(0.12))
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
            pen.taper(path(at, way, radius * sheet.between(1.35, 1.9), parts=2), 0.012, 0.002)
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
    count = sheet.many(7, 9) if looks.place == "whole-plate" else sheet.many(4, 5)
    for x, y in points(sheet, looks.place, count, 0.14):
        long, wide = sheet.between(0.13, 0.24), sheet.between(0.035, 0.06)
        way = pushed + sheet.between(-0.5, 0.5)
        upper, lower = [], []
        for part in range(11):
            along = (part / 10 - 0.5) * long
            half = wide * math.sin(math.pi * part / 10) + 0.002
            for border, sign in ((upper, 1), (lower, -1)):
                aside = sign * half * sheet.between(0.35, 1.15)
                border.append(
                    (
                        x + along * math.cos(way) - aside * math.sin(way),
                        y + along * math.sin(way) + aside * math.cos(way),
                    )
                )
        hole.shape(upper + lower[::-1])
        for number in range(3):  # the folds lie along one border
            moved = 0.011 * number + 0.006
            line = [(px - moved * math.sin(way), py + moved * math.cos(way)) for px, py in upper]
            fold.line(line, 0.009 - 0.002 * number)
            shade.line([(px - 0.006 * math.sin(way), py + 0.006 * math.cos(way)) for px, py in line], 0.005)
    sheet.cover(shade.mask() * 0.7, (52, 46, 40))
    sheet.cover(fold.mask() * 0.95, LIP)
    sheet.cover(hole.mask(), bare(sheet.support))


def sanded_film(sheet: Sheet, looks: Looks) -> None:
    """Fine grains all over, each with its light and its shadow."""
    del looks
    light, dark = Pen(sheet.wide), Pen(sheet.wide)
    for u, v, size, much in sheet.chance.random((round(3200 * sheet.strong), 4)):
        at = (float(u), float(v) * 1.25)
        radius = 0.0014 + 0.0022 * float(size)
        dark.dot((at[0] + radius * 0.7, at[1] + radius * 0.7), radius, 0.5 + 0.5 * float(much))
        light.dot(at, radius * 0.8, 0.6 + 0.4 * float(much))
    sheet.cover(dark.mask() * 0.8, (84, 74, 56))
    sheet.cover(light.mask() * 0.9, (255, 252, 236))


def scum_on_film(sheet: Sheet, looks: Looks) -> None:
    """Torn sheets of skin with wrinkles."""
    place = "scattered" if looks.place == "whole-plate" else looks.place
    wide = where(sheet, place) if place != "scattered" else np.ones((sheet.tall, sheet.wide), np.float32)
    skin = sheet.noise(0.3, 4) + (0.12 if looks.place == "whole-plate" else -0.08) + 0.5 * (wide - 1)
    inside = step(skin, 0.0, 0.04)
    wrinkles = np.abs(np.sin(26 * sheet.noise(0.3, 2) + 18 * sheet.x))
    sheet.cover(inside * 0.62, (132, 116, 92))
    sheet.cover(clear(inside * step(wrinkles, 0.22, 0.05)) * 0.7, (78, 66, 50))
    sheet.cover(clear(inside * step(wrinkles, 0.8, 0.98)) * 0.4, (226, 214, 186))
    sheet.cover(step(np.abs(skin), 0.035, 0.01) * 0.8, (70, 60, 46))


def eaten_film(sheet: Sheet, looks: Looks) -> None:
    """Thin places and holes with round borders."""
    del looks
    thin, hole = Pen(sheet.wide), Pen(sheet.wide)
    for at in points(sheet, "scattered", sheet.many(10, 14), 0.12):
        radius = sheet.between(0.035, 0.075)
        thin.shape(blob(at, radius * 1.5, 0.4, sheet.chance))
        for _ in range(4):  # a hole eaten together from round bites
            near = path(at, sheet.between(0, 6.3), radius * sheet.between(0.1, 0.8), parts=1)[-1]
            hole.dot(near, radius * sheet.between(0.35, 0.65))
    sheet.cover(soft(thin.mask(), 0.014) * 0.7, (104, 112, 124))
    sheet.cover(soft(hole.mask(), 0.003), (26, 24, 24))


def milky_film(sheet: Sheet, looks: Looks) -> None:
    """Whitish clouds in collodion that should be clear."""
    del looks
    clouds = step(sheet.noise(0.45, 4) + 0.15, -0.35, 0.55)
    sheet.cover(clear((0.3 + 0.6 * clouds) * min(1.2, sheet.strong)), (212, 214, 210))
    sheet.cover(sheet.outline * 0.35, (120, 120, 118))


def milky_rinse(sheet: Sheet, looks: Looks) -> None:
    """White curdled clouds and flocks where water has touched."""
    place = looks.place
    heart = step(sheet.noise(0.3, 2) + 0.15, -0.1, 0.25) if place == "scattered" else patches(sheet, place, 0.35, 0.35)
    curd, _ = cells(sheet, 0.036, 1.0)
    flocks = step(curd + 0.25 * sheet.noise(0.1), 0.02, 0.42)
    sheet.cover(clear(heart * (0.4 + 0.6 * flocks)), (250, 250, 248))
    sheet.cover(clear(heart * step(curd, 0.12, 0.02)) * 0.35, (150, 150, 152))


def rainbow_film(sheet: Sheet, looks: Looks) -> None:
    """Rainbow bands, long cracks, and pieces sprung off."""
    del looks
    thick = 0.9 * sheet.noise(0.7, 2) + 1.7 * sheet.y - 0.6 * sheet.x
    sheet.cover(np.full_like(thick, 0.42 * min(1.3, sheet.strong)), hues(thick * 2.2))
    gap, luck = cells(sheet, 0.3, 1.0)
    gap = gap + 0.03 * sheet.noise(0.08, 2)
    crack = step(gap, 0.028, 0.012)
    gone = clear((luck > 0.8) * step(gap, 0.02, 0.05))
    sheet.cover(step(np.abs(gap - 0.035), 0.03, 0.01) * (luck > 0.8), LIP)
    sheet.cover(gone, bare(sheet.support))
    sheet.cover(crack, bare(sheet.support))
