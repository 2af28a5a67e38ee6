"""What there is to teach of one cause or one sign, as a value that screens and the printed handbook both render."""

from dataclasses import dataclass

from diagnose import phrases
from diagnose.entries.knowledge import Knowledge
from diagnose.teaching.chain import Chain, chain_of
from diagnose.teaching.parting import NOTHING_TOLD, Parting, best_check, partings

KINDS = {
    "chemistry": "chemistry: what stands in the bottles or happens in the film",
    "light": "light: too much, too little, or where it should not be",
    "hand": "the hand: how the work was done",
}


@dataclass(frozen=True)
class LookAlike:
    """A cause this one is taken for.

    Args:
        cause: its name
        title: its title
        apart: what parts them, in one or two sentences, from either side; none where only checks tell
        alike: why nothing parts them, where that is so
        parted_by: checks, signs and facts of the knowledge that come out otherwise; "first" is the page's own cause
    """

    cause: str
    title: str
    apart: tuple[str, ...]
    alike: str
    parted_by: tuple[Parting, ...]


@dataclass(frozen=True)
class Doing:
    """A remedy on a page.

    Args:
        remedy: its name
        title: what to do
        say: how
        see: what will be seen
        stop: when to stop
        surely: how surely it works, a word; "" for a prevention
        when: when it helps, in words; "" for always
        cost: what it costs, in words
        source: where it comes from
    """

    remedy: str
    title: str
    say: str
    see: str
    stop: str
    surely: str
    when: str
    cost: str
    source: tuple[str, ...]


@dataclass(frozen=True)
class Told:
    """A sentence with its source.

    Args:
        says: the sentence
        source: where it comes from
    """

    says: str
    source: tuple[str, ...]


@dataclass(frozen=True)
class SignOfCause:
    """How a cause shows on the plate.

    Args:
        symptom: the sign
        title: its title
        seen: how often this cause alone shows it, a word
        where: place, direction, colour and so on, in words
        why: why
        source: where it comes from
    """

    symptom: str
    title: str
    seen: str
    where: str
    why: str
    source: tuple[str, ...]


@dataclass(frozen=True)
class CausePage:
    """A cause, as it is taught.

    Args:
        chain: from the step of the work to the mark on the plate
        usual: how common it is, a word
        kind: chemistry, light or the hand, in words
        stands_in: what has it until it is put right; "" for a slip on one plate
        signs: how it shows, the surest first
        look_alikes: what it is taken for
        dissent: where the sources differ
        remedies: what to do, best first
        prevention: what keeps it away
        practise: an exercise of our own, judged and from no book
        cautions: names of cautions, the dangerous ones first
    """

    chain: Chain
    usual: str
    kind: str
    stands_in: str
    signs: tuple[SignOfCause, ...]
    look_alikes: tuple[LookAlike, ...]
    dissent: tuple[Told, ...]
    remedies: tuple[Doing, ...]
    prevention: tuple[Doing, ...]
    practise: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Neighbour:
    """A look that stands near another one.

    Args:
        symptom: its name
        title: its title
        look: its look in plain words
        differs: what parts the two
        source: where that comes from
    """

    symptom: str
    title: str
    look: str
    differs: str
    source: tuple[str, ...]


@dataclass(frozen=True)
class CauseOfSign:
    """A cause as one sign knows it.

    Args:
        cause: its name
        title: its title
        stage: title of the stage it is born in
        seen: how often it shows the sign, a word
        usual: how common it is, a word
        where: where on the plate, in words
        why: why it shows so
        check: what tells it from the other causes of the sign best, and how that comes out; "" where nothing does
        source: where the link comes from
    """

    cause: str
    title: str
    stage: str
    seen: str
    usual: str
    where: str
    why: str
    check: str
    source: tuple[str, ...]


@dataclass(frozen=True)
class SymptomPage:
    """A sign, as it is taught.

    Args:
        symptom: its name
        title: its title
        look: in plain words
        synonyms: what else it is called
        period: what the old books call it
        on_negative: how it looks on a negative, where that is the other way about
        first_seen: when it is usually first seen, in words
        neighbours: what stands near it, and how they differ
        causes: every cause that shows it, the likeliest first
    """

    symptom: str
    title: str
    look: str
    synonyms: tuple[str, ...]
    period: tuple[str, ...]
    on_negative: str
    first_seen: str
    neighbours: tuple[Neighbour, ...]
    causes: tuple[CauseOfSign, ...]


def cause_page(cause: str, knowledge: Knowledge) -> CausePage:
    """The page of a cause.

    Args:
        cause: "stage/name"
        knowledge: the craft

    Raises:
        KeyError: no such cause
    """
    entry = knowledge.causes[cause]
    seen = knowledge.strengths.seen
    links = sorted(entry.symptom, key=lambda link: -seen[link.seen])
    return CausePage(
        chain=chain_of(cause, knowledge),
        usual=entry.usual,
        kind=KINDS[entry.kind],
        stands_in=entry.stands_in or "",
        signs=tuple(
            SignOfCause(
                link.symptom,
                knowledge.symptoms[link.symptom].title,
                link.seen,
                described(link.attributes, knowledge),
                link.why,
                link.from_,
            )
            for link in links
        ),
        look_alikes=look_alikes(cause, knowledge),
        dissent=tuple(Told(dissent.says, dissent.from_) for dissent in entry.dissent),
        remedies=tuple(_doing(link.do, link.surely, link.when, knowledge) for link in entry.remedy),
        prevention=tuple(_doing(link.do, "", (), knowledge) for link in entry.prevent),
        practise=entry.practise,
        cautions=_cautions(cause, knowledge),
    )


def symptom_page(symptom: str, knowledge: Knowledge) -> SymptomPage:
    """The page of a sign.

    Args:
        symptom: its name
        knowledge: the craft

    Raises:
        KeyError: no such sign
    """
    entry = knowledge.symptoms[symptom]
    return SymptomPage(
        symptom,
        entry.title,
        entry.look,
        entry.synonyms,
        entry.period,
        entry.on_negative,
        knowledge.attributes["first_seen"].values[entry.first_seen],
        neighbours_of(symptom, knowledge),
        causes_of(symptom, knowledge),
    )


def neighbours_of(symptom: str, knowledge: Knowledge) -> tuple[Neighbour, ...]:
    """What stands near a sign, told by it or by the other one.

    Args:
        symptom: its name
        knowledge: the craft
    """
    pairs = [(near.symptom, near) for near in knowledge.symptoms[symptom].beside]
    for name, entry in knowledge.symptoms.items():
        pairs += [(name, near) for near in entry.beside if near.symptom == symptom]
    return tuple(
        Neighbour(name, knowledge.symptoms[name].title, knowledge.symptoms[name].look, near.differs, near.from_)
        for name, near in pairs
    )


def causes_of(symptom: str, knowledge: Knowledge) -> tuple[CauseOfSign, ...]:
    """Every cause that shows a sign, the likeliest first, each with the check that tells it from the rest.

    Args:
        symptom: its name
        knowledge: the craft
    """
    seen, usual = knowledge.strengths.seen, knowledge.strengths.usual
    links = [
        (seen[link.seen] * usual[entry.usual], name, link)
        for name, entry in knowledge.causes.items()
        for link in entry.symptom
        if link.symptom == symptom
    ]
    links.sort(key=lambda item: (-item[0], item[1]))
    unlike = dict.fromkeys(name for _, name, _ in links)
    found = []
    for _, name, link in links:
        best = best_check(name, unlike, knowledge)
        found.append(
            CauseOfSign(
                name,
                knowledge.causes[name].title,
                knowledge.stages[knowledge.stage_of(name)].title,
                link.seen,
                knowledge.causes[name].usual,
                described(link.attributes, knowledge),
                link.why,
                phrases.finding(f"{best[0]}={best[1]}", knowledge) if best else "",
                link.from_,
            )
        )
    return tuple(found)


def look_alikes(cause: str, knowledge: Knowledge) -> tuple[LookAlike, ...]:
    """What a cause is taken for: its own look-alikes first, then those that name it.

    Args:
        cause: "stage/name"
        knowledge: the craft
    """
    entry = knowledge.causes[cause]
    said: dict[str, list[str]] = {alike.cause: [alike.apart] for alike in entry.look_alike}
    for name, other in knowledge.causes.items():
        for alike in other.look_alike:
            if alike.cause == cause:
                said.setdefault(name, []).append(alike.apart)
    same = {alike.cause: alike.why for alike in entry.treat_alike}
    same |= {n: alike.why for n, other in knowledge.causes.items() for alike in other.treat_alike if alike.cause == cause}
    return tuple(
        LookAlike(
            name,
            knowledge.causes[name].title,
            tuple(dict.fromkeys(said.get(name, ()))),
            same.get(name, ""),
            partings(cause, name, knowledge),
        )
        for name in dict.fromkeys((*said, *same))
    )


def described(attributes: dict[str, tuple[str, ...]], knowledge: Knowledge) -> str:
    """Place, direction, colour and so on, in words.

    Args:
        attributes: attribute -> values
        knowledge: the craft
    """
    return "; ".join(
        " or ".join(knowledge.attributes[name].values[value] for value in values) for name, values in attributes.items()
    )


def cited(source: tuple[str, ...], knowledge: Knowledge) -> tuple[str, ...]:
    """Sources in full: author, title, year and place; honest marks in their own words.

    Args:
        source: as the knowledge names them, such as "vogel_lehrbuch p. 319"
        knowledge: the craft
    """
    found = []
    for named in source:
        key, _, place = named.partition(" ")
        entry = knowledge.sources[key]
        parts = [entry.author, entry.title, entry.year, place] if entry.kind != "mark" else [entry.title, place]
        found.append(", ".join(part for part in parts if part))
    return tuple(dict.fromkeys(found))


def _doing(name: str, surely: str, when: tuple[str, ...], knowledge: Knowledge) -> Doing:
    entry = knowledge.remedies[name]
    cost = [phrases.minutes(entry.minutes)]
    if entry.plates:
        cost.append(f"{entry.plates} extra plate{'s' if entry.plates > 1 else ''}")
    if not entry.reversible:
        cost.append("cannot be undone")
    helps = phrases.tests_in_plain(" and ".join(when), NOTHING_TOLD, knowledge) if when else ""
    return Doing(name, entry.title, entry.say, entry.see, entry.stop, surely, helps, ", ".join(cost), entry.from_)


def _cautions(cause: str, knowledge: Knowledge) -> tuple[str, ...]:
    """Every caution that any remedy, check or the stage of a cause may call for: a page knows no darkroom, so it leaves none out."""
    entry = knowledge.causes[cause]
    remedies = [knowledge.remedies[link.do] for link in (*entry.remedy, *entry.prevent)]
    asked = {name for remedy in remedies for name in remedy.caution}
    asked |= {name for link in entry.check for name in knowledge.checks[link.check].caution}
    adds = {part for remedy in remedies for part in remedy.adds}
    stages = {knowledge.stage_of(cause), *(remedy.stage for remedy in remedies)}
    names = [
        name
        for name, caution in knowledge.cautions.items()
        if name in asked or adds & set(caution.adds) or stages & set(caution.stages)
    ]
    return tuple(sorted(names, key=lambda name: knowledge.cautions[name].level != "danger"))
