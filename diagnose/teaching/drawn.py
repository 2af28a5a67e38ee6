"""What is drawn for each symptom, in words; needs no drawing library."""

from collections.abc import Mapping
from dataclasses import dataclass

WHOLE = "whole-plate"


@dataclass(frozen=True)
class Subject:
    """What the drawing of a symptom shows, and its usual looks where none are told.

    Args:
        shows: what one sees, as the blind are told
        stage: what one looks at: "finished", "film" (before the developer), "coated" or "developing"
        place: usual places; the seed takes one
        direction: usual directions
        colour: usual colours
        depth: usual depths
    """

    shows: str
    stage: str = "finished"
    place: tuple[str, ...] = (WHOLE,)
    direction: tuple[str, ...] = ("none",)
    colour: tuple[str, ...] = ("",)
    depth: tuple[str, ...] = ("",)


@dataclass(frozen=True)
class Looks:
    """How a symptom looks in one drawing; an empty word where it has no such look."""

    place: str = WHOLE
    direction: str = "none"
    colour: str = ""
    depth: str = ""


DARK_PLACES = ("lower-part", "drain-corner", "hold-corner")
STAGES = {
    "finished": "the finished plate",
    "film": "the film before the developer, the sitter only dotted in",
    "coated": "the collodion just coated, the sitter only dotted in",
    "developing": "the plate in the developer, not yet fixed",
}
PLACES = {
    "whole-plate": "over the whole plate",
    "scattered": "here and there",
    "middle": "in the middle",
    "all-edges": "in from all edges",
    "upper-part": "in the upper part, which stood highest in the holder",
    "lower-part": "in the lower part, which stood lowest in the holder",
    "drain-corner": "by the lower right corner, where the collodion drained off",
    "hold-corner": "by the lower left corner, where the plate was held",
    "pour-point": "at the upper left, where the developer landed",
    "one-side": "along one side",
}
DIRECTIONS = {
    "along-dip": "running up and down, the way of the dip",
    "across-dip": "running straight across",
    "diagonal": "running aslant from the upper left to the lower right, the way the collodion drained",
    "inward": "running inward from the edge",
    "curved": "running in curves",
    "one-way": "all pointing one way",
    "from-corner": "running out from the lower right corner",
}
COLOURS = {
    "white": "white or cream",
    "grey": "grey",
    "black": "black",
    "brown": "brown",
    "yellow": "yellow",
    "blue": "bluish",
    "green": "green",
    "silvery": "silvery",
    "clear": "clear, so that the dark plate shows",
}
DEPTHS = {
    "on-surface": "lying on top of the film",
    "in-film": "in the film itself",
    "under-film": "under the film, veiled by the picture",
}
GENERIC = Subject(
    "a stand-in drawing: this symptom has no drawing of its own yet, so plain patches are drawn where and as its words say",
    colour=("grey",),
)

SUBJECTS: dict[str, Subject] = {
    # the film
    "greasy-film": Subject(
        "wavy tears and rivulets of silver solution that end in drops, the film between them dull", "film"
    ),
    "thin-blue-film": Subject(
        "the film is clear and bluish, the dark plate shows through where it should be creamy", "film"
    ),
    "uneven-film": Subject(
        "broad ridges and furrows in the coating, thick and thin",
        "film",
        direction=("diagonal", "curved", "none"),
    ),
    "diagonal-streaks": Subject("some forty fine parallel lines across the whole picture", direction=("diagonal",)),
    "crapy-film": Subject("a net of small meshes all over the film, like crape or honeycomb", "film"),
    "film-lifting": Subject(
        "the film has drawn back in frills, the bare dark plate shows, and its border is puckered and curled up",
        place=("all-edges", "one-side", "drain-corner"),
    ),
    "soft-torn-film": Subject(
        "ragged tears with the torn film pushed into light folds beside them",
        place=("scattered", "drain-corner", "middle"),
    ),
    "sanded-film": Subject("the whole film is strewn with fine grains, like sand or flour", "film"),
    "scum-on-film": Subject(
        "torn sheets of a brownish skin with wrinkles lie on the film", "film", place=("scattered", WHOLE)
    ),
    "milky-film": Subject("whitish, milky clouds in collodion that should be clear", "coated"),
    "eaten-film": Subject("round-edged thin places and holes in the film, as if moths had been at it", "film"),
    "rainbow-film": Subject("rainbow-coloured bands, long cracks, and pieces of film gone from the plate"),
    # spots
    "pinholes": Subject("very many tiny black dots, each no larger than a needle's prick", place=(WHOLE, "scattered")),
    "specks": Subject(
        "a couple of dozen separate specks, each with a grain in its middle",
        place=("scattered",),
        colour=("white", "black"),
    ),
    "round-marks": Subject(
        "a few large round marks, each with a sharp ring for an edge",
        place=("scattered", "middle"),
        colour=("grey", "white", "black"),
    ),
    "subject-spots": Subject("freckles, cheeks and lips too dark, on the face only; the rest of the plate is sound"),
    # marks
    "comets": Subject(
        "a dozen specks with narrowing tails, like comets",
        place=("scattered", WHOLE),
        direction=("one-way", "diagonal"),
        colour=("black", "white"),
    ),
    "worm-lines": Subject("short lines that wriggle like worms, light and dark, lying every way"),
    "oyster-shell-marks": Subject(
        "wavy bands like the layers of an oyster shell, growing in from the edge",
        place=("all-edges", "lower-part", "one-side"),
        colour=("silvery", "grey"),
    ),
    "splash-stains": Subject(
        "stains shaped like a splash, with fingers and drops",
        place=("drain-corner",),
        direction=("from-corner", "inward"),
        colour=("yellow", "white"),
    ),
    "line-across": Subject("sharp straight lines from side to side, the picture a step lighter on one side of them"),
    "dip-streaks": Subject(
        "straight streaks up and down the plate", direction=("along-dip",), colour=("grey", "white")
    ),
    "developer-streaks": Subject(
        "bands with a sharp border on one side and a soft one on the other, where the developer stopped or ran",
        direction=("curved",),
        colour=("black", "grey"),
    ),
    "pour-spot": Subject("one bare dark patch with a lighter glow round it", place=("pour-point",)),
    "developer-repelled": Subject(
        "the developer stands in drops and rivers; a picture comes only where it lies, the rest stays creamy",
        "developing",
    ),
    "corner-streaks": Subject(
        "streaks spreading like a fan from the corner held, with finger marks",
        place=("hold-corner",),
        colour=("grey", "white"),
    ),
    "dead-edge": Subject(
        "a margin without any picture, clear and dark to a definite border", place=("one-side", "all-edges")
    ),
    "drying-marks": Subject(
        "dull patches with a hard outline, like a map or the teeth of a comb",
        place=("upper-part", "all-edges", "one-side"),
    ),
    "crystal-marks": Subject("straight needles, crosses and stars, like frost"),
    "local-fog": Subject(
        "a light wedge with soft borders, widening from the edge into the picture", place=("one-side", "upper-part")
    ),
    "scratches": Subject("a few long fine lines and one rubbed place of many short lines", depth=("in-film",)),
    "edge-streaks": Subject(
        "spots sitting on the cut edge, each with a fine streak running inward at right angles to the edge",
        place=("all-edges", "one-side"),
        direction=("inward",),
        colour=("black", "white"),
    ),
    "milky-rinse": Subject(
        "white curdled clouds with flocks in the film where water has touched it", "film", place=("scattered",)
    ),
    # tone
    "fog": Subject(
        "a veil over everything: the deepest shadows are grey, the lights unchanged", colour=("grey", "white")
    ),
    "surface-veil": Subject(
        "a powdery veil over everything, wiped away in one stroke under which the picture is clear"
    ),
    "dark-picture": Subject("only the highest lights show; coat and ground are empty black"),
    "flat-picture": Subject("light everywhere: the face is chalky, the coat is grey, and there is little contrast"),
    "hard-picture": Subject("only black and white with hard borders, no half-tones"),
    "weak-picture": Subject("all the detail is there, but the lights are thin and dark"),
    "blank-plate": Subject("no picture and no veil: the bare dark plate"),
    "slow-plate": Subject("two small plates with the same exposure: an earlier one is right, today's is too dark"),
    "flashes-up": Subject(
        "three small plates: after one second in the developer the whole picture stands, then it veils over"
    ),
    "comes-late": Subject(
        "three small plates: after the usual seconds there is nothing, after a minute a faint picture"
    ),
    "blue-lights": Subject("the lights are slaty blue, and the brightest have turned dark"),
    "dull-whites": Subject(
        "the lights are dull and coloured instead of creamy; the darks are sound", colour=("brown", "grey")
    ),
    "uneven-tone": Subject("large patches of the picture are far lighter or darker than their neighbours"),
    "grainy-deposit": Subject("grey grains lie in heaps on the picture"),
    "mirror-under-film": Subject("mirror-like patches of metal with a bright shine, lying under the film"),
    "ghost-marks": Subject(
        "a faint second sitter, upside down, and wiping arcs show under the picture", depth=("under-film",)
    ),
    "unsharp": Subject("the picture is blurred", direction=("none", "one-way")),
    # fixing to varnish
    "yellow-left": Subject("creamy yellow patches that hide the picture", place=("scattered", WHOLE, "drain-corner")),
    "blue-green-stain": Subject("blue and green stains, strongest in the shadows"),
    "eaten-picture": Subject("the half-tones are eaten into ragged islands; only the densest lights are left whole"),
    "drying-haze": Subject(
        "a chalky haze and dried drops with white rims",
        place=("lower-part", WHOLE, "scattered"),
    ),
    "fades-later": Subject(
        "the picture is faded and yellowed, most from the edges, with rusty spots and small crystals"
    ),
    "varnish-bloom": Subject("a milky white cloudiness over the picture that dulls lights and darks alike"),
    "varnish-ridges": Subject(
        "shining waves of thick varnish, light on one flank and dark on the other", direction=("diagonal", "curved")
    ),
    "varnish-dissolves": Subject("the lower part of the picture slides and smears in wrinkles towards the corner"),
    "varnish-cracks": Subject("a network of dark cracks over the whole picture, with flakes gone"),
    "varnish-darkens": Subject("the half already varnished is several tones darker, to the border of the varnish"),
}


def subject_of(symptom: str) -> Subject:
    """What is drawn for a symptom.

    Args:
        symptom: its name; one that is not known here gets a stand-in
    """
    return SUBJECTS.get(symptom, GENERIC)


def looks_of(symptom: str, told: Mapping[str, str], seed: int) -> Looks:
    """How a symptom looks in one drawing: as told, and as is usual where nothing is told.

    Args:
        symptom: its name
        told: attribute -> value
        seed: of the drawing
    """
    subject = subject_of(symptom)
    place = told.get("place", "")
    colours = subject.colour
    if place in DARK_PLACES and len(colours) > 1:  # black marks would not be seen on the sitter's dark coat
        colours = tuple(colour for colour in colours if colour != "black") or colours

    def one(name: str, usual: tuple[str, ...], known: Mapping[str, str]) -> str:
        wanted = told.get(name, "")
        return wanted if wanted in known else usual[seed % len(usual)]

    return Looks(
        one("place", subject.place, PLACES),
        one("direction", subject.direction, {**DIRECTIONS, "none": ""}),
        one("colour", colours, COLOURS),
        one("depth", subject.depth, DEPTHS),
    )


def what_is_drawn(symptom: str, looks: Looks) -> str:
    """The words for one drawing.

    Args:
        symptom: its name
        looks: how it looks in this drawing
    """
    subject = subject_of(symptom)
    parts = [
        subject.shows,
        PLACES[looks.place] if looks.place != WHOLE or len(subject.place) > 1 else "",
        DIRECTIONS.get(looks.direction, ""),
        COLOURS.get(looks.colour, ""),
        DEPTHS.get(looks.depth, ""),
    ]
    return ", ".join(part for part in parts if part)
