"""Faults of fixing, drying, varnishing and keeping."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.cells import cells
from diagnose.teaching.pictures.film import relief
from diagnose.teaching.pictures.maps import clear, most_of, soft, step, taken_from
from diagnose.teaching.pictures.pen import Pen, path
from diagnose.teaching.pictures.places import distance, inward, patches, points, where
from diagnose.teaching.pictures.sheet import TALL, Sheet
from diagnose.teaching.pictures.toning import CREAM, LIP, bare


def yellow_left(sheet: Sheet, looks: Looks) -> None:
    """Creamy yellow patches that hide the picture."""
    if looks.place == "whole-plate":
        mask = 0.5 + 0.45 * step(sheet.noise(0.3, 2), -0.3, 0.4)
    elif looks.place == "scattered":
        mask = 0.88 * most_of(sheet.noise(0.3, 3), sheet.between(0.3, 0.5), 0.12)
    else:
        mask = where(sheet, looks.place) * (0.9 + 0.1 * sheet.noise(0.1, 2))
        mask = step(mask * (1 + 0.3 * sheet.noise(0.15, 2)), 0.35, 0.5) * 0.9
    sheet.cover(clear(mask * sheet.strong**0.5), CREAM)


def blue_green_stain(sheet: Sheet, looks: Looks) -> None:
    """Blue and green, most where there is little silver."""
    del looks
    hue = most_of(sheet.noise(0.45), 0.5, 0.5)[..., None]
    stain = np.asarray((34, 82, 138), np.float32) * hue + np.asarray((58, 128, 96), np.float32) * (1 - hue)
    mask = (0.5 + 0.35 * step(sheet.noise(0.2, 3), -0.2, 0.4)) * (1.05 - 0.6 * sheet.silver)
    sheet.cover(clear(mask * min(1.2, sheet.strong)), stain.astype(np.float32))


def eaten_picture(sheet: Sheet, looks: Looks) -> None:
    """Half-tones broken into ragged islands."""
    del looks
    bite = 0.5 + 0.26 * sheet.noise(0.035, 2) + 0.1 * sheet.noise(0.25) + 0.05 * (sheet.strong - 1)
    left = step(sheet.silver - bite, -0.03, 0.05)
    sheet.silver = (sheet.silver * left * 0.95).astype(np.float32)


def drying_haze(sheet: Sheet, looks: Looks) -> None:
    """A chalky haze and the rims of dried drops."""
    wide = where(sheet, looks.place) if looks.place != "scattered" else np.ones((sheet.tall, sheet.wide), np.float32)
    ring = np.zeros((sheet.tall, sheet.wide), np.float32)
    fill = np.zeros_like(ring)
    rough = 0.2 * sheet.noise(0.06, 2)
    for at in points(sheet, looks.place, sheet.many(12, 17), 0.07):
        radius = sheet.between(0.022, 0.06)
        away = distance(sheet, at) / radius + rough
        for far, much in ((1.0, 1.0), (0.72, 0.45)):
            ring = np.maximum(ring, much * step(np.abs(away - far), 0.16, 0.05))
        fill = np.maximum(fill, step(away, 1.0, 0.9))
    chalk = sheet.chance.random(ring.shape).astype(np.float32)
    haze = 0.0 if looks.place == "scattered" else 0.34 * wide * (0.8 + 0.4 * sheet.noise(0.15, 3))
    sheet.cover(clear(haze * (0.75 + 0.5 * chalk) * sheet.strong), (224, 226, 224))
    sheet.cover(clear(fill * 0.22), (224, 226, 224))
    sheet.cover(clear(ring * (0.55 + 0.45 * chalk)), (246, 246, 242))


def fades_later(sheet: Sheet, looks: Looks) -> None:
    """Faded from the edges, yellowed, with rusty spots and small crystals."""
    del looks
    gone = clear(0.28 + 0.72 * step(inward(sheet) + 0.06 * sheet.noise(0.2, 2), 0.26, 0.0))
    faded = (0.3 + (sheet.silver - 0.3) * (1 - 0.85 * gone)).astype(np.float32)
    sheet.silver = (sheet.silver + (faded - sheet.silver) * min(1.0, sheet.strong)).astype(np.float32)
    sheet.cover(clear(0.22 + 0.5 * gone), (170, 132, 72))
    rust, crystal = Pen(sheet.wide), Pen(sheet.wide)
    for at in points(sheet, "scattered", sheet.many(26, 36), 0.04):
        rust.dot(at, sheet.between(0.004, 0.014))
    for at in points(sheet, "all-edges", sheet.many(14, 20), 0.05):
        first = sheet.between(0, math.pi)
        for ray in range(3):
            crystal.line(path(at, first + ray * math.pi / 3, 0.018, parts=1), 0.003)
            crystal.line(path(at, first + math.pi + ray * math.pi / 3, 0.018, parts=1), 0.003)
    sheet.cover(soft(rust.mask(), 0.002) * 0.9, (96, 48, 22))
    sheet.cover(crystal.mask() * 0.9, (246, 242, 230))


def varnish_bloom(sheet: Sheet, looks: Looks) -> None:
    """A milky cloudiness over lights and darks alike."""
    place = looks.place
    wide = patches(sheet, place, 0.3) if place == "scattered" else where(sheet, place)
    billows = step(sheet.noise(0.14, 4), -0.5, 0.6)
    sheet.cover(clear(wide * (0.24 + 0.42 * billows) * min(1.2, sheet.strong)), (206, 212, 218))


def varnish_ridges(sheet: Sheet, looks: Looks) -> None:
    """Shining waves of varnish."""
    waves = relief(sheet, looks, 4.2, 0.9)
    wide = where(sheet, looks.place)
    down = np.gradient(waves, axis=0) * sheet.wide / 26
    across = np.gradient(waves, axis=1) * sheet.wide / 26
    flank = (down - across) if looks.direction != "curved" else (down + across)
    flank = flank / np.percentile(np.abs(flank), 98)
    sheet.cover(clear(wide * (0.08 + 0.2 * step(waves, 0.0, 1.0))), (150, 112, 58))
    sheet.cover(clear(wide * step(-flank, 0.25, 1.0) * 0.55 * sheet.strong**0.5), (30, 24, 16))
    sheet.cover(clear(wide * step(flank, 0.72, 1.0) * 0.75 * sheet.strong**0.5), (255, 250, 236))


def varnish_dissolves(sheet: Sheet, looks: Looks) -> None:
    """The picture slides away towards the corner and wrinkles."""
    del looks
    slid = step(sheet.y + 0.25 * sheet.x + 0.1 * sheet.noise(0.3, 2), 0.62, 1.15)
    far = slid * 0.3 * sheet.strong**0.5
    fold = 0.016 * slid * np.sin(42 * (sheet.y + 0.5 * sheet.x + 0.06 * sheet.noise(0.25)))
    sheet.silver = taken_from(sheet.silver, sheet.x - far * 0.75 + fold, sheet.y - far + fold)
    wrinkle = np.cos(42 * (sheet.y + 0.5 * sheet.x + 0.06 * sheet.noise(0.25))) * slid
    sheet.cover(clear(step(wrinkle, 0.55, 0.95) * 0.5), (232, 224, 204))
    sheet.cover(clear(step(-wrinkle, 0.5, 0.95) * 0.6), bare(sheet.support))
    thin = step(sheet.noise(0.2, 2), 0.35, 0.7) * slid
    sheet.cover(clear(thin * 0.85), bare(sheet.support))


def varnish_cracks(sheet: Sheet, looks: Looks) -> None:
    """Crazing, with flakes gone."""
    del looks
    gap, luck = cells(sheet, sheet.between(0.1, 0.13), 1.0)
    fine, chip = cells(sheet, 0.045, 1.0)
    strong = sheet.strong**0.5
    crack = step(gap + 0.05 * sheet.noise(0.03), 0.075 * strong, 0.035)
    sheet.cover(step(np.abs(gap - 0.1), 0.06, 0.02) * 0.45, LIP)
    sheet.cover(step(fine, 0.06, 0.03) * (luck > 0.5) * 0.55, bare(sheet.support))
    gone = clear((luck > 0.88) * (chip > 0.25) * step(gap, 0.04, 0.08))
    sheet.cover(np.maximum(gone, crack), bare(sheet.support))


def varnish_darkens(sheet: Sheet, looks: Looks) -> None:
    """One half already varnished and darker."""
    del looks
    border = sheet.x + 0.28 * (sheet.y - TALL / 2) + 0.02 * sheet.noise(0.25, 2) - sheet.between(0.47, 0.53)
    done = step(border, -0.004, 0.004)
    sunk = sheet.silver * (1 - 0.52 * min(1.2, sheet.strong))
    sheet.silver = (sheet.silver + (sunk - sheet.silver) * done).astype(np.float32)
    sheet.cover(step(np.abs(border), 0.01, 0.003) * 0.7, (226, 208, 160))
    sheet.cover(done * 0.1, (120, 84, 40))
