"""Every sum of the bench, by name."""

from diagnose.bench.sum import BenchError, Sum
from diagnose.errors import near, printable

MODULES: tuple[tuple[str, tuple[Sum, ...]], ...] = ()

SUMS: dict[str, Sum] = {item.name: item for _, group in MODULES for item in group}


def sum_called(name: str) -> Sum:
    """A sum by its name.

    Args:
        name: words joined with hyphens

    Raises:
        BenchError: there is no such sum
    """
    try:
        return SUMS[name]
    except KeyError:
        shown = printable(name[:40])
        raise BenchError(f"no sum called {shown!r}; {near(name[:60], SUMS) or '`diagnose bench` lists them'}") from None
