"""Stains that grow in from the edge: shells and splashes."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import clear, soft, step
from diagnose.teaching.pictures.pen import Pen, blob, path, wriggling
from diagnose.teaching.pictures.places import DRAIN_CORNER, MIDDLE, distance, edges_of, points
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
    sources = _sources(sheet, looks)
    much = 1.0 if len(sources) < 3 else 0.65
    for start, first, spread in sources:
        pen.shape(blob(start, much * sheet.between(0.15, 0.2), 0.3, sheet.chance))
        count = sheet.many(5, 7)
        for number in range(count):
            way = first + spread * (2 * (number + sheet.between(0.1, 0.9)) / count - 1)
            width = much * sheet.between(0.03, 0.055)
            line = wriggling(start, way, much * sheet.between(0.25, 0.55), 0.14, sheet.chance, 8)
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
    side = 0.0 if sheet.side == "left" else 1.0
    edges = {
        "upper-part": [(sheet.between(0.15, 0.85), 0.0)],
        "lower-part": [(sheet.between(0.15, 0.85), TALL)],
        "one-side": [(side, TALL * sheet.between(0.25, 0.75))],
        "scattered": points(sheet, "scattered", 3, 0.4),
        "all-edges": [_on_edge(edge, sheet.between(0.25, 0.75)) for edge in ("upper", "right", "lower", "left")],
    }
    corners = {
        "upper-part": [(side, 0.0)],
        "lower-part": [(side, TALL)],
        "one-side": [(side, TALL)],
        "all-edges": [(0.0, 0.0), (1.0, 0.0), (0.0, TALL), (1.0, TALL)],
    }
    told = corners if looks.direction == "from-corner" else edges
    starts = told.get(looks.place, edges.get(looks.place, [DRAIN_CORNER]))
    found = []
    for at in starts:
        way, spread = math.atan2(MIDDLE[1] - at[1], MIDDLE[0] - at[0]), 0.65
        if looks.place == "scattered":
            way, spread = sheet.between(0, 2 * math.pi), math.pi
        if looks.direction == "along-dip":
            way, spread = (-math.pi / 2 if at[1] > TALL / 2 else math.pi / 2), 0.12
            at = (min(0.88, max(0.12, at[0])), at[1])  # noqa: PLW2901 - a run at the very edge would not be seen
        if looks.direction == "none":
            spread = max(spread, 1.3)
        found.append((at, way, spread))
    return found
