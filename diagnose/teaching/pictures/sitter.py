"""The made-up sitter: a paper-doll of ovals, so that nobody takes it for a photograph or for a person."""

import math
from functools import lru_cache

import numpy as np

from diagnose.teaching.pictures.maps import clear, grid, resized, soft, step
from diagnose.teaching.pictures.pen import Pen
from diagnose.teaching.pictures.sheet import TALL, Grey, Sheet

SHOULDER = 0.86  # how far down the shoulders begin [plate widths]


def seat(sheet: Sheet, seed: int) -> None:
    """Put the sitter on the plate: what silver a sound plate would bear.

    Args:
        sheet: the plate; gets its silver, the face and the outline
        seed: what varies from sitter to sitter; the fault's own chance is kept apart, so that both draw the same sitter
    """
    sheet.silver, sheet.face, sheet.outline = seated(sheet.wide, seed)


@lru_cache(maxsize=8)
def seated(wide: int, seed: int) -> tuple[Grey, Grey, Grey]:
    """A sound plate: its silver, where the face is, and the sitter's outline in dots; none may be written to.

    Args:
        wide: width of the plate [pixels]
        seed: what varies from sitter to sitter
    """
    chance = np.random.default_rng([seed, 1])
    lit = -1.0 if chance.random() < 0.5 else 1.0  # light from the left or from the right
    head, hair = (0.5 + 0.03 * float(chance.uniform(-1, 1)), 0.47), int(chance.integers(3))
    x, y = grid(wide)
    ground = 0.43 - 0.2 * np.hypot(x - 0.5, (y - 0.55) * 0.8) + 0.05 * (x - 0.5) * lit
    picture = ground.astype(np.float32)

    picture = _over(picture, _chair(wide), 0.3 + 0.1 * np.sin(x * 60))
    picture = _over(picture, _wall(wide, lit), 0.62)
    coat = _coat(wide, head[0])
    folds = 0.025 * np.sin((x - head[0]) * 22 + 3 * y)
    picture = _over(picture, coat, 0.2 + 0.1 * (x - 0.5) * lit + folds)
    picture = _over(picture, _shirt(wide, head[0]), 0.9 - 0.12 * (y - SHOULDER))
    picture = _over(picture, _tie(wide, head[0]), 0.1)
    behind = _hair_behind(wide, head, hair)
    picture = _over(picture, behind, 0.1 + 0.03 * np.sin(x * 90))

    face, neck = _oval(wide, head, 0.145, 0.195), _neck(wide, head[0])
    across = (x - head[0]) / 0.145
    picture = _over(picture, neck, 0.56 + 0.12 * across * lit)
    picture = _over(picture, face, 0.73 + 0.16 * across * lit - 0.1 * across**2)
    picture = _over(picture, _features(wide, head), 0.18)
    picture = _over(picture, _hair_before(wide, head, hair), 0.1 + 0.03 * np.sin(x * 90 + 20 * y))
    picture = _over(picture, _buttons(wide, head[0]), 0.62)
    drawn = clear(picture), face, _dotted(wide, np.maximum.reduce([coat, face, neck, behind]))
    for part in drawn:
        part.setflags(write=False)
    return drawn


def _over(below: Grey, mask: Grey, tone: float | Grey) -> Grey:
    """One tone laid over another."""
    return (below + (tone - below) * mask).astype(np.float32)


def _oval(wide: int, at: tuple[float, float], across: float, down: float) -> Grey:
    pen = Pen(wide)
    pen.oval(at, across, down)
    return pen.mask()


def _chair(wide: int) -> Grey:
    """Two posts of a chair with knobs, and its rail: something at the sides that can be sharp or not."""
    pen = Pen(wide)
    for x in (0.1, 0.9):
        pen.line([(x, 0.8), (x, TALL + 0.02)], 0.03)
        pen.dot((x, 0.785), 0.026)
    pen.line([(0.1, 0.9), (0.9, 0.9)], 0.03)
    return pen.mask()


def _wall(wide: int, lit: float) -> Grey:
    """An empty frame on the wall, on the side of the light."""
    pen = Pen(wide)
    left = 0.06 if lit < 0 else 0.78
    pen.line([(left, 0.1), (left + 0.16, 0.1), (left + 0.16, 0.32), (left, 0.32), (left, 0.095)], 0.012)
    return pen.mask()


def _coat(wide: int, middle: float) -> Grey:
    pen = Pen(wide)
    turns = [math.pi * part / 24 for part in range(25)]
    shoulders = [(middle - 0.36 * math.cos(t), SHOULDER + 0.08 - 0.15 * math.sin(t) ** 0.8) for t in turns]
    pen.shape([(middle - 0.4, TALL + 0.01), *shoulders, (middle + 0.4, TALL + 0.01)])
    return pen.mask()


def _shirt(wide: int, middle: float) -> Grey:
    pen = Pen(wide)
    pen.shape([(middle - 0.09, SHOULDER - 0.06), (middle + 0.09, SHOULDER - 0.06), (middle, SHOULDER + 0.22)])
    return pen.mask()


def _tie(wide: int, middle: float) -> Grey:
    pen = Pen(wide)
    for way in (-1, 1):
        far = middle + way * 0.055
        pen.shape([(middle, SHOULDER - 0.01), (far, SHOULDER - 0.035), (far, SHOULDER + 0.015)])
    return pen.mask()


def _neck(wide: int, middle: float) -> Grey:
    pen = Pen(wide)
    pen.shape([(middle - 0.06, 0.6), (middle + 0.06, 0.6), (middle + 0.075, 0.83), (middle - 0.075, 0.83)])
    return pen.mask()


def _features(wide: int, head: tuple[float, float]) -> Grey:
    """Two dots, a line for the nose and a line for the mouth."""
    pen = Pen(wide)
    x, y = head
    for way in (-1, 1):
        pen.dot((x + way * 0.055, y - 0.025), 0.012)
        pen.line([(x + way * 0.035, y - 0.058), (x + way * 0.08, y - 0.055)], 0.007, 0.7)
    pen.line([(x, y - 0.01), (x - 0.012, y + 0.055), (x + 0.006, y + 0.058)], 0.005, 0.55)
    pen.line([(x - 0.035, y + 0.105), (x, y + 0.112), (x + 0.035, y + 0.105)], 0.009, 0.9)
    return pen.mask()


def _hair_behind(wide: int, head: tuple[float, float], kind: int) -> Grey:
    pen = Pen(wide)
    x, y = head
    if kind == 0:  # a cap of hair
        pen.oval((x, y - 0.05), 0.16, 0.175)
    elif kind == 1:  # a bun on top
        pen.oval((x, y - 0.04), 0.165, 0.18)
        pen.oval((x, y - 0.25), 0.055, 0.05)
    else:  # a round hat
        pen.shape([(x - 0.115, y - 0.1), (x - 0.1, y - 0.3), (x + 0.1, y - 0.3), (x + 0.115, y - 0.1)])
    return pen.mask()


def _hair_before(wide: int, head: tuple[float, float], kind: int) -> Grey:
    pen = Pen(wide)
    x, y = head
    if kind == 2:
        pen.shape([(x - 0.115, y - 0.11), (x - 0.1, y - 0.3), (x + 0.1, y - 0.3), (x + 0.115, y - 0.11)])
        pen.oval((x, y - 0.115), 0.21, 0.03)
    else:
        pen.oval((x, y - 0.165), 0.12, 0.055)
    return pen.mask()


def _buttons(wide: int, middle: float) -> Grey:
    pen = Pen(wide)
    for number in range(2):
        pen.dot((middle, SHOULDER + 0.26 + 0.07 * number), 0.01)
    return pen.mask()


def _dotted(wide: int, whole: Grey) -> Grey:
    """The outline of the sitter in dots, for plates that bear no picture yet."""
    edge = soft(whole, 0.004)
    line = step(edge * (1 - edge), 0.12, 0.22)
    dots = resized(np.indices((round(TALL * 30), 30)).sum(0).astype(np.float32) % 2, wide, whole.shape[0])
    return clear(line * step(dots, 0.4, 0.6))
