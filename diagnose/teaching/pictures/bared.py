"""Parts that took no picture, dried, or were struck by light."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import clear, soft, step
from diagnose.teaching.pictures.pen import Pen
from diagnose.teaching.pictures.places import DRAIN_CORNER, distance, edges_of, from_edge, points, where
from diagnose.teaching.pictures.sheet import TALL, Point, Sheet
from diagnose.teaching.pictures.toning import hues


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
        land = sheet.noise(0.3, 4) + 0.05
        if looks.place == "middle":
            land = land * 0.6 + 1.5 * where(sheet, "middle") - 0.85
    else:
        rough = 0.04 * sheet.noise(0.1, 2)
        land = np.full((sheet.tall, sheet.wide), -9.0, np.float32)
        for edge in edges_of(sheet, looks.place):
            along = sheet.x if edge in {"upper", "lower"} else sheet.y
            teeth = np.abs(np.sin(along * math.pi * sheet.between(6.5, 8) + 0.8 * sheet.noise(0.3))) ** 0.8
            long = 0.2 if looks.place != "all-edges" else 0.13
            reach = 0.06 + long * teeth * (1 + 0.5 * np.sin(along * 7 + sheet.between(0, 6))) + rough
            if looks.place in {"drain-corner", "hold-corner"}:
                reach = reach * step(distance(sheet, DRAIN_CORNER), 0.75, 0.45) * 1.5 - 0.001
            land = np.maximum(land, (reach - from_edge(sheet, edge)) * 6)
    inside, line = step(land, 0.0, 0.05), step(np.abs(land), 0.08, 0.02)
    inner = step(np.abs(land - 0.3), 0.06, 0.01) * 0.4
    strong = min(1.0, sheet.strong)
    sheet.cover(inside * 0.6 * strong, (92, 88, 82))
    sheet.cover(clear(np.maximum(line, inner)) * 0.85 * strong, (34, 31, 28))


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
        reach, spread = (0.3, 1.2) if looks.place == "all-edges" else (0.75, 0.3)
        for start, way in _leaks(sheet, looks.place):
            along = (sheet.x - start[0]) * math.cos(way) + (sheet.y - start[1]) * math.sin(way)
            aside = np.abs(-(sheet.x - start[0]) * math.sin(way) + (sheet.y - start[1]) * math.cos(way))
            width = 0.045 + spread * np.clip(along, 0, 2)
            ray = step(aside, width * 1.15, width * 0.5) * step(along, reach, -0.02)
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
