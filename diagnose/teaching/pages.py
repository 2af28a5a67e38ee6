"""What there is to teach of one cause or one sign, gathered from the knowledge."""

from diagnose import phrases
from diagnose.entries.knowledge import Knowledge
from diagnose.teaching.mechanism import chain_of
from diagnose.teaching.page_shapes import (
    CauseOfSign,
    CausePage,
    Doing,
    LookAlike,
    Neighbour,
    SignOfCause,
    SymptomPage,
    Told,
)
from diagnose.teaching.parting import NOTHING_TOLD, best_check, partings

KINDS = {
    "chemistry": "chemistry: what stands in the bottles or happens in the film",
    "light": "light: too much, too little, or where it should not be",
    "hand": "the hand: how the work was done",
}


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
    names = [alike.cause for alike in entry.look_alike] + [alike.cause for alike in entry.treat_alike]
    for name, other in knowledge.causes.items():
        named = {alike.cause for alike in other.look_alike} | {alike.cause for alike in other.treat_alike}
        names += [name] if cause in named else []
    return tuple(look_alike(cause, name, knowledge) for name in dict.fromkeys(names))


def look_alike(cause: str, other: str, knowledge: Knowledge) -> LookAlike:
    """What parts a cause from another one, whether or not the files name them as look-alikes.

    Args:
        cause: "stage/name"
        other: the one it may be taken for
        knowledge: the craft
    """
    pair = ((knowledge.causes[cause], other), (knowledge.causes[other], cause))
    said = [alike.apart for entry, name in pair for alike in entry.look_alike if alike.cause == name]
    same = [alike.why for entry, name in pair for alike in entry.treat_alike if alike.cause == name]
    title, parted_by = knowledge.causes[other].title, partings(cause, other, knowledge)
    return LookAlike(other, title, tuple(dict.fromkeys(said)), " ".join(dict.fromkeys(same)), parted_by)


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
    """Every caution its remedies, checks and stage may call for: a page knows no darkroom, so it leaves none out."""
    entry = knowledge.causes[cause]
    done = [link.do for link in entry.remedy] + [link.do for link in entry.prevent]
    remedies = [knowledge.remedies[name] for name in done]
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
