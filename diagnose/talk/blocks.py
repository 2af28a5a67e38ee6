"""The building blocks of screens: headings, paragraphs set in, labels, lists, cautions."""

from collections.abc import Iterable

from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
from rich.text import Text

from diagnose.entries.knowledge import Knowledge

INDENT = 2


class Inset:
    """A paragraph set in from the left; later lines a little further, and no blanks at the right end."""

    def __init__(self, text: Text, indent: int, hang: int = 0) -> None:
        self.text, self.indent, self.hang = text, indent, hang

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Wrap to what is left of the width."""
        width = max(10, options.max_width - self.indent - self.hang)
        for number, line in enumerate(self.text.wrap(console, width)):
            line.rstrip()
            yield Text(" " * (self.indent + (self.hang if number else 0))) + line


def heading(text: str) -> Text:
    """A heading on a line of its own."""
    return Text(text, style="title")


def item(text: str | Text, indent: int = INDENT, style: str = "why", hang: int = 0) -> RenderableType:
    """A paragraph, set in."""
    return Inset(text if isinstance(text, Text) else Text(text, style=style), indent, hang)


def labelled(label: str, text: str, style: str = "why", indent: int = INDENT) -> RenderableType:
    """A paragraph that begins with its label."""
    return item(Text.assemble((f"{label}: ", "key"), (text, style)), indent, hang=2)


def bulleted(text: str, indent: int = INDENT, style: str = "why") -> RenderableType:
    """An item of a list."""
    return item(f"- {text}", indent, style, hang=2)


def numbered(number: int | str, text: str | Text, indent: int = INDENT) -> RenderableType:
    """A numbered item, or a key and what it does."""
    said = text if isinstance(text, Text) else Text(text, style="why")
    return item(Text.assemble((f"{number} ", "number"), said), indent, hang=2)


def first_sentence(text: str) -> str:
    """The first sentence of a caution; the whole of it is a key away."""
    head, dot, _ = text.partition(". ")
    return head + dot.strip()


def dangers_and_cares(names: Iterable[str], knowledge: Knowledge, *, whole: bool = False) -> list[RenderableType]:
    """Cautions: what can maim or kill on a line of its own, the rest by name.

    Args:
        names: cautions, in order
        knowledge: their words
        whole: every caution in full
    """
    known = [knowledge.cautions[name] for name in names]
    if whole:
        return [
            labelled(
                "Danger" if caution.level == "danger" else "Care", f"{caution.title}. {caution.say}", caution.level
            )
            for caution in known
        ]
    lines: list[RenderableType] = [
        labelled("Danger", f"{caution.title}. {first_sentence(caution.say)}", "danger")
        for caution in known
        if caution.level == "danger"
    ]
    cares = [caution.title for caution in known if caution.level == "care"]
    return [*lines, labelled("Care", "; ".join(cares), "care")] if cares else lines
