"""Compiled knowledge: quick, and never anything but what the files say."""

import json
import os
import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.entries import compiled
from diagnose.entries.compiled import cache_folder, knowledge_folder, read_knowledge
from diagnose.entries.packing import pack, unpack
from diagnose.errors import KnowledgeError

BASE = Path(__file__).resolve().parents[1] / "knowledge" / "base"
GREASY = "causes/support/greasy-plate.toml"


@pytest.fixture
def folder(tmp_path):
    """A knowledge folder that may be changed."""
    return Path(shutil.copytree(BASE, tmp_path / "knowledge"))


@pytest.fixture(autouse=True)
def cache(tmp_path, monkeypatch):
    """A cache of each test's own, empty to begin with."""
    monkeypatch.setattr(compiled, "cache_folder", lambda: tmp_path / "cache")
    return tmp_path / "cache"


@pytest.fixture
def counted(monkeypatch):
    """Counts how often the files had to be parsed."""
    versions = []
    compile_files = compiled._compile

    def compile_and_count(files, version):
        versions.append(version)
        return compile_files(files, version)

    monkeypatch.setattr(compiled, "_compile", compile_and_count)
    return versions


def change(folder, old, new, file=GREASY):
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def kept(cache):
    return sorted(cache.glob("*"))


def test_the_second_start_parses_nothing(folder, counted):
    first, second = read_knowledge(folder), read_knowledge(folder)
    assert len(counted) == 1
    assert pack(first) == pack(second)


def test_the_key_is_the_content_and_not_the_folder(folder, tmp_path, counted):
    first = read_knowledge(folder)
    second = read_knowledge(shutil.copytree(folder, tmp_path / "elsewhere"))
    assert first.version == second.version
    assert len(counted) == 1


def test_touching_a_file_is_no_change(folder, counted):
    read_knowledge(folder)
    os.utime(folder / GREASY, (0, 0))
    read_knowledge(folder)
    assert len(counted) == 1


def test_a_changed_file_is_read_again(folder, counted):
    before = read_knowledge(folder)
    change(folder, "The plate was greasy", "The plate was very greasy")
    after = read_knowledge(folder)
    assert len(counted) == 2
    assert before.version != after.version
    assert after.causes["support/greasy-plate"].title == "The plate was very greasy"


def test_a_changed_file_of_the_same_size_and_date_is_read_again(folder):
    read_knowledge(folder)
    path = folder / GREASY
    date = path.stat().st_mtime_ns
    change(folder, 'usual = "common"', 'usual = "rare"  ')
    os.utime(path, ns=(date, date))
    assert read_knowledge(folder).causes["support/greasy-plate"].usual == "rare"


def test_a_renamed_file_is_another_version(folder):
    before = read_knowledge(folder).version
    (folder / "symptoms/marks.toml").rename(folder / "symptoms/looks.toml")
    after = read_knowledge(folder)
    assert after.version != before
    assert after.symptoms["finger-marks"].family == "looks"


def test_a_file_taken_out_is_missed(folder):
    read_knowledge(folder)
    (folder / "remedies/fixing/fix-longer.toml").unlink()
    with pytest.raises(KnowledgeError):
        read_knowledge(folder)


@pytest.mark.parametrize(
    "damage",
    [
        b"",
        b"\x00\xff\xfe",
        b"null",
        b"[]",
        b'{"version": ',
        b'{"version": "0000000000000000"}',
    ],
    ids=["empty", "not text", "null", "a list", "cut off", "nothing but a version"],
)
def test_a_damaged_file_is_never_trusted(folder, cache, counted, damage):
    good = read_knowledge(folder)
    (file,) = kept(cache)
    file.write_bytes(damage)
    assert pack(read_knowledge(folder)) == pack(good)
    assert len(counted) == 2
    assert pack(read_knowledge(folder)) == pack(good)
    assert len(counted) == 2  # and it has been put right


def test_a_cut_off_file_is_never_trusted(folder, cache, counted):
    good = read_knowledge(folder)
    (file,) = kept(cache)
    whole = file.read_bytes()
    for share in (0.1, 0.5, 0.99):
        file.write_bytes(whole[: int(len(whole) * share)])
        assert pack(read_knowledge(folder)) == pack(good)
    assert len(counted) == 4


def test_a_file_with_one_letter_changed_is_never_trusted(folder, cache, counted):
    good = read_knowledge(folder)
    (file,) = kept(cache)
    whole = file.read_bytes()
    assert whole.count(b"greasy") > 1
    file.write_bytes(whole.replace(b"was greasy", b"was greesy", 1))
    assert pack(read_knowledge(folder)) == pack(good)
    assert len(counted) == 2


@given(
    st.recursive(
        st.none() | st.booleans() | st.floats() | st.sampled_from(["!", "Knowledge", "Cause", "Stage", ""]),
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["!", "a"]), inner, max_size=2),
    )
)
def test_anything_but_packed_knowledge_is_refused(value):
    with pytest.raises(ValueError, match=r"\w"):
        unpack(json.dumps(value))


def test_a_file_of_another_version_under_this_name_is_never_trusted(folder, cache, counted):
    read_knowledge(folder)
    (old,) = kept(cache)
    stale = old.read_bytes()
    change(folder, "The plate was greasy", "The plate was dusty")
    good = read_knowledge(folder)
    (new,) = set(kept(cache)) - {old}
    new.write_bytes(stale)
    assert pack(read_knowledge(folder)) == pack(good)
    assert len(counted) == 3


def test_a_folder_where_the_file_should_be_is_no_error(folder, cache):
    good = read_knowledge(folder)
    (file,) = kept(cache)
    file.unlink()
    file.mkdir()
    assert pack(read_knowledge(folder)) == pack(good)


def test_another_program_version_never_reads_this_form(folder, counted, monkeypatch):
    read_knowledge(folder)
    monkeypatch.setattr(compiled, "_shape_stamp", lambda: "another-form")
    read_knowledge(folder)
    assert len(counted) == 2


def test_broken_knowledge_never_falls_back_to_the_last_good_one(folder, cache):
    read_knowledge(folder)
    change(folder, 'seen = "usually"', 'seen = "oftne"')
    for _ in range(2):
        with pytest.raises(KnowledgeError) as caught:
            read_knowledge(folder)
        assert [str(problem) for problem in caught.value.problems] == [
            f"{GREASY}:9: no strength word 'oftne' for seen -> did you mean 'often'?"
        ]
    assert len(kept(cache)) == 1  # broken knowledge is not kept either
    change(folder, "oftne", "usually")
    assert read_knowledge(folder).causes["support/greasy-plate"].symptom[0].seen == "usually"


def test_a_missing_folder_is_one_clear_problem(tmp_path):
    with pytest.raises(KnowledgeError, match=r"have 1 problem, first: .*no such folder") as caught:
        read_knowledge(tmp_path / "nowhere")
    assert caught.value.problems[0].words == "no such folder"


def test_a_cache_that_cannot_be_made_is_no_error(folder, tmp_path, monkeypatch, counted):
    (tmp_path / "a-file").write_text("not a folder")
    monkeypatch.setattr(compiled, "cache_folder", lambda: tmp_path / "a-file" / "cache")
    assert pack(read_knowledge(folder)) == pack(read_knowledge(folder))
    assert len(counted) == 2


def test_a_read_only_cache_folder_is_no_error(folder, cache, counted):
    cache.mkdir()
    cache.chmod(0o500)
    try:
        read_knowledge(folder)
        assert read_knowledge(folder).causes.keys() == {"support/greasy-plate", "fixing/fixed-too-little"}
    finally:
        cache.chmod(0o700)


@pytest.mark.parametrize("step", ["replace", "write"])
def test_a_full_or_read_only_disk_is_no_error(folder, monkeypatch, step):
    def refuse(*_args, **_named):
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(*{"replace": (os, "replace"), "write": (tempfile, "NamedTemporaryFile")}[step], refuse)
    assert read_knowledge(folder).causes


def test_a_write_leaves_nothing_half_done_behind(folder, cache):
    read_knowledge(folder)
    assert [path.suffix for path in kept(cache)] == [".json"]


def test_old_versions_do_not_pile_up(folder, cache):
    for number in range(9):
        change(folder, 'title = "', f'title = "{number} ')
        read_knowledge(folder)
    assert 1 < len(kept(cache)) <= 6


def test_an_overlay_replaces_and_adds(folder, tmp_path, counted):
    overlay = tmp_path / "studio"
    (overlay / "causes/support").mkdir(parents=True)
    text = (folder / GREASY).read_text(encoding="utf-8")
    (overlay / GREASY).write_text(text.replace("The plate was greasy", "Our plates are greasy"), encoding="utf-8")
    dusty = text.replace("The plate was greasy", "The plate was dusty").replace('"all-edges"', '"one-corner"')
    (overlay / "causes/support/dusty-plate.toml").write_text(dusty, encoding="utf-8")
    alone, together = read_knowledge(folder), read_knowledge(folder, overlay)
    assert together.causes["support/greasy-plate"].title == "Our plates are greasy"
    assert together.causes.keys() - alone.causes.keys() == {"support/dusty-plate"}
    assert together.version != alone.version
    assert pack(read_knowledge(folder, overlay)) == pack(together)
    assert pack(read_knowledge(folder)) == pack(alone)
    assert len(counted) == 2


def test_the_last_overlay_wins(folder, tmp_path):
    for name, usual in (("first", "common"), ("second", "rare")):
        (tmp_path / name / "causes/support").mkdir(parents=True)
        text = (folder / GREASY).read_text(encoding="utf-8").replace('usual = "common"', f'usual = "{usual}"')
        (tmp_path / name / GREASY).write_text(text, encoding="utf-8")
    assert (
        read_knowledge(folder, tmp_path / "first", tmp_path / "second").causes["support/greasy-plate"].usual == "rare"
    )
    assert (
        read_knowledge(folder, tmp_path / "second", tmp_path / "first").causes["support/greasy-plate"].usual == "common"
    )


def test_a_broken_overlay_is_told_with_its_file_and_line(folder, tmp_path):
    read_knowledge(folder)
    (tmp_path / "studio").mkdir()
    (tmp_path / "studio/states.toml").write_text('[hot-room]\nmeans = "It is hot"\n', encoding="utf-8")
    with pytest.raises(KnowledgeError) as caught:
        read_knowledge(folder, tmp_path / "studio")
    assert "states.toml:1: way is missing -> add a line way = ..." in map(str, caught.value.problems)


def test_text_paths_are_taken_too(folder):
    assert pack(read_knowledge(str(folder))) == pack(read_knowledge(folder))


def test_the_knowledge_beside_the_program_is_the_default(knowledge):
    assert (knowledge_folder() / "stages.toml").is_file()
    assert pack(read_knowledge()) == pack(knowledge)


def test_tests_keep_out_of_the_real_cache(private_folders):
    assert cache_folder().is_relative_to(private_folders)
