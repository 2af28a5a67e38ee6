"""Brings a book of an older version up to date; loaded only for such a book."""

from pathlib import Path

from alembic.config import Config
from alembic.runtime.environment import EnvironmentContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

SCRIPTS = Path(__file__).resolve().parent
VERSION_TABLE = "daybook_version"


def newest(scripts: Path = SCRIPTS) -> str:
    """The name of the newest version there is a script for.

    Args:
        scripts: folder with `versions` in it
    """
    return str(ScriptDirectory(str(scripts)).get_current_head())


def knows(version: str, scripts: Path = SCRIPTS) -> bool:
    """Whether there is a script for a version, so that a book of it can be brought up to date.

    Args:
        version: as the book bears it
        scripts: folder with `versions` in it
    """
    return version in {script.revision for script in ScriptDirectory(str(scripts)).walk_revisions()}


def upgrade(connection: Connection, scripts: Path = SCRIPTS) -> None:
    """Run every script that a book has not seen yet, in the transaction that is open.

    Args:
        connection: to the book
        scripts: folder with `versions` in it
    """
    directory = ScriptDirectory(str(scripts))

    def steps(version: object, _: object) -> object:
        return directory._upgrade_revs("head", version)  # type: ignore[arg-type]  # noqa: SLF001 - Alembic's own recipe

    environment = EnvironmentContext(Config(), directory, fn=steps)
    with environment:
        environment.configure(connection=connection, version_table=VERSION_TABLE, render_as_batch=True)
        environment.run_migrations()
