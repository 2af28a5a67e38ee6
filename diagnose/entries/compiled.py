"""Checked knowledge, kept ready in the user's cache folder so that a start does not parse every file again."""

import contextlib
import hashlib
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from diagnose.entries.files import read_files, version_of
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.packing import pack, unpack
from diagnose.errors import KnowledgeError

PACKAGE = Path(__file__).resolve().parent.parent


def knowledge_folder() -> Path:
    """The knowledge that came with the program: inside the wheel, or beside the package in a checkout."""
    packed = PACKAGE / "_knowledge"
    return packed if packed.is_dir() else PACKAGE.parent / "knowledge"


def cache_folder() -> Path:
    """Where compiled knowledge is kept."""
    from platformdirs import user_cache_dir

    return Path(user_cache_dir("wetplate-diagnose"))


def read_knowledge(folder: Path | str | None = None, *overlays: Path | str) -> Knowledge:
    """The knowledge of a folder, checked, with any overlay folders laid over it.

    Args:
        folder: the main knowledge folder; the one that came with the program if not given
        overlays: folders whose files are added, or replace files of the same name

    Returns:
        frozen knowledge; its version is a hash of every byte read

    Raises:
        KnowledgeError: every problem found, with file, line and fix
    """
    main = Path(folder) if folder is not None else knowledge_folder()
    files = read_files([main, *map(Path, overlays)])
    version = version_of(files)
    return _kept(version) or _compile(files, version)


def _compile(files: Mapping[str, bytes], version: str) -> Knowledge:
    from diagnose.entries.proofread import proofread
    from diagnose.entries.read import build, draft_knowledge

    draft = draft_knowledge(files)
    problems = [problem for problem in proofread(draft) if problem.level == "error"]
    if problems:
        raise KnowledgeError(problems)
    knowledge = build(draft, version)
    _keep(knowledge)
    return knowledge


def _kept(version: str) -> Knowledge | None:
    """Compiled knowledge of exactly this version, or nothing: a file that does not fit is never trusted."""
    try:
        stamp, _, text = _file(version).read_bytes().partition(b"\n")
        if stamp != _seal(text):
            return None
        knowledge = unpack(text)
    except (OSError, ValueError):
        return None
    return knowledge if knowledge.version == version else None


def _keep(knowledge: Knowledge) -> None:
    """Write beside, then move into place, so that a cut-off write leaves nothing half done. A full disk is no error."""
    import tempfile

    target = _file(knowledge.version)
    text = pack(knowledge).encode()
    part = None
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=target.parent, suffix=".part", delete=False) as file:
            part = Path(file.name)
            file.write(_seal(text) + b"\n" + text)
        part.replace(target)
        _drop_old(target.parent)
    except OSError:
        if part is not None:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)


def _seal(text: bytes) -> bytes:
    """A hash of the packed text: a damaged file is thrown away, not guessed at."""
    return hashlib.sha256(text).hexdigest().encode()


def _drop_old(folder: Path, keep: int = 6) -> None:
    kept = sorted(folder.glob("knowledge-*.json"), key=lambda path: path.stat().st_mtime, reverse=True)
    for path in kept[keep:]:
        path.unlink(missing_ok=True)


def _file(version: str) -> Path:
    return cache_folder() / f"knowledge-{_shape_stamp()}-{version}.json"


@cache
def _shape_stamp() -> str:
    """A hash of the code that gives the knowledge its shape: a new program never reads an old form."""
    digest = hashlib.sha256()
    here = Path(__file__)
    shaping = [path for path in sorted(here.parent.glob("*.py")) if not path.name.startswith("proof")]
    for path in shaping:
        digest.update(path.read_bytes())
    return digest.hexdigest()[:12]
