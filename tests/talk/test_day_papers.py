"""The book on paper and in files: the sheet, lines typed in, export and import; learning, the archive anew, the review."""

import json

import pytest

# Everything here is invented.
LINES = """13:00 mixed bath 1 L
14:05 good
14:20 bad comets, fog; holder B
note hail
"""


# Typed in ------------------------------------------------------------------


def test_lines_from_a_pipe_are_kept_one_by_one(day, kept):
    done = day("enter", typed=LINES)
    assert done.code == 0
    assert done.words.startswith("The day is 2026-05-21. A line a plate: 14:05 good / ")
    assert "Kept: 14:20 spoiled: Comets, Fog; holder B" in done.words
    assert done.words.endswith("4 lines kept.")
    assert sorted(entry.moment.clock for entry in kept().entries) == ["", "13:00", "14:05", "14:20"]


def test_a_line_from_a_pipe_that_is_not_understood_stops_nothing(day, kept):
    done = day("enter", typed="14:05 good\nxyzzy\n25:00 good\n14:20 bad fog\nq\n14:30 good\n")
    assert done.code == 1
    assert "line 2: 'xyzzy' is not understood" in done.words
    assert "line 3: 25:00 is not a time of day" in done.words
    assert done.words.endswith("2 lines kept, 2 not understood.")
    assert len(kept().plates) == 2


def test_undo_while_typing_takes_lines_back_one_by_one(day, kept):
    done = day("enter", typed="undo\n14:05 good\n14:10 good\nundo\nundo\nundo\n14:20 bad fog\n")
    assert done.words.count("The last line is taken back.") == 2
    assert done.words.count("There is nothing to take back.") == 2
    assert [plate.good for plate in kept().plates] == [False]


def test_a_sheet_of_another_day(day, kept):
    day("enter", "--day", "2026-05-19", typed="14:05 good\nday 2026-05-20\n14:05 good\n")
    assert [plate.moment.day for plate in kept().plates] == ["2026-05-19", "2026-05-20"]


def test_what_has_not_come_yet_is_not_entered(day, kept):
    done = day("enter", typed="23:59 good\nday 2026-06-01\n10:00 good\n")
    assert done.code == 1
    assert "line 1: 23:59 has not come yet, it is 15:30" in done.words
    assert not kept().entries
    assert "2026-06-01 has not come yet" in day("enter", "--day", "2026-06-01").complaint
    assert "is not a date" in day("enter", "--day", "today").complaint


def test_a_file_is_kept_whole(day, kept, tmp_path):
    file = tmp_path / "sheet.txt"
    file.write_text(LINES, encoding="utf-8")
    done = day("enter", str(file))
    assert done.code == 0
    assert done.words.endswith("4 lines kept. `diagnose day undo` takes them back.")
    assert len(kept().entries) == 4
    day("undo")
    assert not kept().entries


def test_a_file_with_a_slip_is_not_kept_at_all(day, kept, tmp_path):
    file = tmp_path / "sheet.txt"
    file.write_text(f"{LINES}xyzzy\n14:40 good; room 999 C\n", encoding="utf-8")
    done = day("enter", str(file))
    assert done.code == 1
    assert "line 5: 'xyzzy' is not understood" in done.words
    assert "line 6: " in done.words
    assert done.words.endswith("2 lines not understood; nothing was kept. Mend the file and enter it again.")
    assert not kept().entries


def test_undo_in_a_file(day, kept, tmp_path):
    file = tmp_path / "sheet.txt"
    file.write_text("14:05 good\n14:10 bad fog\nundo\n14:20 good\nq\nxyzzy\n", encoding="utf-8")
    assert day("enter", str(file)).code == 0
    assert [plate.moment.clock for plate in kept().plates] == ["14:05", "14:20"]


@pytest.mark.parametrize("what", ["enter", "import"])
def test_a_file_that_is_not_there(what, day, tmp_path):
    assert "cannot be read: No such file or directory" in day(what, str(tmp_path / "none.csv")).complaint


# The sheet, out and in -----------------------------------------------------


def test_the_sheet(day, tmp_path):
    page = tmp_path / "sheet.html"
    done = day("sheet", "-o", str(page), "--day", "2026-05-22")
    assert done.out == f"Written: {page}\n"
    text = page.read_text(encoding="utf-8")
    assert text.startswith("<!DOCTYPE html>")
    assert "://" not in text
    assert "is not a date" in day("sheet", "-o", str(page), "--day", "soon").complaint
    assert "cannot be written" in day("sheet", "-o", str(tmp_path / "no" / "sheet.html")).complaint


@pytest.mark.parametrize("form", ["json", "toml", "csv"])
def test_out_and_in_again(form, day, run, kept, tmp_path):
    day("enter", typed=LINES)
    day("set", "room_temperature=28 °C")
    file = tmp_path / f"book.{form}"
    assert day("export", str(file)).out == f"Written: {file}\n"
    other = str(tmp_path / "other.sqlite")
    done = run("--book", other, "day", "import", str(file))
    assert done.words == "5 entries read in. `diagnose day undo` takes them back."
    assert sorted(run("--book", other, "day", "list").out.splitlines()) == sorted(day("list").out.splitlines())
    again = run("--book", other, "day", "import", str(file))
    assert again.words.startswith("0 entries read in; 5 were there already.")
    run("--book", other, "day", "undo")
    assert len(json.loads(run("--book", other, "day", "export").out)["entries"]) == 0
    assert len(kept().entries) == 5


def test_export_of_some_days_and_without_notes(day, tmp_path):
    day("good", "--day", "2026-05-19", "--note", "secret one")
    day("good", "--note", "secret two", "--who", "Ada")
    out = json.loads(day("export", "--from", "2026-05-20").out)
    assert len(out["entries"]) == 1
    assert "secret two" in json.dumps(out)
    stripped = day("export", "--no-notes").out
    assert "secret" not in stripped
    assert "Ada" not in stripped
    assert len(json.loads(day("export", "--to", "2026-05-20").out)["entries"]) == 1
    assert day("export", "--form", "csv").out.count("\n") >= 3
    assert "is not a date" in day("export", "--from", "soon").complaint
    assert "must end in .json, .toml or .csv" in day("export", str(tmp_path / "book.txt")).complaint
    assert "cannot be written" in day("export", str(tmp_path / "no" / "book.json")).complaint


def test_an_import_with_a_slip_reads_nothing_in(day, kept, tmp_path):
    day("good")
    file = tmp_path / "book.json"
    text = day("export").out
    file.write_text(text.replace('"good"', '"burnt"'), encoding="utf-8")
    done = day("import", str(file))
    assert done.code == 1
    assert done.err
    assert len(kept().entries) == 1
    file.write_bytes(b"\xff\xfe\x00")
    assert day("import", str(file)).code == 1


# Learning ------------------------------------------------------------------


def test_learning_shows_both_rates_and_can_be_switched_and_begun_anew(day, stopped):
    day("bad", "comets")
    day("bad", "fog")
    assert "Nothing yet: a cure, a decisive check, or `diagnose day confirm` teaches it." in day("learning").words
    day("confirm", "1", "dirty-holder")
    shown = day("learning").words
    assert "Learned from 1 plate with a confirmed cause" in shown
    assert "% of faults here, " in shown
    assert "(1 confirmed)" in shown
    rows = json.loads(day("learning", "--json").out)
    assert rows["on"] is True
    leading = next(row for row in rows["rows"] if row["confirmed"])
    assert leading["studio"] > leading["book"]
    assert "The knowledge's own rates are used from now on." in day("learning", "off").words
    assert "Learning is off" in day("learning").words
    assert json.loads(day("learning", "--json").out)["on"] is False
    assert "Confirmed causes count again." in day("learning", "on").words
    stopped.go(1)
    assert "Learning begins anew." in day("learning", "reset").words
    assert "Learned from 0 plates" in day("learning").words
    stopped.go(1)
    day("bad", "fog")
    day("confirm", "3", "dirty-holder")
    assert "Learned from 1 plate" in day("learning").words


def test_what_was_learned_moves_the_next_diagnosis_until_it_is_switched_off(day, run, kept):
    def chance():
        day("bad", "comets", "--day", "2026-04-01")
        return kept().plates[0].given.causes.get("holder-and-camera/dirty-holder", 0.0)

    def told():
        out = json.loads(run("plate", "comets", "--keep", "--json").out)
        return {cause["id"]: cause["probability"] for cause in out["causes"]}["holder-and-camera/dirty-holder"]

    assert chance() > 0
    day("enter", "--day", "2026-04-02", typed="bad fog\n" * 8)
    for number in range(2, 10):
        day("confirm", str(number), "dirty-holder")
    learned = told()
    day("undo")
    day("learning", "off")
    assert learned > told()


# Anew, and the review ------------------------------------------------------


def test_the_archive_anew(day):
    day("enter", typed="bad fog\nbad comets\ngood\n")
    done = day("again")
    assert done.words.startswith("2 spoiled plates diagnosed anew")
    lines = [json.loads(line) for line in day("again", "--json").out.splitlines()]
    assert [line["number"] for line in lines] == [1, 2]


def test_the_reviews_options(day, tmp_path):
    day("enter", typed=LINES)
    brief, full = day("review"), day("review", "--full")
    assert brief.code == full.code == 0
    assert len(full.out) > len(brief.out)
    assert "Plates of 21 May 2026" in brief.words
    assert isinstance(json.loads(day("review", "--json").out), dict)
    page = tmp_path / "review.html"
    assert f"Written: {page}" in day("review", "2026-05-21", "--html", str(page)).out
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert "No plate in the book for that time." in day("review", "2026-05-01").words
    assert day("review", "--from", "2026-05-01", "--to", "2026-05-31").code == 0
    assert day("review", "--from", "2026-05-01").code == 0
    assert "'soon' is not a date" in day("review", "soon").complaint
    assert "say one day, or --from and --to; not both" in day("review", "2026-05-21", "--to", "2026-05-22").complaint
    assert "comes after --to" in day("review", "--from", "2026-05-22", "--to", "2026-05-21").complaint


def test_the_invented_day(run, private_book, tmp_path):
    page = tmp_path / "day.html"
    done = run("demo", "day", "--html", str(page))
    assert done.code == 0
    assert "nvented" in done.out
    assert page.exists()
    assert not private_book.exists()
