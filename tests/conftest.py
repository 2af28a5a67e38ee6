"""What every test shares: the real knowledge, read once, and folders of its own for everything that is kept."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

import diagnose
from diagnose.entries.knowledge import Knowledge

settings.register_profile(
    "here", deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.load_profile("here")


@pytest.fixture(scope="session", autouse=True)
def private_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """No test reads or writes the caches, logs, settings or daybooks of the person who runs it."""
    root = tmp_path_factory.mktemp("person")
    with pytest.MonkeyPatch.context() as patch:
        for kind in ("CACHE", "STATE", "CONFIG", "DATA"):
            patch.setenv(f"XDG_{kind}_HOME", str(root / kind.lower()))
            for reader in ("dir", "path"):  # for systems that do not ask the environment
                _redirect(patch, f"user_{kind.lower()}_{reader}", root / kind.lower())
        yield root


@pytest.fixture(autouse=True)
def private_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Every test begins with an empty daybook of its own."""
    place = tmp_path / "daybook.sqlite"
    monkeypatch.setenv("DIAGNOSE_BOOK", str(place))
    return place


@pytest.fixture(scope="session")
def knowledge(private_folders: Path) -> Knowledge:
    """The knowledge that comes with the program."""
    return diagnose.read_knowledge()


def _redirect(patch: pytest.MonkeyPatch, name: str, root: Path) -> None:
    import platformdirs

    kind = Path if name.endswith("_path") else str
    patch.setattr(platformdirs, name, lambda app=None, *_, **__: kind(root / app if app else root))
