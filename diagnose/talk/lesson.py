"""The talk as a lesson: the student's guess before the ranking, one change a plate, and at the end what to write down."""

from typing import Any

from rich.text import Text

from diagnose import phrases
from diagnose.answer import Diagnosis
from diagnose.bands import band, percent
from diagnose.facts import find_symptom
from diagnose.talk import blocks
from diagnose.talk.clock import today
from diagnose.talk.dialog import Dialog
from diagnose.talk.guessing import Back, Guesses
from diagnose.teaching.offered import causes_offered
from diagnose.teaching.scoring import Named

INTRO = "A lesson: you say first, then the tool. One change a plate, so that each plate teaches something."
ASK = "Before the tool says anything: what do you think it is?"
KEPT = "Your guess is noted; the notebook at the end has it beside the tool's."
PARTED = 0.10  # a chance the student and the tool differ by less is spoken of as the same: judged


class Lesson(Dialog):
    """A talk about one plate in which the student commits first."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.manner = ["--lesson"]
        self.mode = "find-out"
        self.guess: tuple[Named, ...] | None = None
        self.said: Diagnosis | None = None

    def run(self) -> None:
        """Talk until the person leaves; then what to write in the notebook."""
        self.look.show(Text(INTRO, style="faint"))
        super().run()

    def show(self, diagnosis: Diagnosis) -> None:
        """The student's guess, before the first screen; then the screen, and the two side by side."""
        first = self.guess is None
        if first:
            self.guess = ()  # asked once, however it ends
            self.ask_guess(diagnosis)
        super().show(diagnosis)
        if first and self.guess:
            self.look.show(Text(""), blocks.heading("Your guess beside it"), *self.beside(diagnosis))
        self.said = diagnosis

    def ask_guess(self, diagnosis: Diagnosis) -> None:
        """Up to three causes, each with how sure; nothing is scored, for nobody knows yet what is true."""
        while True:
            try:
                self.guess = Guesses(self.knowledge, self.look, self.hear, scored=False).ask(
                    causes_offered(diagnosis), ASK
                )
            except Back:
                self.look.show(Text("There is nothing to take back.", style="faint"))
                continue
            break
        if self.guess:
            self.look.show(Text(KEPT, style="faint"))

    def beside(self, diagnosis: Diagnosis) -> list[Any]:
        """Each guess with what the tool makes of the same cause."""
        lines = []
        for name in self.guess or ():
            chance = diagnosis.posterior.causes[name.cause]
            apart = (
                "much the same" if abs(chance - name.sure) < PARTED else "surer" if chance > name.sure else "less sure"
            )
            title = self.knowledge.causes[name.cause].title
            said = f"{title}: you {percent(name.sure)}; the tool is {apart}, {band(chance)}, {percent(chance)}"
            lines.append(blocks.bulleted(said))
        return lines

    def leave(self) -> None:
        """What to write in the notebook, then how to go on."""
        if self.said is not None:
            self.look.show(
                Text(""), blocks.heading("For your notebook"), *map(blocks.bulleted, self.notebook(self.said))
            )
        super().leave()

    def notebook(self, diagnosis: Diagnosis) -> list[str]:
        """The lines worth writing down: what was seen, what was believed, the one change, and what is to be seen next.

        Args:
            diagnosis: the last that was shown
        """
        knowledge = self.knowledge
        plan, tried = diagnosis.plan, self.told["tried"]  # a cure ends the talk before it is weighed
        lines = [f"Date: {self.told.get('day') or today()}"]
        signs = [
            knowledge.symptoms[name].title
            for told, item in self.told["symptoms"].items()
            if item["answer"] in {"present", "unsure"}
            and (name := find_symptom(told, knowledge) or told) in knowledge.symptoms
        ]
        lines.append(
            f"The plate showed: {'; '.join(signs)}" if signs else "The plate showed: (write it in your own words)"
        )
        if self.guess:
            guesses = [f"{knowledge.causes[name.cause].title}, {percent(name.sure)}" for name in self.guess]
            lines.append(f"I thought: {'; '.join(guesses)}")
        leader, chance = diagnosis.ranking[0]
        lines.append(f"The tool thought: {knowledge.causes[leader].title} ({band(chance)}, {percent(chance)})")
        results = {"no-change": "no better", "better": "better, not right", "cured": "good"}
        lines += [
            f"Changed: {knowledge.remedies[step['remedy']].title}. Next plate: {results[step['result']]}"
            for step in tried
            if step["remedy"] in knowledge.remedies
        ]
        cured = bool(tried) and tried[-1]["result"] == "cured"
        if plan.first is not None and not cured:
            title = phrases.action_title(plan.first, knowledge)
            verb = (
                "Next, look at this and change nothing"
                if plan.first.kind == "check"
                else "Next, change this and nothing else"
            )
            lines.append(f"{verb}: {title}")
            see = phrases.doing(plan.first, knowledge)[1]
            lines += [f"If it was that, I shall see: {phrases.lower_first(see)}"] if see else []
            lines.append("What the next plate showed: ............")
        elif cured:
            lines.append("It worked. Keep one plate made the old way beside it, to see the difference.")
        return lines
