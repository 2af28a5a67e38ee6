"""The knowledge folders as bytes, and the hash that names them."""

import hashlib
from collections.abc import Iterable, Mapping
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
        for path in sorted(folder.rglob("*.toml")):
            name = "".join(x if x.isprintable() else ascii(x)[1:-1] for x in path.relative_to(folder).as_posix())
            try:
                if path.stat().st_size > LARGEST_FILE:
                    problems.append(Problem(name, 1, "the file is far too long", "split it into one entry a file"))
                    continue
                files[name] = path.read_bytes()
            except OSError as error:
                problems.append(Problem(name, 1, f"cannot be read: {error.strerror}", "check the file's permissions"))
    if problems:
        raise KnowledgeError(problems)
    return files


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
