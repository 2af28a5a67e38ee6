"""From folders of TOML to Knowledge, or to every problem at once."""

import re
import tomllib
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, cast

from pydantic import TypeAdapter, ValidationError

from diagnose.entries.cause import Cause
from diagnose.entries.frame import Attribute, Caution, Source, Stage, Strengths
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.lines import line_map, line_of
from diagnose.entries.observed import Check, Condition, State, Symptom
from diagnose.entries.reaction import Reaction
from diagnose.entries.remedy import Remedy
from diagnose.entries.shapes import Entry
from diagnose.entries.solution import Solution
from diagnose.entries.wording import problem_words
from diagnose.errors import Problem

SINGLE_FILES: Mapping[str, tuple[str, type[Entry]]] = {
    "stages.toml": ("stages", Stage),
    "sources.toml": ("sources", Source),
    "attributes.toml": ("attributes", Attribute),
    "conditions.toml": ("conditions", Condition),
    "states.toml": ("states", State),
    "cautions.toml": ("cautions", Caution),
    "reactions.toml": ("reactions", Reaction),
}
FAMILY_FOLDERS: Mapping[str, type[Entry]] = {"symptoms": Symptom, "checks": Check}
STAGE_FOLDERS: Mapping[str, type[Entry]] = {"causes": Cause, "remedies": Remedy}
OWN_FILES: Mapping[str, type[Entry]] = {"solutions": Solution}
NEEDED_FILES = ("stages.toml", "strengths.toml", "sources.toml", "attributes.toml", "conditions.toml")


HYPHENED = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
UNDERSCORED = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")


@dataclass
class Draft:
    """What has been read so far.

    Args:
        entries: kind -> name -> entry
        places: (kind, name) -> (file, path inside it), to say where a problem is
        lines: file -> path -> line
        problems: everything wrong so far
    """

    entries: dict[str, dict[str, Any]] = field(default_factory=dict)
    places: dict[tuple[str, str], tuple[str, tuple[str | int, ...]]] = field(default_factory=dict)
    lines: dict[str, dict[tuple[str | int, ...], int]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def line(self, kind: str, name: str, *path: str | int) -> tuple[str, int]:
        """File and line of a value inside an entry."""
        file, root = self.places.get((kind, name), ("", ()))
        return file, line_of(self.lines.get(file, {(): 1}), (*root, *path))


def draft_knowledge(files: Mapping[str, bytes]) -> Draft:
    """Parse and check each file by itself.

    Args:
        files: path -> contents

    Returns:
        entries, places and problems; nothing is raised for what a file says
    """
    draft = Draft(entries={kind: {} for kind, _ in SINGLE_FILES.values()})
    draft.entries |= {kind: {} for kind in (*FAMILY_FOLDERS, *STAGE_FOLDERS, *OWN_FILES, "strengths")}
    draft.problems += [
        Problem(name, 1, "the file is missing", "a knowledge folder needs it")
        for name in NEEDED_FILES
        if name not in files
    ]
    for name in sorted(files, key=lambda path: (path.count("/"), path)):  # the frame first, causes last
        table = _parse(name, files[name], draft)
        if table is not None:
            _sort_in(name, table, draft)
    return draft


def build(draft: Draft, version: str) -> Knowledge:
    """Knowledge from a draft without errors.

    Args:
        draft: from `draft_knowledge`
        version: from `version_of`
    """
    entries = dict(draft.entries)
    strengths = entries.pop("strengths")["strengths"]
    return Knowledge(version=version, strengths=strengths, **entries)


def _parse(name: str, content: bytes, draft: Draft) -> dict[str, Any] | None:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        draft.problems.append(Problem(name, line, "not UTF-8 text", "save the file as UTF-8"))
        return None
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = getattr(error, "lineno", None) or _line_in(str(error))
        draft.problems.append(
            Problem(name, line, f"not TOML: {error}", "check quotes, brackets and commas on that line")
        )
        return None
    except RecursionError:
        draft.problems.append(Problem(name, 1, "nested too deeply", "no entry needs more than two levels"))
        return None
    draft.lines[name] = line_map(text)
    return table


def _line_in(message: str) -> int:
    _, _, tail = message.partition("(at line ")
    number = tail.partition(",")[0]
    return int(number) if number.isdigit() else 1


def _sort_in(name: str, table: dict[str, Any], draft: Draft) -> None:
    parts = name.removesuffix(".toml").split("/")
    if name == "strengths.toml":
        _take(name, "strengths", "strengths", Strengths, table, (), draft)
    elif name in SINGLE_FILES:
        kind, model = SINGLE_FILES[name]
        _take_each(name, kind, model, table, draft)
    elif len(parts) == 2 and parts[0] in FAMILY_FOLDERS:
        extra = {"family": parts[1]} if parts[0] == "symptoms" else {}
        _take_each(name, parts[0], FAMILY_FOLDERS[parts[0]], table, draft, extra)
    elif len(parts) == 3 and parts[0] in STAGE_FOLDERS:
        entry_name = "/".join(parts[1:]) if parts[0] == "causes" else parts[2]
        body = table | {"stage": parts[1]} if parts[0] == "remedies" else table
        _take(name, parts[0], entry_name, STAGE_FOLDERS[parts[0]], body, (), draft)
    elif len(parts) == 2 and parts[0] in OWN_FILES:
        _take(name, parts[0], parts[1], OWN_FILES[parts[0]], table, (), draft)
    else:
        draft.problems.append(
            Problem(
                name, 1, "the file is in a place nothing reads", "causes go to causes/<stage>/<name>.toml, and so on"
            )
        )


@cache
def _adapter(model: Hashable) -> TypeAdapter[Any]:
    return TypeAdapter(cast("Any", model))


def _take_each(
    name: str,
    kind: str,
    model: type[Entry],
    table: dict[str, Any],
    draft: Draft,
    extra: Mapping[str, str] | None = None,
) -> None:
    for key, body in table.items():
        if not isinstance(body, dict):
            line = line_of(draft.lines[name], (key,))
            draft.problems.append(
                Problem(
                    name,
                    line,
                    f"{key!r} stands outside any entry",
                    f"begin the entry with [{key}]" if key.isprintable() else "put it into an entry",
                )
            )
            continue
        _take(name, kind, key, model, body | dict(extra or {}), (key,), draft)


def _take(
    name: str,
    kind: str,
    key: str,
    model: type[Entry],
    body: dict[str, Any],
    root: tuple[str | int, ...],
    draft: Draft,
) -> None:
    if kind != "sources":  # their keys are the books' own short names, with underscores among the letters
        wanted, mark = (UNDERSCORED, "underscores") if kind in {"conditions", "attributes"} else (HYPHENED, "hyphens")
        if not wanted.fullmatch(key.rpartition("/")[2]):
            line, fix = line_of(draft.lines[name], root), f"use small letters, figures and {mark}"
            draft.problems.append(Problem(name, line, f"{key!r} has letters a name cannot have", fix))
            return
    if key in draft.entries[kind]:
        file, line = draft.line(kind, key)
        draft.problems.append(
            Problem(
                name, line_of(draft.lines[name], root), f"{key!r} is here twice, first in {file}:{line}", "rename one"
            )
        )
        return
    try:
        draft.entries[kind][key] = _adapter(cast("Hashable", model)).validate_python(body)
        draft.places[kind, key] = (name, root)
    except ValidationError as error:
        for item in error.errors(include_url=False):
            if item["type"] == "too_short" and len(item["input"]) >= item["ctx"]["min_length"]:
                continue  # enough was written; what is wrong with it is told by itself
            line = line_of(draft.lines[name], (*root, *item["loc"]))
            draft.problems.append(Problem(name, line, *problem_words(item, model)))
