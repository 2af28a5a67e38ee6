"""Faults as old handbooks tell them, coded blind, through the tool as it stands.

`pytest tests/handbook -n 0 -s` prints the counts, each book's share, and every miss.
"""

import tomllib
from collections import Counter
from pathlib import Path

import pytest

import diagnose

ENTRIES = Path(__file__).resolve().parent / "entries.toml"
PROJECT = ENTRIES.parents[2]
PARTS = ("symptoms", "conditions", "checks", "tried")
# A little under what was measured, 100 and 133 of 152, so that a step back shows; 60 in three is what was set out to reach.
FIRST_AT_LEAST, IN_THREE_AT_LEAST, SET_OUT_FOR = 97, 129, 60
SOURCES_AT_LEAST = 8


@pytest.fixture(scope="module")
def entries():
    return tomllib.loads(ENTRIES.read_text("utf-8"))["entry"]


@pytest.fixture(scope="module")
def answers(entries, knowledge):
    return [diagnose.diagnose({part: entry[part] for part in PARTS if part in entry}, knowledge) for entry in entries]


def leading(answer, count=3):
    return [cause for cause, _ in answer.ranking[:count]]


def test_a_cause_the_book_gives_is_among_the_first_three(entries, answers, knowledge):
    first = [set(leading(answer, 1)) & set(entry["expect"]) for entry, answer in zip(entries, answers, strict=True)]
    three = [set(leading(answer)) & set(entry["expect"]) for entry, answer in zip(entries, answers, strict=True)]
    report(entries, answers, first, three, knowledge)
    assert sum(map(bool, three)) >= SET_OUT_FOR
    assert sum(map(bool, first)) >= FIRST_AT_LEAST
    assert sum(map(bool, three)) >= IN_THREE_AT_LEAST


def report(entries, answers, first, three, knowledge):
    count = len(entries)
    told, hits, near = Counter(), Counter(), Counter()
    for entry, one, some in zip(entries, first, three, strict=True):
        told[entry["source"]] += 1
        hits[entry["source"]] += bool(one)
        near[entry["source"]] += bool(some)
    commonest = set(leading(diagnose.diagnose({}, knowledge)))
    blind = sum(bool(commonest & set(entry["expect"])) for entry in entries)
    print(f"\nbook's cause first: {hits.total()} of {count}; among three: {near.total()} of {count}")
    print(f"the three commonest causes, whatever was told: {blind} of {count}\n")
    for source, number in told.most_common():
        print(f"{source:20} {number:3} entries   first {hits[source]:3}   in three {near[source]:3}")
    print()
    for entry, answer, some in zip(entries, answers, three, strict=True):
        if not some:
            place = min(place for place, (cause, _) in enumerate(answer.ranking, 1) if cause in entry["expect"])
            print(f"missed {entry['id']} ({entry['source']}): {entry['look']}")
            print(
                f"       expected {', '.join(entry['expect'])}, best at place {place}; came {', '.join(leading(answer))}"
            )


def test_it_is_the_real_engine(answers):
    pytest.importorskip("durable_rules_engine", reason="durable-rules cannot be loaded here; see README")
    assert {answer.firing.engine for answer in answers} == {"durable-rules"}
    assert all(answer.firing.trace for answer in answers)


def test_many_books_and_none_unknown(entries, knowledge):
    named = {entry["source"] for entry in entries}
    assert len(named) >= SOURCES_AT_LEAST
    assert not named - set(knowledge.sources)


def test_entries_are_whole(entries, knowledge):
    assert len(entries) >= 150
    assert len({entry["id"] for entry in entries}) == len(entries)
    for entry in entries:
        assert entry["symptoms"], entry["id"]
        assert entry["expect"], entry["id"]
        assert not set(entry["expect"]) - set(knowledge.causes), entry["id"]


def test_no_entry_is_known_to_the_program_or_the_knowledge(entries):
    """Nothing could be made to suit one entry by its name or by the words of its look."""
    written = [path for folder in ("diagnose", "knowledge") for path in (PROJECT / folder).rglob("*.*")]
    text = "\n".join(path.read_text("utf-8") for path in written if path.suffix in {".py", ".toml"})
    for entry in entries:
        assert entry["id"] not in text
        assert len(entry["look"].split()) < 6 or entry["look"] not in text, entry["id"]


def test_an_entry_turned_about_is_a_miss(entries, knowledge):
    """The score is no gift: the same looks, each scored against the next entry's causes, mostly miss."""
    turned = [*entries[40:], *entries[:40]]
    hits = 0
    for entry, other in zip(entries, turned, strict=True):
        told = {part: entry[part] for part in PARTS if part in entry}
        hits += bool(set(leading(diagnose.diagnose(told, knowledge))) & set(other["expect"]))
    print(f"\nagainst another entry's causes: {hits} of {len(entries)} in three")
    assert hits < IN_THREE_AT_LEAST / 3
