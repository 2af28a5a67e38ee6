"""Marks with a length: comets, worms, needles, scratches, streaks."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.pen import Pen, path, wriggling
from diagnose.teaching.pictures.places import DRAINING, angle, edges_of, points, where
from diagnose.teaching.pictures.sheet import TALL, Sheet, soft, step
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
    for name, least, most in (("white", 8, 12), ("black", 8, 12)):
        pen = Pen(sheet.wide)
        for at in points(sheet, "scattered", sheet.many(least, most), 0.08):
            way = sheet.between(0, 2 * math.pi)
            waves, high = sheet.between(1.5, 2.6), sheet.between(0.011, 0.018)
            length = sheet.between(0.08, 0.14)
            line = []
            for part in np.linspace(0, 1, 22):
                along, aside = float(part) * length, high * math.sin(2 * math.pi * waves * float(part))
                line.append(
                    (
                        at[0] + along * math.cos(way) - aside * math.sin(way),
                        at[1] + along * math.sin(way) + aside * math.cos(way),
                    )
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


def diagonal_streaks(sheet: Sheet, looks: Looks) -> None:
    """Many fine parallel lines, the way the collodion drained."""
    del looks
    way = DRAINING + sheet.between(-0.12, 0.12)
    across = -sheet.x * math.sin(way) + sheet.y * math.cos(way)
    along = sheet.x * math.cos(way) + sheet.y * math.sin(way)
    wander = 0.006 * sheet.noise(0.5)
    lines = np.sin((across + wander) * 2 * math.pi * sheet.between(26, 34)).astype(np.float32)
    lines *= 0.65 + 0.35 * np.sin(along * 5 + across * 9 + sheet.between(0, 6))
    sheet.silver = (sheet.silver + 0.17 * sheet.strong * lines * (0.35 + sheet.silver)).astype(np.float32)


def dip_streaks(sheet: Sheet, looks: Looks) -> None:
    """Straight streaks up and down."""
    pen = Pen(sheet.wide)
    part = looks.place if looks.place in {"upper-part", "lower-part"} else ""
    for _ in range(sheet.many(15, 22)):
        x, width = sheet.between(0.01, 0.99), sheet.between(0.004, 0.02)
        top, end = (-0.02, TALL + 0.02) if sheet.chance.random() < 0.6 else (sheet.between(0, 0.4), TALL + 0.02)
        if part == "upper-part":
            top, end = -0.02, sheet.between(0.3, 0.5)
        if part == "lower-part":
            top, end = TALL - sheet.between(0.3, 0.5), TALL + 0.02
        pen.taper([(x, top), (x, (top + end) / 2), (x, end)], width, width * 0.7, sheet.between(0.4, 1.0))
    mask = soft(pen.mask(), 0.0025)
    if not part:
        mask = (mask * where(sheet, looks.place)).astype(np.float32)
    ink(sheet, mask, looks.colour, 0.62)


def line_across(sheet: Sheet, looks: Looks) -> None:
    """Sharp straight lines from side to side, with a step of density."""
    del looks
    for number in range(1 + int(sheet.chance.random() * 2.2)):
        y = sheet.between(0.25, TALL - 0.3) if number == 0 else sheet.between(0.1, TALL - 0.1)
        light = sheet.chance.random() < 0.6
        wave = y + 0.0015 * np.sin(sheet.x * 40)
        if number == 0:
            sheet.add((sheet.y > wave) * np.float32(0.16 * sheet.strong), 0.75 if light else 0.0)
        band = step(np.abs(sheet.y - wave), 0.009 if number == 0 else 0.006, 0.003)
        sheet.add(band * 0.95, 1.0 if light else 0.0)


def edge_streaks(sheet: Sheet, looks: Looks) -> None:
    """Spots on the cut edge with fine streaks running inward."""
    pen = Pen(sheet.wide)
    ways = {"upper": math.pi / 2, "lower": -math.pi / 2, "left": 0.0, "right": math.pi}
    for edge in edges_of(sheet, looks.place):
        count = sheet.many(15, 22)
        for number in range(count):
            along = (number + sheet.between(0.1, 0.9)) / count
            at = {
                "upper": (along, 0.006),
                "lower": (along, TALL - 0.006),
                "left": (0.006, along * TALL),
                "right": (0.994, along * TALL),
            }[edge]
            radius = sheet.between(0.004, 0.01)
            pen.dot(at, radius)
            way = ways[edge] + sheet.between(-0.05, 0.05)
            pen.taper(path(at, way, sheet.between(0.04, 0.17), parts=3), radius * 1.1, 0.0012, 0.9)
    ink(sheet, pen.mask(), looks.colour, 0.95)


def corner_streaks(sheet: Sheet, looks: Looks) -> None:
    """A fan of smears from the held corner, and finger marks."""
    fan, prints = Pen(sheet.wide), Pen(sheet.wide)
    middle = looks.place == "middle"
    side = sheet.side == "left" or looks.place == "hold-corner"
    if not middle:
        start = (0.03 if side else 0.97, TALL - 0.03 if looks.place == "hold-corner" else TALL * 0.55)
        first = -math.pi * (0.02 if side else 0.98)
        spread = -0.46 * math.pi if side else 0.46 * math.pi
        if looks.place != "hold-corner":
            first, spread = (-0.45 if side else math.pi - 0.45), 0.9
        for number in range(sheet.many(9, 12)):
            way = first + spread * (number + sheet.between(0.1, 0.9)) / 11
            fan.taper(
                path(start, way, sheet.between(0.28, 0.55), sheet.between(-0.3, 0.3)),
                0.03,
                0.004,
                sheet.between(0.5, 1),
            )
    thumb = [(0.4, 0.52), (0.52, 0.47), (0.63, 0.5), (0.71, 0.58)] if middle else [(0.09, TALL - 0.11)]
    if not middle and looks.place != "hold-corner":
        thumb = [(0.08 if side else 0.92, TALL * spot) for spot in (0.42, 0.54, 0.66)]
    for at in thumb:
        prints.oval(at, 0.05, 0.066)
    whorls = step(np.sin(130 * np.hypot(sheet.x - thumb[0][0] - 0.01, (sheet.y - thumb[0][1]) * 0.8)), -0.2, 0.4)
    mask = np.maximum(soft(fan.mask(), 0.006) * 0.8, soft(prints.mask(), 0.004) * (0.35 + 0.65 * whorls))
    ink(sheet, mask.astype(np.float32), looks.colour, 0.75)


def greasy_film(sheet: Sheet, looks: Looks) -> None:
    """Rivulets and tears of silver solution on a film that will not take it."""
    del looks
    body, rim = Pen(sheet.wide), Pen(sheet.wide)
    slant = math.pi / 2 - sheet.between(0.05, 0.25)
    for number in range(sheet.many(11, 14)):
        start = (0.02 + 0.96 * (number + sheet.between(0, 1)) / 13, -0.02)
        width = sheet.between(0.014, 0.03)
        line = wriggling(start, slant, sheet.between(0.35, 1.25), 0.32, sheet.chance)
        for pen, more in ((rim, 0.008), (body, 0.0)):
            pen.line(line, width + more)
            pen.dot(line[-1], width * 0.95 + more / 2)
            pen.dot(start, width * 1.6 + more / 2)
    for at in points(sheet, "scattered", sheet.many(16, 24), 0.05):
        radius = sheet.between(0.006, 0.016)
        rim.oval(at, radius + 0.004, radius * 1.3 + 0.004)
        body.oval(at, radius, radius * 1.3)
    inner = body.mask()
    sheet.cover(rim.mask() * 0.75, (96, 84, 60))
    sheet.cover(inner, (214, 204, 172) if sheet.support == "metal" else (240, 214, 164))
    shine = np.clip(inner - np.roll(inner, (3, 3), (0, 1)), 0, 1)
    sheet.cover(soft(shine, 0.001), (255, 253, 244))
