"""Which knowledge is read: the program's own, with a person's folders laid over it."""

from pathlib import Path

from diagnose.entries.compiled import knowledge_folder, read_knowledge
from diagnose.entries.knowledge import Knowledge


def knowledge_of(folders: tuple[str, ...]) -> Knowledge:
    """The knowledge that came with the program, with the person's own folders laid over it.

    Args:
        folders: as typed; a folder that holds a stages.toml replaces the program's own
    """
    return read_knowledge(*folders_of(folders))


def folders_of(folders: tuple[str, ...]) -> list[Path]:
    """Every knowledge folder to be read, the main one first.

    Args:
        folders: as for `knowledge_of`
    """
    paths = [Path(folder).expanduser() for folder in folders]
    return paths if paths and (paths[0] / "stages.toml").is_file() else [knowledge_folder(), *paths]
