"""The knowledge folders as bytes, and the hash that names them."""

import hashlib
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from diagnose.errors import KnowledgeError, Problem

LARGEST_FILE = 400_000  # bytes


def read_files(folders: Iterable[Path]) -> dict[str, bytes]:
    """Every knowledge file of the folders; a later folder replaces files of the same name.

    Args:
        folders: knowledge folders, the main one first

    Returns:
        path below the folder -> contents

    Raises:
        KnowledgeError: a folder is missing, or a file cannot be read
    """
    files: dict[str, bytes] = {}
    problems = []
    for folder in folders:
        if not folder.is_dir():
            problems.append(
                Problem(str(folder), 1, "no such folder", "give the folder that holds stages.toml and causes/")
            )
            continue
        for path in sorted(_toml_files(str(folder))):
            name = path[len(str(folder)) :].lstrip(os.sep).replace(os.sep, "/")
            name = "".join(letter if letter.isprintable() else ascii(letter)[1:-1] for letter in name)
            try:
                if os.stat(path).st_size > LARGEST_FILE:  # noqa: PTH116 - a start reads some two hundred files: paths as texts
                    problems.append(Problem(name, 1, "the file is far too long", "split it into one entry a file"))
                    continue
                with open(path, "rb", buffering=0) as file:  # noqa: PTH123
                    files[name] = file.read()
            except OSError as error:
                problems.append(Problem(name, 1, f"cannot be read: {error.strerror}", "check the file's permissions"))
    if problems:
        raise KnowledgeError(problems)
    return files


def _toml_files(folder: str) -> Iterator[str]:
    """Every TOML file below a folder; a folder that cannot be looked into holds none."""
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.is_dir(follow_symlinks=False):
                    yield from _toml_files(entry.path)
                elif entry.name.endswith(".toml"):
                    yield entry.path
    except OSError:
        return


def version_of(files: Mapping[str, bytes]) -> str:
    """A hash of every name and byte.

    Args:
        files: path -> contents
    """
    digest = hashlib.sha256()
    for name in sorted(files):
        digest.update(f"{len(name)}:{name}:{len(files[name])}:".encode())
        digest.update(files[name])
    return digest.hexdigest()[:16]
