"""Marks that spread over a part of the plate: shells, splashes, waves of developer, dry patches, light."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.pen import Pen, blob, path, wriggling
from diagnose.teaching.pictures.places import (
    DRAIN_CORNER,
    POUR_POINT,
    distance,
    edges_of,
    from_edge,
    points,
    where,
)
from diagnose.teaching.pictures.sheet import TALL, Point, Sheet, clear, soft, step
from diagnose.teaching.pictures.toning import hues, ink


def oyster_shells(sheet: Sheet, looks: Looks) -> None:
    """Lobes with layered bands, growing in from the edge."""
    nearest = np.full((sheet.tall, sheet.wide), 9.0, np.float32)
    rough = 1 + 0.22 * sheet.noise(0.09, 2)
    for edge in edges_of(sheet, looks.place):
        long = TALL if edge in {"left", "right"} else 1.0
        start, end = (0.45, 1.0) if looks.place == "drain-corner" else (0.0, 1.0)
        along = start
        while along < end:
            radius = sheet.between(0.07, 0.17) * sheet.strong**0.5
            at = _on_edge(edge, along + radius / long * 0.6)
            nearest = np.minimum(nearest, distance(sheet, at) / radius * rough).astype(np.float32)
            along += radius * sheet.between(0.9, 1.5) / long
    bands = 0.5 + 0.5 * np.cos(nearest * 2 * math.pi * 3.2)
    body = step(nearest, 1.0, 0.93)
    rim = step(np.abs(nearest - 0.95), 0.06, 0.02)
    ink(sheet, clear(body * (0.28 + 0.62 * bands) * (1.1 - 0.35 * nearest)), looks.colour)
    if looks.colour != "black":
        ink(sheet, rim, "white", 0.6)


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
        pen.shape(blob(start, sheet.between(0.09, 0.13), 0.3, sheet.chance))
        for _ in range(sheet.many(6, 8)):
            way = first + sheet.between(-spread, spread)
            length = sheet.between(0.16, 0.42)
            line = wriggling(start, way, length, 0.16, sheet.chance, 8)
            pen.taper(line, sheet.between(0.05, 0.085), 0.014)
            pen.oval(line[-1], 0.02, 0.024)
            for _ in range(2):
                far = path(line[-1], way + sheet.between(-0.3, 0.3), sheet.between(0.03, 0.1), parts=1)[-1]
                pen.dot(far, sheet.between(0.005, 0.013))
    mask = soft(pen.mask(), 0.002)
    rim = clear((mask - soft(mask, 0.008)) * 2.2)
    ink(sheet, mask, looks.colour, 0.7)
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


def developer_streaks(sheet: Sheet, looks: Looks) -> None:
    """Bands with a sharp front and a soft back, where the wave stopped or ran."""
    total = np.zeros((sheet.tall, sheet.wide), np.float32)
    lines = np.zeros_like(total)
    ripple = 0.014 * sheet.noise(0.25, 2)
    for number in range(sheet.many(3, 4)):
        match looks.direction:
            case "along-dip":
                away = sheet.x - (0.14 + 0.25 * number) + 0.02 * np.sin(sheet.y * 5 + number)
            case "across-dip":
                away = sheet.y - (0.2 + 0.28 * number) + 0.02 * np.sin(sheet.x * 5 + number)
            case "from-corner":
                away = distance(sheet, DRAIN_CORNER) - (0.28 + 0.24 * number)
            case "none":
                at = points(sheet, looks.place, 1)[0]
                away = distance(sheet, at) - sheet.between(0.1, 0.2) + 0.03 * sheet.noise(0.15)
            case _:
                at = (sheet.between(-0.1, 0.5), sheet.between(-0.25, 0.05))
                away = distance(sheet, at) - (0.32 + 0.27 * number)
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
    wet, rim = Pen(sheet.wide), Pen(sheet.wide)
    for number in range(sheet.many(4, 5)):
        start = (0.08 + 0.22 * number + sheet.between(-0.05, 0.05), -0.03)
        line = wriggling(start, math.pi / 2, 1.4, 0.5, sheet.chance, 16)
        width = sheet.between(0.045, 0.09)
        for part, at in enumerate(line):
            more = width * (0.6 + 0.4 * math.sin(part * 1.3 + number))
            wet.dot(at, more / 2)
            rim.dot(at, more / 2 + 0.007)
        wet.line(line, width * 0.55)
        rim.line(line, width * 0.55 + 0.014)
    for at in points(sheet, "scattered", sheet.many(30, 42), 0.05):
        radius = sheet.between(0.01, 0.032)
        wet.dot(at, radius)
        rim.dot(at, radius + 0.006)
    inner = wet.mask()
    dark = 168 - 118 * sheet.silver  # before fixing, the lights stand dark on the cream
    sheet.cover(rim.mask() * 0.8, (92, 78, 52))
    sheet.cover(inner, np.stack([dark, dark * 0.94, dark * 0.8], axis=-1).astype(np.float32))
    shine = np.clip(inner - np.roll(inner, (4, 4), (0, 1)), 0, 1)
    sheet.cover(soft(shine, 0.0012), (255, 252, 240))


def dead_edge(sheet: Sheet, looks: Looks) -> None:
    """A margin or band that took no picture."""
    if looks.place == "middle":
        y = TALL / 2 + sheet.between(-0.08, 0.08)
        away = np.abs(sheet.y - y)
        width = sheet.between(0.09, 0.12)
    elif looks.place in {"drain-corner", "hold-corner"}:
        corner = 1.0 if looks.place == "drain-corner" else 0.0
        away = np.abs(sheet.x - corner) + np.abs(TALL - sheet.y)
        width = sheet.between(0.36, 0.46)
    else:
        away = np.minimum.reduce([from_edge(sheet, edge) for edge in edges_of(sheet, looks.place)])
        width = sheet.between(0.1, 0.14) if looks.place == "all-edges" else sheet.between(0.16, 0.22)
    away = (away + 0.018 * sheet.noise(0.3, 2)).astype(np.float32)
    width *= sheet.strong**0.5
    sheet.add(step(away, width, width - 0.008), 0.0)
    sheet.cover(step(np.abs(away - width - 0.004), 0.014, 0.004) * 0.35, hues(away * 30))


def drying_marks(sheet: Sheet, looks: Looks) -> None:
    """Dull patches with hard outlines: tongues and maps."""
    if looks.place in {"whole-plate", "middle", "scattered"}:
        land = sheet.noise(0.28, 3) + (0.1 if looks.place != "middle" else -0.1)
        if looks.place == "middle":
            land = land + 1.1 * where(sheet, "middle") - 0.55
    else:
        away = np.minimum.reduce([from_edge(sheet, edge) for edge in edges_of(sheet, looks.place)])
        if looks.place == "drain-corner":
            away = distance(sheet, DRAIN_CORNER) * 0.55
        along = sheet.x + sheet.y if looks.place in {"all-edges", "drain-corner"} else sheet.x
        if looks.place == "one-side":
            along = sheet.y
        teeth = np.abs(np.sin(along * math.pi * 7.5 + 1.5 * sheet.noise(0.4)))
        land = 0.11 + 0.16 * teeth + 0.05 * sheet.noise(0.12, 2) - away
        land = land * 6
    inside, line = step(land, 0.0, 0.05), step(np.abs(land), 0.07, 0.02)
    inner = step(np.abs(land - 0.3), 0.05, 0.01) * 0.4
    strong = min(1.0, sheet.strong)
    sheet.cover(inside * 0.6 * strong, (88, 84, 78))
    sheet.cover(clear(np.maximum(line, inner)) * 0.85 * strong, (36, 33, 30))


def local_fog(sheet: Sheet, looks: Looks) -> None:
    """Light let in at one place: a wedge with soft borders."""
    if looks.place in {"scattered", "middle"}:
        pen = Pen(sheet.wide)
        spots = points(sheet, looks.place, 1 if looks.place == "middle" else 3, 0.35)
        for x, y in spots:
            pen.oval((x, y), sheet.between(0.13, 0.19), sheet.between(0.1, 0.16))
        mask = soft(pen.mask(), 0.055)
    else:
        mask = np.zeros((sheet.tall, sheet.wide), np.float32)
        for start, way in _leaks(sheet, looks.place):
            along = (sheet.x - start[0]) * math.cos(way) + (sheet.y - start[1]) * math.sin(way)
            aside = np.abs(-(sheet.x - start[0]) * math.sin(way) + (sheet.y - start[1]) * math.cos(way))
            width = 0.045 + 0.3 * np.clip(along, 0, 2)
            ray = step(aside, width * 1.15, width * 0.5) * step(along, 0.75, -0.02)
            mask = np.maximum(mask, ray)
    sheet.add(clear(mask * 0.9 * sheet.strong), 1.0)


def _leaks(sheet: Sheet, place: str) -> list[tuple[Point, float]]:
    """Where light came in, and which way it ran."""
    tilt = sheet.between(-0.25, 0.25)
    up = -math.pi / 2
    match place:
        case "upper-part":
            return [((sheet.between(0.25, 0.75), 0.0), math.pi / 2 + tilt)]
        case "lower-part":
            return [((sheet.between(0.25, 0.75), TALL), up + tilt)]
        case "drain-corner":
            return [((1.0, TALL), math.atan2(-TALL, -1.0) + tilt)]
        case "hold-corner":
            return [((0.0, TALL), math.atan2(-TALL, 1.0) + tilt)]
        case "all-edges":
            return [((0.5, 0.0), math.pi / 2), ((0.5, TALL), up), ((0.0, 0.6), 0.0), ((1.0, 0.6), math.pi)]
        case _:
            left = sheet.side == "left"
            return [((0.0 if left else 1.0, TALL * sheet.between(0.3, 0.7)), (0.0 if left else math.pi) + tilt)]
