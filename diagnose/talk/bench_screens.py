"""The bench's screens: the list of sums, and a result with what to do and what to mind."""

from collections.abc import Mapping
from dataclasses import dataclass

from rich.console import Group, RenderableType
from rich.text import Text

from diagnose import amounts
from diagnose.bench.sum import Sum, Worked
from diagnose.bench.table import MODULES, SUMS
from diagnose.entries.knowledge import Knowledge
from diagnose.talk import blocks


@dataclass(frozen=True)
class Result:
    """A sum that was worked.

    Args:
        sum: which
        worked: what came out
        taken: input -> (value in its unit, "told" or "" for the usual)
    """

    sum: Sum
    worked: Worked
    taken: Mapping[str, tuple[float | str, str]]


def list_screen(knowledge: Knowledge) -> RenderableType:
    """Every sum by what it is about.

    Args:
        knowledge: for the solutions
    """
    lines: list[RenderableType] = []
    for title, group in MODULES:
        lines.append(blocks.heading(title))
        lines += [_entry(sum_.name, sum_.title) for sum_ in group]
    lines.append(blocks.heading("Solutions, scaled to the volume you want"))
    lines += [_entry(name, solution.title) for name, solution in knowledge.solutions.items()]
    said = "diagnose bench NAME asks what it needs; diagnose bench NAME INPUT=VALUE ... says it outright."
    return Group(*lines, Text(""), Text(said, style="faint"))


def result_screen(result: Result, knowledge: Knowledge, measures: str, *, full: bool) -> RenderableType:
    """The result, what can hurt, what to do, what is in doubt, what was taken as usual; with `full` how it was worked.

    Args:
        result: a sum that was worked
        knowledge: the cautions' words, and what solutions are for
        measures: "metric", "us" or "imperial"
        full: every figure, formula, range, accuracy and sources too
    """
    sum_, worked = result.sum, result.worked
    recipe = None if sum_.name in SUMS else knowledge.solutions.get(sum_.name)
    lines: list[RenderableType] = [blocks.heading(sum_.title)]
    lines += [blocks.item(recipe.use, style="faint")] if recipe else []
    figures = (
        [amounts.result_line(amount, measures) for amount in worked.amounts]
        if full
        else amounts.short_lines(worked.amounts, measures)
    )
    lines += [blocks.item(line, style="why" if number else "act", hang=2) for number, line in enumerate(figures)]
    names = dict.fromkeys((*sum_.cautions, *worked.cautions))
    lines += blocks.dangers_and_cares(names, knowledge, whole=full)
    lines += [blocks.numbered(number, line) for number, line in enumerate(worked.do, start=1)]
    lines += [blocks.labelled("Keeps", worked.keeps)] if worked.keeps else []
    lines += [blocks.labelled("Mind", line, "care") for line in worked.beware]
    if full:
        return Group(*lines, *_taken_in_full(result, measures), *_how(sum_, recipe=bool(recipe)))
    said = "; ".join(
        amounts.usual_words(sum_.asked(name), value, measures, because=False) for name, value in _usual(result)
    )
    lines += [blocks.labelled("Taken unless told", said, "faint")] if said else []
    rounding = amounts.rounding_line(worked.amounts)
    lines += [blocks.labelled("Rounded", rounding, "faint")] if rounding else []
    hidden = sum(amount.aside for amount in worked.amounts)
    more = f"{hidden} more figure{'s' if hidden > 1 else ''}, formula and sources" if hidden else "formula and sources"
    return Group(*lines, blocks.labelled("How well", f"{sum_.accuracy} (--full: {more})", "faint"))


def _entry(name: str, title: str) -> RenderableType:
    return blocks.item(Text.assemble((name, "number"), f"  {title}"), hang=4)


def _usual(result: Result) -> list[tuple[str, float | str]]:
    """What nobody told and stands in the result all the same."""
    return [
        (name, value)
        for name, (value, told) in result.taken.items()
        if not told and not result.sum.asked(name).if_known
    ]


def _taken_in_full(result: Result, measures: str) -> list[RenderableType]:
    told = [
        amounts.usual_words(result.sum.asked(name), value, measures, because=False)
        for name, (value, told) in result.taken.items()
        if told
    ]
    lines = [blocks.labelled("Told", "; ".join(told), "faint")] if told else []
    for name, value in _usual(result):
        said = amounts.usual_words(result.sum.asked(name), value, measures, because=True)
        lines.append(blocks.labelled("Taken unless told", said, "faint"))
    return lines


def _how(sum_: Sum, *, recipe: bool) -> list[RenderableType]:
    told = (
        ("How", sum_.formula),
        ("Holds", "" if recipe else sum_.holds),
        ("How well", sum_.accuracy),
        ("From", "; ".join(sum_.sources)),
    )
    return [blocks.labelled(label, text, "faint") for label, text in told if text]
