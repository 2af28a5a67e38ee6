"""Lines, dots and shapes with smooth edges, in plate widths."""

import math
from collections.abc import Sequence

import numpy as np
from PIL import Image, ImageDraw

from diagnose.teaching.pictures.sheet import TALL, Chance, Grey, Point

FINER = 2  # drawn so many times larger, then made smaller: that smooths the edges


class Pen:
    """Draws shapes into one mask.

    Args:
        wide: width of the plate [pixels]
    """

    def __init__(self, wide: int) -> None:
        self.wide = wide
        self.size = wide * FINER
        self.image = Image.new("L", (self.size, round(wide * TALL) * FINER))
        self.hand = ImageDraw.Draw(self.image)

    def mask(self) -> Grey:
        """What was drawn, 0 to 1."""
        return (np.asarray(self.image.reduce(FINER), np.float32) / 255).astype(np.float32)

    def dot(self, at: Point, radius: float, ink: float = 1.0) -> None:
        """A round dot.

        Args:
            at: its middle [plate widths]
            radius: [plate widths]
            ink: 0 to 1
        """
        self.oval(at, radius, radius, ink)

    def oval(self, at: Point, across: float, down: float, ink: float = 1.0) -> None:
        """An oval.

        Args:
            at: its middle [plate widths]
            across: half its width [plate widths]
            down: half its height [plate widths]
            ink: 0 to 1
        """
        x, y = at[0] * self.size, at[1] * self.size
        across, down = across * self.size, down * self.size
        self.hand.ellipse((x - across, y - down, x + across, y + down), fill=round(255 * ink))

    def shape(self, points: Sequence[Point], ink: float = 1.0) -> None:
        """A filled shape.

        Args:
            points: its corners [plate widths]
            ink: 0 to 1
        """
        self.hand.polygon([(x * self.size, y * self.size) for x, y in points], fill=round(255 * ink))

    def line(self, points: Sequence[Point], width: float, ink: float = 1.0) -> None:
        """A line of even width.

        Args:
            points: what it runs through [plate widths]
            width: [plate widths]
            ink: 0 to 1
        """
        self.hand.line(
            [(x * self.size, y * self.size) for x, y in points],
            fill=round(255 * ink),
            width=max(1, round(width * self.size)),
            joint="curve",
        )

    def taper(self, points: Sequence[Point], start: float, end: float = 0.0, ink: float = 1.0) -> None:
        """A stroke that grows narrower.

        Args:
            points: what it runs through [plate widths]
            start: width at the first point [plate widths]
            end: width at the last point [plate widths]
            ink: 0 to 1
        """
        left, right = [], []
        last = len(points) - 1
        for number, (x, y) in enumerate(points):
            before, after = points[max(0, number - 1)], points[min(last, number + 1)]
            along = math.atan2(after[1] - before[1], after[0] - before[0])
            half = (start + (end - start) * number / last) / 2
            left.append((x - math.sin(along) * half, y + math.cos(along) * half))
            right.append((x + math.sin(along) * half, y - math.cos(along) * half))
        self.shape(left + right[::-1], ink)


def path(start: Point, angle: float, length: float, bend: float = 0.0, parts: int = 12) -> list[Point]:
    """Points along a straight or evenly bent way.

    Args:
        start: where it begins [plate widths]
        angle: which way it sets out [radians, clockwise from the right]
        length: [plate widths]
        bend: how much it has turned at its end [radians]
        parts: how many pieces
    """
    points = [start]
    x, y = start
    for number in range(parts):
        turned = angle + bend * (number + 0.5) / parts
        x += math.cos(turned) * length / parts
        y += math.sin(turned) * length / parts
        points.append((x, y))
    return points


def wriggling(start: Point, angle: float, length: float, wild: float, chance: Chance, parts: int = 14) -> list[Point]:
    """Points along a way that turns by chance.

    Args:
        start: where it begins [plate widths]
        angle: which way it sets out [radians]
        length: [plate widths]
        wild: how much it may turn at each piece [radians]
        chance: what varies
        parts: how many pieces
    """
    points = [start]
    x, y = start
    for turn in chance.uniform(-wild, wild, parts):
        angle += float(turn)
        x += math.cos(angle) * length / parts
        y += math.sin(angle) * length / parts
        points.append((x, y))
    return points


def blob(at: Point, radius: float, rough: float, chance: Chance, parts: int = 28) -> list[Point]:
    """The border of an uneven patch.

    Args:
        at: its middle [plate widths]
        radius: [plate widths]
        rough: how uneven, 0 is round
        chance: what varies
        parts: how many corners
    """
    turns = np.linspace(0, 2 * math.pi, parts, endpoint=False)
    far = np.ones(parts)
    for wave in range(2, 6):
        far += rough / wave * chance.normal() * np.sin(wave * turns + chance.uniform(0, 2 * math.pi))
    far = np.maximum(far, 0.25) * radius
    return [(at[0] + float(r * math.cos(t)), at[1] + float(r * math.sin(t))) for r, t in zip(far, turns, strict=True)]
