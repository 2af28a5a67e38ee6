"""What a symptom looks like: in words, and drawn where the drawing libraries are installed."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from diagnose.entries.knowledge import Knowledge
from diagnose.errors import DiagnoseError, PicturesMissing, near
from diagnose.teaching.drawn import STAGES, SUBJECTS, Looks, looks_of, subject_of, what_is_drawn

if TYPE_CHECKING:  # numpy and Pillow are loaded when something is drawn
    from diagnose.teaching.pictures.drawing import Drawing

Dot = tuple[int, int, int]
SUPPORTS = ("metal", "glass")
LEAST_WIDE, MOST_WIDE = 64, 2400


def pictures_can_be_drawn() -> bool:
    """Whether the drawing libraries are installed; does not load them."""
    from importlib.util import find_spec

    return all(find_spec(name) is not None for name in ("numpy", "PIL"))


def draw(
    symptom: str,
    looks: Mapping[str, str],
    seed: int,
    *,
    support: str = "metal",
    wide: int = 480,
    strong: float = 1.0,
    family: str = "",
    without: bool = False,
) -> "Drawing":
    """Draw a plate with a symptom.

    Args:
        symptom: its name in the knowledge; one without a drawing of its own gets a plain stand-in that says so
        looks: attribute -> value; what is not told is drawn as is usual
        seed: the same seed gives the same pixels
        support: "metal", or "glass" for any clear plate backed with black
        wide: width [pixels]
        strong: how strong the fault is: 1 is ordinary, 0.5 slight, 1.5 heavy
        family: the symptom's family in the knowledge, used for a stand-in
        without: draw the same plate without the fault

    Returns:
        the drawing, labelled as one, with its words

    Raises:
        PicturesMissing: the drawing libraries are not installed
        DiagnoseError: a size or a strength that cannot be drawn
    """
    if not LEAST_WIDE <= wide <= MOST_WIDE:
        raise DiagnoseError(f"a drawing cannot be {wide} pixels wide -> choose {LEAST_WIDE} to {MOST_WIDE}")
    if not 0.25 <= strong <= 2:
        raise DiagnoseError(f"a fault cannot be drawn {strong:g} times as strong as usual -> choose 0.25 to 2")
    if not pictures_can_be_drawn():
        raise PicturesMissing("drawings need two more libraries; pip install numpy pillow")
    from diagnose.teaching.pictures.drawing import make

    support = support if support in SUPPORTS else "glass"
    drawn = looks_of(symptom, looks, seed)
    words = without_in_words(symptom, support) if without else in_words(symptom, drawn, support)
    return make(
        symptom,
        drawn,
        abs(seed),
        words,
        support=support,
        wide=wide,
        strong=strong,
        family=family,
        sound=without,
    )


def in_words(symptom: str, looks: Looks, support: str) -> str:
    """The words that go with one drawing.

    Args:
        symptom: its name
        looks: how it looks in this drawing
        support: "metal" or "glass"
    """
    seen = what_is_drawn(symptom, looks)
    return f"{_head(symptom, support)} Seen: {seen}."


def without_in_words(symptom: str, support: str) -> str:
    """The words that go with the same plate without its fault.

    Args:
        symptom: the fault that is left out
        support: "metal" or "glass"
    """
    return f"{_head(symptom, support)} No fault."


def _head(symptom: str, support: str) -> str:
    """What kind of plate is drawn."""
    plate = "dark lacquered metal" if support == "metal" else "clear glass backed with black"
    return f"Drawing, not a photograph: {STAGES[subject_of(symptom).stage]} on {plate}, with a made-up sitter."


def words_of(symptom: str, looks: Mapping[str, str], knowledge: Knowledge) -> str:
    """What a symptom looks like, in words alone.

    Args:
        symptom: its name
        looks: attribute -> value, as told or asked for
        knowledge: all entries

    Raises:
        DiagnoseError: the knowledge has no such symptom
    """
    entry = knowledge.symptoms.get(symptom)
    if entry is None:
        hint = near(symptom, knowledge.symptoms)
        raise DiagnoseError(f"no symptom is called {symptom!r}" + (f" -> {hint}" if hint else ""))
    told = []
    for name, value in looks.items():
        attribute = knowledge.attributes.get(name)
        if attribute is not None and value in attribute.values and value != "none":
            told.append(attribute.values[value])
    more = f" Here: {'; '.join(told)}." if told else ""
    drawn = f" On a plate: {subject_of(symptom).shows}." if symptom in SUBJECTS else ""
    return f"{entry.title}. {entry.look}.{more}{drawn}"


def half_blocks(drawing: "Drawing", columns: int) -> list[list[tuple[Dot, Dot]]]:
    """The plate as rows of half-blocks for a terminal: each letter cell holds an upper and a lower colour.

    Args:
        drawing: what to show
        columns: how many letters wide

    Returns:
        rows of (upper, lower), each red, green, blue [0 to 255]
    """
    upper, lower, left, right = drawing.plate
    columns = max(4, columns)
    rows = max(2, round(columns * (lower - upper) / (right - left) / 2))
    pixels = drawing.scaled(columns, rows * 2).tolist()
    return [
        [(tuple(above), tuple(below)) for above, below in zip(pixels[2 * row], pixels[2 * row + 1], strict=True)]
        for row in range(rows)
    ]
