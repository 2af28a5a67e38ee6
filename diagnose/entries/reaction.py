"""A reaction behind a fault: one plain line of chemistry, and its equation where one is honest."""

from dataclasses import dataclass

from diagnose.entries.shapes import Entry, Note, Sentence, ShortSentence, Sources


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Reaction(Entry):
    """What happens between the substances; `equation.read_equation` says how the equation is written."""

    from_: Sources
    title: ShortSentence
    says: Sentence
    equation: Note = ""
