"""Days of plates drawn from the knowledge itself: a standing cause that comes on at some plate, slips besides, and what is told."""

from dataclasses import replace
from typing import NamedTuple

from diagnose.facts import Facts
from diagnose.reasoning.serial import Shown
from diagnose.reasoning.weighing import fire, gather
from tests.measure.worlds import MOST_DRAWS, develop, draw_day, tell

FEWEST, MOST = 8, 14  # plates of a day
SLIPS = 0.5  # of the rate of slips on spoiled plates, how much any plate has
LEAST_AT_WORK = 4  # plates of a day that has a pattern to be found


class Session(NamedTuple):
    """A day of plates.

    Args:
        cause: the standing cause; "" on a day without one
        onset: the first plate it was at work on
        slips: for each plate, the causes that were its own
        facts: for each plate, what was told; None for a plate that was called good
    """

    cause: str
    onset: int
    slips: tuple[tuple[str, ...], ...]
    facts: tuple[Facts | None, ...]


def draw_session(rng, craft, *, standing=True, by_notice=False, day_told=True, late=False):
    """One day.

    Args:
        standing: whether there is a standing cause
        by_notice: marks told as they strike the eye, none denied; else 85 % told and 30 % of the others denied
        day_told: whether facts about the day are told; from the onset on, since a book carries them over
        late: onset on any plate, be it the last; else the cause is at work on four plates or more
    """
    count = rng.randint(FEWEST, MOST)
    causes = {name: odds for name, odds in craft.model.base.items() if craft.knowledge.causes[name].scope == "standing"}
    cause = rng.choices(list(causes), weights=causes.values())[0] if standing else ""
    onset = rng.randrange(count if late else count - LEAST_AT_WORK + 1) if standing else count
    before, after = some_day(rng, (), craft), some_day(rng, (cause,) if cause else (), craft)
    slips, told = [], []
    for number in range(count):
        own = draw_slips(rng, craft)
        at_work = number >= onset
        world = after if at_work else before
        for slip in own:
            made = some_day(rng, (slip,), craft)
            more = {name for name in made.day if name not in world.day}
            world = world._replace(
                amounts=world.amounts | {n: v for n, v in made.amounts.items() if n in more},
                options=world.options | {n: v for n, v in made.options.items() if n in more},
                day=world.day | more,
            )
        world = develop(rng, world._replace(causes=(*((cause,) if at_work else ()), *own)), craft)
        facts = next((facts for _ in range(2) if (facts := tell(rng, world, craft, by_notice=by_notice))), None)
        if facts is not None and not day_told:
            facts = replace(facts, amounts={}, options={})
        slips.append(own)
        told.append(facts)  # looked at twice, and nothing seen: called good, whatever may be there
    return Session(cause, onset, tuple(slips), tuple(told))


def draw_slips(rng, craft):
    """Causes of one plate, by how common they are; never two of one exclusive group."""
    found = []
    for group in craft.model.groups:
        if craft.knowledge.causes[group[0]].scope == "this-plate":
            odds = {cause: craft.model.base[cause] for cause in group}
            chances = {cause: SLIPS * value / (1 + sum(odds.values())) for cause, value in odds.items()}
            pick = rng.choices([*chances, ""], weights=[*chances.values(), 1 - sum(chances.values())])[0]
            found += [pick] if pick else []
    return tuple(found)


def some_day(rng, causes, craft):
    """The conditions of a day on which these causes are possible."""
    days = (draw_day(rng, causes, craft) for _ in range(MOST_DRAWS))
    return next(day for day in days if day is not None)


def shown(session, craft):
    """The day as the review takes it."""
    plates = []
    for facts in session.facts:
        told = facts or Facts()
        plates.append(Shown(gather(told, fire(told, craft, craft.bulk), craft), facts is None, {}))
    return plates
