"""What is wrong with a file of entries: gathered while it is read, said with lines at the end."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from diagnose.errors import BookError, printable

Place = tuple[str | int, ...]  # keys and list positions down to the value that is meant
MOST_SHOWN = 20  # judged: as many as a person mends in one go
MOST_COUNTED = 300  # judged: with as many, it is no file of entries; near names for more would take minutes
LONGEST_WORDS = 400


@dataclass
class Problems:
    """Everything wrong with one file; only the first few are kept in words, all are counted.

    Args:
        found: (place, name of the field, what is wrong), in the order of the file
        count: how many there are in all
        columns: what a field is called where it is not called by its own name
    """

    found: list[tuple[Place, str, str]] = field(default_factory=list)
    count: int = 0
    columns: Mapping[str, str] = field(default_factory=dict)

    @property
    def are_enough(self) -> bool:
        """Whether there are so many that it is of no use to look for more."""
        return self.count >= MOST_COUNTED

    def add(self, place: Place, label: str, words: str) -> None:
        """Take one more in.

        Args:
            place: where the value stands
            label: the name of the field, as it is said; "" for the whole entry
            words: what is wrong, and what is accepted
        """
        self.count += 1
        if len(self.found) < MOST_SHOWN:
            self.found.append((place, self.columns.get(label, label), words))

    def refuse(self, lines_of: Callable[[Sequence[Place]], list[int]]) -> None:
        """Stop here if anything is wrong.

        Args:
            lines_of: the lines on which places stand

        Raises:
            BookError: a line for each problem
        """
        if not self.count:
            return
        numbers = lines_of([place for place, _, _ in self.found])
        lines = zip(numbers, self.found, strict=True)
        said = [_line(number, label, words) for number, (_, label, words) in sorted(lines, key=lambda line: line[0])]
        rest = self.count - len(said)
        if rest:
            said.append(f"and {rest} more; mend these first, the rest show then")
        count = "1 problem" if self.count == 1 else f"{self.count}{' or more' if self.are_enough else ''} problems"
        raise BookError("\n".join([f"nothing was taken in: {count}", *said]))


def _line(number: int, label: str, words: str) -> str:
    said = f"line {number}, {label}: {words}" if label else f"line {number}: {words}"
    clean = printable(said)
    return clean if len(clean) <= LONGEST_WORDS else f"{clean[: LONGEST_WORDS - 3]}..."
