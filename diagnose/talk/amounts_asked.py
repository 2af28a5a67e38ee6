"""How much, in the dialog: ask for just what the dose of the leading change still needs, and show it."""

from typing import Any, Protocol

from rich.text import Text

from diagnose import phrases
from diagnose.advice.actions import Action
from diagnose.answer import Diagnosis
from diagnose.entries.knowledge import Knowledge
from diagnose.talk import blocks, screens
from diagnose.talk.condition_asked import ask_condition
from diagnose.talk.theme import Look


class Talk(Protocol):
    """What is needed of a dialog."""

    look: Look
    knowledge: Knowledge
    told: dict[str, Any]

    def hear(self) -> str:
        """One line, in small letters."""
        ...

    def keep(self, told: dict[str, Any]) -> None:
        """Keep a new state of the plate."""
        ...

    def choose(self, names: list[str]) -> str | None:
        """One of the names by its number; None to leave it."""
        ...

    def diagnosis(self) -> Diagnosis:
        """What is believed of the plate as it is told now."""
        ...


def how_much(dialog: Talk, diagnosis: Diagnosis) -> None:
    """Ask for what the amount of a change needs, one thing at a time, and say the amount.

    Args:
        dialog: whose plate takes the answers in
        diagnosis: as it stands
    """
    action = _which(dialog, diagnosis)
    if action is None:
        return
    dialog.look.show(Text(phrases.action_title(action, dialog.knowledge), style="act"))
    while (dose := diagnosis.dose(action)) is not None and dose.wants:
        if not _ask(dose.wants[0], dialog):
            dialog.look.show(
                Text("Without that no amount can be said. Take half of what you think, and look.", style="care")
            )
            return
        diagnosis = dialog.diagnosis()
    dialog.look.show(screens.amount_screen(action, diagnosis))


def _which(dialog: Talk, diagnosis: Diagnosis) -> Action | None:
    """The change whose amount is wanted: the leading one, or one picked of those that want an amount."""
    plan = diagnosis.plan
    planned = [action for action in (plan.first, *plan.together, *plan.then, *plan.later) if action]
    dosed = [action for action in planned if diagnosis.dose(action)]
    if not dosed:
        dialog.look.show(Text("Nothing that is advised here wants an amount.", style="faint"))
        return None
    if dosed[0] is plan.first or len(dosed) == 1:
        return dosed[0]
    dialog.look.show(Text("How much of what?", style="title"))
    for number, action in enumerate(dosed, start=1):
        dialog.look.show(blocks.numbered(number, phrases.action_title(action, dialog.knowledge)))
    chosen = dialog.choose([action.id for action in dosed])
    return next((action for action in dosed if action.id == chosen), None)


def _ask(condition: str, dialog: Talk) -> bool:
    """Ask one condition; whether it was told."""
    hint = f"a bare number is taken as {dialog.knowledge.conditions[condition].unit}"
    slip = "That is not one of the answers. Just Enter leaves it."
    return ask_condition(condition, dialog, hint=hint, slip=slip) is not None
