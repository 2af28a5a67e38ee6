"""Maps over the plate: an amount for every pixel, and what is done with them."""

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

Grey = NDArray[Any]  # rows of amounts, most often 0 to 1
Colours = NDArray[Any]  # rows of red, green, blue
TALL = 1.25  # plate widths: the plate is 4 by 5


@lru_cache(maxsize=8)
def grid(wide: int) -> tuple[Grey, Grey]:
    """Where every pixel of a plate lies [plate widths].

    Args:
        wide: width of the plate [pixels]
    """
    tall = round(wide * TALL)
    across = (np.arange(wide, dtype=np.float32) + 0.5) / wide
    down = (np.arange(tall, dtype=np.float32) + 0.5) / wide
    x, y = np.meshgrid(across, down)
    x.setflags(write=False)
    y.setflags(write=False)
    return x, y


def clear(mask: Grey) -> Grey:
    """A mask held between 0 and 1."""
    return np.clip(mask, 0, 1).astype(np.float32)


def step(value: Grey, start: float | Grey, end: float | Grey) -> Grey:
    """0 before start, 1 after end, and softly between.

    Args:
        value: what is measured
        start: where it begins
        end: where it is whole; smaller than start for a falling step
    """
    part = clear((value - start) / (end - start))
    smooth: Grey = part * part * (3 - 2 * part)
    return smooth


def most_of(values: Grey, part: float, border: float) -> Grey:
    """Where values are highest, so that a set part of the plate is taken whatever the chance.

    Args:
        values: what is measured
        part: of the plate, 0 to 1
        border: how soft the border is, in the values' own measure; 0 is the middle of it
    """
    start = float(np.quantile(values[::4, ::4], 1 - part))
    return step(values, start - border / 2, start + border / 2)


def soft(mask: Grey, radius: float) -> Grey:
    """A mask with soft edges.

    Args:
        mask: 0 to 1
        radius: [plate widths]
    """
    image = Image.fromarray((clear(mask) * 255).astype(np.uint8))
    blurred = image.filter(ImageFilter.GaussianBlur(radius * mask.shape[1]))
    return (np.asarray(blurred, np.float32) / 255).astype(np.float32)


def resized(values: Grey, wide: int, tall: int) -> Grey:
    """Values drawn out over a larger or smaller sheet.

    Args:
        values: rows of values
        wide: columns wanted [pixels]
        tall: rows wanted [pixels]
    """
    image = Image.fromarray(values.astype(np.float32))
    return np.asarray(image.resize((wide, tall), Image.Resampling.BICUBIC), np.float32)


def taken_from(values: Grey, x: Grey, y: Grey) -> Grey:
    """Values fetched from other places: how a picture slides.

    Args:
        values: what is fetched
        x: where each pixel is fetched from [plate widths]
        y: likewise, downward
    """
    tall, wide = values.shape
    columns = np.clip((x * wide).astype(np.int32), 0, wide - 1)
    rows = np.clip((y * wide).astype(np.int32), 0, tall - 1)
    fetched: Grey = values[rows, columns]
    return fetched


def clouds(wide: int, tall: int, size: float, chance: np.random.Generator) -> Grey:
    """One layer of soft clouds between about -1 and 1, its grain turned by chance so that it follows no edge.

    Args:
        wide: columns [pixels]
        tall: rows [pixels]
        size: how far apart the clouds stand [plate widths]
        chance: what varies
    """
    pixels = max(2.0, size * wide)  # of one cell
    cells = int(1.7 * TALL * wide / pixels) + 6
    coarse = Image.fromarray(chance.uniform(-1.25, 1.25, (cells, cells)).astype(np.float32))
    turn = float(chance.uniform(0.3, 1.2))
    across, down = np.cos(turn) / pixels, np.sin(turn) / pixels
    middle = cells / 2
    way = (
        across,
        down,
        middle - across * wide / 2 - down * tall / 2,
        -down,
        across,
        middle + down * wide / 2 - across * tall / 2,
    )
    drawn = coarse.transform((wide, tall), Image.Transform.AFFINE, way, Image.Resampling.BICUBIC)
    return np.array(drawn, np.float32)
