"""The demonstration day. The place, the people and every plate are invented."""

from typing import Any

from diagnose.daybook.book import (
    Book,
    BookEntry,
    Given,
    Moment,
    NoteEntry,
    Outcome,
    PlateEntry,
    Thing,
    ValueEntry,
    Work,
    WorkEntry,
    numbered,
)

DAY = "2026-05-16"
STORY = (
    "An invented Saturday: two people work an open-air pitch at an invented village green with two plate holders, A and B. "
    "The morning goes well. Towards noon it grows warm, and shell-like marks come and come again; late in the day there is "
    "something else."
)
MIDNIGHT = 1_778_889_600  # of that day in universal time [s]; the invented green keeps universal time
A_DAY = 86_400  # s
SMALL, LARGE = 130.0, 234.0  # cm²: plates of 10 x 13 and 13 x 18 cm
WIPED, NOT_WIPED = {"holder_wiped": "yes"}, {"holder_wiped": "no"}
SHELLS: dict[str, Any] = {"oyster-shell-marks": {"place": "lower-part", "colour": "silvery"}}


def demonstration_book() -> Book:
    """The invented day, and a few invented days before it for the trend."""
    entries = (*_days_before(), *_the_day())
    return Book(tuple(numbered(entry, number) for number, entry in enumerate(entries, start=1)))


def _at(clock: str, day: int = 0) -> Moment:
    """A moment of the demonstration; days count from the day itself, backwards below nothing."""
    hours, _, minutes = clock.partition(":")
    date = {-21: "2026-04-25", -14: "2026-05-02", -7: "2026-05-09", 0: DAY}[day]
    return Moment(MIDNIGHT + day * A_DAY + int(hours) * 3600 + int(minutes) * 60, date, clock)


def _plate(clock: str, holder: str, who: str = "Robin", day: int = 0, size: float = LARGE, **more: Any) -> PlateEntry:
    told: dict[str, Any] = {part: more.pop(part) for part in ("symptoms", "conditions") if part in more}
    outcome: Outcome = "spoiled" if "symptoms" in told else "good"
    with_holder = {"holder": holder}
    return PlateEntry(
        moment=_at(clock, day), outcome=outcome, told=told, made_with=with_holder, size=size, who=who, **more
    )


def _work(clock: str, work: Work, thing: Thing, day: int = 0, **more: Any) -> WorkEntry:
    return WorkEntry(moment=_at(clock, day), work=work, thing=thing, **more)


def _value(clock: str, condition: str, value: str, day: int = 0) -> ValueEntry:
    return ValueEntry(moment=_at(clock, day), condition=condition, value=value)


def _given(**causes: float) -> Given:
    return Given(
        "demonstration", {name.replace("__", "/").replace("_", "-"): chance for name, chance in causes.items()}
    )


def _days_before() -> tuple[BookEntry, ...]:
    """Three invented days before it, so that bath and fixer have their plates and the trend its past."""
    found: list[BookEntry] = [
        _work("08:30", "new", "bath", -21, amount="2 L"),
        _work("08:40", "new", "collodion", -21),
        _work("08:50", "new", "fixer", -21, amount="1 L"),
        _work("09:05", "new", "developer", -21, amount="500 mL"),
        _value("09:10", "fixer", "hypo", -21),
        _value("09:10", "fixer_volume", "1 L", -21),
        _value("09:00", "bath_strength", "90 g/L", -7),
    ]
    for day, spoiled in ((-21, {3, 9}), (-14, {0}), (-7, {2, 5, 6})):
        for number in range(13):
            clock = f"{10 + number // 2}:{30 * (number % 2):02}"
            more: dict[str, Any] = {}
            if number in spoiled:
                more["symptoms"] = {"developer-streaks": True}
                more["given"] = _given(development__developer_halted=0.7)
            found.append(_plate(clock, "AB"[number % 2], day=day, **more))
    return tuple(found)


def _the_day() -> tuple[BookEntry, ...]:
    return (*_morning(), *_noon(), *_afternoon())


def _morning() -> tuple[BookEntry, ...]:
    return (
        _work("08:45", "filtered", "bath", note="before packing"),
        _work("09:10", "new", "developer", amount="500 mL"),
        _value("09:15", "room_temperature", "19 °C"),
        _plate("09:40", "A", conditions=WIPED),
        _plate("09:55", "B", conditions=WIPED),
        _plate(
            "10:15",
            "A",
            "Wren",
            symptoms={"developer-streaks": True, "uneven-tone": True},
            conditions={"developer_pour": "halted", **WIPED},
            given=_given(development__developer_halted=0.61, development__developer_too_strong=0.12),
            note="stopped half way over the plate",
        ),
        _plate("10:30", "B", conditions=WIPED),
        _plate("10:50", "A", size=SMALL, conditions=WIPED),
        _plate("11:15", "B", "Wren", conditions=WIPED),
        _value("11:30", "room_temperature", "29 °C"),
    )


def _noon() -> tuple[BookEntry, ...]:
    return (
        _plate(
            "11:40",
            "B",
            symptoms={**SHELLS, "specks": True},
            conditions=NOT_WIPED,
            given=_given(silver_bath__dirt_in_bath=0.38, holder_and_camera__dirty_holder=0.33),
        ),
        _plate("12:05", "A", conditions=WIPED),
        _plate(
            "12:25",
            "B",
            "Wren",
            symptoms=SHELLS,
            conditions={"wait_before_developer": "4 min", **NOT_WIPED},
            given=_given(holder_and_camera__dirty_holder=0.64, holder_and_camera__plate_dried_waiting=0.31),
        ),
        _work("12:35", "mended", "bath", remedy="skim-the-bath", note="no difference on the next plate"),
        _plate(
            "12:45",
            "B",
            symptoms=SHELLS,
            conditions={"wait_before_developer": "6 min"},
            given=_given(holder_and_camera__plate_dried_waiting=0.52, holder_and_camera__dirty_holder=0.41),
        ),
        _plate(
            "13:20",
            "A",
            "Wren",
            symptoms={"unsharp": True},
            given=_given(holder_and_camera__movement=0.55),
            note="a gust took the tripod",
        ),
        _plate(
            "13:40",
            "B",
            symptoms={"oyster-shell-marks": {"place": "lower-part"}},
            conditions=NOT_WIPED,
            given=_given(holder_and_camera__dirty_holder=0.72),
        ),
        _work("14:00", "cleaned", "holder", name="B", remedy="wipe-holder-and-back"),
    )


def _afternoon() -> tuple[BookEntry, ...]:
    return (
        _plate("14:10", "B", "Wren", conditions=WIPED),
        _plate("14:30", "A"),
        _plate("14:50", "B"),
        _plate(
            "15:10",
            "A",
            symptoms={"comets": True, "specks": True},
            given=_given(collodion__unsettled_collodion=0.34, silver_bath__dirt_in_bath=0.21),
            note="end of the bottle",
        ),
        _plate(
            "15:30",
            "B",
            "Wren",
            symptoms={"comets": True, "pinholes": True},
            given=_given(silver_bath__dirt_in_bath=0.36, collodion__unsettled_collodion=0.30),
        ),
        NoteEntry(
            moment=_at("16:00"), who="Robin", note="The shells stayed away after the holder was wiped. Comets late."
        ),
    )
