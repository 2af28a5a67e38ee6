"""What acid a silver bath holds, from what the paper reads; how a dose is made so that it can be measured."""

import math

from diagnose.bench.sum import Asked, BenchError

# Mol in a litre against what the paper reads: 1 / activity coefficient, fitted to an equilibrium program.
ACTIVITY = 1.344
AIR_PH = 5.58  # a pure bath without any acid, once it has taken carbonic acid from the air
CLOUD_PH = 5.7  # silver carbonate clouds a bath in air
CHECKED_PH = 2.1  # below it nothing was compared
SHARE = 0.5  # of a reckoned dose that may go in before the bath is tested again
LEAST_MEASURED = 0.1  # mL; under it a 1 mL syringe is more than a tenth out
MOST_OF_BATH = 0.02  # share of the bath that a dose may add as water
BATH_SOURCES = ("minteq silver nitrate bath at 25 °C", "judged")
VOLUME = Asked(name="volume", ask="How much bath is there?", unit="mL", range=(100, 20_000))
EXPECT = (
    "If the bath reads clearly less changed than expected, carbonate or acetate in it took the dose: go on by halves. "
    "If it reads more changed than expected, stop."
)
PAPER = "A reading 0.3 out doubles the dose or halves it. An ordinary pH electrode clogs with silver: use paper."


def moles_between(volume: float, present_ph: float, wanted_ph: float) -> float:
    """Nitric acid that brings a bath from one reading to another; below nothing where the bath must lose acid.

    Args:
        volume: of the bath [mL]
        present_ph: what it reads [pH]
        wanted_ph: what it should read [pH]

    Returns:
        acid [mol]

    Holds: a pure bath of 70 to 110 g/L at 25 °C, pH 2.1 to 5.6, within 3 %. Acetate or carbonate eats acid first.
    Source: minteq: 1.344 mL of acid of 1 mol/L brings a litre of fresh bath of 90 g/L to pH 3.

    >>> round(1000 * moles_between(1000, 6.3, 3), 3)
    1.343
    """
    return volume / 1000 * ACTIVITY * (10**-wanted_ph - 10**-present_ph)


def ph_with(volume: float, present_ph: float, moles: float) -> float:
    """What a bath reads once acid went in or was taken out.

    Args:
        volume: of the bath [mL]
        present_ph: what it read [pH]
        moles: acid put in; below nothing for acid taken out by an alkali [mol]

    Returns:
        new reading; taking acid out never brings it above that of a pure bath in air [pH]

    Holds: as `moles_between`.
    Source: minteq: 0.001 mol of nitric acid to 1 kg of water, as bath of 90 g/L about 1017 mL, reads 3.136.

    >>> round(ph_with(1017, 5.58, 0.001), 2)
    3.13
    """
    free = 10**-present_ph + moles / (volume / 1000 * ACTIVITY)
    if moles <= 0 and free <= 10**-AIR_PH:
        return max(AIR_PH, present_ph)
    return -math.log10(free)


def suiting(moles: float, volume: float, strengths: tuple[float, ...]) -> float:
    """The first strength at which a dose can be measured out and does not flood the bath.

    Args:
        moles: the dose [mol]
        volume: of the bath [mL]
        strengths: to pick from, best liked first [mol/L]

    Returns:
        one of them [mol/L]

    Raises:
        BenchError: the dose is too small for any

    Source: judged: at least 0.1 mL, at most a fiftieth of the bath.

    >>> suiting(0.0001, 1000, (0.1, 0.01))
    0.1
    """
    for strength in strengths:
        if LEAST_MEASURED <= 1000 * moles / strength <= MOST_OF_BATH * volume:
            return strength
    raise BenchError("so small a step cannot be measured out and would not show on a plate; leave the bath as it is")
