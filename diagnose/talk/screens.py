"""Screens as values: the answer, the plan, the reasons. Each turns into lines of text; the look decides the colours."""

from collections.abc import Container
from typing import Literal

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.text import Text

from diagnose import phrases
from diagnose.advice.actions import Action
from diagnose.advice.cautions import around
from diagnose.answer import Diagnosis
from diagnose.bands import band, percent
from diagnose.reasoning.craft import Craft
from diagnose.talk.blocks import INDENT, bulleted, dangers_and_cares, first_sentence, heading, item, labelled, numbered

Telling = Literal["short", "usual", "whole"]
SHOWN_FIRST = 3
LEAST_SHOWN = 0.02
CLEAR_SPLIT = 0.6  # judged
SOLUTIONS = frozenset({"silver-bath", "collodion", "developer", "fixer", "varnish"})


def first_screen(diagnosis: Diagnosis, told: Telling = "usual") -> RenderableType:
    """The one next action, why, how sure; what can kill in this darkroom; the first split; the ranked three.

    Args:
        diagnosis: what is believed
        told: "short" in the dialog, so that nothing scrolls away; "whole" where everything is wanted
    """
    around = dangers_around(diagnosis, told)
    return Group(next_action(diagnosis, told), *around, Text(""), split_line(diagnosis), Text(""), ranked(diagnosis))


def dangers_around(diagnosis: Diagnosis, told: Telling) -> list[RenderableType]:
    """Dangers the room itself calls for, such as cyanide in use, that do not stand beside an action already."""
    plan, known = diagnosis.plan, diagnosis.craft.knowledge.cautions
    here = [name for name in around(diagnosis.firing, diagnosis.craft) if known[name].level == "danger"]
    beside = {name for action in (plan.first, *plan.together) if action for name in action.cautions}
    said = [f"{known[name].title}. {first_sentence(known[name].say)}" for name in here if name not in beside]
    if told == "short":
        said = ["; ".join(known[name].title for name in here if name not in beside)] if said else []
    return [labelled("Danger", text, "danger") for text in said]


def next_action(diagnosis: Diagnosis, told: Telling = "usual") -> RenderableType:
    """What to do before the next pour."""
    plan, craft = diagnosis.plan, diagnosis.craft
    if plan.first is None:
        return Group(
            heading("Nothing to change yet"),
            item(
                "Nothing known here would help with what was told. Tell one thing more, or make a plate exactly as before and look."
            ),
        )
    action = plan.first
    title = "Look at this first" if action.kind == "check" else "Change this before the next pour"
    lines: list[RenderableType] = [heading(title), item(phrases.action_title(action, craft.knowledge), style="act")]
    lines += body(action, diagnosis, told)
    if plan.together:
        lines.append(labelled("Do these quick things too", "then make one plate and see"))
        said = set(action.cautions)
        for other in plan.together:
            lines.append(bulleted(phrases.action_title(other, craft.knowledge), INDENT + 2))
            lines += caution_names(other, craft, said)
            said |= set(other.cautions)
    elif diagnosis.mode == "find-out":
        lines.append(item("Change nothing else on this plate, so that it tells you something."))
    return Group(*lines)


def body(action: Action, diagnosis: Diagnosis, told: Telling) -> list[RenderableType]:
    """Why, how sure, what can hurt, what to do; for work on a solution also what will be seen and when to stop."""
    craft = diagnosis.craft
    say, see, stop = phrases.doing(action, craft.knowledge)
    lines = [labelled("Why", phrases.action_why(action, craft.knowledge))]
    if action.kind == "remedy" and action.causes:
        chance = diagnosis.posterior.causes[action.causes[0][0]]
        lines.append(labelled("How sure", f"{band(chance)}, {percent(chance)}; it helps about {tenths(action.helps)}"))
    lines += (
        caution_names(action, craft, set(), INDENT)
        if told == "short"
        else dangers_and_cares(action.cautions, craft.knowledge)
    )
    lines.append(labelled(f"Do ({phrases.cost(action)})", say))
    lines += dose_lines(action, diagnosis, told)
    solution = action.kind == "remedy" and craft.knowledge.remedies[action.id].touches in SOLUTIONS
    if see and (told == "whole" or (solution and told == "usual")):
        lines.append(labelled("You will see", see))
    if stop and (told == "whole" or solution):
        lines.append(labelled("Stop", stop, "care"))
    return lines


def dose_lines(action: Action, diagnosis: Diagnosis, told: Telling) -> list[RenderableType]:
    """How much it takes, or what must be told before that can be said."""
    dose = diagnosis.dose(action)
    if dose is None:
        return []
    from diagnose import amounts

    knowledge, measures = diagnosis.craft.knowledge, diagnosis.measures
    if dose.wants:
        wanted = [f"{knowledge.conditions[name].ask} ({name})" for name in dose.wants]
        return [labelled("For the amount, tell", " ".join(wanted), "faint")]
    if dose.worked is None:
        return [labelled("No amount", dose.refused, "care")]
    found = dose.worked.amounts
    lines: list[RenderableType] = [labelled("How much", amounts.result_line(found[0], measures), "act")]
    fresh = [name for name in dose.cautions if name not in action.cautions]
    lines += dangers_and_cares(fresh, knowledge)
    if told != "short":
        lines += [bulleted(amounts.result_line(amount, measures), INDENT + 2) for amount in found[1:]]
        taken = [
            amounts.taken_line(
                asked, value, "told" if source in diagnosis.plate.conditions else "worked out" if source else ""
            )
            for asked, value, source in dose.taken
            if source or not asked.if_known
        ]
        lines.append(item(f"from {'; '.join(taken)}", INDENT + 2, "faint"))
    if told == "whole":
        lines += [bulleted(line, INDENT + 2) for line in dose.worked.do]
        lines += [labelled("Keeps", dose.worked.keeps, indent=INDENT + 2)] if dose.worked.keeps else []
        lines.append(item(f"{dose.sum.formula} ({'; '.join(dose.sum.sources)})", INDENT + 2, "faint"))
    lines += [
        labelled("Mind", line, "care", INDENT + 2) for line in dose.worked.beware[: None if told == "whole" else 1]
    ]
    return lines


def amount_screen(action: Action, diagnosis: Diagnosis) -> RenderableType:
    """An amount by itself: what can hurt, how much, how it is put in, what will be seen and when to stop."""
    knowledge, dose = diagnosis.craft.knowledge, diagnosis.dose(action)
    lines: list[RenderableType] = [item(phrases.action_title(action, knowledge), style="act")]
    lines += dangers_and_cares(action.cautions, knowledge)
    lines += dose_lines(action, diagnosis, "usual")
    if dose and dose.worked:
        lines += [numbered(number, line) for number, line in enumerate(dose.worked.do, start=1)]
        lines += [labelled("Mind", line, "care") for line in dose.worked.beware[1:]]
        lines += [labelled("Keeps", dose.worked.keeps)] if dose.worked.keeps else []
        _, see, stop = phrases.doing(action, knowledge)
        lines += [labelled("You will see", see)] if see else []
        lines += [labelled("Stop", stop, "care")] if stop else []
    return Group(*lines)


def caution_names(action: Action, craft: Craft, said: set[str], indent: int = INDENT + 4) -> list[RenderableType]:
    """Cautions by name, for a change made along with another; what was said above is not said again."""
    known = craft.knowledge.cautions
    fresh = [known[name] for name in action.cautions if name not in said]
    level = "danger" if any(caution.level == "danger" for caution in fresh) else "care"
    label = "Danger" if level == "danger" else "Care"
    return [labelled(label, "; ".join(caution.title for caution in fresh), level, indent)] if fresh else []


def cautions_screen(diagnosis: Diagnosis) -> RenderableType:
    """Every caution of the answer, whole."""
    lines = dangers_and_cares(diagnosis.cautions(), diagnosis.craft.knowledge, whole=True)
    return Group(heading("Cautions"), *lines) if lines else Text("")


def tenths(chance: float) -> str:
    """A chance as so many plates in ten."""
    count = round(chance * 10)
    return "less than 1 time in 10" if count < 1 else f"{count} times in 10" if count > 1 else "1 time in 10"


def split_line(diagnosis: Diagnosis) -> RenderableType:
    """Chemistry, light or hand."""
    split = diagnosis.split
    leading = max(split, key=lambda kind: split[kind])
    words = {"chemistry": "the chemistry", "light": "the light", "hand": "the hand (pouring, timing, cleaning)"}
    counted = ", ".join(f"{kind} {percent(share)}" for kind, share in split.items())
    said = f"Rather {words[leading]}" if split[leading] >= CLEAR_SPLIT else "Chemistry, light or hand: still open"
    return item(Text.assemble((f"{said}. ", "key"), (f"{counted[:1].upper()}{counted[1:]}.", "number")), 0)


def ranked(diagnosis: Diagnosis, count: int = SHOWN_FIRST) -> RenderableType:
    """The likeliest causes with their words and numbers, and how well they explain what was seen."""
    lines: list[RenderableType] = [heading("What it may be (more than one can be true)")]
    knowledge = diagnosis.craft.knowledge
    for number, (cause, chance) in enumerate(diagnosis.ranking[:count], start=1):
        if number > 1 and chance < LEAST_SHOWN:
            break
        said = Text.assemble(
            (f"{knowledge.causes[cause].title}: ", "why"), (f"{band(chance)}, {percent(chance)}", "number")
        )
        lines.append(numbered(number, said))
    told = bool(diagnosis.facts.present or diagnosis.facts.unsure)
    if diagnosis.unlisted >= phrases.UNLISTED_SOME or not told:
        lines.append(item(phrases.unlisted(diagnosis.unlisted, told=told), style="care"))
    aside = phrases.set_aside(diagnosis.posterior.set_aside, knowledge)
    return Group(*lines, *([item(aside, style="care")] if aside else []))


def plan_screen(diagnosis: Diagnosis, *, first_too: bool = True) -> RenderableType:
    """The first action in full, what comes after it, and what waits for after hours."""
    knowledge = diagnosis.craft.knowledge
    lines: list[RenderableType] = []
    if diagnosis.plan.first and first_too:
        lines.append(heading(phrases.action_title(diagnosis.plan.first, knowledge)))
        lines += body(diagnosis.plan.first, diagnosis, "whole")
    for title, actions in (
        ("After that, one at a time", diagnosis.plan.then),
        ("For after hours, not now", diagnosis.plan.later),
    ):
        if actions:
            lines.append(heading(title))
        for action in actions:
            lines.append(bulleted(f"{phrases.action_title(action, knowledge)} ({phrases.cost(action)})"))
            if action.first:
                checks = " and ".join(f"“{phrases.told_by(name, knowledge)}”" for name in action.first)
                lines.append(item(f"only if called for by {checks}", INDENT + 2, "care"))
            lines += [Padding(line, (0, 0, 0, INDENT)) for line in dose_lines(action, diagnosis, "short")]
    return Group(*lines) if lines else Text("")


def account_screen(cause: str, diagnosis: Diagnosis) -> RenderableType:
    """Every term behind one cause's number."""
    knowledge = diagnosis.craft.knowledge
    chance = diagnosis.posterior.causes[cause]
    lines: list[RenderableType] = [
        heading(f"Why “{knowledge.causes[cause].title}” is {band(chance)}, {percent(chance)}"),
        item(
            "Each line: what was told, and how much it speaks for (+) or against (-). 3 doubles the odds, 10 makes them ten times.",
            style="faint",
        ),
    ]
    for receipt in diagnosis.account(cause)[cause]:
        said = phrases.receipt(receipt, diagnosis.facts, knowledge)
        lines.append(item(Text.assemble((f"{receipt.decibans:+5.1f}  ", "number"), (said, "why")), hang=7))
        if receipt.source:
            lines.append(item(f"({'; '.join(receipt.source)})", INDENT + 7, "faint"))
    return Group(*lines)


def why_screen(cause: str, diagnosis: Diagnosis, rivals: tuple[str, ...] = ()) -> RenderableType:
    """How a cause brings about what was seen, step by step; loaded when it is asked for."""
    from diagnose.talk.why_screens import joined_screen

    return Group(joined_screen(cause, diagnosis, rivals), account_screen(cause, diagnosis))


def why_not_screen(rival: str, diagnosis: Diagnosis) -> RenderableType:
    """Why a named cause does not lead."""
    from diagnose.reasoning.explaining import why_not

    knowledge = diagnosis.craft.knowledge
    leader = next(cause for cause, _ in diagnosis.ranking if cause != rival)
    books = diagnosis.account(leader, rival)
    chances = diagnosis.posterior.causes
    if chances[rival] >= chances[leader]:
        return Group(
            heading(f"“{knowledge.causes[rival].title}” leads, with {percent(chances[rival])}."),
            account_screen(rival, diagnosis),
        )
    lines: list[RenderableType] = [
        heading(f"Why not “{knowledge.causes[rival].title}”? It is {band(chances[rival])}, {percent(chances[rival])}"),
        item(f"“{knowledge.causes[leader].title}” leads with {percent(chances[leader])}. What parts them most:"),
    ]
    for contrast in why_not(books[leader], books[rival]):
        receipt = contrast.for_second or contrast.for_first
        if receipt is None:
            continue
        lines.append(
            item(
                Text.assemble(
                    (f"{contrast.decibans:5.1f}  ", "number"),
                    (phrases.receipt(receipt, diagnosis.facts, knowledge), "why"),
                ),
                hang=7,
            )
        )
    return Group(*lines)


def turn_screen(diagnosis: Diagnosis) -> RenderableType:
    """What would put another cause first."""
    from diagnose.reasoning.explaining import turns

    knowledge = diagnosis.craft.knowledge
    found = turns(diagnosis.questions(), diagnosis.facts, diagnosis.posterior, diagnosis.craft)
    lines: list[RenderableType] = [heading("What would change this answer")]
    for turn in found:
        asked = phrases.question(turn.question, knowledge)
        answer = answer_words(turn.question.id, turn.question.kind, turn.answer, diagnosis.craft)
        lines.append(
            bulleted(
                f"{asked} If the answer is “{answer}”: “{knowledge.causes[turn.leader].title}”, "
                f"{band(turn.probability)}, {percent(turn.probability)}."
            )
        )
    return Group(*lines) if found else Group(*lines, item("No single answer would."))


def trace_screen(diagnosis: Diagnosis) -> RenderableType:
    """Every rule that fired, with the facts it fired on."""
    knowledge = diagnosis.craft.knowledge
    lines: list[RenderableType] = []
    if diagnosis.reckoned:
        from diagnose import amounts

        lines.append(heading("Worked out before any rule fired"))
    for found in diagnosis.reckoned:
        entry = knowledge.conditions[found.condition]
        value = diagnosis.facts.value_words(found.condition, knowledge)
        lines.append(item(Text.assemble((found.condition, "key"), (f": {entry.ask}: {value}", "number"))))
        taken = [
            amounts.taken_line(found.sum.asked(name), given, "told" if source else "")
            for name, (given, source) in found.taken.items()
            if source or not found.sum.asked(name).if_known
        ]
        said = f"{found.sum.formula}; from {'; '.join(taken)}; {found.sum.accuracy} ({'; '.join(found.sum.sources)})"
        lines.append(item(said, INDENT + 2, "faint"))
    lines.append(heading(f"Rules that fired ({diagnosis.firing.engine})"))
    for rule in diagnosis.firing.trace:
        because = "; ".join(phrases.atom(atom, diagnosis.facts, knowledge) for atom in rule.when)
        lines.append(item(Text.assemble((rule.name, "key"), (f": because {because}", "faint"))))
    return Group(*lines)


def told_screen(diagnosis: Diagnosis, by_book: Container[str] = ()) -> RenderableType:
    """What was told, so that a slip can be seen.

    Args:
        diagnosis: of the plate
        by_book: conditions the daybook answered
    """
    facts, knowledge = diagnosis.facts, diagnosis.craft.knowledge
    lines: list[str] = []
    for names, word in (
        (facts.present, ""),
        (facts.unsure, "not sure: "),
        ({name: {} for name in sorted(facts.absent)}, "not there: "),
    ):
        for name, attributes in names.items():
            described = [knowledge.attributes[key].values[value] for key, value in attributes.items()]
            lines.append(
                f"{word}{knowledge.symptoms[name].title}" + (f" ({', '.join(described)})" if described else "")
            )
    known = (*facts.amounts, *facts.options)
    lines += [
        f"{phrases.spaced(name)}: {facts.value_words(name, knowledge)}{' (from your book)' if name in by_book else ''}"
        for name in sorted(known)
    ]
    lines += [phrases.finding(f"{check}={outcome}", knowledge) for check, outcome in facts.outcomes.items()]
    lines += [f"tried: {knowledge.remedies[remedy].title} ({result})" for remedy, result in facts.tried]
    return Group(heading("What was told"), *(bulleted(line) for line in lines)) if lines else Text("")


def answer_words(name: str, kind: str, answer: str, craft: Craft) -> str:
    """An answer as it is offered."""
    knowledge = craft.knowledge
    match kind:
        case "symptom":
            return answer
        case "attribute":
            return knowledge.attributes[name.partition(".")[2]].values[answer]
        case "check":
            return next(outcome.says for outcome in knowledge.checks[name].outcome if outcome.id == answer)
        case _:
            entry = knowledge.conditions[name]
            return f"about {float(answer):.3g} {entry.unit}" if entry.kind == "quantity" else entry.answers[answer]
