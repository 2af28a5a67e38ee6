"""The demonstration day. The place, the people and every plate are invented."""

from collections.abc import Mapping
from typing import Any

from diagnose.daybook.book import Book, BookEntry, Given, Moment, NoteEntry, PlateEntry, ValueEntry, Work, WorkEntry
from diagnose.daybook.book import Thing, numbered

DAY = "2026-05-16"
STORY = (
    "An invented Saturday: two people work an open-air pitch at an invented village green with two plate holders, A and B. "
    "The morning goes well. Towards noon it grows warm, and marks come and come again."
)
MIDNIGHT = 1_778_889_600  # of that day in universal time [s]; the invented green keeps universal time
A_DAY = 86_400  # s
SMALL, LARGE = 130.0, 234.0  # cm²: plates of 10 x 13 and 13 x 18 cm
SHELLS: dict[str, Any] = {"oyster-shell-marks": {"place": "lower-part", "colour": "silvery"}}


def demonstration_book() -> Book:
    """The invented day, and a few invented days before it for the trend."""
    entries = (*_days_before(), *_the_day())
    return Book(tuple(numbered(entry, number) for number, entry in enumerate(entries, start=1)))


def _at(clock: str, day: int = 0) -> Moment:
    """A moment of the demonstration; days count from the day itself, backwards below nothing."""
    hours, _, minutes = clock.partition(":")
    date = f"2026-05-{16 + day:02}"
    return Moment(MIDNIGHT + day * A_DAY + int(hours) * 3600 + int(minutes) * 60, date, clock)


def _plate(clock: str, holder: str, who: str, day: int = 0, size: float = LARGE, **more: Any) -> PlateEntry:
    symptoms: Mapping[str, Any] | None = more.pop("shows", None)
    told: dict[str, Any] = {"symptoms": symptoms} if symptoms else {}
    if conditions := more.pop("conditions", None):
        told["conditions"] = conditions
    return PlateEntry(
        moment=_at(clock, day),
        outcome="spoiled" if symptoms else "good",
        told=told,
        made_with={"holder": holder},
        size=size,
        who=who,
        **more,
    )


def _work(clock: str, work: Work, thing: Thing, day: int = 0, **more: Any) -> WorkEntry:
    return WorkEntry(moment=_at(clock, day), work=work, thing=thing, **more)


def _value(clock: str, condition: str, value: str, day: int = 0) -> ValueEntry:
    return ValueEntry(moment=_at(clock, day), condition=condition, value=value)


def _given(**causes: float) -> Given:
    return Given("demonstration", {name.replace("__", "/").replace("_", "-"): chance for name, chance in causes.items()})


def _days_before() -> tuple[BookEntry, ...]:
    """Two quiet invented days, so that the bath has its plates and the trend its past."""
    found: list[BookEntry] = [
        _work("08:30", "new", "bath", -14, amount="2 L"),
        _work("08:40", "new", "collodion", -14),
        _work("08:50", "new", "fixer", -14, amount="1 L"),
        _value("09:00", "fixer", "hypo", -14),
        _value("09:00", "bath_volume", "2 L", -14),
        _value("09:00", "bath_strength", "90 g/L", -14),
        _work("09:05", "new", "developer", -14, amount="500 mL"),
    ]
    for day, spoiled in ((-14, {3, 9}), (-7, {2, 5, 6})):
        for number in range(12):
            clock = f"{10 + number // 2}:{30 * (number % 2):02}"
            shows = {"developer-streaks": True} if number in spoiled else None
            given = _given(development__developer_halted=0.7) if shows else None
            found.append(_plate(clock, "AB"[number % 2], "Robin", day, shows=shows, given=given))
    return tuple(found)


def _the_day() -> tuple[BookEntry, ...]:
    hot = {"room_temperature": "29 °C"}
    return (
        _work("08:45", "filtered", "bath", note="before packing"),
        _work("09:10", "new", "developer", amount="500 mL"),
        _value("09:15", "room_temperature", "19 °C"),
        _value("09:15", "holder_wiped", "yes"),
        _plate("09:40", "A", "Robin"),
        _plate("09:55", "B", "Robin"),
        _plate("10:15", "A", "Wren", shows={"developer-streaks": True, "uneven-tone": True},
               given=_given(development__developer_halted=0.61, development__developer_too_strong=0.12),
               conditions={"developer_pour": "halted"}, note="stopped half way over the plate"),
        _plate("10:30", "B", "Robin"),
        _plate("10:50", "A", "Robin", size=SMALL),
        _plate("11:15", "B", "Wren"),
        _value("11:30", "room_temperature", "29 °C"),
        _value("11:30", "holder_wiped", "no"),
        _plate("11:40", "B", "Robin", shows={**SHELLS, "specks": True},
               given=_given(silver_bath__dirt_in_bath=0.38, holder_and_camera__dirty_holder=0.33), conditions=hot),
        _plate("12:05", "A", "Robin"),
        _plate("12:25", "B", "Wren", shows=SHELLS, conditions={"wait_before_developer": "4 min"},
               given=_given(holder_and_camera__dirty_holder=0.64, holder_and_camera__plate_dried_waiting=0.31)),
        _work("12:35", "mended", "bath", remedy="skim-the-bath", note="no difference on the next plate"),
        _plate("12:45", "B", "Robin", shows=SHELLS,
               given=_given(holder_and_camera__plate_dried_waiting=0.52, holder_and_camera__dirty_holder=0.41),
               conditions={"wait_before_developer": "6 min"}),
        _plate("13:20", "A", "Wren", shows={"unsharp": True}, given=_given(holder_and_camera__movement=0.55),
               note="a gust took the tripod"),
        _plate("13:40", "B", "Robin", shows={"oyster-shell-marks": {"place": "lower-part"}},
               given=_given(holder_and_camera__dirty_holder=0.72)),
        _work("14:00", "cleaned", "holder", name="B", remedy="wipe-holder-and-back"),
        _plate("14:10", "B", "Wren"),
        _plate("14:30", "A", "Robin"),
        _plate("14:50", "B", "Robin"),
        NoteEntry(moment=_at("15:30"), note="Packed up early; the marks stayed away after the holder was wiped.", who="Robin"),
    )
