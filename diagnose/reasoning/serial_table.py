"""One plate of a day: how much likelier its findings are with a standing cause at work, or with two.

The table holds the plate-level causes and the leaks: the weight of each set of positive findings that they explain. Standing
causes are put to it from outside, since they bind the plates together. A standing cause linked to none of the positive
findings only multiplies the weight by what was not seen, and needs no table.
"""

from collections.abc import Mapping
from math import log

from diagnose.reasoning.craft import Craft
from diagnose.reasoning.lattice import Variable, plan_bits, spread_back, through
from diagnose.reasoning.serial_told import Shown
from diagnose.reasoning.weighing import Finding, odds_before_findings

MOST_POSITIVE = 8  # findings of one plate kept; the least telling are left out, as in weighing
LEAST_LEAK = 1e-12  # nothing that was seen is impossible


class PlateTable:
    """The sums of one plate.

    Args:
        shown: the plate
        craft: the knowledge made ready

    Attributes:
        soft: standing cause -> factor for all that was not seen
        links: standing cause -> positive findings it brings about, with the chance of each; only causes with any
        log_without: log of the chance of the findings with no standing cause at work
    """

    def __init__(self, shown: Shown, craft: Craft) -> None:
        findings = shown.evidence.findings
        positive = most_telling([finding for finding in findings if finding.answer != "absent"])
        sure = craft.knowledge.strengths.expect.unsure_explained
        self._finals = [(1.0, 0.0) if finding.answer == "present" else (sure, 1 - sure) for finding in positive]
        soft = soft_factors(shown, craft)
        standing = standing_causes(craft)
        self.soft = {cause: soft.get(cause, 1.0) for cause in standing}
        self.links: dict[str, tuple[tuple[int, float], ...]] = {}
        by_cause: dict[str, dict[int, float]] = {}
        for number, finding in enumerate(positive):
            for cause, chance in finding.links.items():
                by_cause.setdefault(cause, {})[number] = chance
        for cause, links in by_cause.items():
            if cause in standing:
                self.links[cause] = tuple(sorted(links.items()))
        self._mask = {cause: sum(1 << bit for bit, _ in links) for cause, links in self.links.items()}
        self._forward(positive, by_cause, soft, shown, craft)
        self._parts: dict[int, list[float]] = {(1 << len(positive)) - 1: self._table}
        self._without = self._explained(0, {})
        self._alone = {cause: self._explained(self._mask[cause], dict(links)) for cause, links in self.links.items()}
        self.log_without += log(self._without)

    def ratio(self, cause: str) -> float:
        """How many times likelier the plate is with one standing cause at work than with none.

        Args:
            cause: a standing cause
        """
        return self.soft[cause] * (self._alone[cause] / self._without if cause in self._alone else 1.0)

    def interplay(self, one: str, other: str) -> float:
        """What two standing causes at work together multiply the plate's chance by, beyond what each does alone.

        Args:
            one, other: standing causes, each linked to a positive finding
        """
        both = self._explained(self._mask[one] | self._mask[other], self._jointly(one, other))
        return both * self._without / (self._alone[one] * self._alone[other])

    def marginals(self, one: Mapping[str, float], two: Mapping[tuple[str, str], float]) -> dict[str, float]:
        """The probability of each plate-level cause, given how likely each set of standing causes is on this plate.

        Args:
            one: standing cause linked to a positive finding -> probability that it alone of those is at work
            two: the same for pairs of them; no more than two ever are
        """
        rest = 1 - sum(one.values()) - sum(two.values())
        back = self._faced({}, max(0.0, rest) / self._without)
        for cause, share in one.items():
            if share > 0:
                _add(back, self._faced(dict(self.links[cause]), share / self._alone[cause]))
        for pair, share in two.items():
            if share > 0:
                brought = self._jointly(*pair)
                both = self._explained(self._mask[pair[0]] | self._mask[pair[1]], brought)
                _add(back, self._faced(brought, share / both))
        found = dict(self._apart)
        for before, group, variable, places in reversed(self._steps):
            after = [variable.off * value for value in back]
            for cause, (weight, _), links in zip(group, variable.on, places, strict=True):
                moved = back.copy()
                for bit, chance in links:
                    spread_back(moved, bit, chance)
                found[cause] = min(1.0, weight * sum(map(_times, before, moved)))
                for place, value in enumerate(moved):
                    after[place] += weight * value
            back = after
        return found

    def _forward(
        self,
        positive: list[Finding],
        by_cause: Mapping[str, Mapping[int, float]],
        soft: Mapping[str, float],
        shown: Shown,
        craft: Craft,
    ) -> None:
        """Put leaks and plate-level causes through the table; those linked to no positive finding stand apart."""
        table = [1.0]
        for finding in positive:
            leak = max(LEAST_LEAK, finding.leak)
            table = [(1 - leak) * value for value in table] + [leak * value for value in table]
        odds = odds_before_findings(shown.evidence, craft)
        self._steps: list[tuple[list[float], tuple[str, ...], Variable, list[list[tuple[int, float]]]]] = []
        self._apart: dict[str, float] = {}
        self.log_without = 0.0
        for group in plate_level_groups(craft):
            before = 1 + sum(odds[cause] for cause in group)
            weights = [odds[cause] * soft.get(cause, 1.0) / before for cause in group]
            if not any(cause in by_cause for cause in group):
                whole = 1 / before + sum(weights)
                self.log_without += log(whole)
                self._apart.update((cause, weight / whole) for cause, weight in zip(group, weights, strict=True))
                continue
            ways = tuple((weight, by_cause.get(cause, {})) for cause, weight in zip(group, weights, strict=True))
            variable = Variable(1 / before, ways)
            places = plan_bits(variable, tuple(sorted({bit for _, links in ways for bit in links})))
            self._steps.append((table, group, variable, places))
            table = through(table, variable, places)
        self._table = table

    def _jointly(self, one: str, other: str) -> dict[int, float]:
        """Positive finding -> chance that at least one of two causes brings it about."""
        brought = dict(self.links[one])
        for bit, chance in self.links[other]:
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
            bit = next(bit for bit in range(len(self._finals)) if not mask >> bit & 1)
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

    def _faced(self, brought: Mapping[int, float], weight: float) -> list[float]:
        """For each set of findings explained on the plate itself, the weight of the rest being explained or missed."""
        table = [weight]
        for bit, (yes, no) in enumerate(self._finals):
            chance = brought.get(bit, 0.0)
            left = yes * chance + no * (1 - chance)
            table = [left * value for value in table] + [yes * value for value in table]
        return table


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


def standing_causes(craft: Craft) -> dict[str, str]:
    """Every standing cause, and the kind of thing it stands in.

    Args:
        craft: the knowledge made ready
    """
    return {name: cause.stands_in or "" for name, cause in craft.knowledge.causes.items() if cause.scope == "standing"}


def plate_level_groups(craft: Craft) -> list[tuple[str, ...]]:
    """The exclusive groups of causes that come and go with a plate.

    Args:
        craft: the knowledge made ready
    """
    standing = standing_causes(craft)
    for group in craft.model.groups:
        assert len({cause in standing for cause in group}) == 1, f"{group} stand and do not stand"
    return [group for group in craft.model.groups if group[0] not in standing]


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


def _add(table: list[float], more: list[float]) -> None:
    for place, value in enumerate(more):
        table[place] += value


def _times(one: float, other: float) -> float:
    return one * other
