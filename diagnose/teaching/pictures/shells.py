"""Stains that grow in from the edge: shells and splashes."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import clear, soft, step
from diagnose.teaching.pictures.pen import Pen, blob, path, wriggling
from diagnose.teaching.pictures.places import DRAIN_CORNER, distance, edges_of, points
from diagnose.teaching.pictures.sheet import TALL, Point, Sheet
from diagnose.teaching.pictures.toning import ink


def oyster_shells(sheet: Sheet, looks: Looks) -> None:
    """Lobes with layered bands, growing in from the edge."""
    nearest = np.full((sheet.tall, sheet.wide), 9.0, np.float32)
    rough = 1 + 0.2 * sheet.noise(0.1, 3)
    for edge in edges_of(sheet, looks.place):
        long = TALL if edge in {"left", "right"} else 1.0
        along = 0.45 if looks.place == "drain-corner" else 0.0
        while along < 1.0:
            radius = sheet.between(0.09, 0.22) * sheet.strong**0.5
            at = _on_edge(edge, along + radius / long * 0.6)
            nearest = np.minimum(nearest, distance(sheet, at) / radius * rough).astype(np.float32)
            along += radius * sheet.between(0.8, 1.3) / long
    # each layer begins sharply and fades towards the next, as in a shell
    layer = (nearest * 4.2) % 1.0
    bands = step(layer, 0.0, 0.85) * step(layer, 1.0, 0.9)
    body = step(nearest, 1.0, 0.95)
    ink(sheet, clear(body * (0.3 + 0.65 * bands) * (1.1 - 0.35 * nearest)), looks.colour)
    if looks.colour != "black":
        ink(sheet, step(np.abs(nearest - 0.96), 0.05, 0.02), "white", 0.6)


def _on_edge(edge: str, along: float) -> Point:
    """A point on an edge, a part of the way along it."""
    return {
        "upper": (along, 0.0),
        "lower": (along, TALL),
        "left": (0.0, along * TALL),
        "right": (1.0, along * TALL),
    }[edge]


def splash_stains(sheet: Sheet, looks: Looks) -> None:
    """A splash: a pool with fingers and drops."""
    pen = Pen(sheet.wide)
    for start, first, spread in _sources(sheet, looks):
        pen.shape(blob(start, sheet.between(0.15, 0.2), 0.3, sheet.chance))
        count = sheet.many(5, 7)
        for number in range(count):
            way = first + spread * (2 * (number + sheet.between(0.1, 0.9)) / count - 1)
            width = sheet.between(0.03, 0.055)
            line = wriggling(start, way, sheet.between(0.25, 0.55), 0.14, sheet.chance, 8)
            pen.taper(line, width * 3.2, width * 0.6)
            pen.oval(line[-1], width * 0.55, width * 0.6)
            for _ in range(2):
                far = path(line[-1], way + sheet.between(-0.3, 0.3), sheet.between(0.03, 0.11), parts=1)[-1]
                pen.dot(far, sheet.between(0.005, 0.014))
    mask = step(soft(pen.mask(), 0.008), 0.35, 0.6)
    rim = clear((mask - soft(mask, 0.012)) * 2.2)
    ink(sheet, mask, looks.colour, 0.66)
    ink(sheet, rim, "brown" if looks.colour in {"yellow", "brown"} else "white", 0.55)


def _sources(sheet: Sheet, looks: Looks) -> list[tuple[Point, float, float]]:
    """Where splashes start, which way they run, and how far their fingers spread."""
    corner = [(DRAIN_CORNER, math.atan2(-TALL, -1.0), 0.6)]
    match looks.place:
        case "upper-part":
            starts = [((sheet.between(0.1, 0.9), 0.0), math.pi / 2, 0.7) for _ in range(2)]
        case "lower-part":
            starts = [((sheet.between(0.1, 0.9), TALL), -math.pi / 2, 0.7) for _ in range(2)]
        case "one-side":
            left = sheet.side == "left"
            way = 0.0 if left else math.pi
            starts = [((0.0 if left else 1.0, TALL * sheet.between(0.2, 0.85)), way, 0.7) for _ in range(2)]
        case "scattered":
            starts = [(at, sheet.between(0, 6.3), math.pi) for at in points(sheet, "scattered", 4, 0.3)]
        case "all-edges":
            ways = {"upper": math.pi / 2, "right": math.pi, "lower": -math.pi / 2, "left": 0.0}
            starts = [(_on_edge(edge, sheet.between(0.2, 0.8)), way, 0.7) for edge, way in ways.items()]
        case _:
            starts = corner
    match looks.direction:
        case "along-dip":
            turned = [(at, -math.pi / 2 if at[1] > TALL / 2 else math.pi / 2, 0.08) for at, _, _ in starts]
        case "none":
            turned = [(at, way, max(spread, 1.3)) for at, way, spread in starts]
        case "from-corner" if looks.place != "drain-corner":
            turned = [
                (at, math.atan2(at[1] - TALL, at[0] - 1) if at != DRAIN_CORNER else way, 0.35) for at, way, _ in starts
            ]
        case _:
            turned = starts
    return turned
