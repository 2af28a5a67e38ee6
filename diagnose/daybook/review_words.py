"""The sentences of a review, the same on the terminal and on the page."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from diagnose.bands import band, percent
from diagnose.daybook.advised import Likely, Meaning, Trial
from diagnose.daybook.reviewed import Bar, Cost, Counted, Pattern, PlateLine, Review, Shared, Stretch
from diagnose.daybook.saying import day_in_words
from diagnose.phrases import lower_first, minutes

CALM = 0.5
MOST_SLIPS = 3
MANY = 60  # plates; the strip of more comes after the pattern
INTERVAL = "The bracket holds the true share 95 times in 100 (Wilson's interval); with few plates it is wide."
FISHER = (
    "Counts are put side by side by Fisher's exact test, corrected for as many looks as could have told anything. "
    "What goes together need not be the cause."
)
PARETO = "Sums of probabilities over the spoiled plates; a plate may have more than one cause."


def title(review: Review) -> str:
    """What the review is of."""
    if not review.first:
        return "An empty book"
    if review.first == review.last:
        return f"Plates of {day_in_words(review.first)}"
    return f"Plates of {day_in_words(review.first, review.last)} to {day_in_words(review.last)}"


def day_line(review: Review) -> str:
    """The day in a line."""
    if not review.plates:
        return "No plate in the book for that time. Log good plates too: they matter as much."
    if not review.spoiled:
        return f"{plates(review.plates)}, {'all' if review.plates > 2 else 'both' if review.plates == 2 else 'and it is'} good."
    if not review.good:
        return f"{plates(review.plates)}, {'all' if review.plates > 2 else 'both' if review.plates == 2 else 'and it is'} spoiled."
    return f"{plates(review.plates)}: {review.good} good, {review.spoiled} spoiled."


def upper_first(text: str) -> str:
    """A text that begins a sentence."""
    return text[:1].upper() + text[1:]


def by_line(review: Review) -> str:
    """Who fared how; "" where one person worked alone."""
    if not review.by:
        return ""
    said = [f"{one.who or 'the owner of the book'} {one.spoiled} of {one.plates}" for one in review.by]
    return f"Spoiled, by who made them: {', '.join(said)}."


def plates(count: int) -> str:
    """A count of plates.

    >>> plates(1), plates(2)
    ('1 plate', '2 plates')
    """
    return f"{count} plate{'' if count == 1 else 's'}"


def how_sure(likely: Likely) -> str:
    """The word with its number."""
    return f"{likely.words}, {percent(likely.probability)}"


def pattern_heading(review: Review) -> str:
    """What stands above the pattern."""
    return "Two patterns run through it" if len(review.patterns) == 2 else "What runs through it"


def no_pattern(review: Review) -> str:
    """What is said where no standing cause is likelier than not; "" where one is."""
    if review.patterns or not review.plates:
        return ""
    if not review.spoiled:
        return "No plate was spoiled, so nothing that stands shows."
    calm = f"{band(review.none_standing)}, {percent(review.none_standing)}"
    if review.none_standing >= CALM:
        return f"No standing cause shows ({calm}): the spoiled plates most likely each have their own."
    standing = 1 - review.none_standing
    return f"Something that stands is {band(standing)}, {percent(standing)}, but no one cause leads."


def began(pattern: Pattern, lines: Sequence[PlateLine]) -> str:
    """Where a pattern began.

    Args:
        pattern: from the review
        lines: the plates
    """
    if pattern.onset == 1:
        later = f", at the latest by plate {pattern.onset_most}" if pattern.onset_most > 1 else ""
        return f"It was there from the first plate{later}; it may be older than these plates."
    said = f"It began at plate {pattern.onset}{_clock(lines, pattern.onset)}"
    if pattern.onset_least < pattern.onset_most:
        said += f", or somewhere from plate {pattern.onset_least} to {pattern.onset_most}"
    return f"{said}."


def ended(pattern: Pattern, lines: Sequence[PlateLine]) -> str:
    """What became of a pattern.

    Args:
        pattern: from the review
        lines: the plates
    """
    if pattern.ended_before is None:
        if pattern.untested:
            return f"It was at work to the last plate. Done since, and not yet tried: {pattern.untested}."
        helps = f" What helps: {lower_first(pattern.helps)}." if pattern.helps else ""
        return f"It was still at work on the last plate.{helps}"
    place = pattern.ended_before
    if pattern.ended_by:
        return f"It ended before plate {place}{_clock(lines, place)}, with this: {pattern.ended_by}."
    return f"It seems gone from plate {place}{_clock(lines, place)} on; the book has nothing that could have ended it."


def second(review: Review) -> str:
    """The second best; "" where there is none."""
    if review.second is None:
        return ""
    label = "Next likeliest" if review.patterns else "Likeliest of them"
    return f"{label}: {lower_first(review.second.title)}: {how_sure(review.second)}."


def plate_level(review: Review) -> str:
    """Causes of single plates; "" where there are none."""
    if not review.plate_level:
        return ""
    said = [f"{lower_first(bar.title)} (about {expected(bar)})" for bar in review.plate_level[:MOST_SLIPS]]
    return f"Slips on single plates: {'; '.join(said)}."


def expected(bar: Bar) -> str:
    """How many plates are expected of a cause."""
    return f"{bar.plates:.1f} plate{'' if f'{bar.plates:.1f}' == '1.0' else 's'}"


def shared_line(shared: Shared) -> str:
    """One thing that parts spoiled plates from good ones."""
    what = " and ".join(shared.what)
    more = " (these went together on every plate, so the book cannot part them)" if len(shared.what) > 1 else ""
    return f"{what[:1].upper()}{what[1:]}{more}: {counts(shared)}: {shared.words}"


def counts(shared: Shared) -> str:
    """The counts behind it."""
    return f"{shared.spoiled_with} of {shared.spoiled} spoiled, {shared.good_with} of {shared.good} good"


def shared_none(review: Review) -> str:
    """What is said where nothing can be compared; "" where something can."""
    if review.shared or not review.spoiled:
        return ""
    if not review.good:
        return "No good plate to compare with: log the good ones too."
    return "Nothing was noted of both spoiled and good plates that differs between them."


def looks(review: Review) -> str:
    """How many things were looked at."""
    return f"{review.looks} thing{'' if review.looks == 1 else 's'} compared. {FISHER}"


def sign_line(sign: Counted, spoiled: int) -> str:
    """A sign the spoiled plates have in common."""
    where = ""
    if sign.place and sign.placed > 1:
        where = f"; {sign.placed} of {'them' if sign.placed == sign.plates else sign.plates} in one place: {sign.place}"
        where = where.replace(f"{sign.placed} of them", "all" if sign.placed > 2 else "both")
    return f"{sign.what}: {sign.plates} of {spoiled} spoiled{where}"


def cost_lines(cost: Cost) -> list[str]:
    """What the spoiled plates cost, with the doubt in it."""
    if not cost.plates:
        return []
    lines = [
        f"{plates(cost.plates)} spoiled, about {minutes(cost.minutes)} of work (judged: the knowledge's time for a plate)."
    ]
    if cost.silver:
        least, middle, most = (f"{amount:.2g}" for amount in cost.silver)
        lines.append(f"About {middle} g of silver nitrate gone from the bath with them; between {least} and {most} g.")
        taken = []
        if cost.sizes_known < cost.plates:
            missing = cost.plates - cost.sizes_known
            taken.append(f"{plates(missing)} without a size taken as usual, 13 x 18 cm")
        if not cost.strength_known:
            taken.append(f"the bath taken as {cost.strength:.0f} g/L, a usual one")
        if taken:
            lines.append(f"Reckoned with {'; '.join(taken)}.")
        lines.append("The larger part drips off and can be saved: keep drippings, wipings and filters.")
    return lines


def stretch_line(row: Stretch) -> str:
    """One row of the trend."""
    return f"{row.label}: {row.spoiled} of {row.plates} spoiled, {share(row.share)} ({share(row.least)} to {share(row.most)})"


def share(part: float) -> str:
    """A share that was counted, as a whole percent.

    >>> share(0.0), share(1.0)
    ('0%', '100%')
    """
    return f"{round(part * 100)}%"


def trial_heading(trial: Trial) -> str:
    """What stands above the test."""
    return {"do": "Before tomorrow's first plate", "nothing": "Tomorrow"}.get(trial.kind, "One test for tomorrow")


def trial_cost(trial: Trial) -> str:
    """What it takes."""
    if trial.kind == "plate":
        return "1 plate"
    parts = [minutes(trial.minutes)]
    if trial.kind == "remedy":
        parts.append("and the next plate")
    elif trial.plates:
        parts.append(plates(trial.plates))
    return ", ".join(parts) + ("" if trial.reversible else ", cannot be undone")


def trial_tells(trial: Trial) -> str:
    """What a test tells, in numbers; "" where nothing is tested."""
    if trial.kind not in {"check", "remedy", "plate"} or not trial.bits:
        return ""
    return (
        f"On average it settles {percent(trial.bits / trial.doubt)} of the doubt that is left; nothing that settles as much takes "
        "less time. Change nothing else on that plate."
    )


def between(trial: Trial) -> str:
    """What is open."""
    said = [f"{lower_first(item.title)} ({how_sure(item)})" for item in trial.between]
    return "; ".join(said)


def meaning_line(meaning: Meaning) -> str:
    """What one outcome would mean, without the outcome itself."""
    said = "; ".join(f"{lower_first(item.title)}: {how_sure(item)}" for item in meaning.leading)
    return f"{upper_first(said)}. {meaning.then}".rstrip() if said else meaning.then


def numbers(places: Iterable[int]) -> str:
    """Numbers of plates, rows of them drawn together.

    >>> numbers([1, 2, 3, 5, 7, 8])
    '1-3, 5, 7-8'
    """
    ordered = sorted(places)
    if not ordered:
        return "none"
    starts = [ordered[0], *(after for before, after in pairwise(ordered) if after != before + 1)]
    ends = [*(before for before, after in pairwise(ordered) if after != before + 1), ordered[-1]]
    return ", ".join(f"{start}-{end}" if end > start else f"{start}" for start, end in zip(starts, ends, strict=True))


def plate_head(line: PlateLine, *, days: bool) -> str:
    """A plate's number, time and outcome.

    Args:
        line: the plate
        days: whether more than one day is shown
    """
    when = " ".join(part for part in (line.day if days else "", line.clock) if part)
    return f"{line.number}{f' {when}' if when else ''} {'good' if line.good else 'spoiled'}"


def changed_line(line: PlateLine) -> str:
    """The diagnosis given at the time and the one after the whole day."""
    if line.good:
        return ""
    if line.confirmed:
        return f"confirmed: {lower_first(line.confirmed)}"
    if line.now is None:
        return "nothing known here explains it"
    now = f"{lower_first(line.now.title)}: {how_sure(line.now)}"
    if line.then is None:
        return now
    if line.changed:
        return f"{now}. Changed: at the time {lower_first(line.then.title)}, {percent(line.then.probability)}"
    return f"{now} (at the time {percent(line.then.probability)})"


def _clock(lines: Sequence[PlateLine], number: int) -> str:
    if not 1 <= number <= len(lines):
        return ""
    line = lines[number - 1]
    several = lines[0].day != lines[-1].day
    when = " ".join(part for part in (line.day if several else "", line.clock) if part)
    return f" ({when})" if when else ""
