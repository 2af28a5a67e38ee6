"""A fresh place for a daybook: a file, and a schema of its own on a server where one is offered."""

import contextlib
import os
import secrets
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from diagnose.daybook import connecting
from diagnose.daybook.store import Store, open_store

SERVER = "DIAGNOSE_TEST_POSTGRESQL"


@contextlib.contextmanager
def schema_of_its_own() -> Iterator[str]:
    """The address of an empty place on the server; it is gone afterwards."""
    import psycopg

    url = os.environ.get(SERVER)
    if not url:
        pytest.skip(f"no PostgreSQL server: set {SERVER} to its address to test the daybook there, too")
    name = f"test_{secrets.token_hex(6)}"
    with psycopg.connect(url, autocommit=True) as connection:
        connection.execute(f"CREATE SCHEMA {name}")
        try:
            yield f"{url}{'&' if '?' in url else '?'}options=-csearch_path%3D{name}"
        finally:
            connection.execute(f"DROP SCHEMA {name} CASCADE")


@pytest.fixture(params=["file", "server"])
def fresh(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Callable[[], str]]:
    """Makes places where there is no book yet, all of them files or all on a server."""
    with contextlib.ExitStack() as stack:
        if request.param == "server":
            yield lambda: stack.enter_context(schema_of_its_own())
        else:
            yield lambda: str(tmp_path / f"{secrets.token_hex(6)}.sqlite")


@pytest.fixture
def place(fresh: Callable[[], str]) -> str:
    """A place where there is no book yet."""
    return fresh()


@pytest.fixture
def store(place: str) -> Iterator[Store]:
    """An empty book."""
    with open_store(place) as opened:
        yield opened


@pytest.fixture
def careful() -> None:
    """Every write waits for the disk, as it does for a person."""


@pytest.fixture(autouse=True)
def hasty(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing waits for the disk, for no test here cuts the power; the writers that are killed run by themselves and do wait."""
    if "careful" not in request.fixturenames:
        monkeypatch.setattr(connecting, "PRAGMAS", ("foreign_keys=ON", "synchronous=OFF"))


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    """A locked book is given up at once."""
    monkeypatch.setattr(connecting, "PATIENCE", 2)
    monkeypatch.setattr(connecting, "BUSY_SECONDS", 0.05)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that an ordinary person may look into, even where the tests run as root."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        folder = Path(name)
        folder.chmod(0o777)
        yield folder
        folder.chmod(0o777)


@contextlib.contextmanager
def as_ordinary_person() -> Iterator[None]:
    """Without root's right to write everywhere."""
    if not hasattr(os, "geteuid") or os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def ordinary() -> Callable[[], contextlib.AbstractContextManager[None]]:
    """What is done within is done without root's right to write everywhere."""
    return as_ordinary_person
