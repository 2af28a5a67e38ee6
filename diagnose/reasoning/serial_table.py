"""One plate of a day: how much likelier its findings are with a standing cause at work, or with two.

The table holds the plate-level causes and the leaks: the weight of each set of positive findings that they explain. Standing
causes are put to it from outside, since they bind the plates together. A standing cause linked to none of the positive
findings only multiplies the weight by what was not seen, and needs no table.
"""

from collections.abc import Mapping
from math import exp, log
from operator import add, mul
from typing import NamedTuple

from diagnose.reasoning.craft import Craft
from diagnose.reasoning.lattice import Variable, plan_bits, spread_back, through
from diagnose.reasoning.serial_told import Shown
from diagnose.reasoning.weighing import Finding

ALL_OF_IT = 1e-19  # a share of the belief smaller than this is not spread over a plate's own causes
MOST_POSITIVE = 8  # findings of one plate kept; the least telling are left out, as in weighing
LEAST_LEAK = 1e-12  # nothing that was seen is impossible


class Ground(NamedTuple):
    """What stands and what does not, of all causes.

    Args:
        things: standing cause -> kind of thing it stands in
        rivals: exclusive groups of standing causes
        slips: exclusive groups of the causes that come and go with a plate; a cause of no group stands alone
    """

    things: Mapping[str, str]
    rivals: tuple[tuple[str, ...], ...]
    slips: tuple[tuple[str, ...], ...]


def ground_of(craft: Craft) -> Ground:
    """The causes, sorted into those that stand and those of one plate.

    Args:
        craft: the knowledge made ready
    """
    causes = craft.knowledge.causes
    things = {name: cause.stands_in or "" for name, cause in causes.items() if cause.scope == "standing"}
    groups = craft.model.groups
    for group in groups:
        assert len({cause in things for cause in group}) == 1, f"some of {group} stand, some do not"
    return Ground(
        things,
        tuple(group for group in groups if group[0] in things and len(group) > 1),
        tuple(group for group in groups if group[0] not in things),
    )


class PlateTable:
    """The sums of one plate.

    Args:
        shown: the plate
        ground: from `ground_of`
        craft: the knowledge made ready

    Attributes:
        links: standing cause -> positive findings it brings about, with the chance of each; only causes with any
        log_without: log of the chance of the findings with no standing cause at work
    """

    def __init__(self, shown: Shown, ground: Ground, craft: Craft) -> None:
        positive = most_telling([finding for finding in shown.evidence.findings if finding.answer != "absent"])
        sure = craft.knowledge.strengths.expect.unsure_explained
        self._finals = [(1.0, 0.0) if finding.answer == "present" else (sure, 1 - sure) for finding in positive]
        self._soft = soft_factors(shown, craft)
        by_cause: dict[str, dict[int, float]] = {}
        for number, finding in enumerate(positive):
            for cause, chance in finding.links.items():
                by_cause.setdefault(cause, {})[number] = chance
        self.links = {cause: links for cause, links in by_cause.items() if cause in ground.things}
        self._mask = {cause: sum(1 << bit for bit in links) for cause, links in self.links.items()}
        self._forward(positive, by_cause, shown, ground, craft)
        self._parts: dict[int, list[float]] = {(1 << len(positive)) - 1: self._table}
        self._without = self._explained(0, {})
        self._alone = {cause: self._explained(self._mask[cause], links) for cause, links in self.links.items()}
        self.log_without += log(self._without)
        kinds: dict[tuple[tuple[int, float], ...], int] = {}
        self._kind = {cause: kinds.setdefault(tuple(links.items()), len(kinds)) for cause, links in self.links.items()}
        self._interplay: dict[tuple[int, int], float] = {}

    def ratio(self, cause: str) -> float:
        """How many times likelier the plate is with one standing cause at work than with none.

        Args:
            cause: a standing cause
        """
        ratio = self._soft.get(cause, 1.0)
        return ratio * self._alone[cause] / self._without if cause in self._alone else ratio

    def interplay(self, one: str, other: str) -> float:
        """What two standing causes at work together multiply the plate's chance by, beyond what each does alone.

        Args:
            one: a standing cause linked to a positive finding
            other: another
        """
        kinds = self._kind[one], self._kind[other]
        found = self._interplay.get(kinds)
        if found is None:
            both = self._explained(self._mask[one] | self._mask[other], self._jointly(one, other))
            found = self._interplay[kinds] = both * self._without / (self._alone[one] * self._alone[other])
        return found

    def marginals(self, one: Mapping[str, float], two: Mapping[tuple[str, str], float]) -> dict[str, float]:
        """The probability of each plate-level cause, given how likely each set of standing causes is on this plate.

        Args:
            one: standing cause linked to a positive finding -> probability that it alone of those is at work
            two: the same for pairs of them; no more than two ever are
        """
        found = dict(self._apart)
        if not self._steps:
            return found
        rest = 1 - sum(one.values()) - sum(two.values())
        faced: dict[int, list[float]] = {0: [max(0.0, rest) / self._without]}
        for cause, share in one.items():
            if share > ALL_OF_IT:
                self._face(faced, self._mask[cause], self.links[cause], share / self._alone[cause])
        for pair, share in two.items():
            if share > ALL_OF_IT:
                first, second = pair
                both = self.interplay(*pair) * self._alone[first] * self._alone[second] / self._without
                self._face(faced, self._mask[first] | self._mask[second], self._jointly(*pair), share / both)
        back = self._widened(faced)
        for before, group, variable, places in reversed(self._steps):
            after = [variable.off * value for value in back]
            for cause, (weight, _), links in zip(group, variable.on, places, strict=True):
                moved = back.copy()
                for bit, chance in links:
                    spread_back(moved, bit, chance)
                found[cause] = min(1.0, weight * sum(map(mul, before, moved)))
                for place, value in enumerate(moved):
                    after[place] += weight * value
            back = after
        return found

    def _forward(
        self,
        positive: list[Finding],
        by_cause: Mapping[str, Mapping[int, float]],
        shown: Shown,
        ground: Ground,
        craft: Craft,
    ) -> None:
        """Put leaks and plate-level causes through the table; those linked to no positive finding stand apart."""
        table = [1.0]
        for finding in positive:
            leak = max(LEAST_LEAK, finding.leak)
            table = [(1 - leak) * value for value in table] + [leak * value for value in table]
        base, shifts, soft = craft.model.base, shown.evidence.shifts, self._soft
        self._steps: list[tuple[list[float], tuple[str, ...], Variable, list[list[tuple[int, float]]]]] = []
        self._apart: dict[str, float] = {}
        whole = 1.0
        for group in ground.slips:
            odds = [
                base[cause] * (exp(sum(shift.log_odds for shift in shifts[cause])) if cause in shifts else 1.0)
                for cause in group
            ]
            before = 1 + sum(odds)
            weights = [chance * soft.get(cause, 1.0) for cause, chance in zip(group, odds, strict=True)]
            if not any(cause in by_cause for cause in group):
                after = 1 + sum(weights)
                whole *= after / before
                for cause, weight in zip(group, weights, strict=True):
                    self._apart[cause] = weight / after
                continue
            ways = tuple(
                (weight / before, by_cause.get(cause, {})) for cause, weight in zip(group, weights, strict=True)
            )
            variable = Variable(1 / before, ways)
            places = plan_bits(variable, tuple(sorted({bit for _, links in ways for bit in links})))
            self._steps.append((table, group, variable, places))
            table = through(table, variable, places)
        self._table = table
        self.log_without = log(whole)

    def _jointly(self, one: str, other: str) -> dict[int, float]:
        """Positive finding -> chance that at least one of two causes brings it about."""
        brought = self.links[one].copy()
        for bit, chance in self.links[other].items():
            have = brought.get(bit, 0.0)
            brought[bit] = have + (1 - have) * chance
        return brought

    def _explained(self, mask: int, brought: Mapping[int, float]) -> float:
        """Chance of the positive findings, given what standing causes bring about.

        Args:
            mask: the findings in `brought`
            brought: finding -> chance that a standing cause at work brings it about
        """
        values = self._part(mask)
        for bit in sorted(brought, reverse=True):
            yes, no = self._finals[bit]
            chance = brought[bit]
            left = yes * chance + no * (1 - chance)
            half = len(values) // 2
            values = [left * low + yes * high for low, high in zip(values[:half], values[half:], strict=True)]
        return values[0]

    def _part(self, mask: int) -> list[float]:
        """The table over some of the findings, the others closed as if no standing cause had any part in them."""
        found = self._parts.get(mask)
        if found is None:
            bit = (~mask & mask + 1).bit_length() - 1  # the lowest that is not in it
            wide = self._part(mask | 1 << bit)
            yes, no = self._finals[bit]
            # Every finding below this one is in the mask, so in the wider table it stands at its own place.
            step = 1 << bit
            found = self._parts[mask] = [
                no * wide[place] + yes * wide[place + step]
                for base in range(0, len(wide), 2 * step)
                for place in range(base, base + step)
            ]
        return found

    def _face(self, faced: dict[int, list[float]], mask: int, brought: Mapping[int, float], weight: float) -> None:
        """Add the weight of some findings being explained by standing causes or missed, for each set explained without.

        Args:
            faced: mask of findings -> such a table over them; added to
            mask: the findings in `brought`
            brought: finding -> chance that a standing cause at work brings it about
            weight: of these standing causes being at work
        """
        table = [weight]
        for bit in sorted(brought):
            yes, no = self._finals[bit]
            left = yes * brought[bit] + no * (1 - brought[bit])
            table = [left * value for value in table] + [yes * value for value in table]
        have = faced.get(mask)
        faced[mask] = table if have is None else list(map(add, have, table))

    def _widened(self, faced: dict[int, list[float]]) -> list[float]:
        """Such tables over parts of the findings as one over all: the way of `_part`, backwards."""
        every = (1 << len(self._finals)) - 1
        while True:
            mask = min(faced, key=int.bit_count)
            table = faced.pop(mask)
            if mask == every:
                return table
            bit = (~mask & mask + 1).bit_length() - 1  # the lowest that is not in it
            yes, no = self._finals[bit]
            wide: list[float] = []
            for base in range(0, len(table), 1 << bit):
                block = table[base : base + (1 << bit)]
                wide += [no * value for value in block]
                wide += [yes * value for value in block]
            have = faced.get(mask | 1 << bit)
            faced[mask | 1 << bit] = wide if have is None else list(map(add, have, wide))


def soft_factors(shown: Shown, craft: Craft) -> dict[str, float]:
    """Cause -> factor for all that was denied or not mentioned.

    Args:
        shown: the plate; one that came out well was looked at, so that what is not mentioned was hardly there
        craft: the knowledge made ready
    """
    if shown.good:
        factors: dict[str, float] = {}
        answered = {finding.name for finding in shown.evidence.findings}
        for symptom, links in craft.model.plain_links.items():
            if symptom not in answered:
                missed = 1 - craft.model.notice[symptom]
                looked = 1 - missed * missed  # looked at twice before it is called good: judged
                for cause, chance in links.items():
                    factors[cause] = factors.get(cause, 1.0) * (1 - looked * chance)
    else:
        factors = dict(shown.evidence.silent)
    for finding in shown.evidence.findings:
        if finding.answer == "absent":
            for cause, chance in finding.links.items():
                factors[cause] = factors.get(cause, 1.0) * (1 - chance)
    return factors


def most_telling(positive: list[Finding]) -> list[Finding]:
    """The findings an exact sum can hold; the ones most causes share are left out first.

    Args:
        positive: in any order
    """
    if len(positive) <= MOST_POSITIVE:
        return positive
    ranked = sorted(positive, key=lambda finding: (finding.leak * (1 + len(finding.links)), finding.name))
    kept = {finding.name for finding in ranked[:MOST_POSITIVE]}
    return [finding for finding in positive if finding.name in kept]
