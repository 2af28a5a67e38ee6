"""A sheet broken into cells, for nets, crazing and crape."""

import numpy as np

from diagnose.teaching.pictures.maps import resized
from diagnose.teaching.pictures.sheet import TALL, Grey, Sheet


def cells(sheet: Sheet, size: float, uneven: float, stretch: float = 1.0) -> tuple[Grey, Grey]:
    """How far every pixel lies from the border of its cell, and a number by chance for each cell.

    Args:
        sheet: the plate
        size: of a cell [plate widths]
        uneven: 0 is a lattice, 1 as by chance
        stretch: how much taller than wide a cell is

    Returns:
        distance from the nearest border [cells], and 0 to 1 for each cell
    """
    rows, columns = int(TALL / (size * stretch)) + 5, int(1 / size) + 5
    jitter = sheet.chance.uniform(-0.5, 0.5, (2, rows, columns)).astype(np.float32) * uneven
    luck = sheet.chance.random((rows, columns)).astype(np.float32)
    half_x, half_y = sheet.x[::2, ::2], sheet.y[::2, ::2]  # every second pixel: a quarter of the work
    across = half_x / size + 2
    down = half_y / (size * stretch) + 2
    column, row = across.astype(np.int32), down.astype(np.int32)
    nearest = np.full(across.shape, 9.0, np.float32)
    second = nearest.copy()
    number = np.zeros_like(nearest)
    for over in (-1, 0, 1):
        for under in (-1, 0, 1):
            r, c = np.clip(row + under, 0, rows - 1), np.clip(column + over, 0, columns - 1)
            shift = 0.25 * (r % 2) * 2 if uneven < 0.6 else 0.0
            away = np.hypot(across - (c + 0.5 + shift + jitter[0][r, c]), down - (r + 0.5 + jitter[1][r, c]))
            closer = away < nearest
            second = np.where(closer, nearest, np.minimum(second, away))
            number = np.where(closer, luck[r, c], number)
            nearest = np.minimum(nearest, away)
    gap = resized(second - nearest, sheet.wide, sheet.tall)
    whole = number.repeat(2, axis=0).repeat(2, axis=1)[: sheet.tall, : sheet.wide]
    return gap, whole.astype(np.float32)
