"""Symptom -> how it is drawn."""

from collections.abc import Callable

from diagnose.teaching.drawn import Looks
from diagnose.teaching.pictures import film, finishing, spots, spread, strokes, tone
from diagnose.teaching.pictures.pen import Pen, blob, path
from diagnose.teaching.pictures.places import angle, points
from diagnose.teaching.pictures.sheet import Sheet, soft
from diagnose.teaching.pictures.toning import ink

Way = Callable[[Sheet, Looks], None]

WAYS: dict[str, Way] = {
    "blank-plate": tone.blank_plate,
    "blue-green-stain": finishing.blue_green_stain,
    "blue-lights": tone.blue_lights,
    "comets": strokes.comets,
    "corner-streaks": strokes.corner_streaks,
    "crapy-film": film.crapy_film,
    "crystal-marks": strokes.crystal_marks,
    "dark-picture": tone.dark_picture,
    "dead-edge": spread.dead_edge,
    "developer-repelled": spread.developer_repelled,
    "developer-streaks": spread.developer_streaks,
    "diagonal-streaks": strokes.diagonal_streaks,
    "dip-streaks": strokes.dip_streaks,
    "drying-haze": finishing.drying_haze,
    "drying-marks": spread.drying_marks,
    "dull-whites": tone.dull_whites,
    "eaten-film": film.eaten_film,
    "eaten-picture": finishing.eaten_picture,
    "edge-streaks": strokes.edge_streaks,
    "fades-later": finishing.fades_later,
    "film-lifting": film.film_lifting,
    "flat-picture": tone.flat_picture,
    "fog": tone.fog,
    "ghost-marks": tone.ghost_marks,
    "grainy-deposit": tone.grainy_deposit,
    "greasy-film": strokes.greasy_film,
    "hard-picture": tone.hard_picture,
    "line-across": strokes.line_across,
    "local-fog": spread.local_fog,
    "milky-film": film.milky_film,
    "milky-rinse": film.milky_rinse,
    "mirror-under-film": tone.mirror_under_film,
    "oyster-shell-marks": spread.oyster_shells,
    "pinholes": spots.pinholes,
    "pour-spot": spread.pour_spot,
    "rainbow-film": film.rainbow_film,
    "round-marks": spots.round_marks,
    "sanded-film": film.sanded_film,
    "scratches": strokes.scratches,
    "scum-on-film": film.scum_on_film,
    "soft-torn-film": film.soft_torn_film,
    "specks": spots.specks,
    "splash-stains": spread.splash_stains,
    "subject-spots": spots.subject_spots,
    "surface-veil": tone.surface_veil,
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
            tone.fog(sheet, looks)
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
