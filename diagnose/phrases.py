"""Every sentence the program says by itself about a plate; the craft's own sentences are in knowledge/.

Screens and JSON say the same things, so the sentences stand here, below both.
"""

from collections.abc import Iterable

from diagnose.advice.actions import Action
from diagnose.entries.knowledge import Knowledge
from diagnose.facts import Facts
from diagnose.reasoning.asking import Question
from diagnose.reasoning.receipts import Receipt

UNLISTED_HIGH, UNLISTED_SOME = 0.5, 0.25  # judged
FINDING_MARK = "="


def unlisted(share: float, *, told: bool) -> str:
    """How likely it is that nothing known here is behind it, in words.

    Args:
        share: from `unlisted`
        told: whether any symptom was told
    """
    if not told:
        return "Nothing has been told of the plate yet: this is only how common each cause is."
    if share >= UNLISTED_HIGH:
        return (
            "Nothing known here fits well. It may be something this tool does not know; "
            "the checks still part chemistry from light and hand."
        )
    if share >= UNLISTED_SOME:
        return "Part of what is seen is not well explained by anything known here."
    return "Something known here explains what is seen."


def receipt(item: Receipt, facts: Facts, knowledge: Knowledge) -> str:
    """One term of an account, in words.

    Args:
        item: the term
        facts: the plate
        knowledge: titles and questions
    """
    match item.kind:
        case "prior" if item.rates:
            here, books = (percent(rate) for rate in item.rates)
            return f"How common it is in your studio: on {here} of spoiled plates; the books alone say {books}"
        case "prior":
            return "How common it is among spoiled plates"
        case "silent":
            return "Signs this cause often shows were not mentioned"
        case "together":
            return "All together: causes that explain the same thing share the weight"
        case "tried":
            result = dict(facts.tried).get(item.about, "")
            after = {"no-change": "no better", "better": "better", "cured": "good"}.get(result, "")
            return f"Tried “{knowledge.remedies[item.about].title}”; the next plate was {after}"
        case "earlier":
            return f"The earlier plates of the day speak {'for' if item.decibans > 0 else 'against'} it"
        case "condition":
            return f"{tests_in_plain(item.about, facts, knowledge)}: {item.why}"
    name = finding(item.about, knowledge)
    if not item.why:
        return f"{name}: this cause has nothing to do with it"
    if item.answer == "absent":
        return f"Not so: {name}. {item.why}"
    return f"{name}{' (not sure)' if item.answer == 'unsure' else ''}. {item.why}"


def percent(share: float) -> str:
    """A share of plates as it is said, to two figures.

    Args:
        share: from 0 to 1

    >>> percent(0.1234), percent(0.0123), percent(0.00042)
    ('12 %', '1.2 %', '0.042 %')
    """
    return f"{float(f'{100 * share:.2g}'):g} %"


def finding(name: str, knowledge: Knowledge) -> str:
    """A symptom, or the outcome of a check, as it is called.

    Args:
        name: symptom, or check=outcome
        knowledge: titles
    """
    if FINDING_MARK not in name:
        return knowledge.symptoms[name].title
    check_name, _, outcome_id = name.partition(FINDING_MARK)
    check = knowledge.checks[check_name]
    says = next(outcome.says for outcome in check.outcome if outcome.id == outcome_id)
    return f"{check.title}: {says}"


def atom(text: str, facts: Facts, knowledge: Knowledge) -> str:
    """A fact a rule fired on, in words.

    Args:
        text: the atom
        facts: the plate, for how a symptom was answered
        knowledge: titles
    """
    kind, _, rest = text.partition(":")
    match kind:
        case "state":
            return knowledge.states[rest].means
        case "seen":
            return knowledge.symptoms[rest].title
        case "found":
            return finding(rest, knowledge)
        case "heard":
            check, _, outcome = rest.partition(FINDING_MARK)
            there = facts.outcomes.get(check) == outcome if outcome else rest in facts.present or rest in facts.unsure
            return f"{'' if there else 'not: '}{finding(rest, knowledge)}"
        case "not":
            return f"not known or not so: {test_in_plain(rest, facts, knowledge)}"
        case _:
            return test_in_plain(rest, facts, knowledge)


def tests_in_plain(about: str, facts: Facts, knowledge: Knowledge) -> str:
    """Tests joined by "and", in words."""
    said = " and ".join(test_in_plain(words, facts, knowledge) for words in about.split(" and "))
    return said[:1].upper() + said[1:]


def test_in_plain(words: str, facts: Facts, knowledge: Knowledge) -> str:
    """One test as it would be said: the condition with the value given, or what a state means.

    Args:
        words: the test as it stands in a file
        facts: the plate, for the value given
        knowledge: the craft
    """
    from diagnose.entries.tests_in_words import Comparison, Found, InState, IsKnown, IsOption, Seen, read_test

    match read_test(words):
        case InState(state):
            return lower_first(knowledge.states[state].means)
        case Seen(symptom):
            return lower_first(knowledge.symptoms[symptom].title)
        case Found(check, outcome):
            return lower_first(finding(f"{check}{FINDING_MARK}{outcome}", knowledge))
        case IsOption(condition, option):
            entry = knowledge.conditions[condition]
            return f"{spaced(condition)}: {entry.answers[option]}"
        case Comparison(condition, sign, amount):
            given = f" ({facts.value_words(condition, knowledge)})" if facts.knows(condition) else ""
            compared = {">": "over", ">=": "at least", "<": "under", "<=": "at most"}[sign]
            return f"{spaced(condition)} {compared} {amount}{given}"
        case IsKnown(condition):
            return f"{spaced(condition)} known"


def spaced(name: str) -> str:
    """A condition's name with spaces."""
    return name.replace("_", " ")


def lower_first(text: str) -> str:
    """A sentence to stand inside another."""
    return text[:1].lower() + text[1:]


def action_title(action: Action, knowledge: Knowledge) -> str:
    """What an action is called.

    Args:
        action: from the plan
        knowledge: titles
    """
    return (knowledge.checks if action.kind == "check" else knowledge.remedies)[action.id].title


def doing(action: Action, knowledge: Knowledge) -> tuple[str, str, str]:
    """What to do, what will be seen, and when to stop.

    Args:
        action: from the plan
        knowledge: the craft
    """
    if action.kind == "check":
        return knowledge.checks[action.id].do, "", ""
    remedy = knowledge.remedies[action.id]
    return remedy.say, remedy.see, remedy.stop


def action_why(action: Action, knowledge: Knowledge) -> str:
    """One line why.

    Args:
        action: from the plan
        knowledge: the craft
    """
    if action.kind == "check":
        return f"It tells {knowledge.checks[action.id].tells_apart}."
    return knowledge.causes[action.causes[0][0]].brief if action.causes else ""


def question(asked: Question, knowledge: Knowledge) -> str:
    """A question as it is put.

    Args:
        asked: from `questions`
        knowledge: the craft
    """
    match asked.kind:
        case "symptom":
            return f"Does it show this? {knowledge.symptoms[asked.id].look}."
        case "attribute":
            symptom, _, attribute = asked.id.partition(".")
            return f"{knowledge.symptoms[symptom].title}: {lower_first(knowledge.attributes[attribute].ask)}"
        case "condition":
            return knowledge.conditions[asked.id].ask
        case _:
            return knowledge.checks[asked.id].do


def why_ask(asked: Question, knowledge: Knowledge) -> str:
    """Why a question is asked.

    Args:
        asked: from `questions`
        knowledge: the craft
    """
    if len(asked.parts) == 2:
        first, second = (knowledge.causes[cause].title for cause in asked.parts)
        return f"It parts “{first}” from “{second}”. {_reason(asked, knowledge)}".rstrip()
    if asked.kind == "check":
        return f"It tells {knowledge.checks[asked.id].tells_apart}."
    return "It says most about what is left."


def _reason(asked: Question, knowledge: Knowledge) -> str:
    """Why an answer speaks for one of the two causes, in the words of its link; "" where no link says it outright."""
    about = asked.id.partition(".")[0]
    for cause in asked.parts:
        entry = knowledge.causes[cause]
        links = [link.why for link in entry.symptom if link.symptom == about]
        links += [found.why for found in entry.check if found.check == about]
        shifts = (*entry.likelier, *entry.unlikelier)
        links += [shift.why for shift in shifts if any(words.split(" ")[0] == about for words in shift.when)]
        if links:
            return links[0]
    return ""


def answers(asked: Question, knowledge: Knowledge) -> list[str]:
    """What may be answered, as it is written in a plate file.

    Args:
        asked: from `questions`
        knowledge: the craft
    """
    if asked.kind == "condition" and knowledge.conditions[asked.id].kind == "quantity":
        entry = knowledge.conditions[asked.id]
        low, high = entry.range or (0.0, 0.0)
        return [f"an amount from {low:g} to {high:g} {entry.unit}"]
    return [answer for answer, _ in asked.answers]


def told_by(name: str, knowledge: Knowledge) -> str:
    """What a check or a condition is called where it must come first.

    Args:
        name: check or condition
        knowledge: titles
    """
    return knowledge.checks[name].title if name in knowledge.checks else knowledge.conditions[name].ask


def set_aside(names: Iterable[str], knowledge: Knowledge) -> str:
    """What was told but could not be weighed, or ""."""
    titles = [finding(name, knowledge) for name in names]
    return f"More was told than can be weighed at once. Set aside: {', '.join(titles)}." if titles else ""


def minutes(amount: float) -> str:
    """A time as it is said.

    >>> minutes(0.2), minutes(1), minutes(15)
    ('no extra time', '1 minute', '15 minutes')
    """
    if amount < 0.5:
        return "no extra time"
    if amount >= 120:
        return f"{amount / 60:.0f} hours"
    whole = max(1, round(amount))
    return f"{whole} minute{'s' if whole != 1 else ''}"


def cost(action: Action) -> str:
    """What an action costs, in words.

    Args:
        action: from the plan
    """
    parts = [minutes(action.minutes)]
    if action.plates:
        parts.append(f"{action.plates} extra plate{'s' if action.plates > 1 else ''}")
    if not action.reversible:
        parts.append("cannot be undone")
    return ", ".join(parts)
