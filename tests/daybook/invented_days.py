"""Invented days for the tests of the review: no real plate, place or person is among them."""

from diagnose.daybook.book import Book, Moment, PlateEntry, ValueEntry, WorkEntry, numbered

DAY = "2026-06-01"
MORNING = 1_780_300_800  # of that day [s]
SHELLS = {"oyster-shell-marks": {"place": "lower-part"}}
FOG = {"fog": True}


def moment(minute, day=0):
    """So many minutes after the first plate; days count from the first."""
    hours, minutes = divmod(minute, 60)
    return Moment(MORNING + day * 86_400 + minute * 60, f"2026-06-{1 + day:02}", f"{9 + hours:02}:{minutes:02}")


def plate(minute, shows=None, day=0, **more):
    told = {"symptoms": shows} if shows else {}
    if conditions := more.pop("conditions", None):
        told["conditions"] = conditions
    if checks := more.pop("checks", None):
        told["checks"] = checks
    return PlateEntry(
        moment=moment(minute, day), outcome=more.pop("outcome", "spoiled" if shows else "good"), told=told, **more
    )


def work(minute, what, thing, day=0, **more):
    return WorkEntry(moment=moment(minute, day), work=what, thing=thing, **more)


def value(minute, condition, said, day=0):
    return ValueEntry(moment=moment(minute, day), condition=condition, value=said)


def book(*entries):
    return Book(tuple(numbered(entry, number) for number, entry in enumerate(entries, start=1)))


def holder_day(*, wiped):
    """Six good plates, five with shells from one holder, then it is wiped or not, and four more."""
    rows = [plate(10 * number, made_with={"holder": "AB"[number % 2]}) for number in range(6)]
    for number in range(6, 14):
        holder = "AB"[number % 2]
        rows.append(plate(10 * number, SHELLS if holder == "B" else None, made_with={"holder": holder}))
    if wiped:
        rows.append(work(141, "cleaned", "holder", name="B"))
    after = None if wiped else SHELLS
    rows += [plate(150 + 10 * number, after, made_with={"holder": "B"}) for number in range(4)]
    return book(*rows)
