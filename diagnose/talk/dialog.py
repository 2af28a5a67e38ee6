"""The dialog at the plate: one question at a time, one key and Enter, everything can be taken back."""

import copy
from collections.abc import Callable, Sequence
from typing import Any

from rich.text import Text

from diagnose import phrases
from diagnose.answer import Diagnosis, diagnose
from diagnose.bands import band, percent
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError
from diagnose.facts import plain, understand
from diagnose.plate import DONT_KNOW, Plate
from diagnose.reasoning.asking import Question
from diagnose.talk import blocks, book_keys, screens
from diagnose.talk.amounts_asked import how_much
from diagnose.talk.book_in_hand import BookInHand
from diagnose.talk.finding import names_of, search
from diagnose.talk.listening import Leave, as_amount, example_of, pick
from diagnose.talk.telling import as_command, with_today
from diagnose.talk.theme import Look

INTRO = (
    "Put the plate away first. Then say what it shows: type a word for it (fog, streaks, edge ...) or a number. "
    "Just Enter when that is all."
)
KEYS = "number or y/n · ? don't know · w why · h how much · u undo · s another sign · t tried it · m more · q leave"
ENOUGH = "Not knowing is no fault, and enough is asked. What stands above is the best that can be said so far."
REST_KEYS = "t tried it, w why, h how much, m more, s another sign, u undo, q leave"
MOST_LISTED = 9
PATIENCE = 8  # "don't know" so many times in a row, and no more is asked
RESULTS = (("no-change", "no better"), ("better", "better, not right"), ("cured", "good"))


class Dialog:
    """One talk about one plate.

    Args:
        knowledge: the craft
        look: where and how it is shown
        listen: gives the next line typed; raises EOFError at the end
        told: what is known already
        mode: "sitter-waiting" or "find-out"
        before: options given before the command, printed again when the person leaves
        measures: "metric", "us" or "imperial"
        book: the daybook the plate goes into; None where none is kept
    """

    def __init__(
        self,
        knowledge: Knowledge,
        look: Look,
        listen: Callable[[str], str],
        told: dict[str, Any],
        mode: str,
        before: Sequence[str] = (),
        measures: str = "metric",
        book: BookInHand | None = None,
    ) -> None:
        self.before, self.measures, self.book = before, measures, book
        self.unknown_in_a_row = 0
        self.knowledge, self.look, self.listen, self.mode = knowledge, look, listen, mode
        self.told = copy.deepcopy(told)
        self.past: list[dict[str, Any]] = []
        self.asked, self.station = 0, ""
        self.manner = ["--find-out"] if mode == "find-out" else []
        self.last_shown: tuple[str | None, str | None] = ("", "")

    def run(self) -> None:
        """Talk until the person leaves; what was entered is always printed back as a command."""
        try:
            book_keys.recall(self)
            if not self.told["symptoms"]:
                self.ask_signs(first=True)
            book_keys.take_up(self)
            self.loop()
        except Leave:
            pass
        except EOFError:
            if self.told["symptoms"] and self.last_shown == ("", ""):  # answers ended before the first screen came
                book_keys.take_up(self)
                diagnosis = self.diagnosis()
                self.show(diagnosis)
                book_keys.write(self, diagnosis)
        finally:
            self.leave()

    def diagnosis(self) -> Diagnosis:
        """What is believed of the plate as it is told now."""
        plate, context = Plate.read(book_keys.beneath(self.book, self.told)), book_keys.context(self.book)
        return diagnose(plate, self.knowledge, mode=self.mode, measures=self.measures, **context)

    def leave(self) -> None:
        """Print everything entered as a command that takes it up again."""
        before, kept = book_keys.goodbye(self)
        if any(self.told.values()):
            self.look.show(Text(""), Text("To go on with this plate later:", style="faint"))
            self.look.line(as_command(self.told, "--talk", *self.manner, *kept, before=[*self.before, *before]))

    def loop(self) -> None:
        """Show, ask, take the answer in, again."""
        while True:
            diagnosis = self.diagnosis()
            self.show(diagnosis)
            book_keys.write(self, diagnosis)
            question = self.next_question(diagnosis)
            if question is None:
                self.rest(diagnosis)
            else:
                self.put(question, diagnosis)

    def show(self, diagnosis: Diagnosis) -> None:
        """The first screen, or one line when nothing in it has changed."""
        leader, chance = diagnosis.ranking[0]
        first = diagnosis.plan.first.id if diagnosis.plan.first else None
        if (leader, first) == self.last_shown:
            title = self.knowledge.causes[leader].title
            self.look.show(Text(""), Text(f"Still: {title} ({band(chance)}, {percent(chance)})", style="number"))
        else:
            self.look.show(Text(""), screens.first_screen(diagnosis, "short"))
        self.last_shown = (leader, first)

    def next_question(self, diagnosis: Diagnosis) -> Question | None:
        """The next thing worth asking; None means: act."""
        if self.unknown_in_a_row >= PATIENCE:
            return None
        found = diagnosis.worth_asking(asked=self.asked, standing_at=self.station, most=1)
        return found[0] if found else None

    def put(self, question: Question, diagnosis: Diagnosis) -> None:
        """Put one question until it is answered or something else is wanted."""
        knowledge = self.knowledge
        first = diagnosis.plan.first
        if first and first.id != question.id:  # what was said first may have scrolled away
            title = phrases.action_title(first, knowledge)
            self.look.show(Text(""), Text.assemble(("Next: ", "key"), (title, "act"), (". To be surer:", "faint")))
        else:
            self.look.show(Text(""))
        self.look.show(Text(phrases.question(question, knowledge), style="title"))
        if question.kind == "check":
            check = knowledge.checks[question.id]
            self.look.show(
                Text(f"({phrases.minutes(check.minutes)}{', one plate' if check.plates else ''})", style="faint")
            )
            for name in check.caution:
                caution = knowledge.cautions[name]
                self.look.show(
                    blocks.labelled("Danger" if caution.level == "danger" else "Care", caution.title, caution.level)
                )
        offered = [answer for answer, _ in question.answers]
        amount = question.kind == "condition" and knowledge.conditions[question.id].kind == "quantity"
        example = example_of(knowledge.conditions[question.id]) if amount else ""
        if amount:
            entry = knowledge.conditions[question.id]
            self.look.show(
                Text(f"Type an amount, such as {example}; a bare number is taken as {entry.unit}.", style="faint")
            )
        else:
            for number, answer in enumerate(offered, start=1):
                said = screens.answer_words(question.id, question.kind, answer, diagnosis.craft)
                self.look.show(blocks.numbered(number, said))
        while True:
            typed = self.hear()
            if typed == "w":
                self.look.show(blocks.item(phrases.why_ask(question, knowledge)))
                continue
            if self.common(typed, diagnosis):
                return
            value = as_amount(typed, knowledge.conditions[question.id].unit) if amount else pick(typed, offered)
            if typed == DONT_KNOW or value is not None:
                if self.take(question, DONT_KNOW if typed == DONT_KNOW else str(value)):
                    return
                continue
            wanted = f"Type an amount, such as {example}." if amount else self.keys
            self.look.show(Text(f"That is not one of the answers. {wanted}", style="care"))

    @property
    def keys(self) -> str:
        """The keys, in one line."""
        keys = KEYS if self.book is None else f"{KEYS} · {book_keys.KEYS}"
        return keys.replace(" ·", ";") if self.look.plain or self.look.bullet == "-" else keys

    def common(self, typed: str, diagnosis: Diagnosis) -> bool:
        """Keys that mean the same everywhere. True when the question should be left."""
        match typed:
            case "q":
                raise Leave
            case "u":
                self.undo()
            case "s":
                self.ask_signs(first=False)
            case "t":
                self.ask_tried(diagnosis)
            case "m":
                self.more(diagnosis)
            case "h":
                how_much(self, diagnosis)
            case "b":
                book_keys.put_right(self)
            case "x":
                book_keys.leave_out(self)
            case _:
                return False
        return True

    def take(self, question: Question, answer: str) -> bool:
        """Take an answer in, if it can be understood."""
        trial = copy.deepcopy(self.told)
        match question.kind:
            case "symptom":
                word = {"yes": "present", "no": "absent"}.get(answer, "cant-tell")
                trial["symptoms"][question.id] = {"answer": word}
            case "attribute":
                symptom, _, attribute = question.id.partition(".")
                name = self._told_name(symptom)
                trial["symptoms"][name][attribute] = answer
            case "condition":
                trial["conditions"][question.id] = answer
                trial = with_today(trial)
            case _:
                trial["checks"][question.id] = answer
        try:
            understand(Plate.read(trial), self.knowledge)
        except PlateError as error:
            self.look.show(Text(str(error), style="care"))
            return False
        self.keep(trial)
        self.asked += 1
        self.unknown_in_a_row = self.unknown_in_a_row + 1 if answer == DONT_KNOW else 0
        self.station = question.station
        return True

    def _told_name(self, symptom: str) -> str:
        from diagnose.facts import find_symptom

        told: dict[str, Any] = self.told["symptoms"]
        return next((name for name in told if find_symptom(name, self.knowledge) == symptom), symptom)

    def keep(self, told: dict[str, Any]) -> None:
        """Keep a new state of the plate; the old one can be had back."""
        self.past.append(self.told)
        self.told = told

    def undo(self) -> None:
        """Take the last answer back."""
        if self.past:
            self.told = self.past.pop()
            self.asked = max(0, self.asked - 1)
            self.last_shown = ("", "")
            self.look.show(Text("Taken back.", style="faint"))
        else:
            self.look.show(Text("There is nothing to take back.", style="faint"))

    def hear(self) -> str:
        """One line, in small letters without blanks at the ends."""
        return self.listen(self.look.prompt).strip().casefold()

    def ask_signs(self, *, first: bool) -> None:
        """Ask what the plate shows until Enter alone."""
        self.look.show(Text(INTRO if first else "What else does it show? Type a word, or just Enter.", style="title"))
        listed = search("", self.knowledge, MOST_LISTED)
        if first:
            self.list_signs(listed)
            book_keys.begin(self.book)
        while True:
            typed = self.hear()
            if typed == "q":
                raise Leave
            if typed in {"", DONT_KNOW}:
                return
            if typed == "u":
                self.undo()
                continue
            chosen = pick(typed, listed)
            if chosen is None:
                listed = search(typed, self.knowledge, MOST_LISTED)
                if not listed:
                    self.look.show(
                        Text("No sign is called that. Try another word: edge, hole, veil, dark, peel ...", style="care")
                    )
                    listed = search("", self.knowledge, MOST_LISTED)
                    continue
                if len(listed) == 1 and plain(typed) in {plain(word) for word in names_of(listed[0], self.knowledge)}:
                    chosen = listed[0]
            if chosen is None:
                self.list_signs(listed)
                self.look.show(Text("Type its number, another word, or just Enter to go on.", style="faint"))
                continue
            self.keep(self._with_sign(chosen))
            self.look.show(
                Text(f"Noted: {self.knowledge.symptoms[chosen].title}. Another word, or just Enter.", style="number")
            )

    def _with_sign(self, chosen: str) -> dict[str, Any]:
        """The plate with one sign more; one that was told already keeps its name and its look."""
        trial = copy.deepcopy(self.told)
        name = self._told_name(chosen)
        trial["symptoms"][name] = {**trial["symptoms"].get(name, {}), "answer": "present"}
        return trial

    def list_signs(self, names: list[str]) -> None:
        """Numbered symptoms with how each looks."""
        for number, name in enumerate(names, start=1):
            symptom = self.knowledge.symptoms[name]
            self.look.show(
                blocks.numbered(number, Text.assemble((symptom.title, "title"), (f": {symptom.look}", "why")))
            )

    def ask_tried(self, diagnosis: Diagnosis) -> None:
        """Ask which remedy was tried and what the next plate showed."""
        plan = diagnosis.plan
        actions = [action for action in (plan.first, *plan.together, *plan.then) if action and action.kind == "remedy"]
        if not actions:
            self.look.show(Text("There is no remedy on the list to have tried yet.", style="faint"))
            return
        self.look.show(Text("Which did you try?", style="title"))
        for number, action in enumerate(actions, start=1):
            title = phrases.action_title(action, self.knowledge)
            self.look.show(blocks.numbered(number, title))
        chosen = self.choose([action.id for action in actions])
        if chosen is None:
            return
        self.look.show(Text("What did the next plate show?", style="title"))
        for number, (_, said) in enumerate(RESULTS, start=1):
            self.look.show(blocks.numbered(number, said))
        result = self.choose([name for name, _ in RESULTS])
        if result:
            trial = copy.deepcopy(self.told)
            trial["tried"].append({"remedy": chosen, "result": result})
            self.keep(trial)
            book_keys.next_plate(self, result)
            if result == "cured":
                self.good(chosen, diagnosis)

    def good(self, remedy: str, diagnosis: Diagnosis) -> None:
        """Say what keeps the fault away, and leave."""
        cause = next(
            (c for c, _ in diagnosis.ranking if any(link.do == remedy for link in self.knowledge.causes[c].remedy)),
            None,
        )
        self.look.show(Text("Good. Keep it that way.", style="act"))
        if cause:
            for prevention in self.knowledge.causes[cause].prevent:
                self.look.show(blocks.item(f"{self.look.bullet} {self.knowledge.remedies[prevention.do].title}"))
        raise Leave

    def choose(self, names: list[str]) -> str | None:
        """One of the names by its number; None to leave it."""
        while True:
            typed = self.hear()
            if typed == "q":
                raise Leave
            if typed in {"", "u", DONT_KNOW}:
                return None
            chosen = pick(typed, names)
            if chosen is not None:
                return chosen
            self.look.show(Text("Type one of the numbers, or just Enter to leave it.", style="care"))

    def rest(self, diagnosis: Diagnosis) -> None:
        """Nothing is worth asking any more: act, or look further."""
        if diagnosis.sure_enough:
            said = "That is sure enough to act on."
        elif self.unknown_in_a_row >= PATIENCE:
            said = ENOUGH
            self.unknown_in_a_row = 0
        else:
            said = "No question left would change what to do first."
        self.look.show(
            Text(""),
            Text(
                f"{said} Try it, then say t. Or: w why, h how much, m more, s another sign, u undo, q leave.",
                style="title",
            ),
        )
        while True:
            typed = self.hear()
            if typed == "w":
                self.look.show(screens.why_screen(diagnosis.ranking[0][0], diagnosis))
            elif self.common(typed, diagnosis):
                return
            elif typed:
                self.look.show(Text(REST_KEYS, style="care"))
            else:
                continue

    def more(self, diagnosis: Diagnosis) -> None:
        """The rest of the answer."""
        self.look.show(
            screens.told_screen(diagnosis, book_keys.known(self.book, self.told)),
            screens.ranked(diagnosis, 8),
            screens.plan_screen(diagnosis),
            screens.turn_screen(diagnosis),
            screens.cautions_screen(diagnosis),
            Text(self.keys, style="faint"),
        )
