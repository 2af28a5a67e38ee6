"""What can be measured in a drawn plate, against the same plate without the fault."""

from dataclasses import dataclass, fields

import numpy as np

WIDE = 140  # pixels of the plate at which it is measured
EDGE = 0.12  # plate widths: how far "the edge" reaches


@dataclass(frozen=True)
class Features:
    """Each from the difference of two drawings; distances in plate widths, tones from 0 (black) to 1 (white)."""

    changed: float  # part of the plate that differs plainly
    lighter: float  # how much of the difference is lighter: 1 all, -1 all of it darker
    shadows: float  # how much the darkest third was lifted
    lights: float  # how much the lightest third was lifted
    contrast: float  # spread of tones against the sound plate
    count: float  # separate marks, as a logarithm
    size: float  # the middle mark's width, as a logarithm
    elongation: float  # length of marks against their width, as a logarithm; the middle one
    common: float  # how far the lines have one direction: 1 all, 0 none
    upright: float  # 1: that direction is up and down, -1 across
    slant: float  # 1: it falls to the right, -1: it rises
    across: float  # centroid, 0 left, 1 right
    down: float  # centroid, 0 upper, 1 lower
    edge: float  # share of the difference near an edge, against an even spread
    face: float  # share of the difference on the sitter's face, against an even spread
    fineness: float  # how much of the difference is in fine detail
    sharpness: float  # fine detail of the plate against the sound one
    blue: float  # shift from yellow to blue
    green: float  # shift from magenta to green
    hues: float  # how many hues there are
    repeats: float  # how regularly the marks repeat

    def vector(self):
        return np.array([getattr(self, field.name) for field in fields(self)])


NAMES = [field.name for field in fields(Features)]
# how far two values must lie apart to be seen apart: judged by looking at pairs
SEEN = {
    "changed": 0.12, "lighter": 0.45, "shadows": 0.06, "lights": 0.08, "contrast": 0.15, "count": 0.7, "size": 0.5,
    "elongation": 0.35, "common": 0.18, "upright": 0.4, "slant": 0.4, "across": 0.12, "down": 0.12, "edge": 0.4,
    "face": 0.6, "fineness": 0.12, "sharpness": 0.25, "blue": 0.03, "green": 0.02, "hues": 0.06, "repeats": 0.2,
}  # fmt: skip


def plate_of(drawing):
    """The plate's pixels, 0 to 1."""
    return drawing.scaled(WIDE, round(WIDE * 1.25)).astype(np.float32) / 255


def features(faulty, sound):
    """Measure one drawing against the same plate without its fault."""
    seen, right = plate_of(faulty), plate_of(sound)
    grey, before = seen.mean(2), right.mean(2)
    step = grey - before
    colour = seen - right
    weight = np.abs(colour).max(2)
    total = float(weight.sum()) + 1e-6
    strong = weight > 0.06
    tall, wide = grey.shape
    rows, columns = np.mgrid[0:tall, 0:wide].astype(np.float32)
    near_edge = np.minimum.reduce([columns, wide - 1 - columns, rows, tall - 1 - rows]) < EDGE * wide
    x, y = columns / wide, rows / wide
    face = ((x - 0.5) / 0.16) ** 2 + ((y - 0.47) / 0.2) ** 2 < 1
    dark, light = before <= np.quantile(before, 1 / 3), before >= np.quantile(before, 2 / 3)
    marks = _marks(weight)
    common, angle = _direction(step)
    smooth = _smoothed(step, 4)
    spread = np.abs(step - smooth).sum() / (np.abs(step).sum() + 1e-6)
    opponent = seen[..., 2] - (seen[..., 0] + seen[..., 1]) / 2 - (right[..., 2] - (right[..., 0] + right[..., 1]) / 2)
    greens = seen[..., 1] - (seen[..., 0] + seen[..., 2]) / 2 - (right[..., 1] - (right[..., 0] + right[..., 2]) / 2)
    return Features(
        changed=float(strong.mean()),
        lighter=float(step.sum() / (np.abs(step).sum() + 1e-6)),
        shadows=float(step[dark].mean()),
        lights=float(step[light].mean()),
        contrast=float(grey.std() / (before.std() + 0.02)),
        count=float(np.log1p(len(marks))),
        size=float(np.log(max(0.002, np.median([m[0] for m in marks])))) if marks else -6.2,
        elongation=float(np.log(np.median([m[1] for m in marks]))) if marks else 0.0,
        common=common,
        upright=float(-np.cos(2 * angle) * common),
        slant=float(np.sin(2 * angle) * common),
        across=float((weight * columns).sum() / total / wide),
        down=float((weight * rows).sum() / total / tall),
        edge=float(weight[near_edge].sum() / total / near_edge.mean()),
        face=float(weight[face].sum() / total / face.mean()),
        fineness=float(spread),
        sharpness=float(_detail(grey) / (_detail(before) + 0.004)),
        blue=float(opponent.mean()),
        green=float(greens.mean()),
        hues=float(np.std(opponent) + np.std(greens)),
        repeats=_repeats(step, angle),
    )


def _smoothed(values, reach):
    """Mean over a square."""
    padded = np.pad(values, reach, mode="edge").cumsum(0).cumsum(1)
    padded = np.pad(padded, ((1, 0), (1, 0)))
    side = 2 * reach + 1
    total = padded[side:, side:] - padded[:-side, side:] - padded[side:, :-side] + padded[:-side, :-side]
    return total / side**2


def _detail(grey):
    return float(np.abs(np.diff(grey, axis=0)).mean() + np.abs(np.diff(grey, axis=1)).mean())


def _marks(weight):
    """Separate marks: width and length against width of each, [plate widths] and a ratio."""
    from scipy import ndimage

    labels, count = ndimage.label(weight > max(0.06, 0.3 * float(np.quantile(weight, 0.995))), np.ones((3, 3)))
    if not count:
        return []
    rows, columns = np.nonzero(labels)
    mark = labels[rows, columns] - 1
    area = np.bincount(mark).astype(float)

    def mean(values):
        return np.bincount(mark, values) / area

    y, x = mean(rows), mean(columns)
    yy, xx, xy = mean(rows**2) - y**2 + 1 / 12, mean(columns**2) - x**2 + 1 / 12, mean(rows * columns) - x * y
    spread = np.hypot((xx - yy) / 2, xy)
    long, short = (xx + yy) / 2 + spread, np.maximum((xx + yy) / 2 - spread, 1 / 12)
    real = area >= 2
    return list(zip(np.sqrt(area[real]) / weight.shape[1], np.sqrt(long[real] / short[real]), strict=True))


def _direction(step):
    """How far its lines share one direction, and which [radians, clockwise from the right]."""
    down, across = np.gradient(_smoothed(step, 1))
    xx, yy, xy = (across**2).sum(), (down**2).sum(), (across * down).sum()
    common = float(np.hypot(xx - yy, 2 * xy) / (xx + yy + 1e-9))
    return common, float(0.5 * np.arctan2(2 * xy, xx - yy) + np.pi / 2)


def _repeats(step, angle):
    """The tallest beat of the difference at right angles to its lines."""
    tall, wide = step.shape
    rows, columns = np.mgrid[0:tall, 0:wide]
    far = columns * np.sin(angle) - rows * np.cos(angle)
    bins = np.round(far - far.min()).astype(int)
    profile = np.bincount(bins.ravel(), step.ravel()) / np.maximum(1, np.bincount(bins.ravel()))
    profile = profile - profile.mean()
    power = np.abs(np.fft.rfft(profile * np.hanning(len(profile)))) ** 2
    power = power[4:]
    return float(power.max() / (power.sum() + 1e-9))
