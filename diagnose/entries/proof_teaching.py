"""Can it be taught: does every look stand beside another, and does every equation come out even?"""

from collections.abc import Iterator

from diagnose.entries.equation import EquationError, read_equation
from diagnose.entries.read import Draft
from diagnose.errors import Problem

FEWEST_NAMES = 2


def neighbours(draft: Draft) -> Iterator[Problem]:
    """Every sign stands beside another one; each pair is told once, and no sign beside itself."""
    symptoms = draft.entries["symptoms"]
    pairs: set[frozenset[str]] = set()
    paired: set[str] = set()
    for name, symptom in symptoms.items():
        for number, near in enumerate(symptom.beside):
            file, line = draft.line("symptoms", name, "beside", number, "symptom")
            pair = frozenset((name, near.symptom))
            paired |= pair
            if len(pair) == 1:
                yield Problem(file, line, f"{name!r} stands beside itself", "name the other sign")
            elif pair in pairs:
                words = f"{name!r} beside {near.symptom!r} is told twice"
                yield Problem(file, line, words, "tell each pair once; both signs show it")
            pairs.add(pair)
    for name in symptoms:
        if name not in paired:
            file, line = draft.line("symptoms", name)
            words = f"the sign {name!r} stands beside no other"
            yield Problem(file, line, words, f"write [[{name}.beside]] with symptom, differs and from")


def names(draft: Draft) -> Iterator[Problem]:
    """Every sign goes by two names more, or says that the trade has none."""
    for name, symptom in draft.entries["symptoms"].items():
        if len({*symptom.synonyms, *symptom.period}) < FEWEST_NAMES and not symptom.few_names:
            file, line = draft.line("symptoms", name)
            words = f"the sign {name!r} goes by fewer than {FEWEST_NAMES} names besides its title"
            yield Problem(file, line, words, "write synonyms = [...], or few_names = true if the trade has none")


def equations(draft: Draft) -> Iterator[Problem]:
    """Every equation can be read and has the same atoms and the same charge on both sides."""
    for name, reaction in draft.entries["reactions"].items():
        if not reaction.equation:
            continue
        file, line = draft.line("reactions", name, "equation")
        try:
            uneven = read_equation(reaction.equation).uneven()
        except EquationError as error:
            fix = "write it such as AgNO3 + KI -> AgI (stays in the film) + KNO3; a charge as Fe^2+"
            yield Problem(file, line, f"the equation cannot be read: {error}", fix)
            continue
        if uneven:
            told = ", ".join(f"{what} {left} and {right}" for what, (left, right) in uneven.items())
            yield Problem(file, line, f"the equation does not balance: {told}", "count both sides again")
