"""A day of plates taken together: which standing causes came on where, and what else each plate had.

A standing cause stays with its thing from one plate to the next; slips of the hand and chance marks are fresh on each plate.
At most two standing causes are ever at work over the days looked at; under that the sums are exact, over all histories.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import exp, inf, log
from operator import mul
from typing import NamedTuple

from diagnose.reasoning.craft import Craft
from diagnose.reasoning.serial_chain import Chain, events_before, steps_to, things_used
from diagnose.reasoning.serial_pair import Pair, Spread
from diagnose.reasoning.serial_table import Ground, PlateTable, ground_of
from diagnose.reasoning.serial_told import Change, Shown
from diagnose.reasoning.weighing import Evidence

__all__ = ["Change", "DayBelief", "Shown", "Standing", "ahead", "weigh_day"]

NEGLIGIBLE = 1e-19  # probability of two standing causes together that is not followed over the plates
LOG_NEGLIGIBLE = log(NEGLIGIBLE)
SURE = 1e-12  # least chance of the contrary
LEAST_AHEAD, MOST_AHEAD = 0.01, log(1000)  # of what earlier plates say: less is nothing, more is not believed [nat]


class Standing(NamedTuple):
    """A standing cause in one thing.

    Args:
        cause: which
        name: of the thing it stands in
        at_work: probability that it was at work on at least one plate
        onset: for each plate, the probability that it was first at work there
        active: for each plate, the probability that it was at work
    """

    cause: str
    name: str
    at_work: float
    onset: tuple[float, ...]
    active: tuple[float, ...]

    @property
    def likely_onset(self) -> int:
        """The plate it came on at, as near as can be told.

        The likeliest one if it has more than half of the chance; else the middle of the three that hold most of it.
        """
        plates = range(len(self.onset))
        likeliest = max(plates, key=self.onset.__getitem__)
        if 2 * self.onset[likeliest] > self.at_work:
            return likeliest
        return max(plates, key=lambda plate: (sum(self.onset[max(0, plate - 1) : plate + 2]), self.onset[plate]))


class DayBelief(NamedTuple):
    """What is believed of the days looked at.

    Args:
        standing: the standing causes, the likeliest first
        plates: for each plate, cause -> probability given all plates; nothing for good plates
        none_standing: probability that no standing cause was at work at all
        log_likelihood: log of the chance of what was found, given the facts about the days [nat]
    """

    standing: tuple[Standing, ...]
    plates: tuple[dict[str, float], ...]
    none_standing: float
    log_likelihood: float


def weigh_day(plates: Sequence[Shown], changes: Sequence[Change], craft: Craft) -> DayBelief:
    """The exact belief about a row of plates.

    Args:
        plates: in the order they were made
        changes: what was done to the things between them, in order
        craft: the knowledge made ready
    """
    ground = ground_of(craft)
    tables = [PlateTable(shown, ground, craft) for shown in plates]
    chains = chains_of(plates, tables, changes, ground, craft)
    histories = Histories(chains, tables, len(plates), ground)
    spread = histories.spread()
    standing = [
        Standing(
            chain.cause,
            chain.name,
            min(1.0, sum(spread.onset[chain])),
            tuple(min(1.0, share) for share in spread.onset[chain]),
            tuple(min(1.0, share) for share in spread.active[chain]),
        )
        for chain in histories.chains
    ]
    standing.sort(key=lambda item: (-item.at_work, item.cause, item.name))
    untold = Histories([chain.untold() for chain in chains], None, len(plates), ground)
    return DayBelief(
        tuple(standing),
        tuple(
            {} if shown.good else _on_plate(number, table, histories, spread)
            for number, (shown, table) in enumerate(zip(plates, tables, strict=True))
        ),
        exp(-histories.log_total),
        sum(table.log_without for table in tables) + histories.log_total - untold.log_total,
    )


def ahead(
    plates: Sequence[Shown], changes: Sequence[Change], uses: Mapping[str, str], craft: Craft
) -> dict[str, float]:
    """What the plates so far, and what was done, say of the next one, over and above how common each standing cause is.

    The facts about the day are left out: they are told again with the next plate.

    Args:
        plates: so far, in order
        changes: what was done to the things, the ones since the last plate included
        uses: kind of thing -> name of the one the next plate is made with
        craft: the knowledge made ready

    Returns:
        standing cause -> log-odds to add [nat]; those that hardly move left out
    """
    if not plates:
        return {}
    untold = [shown._replace(evidence=shown.evidence._replace(shifts={})) for shown in plates]
    nothing = Shown(Evidence((), {}, {}, plates[-1].evidence.firing), good=False, uses=uses)
    row = [*untold, nothing]
    ground = ground_of(craft)
    tables = [PlateTable(shown, ground, craft) for shown in row]
    chains = chains_of(row, tables, changes, ground, craft)
    # What is done to a thing is part of what is said of it, so the measure is a day on which nothing was done.
    undone = chains_of(row, tables, (), ground, craft) if changes else chains
    after = Histories(chains, tables, len(row), ground).on_the_last()
    before = Histories([chain.untold() for chain in undone], None, len(row), ground).on_the_last()
    found = {}
    for cause, log_odds in after.items():
        more = max(-MOST_AHEAD, min(MOST_AHEAD, log_odds - before[cause]))
        if abs(more) >= LEAST_AHEAD:
            found[cause] = more
    return found


def chains_of(
    plates: Sequence[Shown], tables: Sequence[PlateTable], changes: Sequence[Change], ground: Ground, craft: Craft
) -> list[Chain]:
    """Each standing cause in each thing that was used, over the plates made with it.

    Args:
        plates: in order
        tables: for each plate
        changes: what was done to the things
        ground: from `ground_of`
        craft: the knowledge made ready
    """
    chains: list[Chain] = []
    for (thing, name), used in things_used(plates, ground.things).items():
        done = [change for change in changes if (change.thing, change.name) == (thing, name)]
        events = events_before(used, plates, done)
        for cause, stands_in in ground.things.items():
            if stands_in == thing:
                steps = steps_to(cause, used, events, plates, craft)
                chains.append(Chain(cause, name, used, steps, [tables[plate].ratio(cause) for plate in used]))
    return chains


class Histories:
    """Every history of at most two standing causes over a row of plates, weighed.

    Args:
        chains: each standing cause in each thing that was used
        tables: for each plate; None to take no notice of what was found
        plates: how many there are
        ground: from `ground_of`

    Attributes:
        log_total: log-weight of all histories, over that of no standing cause at all
    """

    def __init__(self, chains: list[Chain], tables: Sequence[PlateTable] | None, plates: int, ground: Ground) -> None:
        self.chains, self._count = chains, plates
        shared = self._shared(tables, ground)
        least = LOG_NEGLIGIBLE + max((0.0, *(chain.log_ever for chain in self.chains)))
        self._pairs = [
            Pair(self.chains[one], self.chains[other], found)
            for (one, other), found in shared.items()
            if _most_together(self.chains[one], self.chains[other], found) > least
        ]
        partners: list[set[int]] = [{number} for number in range(len(self.chains))]
        for one, other in shared:
            partners[one].add(other)
            partners[other].add(one)
        # The likeliest alone sets the scale, so that nothing overflows; those that bear on no common plate just multiply.
        self._scale = max((chain.log_ever for chain in self.chains), default=0.0)
        self._ever = [exp(chain.log_ever - self._scale) for chain in self.chains]
        self._beside = [sum(ever for other, ever in enumerate(self._ever) if other not in known) for known in partners]
        apart = sum(map(mul, self._ever, self._beside)) / 2
        self.log_total = (
            _log_sum(
                [
                    0.0,
                    self._scale + log(sum(self._ever) or 1.0),
                    2 * self._scale + log(apart) if apart else -inf,
                    *(pair.log_weight for pair in self._pairs),
                ]
            )
            if self.chains
            else 0.0
        )

    def spread(self) -> Spread:
        """The weights of all histories, shared out over the plates."""
        spread = Spread(self.chains, self._count)
        for chain, weight in zip(self.chains, self._alone(), strict=True):
            spread.whole_day(chain, weight)
        for pair in self._pairs:
            weight = exp(pair.log_weight - self.log_total)
            if weight > NEGLIGIBLE:
                pair.share_out(weight, spread)
        spread.share_out()
        return spread

    def on_the_last(self) -> dict[str, float]:
        """Log-odds of each standing cause being at work on the last plate."""
        weights: dict[Chain, float] = {}
        for chain, weight in zip(self.chains, self._alone(), strict=True):
            if chain.used[-1] == self._count - 1:
                _, on, over = chain.rows[-1]
                weights[chain] = weight * on / (on + over)
        for pair in self._pairs:
            if pair.log_weight - self.log_total > LOG_NEGLIGIBLE:
                for chain in (pair.one, pair.other):
                    if chain in weights:
                        weights[chain] += exp(pair.log_weight_at_work(chain) - self.log_total)
        return {chain.cause: log(weight) - log(max(SURE, 1 - weight)) for chain, weight in weights.items()}

    def _alone(self) -> list[float]:
        """For each chain, the probability that it was at work, and no other that it bears on."""
        one, two = self._scale - self.log_total, 2 * self._scale - self.log_total
        return [
            exp(one) * ever + (exp(two + log(ever * beside)) if ever * beside else 0.0)
            for ever, beside in zip(self._ever, self._beside, strict=True)
        ]

    def _shared(
        self, tables: Sequence[PlateTable] | None, ground: Ground
    ) -> dict[tuple[int, int], list[tuple[int, float]]]:
        """The pairs that bear on each other, with the plates where they do and what both together multiply the chance by."""
        on_plate: list[dict[str, int]] = [{} for _ in range(self._count)]
        for number, chain in enumerate(self.chains):
            for plate in chain.used:
                on_plate[plate][chain.cause] = number
        shared: dict[tuple[int, int], list[tuple[int, float]]] = {}
        for plate, here in enumerate(on_plate):
            never = {
                pair
                for group in ground.rivals
                for pair in combinations(sorted(here[cause] for cause in group), 2)
                if self.chains[pair[0]].name == self.chains[pair[1]].name
            }
            for pair in never:
                shared.setdefault(pair, []).append((plate, 0.0))
            if tables is None:
                continue
            interplay = tables[plate].interplay
            linked = sorted((here[cause], cause) for cause in tables[plate].links)
            for (one, mine), (other, theirs) in combinations(linked, 2):
                if (one, other) not in never:
                    found = shared.get((one, other))
                    if found is None:
                        found = shared[one, other] = []
                    found.append((plate, interplay(mine, theirs)))
        return shared


def _most_together(one: Chain, other: Chain, shared: Sequence[tuple[int, float]]) -> float:
    """A log-weight that two causes together cannot pass: that of each alone, and all that either gains from the other."""
    return one.log_ever + other.log_ever + sum([log(factor) for _, factor in shared if factor > 1])


def _on_plate(number: int, table: PlateTable, histories: Histories, spread: Spread) -> dict[str, float]:
    """The probability of every cause on one plate, standing ones too."""
    used = [chain for chain in histories.chains if number in chain.place]
    alone = {chain.cause: spread.alone[chain][number] for chain in used if chain.cause in table.links}
    both = {(one.cause, other.cause): share for (one, other), share in spread.both[number].items()}
    found = table.marginals(alone, both)
    return found | {chain.cause: min(1.0, spread.active[chain][number]) for chain in used}


def _log_sum(logs: Sequence[float]) -> float:
    most = max(logs)
    return most + log(sum(exp(value - most) for value in logs))
