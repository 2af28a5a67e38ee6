"""Knowledge as one JSON text and back, without loading anything that checks: what was packed had been checked before.

A list is a tuple; an object with the single key "!" is one of our own entries: its class and its values in the order of its fields;
one with the single key "?" holds entries as a text of their own, which is read only when somebody mixes something or asks why.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from functools import cached_property
from typing import Any

from diagnose.entries import cause, frame, observed, remedy
from diagnose.entries.knowledge import Knowledge

MARK, LATER = "!", "?"
KEPT_FOR_LATER = ("solutions", "reactions")
Classes = dict[str, tuple[Any, tuple[str, ...]]]


def pack(knowledge: Knowledge) -> str:
    """Knowledge as JSON.

    Args:
        knowledge: checked knowledge
    """
    return _text(_plain(knowledge))


def unpack(text: str | bytes) -> Knowledge:
    """Knowledge from JSON made by `pack`.

    Args:
        text: the JSON

    Raises:
        ValueError: it was not made by `pack`
    """
    try:
        knowledge = _restored(json.loads(text), _CLASSES)
    except (KeyError, TypeError, AttributeError, RecursionError) as error:
        raise ValueError(f"not packed knowledge: {error}") from None
    if not isinstance(knowledge, Knowledge):
        raise ValueError("not packed knowledge")  # noqa: TRY004 - the caller tells good text from bad, not types
    return knowledge


class Later(Mapping[str, Any]):
    """Entries that are restored when first asked for.

    Args:
        text: from `pack`
    """

    def __init__(self, text: str) -> None:
        self._packed = text

    @cached_property
    def _entries(self) -> dict[str, Any]:
        from diagnose.entries import reaction, solution

        entries: dict[str, Any] = _restored(json.loads(self._packed), _classes(cause, reaction, solution))
        return entries

    def __getitem__(self, name: str) -> Any:
        return self._entries[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._entries)

    def __len__(self) -> int:
        return len(self._entries)


def _classes(*modules: Any) -> Classes:
    """Every kind of entry in some modules, with the names of its fields."""
    return {
        entry.__name__: (entry, tuple(part.name for part in fields(entry)))
        for module in modules
        for entry in vars(module).values()
        if is_dataclass(entry) and isinstance(entry, type) and entry.__module__ == module.__name__
    }


_CLASSES: Classes = _classes(frame, observed, cause, remedy)
_CLASSES["Knowledge"] = (Knowledge, tuple(part.name for part in fields(Knowledge)))


def _text(plain: Any) -> str:
    return json.dumps(plain, ensure_ascii=False, separators=(",", ":"))


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        values = {part.name: _plain(getattr(value, part.name)) for part in fields(value)}
        if isinstance(value, Knowledge):
            values |= {name: {LATER: _text(values[name])} for name in KEPT_FOR_LATER}
        return {MARK: [type(value).__name__, *values.values()]}
    if isinstance(value, Mapping):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(part) for part in value]
    return value


def _restored(value: Any, classes: Classes) -> Any:
    if isinstance(value, dict):
        if MARK in value:
            name, *parts = value[MARK]
            kind, names = classes[name]
            if len(names) != len(parts):
                raise KeyError(name)
            entry = object.__new__(kind)
            # Filling the instance's own table skips the frozen class's slow way of setting each field.
            entry.__dict__.update(zip(names, [_restored(part, classes) for part in parts], strict=True))
            return entry
        if value.keys() == {LATER}:
            return Later(value[LATER])
        return {key: _restored(part, classes) for key, part in value.items()}
    if isinstance(value, list):
        return tuple([_restored(part, classes) for part in value])
    return value
