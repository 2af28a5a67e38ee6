"""The plate that is drawn on: its silver, and what lies over the silver, in plate widths from the upper left corner."""

from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

Grey = NDArray[Any]  # rows of amounts, most often 0 to 1
Colours = NDArray[Any]  # rows of red, green, blue
Point = tuple[float, float]

TALL = 1.25  # plate widths: the plate is 4 by 5
Chance = np.random.Generator


@dataclass(frozen=True)
class Cover:
    """Something that lies over the picture.

    Args:
        mask: how much of it lies where, 0 to 1
        colour: red, green, blue [0 to 255], one for all or one for each pixel
    """

    mask: Grey
    colour: tuple[float, float, float] | Colours


@dataclass
class Sheet:
    """A plate being drawn.

    Args:
        wide: width of the plate [pixels]
        support: "metal" or "glass"
        stage: what one looks at: "finished", "film" (before the developer), "coated" or "developing"
        chance: what varies from seed to seed
        strong: how strong the fault is, 1 is ordinary
    """

    wide: int
    support: str
    stage: str
    chance: Chance
    strong: float = 1.0
    silver: Grey = field(init=False)
    face: Grey = field(init=False)
    outline: Grey = field(init=False)
    side: str = field(init=False)
    covers: list[Cover] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Which side "one side" is, decided once for the drawing."""
        self.side = "left" if self.chance.random() < 0.5 else "right"

    @property
    def tall(self) -> int:
        """Height of the plate [pixels]."""
        return round(self.wide * TALL)

    @property
    def x(self) -> Grey:
        """Distance of every pixel from the left edge [plate widths]."""
        return grid(self.wide)[0]

    @property
    def y(self) -> Grey:
        """Distance of every pixel from the upper edge [plate widths]."""
        return grid(self.wide)[1]

    def add(self, mask: Grey, towards: float) -> None:
        """Bring the silver towards an amount.

        Args:
            mask: how far, 0 to 1
            towards: 0 is the bare dark plate, 1 the densest light
        """
        self.silver = (self.silver + (towards - self.silver) * clear(mask)).astype(np.float32)

    def cover(self, mask: Grey, colour: tuple[float, float, float] | Colours) -> None:
        """Lay something over the picture.

        Args:
            mask: how much, 0 to 1
            colour: red, green, blue [0 to 255]
        """
        self.covers.append(Cover(clear(mask), colour))

    def many(self, least: int, most: int) -> int:
        """How many marks: more on a strong fault.

        Args:
            least: fewest
            most: most
        """
        return max(1, round(float(self.chance.integers(least, most + 1)) * self.strong))

    def between(self, least: float, most: float) -> float:
        """An amount by chance.

        Args:
            least: smallest
            most: largest
        """
        return float(self.chance.uniform(least, most))

    def noise(self, size: float, octaves: int = 1) -> Grey:
        """Soft clouds between about -1 and 1.

        Args:
            size: how far apart the clouds stand [plate widths]
            octaves: how many finer clouds are laid over them
        """
        total = np.zeros((self.tall, self.wide), np.float32)
        for octave in range(octaves):
            step = size / 2**octave
            rows, columns = max(2, round(TALL / step) + 2), max(2, round(1 / step) + 2)
            coarse = self.chance.uniform(-1, 1, (rows, columns)).astype(np.float32)
            total += resized(coarse, self.wide, self.tall) / 2**octave
        return total


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


def step(value: Grey, start: float, end: float) -> Grey:
    """0 before start, 1 after end, and softly between.

    Args:
        value: what is measured
        start: where it begins
        end: where it is whole; smaller than start for a falling step
    """
    part = clear((value - start) / (end - start))
    return (part * part * (3 - 2 * part)).astype(np.float32)


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
    return values[rows, columns]
