"""Are the sums of the bench given what they ask?"""

import re
from collections.abc import Iterator, Mapping

from diagnose.bench.sum import Asked, BenchError
from diagnose.bench.table import SUMS
from diagnose.entries.observed import ELSE, USUAL, Condition, conditions_in
from diagnose.entries.read import Draft
from diagnose.entries.remedy import Remedy
from diagnose.entries.sums import find_sum
from diagnose.errors import DiagnoseError, Problem, near
from diagnose.units import UNITS, UnitError, accepted, convert, read_amount


def sums(draft: Draft) -> Iterator[Problem]:
    """Doses with their cautions, and conditions that are worked out: known sums, given what they ask in units that fit."""
    for name, remedy in draft.entries["remedies"].items():
        if remedy.dose:
            yield from _uses("remedies", name, "dose", remedy.dose, remedy.uses, draft)
            yield from _cautions(name, remedy, draft)
            continue
        for field, said in (("uses", "what its dose uses"), ("dose_when", "when its dose is given")):
            if getattr(remedy, field):
                file, line = draft.line("remedies", name, field)
                yield Problem(file, line, f"{name!r} says {said}, but has no dose", "write dose = ...")
    for name, entry in draft.entries["conditions"].items():
        if entry.reckoned_by:
            yield from _uses("conditions", name, "reckoned_by", entry.reckoned_by, entry.uses, draft)
            yield from _result(name, entry, draft)
            yield from _second_hand(name, entry, draft)
        elif entry.uses or entry.result:
            file, line = draft.line("conditions", name)
            yield Problem(
                file, line, f"{name!r} says what it is worked out from, but not how", "write reckoned_by = ..."
            )


def _uses(kind: str, name: str, field: str, called: str, uses: Mapping[str, str], draft: Draft) -> Iterator[Problem]:
    file, line = draft.line(kind, name, field)
    try:
        sum_ = find_sum(called, draft.entries["solutions"])
    except BenchError as error:
        words, _, fix = str(error).partition("; ")
        yield Problem(file, line, words, fix)
        return
    asks = {item.name: item for item in sum_.asks}
    for given, use in uses.items():
        at = draft.line(kind, name, "uses", given)
        if given not in asks:
            yield Problem(
                *at, f"the sum {called!r} asks no {given!r}", near(given, asks) or f"it asks: {', '.join(asks)}"
            )
            continue
        for part in use.split(ELSE, 1):
            if part == USUAL and asks[given].usual is not None:
                continue
            if fault := _fault(asks[given], part, draft):
                yield Problem(*at, *fault)
    for item in asks.values():
        if item.usual is None and item.name not in uses:
            yield Problem(file, line, f"the sum {called!r} asks {item.name!r}, which `uses` does not give", item.ask)


def _cautions(name: str, remedy: Remedy, draft: Draft) -> Iterator[Problem]:
    """What the sum warns of stands beside the remedy too; and a dose depends on conditions alone."""
    file, line = draft.line("remedies", name, "dose")
    try:
        wanted = find_sum(remedy.dose, draft.entries["solutions"]).cautions
    except BenchError:
        return
    for caution in wanted:
        if caution not in remedy.caution:
            yield Problem(
                file, line, f"the dose of {name!r} wants the caution {caution!r}", "add it to caution = [...]"
            )
    file, line = draft.line("remedies", name, "dose_when")
    for words in remedy.dose_when:
        if re.fullmatch(r"[a-z-]+|.* (found|seen).*", words):
            yield Problem(
                file, line, f"a dose cannot wait for {words!r}", "use a test on a condition, such as fixer is hypo"
            )


def _fault(asked: Asked, use: str, draft: Draft) -> tuple[str, str] | None:
    """What is wrong with one use, and what to do; None if nothing is."""
    entry = draft.entries["conditions"].get(use)
    if asked.choices:
        if entry and not entry.answers:
            return f"{use!r} is no choice", f"the sum knows: {', '.join(asked.choices)}"
        answers = set(entry.answers) if entry else {use}
        strange = sorted(answers - set(asked.choices))
        words = f"{use!r} gives {strange[0]!r}" if entry and strange else f"no answer {use!r}"
        return (words, f"the sum knows: {', '.join(asked.choices)}") if strange else None
    if entry:
        fits = _kind(entry.unit) == _kind(asked.unit)
        return None if fits else (f"{use!r} is no amount in {asked.unit}", accepted(asked.unit))
    try:
        wrong = asked.complaint(read_amount(use, asked.unit))
    except UnitError as error:
        hint = near(use, draft.entries["conditions"])
        return f"{use!r} is neither a condition nor an amount", hint or str(error)
    return (f"{use!r}: {wrong}", "mend the amount") if wrong else None


def _result(name: str, entry: Condition, draft: Draft) -> Iterator[Problem]:
    """Worked with ordinary amounts, the sum gives the wanted result in a unit that fits."""
    file, line = draft.line("conditions", name, "result")
    if entry.kind != "quantity":
        yield Problem(file, line, f"{name!r} is worked out, but is no amount", 'write kind = "quantity"')
        return
    sum_ = SUMS.get(entry.reckoned_by)
    if sum_ is None:
        if entry.reckoned_by in draft.entries["solutions"]:
            words = f"{name!r} cannot be worked out from the solution {entry.reckoned_by!r}"
            yield Problem(file, line, words, "name a sum of the bench")
        return
    try:
        worked = sum_.reckon({asked: _ordinary(sum_.asked(asked), use, draft) for asked, use in entry.uses.items()})
    except DiagnoseError as error:
        yield Problem(file, line, f"{name!r} cannot be worked out from ordinary amounts", str(error))
        return
    units = {amount.name: amount.unit for amount in worked.amounts}
    if entry.result not in units:
        yield Problem(file, line, f"the sum {sum_.name!r} gives no {entry.result!r}", f"it gives: {', '.join(units)}")
    elif entry.unit.casefold() in UNITS and _kind(entry.unit) != _kind(units[entry.result]):
        yield Problem(file, line, f"{entry.result!r} is in {units[entry.result]}", f"but {name!r} is in {entry.unit}")


def _second_hand(name: str, entry: Condition, draft: Draft) -> Iterator[Problem]:
    """A condition is worked out from what is told: in one step, so that no order and no circle matters."""
    for given, use in zip(entry.uses, conditions_in(entry.uses), strict=True):
        other = draft.entries["conditions"].get(use)
        if other and other.reckoned_by:
            file, line = draft.line("conditions", name, "uses", given)
            words = f"{name!r} is worked out from {use!r}, which is worked out itself"
            yield Problem(file, line, words, "use what is told instead")


def _ordinary(asked: Asked, use: str, draft: Draft) -> float | str:
    use = use.partition(ELSE)[0]
    entry: Condition | None = draft.entries["conditions"].get(use)
    if entry is None:
        return use if asked.choices else read_amount(use, asked.unit)
    if asked.choices:
        return next(iter(entry.answers), use)
    low, high = entry.ordinary or entry.range or (0.0, 0.0)
    return convert((low + high) / 2, entry.unit, asked.unit)


def _kind(unit: str) -> str:
    return UNITS[unit.casefold()].kind if unit.casefold() in UNITS else ""
