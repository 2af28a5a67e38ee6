"""The drill: a plate, the student's own answer first, then the tool's, the truth, the score and the chain."""

import random
import secrets
import shlex
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from rich.text import Text

from diagnose import phrases
from diagnose.answer import Diagnosis
from diagnose.facts import find_symptom
from diagnose.plate import DONT_KNOW
from diagnose.reasoning.craft import Craft
from diagnose.talk import blocks
from diagnose.talk import drill_screens as screens
from diagnose.talk.drill_keeping import keep_answer
from diagnose.talk.drill_picture import Ways, show_picture
from diagnose.talk.finding import search
from diagnose.talk.guessing import Back, Guesses
from diagnose.talk.listening import Leave, pick
from diagnose.talk.theme import Look
from diagnose.teaching.exercise import Exercise
from diagnose.teaching.offered import causes_offered
from diagnose.teaching.reasons import Reason, reason_for, told_reasons
from diagnose.teaching.records import Answer, memory_of, remembered
from diagnose.teaching.scoring import Named, by_belief, score
from diagnose.teaching.session import hardness, known, plate_of, tell
from diagnose.teaching.steps import Step, best_of, minutes_lost, steps_for

if TYPE_CHECKING:
    from diagnose.daybook.book import Book

COUNT = 10
MOST_LISTED = 9
KEYS = "number or word · ? don't know · w why · u back · q leave"
KEY_OF_PICTURE = "p drawing again"
MORE = "Enter: the tool's ranking, and how it came about."
NEXT = "Enter for the next plate, w for the whole account, q to leave."
LAST = "Enter to end, w for the whole account."


@dataclass(frozen=True)
class Wanted:
    """What kind of drill.

    Args:
        seed: of the plates; "" takes a fresh one, and brings back what was missed
        count: how many plates
        level: "easy", "middle", "hard" or "" for any
        student: a name as typed
        keep: file of answers; "" keeps none
        day: today's date
    """

    seed: str = ""
    count: int = COUNT
    level: str = ""
    student: str = ""
    keep: str = ""
    day: str = "2026-01-01"


@dataclass
class Commitment:
    """What the student has said of one plate so far."""

    sign: str = ""
    named: tuple[Named, ...] = ()
    reason: str = ""
    step: Step | None = None


def seeded(words: str) -> random.Random:
    """A generator of chance that gives the same for the same words, on every machine.

    Args:
        words: seed and number
    """
    return random.Random(words)  # noqa: S311 - exercises, no secrets


def fresh_seed() -> str:
    """A seed that can be said and typed."""
    return str(secrets.randbelow(900_000) + 100_000)


def same_again(seed: str, level: str) -> str:
    """The options that give the same plates, as they are typed.

    Args:
        seed: of the plates
        level: "easy", "middle", "hard" or "" for any
    """
    return shlex.join(["--seed", seed, *(["--level", level] if level else [])])


class Drill:
    """One drill of one student.

    Args:
        craft: the knowledge made ready
        look: where and how it is shown
        listen: gives the next line typed; raises EOFError at the end
        wanted: what kind of drill
        ways: how drawings are shown
        book: a daybook to take plates from; None draws them from the knowledge
        before: the student's answers so far
    """

    def __init__(
        self,
        craft: Craft,
        look: Look,
        listen: Callable[[str], str],
        wanted: Wanted,
        ways: Ways,
        book: "Book | None" = None,
        before: Sequence[Answer] = (),
    ) -> None:
        self.craft, self.knowledge, self.look, self.listen = craft, craft.knowledge, look, listen
        self.wanted, self.ways, self.book = wanted, ways, book
        self.seed = wanted.seed or fresh_seed()
        self.answers: list[Answer] = []
        self.memory = memory_of(before)
        self.picture: Callable[[], None] | None = None
        self.guesses = Guesses(self.knowledge, look, self.hear)

    def run(self) -> None:
        """Plate after plate, until they are done or the student leaves."""
        self.say(self.keys, "faint")
        if self.ways.note:
            self.say(self.ways.note, "faint")
        try:
            for number, (exercise, diagnosis) in enumerate(self.plates(), start=1):
                self.one(number, exercise, diagnosis)
        except (Leave, EOFError):
            pass
        finally:
            self.goodbye()

    def plates(self) -> Iterator[tuple[Exercise, Diagnosis]]:
        """The plates, one after the other, each made when it is wanted."""
        if self.book is not None:
            from diagnose.teaching.from_book import from_book

            for exercise in from_book(self.book, self.craft, self.wanted.count, seeded(self.seed).shuffle):
                yield exercise, tell(exercise, self.craft)
            return
        for number in range(1, self.wanted.count + 1):
            again = None if self.wanted.seed else self.memory.due(lambda item: known(item, self.craft))
            level = "" if again else self.wanted.level
            yield plate_of(seeded, self.craft, self.seed, number, level=level, again=again)

    def one(self, number: int, exercise: Exercise, diagnosis: Diagnosis) -> None:
        """One plate: shown, answered, kept, and then told.

        Args:
            number: of the plate, from 1
            exercise: the plate
            diagnosis: of it
        """
        level = hardness(diagnosis).level
        self.look.show(Text(""), blocks.heading(f"Plate {number} ({level}), {exercise.name}"))
        self.look.show(screens.plate_screen(exercise, diagnosis, drawn=self.ways.drawn))
        if self.ways.drawn:
            self.picture = partial(show_picture, exercise, self.look, self.ways, number)
            self.picture()
        said, steps = self.commit(exercise, diagnosis)
        best = best_of(steps, diagnosis)
        lost = minutes_lost(said.step, best) if said.step and best else None
        reason = reason_for(said.named[0].cause, said.reason, diagnosis) if said.named else None
        answer = Answer(
            student=self.wanted.student,
            day=self.wanted.day,
            exercise=exercise.name,
            origin=exercise.origin,
            level=level,
            causes=exercise.causes,
            chances=tuple(diagnosis.posterior.causes[cause] for cause in exercise.causes),
            named=said.named,
            points=score(said.named, exercise.causes),
            tool=score(by_belief(diagnosis.ranking), exercise.causes),
            sign=exercise.sign,
            sign_named=said.sign,
            reason=said.reason,
            verdict=reason.verdict if reason else "",
            step=said.step.action.id if said.step else "",
            lost=lost,
        )
        if self.wanted.keep:  # before the truth is shown: what was answered counts
            keep_answer(self.wanted.keep, answer)
        self.answers.append(answer)
        self.memory = remembered(self.memory, answer)
        self.reveal(exercise, diagnosis, answer, reason, said.step, best)
        self.between(exercise, diagnosis, last=number == self.wanted.count)

    def commit(self, exercise: Exercise, diagnosis: Diagnosis) -> tuple[Commitment, tuple[Step, ...]]:
        """Sign, causes, reason and next step, one after the other; u goes back one.

        Args:
            exercise: the plate
            diagnosis: of it, for what is offered
        """
        steps = steps_for(diagnosis)
        said = Commitment()
        offered = causes_offered(diagnosis)
        asked: list[Callable[[], Commitment]] = [
            lambda: replace(said, named=self.guesses.ask(offered)),
            lambda: replace(said, reason=self.ask_reason(said, exercise, diagnosis)),
            lambda: replace(said, step=self.ask_step(steps)),
        ]
        if self.ways.drawn:
            asked.insert(0, lambda: replace(said, sign=self.ask_sign()))
        place = 0
        while place < len(asked):
            try:
                said = asked[place]()
                place += 1
            except Back:
                if place == 0:
                    self.say("There is nothing to take back.", "faint")
                place = max(0, place - 1)
                if place == len(asked) - 2 and not said.named:
                    place -= 1  # without a cause no reason was asked
        return said, steps

    def ask_sign(self) -> str:
        """What the student calls what is drawn; "?" for not knowing."""
        self.put("What do you call what is drawn? Type a word for it: fog, streaks, edge ...")
        listed: list[str] = []
        while True:
            typed = self.hear_key(
                "The name of a sign opens the door to its causes; a wrong one misleads from the start."
            )
            if typed == DONT_KNOW:
                return DONT_KNOW
            chosen = pick(typed, listed) or find_symptom(typed, self.knowledge)
            if chosen is not None:
                self.say(f"Noted: {self.knowledge.symptoms[chosen].title}.", "number")
                return chosen
            found = search(typed, self.knowledge, MOST_LISTED)
            if not found:
                self.say("No sign is called that. Try another word, or ? if you don't know.", "care")
                continue
            listed = found
            for number, name in enumerate(listed, start=1):
                entry = self.knowledge.symptoms[name]
                self.look.show(blocks.numbered(number, Text.assemble((entry.title, "title"), f": {entry.look}")))
            self.say("Type its number, or another word.", "faint")

    def ask_reason(self, said: Commitment, exercise: Exercise, diagnosis: Diagnosis) -> str:
        """What told thing speaks most for the first cause; "" where none is named."""
        if not said.named:
            return ""
        title = self.knowledge.causes[said.named[0].cause].title
        told = told_reasons(diagnosis.facts)
        self.put(f"What speaks most for “{title}”?")
        for number, name in enumerate(told, start=1):
            hidden = name == exercise.sign and self.ways.drawn
            self.look.show(blocks.numbered(number, "What is drawn" if hidden else screens.told_words(name, diagnosis)))
        return self.choose(told, "A right cause for a wrong reason is luck, and luck does not last.") or ""

    def ask_step(self, steps: Sequence[Step]) -> Step | None:
        """The next check or action; None where none is picked."""
        self.put("What would you do next?")
        for number, step in enumerate(steps, start=1):
            kind = "look" if step.action.kind == "check" else "change"
            title = phrases.action_title(step.action, self.knowledge)
            self.look.show(blocks.numbered(number, f"{title} ({kind}; {phrases.cost(step.action)})"))
        why = "Each is weighed by the minutes until the fault is put right, on average, if it is done first."
        chosen = self.choose([step.action.id for step in steps], why)
        return next((step for step in steps if step.action.id == chosen), None)

    def choose(self, names: Sequence[str], why: str) -> str | None:
        """One of the names by its number; None for not knowing."""
        while True:
            typed = self.hear_key(why)
            if typed in {"", DONT_KNOW}:
                return None
            chosen = pick(typed, list(names))
            if chosen is not None:
                return chosen
            self.say("Type one of the numbers, or ? if you don't know.", "care")

    def hear_key(self, why: str) -> str:
        """A line that is no key common to all questions."""
        while True:
            typed = self.hear()
            if typed == "q":
                raise Leave
            if typed == "u":
                raise Back
            if typed != "w":
                return typed
            self.say(why)

    def reveal(
        self,
        exercise: Exercise,
        diagnosis: Diagnosis,
        answer: Answer,
        reason: Reason | None,
        chosen: Step | None,
        best: Step | None,
    ) -> None:
        """The truth, the score, the next step; then the tool's ranking and the chain."""
        self.look.show(Text(""), screens.truth_screen(exercise, diagnosis))
        self.look.show(*screens.sign_lines(answer, diagnosis), Text(""), screens.score_screen(answer, diagnosis))
        self.look.show(*screens.reason_lines(answer, reason, diagnosis), Text(""))
        self.look.show(*screens.step_lines(chosen, best, answer.lost, diagnosis), Text(""))
        self.say(MORE, "faint")
        if self.hear() == "q":
            raise Leave
        self.look.show(screens.tool_screen(answer, diagnosis), Text(""))
        self.look.show(screens.chain_screen(exercise.causes, diagnosis))
        if not self.wanted.seed and self.book is None:
            self.look.show(*screens.again_lines(answer, diagnosis))

    def between(self, exercise: Exercise, diagnosis: Diagnosis, *, last: bool) -> None:
        """Wait before the next plate, so that this one can be read."""
        self.say(LAST if last else NEXT, "faint")
        while True:
            typed = self.hear()
            if typed == "q":
                raise Leave
            if typed != "w":
                return
            from diagnose.talk.screens import account_screen

            for cause in dict.fromkeys([diagnosis.ranking[0][0], *exercise.causes]):
                self.look.show(account_screen(cause, diagnosis))

    def goodbye(self) -> None:
        """Where the student stands, how to have the same plates again, and where the answers are."""
        if not self.answers:
            return
        self.look.show(Text(""), screens.standing(self.answers))
        if self.book is None and self.wanted.seed:
            self.look.line(f"The same plates again: diagnose drill {same_again(self.wanted.seed, self.wanted.level)}")
        if not self.wanted.keep:
            self.say("Nothing was kept. --keep FILE keeps the answers, and brings back what was missed.", "faint")

    @property
    def keys(self) -> str:
        """The keys, in one line."""
        keys = f"{KEYS} · {KEY_OF_PICTURE}" if self.ways.drawn else KEYS
        return keys.replace(" ·", ";") if self.look.plain or self.look.bullet == "-" else keys

    def hear(self) -> str:
        """One line, in small letters without blanks at the ends; p shows the drawing once more."""
        while True:
            typed = self.listen(self.look.prompt).strip().casefold()
            if typed != "p" or self.picture is None:
                return typed
            self.picture()

    def put(self, question: str) -> None:
        """A question, set off from what stands above it."""
        self.look.show(Text(""), Text(question, style="title"))

    def say(self, words: str, style: str = "why") -> None:
        """One sentence."""
        self.look.show(Text(words, style=style))
