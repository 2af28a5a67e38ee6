"""Plain tables on the screen."""

import math


def table(title, head, rows):
    """A title, a row of heads and the rows, columns aligned: the first to the left, the others to the right."""
    cells = [[shown(cell) for cell in row] for row in (head, *rows)]
    wide = [max(len(row[place]) for row in cells) for place in range(len(head))]
    print(f"\n{title}")
    for row in cells:
        first = row[0].ljust(wide[0])
        print("  ".join([first, *(cell.rjust(size) for cell, size in zip(row[1:], wide[1:], strict=True))]).rstrip())


def shown(cell):
    """A number as short as it may be; anything else as it is."""
    if not isinstance(cell, float):
        return str(cell)
    if math.isnan(cell):
        return "-"
    return f"{cell:.3f}" if abs(cell) < 10 else f"{cell:.1f}"


def between(value, bounds):
    """A figure with its interval."""
    return f"{shown(value)} ({shown(bounds[0])}..{shown(bounds[1])})"
