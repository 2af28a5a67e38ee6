"""A plate from what was typed: options of the command, a file, or standard input; and back into a command."""

import json
import shlex
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from diagnose.errors import PlateError
from diagnose.plate import Plate, day_number, shown

LARGEST_FILE = 1_000_000


def read_plate_file(name: str) -> dict[str, Any]:
    """A plate's tables from a TOML or JSON file, or from standard input for "-".

    Args:
        name: path, or "-"

    Raises:
        PlateError: it cannot be read, or is neither TOML nor JSON
    """
    import tomllib

    where = "standard input" if name == "-" else shown(name if len(name) <= 60 else "..." + name[-57:])
    try:
        raw = sys.stdin.buffer.read(LARGEST_FILE + 1) if name == "-" else Path(name).expanduser().read_bytes()
        text = raw.decode("utf-8-sig")
    except OSError as error:
        raise PlateError(
            f"{where}: cannot be read: {error.strerror}; give a TOML or JSON file, or - for standard input"
        ) from None
    except UnicodeDecodeError:
        raise PlateError(f"{where}: not UTF-8 text; save it as UTF-8") from None
    except ValueError as error:
        raise PlateError(f"{where}: cannot be read: {error}") from None
    if len(raw) > LARGEST_FILE:
        raise PlateError(f"{where}: far too large for one plate")
    try:
        told = json.loads(text) if text.lstrip().startswith("{") else tomllib.loads(text)
    except (json.JSONDecodeError, tomllib.TOMLDecodeError) as error:
        kind = "JSON" if text.lstrip().startswith("{") else "TOML"
        raise PlateError(f"{where}: not {kind}: {shown(str(error))}; `diagnose plate --help` shows the form") from None
    except (RecursionError, ValueError) as error:
        raise PlateError(f"{where}: cannot be read: {shown(str(error))}") from None
    if not isinstance(told, dict):
        raise PlateError(f"{where}: a plate is a table with symptoms, conditions, checks and tried")
    return told


def tell(
    file: str | None,
    *,
    present: Iterable[str] = (),
    absent: Iterable[str] = (),
    unsure: Iterable[str] = (),
    unknown: Iterable[str] = (),
    conditions: Iterable[str] = (),
    checks: Iterable[str] = (),
    tried: Iterable[str] = (),
    day: str = "",
) -> Plate:
    """A plate from options, added to what a file says.

    Args:
        file: path or "-", or None
        present: symptoms, each with its look after a colon: comets:place=scattered,colour=black
        absent: symptoms looked for and not there
        unsure: symptoms that may be there
        unknown: symptoms that cannot be told
        conditions: name=value
        checks: name=outcome
        tried: remedy=result
        day: of the plate; today where a label's date is told without it

    Raises:
        PlateError: something cannot be read
    """
    told = read_plate_file(file) if file else {}
    tables: dict[str, Any] = dict(told)
    symptoms = told.get("symptoms", {})
    if isinstance(symptoms, list):
        symptoms = dict.fromkeys((str(name) for name in symptoms), True)
    table = dict(symptoms) if isinstance(symptoms, dict) else symptoms
    for answer, names in (("present", present), ("absent", absent), ("unsure", unsure), ("cant-tell", unknown)):
        for text in names:
            name, look = _look(text)
            if not isinstance(table, dict):
                raise PlateError("symptoms in the file have the wrong shape; use a table")
            table[name] = {"answer": answer, **look}
    tables["symptoms"] = table
    for part, texts in (("conditions", conditions), ("checks", checks)):
        given = dict(_pairs(part, texts))
        old = told.get(part, {})
        if given and not isinstance(old, dict):
            raise PlateError(f"{part} in the file have the wrong shape; use a table")
        tables[part] = {**old, **given} if isinstance(old, dict) else old
    steps = [{"remedy": name, "result": result} for name, result in _pairs("tried", tried)]
    old_steps = told.get("tried", [])
    tables["tried"] = [*old_steps, *steps] if isinstance(old_steps, list) else old_steps
    if day:
        tables["day"] = day
    return Plate.read(with_today(tables))


def with_today(told: dict[str, Any]) -> dict[str, Any]:
    """The same, with today for the day of the plate where the date on a label is told without it.

    Args:
        told: a plate's tables
    """
    from diagnose.talk.clock import today

    values = told["conditions"].values() if isinstance(told.get("conditions"), dict) else ()
    dated = any(isinstance(value, str) and day_number(value.strip()) is not None for value in values)
    return {**told, "day": today()} if dated and not told.get("day") else told


def as_command(told: Mapping[str, Any], *more: str, before: Sequence[str] = ()) -> str:
    """The command that tells the same plate again.

    Args:
        told: from `Plate.told`
        more: further options of the command
        before: options that stand before the command, such as --knowledge
    """
    flags = {"present": "--shows", "absent": "--not-there", "unsure": "--unsure", "cant-tell": "--cannot-tell"}
    parts = ["diagnose", *before, "plate", *more]
    for name, item in told["symptoms"].items():
        look = ",".join(f"{key}={value}" for key, value in item.items() if key != "answer")
        parts += [flags[item["answer"]], f"{name}:{look}" if look else name]
    for flag, part in (("--condition", "conditions"), ("--check", "checks")):
        for name, value in told[part].items():
            parts += [flag, f"{name}={value}"]
    if told.get("day"):
        parts += ["--day", told["day"]]
    for step in told["tried"]:
        parts += ["--tried", f"{step['remedy']}={step['result']}"]
    # Blanks at the end of a word mean nothing; those that a terminal might take for a command to it are not printed.
    return shlex.join("".join(letter if letter.isprintable() else " " for letter in part) for part in parts)


def _look(text: str) -> tuple[str, dict[str, str]]:
    name, _, rest = text.partition(":")
    look = {}
    for part in filter(None, (piece.strip() for piece in rest.split(","))):
        key, equals, value = part.partition("=")
        if not equals:
            raise PlateError(f"cannot read {shown(text)!r}; write it like comets:place=scattered,colour=black")
        look[key.strip()] = value.strip()
    if "answer" in look:
        raise PlateError(f"cannot read {shown(text)!r}; say --not-there or --unsure instead of answer=")
    return name.strip(), look


def _pairs(part: str, texts: Iterable[str]) -> Iterable[tuple[str, str]]:
    for text in texts:
        name, equals, value = text.partition("=")
        if not equals:
            example = {"conditions": 'room_temperature="28 °C"', "checks": "litmus-on-bath=neither-turns"}.get(
                part, "wipe-holder-and-back=no-change"
            )
            raise PlateError(f"cannot read {shown(text)!r}; write it like {example}")
        yield name.strip(), value.strip()
