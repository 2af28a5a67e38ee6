"""Faults that show in time, not in one plate: small plates side by side, with and without the fault."""

from dataclasses import dataclass

import numpy as np

from diagnose.teaching.pictures.maps import clear
from diagnose.teaching.pictures.render import on_paper, toned
from diagnose.teaching.pictures.sheet import Colours, Grey, Sheet


@dataclass(frozen=True)
class Panel:
    """One small plate of a row.

    Args:
        words: under it
        come: how much of the picture has come, 0 to 1
        veil: how much veil lies over it, 0 to 1
    """

    words: str
    come: float
    veil: float = 0.0


# symptom -> the row with the fault, the row of a sound plate (times and amounts are judged)
ROWS: dict[str, tuple[tuple[Panel, ...], tuple[Panel, ...]]] = {
    "slow-plate": (
        (Panel("last week, 4 s", 1.0), Panel("today, 4 s", 0.3)),
        (Panel("last week, 4 s", 1.0), Panel("today, 4 s", 1.0)),
    ),
    "flashes-up": (
        (Panel("after 1 s", 1.0), Panel("after 5 s", 1.0, 0.35), Panel("after 15 s", 1.0, 0.65)),
        (Panel("after 1 s", 0.0), Panel("after 5 s", 0.45), Panel("after 15 s", 1.0)),
    ),
    "comes-late": (
        (Panel("after 5 s", 0.0), Panel("after 15 s", 0.06), Panel("after 60 s", 0.42)),
        (Panel("after 5 s", 0.45), Panel("after 15 s", 1.0), Panel("after 60 s", 1.0)),
    ),
}


def row(sheet: Sheet, symptom: str, *, sound: bool) -> Colours:
    """The small plates of a symptom.

    Args:
        sheet: the plate with its sitter
        symptom: one of ROWS
        sound: whether the row of a sound plate is wanted
    """
    faulty, right = ROWS[symptom]
    drift = sheet.between(-0.04, 0.04)
    panels = []
    for panel in right if sound else faulty:
        come = panel.come if panel.come in {0.0, 1.0} else float(np.clip(panel.come + drift, 0.02, 1))
        panels.append((toned(_come(sheet.silver, come, panel.veil), sheet.support), panel.words))
    return on_paper(panels, sheet.wide)


def _come(silver: Grey, come: float, veil: float) -> Grey:
    """A picture that has come in part: the lights first."""
    start = 0.6 * (1 - come)
    shown = clear((silver - start) / max(0.05, 1 - start)) * min(1.0, 2.5 * come) * (0.45 + 0.55 * come)
    return (shown + (0.8 - shown) * veil * (1 - shown)).astype(np.float32)
