"""Can the recipes of stock solutions be measured out and mixed, and is it safe to do so?"""

import math
import re
from collections.abc import Callable, Iterator

from diagnose.bench.quantity import Quantity, read_quantity, read_strength
from diagnose.bench.recipe import strengths as strengths_of
from diagnose.entries.read import Draft
from diagnose.entries.solution import Solution
from diagnose.errors import DiagnoseError, Problem, near
from diagnose.units import print_amount

# What a name has in it, and the cautions of which one must stand beside the recipe.
CAUTIONS_FOR = (
    (r"nitric acid", ("nitric-acid",)),
    (r"(?<!nitric )acid", ("acetic-acid", "nitric-acid")),
    (r"acid|cyanide", ("cyanide-and-acid",)),
    (r"cyanide", ("cyanide",)),
    (r"silver", ("silver-nitrate",)),
    (r"ether|alcohol|spirit|collodion", ("ether-and-alcohol",)),
    (r"cadmium", ("cadmium-salts",)),
    (r"hypo|thiosulphate", ("hypo",)),
    (r"ferrous|iron", ("iron-developer",)),
)
CAUTIONS_OF_KIND = {"varnish": "varnish-heat", "silver-bath": "silver-waste", "plate-cleaner": "glass-edges"}
LIQUIDS_AT_LEAST, LIQUIDS_AT_MOST = 0.7, 1.1  # of what the recipe makes; liquids shrink together and solids swell them


def amounts(draft: Draft) -> Iterator[Problem]:
    """Amounts that cannot be read, or do not make up the volume."""
    for name, solution in draft.entries["solutions"].items():
        unreadable = list(_unreadable(name, solution, draft))
        yield from unreadable
        seen: set[str] = set()
        for number, item in enumerate(solution.part):
            if item.name in seen:
                file, line = draft.line("solutions", name, "part", number, "name")
                yield Problem(file, line, f"{item.name!r} is here twice", "put the two together, or rename one")
            seen.add(item.name)
        if not unreadable and solution.part and solution.makes:
            yield from _volumes(name, solution, draft)


def cautions(draft: Draft) -> Iterator[Problem]:
    """Parts without the caution that belongs to them, and what no recipe here may hold."""
    for name, solution in draft.entries["solutions"].items():
        file, line = draft.line("solutions", name, "caution")
        names = [each for item in solution.part for each in (item.name, *item.holds)]
        for words, wanted in CAUTIONS_FOR:
            found = [
                each
                for each in (*names, *(told.of for told in solution.strength))
                if re.search(rf"\b({words})\b", each)
            ]
            if found and not set(wanted) & set(solution.caution):
                yield Problem(
                    file, line, f"{found[0]!r} stands here without its caution", f"add caution = [{wanted[0]!r}]"
                )
        of_kind = CAUTIONS_OF_KIND.get(solution.kind)
        if of_kind and solution.part and of_kind not in solution.caution:
            yield Problem(
                file, line, f"a {solution.kind} stands here without its caution", f"add caution = [{of_kind!r}]"
            )
        if any("cyanide" in each.casefold() for each in (*names, *(item.what for item in solution.part))):
            yield Problem(file, line, "a recipe with cyanide", "tell its strengths only; licensed hands have their own")
        if any("ammonia" in each for each in names) and any("silver" in each for each in (solution.kind, *names)):
            yield Problem(file, line, "silver with ammonia, which can explode", "leave the ammonia out")


def mixing(draft: Draft) -> Iterator[Problem]:
    """Recipes without steps or volume, steps without their parts, and acid that does not go into water."""
    for name, solution in draft.entries["solutions"].items():
        file, line = draft.line("solutions", name)
        if bool(solution.part) != bool(solution.step) or bool(solution.part) != bool(solution.makes):
            words = "a recipe wants its parts, its steps and the volume it makes"
            yield Problem(file, line, words, "write all three, or none and [[strength]] only")
        elif not solution.part and not solution.strength:
            yield Problem(file, line, f"{name!r} tells nothing", "write [[part]] and [[step]], or [[strength]]")
        else:
            yield from _steps(name, solution, draft)


def strengths(draft: Draft) -> Iterator[Problem]:
    """Strengths of something that does not go in, and recipes outside every strength they tell."""
    for name, solution in draft.entries["solutions"].items():
        if any(True for _ in _unreadable(name, solution, draft)) or (solution.part and not solution.makes):
            continue
        made = {amount.label: amount for amount in strengths_of(solution.parts, solution.volume)}
        within: dict[str, bool] = {}
        for number, told in enumerate(solution.strength):
            file, line = draft.line("solutions", name, "strength", number)
            least, most = read_strength(told.least), read_strength(told.most)
            ours = made.get(told.of)
            if least.unit != most.unit or (ours and ours.unit != least.unit):
                unit = ours.unit if ours else least.unit
                yield Problem(file, line, f"the strengths of {told.of!r} are not in one unit", f"write them in {unit}")
            elif least.value > most.value:
                words = f"the least strength of {told.of!r} is above the most"
                yield Problem(file, line, words, "put the lower one first")
            elif solution.part and ours is None:
                fix = near(told.of, made) or f"use one of: {', '.join(made)}"
                yield Problem(file, line, f"no part here gives {told.of!r}", fix)
            elif ours:
                fits = least.value <= ours.value <= most.value
                within[told.of] = within.get(told.of, False) or fits
        for substance, fits in within.items():
            if not fits:
                file, line = draft.line("solutions", name, "strength")
                strong = print_amount(made[substance].value, made[substance].unit)
                words = f"the recipe gives {strong} of {substance!r}, outside every strength told"
                yield Problem(file, line, words, "mend the amount, or add the strength with its source")


def _unreadable(name: str, solution: Solution, draft: Draft) -> Iterator[Problem]:
    """Every amount and strength that cannot be read, or is of the wrong kind for its place."""
    for place, read, text in _written(solution):
        file, line = draft.line("solutions", name, *place)
        try:
            quantity = read(text)
        except DiagnoseError as error:
            words, _, fix = str(error).partition("; ")
            yield Problem(file, line, words, fix or 'write it like "12 g" or "118 mL"')
            continue
        part = next((solution.part[n] for n in place if isinstance(n, int) and place[-1] == "amount"), None)
        if place == ("makes",) and (quantity.unit != "mL" or quantity.up_to):
            yield Problem(file, line, f"{text!r} is no volume a recipe makes", 'write it like "1 L" or "500 mL"')
        elif part and part.state == "solid" and quantity.unit != "g":
            yield Problem(file, line, f"{part.name!r} is a solid and is weighed", "write it in g")
        elif part and part.holds and quantity.unit != "mL":
            yield Problem(file, line, f"{part.name!r} holds something, so it is a liquid", "write it in mL")


def _written(solution: Solution) -> Iterator[tuple[tuple[str | int, ...], Callable[[str], Quantity], str]]:
    """Every amount and strength: its place, what reads it, its text."""
    if solution.makes:
        yield ("makes",), read_quantity, solution.makes
    for number, item in enumerate(solution.part):
        yield ("part", number, "amount"), read_quantity, item.amount
        yield from ((("part", number, "holds"), read_strength, text) for text in item.holds.values())
    for number, told in enumerate(solution.strength):
        yield ("strength", number, "least"), read_strength, told.least
        yield ("strength", number, "most"), read_strength, told.most


def _volumes(name: str, solution: Solution, draft: Draft) -> Iterator[Problem]:
    makes = solution.volume
    for number, part in enumerate(solution.parts):
        if part.up_to and not math.isclose(part.amount, makes):
            file, line = draft.line("solutions", name, "part", number, "amount")
            words = f"{part.name!r} fills up to {print_amount(part.amount, 'mL')}"
            yield Problem(file, line, words, f"but `makes` says {print_amount(makes, 'mL')}: mend one of the two")
    liquids = sum(part.amount for part in solution.parts if part.unit == "mL" and not part.up_to)
    filled = any(part.up_to for part in solution.parts)
    least, most = (0.0, makes) if filled else (LIQUIDS_AT_LEAST * makes, LIQUIDS_AT_MOST * makes)
    if not least <= liquids <= most:
        file, line = draft.line("solutions", name, "makes")
        words = f"the liquids come to {print_amount(liquids, 'mL')}, but {print_amount(makes, 'mL')} is to be made"
        yield Problem(file, line, words, "mend the amounts, or what it makes")


def _steps(name: str, solution: Solution, draft: Draft) -> Iterator[Problem]:
    known = {item.name for item in solution.part}
    first: dict[str, int] = {}
    for number, step in enumerate(solution.step):
        for part in step.puts_in:
            first.setdefault(part, number)
            if part not in known:
                file, line = draft.line("solutions", name, "step", number, "puts_in")
                yield Problem(file, line, f"no part called {part!r}", near(part, known) or "write its [[part]] first")
    wet = min((step for part, step in first.items() if "water" in part), default=None)
    for number, item in enumerate(solution.part):
        file, line = draft.line("solutions", name, "part", number, "name")
        if item.name not in first:
            yield Problem(file, line, f"no step puts in {item.name!r}", "name it in `puts_in` of its step")
        elif re.search(r"\bacid\b", item.name) and (wet is None or first[item.name] <= wet):
            yield Problem(file, line, f"{item.name!r} does not go into water", "put water in by an earlier step")
