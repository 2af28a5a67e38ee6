"""What the developer does where it lands, stops, runs or will not lie."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import clear, soft, step
from diagnose.teaching.pictures.pen import Pen, blob, path
from diagnose.teaching.pictures.places import DRAIN_CORNER, POUR_POINT, distance, points, where
from diagnose.teaching.pictures.sheet import TALL, Grey, Point, Sheet
from diagnose.teaching.pictures.toning import ink

# the middle of each place [plate widths]
HEARTS: dict[str, Point] = {
    "upper-part": (0.5, 0.18),
    "lower-part": (0.5, 1.07),
    "pour-point": POUR_POINT,
    "drain-corner": (0.82, 1.05),
}


def developer_streaks(sheet: Sheet, looks: Looks) -> None:
    """Bands with a sharp front and a soft back, where the wave stopped or ran."""
    total = np.zeros((sheet.tall, sheet.wide), np.float32)
    lines = np.zeros_like(total)
    ripple = 0.014 * sheet.noise(0.25, 2)
    heart = HEARTS.get(looks.place, (0.55, 0.6))
    if looks.place == "one-side":
        heart = (0.12 if sheet.side == "left" else 0.88, 0.6)
    apart = 0.26 if looks.place in {"whole-plate", "all-edges"} else 0.15
    start: Point = (sheet.between(-0.1, 0.5), sheet.between(-0.25, 0.05))
    around = np.arctan2(TALL - sheet.y, 1 - sheet.x)
    for number in range(sheet.many(3, 4)):
        after = (number - 1) * apart + sheet.between(-0.03, 0.03)
        match looks.direction:
            case "along-dip":
                away = sheet.x - heart[0] - after + 0.02 * np.sin(sheet.y * 5 + number)
            case "across-dip":
                away = sheet.y - heart[1] - after + 0.02 * np.sin(sheet.x * 5 + number)
            case "from-corner":
                away = (around - 0.25 - 0.32 * number) * (distance(sheet, DRAIN_CORNER) + 0.05)
            case "none":
                away = distance(sheet, points(sheet, looks.place, 1)[0]) - sheet.between(0.1, 0.2) + 2 * ripple
            case _:
                away = distance(sheet, start) - math.dist(start, heart) - after
        away = (away + ripple).astype(np.float32)
        total = np.maximum(total, step(away, -0.18, 0.0) * (away <= 0))
        lines = np.maximum(lines, step(np.abs(away), 0.008, 0.003))
    part = where(sheet, looks.place)
    ink(sheet, clear(total * part), looks.colour, 0.62)
    ink(sheet, clear(lines * part), "white" if looks.colour in {"white", "grey"} else "black", 0.75)


def pour_spot(sheet: Sheet, looks: Looks) -> None:
    """A bare patch with a light glow round it."""
    at: Point = {
        "drain-corner": (0.82, TALL - 0.2),
        "one-side": (0.12 if sheet.side == "left" else 0.88, TALL / 2),
        "middle": (0.5, TALL / 2),
    }.get(looks.place, POUR_POINT)
    at = (at[0] + sheet.between(-0.03, 0.03), at[1] + sheet.between(-0.03, 0.03))
    radius = sheet.between(0.1, 0.13) * sheet.strong**0.5
    pen, glow = Pen(sheet.wide), Pen(sheet.wide)
    pen.shape(blob(at, radius, 0.16, sheet.chance))
    for _ in range(7):
        pen.taper(path(at, sheet.between(0, 6.3), radius * sheet.between(1.2, 1.7), parts=2), 0.05, 0.004)
    glow.dot(at, radius * 1.75)
    sheet.add(soft(glow.mask(), 0.03) * 0.55, 0.92)
    sheet.add(soft(pen.mask(), 0.006), 0.0)


def developer_repelled(sheet: Sheet, looks: Looks) -> None:
    """Developer in drops and rivers; a picture, still seen as before fixing, only where it lies."""
    del looks
    inner, rim = rivers(sheet, 3, 0.17, 0.26)
    dark = 176 - 132 * sheet.silver  # before fixing, the lights stand dark on the cream
    sheet.cover(rim * 0.8, (92, 78, 52))
    sheet.cover(inner, np.stack([dark, dark * 0.94, dark * 0.8], axis=-1).astype(np.float32))
    shine = np.clip(inner - np.roll(inner, (3, 3), (0, 1)), 0, 1)
    sheet.cover(soft(shine, 0.0012) * 0.9, (255, 252, 240))


def rivers(sheet: Sheet, count: int, least: float, most: float) -> tuple[Grey, Grey]:
    """Wet rivers that wind down the plate with drops between them: inside, and with their rims.

    Args:
        sheet: the plate
        count: how many rivers
        least: narrowest [plate widths]
        most: widest [plate widths]
    """
    wet, rim = Pen(sheet.wide), Pen(sheet.wide)
    for number in range(count):
        x = (number + sheet.between(0.25, 0.75)) / count
        end, width = sheet.between(0.45, 1.45), sheet.between(least, most)
        waves, high, first = sheet.between(1.5, 3), sheet.between(0.3, 0.6) / count / 2, sheet.between(0, 6)
        for part in range(201):
            y = -0.03 + end * part / 200
            if y > TALL + 0.1:
                break
            at = (x + high * math.sin(waves * 2 * math.pi * y + first) + 0.05 * y, y)
            radius = width / 2 * (0.75 + 0.3 * math.sin(9 * y + first) + (0.45 if part > 188 else 0))
            wet.dot(at, radius)
            rim.dot(at, radius + 0.005)
    for at in points(sheet, "scattered", sheet.many(22, 30), 0.05):
        radius = sheet.between(0.006, 0.02)
        rim.oval(at, radius + 0.004, radius * 1.25 + 0.004)
        wet.oval(at, radius, radius * 1.25)
    return wet.mask(), rim.mask()


def greasy_film(sheet: Sheet, looks: Looks) -> None:
    """Rivulets and tears of silver solution on a film that will not take it."""
    del looks
    inner, rim = rivers(sheet, sheet.many(9, 11), 0.02, 0.038)
    sheet.cover(rim * 0.75, (92, 80, 58))
    sheet.cover(inner, (206, 196, 164) if sheet.support == "metal" else (236, 208, 156))
    shine = np.clip(inner - np.roll(inner, (3, 3), (0, 1)), 0, 1)
    sheet.cover(soft(shine, 0.001), (255, 253, 244))
