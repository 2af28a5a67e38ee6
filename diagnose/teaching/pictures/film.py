"""Faults of the coated film: thin, thick, netted, sandy, milky."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.cells import cells
from diagnose.teaching.pictures.maps import clear, most_of, step
from diagnose.teaching.pictures.pen import Pen
from diagnose.teaching.pictures.places import DRAINING, distance, where
from diagnose.teaching.pictures.sheet import Grey, Sheet


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
    gap, luck = cells(sheet, sheet.between(0.038, 0.048), 0.4, sheet.between(0.75, 1.1))
    net = step(gap, 0.24, 0.06)
    sheet.cover(net * 0.6 * min(1.0, sheet.strong), (100, 88, 64))
    sheet.cover(clear(step(gap, 0.4, 0.9) * 0.3 + 0.08 * luck), (246, 238, 212))
    sheet.cover(sheet.outline * 0.6, (70, 60, 42))


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
    place = looks.place if looks.place != "scattered" else "whole-plate"
    part = {"whole-plate": 0.65, "scattered": 0.42}.get(looks.place, 0.0)
    skin = sheet.noise(0.32, 4)
    skin = skin + (-float(np.quantile(skin[::4, ::4], 1 - part)) if part else 0.35 - 2.4 * (1 - where(sheet, place)))
    inside = step(skin, 0.0, 0.03)
    folds = np.sin(5 * sheet.noise(0.25, 2) + 6 * (sheet.x + sheet.y))
    sheet.cover(inside * 0.6, (134, 120, 98))
    sheet.cover(clear(inside * step(np.abs(folds), 0.16, 0.03)) * 0.75, (74, 62, 48))
    sheet.cover(clear(inside * step(np.abs(folds - 0.3), 0.16, 0.03)) * 0.5, (228, 218, 192))
    sheet.cover(step(np.abs(skin - 0.01), 0.04, 0.012) * 0.85, (64, 54, 42))


def milky_film(sheet: Sheet, looks: Looks) -> None:
    """Whitish clouds in collodion that should be clear."""
    del looks
    clouds = step(sheet.noise(0.45, 4) + 0.15, -0.35, 0.55)
    sheet.cover(clear((0.3 + 0.6 * clouds) * min(1.2, sheet.strong)), (212, 214, 210))
    sheet.cover(sheet.outline * 0.35, (120, 120, 118))


def milky_rinse(sheet: Sheet, looks: Looks) -> None:
    """White curdled clouds and flocks where water has touched."""
    rough = 0.25 * sheet.noise(0.12, 2)
    if looks.place == "scattered":
        heart = most_of(sheet.noise(0.4, 2) + rough, sheet.between(0.4, 0.6), 0.2)
    else:
        heart = step(1.6 * where(sheet, looks.place) - 0.75 + rough, -0.05, 0.15)
    curd, _ = cells(sheet, 0.03, 1.0)
    flocks = step(curd + 0.2 * sheet.noise(0.1, 2), 0.0, 0.5)
    sheet.cover(clear(heart * (0.62 + 0.38 * flocks)), (250, 251, 252))
    sheet.cover(clear(heart * step(curd, 0.16, 0.02)) * 0.12, (150, 154, 160))
