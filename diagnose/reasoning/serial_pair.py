"""Two standing causes that share the explaining of some plates, followed together.

Between the plates where they bear on each other each goes its own way, so only those plates are walked over; nine weights, one
for each pair of states, are carried from one to the next. Every weight is a sum of positive terms.
"""

from collections.abc import Sequence
from math import log

from diagnose.reasoning.serial_chain import _STATES, Chain, Moves, Row

Grid = tuple[Row, Row, Row]  # weight of each pair of states, the first cause's states by row
_Ends = dict[
    tuple[int, int, int], list[float]
]  # from place, to place, state at the first -> weight of each state at the last


class Pair:
    """Both at work at some time of the day.

    Args:
        one, other: the two
        shared: plates where they bear on each other, with what their being at work together multiplies the chance by

    Attributes:
        log_weight: log-weight of both having been at work, over that of neither ever
    """

    def __init__(self, one: Chain, other: Chain, shared: Sequence[tuple[int, float]]) -> None:
        self.one, self.other = one, other
        self.plates = [plate for plate, _ in shared]
        self._factors = [factor for _, factor in shared]
        self._places = [(one.place[plate], other.place[plate]) for plate in self.plates]
        self._grids: list[Grid] = []
        self._wholes: list[float] = []
        self._run()

    def _run(self) -> None:
        first, second = self._places[0]
        mine, theirs = self.one.rows[first], self.other.rows[second]
        grid: Grid = tuple(tuple(x * y for y in theirs) for x in mine)  # type: ignore[assignment]
        self._log = self.one.logs[first] + self.other.logs[second]
        for number, factor in enumerate(self._factors):
            if number:
                (a, b), (c, d) = self._places[number - 1 : number + 1]
                (moves, scale), (others, more) = self.one.stretch(a, c), self.other.stretch(b, d)
                grid = _down(_across(grid, others), moves)
                self._log += scale + more
            (a00, a01, a02), (a10, a11, a12), (a20, a21, a22) = grid
            a11 *= factor
            whole = a00 + a01 + a02 + a10 + a11 + a12 + a20 + a21 + a22
            part = 1 / whole
            grid = (
                (a00 * part, a01 * part, a02 * part),
                (a10 * part, a11 * part, a12 * part),
                (a20 * part, a21 * part, a22 * part),
            )
            self._grids.append(grid)
            self._wholes.append(whole)
            self._log += log(whole)
        first, second = self._places[-1]
        self._never = self.one.log_never + self.other.log_never
        self.log_weight = self._ended(
            self.one.back[first],
            self.other.back[second],
            self.one.back_logs[first] + self.other.back_logs[second],
        )

    def _ended(self, mine: Row, theirs: Row, scale: float) -> float:
        """Log-weight over never, with such weights of what is still to come after the last shared plate."""
        (a00, a01, a02), (a10, a11, a12), (a20, a21, a22) = self._grids[-1]
        y0, y1, y2 = theirs
        total = (
            mine[0] * (a00 * y0 + a01 * y1 + a02 * y2)
            + mine[1] * (a10 * y0 + a11 * y1 + a12 * y2)
            + mine[2] * (a20 * y0 + a21 * y1 + a22 * y2)
        )
        return self._log + scale + log(total) - self._never if total > 0 else -1e300

    def log_weight_ending(self, last: tuple[list[Row], list[float]], which: Chain) -> float:
        """As `log_weight`, where one of the two must be at work on the last plate.

        Args:
            last: from that one's `at_the_end`
            which: that one
        """
        first, second = self._places[-1]
        rows, logs = last
        if which is self.one:
            return self._ended(rows[first], self.other.back[second], logs[first] + self.other.back_logs[second])
        return self._ended(self.one.back[first], rows[second], self.one.back_logs[first] + logs[second])

    def share_out(self, weight: float, spread: "Spread") -> None:
        """Share the weight of this pair out over the plates.

        Args:
            weight: probability that these two, and no others, were ever at work
            spread: where it is gathered
        """
        first, second = self._places[-1]
        mine, theirs = self.one.back[first], self.other.back[second]
        back: Grid = tuple(tuple(x * y for y in theirs) for x in mine)  # type: ignore[assignment]
        grid = self._grids[-1]
        part = weight / sum(g * b for row, rest in zip(grid, back, strict=True) for g, b in zip(row, rest, strict=True))
        back = tuple(tuple(b * part for b in rest) for rest in back)  # type: ignore[assignment]
        end_one, end_other = len(self.one.used), len(self.other.used)
        for number in range(len(self.plates) - 1, -1, -1):
            grid = self._grids[number]
            p = [[g * b for g, b in zip(row, rest, strict=True)] for row, rest in zip(grid, back, strict=True)]
            place, its = self._places[number]
            spread.seen(self, self.plates[number], p)
            if number == len(self.plates) - 1:
                for state in range(3):
                    spread.ends(self.one, place, end_one, state, 1, sum(p[state]))
                    spread.ends(self.other, its, end_other, state, 1, p[0][state] + p[1][state] + p[2][state])
            if number == 0:
                for state in range(3):
                    spread.ends(self.one, -1, place, 0, state, sum(p[state]))
                    spread.ends(self.other, -1, its, 0, state, p[0][state] + p[1][state] + p[2][state])
                return
            before, its_before = self._places[number - 1]
            moves, others = self.one.stretch(before, place)[0], self.other.stretch(its_before, its)[0]
            part = 1 / self._wholes[number]
            (b00, b01, b02), (b10, b11, b12), (b20, b21, b22) = back
            b11 *= self._factors[number]
            back = (
                (b00 * part, b01 * part, b02 * part),
                (b10 * part, b11 * part, b12 * part),
                (b20 * part, b21 * part, b22 * part),
            )
            earlier = self._grids[number - 1]
            up, left = _up(back, moves), _left(back, others)
            spread.stretch(self.one, before, place, moves, earlier, left)
            spread.stretch(self.other, its_before, its, others, _turned(earlier), _turned(up))
            back = _left(up, others)


class Spread:
    """Where the weights of all histories are gathered, plate by plate.

    Args:
        plates: how many there are

    Attributes:
        active: chain -> for each plate, the weight of being at work while no other that bears on the plate is
        onset: chain -> for each plate, the weight of coming on for the first time
        both: for each plate, two causes at work together -> weight
    """

    def __init__(self, plates: int) -> None:
        self._plates = plates
        self.active: dict[Chain, list[float]] = {}
        self.onset: dict[Chain, list[float]] = {}
        self.both: list[dict[tuple[Chain, Chain], float]] = [{} for _ in range(plates)]
        self._stretches: dict[Chain, dict[tuple[int, int, int], list[float]]] = {}

    def alone(self, chain: Chain, weight: float) -> None:
        """Weight of one that goes its own way all day.

        Args:
            chain: which
            weight: probability
        """
        self.ends(chain, -1, len(chain.used), 0, 1, weight)

    def ends(self, chain: Chain, first: int, last: int, start: int, end: int, weight: float) -> None:
        """Weight of the histories of one stretch.

        Args:
            chain: which
            first, last: places between which it goes its own way
            start, end: states there
            weight: probability
        """
        if weight:
            found = self._stretches.setdefault(chain, {}).setdefault((first, last, start), [0.0, 0.0, 0.0])
            found[end] += weight

    def seen(self, pair: Pair, plate: int, p: list[list[float]]) -> None:
        """Weights of both states on a plate where the two bear on each other.

        Args:
            pair: the two
            plate: number
            p: weight of each pair of states
        """
        (_, p01, _), (p10, p11, p12), (_, p21, _) = p
        self._of(self.active, pair.one)[plate] += p10 + p12
        self._of(self.active, pair.other)[plate] += p01 + p21
        if p11:
            self.both[plate][pair.one, pair.other] = p11

    def stretch(self, chain: Chain, first: int, last: int, moves: Moves, grid: Grid, left: Grid) -> None:
        """Weights of one chain's states at both ends of a stretch of a pair.

        Args:
            chain: which
            first, last: its places
            moves: what the stretch does to it
            grid: weight of each pair of states at the first place, this chain's states by row
            left: what is still to come, for its states at the last place by row, the other's at the first by column
        """
        m00, m01, m02, m11, m12, m21, m22 = moves
        (g00, g01, g02), (g10, g11, g12), (g20, g21, g22) = grid
        (l00, l01, l02), (l10, l11, l12), (l20, l21, l22) = left
        found = self._stretches.setdefault(chain, {})
        ends = found.setdefault((first, last, 0), [0.0, 0.0, 0.0])
        ends[0] += m00 * (g00 * l00 + g01 * l01 + g02 * l02)
        ends[1] += m01 * (g00 * l10 + g01 * l11 + g02 * l12)
        ends[2] += m02 * (g00 * l20 + g01 * l21 + g02 * l22)
        if last - first == 1:
            return  # nothing lies between, and only from "not yet" can it come on for the first time
        ends = found.setdefault((first, last, 1), [0.0, 0.0, 0.0])
        ends[1] += m11 * (g10 * l10 + g11 * l11 + g12 * l12)
        ends[2] += m12 * (g10 * l20 + g11 * l21 + g12 * l22)
        ends = found.setdefault((first, last, 2), [0.0, 0.0, 0.0])
        ends[1] += m21 * (g20 * l10 + g21 * l11 + g22 * l12)
        ends[2] += m22 * (g20 * l20 + g21 * l21 + g22 * l22)

    def share_out(self) -> None:
        """Share the weights of all stretches out over the plates between."""
        for chain, stretches in self._stretches.items():
            active, onset = self._of(self.active, chain), self._of(self.onset, chain)
            for (first, last, start), (x, y, z) in stretches.items():
                if x or y or z:
                    chain.along(first, last, _STATES[start], (x, y, z), active, onset)

    def _of(self, gathered: dict[Chain, list[float]], chain: Chain) -> list[float]:
        found = gathered.get(chain)
        if found is None:
            found = gathered[chain] = [0.0] * self._plates
        return found


def _across(grid: Grid, moves: Moves) -> Grid:
    """Move the second cause on."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    (a0, a1, a2), (b0, b1, b2), (c0, c1, c2) = grid
    return (
        (a0 * m00, a0 * m01 + a1 * m11 + a2 * m21, a0 * m02 + a1 * m12 + a2 * m22),
        (b0 * m00, b0 * m01 + b1 * m11 + b2 * m21, b0 * m02 + b1 * m12 + b2 * m22),
        (c0 * m00, c0 * m01 + c1 * m11 + c2 * m21, c0 * m02 + c1 * m12 + c2 * m22),
    )


def _down(grid: Grid, moves: Moves) -> Grid:
    """Move the first cause on."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    (a0, a1, a2), (b0, b1, b2), (c0, c1, c2) = grid
    return (
        (a0 * m00, a1 * m00, a2 * m00),
        (a0 * m01 + b0 * m11 + c0 * m21, a1 * m01 + b1 * m11 + c1 * m21, a2 * m01 + b2 * m11 + c2 * m21),
        (a0 * m02 + b0 * m12 + c0 * m22, a1 * m02 + b1 * m12 + c1 * m22, a2 * m02 + b2 * m12 + c2 * m22),
    )


def _left(back: Grid, moves: Moves) -> Grid:
    """What is still to come, with the second cause's states one stretch earlier."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    (a0, a1, a2), (b0, b1, b2), (c0, c1, c2) = back
    return (
        (a0 * m00 + a1 * m01 + a2 * m02, a1 * m11 + a2 * m12, a1 * m21 + a2 * m22),
        (b0 * m00 + b1 * m01 + b2 * m02, b1 * m11 + b2 * m12, b1 * m21 + b2 * m22),
        (c0 * m00 + c1 * m01 + c2 * m02, c1 * m11 + c2 * m12, c1 * m21 + c2 * m22),
    )


def _up(back: Grid, moves: Moves) -> Grid:
    """What is still to come, with the first cause's states one stretch earlier."""
    m00, m01, m02, m11, m12, m21, m22 = moves
    (a0, a1, a2), (b0, b1, b2), (c0, c1, c2) = back
    return (
        (a0 * m00 + b0 * m01 + c0 * m02, a1 * m00 + b1 * m01 + c1 * m02, a2 * m00 + b2 * m01 + c2 * m02),
        (b0 * m11 + c0 * m12, b1 * m11 + c1 * m12, b2 * m11 + c2 * m12),
        (b0 * m21 + c0 * m22, b1 * m21 + c1 * m22, b2 * m21 + c2 * m22),
    )


def _turned(grid: Grid) -> Grid:
    return tuple(zip(*grid, strict=True))  # type: ignore[return-value]
