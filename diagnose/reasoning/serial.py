"""A day of plates taken together: which standing causes came on where, and what else each plate had.

A standing cause stays with its thing from one plate to the next; slips of the hand and chance marks are fresh on each plate.
At most two standing causes are ever at work over the days looked at; under that the sums are exact, over all histories.
"""

from collections.abc import Mapping, Sequence
from math import exp, log
from typing import NamedTuple

from diagnose.reasoning.craft import Craft
from diagnose.reasoning.serial_chain import Chain, steps_to, things_used
from diagnose.reasoning.serial_pair import Pair, Spread
from diagnose.reasoning.serial_table import PlateTable, standing_causes
from diagnose.reasoning.serial_told import Change, Shown
from diagnose.reasoning.weighing import Evidence

__all__ = ["Change", "DayBelief", "Shown", "Standing", "ahead", "weigh_day"]

NEGLIGIBLE = 1e-19  # probability of two standing causes together that is left out of the shares of each plate
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
    tables = [PlateTable(shown, craft) for shown in plates]
    histories = Histories(plates, tables, changes, craft)
    spread = histories.spread()
    standing = [_told(chain, spread, len(plates)) for chain in histories.chains]
    standing.sort(key=lambda item: (-item.at_work, item.cause, item.name))
    plain = Histories(plates, None, changes, craft)
    return DayBelief(
        tuple(standing),
        tuple(
            {} if shown.good else _on_plate(number, table, histories, spread)
            for number, (shown, table) in enumerate(zip(plates, tables, strict=True))
        ),
        exp(-histories.log_total),
        sum(table.log_without for table in tables) + histories.log_total - plain.log_total,
    )


def ahead(
    plates: Sequence[Shown], changes: Sequence[Change], uses: Mapping[str, str], craft: Craft
) -> dict[str, float]:
    """What the plates so far say of the next one, over and above how common each standing cause is.

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
    tables = [PlateTable(shown, craft) for shown in row]
    after = Histories(row, tables, changes, craft).on_the_last()
    before = Histories(row, None, changes, craft).on_the_last()
    found = {}
    for cause, log_odds in after.items():
        more = max(-MOST_AHEAD, min(MOST_AHEAD, log_odds - before[cause]))
        if abs(more) >= LEAST_AHEAD:
            found[cause] = more
    return found


class Histories:
    """Every history of at most two standing causes over a row of plates, weighed.

    Args:
        plates: in order
        tables: for each plate; None to take no notice of what was found
        changes: what was done to the things
        craft: the knowledge made ready

    Attributes:
        chains: each standing cause in each thing that was used
        log_total: log-weight of all histories, over that of no standing cause at all
    """

    def __init__(
        self, plates: Sequence[Shown], tables: Sequence[PlateTable] | None, changes: Sequence[Change], craft: Craft
    ) -> None:
        self._count = len(plates)
        things = standing_causes(craft)
        done: dict[tuple[str, str], list[Change]] = {}
        for change in changes:
            done.setdefault((change.thing, change.name), []).append(change)
        self.chains: list[Chain] = []
        for (thing, name), used in things_used(plates, things).items():
            for cause in (cause for cause, stands_in in things.items() if stands_in == thing):
                steps = steps_to(cause, name, used, plates, done.get((thing, name), ()), craft)
                ratios = [tables[plate].ratio(cause) for plate in used] if tables else [1.0] * len(used)
                self.chains.append(Chain(cause, name, used, steps, ratios))
        shared = self._shared(tables, craft)
        self._pairs = [Pair(one, other, found) for (one, other), found in shared.items()]
        self._apart = [
            (one, other)
            for number, one in enumerate(self.chains)
            for other in self.chains[number + 1 :]
            if (one, other) not in shared
        ]
        self._logs = [
            0.0,
            *(chain.log_ever for chain in self.chains),
            *(one.log_ever + other.log_ever for one, other in self._apart),
            *(pair.log_weight for pair in self._pairs),
        ]
        self.log_total = _log_sum(self._logs)

    def spread(self) -> Spread:
        """The weights of all histories, shared out over the plates."""
        spread = Spread(self._count)
        alone = dict.fromkeys(self.chains, 0.0)
        for chain in self.chains:
            alone[chain] += exp(chain.log_ever - self.log_total)
        for one, other in self._apart:
            weight = exp(one.log_ever + other.log_ever - self.log_total)
            alone[one] += weight
            alone[other] += weight
        for chain, weight in alone.items():
            spread.alone(chain, weight)
        for pair in self._pairs:
            weight = exp(pair.log_weight - self.log_total)
            if weight > NEGLIGIBLE:
                pair.share_out(weight, spread)
        spread.share_out()
        return spread

    def on_the_last(self) -> dict[str, float]:
        """Log-odds of each standing cause being at work on the last plate."""
        ends = {chain: chain.at_the_end() for chain in self.chains if chain.used[-1] == self._count - 1}
        last = {}
        for chain, (rows, _) in ends.items():
            # The whole day's weight, as the last row's: the share of being at work there, of all with it at any time.
            row = chain.rows[-1]
            last[chain] = row[1] / (row[1] + row[2])
            assert rows[-1][1] == 1.0
        weights = {chain: last[chain] * exp(chain.log_ever - self.log_total) for chain in ends}
        for one, other in self._apart:
            both = exp(one.log_ever + other.log_ever - self.log_total)
            for chain in (one, other):
                if chain in ends:
                    weights[chain] += last[chain] * both
        for pair in self._pairs:
            for chain in (pair.one, pair.other):
                if chain in ends:
                    weights[chain] += exp(pair.log_weight_ending(ends[chain], chain) - self.log_total)
        return {chain.cause: log(weight) - log(max(1e-12, 1 - weight)) for chain, weight in weights.items()}

    def _shared(
        self, tables: Sequence[PlateTable] | None, craft: Craft
    ) -> dict[tuple[Chain, Chain], list[tuple[int, float]]]:
        """The pairs that bear on each other, with the plates where they do."""
        place = {chain: number for number, chain in enumerate(self.chains)}
        on_plate: list[dict[str, Chain]] = [{} for _ in range(self._count)]
        for chain in self.chains:
            for plate in chain.used:
                on_plate[plate][chain.cause] = chain
        rivals = [
            group
            for group in craft.model.groups
            if len(group) > 1 and craft.knowledge.causes[group[0]].scope == "standing"
        ]
        shared: dict[tuple[Chain, Chain], list[tuple[int, float]]] = {}
        for plate, here in enumerate(on_plate):
            never: set[tuple[Chain, Chain]] = set()
            for group in rivals:
                members = sorted((here[cause] for cause in group), key=place.__getitem__)
                for number, one in enumerate(members):
                    for other in members[number + 1 :]:
                        if one.name == other.name:
                            never.add((one, other))
                            shared.setdefault((one, other), []).append((plate, 0.0))
            if tables is None:
                continue
            table = tables[plate]
            linked = sorted((here[cause] for cause in table.links), key=place.__getitem__)
            for number, one in enumerate(linked):
                for other in linked[number + 1 :]:
                    if (one, other) not in never:
                        found = (plate, table.interplay(one.cause, other.cause))
                        shared.setdefault((one, other), []).append(found)
        return shared


def _told(chain: Chain, spread: Spread, plates: int) -> Standing:
    onset = tuple(spread.onset.get(chain, [0.0] * plates))
    active = spread.active.get(chain, [0.0] * plates).copy()
    for plate, both in enumerate(spread.both):
        active[plate] += sum(share for pair, share in both.items() if chain in pair)
    return Standing(chain.cause, chain.name, min(1.0, sum(onset)), onset, tuple(min(1.0, share) for share in active))


def _on_plate(number: int, table: PlateTable, histories: Histories, spread: Spread) -> dict[str, float]:
    """The probability of every cause on one plate, standing ones too."""
    used = [chain for chain in histories.chains if number in chain.place]
    alone = {chain.cause: spread.active[chain][number] for chain in used}
    both = {(one.cause, other.cause): share for (one, other), share in spread.both[number].items()}
    found = table.marginals({cause: alone[cause] for cause in table.links}, both)
    for (one, other), share in both.items():
        alone[one] += share
        alone[other] += share
    return found | {cause: min(1.0, share) for cause, share in alone.items()}


def _log_sum(logs: Sequence[float]) -> float:
    most = max(logs)
    return most + log(sum(exp(value - most) for value in logs))
