"""Letters that a terminal or a file cannot hold: the nearest one is printed instead of failing."""

import codecs
import sys
import unicodedata

NEAREST = {
    "“": '"',
    "”": '"',
    "„": '"',
    "‘": "'",
    "’": "'",
    "–": "-",
    "—": "-",
    "−": "-",
    "·": ";",
    "•": "-",
    "×": "x",
    "°": "",  # "28 C" is read as "28 °C" is
    "…": "...",
    "≥": ">=",
    "≤": "<=",
}


def print_anywhere() -> None:
    """Where the terminal or the file cannot hold a letter, print the nearest one instead of failing."""
    codecs.register_error("nearest", _nearest)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="nearest")


def _nearest(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    letters = error.object[error.start : error.end]
    return "".join(map(_nearest_letter, letters)), error.end


def _nearest_letter(letter: str) -> str:
    near = NEAREST.get(letter)
    if near is None:
        near = unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode() or "?"
    return near


def print_json(value: object, *, indent: int | None = 2) -> None:
    """A value as JSON on the standard output, in the letters that it takes.

    Args:
        value: plain tables, lists, texts and numbers
        indent: blanks a level; None for one line
    """
    import json

    utf8 = (sys.stdout.encoding or "utf-8").casefold().startswith("utf")
    print(json.dumps(value, indent=indent, ensure_ascii=not utf8))  # noqa: T201
