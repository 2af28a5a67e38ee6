"""Streaks and lines that run over the plate, and what runs down it."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import soft, step
from diagnose.teaching.pictures.pen import Pen, path
from diagnose.teaching.pictures.places import DRAINING, edges_of, where
from diagnose.teaching.pictures.sheet import TALL, Sheet
from diagnose.teaching.pictures.toning import ink


def diagonal_streaks(sheet: Sheet, looks: Looks) -> None:
    """Many fine parallel lines, the way the collodion drained."""
    del looks
    way = DRAINING + sheet.between(-0.1, 0.1)
    across = -sheet.x * math.sin(way) + sheet.y * math.cos(way) + 0.004 * sheet.noise(0.5)
    along = sheet.x * math.cos(way) + sheet.y * math.sin(way)
    count = 210  # lines of uneven darkness, some seventy of them plain
    lines = sheet.chance.normal(0, 1, count).astype(np.float32)
    lines = np.where(np.abs(lines) > 0.8, lines, 0.25 * lines)
    far = (across - across.min()) / (across.max() - across.min()) * (count - 1)
    drawn = np.interp(far, np.arange(count), lines) * (0.75 + 0.25 * np.sin(along * 4 + across * 30))
    sheet.silver = (sheet.silver + 0.13 * sheet.strong * np.clip(drawn, -1.8, 1.8) * (0.3 + sheet.silver)).astype(
        np.float32
    )


def dip_streaks(sheet: Sheet, looks: Looks) -> None:
    """Straight streaks up and down."""
    pen = Pen(sheet.wide)
    for _ in range(sheet.many(16, 23)):
        x, width, ink_ = sheet.between(0.01, 0.99), sheet.between(0.005, 0.022), sheet.between(0.4, 1.0)
        top, end = (-0.4, TALL + 0.1) if sheet.chance.random() < 0.5 else (sheet.between(-0.1, 0.35), TALL + 0.1)
        if looks.place == "upper-part":
            top, end = sheet.between(0.35, 0.52), -0.1
        if looks.place == "lower-part":
            top, end = TALL - sheet.between(0.35, 0.52), TALL + 0.1
        pen.taper([(x, top), (x, top + 0.3 * (end - top)), (x, end)], 0.0, width, ink_)
    mask = soft(pen.mask(), 0.0025)
    if looks.place not in {"upper-part", "lower-part"}:
        mask = mask * where(sheet, looks.place)
    ink(sheet, mask, looks.colour, 0.62)


def line_across(sheet: Sheet, looks: Looks) -> None:
    """Sharp straight lines from side to side, with a step of density."""
    del looks
    for number in range(1 + int(sheet.chance.random() * 2.2)):
        y = sheet.between(0.3, TALL - 0.35) if number == 0 else sheet.between(0.1, TALL - 0.1)
        light = sheet.chance.random() < 0.6
        wave = y + 0.0015 * np.sin(sheet.x * 40)
        if number == 0:
            sheet.add((sheet.y > wave) * np.float32(0.2 * sheet.strong), 0.8 if light else 0.0)
        band = step(np.abs(sheet.y - wave), 0.008 if number == 0 else 0.005, 0.002)
        sheet.add(band * 0.95, 1.0 if light else 0.0)


def edge_streaks(sheet: Sheet, looks: Looks) -> None:
    """Spots on the cut edge with fine streaks running inward."""
    pen = Pen(sheet.wide)
    ways = {"upper": math.pi / 2, "lower": -math.pi / 2, "left": 0.0, "right": math.pi}
    for edge in edges_of(sheet, looks.place):
        count = sheet.many(15, 22)
        for number in range(count):
            along = (number + sheet.between(0.1, 0.9)) / count
            at = {
                "upper": (along, 0.006),
                "lower": (along, TALL - 0.006),
                "left": (0.006, along * TALL),
                "right": (0.994, along * TALL),
            }[edge]
            radius = sheet.between(0.004, 0.01)
            pen.dot(at, radius)
            way = ways[edge] + sheet.between(-0.05, 0.05)
            pen.taper(path(at, way, sheet.between(0.04, 0.17), parts=3), radius * 1.1, 0.0012, 0.9)
    ink(sheet, pen.mask(), looks.colour, 0.95)


def corner_streaks(sheet: Sheet, looks: Looks) -> None:
    """A fan of smears from the held corner, and the prints of fingers."""
    fan = Pen(sheet.wide)
    mirrored = looks.place == "one-side" and sheet.side == "right"
    match looks.place:
        case "middle":
            prints, starts = [(0.38, 0.56), (0.5, 0.5), (0.62, 0.53), (0.71, 0.62)], []
        case "one-side":
            prints = [(0.08, TALL * spot) for spot in (0.4, 0.53, 0.66)]
            starts = [(at, -0.35, 0.7) for at in prints]
        case _:
            prints, starts = [(0.09, TALL - 0.11)], [((0.03, TALL - 0.03), -math.pi * 0.5, math.pi * 0.5)]
    for at, first, spread in starts:
        count = sheet.many(10, 13) if len(starts) == 1 else sheet.many(3, 5)
        long = 0.6 if len(starts) == 1 else 0.34
        for number in range(count):
            way = first + spread * (number + sheet.between(0.1, 0.9)) / count
            smear = path(at, way, long * sheet.between(0.55, 1.0), sheet.between(-0.25, 0.25))
            fan.taper(smear, sheet.between(0.022, 0.045), 0.006, sheet.between(0.5, 1))
    mask = soft(fan.mask(), 0.006) * 0.85
    if mirrored:
        mask = mask[:, ::-1]
    for x, y in prints:
        at = (1 - x if mirrored else x, y)
        finger = Pen(sheet.wide)
        finger.oval(at, 0.05, 0.066)
        round_it = np.hypot(sheet.x - at[0] - 0.01, (sheet.y - at[1] + 0.01) * 0.8)
        whorls = step(np.sin(430 * round_it + 0.6 * sheet.noise(0.05)), -0.2, 0.4)
        mask = np.maximum(mask * (1 - 0.6 * finger.mask()), soft(finger.mask(), 0.003) * (0.25 + 0.75 * whorls))
    ink(sheet, mask, looks.colour, 0.85)
