"""Can it be taught: does every look stand beside another, and does every equation come out even?"""

from collections.abc import Iterator

from diagnose.entries.equation import EquationError, read_equation
from diagnose.entries.read import Draft
from diagnose.errors import Problem, near

FEWEST_NAMES = 2


def neighbours(draft: Draft) -> Iterator[Problem]:
    """Every sign stands beside another one; each pair is told once, and no sign beside itself."""
    symptoms = draft.entries["symptoms"]
    pairs: set[frozenset[str]] = set()
    paired: set[str] = set()
    for name, symptom in symptoms.items():
        for number, other in enumerate(symptom.beside):
            file, line = draft.line("symptoms", name, "beside", number, "symptom")
            pair = frozenset((name, other.symptom))
            paired |= pair
            if len(pair) == 1:
                yield Problem(file, line, f"{name!r} stands beside itself", "name the other sign")
            elif pair in pairs:
                words = f"{name!r} beside {other.symptom!r} is told twice"
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


def first_shows(draft: Draft) -> Iterator[Problem]:
    """Where a cause is said to show first is a step of the work, and none before its stage."""
    steps = draft.entries["attributes"]["first_seen"].values if "first_seen" in draft.entries["attributes"] else {}
    order = {step: number for number, step in enumerate(steps)}
    for name, cause in draft.entries["causes"].items():
        if cause.first_shows is None:
            continue
        file, line = draft.line("causes", name, "first_shows")
        stage = draft.entries["stages"].get(name.partition("/")[0])
        if cause.first_shows not in order:
            fix = near(cause.first_shows, order) or "see first_seen in attributes.toml"
            yield Problem(file, line, f"no step of the work called {cause.first_shows!r}", fix)
        elif stage is not None and order[cause.first_shows] < order.get(stage.first_step, 0):
            words = f"it shows at the step {cause.first_shows!r}, before its stage begins"
            yield Problem(file, line, words, "move the cause, or name a later step")
