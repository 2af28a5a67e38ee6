"""Symptom -> how it is drawn."""

from collections.abc import Callable

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures import (
    bared,
    developing,
    film,
    finishing,
    shells,
    spots,
    streaks,
    strokes,
    tone,
    torn,
    veils,
)
from diagnose.teaching.pictures.maps import soft
from diagnose.teaching.pictures.pen import Pen, blob, path
from diagnose.teaching.pictures.places import angle, points
from diagnose.teaching.pictures.sheet import Sheet
from diagnose.teaching.pictures.toning import ink

Way = Callable[[Sheet, Looks], None]

WAYS: dict[str, Way] = {
    "blank-plate": tone.blank_plate,
    "blue-green-stain": finishing.blue_green_stain,
    "blue-lights": tone.blue_lights,
    "comets": strokes.comets,
    "corner-streaks": streaks.corner_streaks,
    "crapy-film": film.crapy_film,
    "crystal-marks": strokes.crystal_marks,
    "dark-picture": tone.dark_picture,
    "dead-edge": bared.dead_edge,
    "developer-repelled": developing.developer_repelled,
    "developer-streaks": developing.developer_streaks,
    "diagonal-streaks": streaks.diagonal_streaks,
    "dip-streaks": streaks.dip_streaks,
    "drying-haze": finishing.drying_haze,
    "drying-marks": bared.drying_marks,
    "dull-whites": tone.dull_whites,
    "eaten-film": torn.eaten_film,
    "eaten-picture": finishing.eaten_picture,
    "edge-streaks": streaks.edge_streaks,
    "fades-later": finishing.fades_later,
    "film-lifting": torn.film_lifting,
    "flat-picture": tone.flat_picture,
    "fog": veils.fog,
    "ghost-marks": veils.ghost_marks,
    "grainy-deposit": veils.grainy_deposit,
    "greasy-film": developing.greasy_film,
    "hard-picture": tone.hard_picture,
    "line-across": streaks.line_across,
    "local-fog": bared.local_fog,
    "milky-film": film.milky_film,
    "milky-rinse": film.milky_rinse,
    "mirror-under-film": veils.mirror_under_film,
    "oyster-shell-marks": shells.oyster_shells,
    "pinholes": spots.pinholes,
    "pour-spot": developing.pour_spot,
    "rainbow-film": torn.rainbow_film,
    "round-marks": spots.round_marks,
    "sanded-film": film.sanded_film,
    "scratches": strokes.scratches,
    "scum-on-film": film.scum_on_film,
    "soft-torn-film": torn.soft_torn_film,
    "specks": spots.specks,
    "splash-stains": shells.splash_stains,
    "subject-spots": spots.subject_spots,
    "surface-veil": veils.surface_veil,
    "thin-blue-film": film.thin_blue_film,
    "uneven-film": film.uneven_film,
    "uneven-tone": tone.uneven_tone,
    "unsharp": tone.unsharp,
    "varnish-bloom": finishing.varnish_bloom,
    "varnish-cracks": finishing.varnish_cracks,
    "varnish-darkens": finishing.varnish_darkens,
    "varnish-dissolves": finishing.varnish_dissolves,
    "varnish-ridges": finishing.varnish_ridges,
    "weak-picture": tone.weak_picture,
    "worm-lines": strokes.worm_lines,
    "yellow-left": finishing.yellow_left,
}


def generic(family: str) -> Way:
    """A stand-in for a symptom without a drawing of its own, by the family it belongs to.

    Args:
        family: the knowledge's family: "tone", "spots", "marks", "film", "finishing" or any other
    """

    def stand_in(sheet: Sheet, looks: Looks) -> None:
        pen = Pen(sheet.wide)
        common = sheet.between(0, 3.14)
        if family == "tone":
            veils.fog(sheet, looks)
            return
        if family == "spots":
            for at in points(sheet, looks.place, sheet.many(14, 20), 0.06):
                pen.dot(at, 0.014)
        elif family == "marks" or looks.direction != "none":
            for at in points(sheet, looks.place, sheet.many(9, 12), 0.09):
                bend = 1.4 if looks.direction == "curved" else 0.0
                pen.line(path(at, angle(sheet, looks.direction, at, common), 0.2, bend), 0.014)
        else:
            for at in points(sheet, looks.place, sheet.many(5, 7), 0.14):
                pen.shape(blob(at, sheet.between(0.05, 0.08), 0.3, sheet.chance))
        ink(sheet, soft(pen.mask(), 0.002), looks.colour or "grey", 0.9)

    return stand_in
