"""What changed since the last good plate, as far as a book can tell."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from diagnose.daybook.book import USUAL, WORKS, Moment
from diagnose.daybook.counting import DONE
from diagnose.daybook.saying import when
from diagnose.daybook.shelf import LastGood, Shelf
from diagnose.daybook.works import SWAPPED
from diagnose.facts import UNKNOWN_WORDS, read_condition

WARMER, DAMPER = 4.0, 15.0  # °C, %: from here on the weather has turned: judged
AS_WARM, AS_DAMP = 2.0, 8.0  # °C, %: up to here it has not: judged
SAME_AREA = 0.05  # share by which two sizes may differ and be the same: judged


class Watched(NamedTuple):
    """What makes one of the "changed" conditions true.

    Args:
        things: another one of these
        works: or one of these works or remedies done to it
        answers: or another answer to one of these
    """

    things: tuple[str, ...]
    works: tuple[str, ...]
    answers: tuple[str, ...] = ()


# By what each question asks: "a different collodion or bottle" is none that was filtered; a treated bath is a changed one.
WATCHED = {
    "changed_collodion": Watched(("collodion",), ("new", SWAPPED, "topped-up")),
    "changed_bath": Watched(("bath",), (*WORKS, SWAPPED)),
    "changed_developer": Watched(("developer",), ("new", SWAPPED, "topped-up", "acid-added")),
    "changed_fixer": Watched(("fixer",), ("new", SWAPPED, "topped-up")),
    "changed_plates": Watched(("plates",), ("new", SWAPPED, "cleaned"), ("support", "plate_size")),
    "changed_camera": Watched(("holder", "camera"), ("new", SWAPPED)),
    "changed_place": Watched(("room",), ("new", "cover-safe-light")),
    "changed_water": Watched(("water",), ("new", "use-distilled-water"), ("wash_water",)),
    "changed_light": Watched(("light",), ("new", "find-bluer-light", "move-flash-closer"), ("light", "window_glass")),
    "changed_varnish": Watched(("varnish",), ("new", SWAPPED, "topped-up")),
}
CALLED = {"bath": "silver bath", "plates": "batch of plates"}


def changes(
    shelf: Shelf, moment: Moment, made_with: Mapping[str, str], told: Mapping[str, str]
) -> Iterator[tuple[str, str, str]]:
    """The "changed" conditions a book can answer: name, value and why. Without a good plate it says nothing.

    Args:
        shelf: what stands behind the plate
        moment: when the plate is made
        made_with: kind of thing -> name of the one it is made with
        told: conditions told of the plate itself, as text
    """
    good = shelf.good
    if good is None:
        return
    for name, watched in WATCHED.items():
        why = _why(watched, good, shelf, moment, made_with, told)
        if why:
            yield name, "yes", why
        elif why is not None and good.mark.moment.day == moment.day and not shelf.logged.isdisjoint(watched.things):
            yield name, "no", f"nothing of it in the book since the good plate {when(good.mark.moment, moment)}"
    yield from _weather(good, shelf, moment, made_with, told)


def _why(
    watched: Watched,
    good: LastGood,
    shelf: Shelf,
    moment: Moment,
    made_with: Mapping[str, str],
    told: Mapping[str, str],
) -> str | None:
    """What is different, in words; "" where nothing is; None where it cannot be told."""
    sure = True
    for thing in watched.things:
        before, now = good.plate.made_with.get(thing), made_with.get(thing)
        if (before or USUAL) != (now or USUAL):
            if before is not None and now is not None:
                was = f", not {before!r}" if before else ""
                return (
                    f"another {CALLED.get(thing, thing)} than for the last good plate: {now or 'the usual one'!r}{was}"
                )
            sure = False  # one of the two plates was noted without it
        done = shelf.tally(thing, now or USUAL).last(*watched.works)
        if done is not None and done[1].order > good.mark.order:
            did, day = DONE.get(done[0], DONE["mended"]), when(done[1].moment, moment)
            return f"the {CALLED.get(thing, thing)} {did} {day}, after the last good plate"
    for name in watched.answers:
        if told.get(name, "nothing").strip().casefold() in UNKNOWN_WORDS:
            sure = False
            continue
        now_told = told.get(name) or _value(name, shelf, moment, made_with)
        then = good.told.get(name)
        if now_told and then and _differ(name, then.value, now_told, shelf):
            return f"it was {then.value} for the last good plate, and is {now_told} now"
    return "" if sure else None


def _value(name: str, shelf: Shelf, moment: Moment, made_with: Mapping[str, str]) -> str:
    found = shelf.standing(name, moment, made_with)
    return found.value if found else ""


def _differ(name: str, one: str, other: str, shelf: Shelf) -> bool:
    entry = shelf.knowledge.conditions[name]
    if entry.kind != "quantity":
        return one.strip().casefold() != other.strip().casefold()
    first, second = read_condition(name, one, entry), read_condition(name, other, entry)
    if isinstance(first, str) or isinstance(second, str):
        return False
    return abs(first - second) > SAME_AREA * max(first, second)


def _weather(
    good: LastGood, shelf: Shelf, moment: Moment, made_with: Mapping[str, str], told: Mapping[str, str]
) -> Iterator[tuple[str, str, str]]:
    """Only what was measured twice can be compared."""
    steady = False
    for name, much, little, more, less in (
        ("room_temperature", WARMER, AS_WARM, "warmer", "colder"),
        ("room_humidity", DAMPER, AS_DAMP, "damper", "drier"),
    ):
        entry, then, now = (
            shelf.knowledge.conditions.get(name),
            good.told.get(name),
            shelf.standing(name, moment, made_with),
        )
        value = told.get(name) or (now.value if now and then and now.mark.order > then.mark.order else "")
        if entry is None or then is None or not value:
            continue
        before, after = read_condition(name, then.value, entry), read_condition(name, value, entry)
        if isinstance(before, str) or isinstance(after, str):
            continue
        if abs(after - before) >= much:
            turned = more if after > before else less
            yield "changed_weather", "yes", f"{turned}: {then.value} for the last good plate, {value} now"
            return
        if abs(after - before) > little:
            return
        steady = steady or name == "room_temperature"
    if steady and good.mark.moment.day == moment.day:
        yield "changed_weather", "no", "measured at the last good plate and now, and much the same"
