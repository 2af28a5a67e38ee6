"""The chain of a cause joined to one plate: which of its steps were seen, why not a rival, what would change the answer."""

from dataclasses import dataclass

from diagnose import phrases
from diagnose.answer import Diagnosis
from diagnose.reasoning.explaining import Contrast, seen_as, why_not
from diagnose.teaching.mechanism import Chain, Step, chain_of
from diagnose.teaching.parting import Parting, partings

SAID = {
    "present": "you saw this",
    "unsure": "you may have seen this",
    "absent": "you did not see this",
    "": "look for this",
}


@dataclass(frozen=True)
class JoinedStep:
    """A step of the chain on this plate.

    Args:
        step: as it is taught
        seen: "present", "unsure", "absent", or "" where it was not told or nothing shows
        said: that in words; "" where nothing shows
    """

    step: Step
    seen: str
    said: str


@dataclass(frozen=True)
class Rival:
    """Why not another cause.

    Args:
        cause: the rival
        title: its title
        probability: what is believed of it
        ahead: whether it stands higher than the cause that was asked about
        because: the terms that put the higher of the two before the other, the weightiest first
        would_part: what parts the two and is not told yet
    """

    cause: str
    title: str
    probability: float
    ahead: bool
    because: tuple[Contrast, ...]
    would_part: tuple[Parting, ...]


@dataclass(frozen=True)
class Joined:
    """A chain on one plate.

    Args:
        chain: as it is taught
        probability: what is believed of the cause
        steps: each joined to what was seen
        fits: how the chain as a whole fits this plate, in one line
        rivals: the causes that were named against it
    """

    chain: Chain
    probability: float
    steps: tuple[JoinedStep, ...]
    fits: str
    rivals: tuple[Rival, ...]


def joined(cause: str, diagnosis: Diagnosis, rivals: tuple[str, ...] = ()) -> Joined:
    """The chain of a cause on a diagnosed plate.

    Args:
        cause: "stage/name"
        diagnosis: what is believed of the plate
        rivals: causes the student holds against it
    """
    knowledge = diagnosis.craft.knowledge
    chain = chain_of(cause, knowledge)
    steps = []
    for step in chain.steps:
        seen = seen_as(step.shows or None, diagnosis.facts)
        steps.append(JoinedStep(step, seen, SAID[seen] if step.shows else ""))
    against = tuple(_rival(cause, rival, diagnosis) for rival in rivals if rival != cause)
    return Joined(chain, diagnosis.posterior.causes[cause], tuple(steps), _fits(steps), against)


def _fits(steps: list[JoinedStep]) -> str:
    shown = list({step.step.shows: step for step in steps if step.step.shows}.values())
    seen = [step.step.sign for step in shown if step.seen == "present"]
    missing = [step.step.sign for step in shown if step.seen == "absent"]
    if not shown:
        return "Nothing of it shows on a plate by itself."
    count = f"{len(shown)} sign{'s' if len(shown) != 1 else ''} along the chain"
    head = f"Of {count} you saw {len(seen)}: {'; '.join(seen)}." if seen else f"Of {count} you have told none so far."
    if missing:
        return f"{head} The chain breaks at what you looked for and did not see: {'; '.join(missing)}."
    return head


def _rival(cause: str, rival: str, diagnosis: Diagnosis) -> Rival:
    knowledge, chances = diagnosis.craft.knowledge, diagnosis.posterior.causes
    books = diagnosis.account(cause, rival)
    ahead = chances[rival] > chances[cause]
    higher, lower = (rival, cause) if ahead else (cause, rival)
    facts = diagnosis.facts
    open_still = [
        part for part in partings(cause, rival, knowledge) if not (part.kind == "fact" or facts.answered(part.name))
    ]
    contrasts = why_not(books[higher], books[lower])
    return Rival(rival, knowledge.causes[rival].title, chances[rival], ahead, contrasts, tuple(open_still))


def contrast_words(contrast: Contrast, diagnosis: Diagnosis) -> str:
    """One term in which two causes differ, in words.

    Args:
        contrast: the term
        diagnosis: for the plate and the titles
    """
    receipt = contrast.for_second or contrast.for_first
    return phrases.receipt(receipt, diagnosis.facts, diagnosis.craft.knowledge) if receipt else ""
