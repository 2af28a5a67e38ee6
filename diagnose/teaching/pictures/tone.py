"""How the whole picture looks: dark, flat, hard, the colour of its lights, sharpness."""

import math

import numpy as np

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures.maps import clear, soft, step, taken_from
from diagnose.teaching.pictures.places import MIDDLE, distance, from_edge, where
from diagnose.teaching.pictures.sheet import Sheet


def dark_picture(sheet: Sheet, looks: Looks) -> None:
    """Only the highest lights."""
    del looks
    lights = clear((sheet.silver - 0.55 - 0.12 * (sheet.strong - 1)) / 0.4)
    sheet.silver = (lights**1.2 * 0.8).astype(np.float32)


def flat_picture(sheet: Sheet, looks: Looks) -> None:
    """Light everywhere, little contrast."""
    del looks
    base = min(0.75, 0.58 * sheet.strong**0.3)
    sheet.silver = clear(base + (0.95 - base) * step(sheet.silver, 0.0, 0.8))


def hard_picture(sheet: Sheet, looks: Looks) -> None:
    """Black and white, no half-tones."""
    del looks
    border = 0.53 + sheet.between(-0.02, 0.02)
    hard = min(0.05, 0.03 / sheet.strong)
    sheet.silver = clear(step(sheet.silver, border - hard, border + hard) * 0.98 + 0.01)


def weak_picture(sheet: Sheet, looks: Looks) -> None:
    """Everything there, nothing dense."""
    del looks
    sheet.silver = (sheet.silver * 0.4 / sheet.strong**0.4 + 0.03).astype(np.float32)


def blank_plate(sheet: Sheet, looks: Looks) -> None:
    """Nothing on it but a faint shine."""
    del looks
    shine = step(np.abs(sheet.x * 0.8 + sheet.y * 0.5 - sheet.between(0.45, 0.65)), 0.3, 0.0)
    sheet.silver = (0.055 * shine).astype(np.float32)


def blue_lights(sheet: Sheet, looks: Looks) -> None:
    """Slaty lights, the brightest turned dark."""
    del looks
    lights = step(sheet.silver, 0.38, 0.6)
    turned = step(sheet.silver, 0.74, 0.9)
    sheet.cover(clear(lights * 0.85), (126, 148, 184))
    sheet.cover(clear(turned * 0.9 * min(1.0, sheet.strong)), (52, 62, 84))


def dull_whites(sheet: Sheet, looks: Looks) -> None:
    """Lights without their cream."""
    tint = {"grey": (146, 147, 148), "brown": (150, 112, 76), "blue": (112, 130, 164), "silvery": (164, 174, 182)}
    lights = step(sheet.silver, 0.12, 0.5)
    over = np.asarray(tint.get(looks.colour, tint["grey"]), np.float32) * (0.35 + 0.72 * sheet.silver[..., None])
    sheet.cover(clear(lights * 0.9 * min(1.1, sheet.strong)), over.astype(np.float32))


def uneven_tone(sheet: Sheet, looks: Looks) -> None:
    """Patches out of step with one another."""
    del looks
    steps = sheet.noise(0.4, 2)
    up, down = step(steps, 0.1, 0.3), step(steps, -0.1, -0.3)
    lighter = 1 - (1 - sheet.silver) ** 2.6
    darker = sheet.silver**2.2 * 0.55
    sheet.silver = (sheet.silver + (lighter - sheet.silver) * up + (darker - sheet.silver) * down).astype(np.float32)


def unsharp(sheet: Sheet, looks: Looks) -> None:
    """Out of focus, or moved."""
    sharp = sheet.silver
    if looks.direction == "one-way":  # moved: a second edge beside the first
        way, far = sheet.between(-0.3, 0.3), 0.05 * sheet.strong
        blurred = np.zeros_like(sharp)
        for part, weight in ((0.0, 0.36), (0.25, 0.1), (0.5, 0.1), (0.75, 0.1), (1.0, 0.34)):
            shift = (part - 0.5) * far
            blurred += weight * taken_from(sharp, sheet.x - shift * math.cos(way), sheet.y - shift * math.sin(way))
    else:
        blurred = soft(sharp, 0.024 * sheet.strong)
    match looks.place:
        case "all-edges":
            reach = step(distance(sheet, MIDDLE), 0.22, 0.45)
        case "one-side":
            reach = step(from_edge(sheet, sheet.side), 0.6, 0.3)
        case _:
            reach = where(sheet, looks.place)
    sheet.silver = (sharp + (blurred - sharp) * reach).astype(np.float32)
