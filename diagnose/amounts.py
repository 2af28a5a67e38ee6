"""Sentences about sums of the bench, for screens and JSON alike."""

from diagnose.bench.measuring import rounding_words
from diagnose.bench.showing import in_words, shown
from diagnose.bench.sum import Amount, Asked


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


def accepted_words(asked: Asked) -> str:
    """What may be answered, in words.

    Args:
        asked: what is asked
    """
    if asked.choices:
        return ", ".join(asked.choices)
    low, high = asked.range
    return (
        f"{in_words(low, asked.unit)} or more"
        if high == float("inf")
        else f"{in_words(low, asked.unit)} to {in_words(high, asked.unit)}"
    )
