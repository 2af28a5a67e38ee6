"""What a new silver bath is mixed of, how strong a recipe is, and how a strong solution is mixed into a weak one."""

from diagnose.bench.rows import between
from diagnose.bench.silver_density import DENSITIES, PERCENTS, density_at_20, percent_by_weight, water_in
from diagnose.bench.sum import BenchError

WATER = DENSITIES[0]  # g/mL at 20 °C


def new_bath(volume: float, wanted: float) -> tuple[float, float]:
    """What goes into a new bath.

    Args:
        volume: of the bath at 20 °C [mL]
        wanted: silver nitrate [g/L]

    Returns:
        silver nitrate [g], water [mL]

    Raises:
        BenchError: stronger than the table goes

    Holds: up to 590 g/L.
    Source: crc-handbook, exact.

    >>> silver, water = new_bath(1000, 90)
    >>> silver, round(water)
    (90.0, 984)
    """
    return volume * wanted / 1000, volume * water_in(wanted) / WATER


def mixed_strength(silver: float, water: float) -> float:
    """Strength of a bath mixed from a recipe: so much silver nitrate to so much water.

    Args:
        silver: silver nitrate [g]
        water: measured before the silver goes in [mL]

    Returns:
        silver nitrate [g/L]

    Raises:
        BenchError: nothing to mix, or stronger than the table goes

    Holds: up to 40 % by weight.
    Source: crc-handbook.

    >>> round(mixed_strength(10, 90 / 0.998207), 1)   # crc-handbook: 10 % by weight
    108.8
    """
    if not (silver >= 0 and water > 0):
        raise BenchError("a recipe wants some water and no less than 0 g of silver nitrate")
    percent = 100 * silver / (silver + water * WATER)
    if percent > PERCENTS[-1]:
        raise BenchError(
            f"that is {percent:.0f} % by weight; up to {PERCENTS[-1]:g} % is accepted, so look at the units again"
        )
    return 10 * percent * between(percent, PERCENTS, DENSITIES)


def stock_to_add(volume: float, strength: float, wanted: float, stock: float) -> tuple[float, float]:
    """Strong silver solution that brings a bath up to strength.

    Args:
        volume: of the bath at 20 °C [mL]
        strength: silver nitrate in it now [g/L]
        wanted: silver nitrate afterwards [g/L]
        stock: silver nitrate in the strong solution [g/L]

    Returns:
        strong solution to add [mL], volume afterwards [mL]

    Raises:
        BenchError: wanted weaker than it is, or not below the stock, or outside the table

    Holds: up to 590 g/L.
    Source: crc-handbook, exact.

    >>> stock, after = stock_to_add(1000, 70, 90, 300)
    >>> round(stock, 1), round(after)
    (95.2, 1095)
    """
    if wanted < strength:
        raise BenchError(
            f"the bath is {strength:.4g} g/L, already stronger than {wanted:.4g} g/L; water-to-add makes it weaker"
        )
    if stock <= wanted:
        raise BenchError(
            f"a stock of {stock:.4g} g/L cannot bring it to {wanted:.4g} g/L; take a stronger stock, or silver-to-add"
        )
    now, then, strong = (percent_by_weight(some) for some in (strength, wanted, stock))
    bath, added = volume * density_at_20(strength), density_at_20(stock)
    amount = bath * (then - now) / (strong - then) / added
    return amount, (bath + amount * added) / density_at_20(wanted)
