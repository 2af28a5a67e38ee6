"""Writers that are killed at any moment and writers that crowd: nothing that was acknowledged is ever lost."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

NURSERY = Path(__file__).with_name("nursery.py")

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="writers are forked, which this system cannot")


def nursery(tmp_path, *words):
    copies = tmp_path / "copies"
    copies.mkdir(exist_ok=True)
    ran = subprocess.run(
        [sys.executable, str(NURSERY), *map(str, words)],
        capture_output=True,
        text=True,
        timeout=900,
        env=os.environ | {"NURSERY_COPIES": str(copies)},
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return [int(word) for word in ran.stdout.split()]


def test_nothing_acknowledged_is_lost_when_the_writer_is_killed(tmp_path):
    plates, kills, _ = nursery(tmp_path, "killed", tmp_path / "book.sqlite", 25, 1)
    assert plates >= 25
    assert kills >= 2


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(5))
def test_nothing_acknowledged_is_lost_over_200_plates(place, tmp_path, seed):
    plates, kills, journals = nursery(tmp_path, "killed", place, 200, seed)
    print(f"\n{plates} plates acknowledged, {kills} writers killed, {journals} times a journal was left to put right")
    assert plates >= 200
    if "://" not in place:
        assert journals, "no writer was killed in the middle of writing: this proves nothing"


def test_writers_at_once_lose_nothing_and_see_no_lock(place, tmp_path):
    assert nursery(tmp_path, "crowded", place, 4, 5) == [20]


@pytest.mark.slow
@pytest.mark.parametrize("writers", [2, 4, 8])
def test_many_plates_by_writers_at_once(place, tmp_path, writers):
    assert nursery(tmp_path, "crowded", place, writers, 1000 // writers) == [1000]
