"""Faults as old books tell them: as the knowledge stands, and with the book that tells them taken out of it.

The first says how well the knowledge holds what it was written from; only the second says anything of a book never read.
"""

import json
import math

from diagnose.facts import Facts
from tests.measure import figures
from tests.measure.baselines import flat_craft, scored_one_cause
from tests.measure.leaving_out import families, without
from tests.measure.ready import PARTS, believe, book_entries, facts_of, plain_craft, ranked, scored, scored_entry
from tests.measure.tables import between, table

MANY = 3  # entries that blame more causes than this are also scored apart
FIGURES = (
    ("top-1", figures.top1),
    ("top-3", figures.top3),
    ("top-10", figures.top10),
    ("MRR", figures.mean_reciprocal_rank),
    ("log score", figures.log_score),
    ("calibration", figures.calibration),
)


def run(knowledge, plates, seed):
    """All tables of this part; every entry is used, whatever `plates` says."""
    del plates
    entries = book_entries()
    craft = plain_craft(knowledge)
    own = {group: plain_craft(without(knowledge, group)) for group in groups_of(entries, knowledge)}
    strict = {group: plain_craft(without(knowledge, group, strict=True)) for group in own}
    crafts = {
        "as it stands": lambda _: craft,
        "without its author": lambda entry: own[group_of(entry, knowledge)],
        "without, strictly": lambda entry: strict[group_of(entry, knowledge)],
    }
    scores = {name: [scored_entry(entry, pick(entry)) for entry in entries] for name, pick in crafts.items()}
    level = {group: flat_craft(craft.knowledge) for group, craft in own.items()}
    scores["without, flat priors"] = [scored_entry(entry, level[group_of(entry, knowledge)]) for entry in entries]
    scores["without, naive Bayes"] = [scored_one_cause(entry, own[group_of(entry, knowledge)]) for entry in entries]
    scores["told nothing"] = [scored(Facts(), entry["expect"], craft) for entry in entries]
    overall(entries, scores, seed)
    few = [len(entry["expect"]) <= MANY for entry in entries]
    overall(entries, scores, seed, few, f"entries with at most {MANY} expected causes")
    overall(entries, scores, seed, [not item for item in few], f"entries with more than {MANY}")
    share_of_ceiling(entries, scores)
    by_source(entries, scores, knowledge, seed)
    lost_links(entries, crafts, scores)
    for name in ("as it stands", "without its author"):
        table(
            f"handbook, {name}: claims by band",
            ("said", "claims", "mean claim", "right"),
            figures.by_band(figures.claims_of(scores[name])),
        )
        misses(entries, crafts, scores, name)


def group_of(entry, knowledge):
    """The sources that count as one with the entry's own."""
    return families(knowledge).get(entry["source"], frozenset({entry["source"]}))


def groups_of(entries, knowledge):
    return sorted({group_of(entry, knowledge) for entry in entries}, key=sorted)


def overall(entries, scores, seed, chosen=None, words="every entry"):
    rows = []
    for name, found in scores.items():
        part = [item for item, used in zip(found, chosen or [True] * len(found), strict=True) if used]
        if part:
            told = [between(figure(part), figures.interval(part, figure, seed)) for _, figure in FIGURES]
            rows.append((name, len(part), *told))
    if rows:
        table(f"handbook, {words} (95 % intervals over entries)", ("knowledge", "n", *(n for n, _ in FIGURES)), rows)


def look_of(entry):
    """What was coded of an entry, so that equal looks compare equal."""
    return json.dumps([entry.get(part) for part in PARTS], sort_keys=True)


def share_of_ceiling(entries, scores):
    looks = [(look_of(entry), entry["expect"]) for entry in entries]
    best = {count: figures.ceiling(looks, count) for count in (1, 3)}
    alike = len(looks) - len({look for look, _ in looks})
    rows = [
        (
            name,
            *(
                cell
                for count in (1, 3)
                for cell in (figures.top(found, count), figures.top(found, count) / best[count])
            ),
        )
        for name, found in scores.items()
    ]
    table(
        f"handbook, ceiling from entries coded alike ({alike} of {len(looks)} look like an earlier one): "
        f"top-1 {best[1]:.3f}, top-3 {best[3]:.3f}",
        ("knowledge", "top-1", "of ceiling", "top-3", "of ceiling"),
        rows,
    )


def by_source(entries, scores, knowledge, seed):
    rows = []
    for group in groups_of(entries, knowledge):
        inside = [number for number, entry in enumerate(entries) if entry["source"] in group]
        before = [scores["as it stands"][number] for number in inside]
        after = [scores["without its author"][number] for number in inside]
        rows.append(
            (
                " ".join(sorted({entries[number]["source"] for number in inside})),
                len(inside),
                figures.top1(before),
                figures.top3(before),
                figures.top1(after),
                between(figures.top3(after), figures.interval(after, figures.top3, seed)),
                *(figure(after) for _, figure in FIGURES[2:]),
            )
        )
    head = ("author taken out", "n", "held top-1", "held top-3", *(name for name, _ in FIGURES))
    table('handbook, by author; "held" is the knowledge as it stands', head, sorted(rows, key=lambda row: -row[1]))


def lost_links(entries, crafts, scores):
    """How much of a loss is that the rest of the books does not link any expected cause to what is seen."""
    rows = []
    for name, pick in crafts.items():
        bare, linked, unlinked = 0, [], []
        for entry, found in zip(entries, scores[name], strict=True):
            causes = pick(entry).knowledge.causes
            left = [{link.symptom for link in causes[cause].symptom} for cause in entry["expect"] if cause in causes]
            seen = {symptom for symptom, answer in entry["symptoms"].items() if answer is not False}
            bare += not any(left)
            (linked if any(symptoms & seen for symptoms in left) else unlinked).append(found)
        cells = [cell for part in (unlinked, linked) for cell in (len(part), figures.top3(part) if part else math.nan)]
        rows.append((name, bare, *cells))
    head = ("knowledge", "no symptom left", "none of those told", "their top-3", "one of those told", "their top-3")
    table("handbook, entries by what their expected causes are still linked to", head, rows)


def misses(entries, crafts, scores, name):
    found = scores[name]
    missed = [n for n, item in enumerate(found) if not item.ranks or item.ranks[0] > 3]
    print(f"\nhandbook, {name}: {len(missed)} not among three (place; * held as it stands)")
    for number in missed:
        entry = entries[number]
        craft = crafts[name](entry)
        facts = facts_of(entry, craft.knowledge)
        place = found[number].ranks[0] if found[number].ranks else "refused" if facts is None else "unknown cause"
        held = scores["as it stands"][number].ranks
        mark = "*" if held and held[0] <= 3 else " "
        got = "" if facts is None else ", ".join(ranked(believe(facts, craft))[:3])
        wanted = ", ".join(entry["expect"][:MANY])
        print(f"{mark} {entry['id']:32} {place!s:>4}  wanted {wanted}; got {got}")
