"""A file of entries in JSON."""

import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from diagnose.daybook.exchange_problems import Place
from diagnose.errors import BookError
from diagnose.plate import shown

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\],:]|[^\s{}\[\],:"]+', re.DOTALL)
_NO_NUMBERS = frozenset({"NaN", "Infinity", "-Infinity"})
_MOST_FIGURES = 4000  # a little under what Python reads


def write_json(tables: Iterable[Mapping[str, Any]], form: int) -> str:
    """Tables as JSON, an entry a line, so that two files can be compared line by line.

    Args:
        tables: entries
        form: the number of the form they are written in
    """
    lines = ",\n".join(f"  {json.dumps(table, ensure_ascii=False, allow_nan=False)}" for table in tables)
    return (
        f'{{\n "daybook": {form},\n "entries": [\n{lines}\n ]\n}}\n'
        if lines
        else f'{{"daybook": {form}, "entries": []}}\n'
    )


def read_json(text: str) -> tuple[Any, Callable[[Sequence[Place]], list[int]]]:
    """What a JSON file says, and how to find its lines.

    Args:
        text: the file

    Raises:
        BookError: it is not JSON
    """
    try:
        told = json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        raise BookError(f"line {error.lineno}: this is not JSON: {shown(error.msg)}; nothing was taken in") from None
    except RecursionError:
        raise BookError("this is no daybook: tables lie in tables without end; nothing was taken in") from None
    except _TwiceError as error:
        raise BookError(
            f"line {_line_of_twice(text)}, {shown(str(error))}: it stands there twice; keep one; nothing was taken in"
        ) from None
    except ValueError as error:
        words = "a number that cannot be kept"
        raise BookError(f"line {_line_of_odd(text)}, {words}: {shown(str(error))}; nothing was taken in") from None
    return told, lambda places: json_lines(text, places)


def json_lines(text: str, places: Sequence[Place]) -> list[int]:
    r"""The lines on which values stand, or the nearest things around them.

    Args:
        text: sound JSON
        places: keys and list positions

    >>> json_lines('{"a": 1,\n "b": [2,\n 3]}', [("b", 1), ("b", 9), ("c",)])
    [3, 2, 1]
    """
    wanted = {place[:length] for place in places for length in range(1, len(place) + 1)}
    found: dict[Place, int] = {(): 1}
    for path, line in _walk(text):
        if path in wanted and path not in found:
            found[path] = line
            if len(found) > len(wanted):
                break
    return [next(found[p[:n]] for n in range(len(p), -1, -1) if p[:n] in found) for p in places]


def _walk(text: str) -> Iterator[tuple[Place, int]]:
    """Every key and every item of a list, with its line."""
    path: list[str | int] = []
    inside: list[str] = []
    line, seen, key_next = 1, 0, False
    for token in _TOKEN.finditer(text):
        letters = token[0]
        line += text.count("\n", seen, token.start())
        seen = token.start()
        if letters in {"}", "]"}:
            inside.pop()
            path.pop()
        elif letters == ",":
            key_next = inside[-1] == "{"
            if not key_next:
                path[-1] = int(path[-1]) + 1
        elif key_next:
            path[-1] = json.loads(letters)
            key_next = False
            yield tuple(path), line
        elif letters != ":":
            if inside and inside[-1] == "[":
                yield tuple(path), line
            if letters in {"{", "["}:
                inside.append(letters)
                path.append("" if letters == "{" else 0)
                key_next = letters == "{"


def _line_of_twice(text: str) -> int:
    """The line of the first key that stands twice in its table."""
    seen: set[Place] = set()
    for path, line in _walk(text):
        if path in seen:
            return line
        seen.add(path)
    return 1


def _line_of_odd(text: str) -> int:
    """The line of the first number that is none, or has thousands of figures."""
    for token in _TOKEN.finditer(text):
        if token[0] in _NO_NUMBERS or (token[0][0] in "-0123456789" and len(token[0]) > _MOST_FIGURES):
            return text.count("\n", 0, token.start()) + 1
    return 1


class _TwiceError(ValueError):
    """A key stands twice in one table."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    table = dict(pairs)
    if len(table) < len(pairs):
        keys = [key for key, _ in pairs]
        raise _TwiceError(next(key for position, key in enumerate(keys) if key in keys[:position]))
    return table


def _no_constant(word: str) -> Any:
    raise ValueError(word)
