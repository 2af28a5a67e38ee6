"""Which line of a TOML file a value stands on; the standard reader does not say."""

import re
from collections.abc import Sequence

Path = tuple[str | int, ...]

_HEADER = re.compile(r"^\s*(\[\[?)\s*([A-Za-z0-9_.\-]+)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"^\s*([A-Za-z0-9_\-]+)\s*=")


def line_map(text: str) -> dict[Path, int]:
    r"""The line of every table and key.

    Args:
        text: a TOML file

    Returns:
        path of keys and list positions -> line number, from 1

    >>> line_map("a = 1\n[[b]]\nc = 2\n")[("b", 0, "c")]
    3
    """
    lines: dict[Path, int] = {(): 1}
    counts: dict[Path, int] = {}
    here: Path = ()
    for number, line in enumerate(text.split("\n"), start=1):
        if match := _HEADER.match(line):
            here = _table(match[2].split("."), counts, is_list=match[1] == "[[")
            lines.setdefault(here, number)
            if match[1] == "[[":
                lines.setdefault(here[:-1], number)  # the whole list stands where its first item does
        elif match := _KEY.match(line):
            lines.setdefault((*here, match[1]), number)
    return lines


def line_of(lines: dict[Path, int], path: Sequence[str | int]) -> int:
    """The line of a path, or of the nearest thing around it.

    Args:
        lines: from `line_map`
        path: keys and list positions
    """
    whole = tuple(path)
    return next(lines[whole[:length]] for length in range(len(whole), -1, -1) if whole[:length] in lines)


def _table(keys: list[str], counts: dict[Path, int], *, is_list: bool) -> Path:
    """The path of a table header; headers below a list belong to its latest item."""
    path: Path = ()
    for position, key in enumerate(keys):
        path = (*path, key)
        if is_list and position == len(keys) - 1:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path
