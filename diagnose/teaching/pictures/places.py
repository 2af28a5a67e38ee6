"""Where on the plate, and which way: the words of the knowledge as maps, points and angles.

The plate is drawn as it stood in the holder and in the bath: what stood highest is on top, the dip ran up and down. The collodion
was held at the lower left corner and drained off at the lower right; the developer was poured near the upper left.
"""

import math

import numpy as np

from diagnose.teaching.pictures.maps import clear, most_of, step
from diagnose.teaching.pictures.sheet import TALL, Grey, Point, Sheet

MIDDLE = (0.5, TALL / 2)
DRAIN_CORNER = (1.0, TALL)
HOLD_CORNER = (0.0, TALL)
POUR_POINT = (0.27, 0.27)
DRAINING = math.atan2(TALL, 1.0)  # from the upper left to the lower right
EDGES = ("upper", "right", "lower", "left")


def distance(sheet: Sheet, at: Point) -> Grey:
    """How far every pixel lies from a point [plate widths].

    Args:
        sheet: the plate
        at: the point [plate widths]
    """
    return np.hypot(sheet.x - at[0], sheet.y - at[1]).astype(np.float32)


def from_edge(sheet: Sheet, edge: str) -> Grey:
    """How far every pixel lies from an edge [plate widths].

    Args:
        sheet: the plate
        edge: "upper", "lower", "left" or "right"
    """
    match edge:
        case "upper":
            away = sheet.y
        case "lower":
            away = TALL - sheet.y
        case "left":
            away = sheet.x
        case _:
            away = 1 - sheet.x
    return away


def inward(sheet: Sheet) -> Grey:
    """How far every pixel lies from the nearest edge [plate widths]."""
    nearest: Grey = np.minimum(np.minimum(sheet.x, 1 - sheet.x), np.minimum(sheet.y, TALL - sheet.y))
    return nearest


def edges_of(sheet: Sheet, place: str) -> tuple[str, ...]:
    """The edges from which something grows at a place.

    Args:
        sheet: the plate
        place: a place of the knowledge
    """
    match place:
        case "upper-part":
            return ("upper",)
        case "lower-part":
            return ("lower",)
        case "one-side":
            return (sheet.side,)
        case "drain-corner":
            return ("lower", "right")
        case "hold-corner":
            return ("lower", "left")
        case _:
            return EDGES


def where(sheet: Sheet, place: str) -> Grey:
    """How much of every pixel belongs to a place, 0 to 1, with soft borders.

    Args:
        sheet: the plate
        place: a place of the knowledge; any other is taken for the whole plate
    """
    match place:
        case "middle":
            return step(distance(sheet, MIDDLE), 0.36, 0.16)
        case "all-edges":
            return step(inward(sheet), 0.17, 0.04)
        case "upper-part":
            return step(sheet.y, 0.52, 0.3)
        case "lower-part":
            return step(sheet.y, TALL - 0.52, TALL - 0.3)
        case "drain-corner":
            return step(distance(sheet, DRAIN_CORNER), 0.58, 0.25)
        case "hold-corner":
            return step(distance(sheet, HOLD_CORNER), 0.58, 0.25)
        case "pour-point":
            return step(distance(sheet, POUR_POINT), 0.32, 0.12)
        case "one-side":
            return step(from_edge(sheet, sheet.side), 0.36, 0.14)
        case "scattered":
            return most_of(sheet.noise(0.4), 0.45, 0.25)
        case _:
            return np.ones((sheet.tall, sheet.wide), np.float32)


def points(sheet: Sheet, place: str, count: int, apart: float = 0.0) -> list[Point]:
    """Points by chance within a place.

    Args:
        sheet: the plate
        place: a place of the knowledge
        count: how many
        apart: how far from each other they should keep [plate widths]
    """
    weight = np.ones((1, 1)) if place in {"scattered", "whole-plate"} else where(sheet, place)
    rows, columns = weight.shape
    found: list[Point] = []
    tries = 0
    while len(found) < count and tries < 400 * count:
        tries += 1
        u, v, luck = sheet.chance.random(3)
        if luck > weight[int(v * rows), int(u * columns)] ** 1.5:
            continue
        here = (0.03 + 0.94 * float(u), (0.03 + 0.94 * float(v)) * TALL)
        if tries < 60 * count and any(math.dist(here, other) < apart for other in found):
            continue
        found.append(here)
    return found


def angle(sheet: Sheet, direction: str, at: Point, common: float) -> float:
    """Which way a mark at a point runs [radians, clockwise from the right].

    Args:
        sheet: the plate
        direction: a direction of the knowledge
        at: where the mark begins
        common: the way all run where they have one way that the words do not name
    """
    match direction:
        case "along-dip":
            return math.pi / 2
        case "across-dip":
            return 0.0
        case "diagonal":
            return DRAINING
        case "inward":
            return math.atan2(MIDDLE[1] - at[1], MIDDLE[0] - at[0])
        case "from-corner":
            return math.atan2(at[1] - DRAIN_CORNER[1], at[0] - DRAIN_CORNER[0])
        case "none":
            return sheet.between(0, 2 * math.pi)
        case _:
            return common


def patches(sheet: Sheet, place: str, size: float = 0.22, much: float = 0.0) -> Grey:
    """Cloud-like patches within a place, 0 to 1.

    Args:
        sheet: the plate
        place: a place of the knowledge
        size: how large the patches are [plate widths]
        much: more of them above 0, fewer below
    """
    clouds = most_of(sheet.noise(size, 3), 0.45 + much, 0.35)
    return clear(clouds * where(sheet, place if place != "scattered" else "whole-plate"))
