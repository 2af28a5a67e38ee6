"""Two standing causes that share the explaining of some plates, followed together.

Between the plates where they bear on each other each goes its own way, so only those plates are walked over; nine weights, one
for each pair of states, are carried from one to the next. Every weight is a sum of positive terms.
"""

from collections.abc import Sequence
from math import inf, log
from operator import mul

from diagnose.reasoning.serial_chain import Chain, Moves, Row

# Weight of each pair of states: the first cause not yet at work with the second not yet, at work, over; and so on.
Grid = tuple[float, float, float, float, float, float, float, float, float]
ToCome = tuple[list[Row], list[float]]
_LEAST, _MOST = 1e-60, 1e60  # a grid outside of it is brought back to one
_NO_GRID: Grid = (0.0,) * 9


class Pair:
    """Both at work at some time of the day.

    Args:
        one, other: the two
        shared: plates where they bear on each other, with what their being at work together multiplies the chance by

    Attributes:
        log_weight: log-weight of both having been at work, over that of neither ever
    """

    def __init__(self, one: Chain, other: Chain, shared: Sequence[tuple[int, float]]) -> None:
        self.one, self.other, self._shared = one, other, shared
        self._grids: list[Grid] = []
        self._wholes: list[float] = []
        total = 0.0
        place = its = -1
        grid: Grid = _NO_GRID
        for plate, factor in shared:
            before, its_before = place, its
            place, its = one.place[plate], other.place[plate]
            if before < 0:
                x0, x1, x2 = one.rows[place]
                y0, y1, y2 = other.rows[its]
                total += one.logs[place] + other.logs[its]
                grid = x0 * y0, x0 * y1, x0 * y2, x1 * y0, x1 * y1, x1 * y2, x2 * y0, x2 * y1, x2 * y2
            else:
                moves, scale = one.stretch(before, place)
                others, more = other.stretch(its_before, its)
                grid = _down(_across(grid, others), moves)
                total += scale + more
            a, b, c, d, e, f, g, h, i = grid
            e *= factor
            whole = a + b + c + d + e + f + g + h + i
            if _LEAST < whole < _MOST:
                whole = 1.0
                grid = a, b, c, d, e, f, g, h, i
            else:
                total += log(whole)
                grid = a / whole, b / whole, c / whole, d / whole, e / whole, f / whole, g / whole, h / whole, i / whole
            self._grids.append(grid)
            self._wholes.append(whole)
        self._places = place, its
        self._log = total - one.log_never - other.log_never
        self.log_weight = self._ended(one.to_come, other.to_come)

    def _ended(self, mine: ToCome, theirs: ToCome) -> float:
        """Log-weight over never, with such weights of what is still to come after the last shared plate."""
        place, its = self._places
        x0, x1, x2 = mine[0][place]
        y0, y1, y2 = theirs[0][its]
        a, b, c, d, e, f, g, h, i = self._grids[-1]
        total = x0 * (a * y0 + b * y1 + c * y2) + x1 * (d * y0 + e * y1 + f * y2) + x2 * (g * y0 + h * y1 + i * y2)
        return self._log + mine[1][place] + theirs[1][its] + log(total) if total > 0 else -inf

    def log_weight_at_work(self, which: Chain) -> float:
        """As `log_weight`, where one of the two is at work on the last plate.

        Args:
            which: that one
        """
        if which is self.one:
            return self._ended(which.to_come_on_the_last, self.other.to_come)
        return self._ended(self.one.to_come, which.to_come_on_the_last)

    def share_out(self, weight: float, spread: "Spread") -> None:
        """Share the weight of this pair out over the plates.

        Args:
            weight: probability that these two, and no others, were ever at work
            spread: where it is gathered
        """
        one, other = self.one, self.other
        place, its = self._places
        x0, x1, x2 = one.to_come[0][place]
        y0, y1, y2 = other.to_come[0][its]
        back: Grid = (x0 * y0, x0 * y1, x0 * y2, x1 * y0, x1 * y1, x1 * y2, x2 * y0, x2 * y1, x2 * y2)
        part = weight / sum(map(mul, self._grids[-1], back))
        after, its_after = len(one.used), len(other.used)
        last = len(self._shared) - 1
        for number in range(last, -1, -1):
            plate, factor = self._shared[number]
            place, its = one.place[plate], other.place[plate]
            if number == last:
                back = tuple([value * part for value in back])
            else:
                # What is still to come, as seen from this plate; on the way, with only one of the two taken back to it.
                moves, others = one.stretch(place, after)[0], other.stretch(its, its_after)[0]
                grid = self._grids[number]
                left = _left(back, others)
                spread.stretch(one, place, after, moves, grid, left)
                spread.stretch(other, its, its_after, others, _turned(grid), _turned(_up(back, moves)))
                back = _up(left, moves)
            a, b, c, d, e, f, g, h, i = map(mul, self._grids[number], back)
            spread.seen(self, plate, b + h, d + f, e)
            if number == last:
                spread.ends(one, place, (a + b + c, d + e + f, g + h + i))
                spread.ends(other, its, (a + d + g, b + e + h, c + f + i))
            if number:
                whole = self._wholes[number]
                a, b, c, d, e, f, g, h, i = back
                e *= factor
                back = a / whole, b / whole, c / whole, d / whole, e / whole, f / whole, g / whole, h / whole, i / whole
                after, its_after = place, its
            else:
                spread.starts(one, place, (a + b + c, d + e + f, g + h + i))
                spread.starts(other, its, (a + d + g, b + e + h, c + f + i))


class Spread:
    """Where the weights of all histories are gathered, plate by plate.

    Args:
        plates: how many there are

    Attributes:
        alone: chain -> for each plate, the weight of being at work while no other that bears on the plate is
        active: chain -> for each plate, the weight of being at work
        onset: chain -> for each plate, the weight of coming on for the first time
        both: for each plate, two causes at work together -> weight
    """

    def __init__(self, chains: Sequence[Chain], plates: int) -> None:
        self.alone = {chain: [0.0] * plates for chain in chains}
        self.active = {chain: [0.0] * plates for chain in chains}
        self.onset = {chain: [0.0] * plates for chain in chains}
        self.both: list[dict[tuple[Chain, Chain], float]] = [{} for _ in range(plates)]
        self._stretches: dict[Chain, dict[tuple[int, int], dict[int, list[float]]]] = {chain: {} for chain in chains}
        self._ends: dict[Chain, dict[int, list[float]]] = {chain: {} for chain in chains}

    def whole_day(self, chain: Chain, weight: float) -> None:
        """Weight of one that goes its own way all day, and is at work at some time of it.

        Args:
            chain: which
            weight: probability
        """
        self._stretches[chain][-1, 0] = {len(chain.used): [0.0, weight, 0.0]}

    def starts(self, chain: Chain, last: int, weights: Row) -> None:
        """Weights of one chain's states at the first plate where it bears on another.

        Args:
            chain: which
            last: the place of that plate
            weights: of each state there
        """
        found = self._of(chain, -1, 0, last)
        for state, weight in enumerate(weights):
            found[state] += weight

    def ends(self, chain: Chain, first: int, weights: Row) -> None:
        """Weights of one chain's states at the last plate where it bears on another.

        Args:
            chain: which
            first: the place of that plate
            weights: of each state there
        """
        found = self._ends[chain].setdefault(first, [0.0, 0.0, 0.0])
        for state, weight in enumerate(weights):
            found[state] += weight

    def seen(self, pair: Pair, plate: int, other: float, one: float, both: float) -> None:
        """Weights of a plate where two bear on each other.

        Args:
            pair: the two
            plate: number
            other: weight of only the second being at work
            one: of only the first
            both: of both
        """
        self.alone[pair.one][plate] += one
        self.active[pair.one][plate] += one + both
        self.alone[pair.other][plate] += other
        self.active[pair.other][plate] += other + both
        if both:
            self.both[plate][pair.one, pair.other] = both

    def stretch(self, chain: Chain, first: int, last: int, moves: Moves, grid: Grid, left: Grid) -> None:
        """Weights of one chain's states at both ends of a stretch of a pair.

        Args:
            chain: which
            first: its place before the stretch
            last: its place at the end
            moves: what the stretch does to it
            grid: weight of each pair of states at the first place, this chain's states by row
            left: what is still to come, for its states at the last place by row, the other's at the first by column
        """
        m00, m01, m02, m11, m12, m21, m22 = moves
        a, b, c, d, e, f, g, h, i = grid
        l00, l01, l02, l10, l11, l12, l20, l21, l22 = left
        began = m01 * (a * l10 + b * l11 + c * l12)
        if last - first == 1:  # nothing lies between
            self.onset[chain][chain.used[last]] += began
            return
        ends = self._of(chain, first, 0, last)
        ends[0] += m00 * (a * l00 + b * l01 + c * l02)
        ends[1] += began
        ends[2] += m02 * (a * l20 + b * l21 + c * l22)
        ends = self._of(chain, first, 1, last)
        ends[1] += m11 * (d * l10 + e * l11 + f * l12)
        ends[2] += m12 * (d * l20 + e * l21 + f * l22)
        ends = self._of(chain, first, 2, last)
        ends[1] += m21 * (g * l10 + h * l11 + i * l12)
        ends[2] += m22 * (g * l20 + h * l21 + i * l22)

    def share_out(self) -> None:
        """Share the weights of all stretches out over the plates between."""
        for chain, stretches in self._stretches.items():
            alone, onset = [0.0] * len(chain.used), self.onset[chain]
            for (first, start), ends in stretches.items():
                if any(map(any, ends.values())):
                    chain.along(first, start, ends, alone, onset)
            chain.to_the_end(self._ends[chain], alone, onset)
            own, active = self.alone[chain], self.active[chain]
            for plate, weight in zip(chain.used, alone, strict=True):
                own[plate] += weight
                active[plate] += weight

    def _of(self, chain: Chain, first: int, start: int, last: int) -> list[float]:
        ends = self._stretches[chain].get((first, start))
        if ends is None:
            ends = self._stretches[chain][first, start] = {}
        found = ends.get(last)
        if found is None:
            found = ends[last] = [0.0, 0.0, 0.0]
        return found


def _across(grid: Grid, moves: Moves) -> Grid:
    """Move the second cause on."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    a, b, c, d, e, f, g, h, i = grid
    return (
        a * m00, a * m01 + b * m11 + c * m21, a * m02 + b * m12 + c * m22,
        d * m00, d * m01 + e * m11 + f * m21, d * m02 + e * m12 + f * m22,
        g * m00, g * m01 + h * m11 + i * m21, g * m02 + h * m12 + i * m22,
    )  # fmt: skip


def _down(grid: Grid, moves: Moves) -> Grid:
    """Move the first cause on."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    a, b, c, d, e, f, g, h, i = grid
    return (
        a * m00, b * m00, c * m00,
        a * m01 + d * m11 + g * m21, b * m01 + e * m11 + h * m21, c * m01 + f * m11 + i * m21,
        a * m02 + d * m12 + g * m22, b * m02 + e * m12 + h * m22, c * m02 + f * m12 + i * m22,
    )  # fmt: skip


def _left(back: Grid, moves: Moves) -> Grid:
    """What is still to come, with the second cause's states one stretch earlier."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    a, b, c, d, e, f, g, h, i = back
    return (
        a * m00 + b * m01 + c * m02, b * m11 + c * m12, b * m21 + c * m22,
        d * m00 + e * m01 + f * m02, e * m11 + f * m12, e * m21 + f * m22,
        g * m00 + h * m01 + i * m02, h * m11 + i * m12, h * m21 + i * m22,
    )  # fmt: skip


def _up(back: Grid, moves: Moves) -> Grid:
    """What is still to come, with the first cause's states one stretch earlier."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    a, b, c, d, e, f, g, h, i = back
    return (
        a * m00 + d * m01 + g * m02, b * m00 + e * m01 + h * m02, c * m00 + f * m01 + i * m02,
        d * m11 + g * m12, e * m11 + h * m12, f * m11 + i * m12,
        d * m21 + g * m22, e * m21 + h * m22, f * m21 + i * m22,
    )  # fmt: skip


def _turned(grid: Grid) -> Grid:
    """Rows for columns."""
    a, b, c, d, e, f, g, h, i = grid
    return a, d, g, b, e, h, c, f, i
