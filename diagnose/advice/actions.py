"""What could be done next, how likely it is to help, and what stands in its way."""

from collections.abc import Mapping
from typing import NamedTuple

from diagnose.advice.cautions import cautions_of, cautions_of_answer, in_order
from diagnose.entries.tests_in_words import Found, read_test
from diagnose.facts import Facts
from diagnose.reasoning.atoms import condition_test
from diagnose.reasoning.chaining import Firing
from diagnose.reasoning.craft import Craft

BATH = "silver-bath"
LINGER_MINUTES = 1.0  # every change costs a little attention, however small: judged
IRREVERSIBLE_MINUTES = 30.0  # what it is worth not to do a thing that cannot be undone: judged
LEAST_HELP = 0.005
HARDLY_ANY = 0.99 * LEAST_HELP  # so far below it that the order of adding up does not matter
MAIN_PART = 0.4  # share of the most helped cause from which another may be named as the reason: judged


class Action(NamedTuple):
    """A remedy to try or a check to make.

    Args:
        id: remedy or check
        kind: "remedy" or "check"
        helps: chance that it puts this plate's fault right (remedy), or bits it tells (check)
        causes: causes it would put right, with their part of that chance: the one spoken of first, then the largest
        cost: minutes, with plates and risk counted in
        minutes, plates, reversible: as in its file
        cautions: what stands beside it
        first: checks and conditions that must be told before it may come first
    """

    id: str
    kind: str
    helps: float
    causes: tuple[tuple[str, float], ...]
    cost: float
    minutes: float
    plates: int
    reversible: bool
    cautions: tuple[str, ...]
    first: tuple[str, ...] = ()


def cures_now(firing: Firing, craft: Craft) -> dict[str, dict[str, float]]:
    """Remedy -> cause -> chance of putting it right, with links that need a condition only where it holds.

    Args:
        firing: the fired rules
        craft: the knowledge made ready
    """
    table = {remedy: dict(causes) for remedy, causes in craft.model.cures.items()}
    for rule in firing.trace:
        note = craft.book.notes[rule.name]
        if note.kind == "remedy":
            link = craft.knowledge.causes[note.owner].remedy[note.number]
            row = table.setdefault(link.do, {})
            row[note.owner] = max(row.get(note.owner, 0.0), craft.knowledge.strengths.surely[link.surely])
    return table


def remedies_now(facts: Facts, shares: Mapping[str, float], firing: Firing, craft: Craft) -> list[Action]:
    """Every remedy that could help, best first: chance of helping for its cost, reversible first where they are equal.

    Args:
        facts: the plate
        shares: the belief as shares of one
        firing: the fired rules
        craft: the knowledge made ready
    """
    barred, backed = owners_of("never", firing, craft), owners_of("needs", firing, craft)
    tried = {remedy for remedy, _ in facts.tried}
    actions = []
    for name, causes in cures_now(firing, craft).items():
        if name in barred or name in tried:
            continue
        found = [(cause, shares.get(cause, 0.0) * sure) for cause, sure in causes.items()]
        if sum([part for _, part in found]) < HARDLY_ANY:  # most are: not worth putting in order
            continue
        parts = _likeliest_first(sorted(found, key=lambda part: (-part[1], part[0])), shares)
        helps = sum(part for _, part in parts)
        if helps < LEAST_HELP:
            continue
        remedy = craft.knowledge.remedies[name]
        cost = cost_of(remedy.minutes, remedy.plates, craft, reversible=remedy.reversible)
        first = open_checks(name, facts, craft, backed)
        if first is None:
            continue
        actions.append(
            Action(
                name,
                "remedy",
                helps,
                tuple(parts[:1] + [part for part in parts[1:] if part[1] > 0.001]),
                cost,
                remedy.minutes,
                remedy.plates,
                remedy.reversible,
                (),
                first,
            )
        )
    return sorted(actions, key=lambda action: (-action.helps / action.cost, not action.reversible, action.id))


def owners_of(kind: str, firing: Firing, craft: Craft) -> set[str]:
    """The remedies whose rules of one kind fired.

    Args:
        kind: "needs" for what supports them, "never" for what forbids them
        firing: the fired rules
        craft: the knowledge made ready
    """
    notes = (craft.book.notes[rule.name] for rule in firing.trace)
    return {note.owner for note in notes if note.kind == kind}


def cost_of(minutes: float, plates: int, craft: Craft, *, reversible: bool = True) -> float:
    """What an action costs, a test plate on the way included [minutes].

    Args:
        minutes: time it takes
        plates: plates it spends beyond the next one
        craft: the knowledge made ready
        reversible: whether it can be undone
    """
    plate = craft.knowledge.strengths.expect.plate_minutes
    return plate + LINGER_MINUTES + minutes + plates * plate + (0 if reversible else IRREVERSIBLE_MINUTES)


def open_checks(name: str, facts: Facts, craft: Craft, backed: set[str]) -> tuple[str, ...] | None:
    """What must be told before a remedy: what it needs, and whatever could still clear the bath for nothing.

    Args:
        name: the remedy
        facts: the plate
        craft: the knowledge made ready
        backed: remedies whose needs are met

    Returns:
        checks and conditions; () when nothing stands in the way, None when what it needs can no longer be met
    """
    remedy = craft.knowledge.remedies[name]
    wanted: dict[str, None] = {}
    if remedy.needs and name not in backed:
        needed = _nearest_needs(remedy.needs, facts, craft)
        if needed is None:
            return None
        wanted |= dict.fromkeys(needed)
    if remedy.touches == BATH:
        clearing = craft.clearing.get(name)
        if clearing is None:
            clearing = craft.clearing[name] = _clearing(name, craft)
        wanted |= {check: None for check in clearing if not facts.answered(check)}
    return tuple(wanted)


def _clearing(name: str, craft: Craft) -> tuple[str, ...]:
    """The checks that cost no plate and could clear the bath of all a remedy treats."""
    treated = [entry for entry in craft.knowledge.causes.values() if any(link.do == name for link in entry.remedy)]
    linked = {found.check for entry in treated for found in entry.check}
    return tuple(
        check_name
        for check_name, check in craft.knowledge.checks.items()
        if BATH in check.could_clear and check.plates == 0 and check.outcome and check_name in linked
    )


def unmet(name: str, craft: Craft, backed: set[str]) -> bool:
    """Whether a remedy still lacks the finding that would support it."""
    return bool(craft.knowledge.remedies[name].needs) and name not in backed


def _likeliest_first(parts: list[tuple[str, float]], shares: Mapping[str, float]) -> list[tuple[str, float]]:
    """The likeliest cause to the front, if the remedy does not help much less against it: it is the one spoken of."""
    worth = [part for part in parts if part[1] >= MAIN_PART * parts[0][1]]
    front = max(worth, key=lambda part: shares.get(part[0], 0.0), default=parts[0])
    return [front, *(part for part in parts if part != front)]


def with_cautions(action: Action, firing: Firing, craft: Craft) -> Action:
    """An action with everything that must stand beside it; left until an action is chosen, because most never are.

    Args:
        action: from `remedies_now` or `checks_action`
        firing: the fired rules
        craft: the knowledge made ready
    """
    if action.kind == "check":
        if craft.knowledge.checks[action.id].station == "proving-plate":  # it is developed and fixed like any other
            return action._replace(cautions=cautions_of_answer([action.cautions], firing, craft))
        return action
    return action._replace(cautions=cautions_of(craft.knowledge.remedies[action.id], firing, craft))


def checks_action(name: str, gain: float, craft: Craft) -> Action:
    """A check as an action.

    Args:
        name: the check
        gain: what it tells [bit]
        craft: the knowledge made ready
    """
    check = craft.knowledge.checks[name]
    cost = check.minutes + check.plates * craft.knowledge.strengths.expect.plate_minutes
    return Action(
        name,
        "check",
        gain,
        (),
        cost,
        check.minutes,
        check.plates,
        reversible=True,
        cautions=in_order(check.caution, craft),
    )


def _nearest_needs(needs: tuple[tuple[str, ...], ...], facts: Facts, craft: Craft) -> list[str] | None:
    """What is still open in the first set of needs that could still be met: checks, or conditions no check answers.

    None when none of the sets can be met any more.
    """
    for group in needs:
        wanted: list[str] = []
        for words in group:
            found = _still_open(words, facts, craft)
            if found is None:
                break
            wanted += found
        else:
            return wanted
    return None


def _still_open(words: str, facts: Facts, craft: Craft) -> list[str] | None:
    """What would have to be told for one test to hold; [] when it holds or follows from others, None when it cannot."""
    test = read_test(words)
    if isinstance(test, Found):
        if facts.outcomes.get(test.check, test.outcome) != test.outcome or test.check in facts.open:
            return None
        return [] if test.check in facts.outcomes else [test.check]
    asked = condition_test(words, craft.knowledge)
    if asked is None:
        return []
    if facts.knows(asked.condition):
        return [] if asked.holds(facts) else None
    if asked.condition in facts.open:
        return None
    return [name for name, check in craft.knowledge.checks.items() if asked.condition in check.answers][:1] or [
        asked.condition
    ]
