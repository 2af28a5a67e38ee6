"""Stops, bellows and light against a manual, two pages, engraved lenses and the dials of meters."""

from functools import partial
from itertools import pairwise

from diagnose.bench import lens
from diagnose.bench.plate_speed import light_value, light_value_of
from diagnose.bench.stops import stops_between, stops_of
from tests.bench.outside.value import Outside

ARMY = "US Army Subcourse SS0512, bellows extension factor"
BELLOWS_PAGE = "K. Lee, Bellows Extension and Compensation"
SERIES = (1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32, 45, 64)
# Uniform System numbers count the time needed: f/4 is 1, every stop doubles it.
UNIFORM = ((4, 1), (5.66, 2), (8, 4), (11.3, 8), (16, 16), (32, 64))
DIAL = ((1, 1, 0), (2, 1, 2), (4, 1, 4), (8, 1 / 60, 12), (16, 1 / 125, 15), (5.6, 1 / 30, 10), (11, 1 / 8, 10))
LUX = ((0, 2.5), (5, 80), (10, 2560), (12, 10240), (15, 81920))

OUTSIDE = (
    Outside("bellows factor, 18 in of draw on a 12 in lens", ARMY, 2.25, 1e-9, partial(lens.bellows_factor, 18, 12)),
    Outside("8 s with 18 in of draw on a 12 in lens", ARMY, 18, 1e-9, lambda: 8 * lens.bellows_factor(18, 12)),
    Outside("bellows factor, 12 in copied as 8 in", ARMY, 2.8, 0.03, partial(lens.factor_at, 8 / 12)),
    Outside(
        "2 s with 450 mm of draw on a 300 mm lens", BELLOWS_PAGE, 4.5, 1e-9, lambda: 2 * lens.bellows_factor(450, 300)
    ),
    Outside(
        "sharp distance, 315 mm of draw on a 200 mm lens", BELLOWS_PAGE, 547, 1.5, partial(lens.distance_for, 200, 315)
    ),
    Outside(
        "size of a thing 10 ft off, 300 mm lens", BELLOWS_PAGE, 0.109, 0.0005, partial(lens.magnification_at, 300, 3048)
    ),
    Outside(
        "stops lost at life size",
        "a photographers' question page: two stops",
        2,
        1e-9,
        lambda: stops_of(lens.bellows_factor(300, 150)),
    ),
    *(
        Outside(
            f"stops from f/{wide} to f/{narrow}",
            "the engraved series, rounded on the lens, from memory",
            1,
            0.09,
            partial(stops_between, wide, narrow),
            seen=False,
        )
        for wide, narrow in pairwise(SERIES)
    ),
    *(
        Outside(
            f"stops from f/4 to f/{number} by its Uniform System number {uniform}",
            "Uniform System of stops, from memory",
            uniform.bit_length() - 1,
            0.01,
            partial(stops_between, 4, number),
            seen=False,
        )
        for number, uniform in UNIFORM
    ),
    *(
        Outside(
            f"light for f/{stop}, {seconds:.3g} s, ISO 100",
            "the dial of light meters, rounded times and stops, from memory",
            ev,
            0.13,
            partial(light_value, stop, seconds),
            seen=False,
        )
        for stop, seconds, ev in DIAL
    ),
    *(
        Outside(
            f"light value of {lux} lux",
            "printed tables of EV and lux for C = 250, from memory",
            ev,
            1e-9,
            partial(light_value_of, lux),
            seen=False,
        )
        for ev, lux in LUX
    ),
)
