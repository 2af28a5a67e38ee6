"""One single-change test for tomorrow: what would tell most of the day's doubt for each minute it costs."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose import phrases
from diagnose.advice.actions import Action, checks_action, owners_of, remedies_now, unmet, with_cautions
from diagnose.advice.cautions import cautions_of_answer
from diagnose.bands import band, percent
from diagnose.daybook.advised import Likely, Meaning, Trial
from diagnose.daybook.dosed import dosed, warned
from diagnose.daybook.doubt import GOOD, MENDED, NONE, Doubt, Experiment, Hypothesis, experiments, told
from diagnose.daybook.patterns import helps_against, likely
from diagnose.daybook.reviewed import Bar
from diagnose.facts import Facts
from diagnose.reasoning.craft import Craft
from diagnose.reasoning.weighing import fire

if TYPE_CHECKING:
    from diagnose.reasoning.chaining import Firing

LEAST_DOUBT = 0.35  # bit; with less open no plate is spent on a test: judged, as are the next four
LEAST_GAIN = 0.1  # bit
LIKELIER = 0.5
MUCH_OF_THE_BEST = 0.5  # a test must tell so much of what the most telling one would; among those the cheapest bit wins
ONE_OFF = 0.8  # plates expected of a cause of single plates before it is named as the thing to mind
MORE_THAN_BARE = 1.3  # times what a plate made as before tells: judged
SELDOM, LEAST_SELDOM = 0.04, 0.005  # chances of an outcome
SAID = 0.05  # of the belief after an outcome; what is less likely is not said
MOST_LEADING = 3
NOTHING_STANDS = "none of the standing causes"


def trial_of(doubt: Doubt, facts: Facts, spoiled: int, bars: Sequence[Bar], craft: Craft, measures: str) -> Trial:
    """The test for tomorrow, or what to do where none is worth a plate.

    Args:
        doubt: what is open about the standing causes
        facts: what is known at the end of the day
        spoiled: how many plates were
        bars: the Pareto
        craft: the knowledge made ready
        measures: "metric", "us" or "imperial"
    """
    if not spoiled:
        return _nothing("No plate was spoiled, so there is nothing to test.", "Work on as you did.")
    firing = fire(facts, craft, craft.bulk)
    shares: dict[str, float] = dict.fromkeys((cause for cause, _ in doubt.settled), 1.0)
    for (cause, _), share in doubt.shares.items():
        shares[cause] = min(1.0, shares.get(cause, 0.0) + share)
    remedies = remedies_now(facts, shares, firing, craft)
    backed = owners_of("needs", firing, craft)
    ready = [action for action in remedies if not action.first and not unmet(action.id, craft, backed)]
    if doubt.open >= LEAST_DOUBT:
        found = [item for item in experiments(doubt, facts, ready, craft) if _matters(item, doubt, craft)]
        if doubt.shares[NONE] > LIKELIER:  # nothing is changed while it is likelier that there is nothing to change
            found = [item for item in found if item.kind == "plate" or not _changes(item)]
        best = _best(found)
        if best is not None:
            return _test(best, doubt, facts, firing, craft, measures)
    if not doubt.settled and doubt.shares[NONE] >= max(doubt.shares.values()):
        return _one_offs(doubt, bars, facts, firing, craft, measures)
    return _do(doubt, remedies, ready, facts, firing, craft, measures)


def _best(found: list[Experiment]) -> Experiment | None:
    """Of the tests that tell much, the one that tells most for each minute.

    A plate made just as before is the measure for every other test plate: what tells hardly more than it is not worth the bother.
    """
    bare = max((item.gain for item in found if item.kind == "plate"), default=0.0)
    found = [item for item in found if item.kind != "check" or not _changes(item) or item.gain >= MORE_THAN_BARE * bare]
    most = max((item.gain for item in found), default=0.0)
    if most < LEAST_GAIN:
        return None
    telling = [item for item in found if item.gain >= MUCH_OF_THE_BEST * most]
    return max(telling, key=lambda item: (item.gain / item.minutes, item.gain, item.action.id if item.action else ""))


def _changes(item: Experiment) -> bool:
    """Whether something is changed for a plate; a look changes nothing."""
    return item.kind == "remedy" or (item.action is not None and item.action.plates > 0)


def _matters(item: Experiment, doubt: Doubt, craft: Craft) -> bool:
    """Whether its outcomes lead to different things to do; else there is no need to know."""
    after = {outcome: told(doubt.shares, row) for outcome, row in item.table.items()}
    return (
        len({_then(item, outcome, belief, craft) for outcome, (chance, belief) in after.items() if chance >= SELDOM})
        > 1
    )


def _test(best: Experiment, doubt: Doubt, facts: Facts, firing: "Firing", craft: Craft, measures: str) -> Trial:
    about = {
        "kind": best.kind,
        "bits": best.gain,
        "per_minute": best.gain / best.minutes,
        "doubt": doubt.open,
        "between": _leading(doubt.shares, craft),
        "outcomes": _outcomes(best, doubt, craft),
    }
    if best.action is None:
        return Trial(
            title="Make one plate with everything as it stands, and change nothing more",
            do="Coat, dip, expose and develop just as you did at the end of the day. Note what it shows, or that it is good.",
            why="It shows whether the fault is still there before anything else is treated.",
            cautions=warned(cautions_of_answer((), firing, craft), craft),
            **about,  # type: ignore[arg-type]
        )
    return _told(best.action, facts, firing, craft, measures, **about)


def _do(
    doubt: Doubt,
    remedies: Sequence[Action],
    ready: Sequence[Action],
    facts: Facts,
    firing: "Firing",
    craft: Craft,
    measures: str,
) -> Trial:
    """No doubt worth a plate: what helps most against the leading cause, or the look that has to come before it."""
    about = {"kind": "do", "doubt": doubt.open, "between": () if doubt.settled else _leading(doubt.shares, craft)}
    leading = max(remedies, key=lambda action: (action.helps / action.cost, action.id), default=None)
    if leading is None:
        return _nothing("Nothing known here would help with what is left.", "Make one plate as before and look.")
    if leading not in ready:
        looks = [name for name in leading.first if name in craft.knowledge.checks and not facts.answered(name)]
        if looks:
            cheapest = min(looks, key=lambda name: (checks_action(name, 0.0, craft).cost, name))
            return _told(checks_action(cheapest, 0.0, craft), facts, firing, craft, measures, **about)
        leading = ready[0] if ready else None
    if leading is None:
        return _nothing("Nothing known here would help with what is left.", "Make one plate as before and look.")
    return _told(leading, facts, firing, craft, measures, **about)


def _one_offs(doubt: Doubt, bars: Sequence[Bar], facts: Facts, firing: "Firing", craft: Craft, measures: str) -> Trial:
    """Nothing standing is left to test; the slip that cost most plates is the thing to mind."""
    slips = [bar for bar in bars if bar.cause in craft.knowledge.causes and not bar.standing and bar.plates >= ONE_OFF]
    if not slips:
        return _nothing(
            "Nothing that stands is likely to be left, and no slip came more often than others.",
            "Work on as you did, and log the good plates too: they tell as much.",
        )
    shares = {slips[0].cause: 1.0}
    for action in remedies_now(replace(facts, tried=()), shares, firing, craft):
        if not action.first:
            return _told(action, facts, firing, craft, measures, kind="do", doubt=doubt.open)
    return _nothing(f"Most plates were lost to single slips: {slips[0].title}.", "Mind that step on the first plate.")


def _told(action: Action, facts: Facts, firing: "Firing", craft: Craft, measures: str, **about: object) -> Trial:
    """An action with all that must stand beside it."""
    action = with_cautions(action, firing, craft)
    say, _, stop = phrases.doing(action, craft.knowledge)
    amount, dose_cautions = dosed(action.id, facts, firing, craft, measures) if action.kind == "remedy" else (None, ())
    names = cautions_of_answer((action.cautions, dose_cautions), firing, craft)
    return Trial(
        id=action.id,
        title=phrases.action_title(action, craft.knowledge),
        do=say,
        why=phrases.action_why(action, craft.knowledge),
        minutes=action.minutes,
        plates=action.plates,
        reversible=action.reversible,
        cautions=warned(names, craft),
        first=tuple(phrases.told_by(name, craft.knowledge) for name in action.first),
        dose=amount,
        stop=stop,
        **about,  # type: ignore[arg-type]
    )


def _outcomes(best: Experiment, doubt: Doubt, craft: Craft) -> tuple[Meaning, ...]:
    """What each outcome would mean, the likeliest first; those hardly to be looked for are told together."""
    alike: dict[tuple[object, ...], Meaning] = {}
    seldom = 0.0
    for outcome, row in best.table.items():
        chance, after = told(doubt.shares, row)
        if chance < SELDOM:
            seldom += chance
            continue
        words, then, leading = (
            _outcome_words(best, outcome, craft),
            _then(best, outcome, after, craft),
            _leading(after, craft),
        )
        key = (then, *((item.title, percent(item.probability)) for item in leading))
        if key in alike:  # it makes no difference which of the two it is
            words, chance = f"{alike[key].outcome}; or: {words}", chance + alike[key].chance
        alike[key] = Meaning(outcome=words, chance=chance, leading=leading, then=then)
    found = sorted(alike.values(), key=lambda meaning: -meaning.chance)
    if seldom > LEAST_SELDOM:
        then = "Note it with the next plate: it may be a thing of its own."
        found.append(Meaning(outcome="Anything else", chance=seldom, leading=(), then=then))
    return tuple(found)


def _outcome_words(best: Experiment, outcome: str, craft: Craft) -> str:
    if best.kind == "check" and best.action is not None:
        check = craft.knowledge.checks[best.action.id]
        return next(item.says for item in check.outcome if item.id == outcome)
    return "The plate comes out good" if outcome == GOOD else "It is spoiled again"


def _then(best: Experiment, outcome: str, after: Mapping[Hypothesis, float], craft: Craft) -> str:
    """What to do after an outcome."""
    leader = max(after, key=lambda key: (after[key], key))
    cures = craft.model.cures.get(best.action.id, {}) if best.kind == "remedy" and best.action is not None else {}
    if outcome == GOOD and cures:
        return "Keep it so, and go on."
    if leader == NONE and outcome in {GOOD, *MENDED}:
        return "Nothing need be treated; go on."
    if leader == NONE:
        return "Nothing that stands is at work; look to the single plate."
    helping = helps_against(leader[0], craft.knowledge, besides=cures)
    return f"Next: {phrases.lower_first(helping)}." if helping else ""


def _leading(shares: Mapping[Hypothesis, float], craft: Craft) -> tuple[Likely, ...]:
    ranked = sorted(shares, key=lambda key: (-shares[key], key))[:MOST_LEADING]
    return tuple(
        likely(key[0], shares[key], craft.knowledge, key[1])
        if key != NONE
        else Likely(cause="", title=NOTHING_STANDS, probability=shares[key], words=band(shares[key]))
        for number, key in enumerate(ranked)
        if not number or shares[key] >= SAID
    )


def _nothing(why: str, do: str) -> Trial:
    return Trial(kind="nothing", title="No test is worth a plate", do=do, why=why)
