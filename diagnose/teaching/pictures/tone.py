"""How the whole picture looks: veil, darkness, flatness, the colour of its lights, sharpness."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.pen import Pen, blob, wriggling
from diagnose.teaching.pictures.places import patches, points, where
from diagnose.teaching.pictures.sheet import TALL, Grey, Sheet, clear, soft, step, taken_from
from diagnose.teaching.pictures.toning import colour


def fog(sheet: Sheet, looks: Looks) -> None:
    """A veil that lifts the shadows most."""
    much = where(sheet, looks.place) * (0.62 + 0.05 * sheet.noise(0.6))
    if looks.place != "whole-plate":
        much = np.maximum(much, 0.12)
    veil = clear(much * min(1.3, sheet.strong) * (1 - 0.75 * sheet.silver))
    if looks.colour == "white":
        sheet.add(veil, 1.0)
    else:
        sheet.cover(veil, colour(looks.colour))


def surface_veil(sheet: Sheet, looks: Looks) -> None:
    """A powdery veil with a wiped stroke."""
    del looks
    powder = sheet.chance.random((sheet.tall, sheet.wide)).astype(np.float32)
    veil = 0.52 + 0.22 * (powder - 0.5) + 0.07 * sheet.noise(0.2, 2)
    wipe, heap = Pen(sheet.wide), Pen(sheet.wide)
    start = (sheet.between(0.12, 0.25), sheet.between(0.75, 0.95))
    line = wriggling(start, sheet.between(-0.75, -0.45), 0.85, 0.07, sheet.chance)
    heap.line(line, 0.2)
    heap.dot(line[-1], 0.115)
    wipe.line(line, 0.165)
    wipe.dot(line[0], 0.082)
    wipe.dot(line[-1], 0.082)
    ribs = 0.09 * (np.sin(90 * (sheet.x * 0.5 + sheet.y)) > 0.3)
    left = veil * (1 - wipe.mask()) + ribs * wipe.mask()
    left = left + 0.3 * clear(heap.mask() - wipe.mask())
    sheet.cover(clear(left * min(1.3, sheet.strong)), (198, 197, 190))


def dark_picture(sheet: Sheet, looks: Looks) -> None:
    """Only the highest lights."""
    del looks
    lights = clear((sheet.silver - 0.55 - 0.12 * (sheet.strong - 1)) / 0.4)
    sheet.silver = (lights**1.2 * 0.8).astype(np.float32)


def flat_picture(sheet: Sheet, looks: Looks) -> None:
    """Light everywhere, little contrast."""
    del looks
    base = min(0.75, 0.58 * sheet.strong**0.3)
    sheet.silver = clear(base + (0.95 - base) * step(sheet.silver, 0.0, 0.8))


def hard_picture(sheet: Sheet, looks: Looks) -> None:
    """Black and white, no half-tones."""
    del looks
    border = 0.4 + sheet.between(-0.02, 0.02)
    sheet.silver = clear(step(sheet.silver, border - 0.04, border + 0.04) * 0.98 + 0.01)


def weak_picture(sheet: Sheet, looks: Looks) -> None:
    """Everything there, nothing dense."""
    del looks
    sheet.silver = (sheet.silver * 0.4 / sheet.strong**0.4 + 0.03).astype(np.float32)


def blank_plate(sheet: Sheet, looks: Looks) -> None:
    """Nothing on it but a faint shine."""
    del looks
    shine = step(np.abs(sheet.x * 0.8 + sheet.y * 0.5 - sheet.between(0.45, 0.65)), 0.3, 0.0)
    sheet.silver = (0.055 * shine).astype(np.float32)


def blue_lights(sheet: Sheet, looks: Looks) -> None:
    """Slaty lights, the brightest turned dark."""
    del looks
    lights = step(sheet.silver, 0.38, 0.6)
    turned = step(sheet.silver, 0.74, 0.9)
    sheet.cover(clear(lights * 0.85), (126, 148, 184))
    sheet.cover(clear(turned * 0.9 * min(1.0, sheet.strong)), (52, 62, 84))


def dull_whites(sheet: Sheet, looks: Looks) -> None:
    """Lights without their cream."""
    tint = {"grey": (122, 122, 122), "brown": (138, 104, 72), "blue": (104, 120, 150), "silvery": (150, 160, 168)}
    lights = step(sheet.silver, 0.12, 0.6)
    over = np.asarray(tint.get(looks.colour, (122, 122, 122)), np.float32) * (0.5 + 0.55 * sheet.silver[..., None])
    sheet.cover(clear(lights * 0.88 * min(1.1, sheet.strong)), over.astype(np.float32))


def uneven_tone(sheet: Sheet, looks: Looks) -> None:
    """Patches out of step with one another."""
    del looks
    steps = sheet.noise(0.4, 2)
    up, down = step(steps, 0.1, 0.3), step(steps, -0.1, -0.3)
    lighter = 1 - (1 - sheet.silver) ** 2.6
    darker = sheet.silver**2.2 * 0.55
    sheet.silver = (sheet.silver + (lighter - sheet.silver) * up + (darker - sheet.silver) * down).astype(np.float32)


def grainy_deposit(sheet: Sheet, looks: Looks) -> None:
    """Grey grains in heaps."""
    del looks
    heaps = patches(sheet, "whole-plate", 0.3, 0.1)
    light, dark = Pen(sheet.wide), Pen(sheet.wide)
    for u, v, size, luck in sheet.chance.random((round(5200 * sheet.strong), 4)):
        thick = float(heaps[int(v * sheet.tall), int(u * sheet.wide)])
        if luck > 0.06 + 0.9 * thick:
            continue
        radius = 0.0022 + 0.0045 * float(size) ** 2
        dark.dot((float(u) + radius * 0.6, float(v) * TALL + radius * 0.6), radius)
        light.dot((float(u), float(v) * TALL), radius)
    sheet.cover(heaps * 0.35, (128, 128, 126))
    sheet.cover(dark.mask() * 0.8, (56, 56, 58))
    sheet.cover(light.mask() * 0.95, (164, 166, 168))


def mirror_under_film(sheet: Sheet, looks: Looks) -> None:
    """Patches like a mirror, with bands of reflected light."""
    del looks
    pen = Pen(sheet.wide)
    for at in points(sheet, "scattered", sheet.many(4, 5), 0.3):
        pen.shape(blob(at, sheet.between(0.13, 0.2), 0.4, sheet.chance))
    mask = soft(pen.mask(), 0.006)
    across = sheet.x * 0.75 + sheet.y * 0.65 + 0.05 * sheet.noise(0.5)
    shine = 0.5 + 0.5 * np.sin(across * 2 * math.pi * 2.3 + sheet.between(0, 6))
    glint = step(shine, 0.86, 0.98)
    metal = np.stack(
        [70 + 140 * shine + 45 * glint, 78 + 142 * shine + 35 * glint, 92 + 146 * shine + 17 * glint], axis=-1
    )
    sheet.cover(mask * 0.92, metal.astype(np.float32))


def ghost_marks(sheet: Sheet, looks: Looks) -> None:
    """An earlier sitter upside down, and the arcs of a cloth."""
    under = looks.depth != "in-film"
    ghost = step(soft(sheet.silver[::-1, ::-1], 0.006 if under else 0.002), 0.36, 0.62)
    moved = taken_from(ghost, sheet.x + sheet.between(-0.1, 0.1), sheet.y - 0.06)
    pen = Pen(sheet.wide)
    middle = (sheet.between(0.1, 0.9), TALL + 0.25)
    for number in range(14):
        radius = 0.75 + 0.032 * number + sheet.between(-0.01, 0.01)
        first = -math.pi / 2 + sheet.between(-0.5, -0.2)
        arc = [
            (middle[0] + radius * math.cos(first + 0.09 * part), middle[1] + radius * math.sin(first + 0.09 * part))
            for part in range(9)
        ]
        pen.line(arc, sheet.between(0.006, 0.016), sheet.between(0.4, 1.0))
    wiped = soft(pen.mask(), 0.004)
    both: Grey = clear(np.maximum(moved * 0.8, wiped * 0.65) * 0.62 * sheet.strong)
    if under:  # the picture lies over it, so it shows in the shadows
        sheet.add(clear(both * (1.15 - sheet.silver)), 0.7)
    else:
        sheet.add(both, 0.86)


def unsharp(sheet: Sheet, looks: Looks) -> None:
    """Out of focus, or moved."""
    sharp = sheet.silver
    if looks.direction == "one-way":  # moved: a second edge beside the first
        way, far = sheet.between(-0.3, 0.3), 0.05 * sheet.strong
        blurred = np.zeros_like(sharp)
        for part, weight in ((0.0, 0.36), (0.25, 0.1), (0.5, 0.1), (0.75, 0.1), (1.0, 0.34)):
            shift = (part - 0.5) * far
            blurred += weight * taken_from(sharp, sheet.x - shift * math.cos(way), sheet.y - shift * math.sin(way))
    else:
        blurred = soft(sharp, 0.024 * sheet.strong)
    sheet.silver = (sharp + (blurred - sharp) * where(sheet, looks.place)).astype(np.float32)
