"""Many plates at once: the same answers as one by one, bad lines kept apart, and an archive diagnosed anew."""

import json
import pickle
from dataclasses import asdict, replace

import pytest

from diagnose import bulk
from diagnose.answer import diagnose
from diagnose.bulk import ERROR_STARTS, Job, again, answer_lines, rediagnose
from diagnose.daybook.book import Book, Given, Moment, PlateEntry
from diagnose.daybook.learning import rates_from
from diagnose.record import answer_record

PLATES = [
    {"symptoms": {"comets": {"place": "scattered"}, "fog": False}, "conditions": {"room_temperature": "28 °C"}},
    {"symptoms": ["unsharp"], "checks": {"loupe-on-the-plate": "doubled"}, "story": "a windy day"},
    {"symptoms": {"fog": "unsure"}, "tried": [{"remedy": "mix-fresh-developer", "result": "no-change"}]},
    {"conditions": {"collodion_made": "2026-04-01"}, "day": "2026-05-01"},
    {},
]
MOVED, STRONG = "holder-and-camera/movement", "fixing/fixer-too-strong"


@pytest.fixture(scope="module")
def job(knowledge):
    return Job(knowledge)


@pytest.fixture(scope="module")
def brief(knowledge):
    return Job(knowledge, brief=True)


def lines(*plates):
    return [
        (number, plate if isinstance(plate, bytes) else json.dumps(plate).encode())
        for number, plate in enumerate(plates, 1)
    ]


def answers(job, *plates):
    return [json.loads(line) for line in answer_lines(job, lines(*plates))]


@pytest.fixture(scope="module")
def plates(knowledge):
    """The plates above that this knowledge can read."""
    made = next((name for name, item in knowledge.conditions.items() if item.unit == "d"), None)
    return [{**plate, "conditions": {made: "2026-04-01"}} if plate.get("day") else plate for plate in PLATES]


@pytest.mark.parametrize("mode", ["sitter-waiting", "find-out"])
def test_the_full_answer_is_that_of_a_single_plate(knowledge, plates, mode):
    """To the last figure and in the same order; only the engine's name tells the two apart."""
    found = answer_lines(Job(knowledge, mode), lines(*plates))
    for plate, line in zip(plates, found, strict=True):
        single = asdict(answer_record(diagnose(plate, knowledge, mode=mode)))
        assert line == json.dumps(single | {"engine": "plain Python"}).encode()


@pytest.mark.parametrize("mode", ["sitter-waiting", "find-out"])
def test_the_brief_answer_is_a_part_of_the_full_one(knowledge, plates, mode):
    full, brief = (answers(Job(knowledge, mode, brief=short), *plates) for short in (False, True))
    for whole, short in zip(full, brief, strict=True):
        assert short["knowledge_version"] == whole["knowledge_version"] == knowledge.version
        assert short["causes"] == [{key: cause[key] for key in ("id", "probability")} for cause in whole["causes"]]
        assert short["none_of_these"] == whole["none_of_these"]["probability"]
        first = whole["next_action"]
        assert short["next_action"] == (first and {"id": first["id"], "kind": first["kind"]})


def test_a_brief_answer_draws_up_no_account(brief, monkeypatch):
    def never(*_):
        raise AssertionError

    monkeypatch.setattr("diagnose.answer.accounts", never)
    monkeypatch.setattr("diagnose.answer.questions", never)
    assert "error" not in answers(brief, PLATES[0])[0]


def test_an_id_comes_back_first(brief):
    found = answer_lines(
        brief, lines({"id": "no. 7 é", **PLATES[0]}, {"symptoms": ["comets"], "id": 7}, {"id": 8, "x": 1})
    )
    assert [json.loads(line)["id"] for line in found] == ["no. 7 é", 7, 8]
    assert found[1].startswith(b'{"id": 7, ')
    assert found[2].startswith(ERROR_STARTS)
    assert all(line.isascii() for line in found)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (b"oops", "not JSON"),
        (b"[1, 2]", "a plate is a table"),
        (b'"comets"', "a plate is a table"),
        (b'{"symptoms": ["no-such-sign"]}', "no symptom called 'no-such-sign'"),
        (b'{"symptoms": {"fog": "\xff"}}', "not UTF-8"),
        (b'{"symptoms": "\\ud800"}', "wrong shape"),
        (b'{"colour": 1}', "there is no such part"),
        (b'{"id": [1]}', "id:"),
        (b'{"id": true}', "id:"),
        (b"[" * 100_000, "not JSON"),
        (b'{"conditions": {"room_temperature": NaN}}', "room_temperature"),
        (b'{"id": ' + b"9" * 10_000 + b"}", "not JSON"),
        (b" " * (bulk.LONGEST_LINE + 1), "far too long"),
    ],
)
def test_a_bad_line_says_why_and_stops_nothing(brief, line, words):
    before, found, after = answers(brief, PLATES[0], line, PLATES[0])
    assert found["line"] == 2
    assert words in found["error"]
    assert "\n" not in found["error"]
    assert before == after
    assert "causes" in before


def test_a_fault_of_ours_on_one_plate_costs_only_that_plate(brief, monkeypatch):
    real = bulk._brief

    def faulty(facts, job):
        return 1 / 0 if "fog" in facts.present else real(facts, job)

    monkeypatch.setattr(bulk, "_brief", faulty)
    good, bad = answers(brief, {"symptoms": ["comets"]}, {"symptoms": ["fog"]})
    assert "causes" in good
    assert "ZeroDivisionError" in bad["error"]
    assert "report" in bad["error"]


def test_a_job_travels_without_what_can_be_worked_out_again(knowledge):
    job = Job(knowledge, "find-out", "us", brief=True, rates=rates_from([MOVED] * 9, knowledge))
    assert job.craft.model.books
    sent = pickle.dumps(job)
    there = pickle.loads(sent)
    assert len(sent) < 2_000_000
    assert (there.mode, there.measures, there.brief) == ("find-out", "us", True)
    assert answer_lines(there, lines(*PLATES[:3])) == answer_lines(job, lines(*PLATES[:3]))
    assert answer_lines(there, lines(PLATES[1])) != answer_lines(
        Job(knowledge, "find-out", "us", brief=True), lines(PLATES[1])
    )


# An archive diagnosed anew --------------------------------------------------


def entry(number, told, given=None, outcome="spoiled"):
    return PlateEntry(number=number, moment=Moment(number, "2026-05-01"), outcome=outcome, told=told, given=given)


def archive():
    """Plates of days far apart, so that each stands by itself."""
    unsharp = {"symptoms": {"unsharp": True}}
    plates = (
        entry(1, unsharp, Given("old", {MOVED: 0.4, STRONG: 0.3})),
        entry(2, unsharp, Given("old", {STRONG: 0.8, MOVED: 0.1})),
        entry(3, unsharp),
        entry(4, {}, outcome="good"),
        entry(5, {"symptoms": {"no-such-sign": True}}, Given("old", {STRONG: 0.5})),
        entry(6, unsharp, Given("old", {"fixing/gone-since": 0.5})),
    )
    return Book(tuple(replace(plate, moment=Moment(n, f"{1900 + n}-05-01")) for n, plate in enumerate(plates)))


def test_every_spoiled_plate_is_diagnosed_anew(knowledge, job):
    found = rediagnose(archive(), job)
    now = diagnose({"symptoms": {"unsharp": True}}, knowledge).ranking[0]
    assert found.version == knowledge.version
    assert [plate.number for plate in found.plates] == [1, 2, 3, 5, 6]
    assert [plate.number for plate in found.same] == [1]
    assert [plate.number for plate in found.changed] == [2, 6]
    assert [plate.number for plate in found.first_time] == [3]
    assert [plate.number for plate in found.unread] == [5]
    second, unread = found.plates[1], found.plates[3]
    assert (second.old, second.old_chance, second.new, second.new_chance) == (STRONG, 0.8, *now)
    assert "no-such-sign" in unread.problem
    assert (unread.old, unread.new) == (STRONG, "")


def test_dates_on_labels_are_read_by_the_day_of_the_plate(knowledge, job):
    made = next(name for name, item in knowledge.conditions.items() if item.unit == "d")
    plate = entry(1, {"symptoms": {"fog": True}, "conditions": {made: "2026-04-01"}})
    found = again(job, [(plate, Book())])[0]
    assert not found.problem


def test_any_way_of_spreading_gives_the_same(knowledge, job):
    few = replace(archive().plates[0])
    book = Book(
        tuple(replace(few, number=n, moment=Moment(n, f"{1900 + n}-05-01")) for n in range(1, 2 * bulk.CHUNK + 6))
    )
    sizes = []

    def spread(work, pieces):
        for piece in pieces:
            sizes.append(len(piece))
            yield work(job, piece)

    assert rediagnose(book, job, spread) == rediagnose(book, job)
    assert sizes == [bulk.CHUNK, bulk.CHUNK, 5]
    assert rediagnose(Book(), job).plates == ()


def test_the_studios_rates_are_used(knowledge, job):
    plate = entry(1, {"symptoms": {"unsharp": True}})
    there = Job(knowledge, rates=rates_from([MOVED] * 60, knowledge))
    assert again(there, [(plate, Book())])[0].new_chance > again(job, [(plate, Book())])[0].new_chance + 0.1


def test_the_earlier_plates_of_the_session_are_heard(knowledge, job):
    """And nothing of an earlier session is, nor what came after."""
    fogged = {"symptoms": {"fog": True}}
    day = [entry(n, fogged) for n in range(1, 6)]
    later = [replace(plate, number=n, moment=Moment(10**6 + n, "2026-05-08")) for n, plate in enumerate(day, 6)]
    found = rediagnose(Book((*day, *later)), job).plates
    one = rediagnose(Book((day[0],)), job).plates[0]
    chances = [(plate.new, plate.new_chance) for plate in found]
    assert chances[0] == chances[5] == (one.new, one.new_chance)
    assert chances[:5] == chances[5:]
    assert chances[4] != chances[0]
    standing = job.craft.knowledge.causes[chances[4][0]]
    assert standing.scope == "standing"
    assert chances[4][1] > chances[0][1]
