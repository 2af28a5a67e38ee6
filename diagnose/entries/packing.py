"""Knowledge as one JSON text and back, without loading anything that checks: what was packed had been checked before.

A list is a tuple, an object with the single key "!" is one of our own entries: its class and its values in the order of its fields.
"""

import json
from dataclasses import fields, is_dataclass
from typing import Any

from diagnose.entries import cause, frame, observed, remedy, solution
from diagnose.entries.knowledge import Knowledge

MARK = "!"
_CLASSES: dict[str, Any] = {
    entry.__name__: entry
    for module in (frame, observed, cause, remedy, solution)
    for entry in vars(module).values()
    if is_dataclass(entry) and isinstance(entry, type) and entry.__module__ == module.__name__
}
_CLASSES["Knowledge"] = Knowledge


def pack(knowledge: Knowledge) -> str:
    """Knowledge as JSON.

    Args:
        knowledge: checked knowledge
    """
    return json.dumps(_plain(knowledge), ensure_ascii=False, separators=(",", ":"))


def unpack(text: str | bytes) -> Knowledge:
    """Knowledge from JSON made by `pack`.

    Args:
        text: the JSON

    Raises:
        ValueError: it was not made by `pack`
    """
    try:
        knowledge = _restored(json.loads(text))
    except (KeyError, TypeError, AttributeError, RecursionError) as error:
        raise ValueError(f"not packed knowledge: {error}") from None
    if not isinstance(knowledge, Knowledge):
        raise ValueError("not packed knowledge")  # noqa: TRY004 - the caller tells good text from bad, not types
    return knowledge


_NAMES = {name: tuple(part.name for part in fields(entry)) for name, entry in _CLASSES.items()}


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        name = type(value).__name__
        return {MARK: [name, *(_plain(getattr(value, field)) for field in _NAMES[name])]}
    if isinstance(value, dict):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(part) for part in value]
    return value


def _restored(value: Any) -> Any:
    if isinstance(value, dict):
        if MARK in value:
            name, *parts = value[MARK]
            names = _NAMES[name]
            if len(names) != len(parts):
                raise KeyError(name)
            entry = object.__new__(_CLASSES[name])
            # Filling the instance's own table skips the frozen class's slow way of setting each field.
            entry.__dict__.update(zip(names, map(_restored, parts), strict=True))
            return entry
        return {key: _restored(part) for key, part in value.items()}
    if isinstance(value, list):
        return tuple(map(_restored, value))
    return value
