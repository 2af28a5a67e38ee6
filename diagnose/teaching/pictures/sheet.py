"""The plate that is drawn on: its silver, and what lies over the silver, in plate widths from the upper left corner."""

from dataclasses import dataclass, field

import numpy as np

from diagnose.teaching.pictures.maps import TALL, Colours, Grey, clear, clouds, grid

Point = tuple[float, float]

Chance = np.random.Generator

__all__ = ["TALL", "Chance", "Colours", "Cover", "Grey", "Point", "Sheet"]


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
        total = clouds(self.wide, self.tall, size, self.chance)
        for octave in range(1, octaves):
            total += clouds(self.wide, self.tall, size / 2**octave, self.chance) / 2**octave
        return total
