"""One standing cause in one thing, over the plates made with it: not yet at work, at work, or over.

Weights of different histories may differ by hundreds of orders, so every row is kept adding up to one, with the logarithm of
what was divided out beside it.
"""

from collections.abc import Mapping, Sequence
from functools import cached_property
from math import exp, log
from typing import NamedTuple

from diagnose.reasoning.craft import Craft
from diagnose.reasoning.serial_told import Change, Shown

# How a standing cause comes and goes: all judged. A cause that is found on a share p of spoiled plates is there from the
# first plate with half of it, and comes on with a twelfth of it with each plate made: over a dozen plates that averages p.
START_SHARE, PLATE_SHARE = 1 / 2, 1 / 12
NIGHT_GONE = 0.1  # a night ends it: what was cloudy settles, what was cold is warm

Row = tuple[float, float, float]
# What one stretch of plates does to the three states, without the four moves that cannot be: from not yet to each of them,
# from at work to at work and over, from over to at work and over.
Moves = tuple[float, float, float, float, float, float, float]

NOT_YET: Row = (1.0, 0.0, 0.0)
AT_WORK: Row = (0.0, 1.0, 0.0)
OVER: Row = (0.0, 0.0, 1.0)
_STATES = (NOT_YET, AT_WORK, OVER)


class Step(NamedTuple):
    """What happens from one plate to the next made with the same thing, before the next is looked at.

    Args:
        rest: it stays away
        begin: it comes on
        stay: it stays on
        stop: it is over
    """

    rest: float
    begin: float
    stay: float
    stop: float


class Chain:
    """A standing cause in one thing.

    Args:
        cause: which
        name: of the thing it stands in
        used: numbers of the plates made with that thing
        steps: for each of them, the step that leads to it
        ratios: for each of them, how many times likelier the plate is with the cause at work

    Attributes:
        rows: for each plate, the share of each state, given this plate and those before
        logs: for each plate, the log of what was divided out so far
        log_ever: log-weight of its having been at work at all, over that of never
    """

    def __init__(
        self, cause: str, name: str, used: Sequence[int], steps: Sequence[Step], ratios: Sequence[float]
    ) -> None:
        self.cause, self.name, self.used, self.steps, self.ratios = cause, name, used, steps, ratios
        self.rows: list[Row] = []
        self.logs: list[float] = []
        row, total, never = NOT_YET, 0.0, 1.0
        for step, ratio in zip(steps, ratios, strict=True):
            row, whole = one_plate(row, step, ratio)
            if whole != 1.0:
                total += log(whole)
            never *= step.rest
            self.rows.append(row)
            self.logs.append(total)
        self.log_never = log(never)
        self.log_ever = total + log(row[1] + row[2]) - self.log_never
        self._stretches: dict[int, list[tuple[Moves, float]]] = {}

    def untold(self) -> "Chain":
        """The same, if nothing had been found on any plate."""
        return Chain(self.cause, self.name, self.used, self.steps, [1.0] * len(self.used))

    @cached_property
    def place(self) -> dict[int, int]:
        """Plate -> its place among those used."""
        return {plate: place for place, plate in enumerate(self.used)}

    @cached_property
    def to_come(self) -> tuple[list[Row], list[float]]:
        """For each place, the weight of what comes after it, by state, if the cause is ever at work; with logs of the scale."""
        return self._from_the_end((0.0, 1.0, 1.0))

    @cached_property
    def to_come_on_the_last(self) -> tuple[list[Row], list[float]]:
        """The same, if it is at work on the last plate."""
        return self._from_the_end(AT_WORK)

    def stretch(self, first: int, last: int) -> tuple[Moves, float]:
        """What the plates after one place, up to and with another, do to the states; and the log of its scale.

        Args:
            first: a place among the plates used
            last: a later one
        """
        done = self._stretches.setdefault(first, [])
        while len(done) < last - first:
            moves, scale = done[-1] if done else ((1.0, 0.0, 0.0, 1.0, 0.0, 0.0, 1.0), 0.0)
            place = first + len(done) + 1
            moves = _further(moves, self.steps[place], self.ratios[place])
            most = max(moves)
            if not 1e-60 < most < 1e60:
                moves = tuple(move / most for move in moves)  # type: ignore[assignment]
                scale += log(most)
            done.append((moves, scale))
        return done[last - first - 1]

    def along(
        self, first: int, start: int, ends: Mapping[int, Sequence[float]], alone: list[float], onset: list[float]
    ) -> None:
        """Share out the weight of all histories that go on from one place over the plates that follow.

        Args:
            first: the place they go on from; -1 for the whole day
            start: the state there
            ends: a later place -> the weight of each state there; the number of plates for the end of the day -> (0, weight, 0)
                for all that was ever at work
            alone: for each place, the weight of being at work; added to, save for where the histories end
            onset: for each plate of the day, the weight of coming on for the first time; added to
        """
        row = _STATES[start]
        rows, wholes = [row], []
        for place in range(first + 1, min(max(ends) + 1, len(self.used))):
            row, whole = one_plate(row, self.steps[place], self.ratios[place])
            rows.append(row)
            wholes.append(whole)
        back: Row = (0.0, 0.0, 0.0)
        if len(self.used) in ends:
            ever = ends[len(self.used)][1] / (row[1] + row[2])
            back = (0.0, ever, ever)
        for number in range(len(wholes), 0, -1):
            place, row = first + number, rows[number]
            alone[place] += row[1] * back[1]
            if place in ends:
                x, y, z = ends[place]
                back = (
                    back[0] + (x / row[0] if x else 0.0),
                    back[1] + (y / row[1] if y else 0.0),
                    back[2] + (z / row[2] if z else 0.0),
                )
            step, ratio, whole = self.steps[place], self.ratios[place], wholes[number - 1]
            if start == 0:
                onset[self.used[place]] += rows[number - 1][0] * step.begin * ratio * back[1] / whole
            back = earlier(back, step, ratio, whole)

    def to_the_end(self, starts: Mapping[int, Sequence[float]], alone: list[float], onset: list[float]) -> None:
        """Share out the weight of all histories that go on from some places to the end of the day.

        Args:
            starts: place -> the weight of each state there, of what is at work at some time of the day
            alone: for each place, the weight of being at work; added to, save for where the histories start
            onset: for each plate of the day, the weight of coming on for the first time; added to
        """
        backs, logs = self.to_come
        row: Row = (0.0, 0.0, 0.0)
        for place in range(min(starts, default=len(self.used)), len(self.used)):
            if any(row):
                step = self.steps[place]
                scale = exp(logs[place] - logs[place - 1]) if logs[place] != logs[place - 1] else 1.0
                not_yet, at_work, over = row[0] * scale, row[1] * scale, row[2] * scale
                ratio = self.ratios[place]
                lit = backs[place][1] * ratio
                onset[self.used[place]] += not_yet * step.begin * lit
                on = (not_yet + over) * step.begin + at_work * step.stay
                alone[place] += on * lit
                row = (not_yet * step.rest, on * ratio, at_work * step.stop + over * step.rest)
            if place in starts:
                x, y, z = (
                    weight / back if weight else 0.0 for weight, back in zip(starts[place], backs[place], strict=True)
                )
                row = (row[0] + x, row[1] + y, row[2] + z)

    def _from_the_end(self, back: Row) -> tuple[list[Row], list[float]]:
        rows, logs, total = [back], [0.0], 0.0
        for step, ratio in zip(reversed(self.steps), reversed(self.ratios), strict=True):
            back = earlier(back, step, ratio, 1.0)
            most = max(back)
            if not 1e-60 < most < 1e60 and most:
                back = (back[0] / most, back[1] / most, back[2] / most)
                total += log(most)
            rows.append(back)
            logs.append(total)
        rows.pop()
        logs.pop()
        return rows[::-1], logs[::-1]


def one_plate(row: Row, step: Step, ratio: float) -> tuple[Row, float]:
    """The states after one more plate, adding up to one, and what was divided out.

    Args:
        row: the states before
        step: what happened on the way
        ratio: how many times likelier the plate is with the cause at work
    """
    rest, begin, stay, stop = step
    not_yet, at_work, over = row
    on = ((not_yet + over) * begin + at_work * stay) * ratio
    away, gone = not_yet * rest, at_work * stop + over * rest
    whole = away + on + gone
    return (away / whole, on / whole, gone / whole), whole


def earlier(back: Row, step: Step, ratio: float, whole: float) -> Row:
    """What is still to come, as seen one plate earlier.

    Args:
        back: as seen from the plate
        step: what happened on the way to it
        ratio: how many times likelier the plate is with the cause at work
        whole: what to divide by
    """
    rest, begin, stay, stop = step
    on = back[1] * ratio
    return (
        (back[0] * rest + on * begin) / whole,
        (on * stay + back[2] * stop) / whole,
        (on * begin + back[2] * rest) / whole,
    )


def steps_to(
    cause: str,
    used: Sequence[int],
    events: Sequence[Sequence[str | None]],
    plates: Sequence[Shown],
    craft: Craft,
) -> list[Step]:
    """The step that leads to each plate made with a thing.

    A fact about the day counts once for the time the cause is at work, not once a plate: coming on is multiplied by what the
    facts told of that plate say, and staying on by what they say now over what they said before.

    Args:
        cause: a standing cause
        used: numbers of the plates made with the thing it stands in
        events: from `events_before`
        plates: all plates
        craft: the knowledge made ready
    """
    odds = craft.model.base[cause]
    share = odds / (1 + odds)
    start, hazard = share * START_SHARE, share * PLATE_SHARE
    said = facts_about(cause, used, plates)
    cures = {
        event: craft.model.cures.get(event, {}).get(cause, 0.0) for between in events for event in between if event
    }
    steps: list[Step] = []
    for place, between in enumerate(events):
        if place:
            came, stayed = exp(said[place]), exp(said[place] - said[place - 1])
            moved = 1 - hazard, hazard, 1.0, 0.0, 0.0
        else:
            came, stayed = exp(said[0]), 0.0
            moved = 1 - start, start, 0.0, 0.0, 0.0
        for event in between:
            moved = _after(moved, start, cures.get(event or ""), night=event is None)
        away, on, kept, anew, gone = moved
        steps.append(Step(away, on * came, kept * stayed + anew * came, gone))
    return steps


def _after(
    moved: tuple[float, float, float, float, float], start: float, cured: float | None, *, night: bool
) -> tuple[float, float, float, float, float]:
    """One more thing that lay between two plates.

    Args:
        moved: from away to away and to at work; from at work to kept at work, at work anew, and away
        start: chance of being at work from the start
        cured: chance that the cause is put right; None where the thing is renewed
        night: whether it was a night
    """
    away, on, kept, anew, gone = moved
    if night:
        ended = NIGHT_GONE
        return (
            away * (1 - start) + on * ended,
            away * start + on * (1 - ended),
            kept * (1 - ended),
            gone * start + anew * (1 - ended),
            gone * (1 - start) + (kept + anew) * ended,
        )
    if cured is None:
        was = kept + anew + gone  # 0 before the first plate, else 1
        return 1 - start, start, 0.0, start * was, (1 - start) * was
    return away + on * cured, on * (1 - cured), kept * (1 - cured), anew * (1 - cured), gone + (kept + anew) * cured


def facts_about(cause: str, used: Sequence[int], plates: Sequence[Shown]) -> list[float]:
    """What the facts about the day add to a cause's log-odds on each plate made with its thing.

    Of a good plate nothing may be told at all; what was said of the plate before it still stands then.

    Args:
        cause: a standing cause
        used: numbers of the plates made with its thing
        plates: all plates
    """
    said: list[float] = []
    for plate in used:
        shown = plates[plate]
        if shown.good and not shown.evidence.shifts:
            said.append(said[-1] if said else 0.0)
        else:
            shifts = shown.evidence.shifts.get(cause, ())
            said.append(sum(shift.log_odds for shift in shifts if shift.note.kind != "tried"))
    return said


def events_before(used: Sequence[int], plates: Sequence[Shown], changes: Sequence[Change]) -> list[list[str | None]]:
    """What came before each plate made with a thing, since the one before.

    A night before the first of them says nothing.

    Args:
        used: numbers of the plates made with it
        plates: all plates
        changes: everything done to this one thing

    Returns:
        for each of them, in order: None for a night, "" for a renewal, else the remedy
    """
    found: list[list[str | None]] = []
    before = -1
    for plate in used:
        events: list[str | None] = []
        for number in range(before + 1, plate + 1):
            if before >= 0 and plates[number].rests:
                events.append(None)
            events += [change.remedy for change in changes if change.before == number]
        found.append(events)
        before = plate
    return found


def _further(moves: Moves, step: Step, ratio: float) -> Moves:
    rest, begin, stay, stop = step
    first, second, third, fourth, fifth, sixth, seventh = moves
    return (
        first * rest,
        ((first + third) * begin + second * stay) * ratio,
        second * stop + third * rest,
        (fourth * stay + fifth * begin) * ratio,
        fourth * stop + fifth * rest,
        (sixth * stay + seventh * begin) * ratio,
        sixth * stop + seventh * rest,
    )


def things_used(plates: Sequence[Shown], things: Mapping[str, str]) -> dict[tuple[str, str], list[int]]:
    """For each thing, by kind and name, the plates made with it.

    Args:
        plates: all plates
        things: standing cause -> kind of thing it stands in
    """
    used: dict[tuple[str, str], list[int]] = {}
    for number, shown in enumerate(plates):
        for thing in sorted(set(things.values())):
            used.setdefault((thing, shown.uses.get(thing, "")), []).append(number)
    return used
