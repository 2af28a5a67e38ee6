"""The one next action, and the plan behind it: look before you treat, cheap and reversible first, the bath last."""

from collections.abc import Mapping, Sequence
from operator import mul
from typing import NamedTuple

from diagnose.advice.actions import Action, checks_action, owners_of, remedies_now, unmet, with_cautions
from diagnose.facts import Facts
from diagnose.reasoning.asking import UNLISTED, outcome_rows, shares_of
from diagnose.reasoning.chaining import Firing
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.weighing import Posterior

MODES = ("sitter-waiting", "find-out")
STEPS_AHEAD = 8
CALL_OUT_MINUTES = 60.0  # what a fault costs that nothing in the plan puts right: judged
WORTH_A_LOOK = 0.12  # share of the whole time a check must save on average before it comes before a remedy: judged
POOR_HELP = 0.25  # where no remedy helps more often than this, any look that saves time comes first: judged
LEAST_BELIEF = 0.01
MOST_WEIGHED = 16  # remedies looked at when checks are weighed against them
MOST_LOOKS = 7
QUICK_MINUTES = 5.0  # judged, like the three below
MOST_BUNDLED = 3
ENOUGH_HELP = 0.85
MOST_PLANNED = 5
WORTH_NAMING = 0.03  # chance of helping below which an action is not spoken of


class Plan(NamedTuple):
    """What to do, in order.

    Args:
        mode: "sitter-waiting" bundles quick changes and then makes one test; "find-out" changes one thing a plate
        first: the one next action, or None where nothing is known that would help
        together: quick changes to make along with the first (sitter-waiting only)
        then: what comes after, in order
        later: long or risky work for after hours
    """

    mode: str
    first: Action | None
    together: tuple[Action, ...]
    then: tuple[Action, ...]
    later: tuple[Action, ...]


def plan(facts: Facts, posterior: Posterior, firing: Firing, craft: Craft, mode: str = MODES[0]) -> Plan:
    """The plan for a plate.

    Args:
        facts: the plate
        posterior: what is believed now
        firing: the fired rules
        craft: the knowledge made ready
        mode: one of MODES
    """
    remedies, ready, held = _sorted_out(facts, posterior, firing, craft, mode)
    look = _best_look(facts, shares_of(posterior), remedies, craft)
    first = _first(ready, held, look, facts, craft)
    together = _together(first, ready) if mode == "sitter-waiting" and first is not None else ()
    done = {action.id for action in (first, *together) if action is not None}
    rest = [action for action in remedies if action.id not in done]
    later = tuple(
        action for action in rest if (action in held or action.minutes > 3 * QUICK_MINUTES or not action.reversible)
    )
    then = tuple(action for action in rest if action not in later and action.helps >= WORTH_NAMING)
    later = tuple(action for action in later if action.helps >= WORTH_NAMING)
    if look is not None and look.id not in done:
        then = (look, *then)
    return Plan(
        mode,
        with_cautions(first, firing, craft) if first else None,
        tuple(with_cautions(action, firing, craft) for action in together),
        tuple(with_cautions(action, firing, craft) for action in then[:MOST_PLANNED]),
        tuple(with_cautions(action, firing, craft) for action in later[:MOST_PLANNED]),
    )


def first_action(
    facts: Facts, posterior: Posterior, firing: Firing, craft: Craft, mode: str = MODES[0]
) -> Action | None:
    """What `plan` puts first, without its cautions and without the rest of the plan.

    Args:
        facts: the plate
        posterior: what is believed now
        firing: the fired rules
        craft: the knowledge made ready
        mode: one of MODES
    """
    remedies, ready, held = _sorted_out(facts, posterior, firing, craft, mode)
    return _first(ready, held, _best_look(facts, shares_of(posterior), remedies, craft), facts, craft)


def _sorted_out(
    facts: Facts, posterior: Posterior, firing: Firing, craft: Craft, mode: str
) -> tuple[list[Action], list[Action], list[Action]]:
    """Every remedy that could help, those nothing stands in the way of, and the others."""
    remedies = remedies_now(facts, shares_of(posterior), firing, craft)
    backed = owners_of("needs", firing, craft)
    ready = [action for action in remedies if not action.first and not unmet(action.id, craft, backed)]
    able = {action.id for action in ready}
    held = [action for action in remedies if action.id not in able]
    if mode == "sitter-waiting":
        quick = [action for action in ready if action.minutes <= 3 * QUICK_MINUTES and not action.plates]
        ready = quick + [action for action in ready if action not in quick]
    return remedies, ready, held


def expected_cost(belief: Sequence[float], options: Sequence[tuple[float, Sequence[float]]]) -> float:
    """Minutes until the fault is put right, trying remedies in order of chance for cost, and giving up where that is cheaper.

    Args:
        belief: weight of each cause
        options: for each remedy its cost [minutes], and its chance of putting each cause right

    Source: order by chance over cost, optimal for one fault and independent remedies (Heckerman, Breese and Rommelse 1995).
    """
    left = list(belief)
    waiting = list(options)
    cheapest = min((cost for cost, _ in options), default=0.0)
    remaining = sum(left)
    tried = 0.0
    best = CALL_OUT_MINUTES * remaining
    for _ in range(min(STEPS_AHEAD, len(waiting))):
        if tried + cheapest * remaining >= best:  # whatever is tried from here on costs more than giving up did
            break
        number, most = 0, -1.0
        for place, (cost, row) in enumerate(waiting):
            worth = sum(map(mul, left, row)) / cost
            if worth > most:
                number, most = place, worth
        cost, row = waiting.pop(number)
        tried += cost * remaining
        left = [weight * (1 - sure) for weight, sure in zip(left, row, strict=True)]
        remaining = sum(left)
        best = min(best, tried + CALL_OUT_MINUTES * remaining)
    return best


def _best_look(facts: Facts, shares: Mapping[str, float], remedies: list[Action], craft: Craft) -> Action | None:
    """The check that saves most time on average, if any saves enough to come first."""
    causes = [cause for cause, share in shares.items() if cause and share >= LEAST_BELIEF]
    belief = [shares[cause] for cause in causes]
    leading = sorted(remedies, key=lambda action: -action.helps)[:MOST_WEIGHED]
    rows = {action.id: [craft.model.cures.get(action.id, {}).get(cause, 0.0) for cause in causes] for action in leading}
    allowed = [(action.cost, rows[action.id]) for action in leading if not action.first]
    now = expected_cost(belief, allowed)
    best_help = max((action.helps for action in leading if not action.first), default=0.0)
    best: tuple[float, Action] | None = None
    for name, columns in _telling_checks(facts, causes, belief, craft):
        action = checks_action(name, 0.0, craft)
        opened = [(other.cost, rows[other.id]) for other in leading if not set(other.first) - {name}]
        after = sum(
            expected_cost(list(map(mul, belief, column)), allowed if outcome.normal else opened)
            for outcome, column in zip(craft.knowledge.checks[name].outcome, columns, strict=True)
        )
        saved = now - after - action.cost * sum(belief)
        if saved > (WORTH_A_LOOK * now if best_help >= POOR_HELP else 0.0) and (best is None or saved > best[0]):
            best = saved, action._replace(helps=saved)
    return best[1] if best else None


def _telling_checks(
    facts: Facts, causes: Sequence[str], belief: Sequence[float], craft: Craft
) -> list[tuple[str, list[tuple[float, ...]]]]:
    """The open checks that tell most of the leading causes, with the chance of each outcome under each cause."""
    total = sum(belief) or 1.0
    weights = [weight / total for weight in belief]
    found = []
    for name, check in craft.knowledge.checks.items():
        if not check.outcome or facts.answered(name):
            continue
        columns = list(zip(*outcome_rows(name, causes, craft), strict=True)) or [()] * len(check.outcome)
        apart = sum(
            [
                weight * abs(chance - mean)
                for column in columns
                for mean in (sum(map(mul, belief, column)) / total,)
                for weight, chance in zip(weights, column, strict=True)
            ]
        )
        found.append((apart, name, columns))
    found.sort(key=lambda item: (-item[0], item[1]))
    return [(name, columns) for _, name, columns in found[:MOST_LOOKS]]


def _first(ready: list[Action], held: list[Action], look: Action | None, facts: Facts, craft: Craft) -> Action | None:
    if look is not None:
        return look
    leading = max((*ready[:1], *held[:1]), key=lambda action: action.helps / action.cost, default=None)
    if leading is None:
        return None
    if leading in ready:
        return leading
    known = craft.knowledge.checks
    open_first = [name for name in leading.first if name in known and known[name].outcome and not facts.answered(name)]
    if open_first:
        cheapest = min(open_first, key=lambda name: checks_action(name, 0.0, craft).cost)
        return checks_action(cheapest, leading.helps, craft)
    return ready[0] if ready else None


def _together(first: Action, ready: list[Action]) -> tuple[Action, ...]:
    """Quick, harmless changes worth making in one go before the next plate."""
    if first.kind != "remedy" or first.helps >= ENOUGH_HELP:
        return ()
    bundle: list[Action] = []
    helped = dict(first.causes)
    for action in ready:
        fresh = sum(part for cause, part in action.causes if cause not in helped)
        quick = action.minutes <= QUICK_MINUTES and not action.plates and action.reversible
        if action.id != first.id and quick and fresh > 0.05 and not _clash(action, (first, *bundle)):
            bundle.append(action)
            helped |= dict(action.causes)
        if len(bundle) == MOST_BUNDLED - 1 or sum(helped.values()) >= ENOUGH_HELP:
            break
    return tuple(bundle)


OPPOSITES = (
    {"give-more-exposure", "give-less-exposure"},
    {"develop-longer", "stop-development-sooner"},
    {"cool-the-developer", "warm-the-developer"},
    {"more-alcohol-in-developer", "less-alcohol-in-developer"},
    {"dip-sooner", "wait-for-the-set"},
    {"cool-the-bath", "warm-the-bath"},
    {"fix-longer-or-fresh", "weaken-the-fixer"},
)


def _clash(action: Action, others: tuple[Action, ...]) -> bool:
    return any(action.id in pair and other.id in pair for pair in OPPOSITES for other in others)


def share_by_kind(posterior: Posterior, craft: Craft) -> dict[str, float]:
    """The first split: how the belief lies between chemistry, light and hand; adds up to one.

    Args:
        posterior: what is believed now
        craft: the knowledge made ready
    """
    shares = shares_of(posterior)
    split = {"chemistry": 0.0, "light": 0.0, "hand": 0.0}
    for cause, share in shares.items():
        if cause != UNLISTED:
            split[craft.knowledge.causes[cause].kind] += share
    total = sum(split.values()) or 1.0
    return {kind: share / total for kind, share in split.items()}
