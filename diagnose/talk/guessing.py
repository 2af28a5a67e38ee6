"""What the student believes, before the tool says anything: causes in order, and how sure of each."""

from collections.abc import Callable, Sequence

from rich.text import Text

from diagnose.bands import percent
from diagnose.entries.knowledge import Knowledge
from diagnose.facts import plain
from diagnose.plate import DONT_KNOW
from diagnose.talk import blocks
from diagnose.talk.listening import Leave, pick
from diagnose.talk.theme import Look
from diagnose.teaching.scoring import HOW_SURE, MOST_NAMED, Named, points

MOST_FOUND = 9
POINTS = (
    "Points: a cause earns most on average when you give it the chance you really believe. "
    "Nothing is lost by a cause you do not name."
)
WHY = "Whoever says first what they think learns from being wrong; whoever reads first only nods."


class Back(Exception):  # noqa: N818 - not an error: the person wants the question before this one again
    """The person takes the last answer back."""


class Guesses:
    """Asks for up to three causes, each with how sure.

    Args:
        knowledge: the craft
        look: where and how it is shown
        hear: gives the next line typed, in small letters
        scored: whether points are given, and spoken of
    """

    def __init__(self, knowledge: Knowledge, look: Look, hear: Callable[[], str], *, scored: bool = True) -> None:
        self.knowledge, self.look, self.hear = knowledge, look, hear
        self.why, self.scored = POINTS if scored else WHY, scored

    def ask(self, offered: Sequence[str], title: str = "What caused it?") -> tuple[Named, ...]:
        """Up to three causes; none where the person does not know.

        Args:
            offered: causes to pick from by number; any other can be typed by a word
            title: what is asked

        Raises:
            Back: nothing is named yet, and the person wants the question before
            Leave: the person leaves
        """
        listed = list(offered)
        self._show(title, listed)
        named: list[Named] = []
        while len(named) < MOST_NAMED:
            typed = self.hear()
            if typed == "q":
                raise Leave
            if typed in {"", DONT_KNOW}:
                break
            if typed == "w":
                self.say(self.why)
            elif typed == "u":
                if not named:
                    raise Back
                self.say(f"Taken back: {self.title(named.pop().cause)}.")
            else:
                listed = self._take(typed, listed, named)
        return tuple(named)

    def _take(self, typed: str, listed: list[str], named: list[Named]) -> list[str]:
        """A cause by its number or by words, perhaps with how sure behind it; the list that numbers pick from next."""
        head, _, tail = typed.partition(" ")
        sure = as_sure(tail) if tail else None
        cause = pick(head, listed) if sure is not None or not tail else None
        if cause is None:
            found = causes_called(typed, self.knowledge)
            if not found:
                self.say(
                    "No cause is called that. Type a number, or another word: bath, light, dust, poured ...", "care"
                )
                return listed
            if len(found) > 1:
                self._numbered(found)
                self.say("Type its number, or another word.", "faint")
                return found
            cause = found[0]
        if cause in {name.cause for name in named}:
            self.say(f"Named already: {self.title(cause)}. Another, or just Enter.", "care")
            return listed
        if sure is None:
            sure = self.how_sure(cause)
        if sure is not None:
            named.append(Named(cause, sure))
            left = "Another cause, or just Enter." if len(named) < MOST_NAMED else "That makes three."
            self.say(f"Noted: {self.title(cause)}, {percent(sure)}. {left}", "number")
        return listed

    def how_sure(self, cause: str) -> float | None:
        """How sure of one cause; None where the person takes it back.

        Args:
            cause: "stage/name"
        """
        self.say(f"How sure are you of “{self.title(cause)}”?", "title")
        for number, (word, chance) in enumerate(HOW_SURE.items(), start=1):
            earned = (
                f": {points(chance, right=True):+.0f} points if it is so, {points(chance, right=False):+.0f} if not"
            )
            self.look.show(blocks.numbered(number, f"{word}, {percent(chance)}{earned if self.scored else ''}"))
        self.say("Or type a percent, such as 55 %.", "faint")
        while True:
            typed = self.hear()
            if typed == "q":
                raise Leave
            if typed in {"", "u", DONT_KNOW}:
                self.say(f"Not named: {self.title(cause)}.", "faint")
                return None
            if typed == "w":
                self.say(self.why)
                continue
            sure = as_sure(typed)
            if sure is not None:
                return sure
            self.say("Type 1, 2, 3, or a percent from 1 % to 100 %.", "care")

    def _show(self, title: str, listed: list[str]) -> None:
        self.look.show(Text(""), Text(title, style="title"))
        self.say(
            "The likeliest first, up to three: a number, or a word for any other cause. Just Enter when that is all, "
            "? if you don't know.",
            "faint",
        )
        self._numbered(listed)

    def _numbered(self, listed: Sequence[str]) -> None:
        for number, cause in enumerate(listed, start=1):
            self.look.show(blocks.numbered(number, self.title(cause)))

    def title(self, cause: str) -> str:
        """A cause's title."""
        return self.knowledge.causes[cause].title

    def say(self, words: str, style: str = "why") -> None:
        """One sentence."""
        self.look.show(Text(words, style=style))


def as_sure(typed: str) -> float | None:
    """How sure, by a word, the number before a word, or a percent; None where it is none of them.

    Args:
        typed: in small letters

    >>> as_sure("likely"), as_sure("1"), as_sure("55"), as_sure("2 %"), as_sure("0"), as_sure("150 %")
    (0.7, 0.95, 0.55, 0.02, None, None)
    """
    if typed in HOW_SURE:
        return HOW_SURE[typed]
    figures = typed.removesuffix("percent").removesuffix("%").strip()
    if not (figures.isascii() and figures.isdigit() and len(figures) <= 3):
        return None
    number = int(figures)
    if figures == typed and 1 <= number <= len(HOW_SURE):
        return list(HOW_SURE.values())[number - 1]
    return number / 100 if 1 <= number <= 100 else None


def causes_called(words: str, knowledge: Knowledge, most: int = MOST_FOUND) -> list[str]:
    """Causes whose titles hold these words, then those whose short account does.

    Args:
        words: as typed
        knowledge: the craft
        most: how many at most
    """
    wanted = plain(words)
    if not wanted:
        return []
    ranked = []
    for name, cause in knowledge.causes.items():
        title = plain(cause.title)
        if wanted in {title, plain(name.partition("/")[2]), name}:
            return [name]
        pieces = wanted.split()
        if all(piece in title for piece in pieces):
            ranked.append((0, name))
        elif all(piece in f"{title} {plain(cause.brief)} {plain(name)}" for piece in pieces):
            ranked.append((1, name))
    return [name for _, name in sorted(ranked)][:most]
