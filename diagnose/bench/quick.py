"""Sums that conditions are worked out by, each without loading the rest of the bench: a diagnosis must start quickly."""

from diagnose.bench.sum import Sum


def quick_sum(name: str) -> Sum:
    """A sum by its name.

    Args:
        name: words joined with hyphens

    Raises:
        BenchError: there is no such sum
    """
    match name:
        case "wet-window":
            from diagnose.bench.wet_window import SUMS
        case "bath-strength" | "bath-strength-marked":
            from diagnose.bench.bath_reading import SUMS
        case "bath-spirit" | "silver-carried-off":
            from diagnose.bench.bath_plates import SUMS
        case "setting-time":
            from diagnose.bench.collodion import SUMS
        case "development-time":
            from diagnose.bench.developer import SUMS
        case "warmth-apart":
            from diagnose.bench.warmth import SUMS
        case "fixer-left":
            from diagnose.bench.fixer import SUMS
        case _:
            from diagnose.bench.table import sum_called

            return sum_called(name)
    return next(item for item in SUMS if item.name == name)
