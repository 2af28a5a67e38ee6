"""Every sum of the bench, by name."""

from diagnose.bench import (
    acetic_acid,
    bath_acid,
    bath_iodide,
    bath_making,
    bath_plates,
    bath_reading,
    bath_scales,
    bath_strength,
    bath_weighed,
    collodion,
    collodion_salts,
    cyanide_fume,
    developer,
    exposure,
    fixer,
    hypo,
    lens,
    light,
    plate_speed,
    room_vapour,
    strips,
    warmth,
    washing,
    wet_bulb,
    wet_window,
)
from diagnose.bench.sum import BenchError, Sum
from diagnose.errors import near, printable

MODULES: tuple[tuple[str, tuple[Sum, ...]], ...] = (
    ("Silver bath: how strong it is", (*bath_reading.SUMS, *bath_scales.SUMS, *bath_weighed.SUMS)),
    ("Silver bath: stronger, weaker, new", (*bath_strength.SUMS, *bath_making.SUMS)),
    ("Silver bath: what plates do to it", bath_plates.SUMS),
    ("Silver bath: iodide", bath_iodide.SUMS),
    ("Acid", (*bath_acid.SUMS, *acetic_acid.SUMS)),
    ("Collodion", (*collodion.SUMS, *collodion_salts.SUMS)),
    ("Developer", developer.SUMS),
    ("Weather, warmth and waiting", (*wet_window.SUMS, *wet_bulb.SUMS, *warmth.SUMS)),
    ("Exposure", (*exposure.SUMS, *lens.SUMS, *light.SUMS, *plate_speed.SUMS, *strips.SUMS)),
    ("Fixer and wash", (*hypo.SUMS, *fixer.SUMS, *washing.SUMS)),
    ("Vapour and fire", (*room_vapour.SUMS, *cyanide_fume.SUMS)),
)

SUMS: dict[str, Sum] = {item.name: item for _, group in MODULES for item in group}


def sum_called(name: str) -> Sum:
    """A sum by its name.

    Args:
        name: words joined with hyphens

    Raises:
        BenchError: there is no such sum
    """
    try:
        return SUMS[name]
    except KeyError:
        shown = printable(name[:40])
        raise BenchError(f"no sum called {shown!r}; {near(name[:60], SUMS) or '`diagnose bench` lists them'}") from None
