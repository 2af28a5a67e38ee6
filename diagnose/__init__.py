"""Says why a wet-plate collodion positive came out spoiled, and the one thing to change before the next pour."""

from typing import Any

__all__ = ["Plate", "diagnose", "read_knowledge"]

_HOMES = {
    "Plate": "diagnose.plate",
    "read_knowledge": "diagnose.entries.compiled",
    "diagnose": "diagnose.answer",
}


def __getattr__(name: str) -> Any:
    """Import on first use: a command that only prints help should not load the reasoning."""
    if name not in _HOMES:
        raise AttributeError(f"module 'diagnose' has no attribute {name!r}")
    import importlib

    return getattr(importlib.import_module(_HOMES[name]), name)
