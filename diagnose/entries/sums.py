"""Sums by name: those of the bench, and every stock solution scaled to the volume that is wanted."""

from collections.abc import Mapping
from functools import partial

from diagnose.bench import acids
from diagnose.bench.recipe import LEAST, MOST, coarse, exchanged, scaled, with_acid_at_hand
from diagnose.bench.sum import Asked, BenchError, Sum, Worked
from diagnose.bench.table import SUMS
from diagnose.entries.solution import Ingredient, Solution
from diagnose.errors import near, printable

ACIDS = {"acetic acid": "acetic"}  # nitric acid is thinned beforehand to what the recipe says: `thin-acid`


def find_sum(name: str, solutions: Mapping[str, Solution]) -> Sum:
    """A sum of the bench or a solution by its name.

    Args:
        name: words joined with hyphens
        solutions: from the knowledge

    Raises:
        BenchError: neither is called that
    """
    if name in SUMS:
        return SUMS[name]
    if name in solutions:
        return sum_of(name, solutions[name])
    hint = near(name[:60], [*SUMS, *solutions]) or "`diagnose bench` lists them"
    raise BenchError(f"no sum or solution called {printable(name[:40])!r}; {hint}")


def sum_of(name: str, solution: Solution) -> Sum:
    """A solution as a sum: it asks the volume, and of what strength or form the bottles at hand are.

    Args:
        name: of the solution
        solution: its recipe
    """
    volume = Asked(
        name="volume",
        ask="How much do you want to make?",
        unit="mL",
        range=(LEAST, MOST),
        usual=None if solution.part else LEAST,  # nobody is asked how much of what is never made
    )
    asks = [volume]
    for part in solution.part:
        asks += _about(part)
    return Sum(
        name=name,
        title=solution.title,
        asks=tuple(asks),
        work=partial(_mixed, solution),
        formula="every part in proportion to the volume"
        + (f"; the book's own words for it: {solution.book}" if solution.book else ""),
        holds=solution.use,
        accuracy="as well as balance and cylinder; liquids that shrink together are made up to the mark where it says so",
        sources=solution.from_,
        cautions=solution.caution,
    )


def _about(part: Ingredient) -> list[Asked]:
    """What is asked of one part: which form is at hand, what percent its acid is."""
    found = []
    if part.instead:
        forms = {_word(form): form for form in (part.name, *(other.name for other in part.instead))}
        found.append(
            Asked(
                name=_script(part.name),
                ask=f"Which {part.name} is at hand?",
                choices=forms,
                usual=_word(part.name),
                usual_because="as the recipe has it",
            )
        )
    if part.percent and part.name in ACIDS:
        most = acids.ACIDS[ACIDS[part.name]].most
        found.append(
            Asked(
                name=f"{_script(part.name)}_percent",
                ask=f"What percent is your {part.name}, by its label?",
                unit="%",
                range=(0.1, most),
                usual=part.percent,
                usual_because="as the recipe has it",
            )
        )
    return found


def _mixed(solution: Solution, volume: float, **taken: float | str) -> Worked:
    if not solution.part:
        raise BenchError(f"{solution.title}. {solution.use}")
    parts, changed = [], []
    for item, part in zip(solution.part, solution.parts, strict=True):
        form = taken.get(_script(item.name))
        other = next((other for other in item.instead if _word(other.name) == form), None)
        chosen = exchanged(part, other.name, other.times) if other else part
        changed += [other.name] if other else []
        percent = taken.get(f"{_script(item.name)}_percent")
        if percent not in {None, chosen.percent}:
            chosen = with_acid_at_hand(chosen, float(percent))
            changed.append(f"{item.name} of {percent:g} %")
        parts.append(chosen)
    amounts = scaled(parts, solution.volume, volume)
    return Worked(
        amounts,
        tuple(f"{step.do} You will see: {step.see}" if step.see else step.do for step in solution.step),
        (
            *(f"Already reckoned for {what}, as you told: take the amount above as it is." for what in changed),
            *coarse(amounts),
            *solution.beware,
        ),
        keeps=solution.keeps,
    )


def _script(name: str) -> str:
    return name.replace(" ", "_").replace("-", "_")


def _word(name: str) -> str:
    return name.replace(" ", "-")
