"""What parts two causes: checks that come out otherwise, signs one shows and the other does not, facts about the day."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from diagnose import phrases
from diagnose.entries.cause import CheckLink
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.observed import Check
from diagnose.facts import Facts

# Judged: how far apart two causes must stand in a check or a sign before a student is told to look there.
APART = 0.4
MOST = 3
FREE = 4.0  # minutes after which a check's telling is worth half: a look comes before a proving plate; judged
SEEN = {"listed": "named in a book, how often is not said"}  # a word of the files that says little by itself
NOTHING_TOLD, NO_WORD = Facts(), "says nothing of it"


@dataclass(frozen=True)
class Parting:
    """One thing that parts two causes.

    Args:
        kind: "check", "sign", "place" or "fact"
        name: of the check, sign or fact
        words: what to look at
        first: what it says of the first cause
        second: what it says of the second
        apart: how far it sets them apart, 0 to 1
    """

    kind: Literal["check", "sign", "place", "fact"]
    name: str
    words: str
    first: str
    second: str
    apart: float


def partings(first: str, second: str, knowledge: Knowledge, most: int = MOST) -> tuple[Parting, ...]:
    """What parts two causes best, from the knowledge alone: checks, signs and places, facts about the day.

    Args:
        first: a cause
        second: another one
        knowledge: the craft
        most: how many of each kind at most
    """
    return (
        *_checks_apart(first, second, knowledge)[:most],
        *_signs_apart(first, second, knowledge)[:most],
        *_facts_apart(first, second, knowledge)[:most],
    )


def outcomes_of(cause: str, check: str, knowledge: Knowledge) -> dict[str, float]:
    """How a check comes out under a cause alone: outcome -> share; what no link claims is the normal outcome's.

    Links that hold under some circumstance only are left out: of the day nothing is known here.

    Args:
        cause: "stage/name"
        check: its name
        knowledge: the craft
    """
    entry = knowledge.checks[check]
    shares = {outcome.id: 0.0 for outcome in entry.outcome}
    for link in _plain_links(knowledge.causes[cause].check):
        if link.check == check:
            shares[link.outcome] += knowledge.strengths.seen[link.seen]
    total = sum(shares.values())
    if total > 1:
        return {outcome: share / total for outcome, share in shares.items()}
    normal = next(outcome.id for outcome in entry.outcome if outcome.normal)
    shares[normal] += 1 - total
    return shares


def best_check(cause: str, others: Iterable[str], knowledge: Knowledge) -> tuple[str, str, float] | None:
    """The check that sets a cause apart from all of some others best, and how it comes out for it.

    Args:
        cause: "stage/name"
        others: its rivals
        knowledge: the craft

    Returns:
        check, outcome and how far it sets them apart; None where no check does
    """
    rivals = [other for other in others if other != cause]
    best: tuple[float, str, str, float] | None = None
    for name in _checks_of((cause,), knowledge):
        mine = outcomes_of(cause, name, knowledge)
        outcome = max(mine, key=lambda one: mine[one])
        theirs = [outcomes_of(rival, name, knowledge)[outcome] for rival in rivals]
        apart = mine[outcome] - sum(theirs) / len(theirs) if theirs else mine[outcome]
        worth = apart * _ease(knowledge.checks[name])
        if apart >= APART and (best is None or worth > best[0]):
            best = worth, name, outcome, apart
    return best[1:] if best else None


def outcome_words(check: str, shares: Mapping[str, float], knowledge: Knowledge) -> str:
    """How a check comes out, in words: its likeliest outcome, and how likely where it is not nearly sure.

    Args:
        check: its name
        shares: from `outcomes_of`
        knowledge: the craft
    """
    outcome = max(shares, key=lambda one: shares[one])
    said = next(entry.says for entry in knowledge.checks[check].outcome if entry.id == outcome)
    return said if shares[outcome] >= 0.75 else f"{said} (mostly)"


def seen_words(word: str) -> str:
    """How often a sign shows, as it is said.

    Args:
        word: from the knowledge
    """
    return SEEN.get(word, word.replace("-", " "))


def _ease(check: Check) -> float:
    return FREE / (FREE + check.minutes)


def _plain_links(links: Iterable[CheckLink]) -> list[CheckLink]:
    return [link for link in links if not link.when]


def _checks_of(causes: Iterable[str], knowledge: Knowledge) -> list[str]:
    """Checks that some of the causes say something about."""
    named = [link.check for cause in causes for link in _plain_links(knowledge.causes[cause].check)]
    return list(dict.fromkeys(named))


def _checks_apart(first: str, second: str, knowledge: Knowledge) -> list[Parting]:
    found: list[tuple[float, Parting]] = []
    for name in _checks_of((first, second), knowledge):
        check = knowledge.checks[name]
        left, right = outcomes_of(first, name, knowledge), outcomes_of(second, name, knowledge)
        apart = sum(abs(left[outcome] - right[outcome]) for outcome in left) / 2
        words = outcome_words(name, left, knowledge), outcome_words(name, right, knowledge)
        if apart >= APART and words[0] != words[1]:
            found.append((apart * _ease(check), Parting("check", name, check.title, *words, round(apart, 3))))
    return [parting for _, parting in sorted(found, key=lambda pair: (-round(pair[0], 9), pair[1].name))]


def _signs_apart(first: str, second: str, knowledge: Knowledge) -> list[Parting]:
    seen = knowledge.strengths.seen
    left, right = ({link.symptom: link for link in knowledge.causes[cause].symptom} for cause in (first, second))
    found = []
    for name in dict.fromkeys((*left, *right)):
        title = knowledge.symptoms[name].title
        mine, theirs = left.get(name), right.get(name)
        chances = [seen[link.seen] if link else 0.0 for link in (mine, theirs)]
        apart = abs(chances[0] - chances[1])
        words = [seen_words(link.seen) if link else "not one of its signs" for link in (mine, theirs)]
        if apart >= APART:
            found.append(Parting("sign", name, title, words[0], words[1], round(apart, 3)))
        elif mine and theirs and min(chances) >= APART:
            for attribute, values in mine.attributes.items():
                others = theirs.attributes.get(attribute, ())
                if others and not set(values) & set(others):
                    entry = knowledge.attributes[attribute]
                    said = [" or ".join(entry.values[value] for value in side) for side in (values, others)]
                    words_of = f"{title}: {entry.ask}"
                    found.append(Parting("place", name, words_of, said[0], said[1], round(min(chances), 3)))
    return sorted(found, key=lambda parting: (-parting.apart, parting.name))


def _facts_apart(first: str, second: str, knowledge: Knowledge) -> list[Parting]:
    """Facts about the day that speak for one cause and not for the other, the strongest first."""
    sides = [_facts_for(cause, knowledge) for cause in (first, second)]
    found = []
    for tests in dict.fromkeys((*sides[0], *sides[1])):
        here, there = (side.get(tests) for side in sides)
        if (here is None) == (there is None):
            continue  # it speaks for both
        weight, why = here or there or (1.0, "")
        said, name = f"speaks for it: {phrases.lower_first(why)}", " and ".join(tests)
        words = phrases.tests_in_plain(name, NOTHING_TOLD, knowledge)
        first_says, second_says = (said, NO_WORD) if here else (NO_WORD, said)
        found.append(Parting("fact", name, words, first_says, second_says, round(1 - 1 / weight, 3)))
    return sorted(found, key=lambda parting: (-parting.apart, parting.name))


def _facts_for(cause: str, knowledge: Knowledge) -> dict[tuple[str, ...], tuple[float, str]]:
    weight = knowledge.strengths.weight
    return {
        shift.when: (weight[shift.weight], shift.why)
        for shift in knowledge.causes[cause].likelier
        if weight[shift.weight] >= weight.get("moderately", 2)
    }
