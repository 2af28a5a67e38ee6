"""What causes and spoiled plates cost: the Pareto of causes; plates, minutes and silver gone."""

from collections.abc import Mapping, Sequence

from diagnose.daybook.book import PlateEntry
from diagnose.daybook.patterns import likely
from diagnose.daybook.reviewed import Bar, Cost
from diagnose.daybook.told import SIZE
from diagnose.entries.knowledge import Knowledge
from diagnose.facts import Facts

SILVER = "silver-carried-off"
STRENGTH = "bath_strength"
MOST_BARS = 8
LEAST_BAR = 0.1  # plates; what is expected of less is told together


def bars_of(plates: Sequence[Mapping[str, float]], knowledge: Knowledge) -> tuple[Bar, ...]:
    """How many spoiled plates each cause is expected to have had a part in, the most first.

    Args:
        plates: of each spoiled plate: cause -> probability
        knowledge: titles
    """
    sums: dict[str, float] = {}
    for chances in plates:
        for cause, chance in chances.items():
            sums[cause] = sums.get(cause, 0.0) + chance
    total = sum(sums.values())
    if not total:
        return ()
    ranked = sorted(sums, key=lambda cause: (-sums[cause], cause))
    shown = [cause for cause in ranked[:MOST_BARS] if sums[cause] >= LEAST_BAR]
    rest = total - sum(sums[cause] for cause in shown)
    bars, so_far = [], 0.0
    for cause in shown:
        so_far += sums[cause]
        entry = knowledge.causes.get(cause)
        bars.append(
            Bar(
                cause=cause,
                title=likely(cause, 0.0, knowledge).title,
                standing=entry is not None and entry.scope == "standing",
                plates=sums[cause],
                share=sums[cause] / total,
                so_far=min(1.0, so_far / total),
            )
        )
    if rest > total * 1e-9 and len(ranked) > len(shown):
        title = f"{len(ranked) - len(shown)} other causes, a little of each"
        bars.append(Bar(cause="", title=title, standing=False, plates=rest, share=rest / total, so_far=1.0))
    return tuple(bars)


def cost_of_spoiled(plates: Sequence[PlateEntry], facts: Sequence[Facts], knowledge: Knowledge) -> Cost:
    """What the spoiled plates cost in plates, minutes and silver.

    Args:
        plates: the spoiled ones
        facts: what is known of each
        knowledge: minutes for a plate
    """
    from diagnose.bench.quick import quick_sum

    asked = {item.name: item for item in quick_sum(SILVER).asks}
    usual_size, usual_strength = float(asked["plate_size"].usual or 0), float(asked["strength"].usual or 0)
    sizes = [plate.size or told.amounts.get(SIZE) for plate, told in zip(plates, facts, strict=True)]
    area = sum(size or usual_size for size in sizes)
    strengths = [told.amounts[STRENGTH] for told in facts if STRENGTH in told.amounts]
    strength = sum(strengths) / len(strengths) if strengths else usual_strength
    return Cost(
        plates=len(plates),
        minutes=len(plates) * knowledge.strengths.expect.plate_minutes,
        silver=_silver(area, strength) if plates else None,
        area=area,
        sizes_known=sum(size is not None for size in sizes),
        strength=strength,
        strength_known=bool(strengths),
    )


def _silver(area: float, strength: float) -> tuple[float, float, float] | None:
    from diagnose.bench.quick import quick_sum
    from diagnose.bench.sum import BenchError

    size = 1000.0  # cm²: the sum goes by area alone, so plates of many sizes are told as so many of one
    try:
        worked = quick_sum(SILVER).reckon({"plates": area / size, "plate_size": size, "strength": strength})
    except BenchError:  # a strength nobody's bath has: better no figure than a wrong one
        return None
    return worked.value("silver_least"), worked.value("silver"), worked.value("silver_most")
