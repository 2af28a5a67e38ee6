"""Sentences about sums of the bench, for screens and JSON alike."""

from collections.abc import Sequence

from diagnose.bench.measuring import TOOLS, rounded, rounding_words, step_of
from diagnose.bench.showing import in_own_units, shown
from diagnose.bench.sum import Amount, Asked
from diagnose.bench.wording import in_words, joined_by

WHOLE = frozenset({"drops", "plates"})
LEAST, MOST = ("least", "shortest"), ("most", "longest")


def result_line(amount: Amount, measures: str) -> str:
    """One result with how it was rounded.

    Args:
        amount: a result
        measures: "metric", "us" or "imperial"
    """
    how = rounding_words(amount)
    said = f"{amount.label}: {shown(amount, measures)}"
    return f"{said} ({how})" if how else said


def value_words(asked: Asked, value: float | str) -> str:
    """An input as it was taken.

    Args:
        asked: what was asked
        value: amount in its unit, or a choice
    """
    if isinstance(value, str):
        return asked.choices.get(value, value)
    return in_words(float(f"{value:.4g}"), asked.unit)


def taken_line(asked: Asked, value: float | str, told_by: str) -> str:
    """An input with where it came from.

    Args:
        asked: what was asked
        value: amount in its unit, or a choice
        told_by: words for who told it; "" where the usual was taken
    """
    said = f"{asked.name.replace('_', ' ')}: {value_words(asked, value)}"
    if told_by:
        return f"{said} ({told_by})"
    because = f", {asked.usual_because}" if asked.usual_because else ""
    return f"{said} (taken as usual{because})"


def short_lines(results: Sequence[Amount], measures: str) -> list[str]:
    """Results as they are soonest read: what is an aside left out, a least and a most put behind their likely amount.

    Args:
        results: of one sum
        measures: "metric", "us" or "imperial"

    >>> likely = Amount("time", "likely time", 18, "s", "clock")
    >>> short_lines([likely, Amount("least", "", 13, "s", "clock"), Amount("most", "", 26, "s", "clock")], "metric")
    ['likely time: 18 s; between 13 and 26 s']
    """
    lines: list[str] = []
    wanted = [amount for amount in results if not amount.aside]
    while wanted:
        amount, *wanted = wanted
        line = f"{amount.label}: {shown(amount, measures)}"
        if len(wanted) > 1 and wanted[0].name.endswith(LEAST) and wanted[1].name.endswith(MOST):
            least, most, *wanted = wanted
            ends = tuple(_own_first(each, measures) for each in (least, most))
            line += f"; between {joined_by('and', *ends)}" if ends[0] != ends[1] else ""
        lines.append(line)
    return lines


def rounding_line(results: Sequence[Amount]) -> str:
    """How the results were rounded, all in one; "" where none was.

    Args:
        results: of one sum

    >>> rounding_line([Amount("a", "a", 5.1, "mL", "syringe"), Amount("b", "b", 0.1, "g", "balance", never_over=True)])
    'as on a syringe (to 0.1 mL); a darkroom balance (down to 0.01 g)'
    """
    tools: dict[str, list[str]] = {}
    whole: dict[str, None] = {}
    for amount in results:
        if amount.aside or not step_of(amount):
            continue
        unit, _, tool = TOOLS[amount.tool]
        if amount.tool in WHOLE:
            whole[f"to whole {amount.tool}{', down' if amount.never_over else ''}"] = None
            continue
        said = tools.setdefault(tool, [])
        step = f"{'down ' if amount.never_over else ''}to {step_of(amount):g} {unit}"
        if step not in said:
            said.append(step)
    measured = "; ".join(f"{tool} ({', '.join(said)})" for tool, said in tools.items())
    return "; ".join([*([f"as on {measured}"] if measured else []), *whole])


def usual_words(asked: Asked, value: float | str, measures: str, *, because: bool) -> str:
    """An input that was taken as usual, as it can be typed to change it.

    Args:
        asked: what was asked
        value: amount in its unit, or a choice
        measures: "metric", "us" or "imperial"
        because: why it is taken, too
    """
    if isinstance(value, str):
        said = f"{asked.name}={value}{_beside(value, asked.choices[value])}"
    else:
        said = f"{asked.name}={own_words(value, asked.unit, measures)}"
    return f"{said}, {asked.usual_because}" if because and asked.usual_because else said


def own_words(value: float, unit: str, measures: str) -> str:
    """An amount in the person's own units, to three figures.

    Args:
        value: the amount [unit]
        unit: its unit
        measures: "metric", "us" or "imperial"
    """
    return in_own_units(value, unit, measures) or in_words(float(f"{value:.3g}"), unit)


def _own_first(amount: Amount, measures: str) -> str:
    other = in_own_units(amount.value, amount.unit, measures, figures=amount.figures, down=amount.never_over)
    return other or in_words(rounded(amount), amount.unit)


def _beside(choice: str, words: str) -> str:
    """The words of a choice as they stand beside its name, which is not said twice."""
    if words.replace(" ", "-") in {choice, f"as-{choice}"}:
        return ""
    for mark in (": ", ", ", " ("):
        if words.startswith(choice + mark):
            words = words[len(choice + mark) :].removesuffix(")" if mark == " (" else "")
    return f": {words}" if "(" in words else f" ({words})"
