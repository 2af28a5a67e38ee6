"""What stands on the page of a cause or of a sign: values that screens and the printed handbook both render."""

from dataclasses import dataclass

from diagnose.teaching.mechanism import Chain
from diagnose.teaching.parting import Parting


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
