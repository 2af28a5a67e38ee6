"""A file of entries in TOML; the standard library reads it, and what we write is simple enough to write ourselves."""

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from diagnose.daybook.exchange_problems import Place
from diagnose.entries.lines import line_map, line_of
from diagnose.errors import BookError, printable
from diagnose.plate import shown

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LONG = re.compile(r'"""(?:\\.|[^\\])*?"""|\'\'\'.*?\'\'\'|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*', re.DOTALL)
_STRING = re.compile(r'"(?:\\.|[^"\\])*"')
# The reader of the standard library takes time with the square of the dots in a key: a line of a million would hang it.
MOST_DOTS = 200
_LINE = re.compile(r"\(at (?:line (\d+), column \d+|end of document)\)")


def write_toml(tables: Iterable[Mapping[str, Any]], form: int) -> str:
    """Tables as TOML.

    Args:
        tables: entries
        form: the number of the form they are written in
    """
    blocks = [f"daybook = {form}\n"]
    for table in tables:
        lines = [_line(name, value) for name, value in table.items() if value is not None]
        blocks.append("".join(["\n[[entries]]\n", *lines]))
    return "".join(blocks)


def read_toml(text: str) -> tuple[Any, Callable[[Sequence[Place]], list[int]]]:
    """What a TOML file says, and how to find its lines.

    Args:
        text: the file

    Raises:
        BookError: it is not TOML
    """
    import tomllib

    for number, line in enumerate(text.split("\n"), start=1):
        if line.count(".") > MOST_DOTS:
            raise BookError(
                f"line {number}: over {MOST_DOTS} full stops in one line; break it up; nothing was taken in"
            )
    try:
        told = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        words = str(error)
        found = _LINE.search(words)
        number = int(found[1]) if found and found[1] else text.count("\n") + 1
        what = printable(_LINE.sub("", words)).strip()[:100]
        raise BookError(f"line {number}: this is not TOML: {what}; nothing was taken in") from None
    except RecursionError:
        raise BookError("this is no daybook: tables lie in tables without end; nothing was taken in") from None
    except ValueError as error:
        raise BookError(f"there is a number that cannot be kept: {shown(str(error))}; nothing was taken in") from None
    return told, lambda places: toml_lines(text, places)


def toml_lines(text: str, places: Sequence[Place]) -> list[int]:
    """The lines on which values stand, or the nearest things around them.

    Args:
        text: sound TOML
        places: keys and list positions
    """
    lines = line_map(_LONG.sub(_emptied, text))
    return [line_of(lines, place) for place in places]


def _emptied(found: re.Match[str]) -> str:
    """A text over several lines without its words, which might look like the head of a table."""
    return "\n" * found[0].count("\n") if "\n" in found[0] else found[0]


def _line(name: str, value: Any) -> str:
    line = f"{_key(name)} = {_value(value)}\n"
    if line.count(".") > MOST_DOTS:  # in words: the full stop has another way to be written there
        line = _STRING.sub(lambda found: found[0].replace(".", "\\u002e"), line)
    return line


def _key(name: str) -> str:
    return name if _BARE.fullmatch(name) else _text(name)


def _value(value: Any) -> str:
    """A value on one line, tables and lists within it too."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, Mapping):
        inner = ", ".join(f"{_key(name)} = {_value(item)}" for name, item in value.items() if item is not None)
        return f"{{{inner}}}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    return repr(value)


def _text(words: str) -> str:
    """A text as TOML wants it: as in JSON, save that the sign for deleting is written out, too."""
    return json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")
