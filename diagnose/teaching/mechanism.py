"""The mechanism of a cause as a chain: from a step of the work to the mark on the plate."""

from dataclasses import dataclass

from diagnose.entries.cause import Cause, SymptomLink
from diagnose.entries.knowledge import Knowledge

OFTEN_ENOUGH = 0.5  # a sign shown less often is no fair answer to "where does it first show": judged


@dataclass(frozen=True)
class Chemistry:
    """One plain line of chemistry behind a step.

    Args:
        name: of the reaction in the knowledge
        title: its short name
        says: the plain line
        equation: as it is written, "" where none is honest
        source: where it comes from
    """

    name: str
    title: str
    says: str
    equation: str
    source: tuple[str, ...]


@dataclass(frozen=True)
class Step:
    """One step of the chain.

    Args:
        number: from 1
        words: what happens
        chemistry: the reactions behind it, none where nothing reacts
        source: where it comes from
        shows: the sign it brings about, "" where nothing shows yet
        sign: the sign's title
    """

    number: int
    words: str
    chemistry: tuple[Chemistry, ...]
    source: tuple[str, ...]
    shows: str = ""
    sign: str = ""


@dataclass(frozen=True)
class Chain:
    """How a cause comes about.

    Args:
        cause: "stage/name"
        title: the cause's
        brief: the cause in one line
        born: the stage of the work it is born in
        born_words: the stage's title
        first_shows: the step of the work at which it first shows
        first_shows_words: that step in words
        first_signs: what shows there, by name
        steps: in order
    """

    cause: str
    title: str
    brief: str
    born: str
    born_words: str
    first_shows: str
    first_shows_words: str
    first_signs: tuple[str, ...]
    steps: tuple[Step, ...]

    @property
    def sources(self) -> tuple[str, ...]:
        """Every source of the chain, once, in the order of its steps."""
        found = [source for step in self.steps for source in step.source]
        found += [source for step in self.steps for line in step.chemistry for source in line.source]
        return tuple(dict.fromkeys(found))


def chain_of(cause: str, knowledge: Knowledge) -> Chain:
    """The chain of a cause.

    Args:
        cause: "stage/name"
        knowledge: the craft

    Raises:
        KeyError: no such cause
    """
    entry, born = knowledge.causes[cause], knowledge.stage_of(cause)
    shows, signs = first_shown(cause, knowledge)
    steps = tuple(
        Step(
            number,
            step.then,
            tuple(chemistry(name, knowledge) for name in step.chemistry),
            step.from_,
            step.shows or "",
            knowledge.symptoms[step.shows].title if step.shows else "",
        )
        for number, step in enumerate(entry.step, start=1)
    )
    when = knowledge.attributes["first_seen"].values
    return Chain(cause, entry.title, entry.brief, born, knowledge.stages[born].title, shows, when[shows], signs, steps)


def chemistry(name: str, knowledge: Knowledge) -> Chemistry:
    """One reaction of the knowledge.

    Args:
        name: its name
        knowledge: the craft
    """
    reaction = knowledge.reactions[name]
    return Chemistry(name, reaction.title, reaction.says, reaction.equation, reaction.from_)


def first_shown(cause: str, knowledge: Knowledge) -> tuple[str, tuple[str, ...]]:
    """The earliest step of the work at which a cause fairly often shows, and the signs that show there.

    Args:
        cause: "stage/name"
        knowledge: the craft
    """
    entry = knowledge.causes[cause]
    order = list(knowledge.attributes["first_seen"].values)
    seen = knowledge.strengths.seen
    links = [link for link in entry.symptom if seen[link.seen] >= OFTEN_ENOUGH] or _most_seen(entry, seen)
    if entry.first_shows:  # said outright, where the usual step of its signs would mislead
        return entry.first_shows, tuple(link.symptom for link in links)
    steps = [(earliest_step(link, cause, knowledge), link.symptom) for link in links]
    first = min((step for step, _ in steps), key=order.index)
    return first, tuple(sign for step, sign in steps if step == first)


def earliest_step(link: SymptomLink, cause: str, knowledge: Knowledge) -> str:
    """The earliest step at which a sign of this cause can be seen: never before the cause is born.

    Args:
        link: the sign, as this cause shows it
        cause: "stage/name"
        knowledge: the craft
    """
    order = list(knowledge.attributes["first_seen"].values)
    born = order.index(knowledge.stages[knowledge.stage_of(cause)].first_step)
    symptom = knowledge.symptoms[link.symptom]
    told = sorted(map(order.index, link.first_seen or (symptom.first_seen,)))
    return order[next((place for place in told if place >= born), max(told[-1], born))]


def _most_seen(entry: Cause, seen: dict[str, float]) -> list[SymptomLink]:
    most = max(seen[link.seen] for link in entry.symptom)
    return [link for link in entry.symptom if seen[link.seen] == most]
