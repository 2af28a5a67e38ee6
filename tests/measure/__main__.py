"""How good is it? `python -m tests.measure [part] [--plates N] [--seed S] [--knowledge FOLDER]`, from the project's root."""

import argparse
import hashlib
import time

from diagnose import read_knowledge
from tests.measure import handbook, learning, mutations, questions, robustness, serial, simulated, unlisted
from tests.measure.ready import TESTS, book_entries, cases, links_in

PARTS = {
    "handbook": handbook.run,
    "simulated": simulated.run,
    "questions": questions.run,
    "robustness": robustness.run,
    "unlisted": unlisted.run,
    "serial": serial.run,
    "learning": learning.run,
    "mutations": mutations.run,
}


def main(arguments=None):
    parser = argparse.ArgumentParser(prog="python -m tests.measure", description=__doc__)
    parser.add_argument("part", nargs="?", default="all", choices=[*PARTS, "all"])
    parser.add_argument("--plates", type=int, help="simulated plates of each kind, or mutations of each kind")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--knowledge", help="another knowledge folder")
    given = parser.parse_args(arguments)
    knowledge = read_knowledge(given.knowledge)
    books = hashlib.sha256((TESTS / "handbook" / "entries.toml").read_bytes()).hexdigest()[:16]
    print(
        f"knowledge {knowledge.version}: {len(knowledge.causes)} causes, {len(knowledge.symptoms)} symptoms, "
        f"{links_in(knowledge)} links; book entries {books}: {len(book_entries())}; cases: {len(cases())}; seed {given.seed}"
    )
    for name, part in PARTS.items():
        if given.part in {name, "all"}:
            started = time.perf_counter()
            part(knowledge, given.plates, given.seed)
            print(f"\n({name}: {time.perf_counter() - started:.0f} s)")


if __name__ == "__main__":
    main()
