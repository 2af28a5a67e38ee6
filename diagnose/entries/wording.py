"""The checking library's phrases, in the words of the craft."""

from collections.abc import Mapping
from typing import Any, get_type_hints

from diagnose.entries.shapes import Entry
from diagnose.errors import near

NAME_RULE = "small letters, figures and hyphens, such as oyster-shell-marks"
MINUTES_RULE = "a plain number, without quotes"


def problem_words(item: Mapping[str, Any], model: type[Entry]) -> tuple[str, str]:
    """What is wrong and what to do, for one complaint.

    Args:
        item: one of `ValidationError.errors()`
        model: the kind of entry, for near names of a misspelt key

    Returns:
        words and fix
    """
    place = "".join(x if x.isprintable() else " " for x in ".".join(map(str, item["loc"]))) or "the entry"
    key = str(item["loc"][-1]) if item["loc"] else ""
    given = _short(item.get("input"))
    match item["type"]:
        case "missing":
            return f"{place} is missing", f"add a line {key} = ..."
        case "unexpected_keyword_argument":
            return f"{place}: there is no key called {key!r} here", near(key, _keys(model)) or "take the line out"
        case "string_pattern_mismatch" if not str(item.get("input")).isprintable():
            return f"{place}: the text has a line break, a tab or the like in it", "write it on one line"
        case "string_pattern_mismatch":
            return f"{place}: {given} has letters a name cannot have", f"use {NAME_RULE}"
        case "string_too_long":
            return (
                f"{place}: the text is too long ({len(str(item.get('input')))} letters)",
                "say it shorter, or make it two steps",
            )
        case "too_short" if item["ctx"]["actual_length"]:
            held, least = item["ctx"]["actual_length"], item["ctx"]["min_length"]
            return f"{place}: too few are written here ({held})", f"write at least {least}"
        case "string_too_short" | "too_short":
            return f"{place}: nothing is written here", "fill it in, or take the line out"
        case "literal_error":
            return f"{place}: {given} is not one of the words allowed", f"use {item['ctx']['expected']}"
        case "string_type":
            return f"{place}: {given} is not text", "put it in quotes"
        case "float_type" | "int_type":
            return f"{place}: {given} is not a number", f"write {MINUTES_RULE}"
        case "bool_type":
            return f"{place}: {given} is not true or false", "write true or false, without quotes"
        case "tuple_type" | "dict_type" | "dataclass_type":
            return f"{place}: {given} has the wrong shape", "compare with a file that works"
        case "greater_than_equal" | "less_than_equal":
            return f"{place}: {given} is outside what is possible", str(item["msg"]).replace(
                "Input should be", "it should be"
            )
        case _:
            return f"{place}: {item['msg']}", "compare with a file that works"


def _keys(model: type[Entry]) -> list[str]:
    """Every key of an entry and of the entries inside it, as they are written in a file."""
    names: dict[str, None] = {}
    waiting, done = [model], set[type[Entry]]()
    while waiting:
        here = waiting.pop()
        if here in done:
            continue
        done.add(here)
        for name, annotation in get_type_hints(here).items():
            if not name.startswith("_"):
                names[name.rstrip("_")] = None
                waiting += [part for part in _parts(annotation) if isinstance(part, type) and issubclass(part, Entry)]
    return list(names)


def _parts(annotation: Any) -> list[Any]:
    inner = getattr(annotation, "__args__", ())
    return [annotation, *(part for item in inner for part in _parts(item))]


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 50 else text[:47] + "..."
