"""What lies over or under the picture: fog, powder, grains, mirrors, ghosts."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import clear, most_of, soft, step, taken_from
from diagnose.teaching.pictures.pen import Pen, wriggling
from diagnose.teaching.pictures.places import patches, where
from diagnose.teaching.pictures.sheet import TALL, Grey, Sheet
from diagnose.teaching.pictures.toning import ink


def fog(sheet: Sheet, looks: Looks) -> None:
    """A veil that lifts the shadows most and leaves the lights."""
    much = where(sheet, looks.place) * (0.5 + 0.04 * sheet.noise(0.6))
    if looks.place != "whole-plate":
        much = np.maximum(much, 0.04)
    veil = clear(much * min(1.3, sheet.strong) * (1 - 0.95 * sheet.silver))
    ink(sheet, veil / max(1.0, sheet.strong) ** 0.5, looks.colour)


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
    mask = most_of(sheet.noise(0.42, 4), sheet.between(0.4, 0.58), 0.08)
    across = sheet.x * 0.75 + sheet.y * 0.65 + 0.02 * sheet.noise(0.5)
    shine = 0.5 + 0.5 * np.sin(across * 2 * math.pi * 2.6 + sheet.between(0, 6))
    glint = step(shine, 0.86, 0.98)
    metal = np.stack(
        [70 + 140 * shine + 45 * glint, 78 + 142 * shine + 35 * glint, 92 + 146 * shine + 17 * glint], axis=-1
    )
    picture = 0.75 + 0.25 * sheet.silver
    sheet.cover(mask * 0.9 * picture, metal.astype(np.float32))


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
