"""The sum `wet-window`: how many minutes a plate stays wet from the bath to the developer."""

from diagnose.bench.evaporation import STRONGEST_WIND, evaporation
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked
from diagnose.bench.wet_bulb import HUMIDITY, TEMPERATURE

ORDINARY_MINUTES = 10.0  # at 20 °C, 50 %, still air, 13 x 18 cm: judged from humphrey1857 p. 133 and a workshop sheet
ORDINARY_AREA = 234.0  # cm²
LEAST_MINUTES, MOST_MINUTES = 1.0, 30.0  # nobody is known to have vouched for more, and less is not a wait
AREA_POWER = 0.125  # judged: the layer of damp air over a face in still air grows as the fourth root of its side
LITTLE_LEFT = 75.0  # %; judged

# Judged; 3 m/s is what sailors call a light breeze.
AIR_SPEEDS = {"holder": 0.0, "still": 0.0, "draught": 0.5, "wind": 3.0}  # m/s
FILMS = {"thin": 0.7, "usual": 1.0, "thick": 1.4}  # judged


def minutes(
    temperature: float,
    humidity: float,
    air_speed: float = 0.0,
    plate_area: float = ORDINARY_AREA,
    film: float = 1.0,
    usual: float = ORDINARY_MINUTES,
) -> float:
    """How long a plate stays wet enough, from leaving the bath to the developer.

    Args:
        temperature: of the air [°C], -5 to 50
        humidity: relative [%], 1 to 100
        air_speed: along the wet face [m/s], 0 to 15; 0 in the closed holder
        plate_area: of one face [cm²]
        film: thickness against the usual film [times]
        usual: minutes on an ordinary day: 20 °C, 50 %, still air, 13 x 18 cm [min]

    Returns:
        the time [min], never below 1 or above 30

    Raises:
        BenchError: outside these ranges

    Holds: as a ratio to the ordinary day; good to a factor of about two. At sea level.
    Source: evaporation_rule; judged from humphrey1857 p. 133, workshop_sheet.

    >>> round(minutes(20, 50), 2)
    10.0
    >>> round(minutes(30, 20), 2)
    4.36
    """
    for what, value in (("plate", plate_area), ("film", film), ("usual minutes", usual)):
        if not value > 0:
            raise BenchError(f"{what} of {value:g}: more than 0 is wanted")
    leaving = evaporation(temperature, humidity, air_speed)
    kept = usual * film * (plate_area / ORDINARY_AREA) ** AREA_POWER * _ORDINARY_EVAPORATION
    return min(MOST_MINUTES, max(LEAST_MINUTES, kept / leaving)) if leaving else MOST_MINUTES


def share_used(
    wait: float,
    temperature: float,
    humidity: float,
    air_speed: float = 0.0,
    plate_area: float = ORDINARY_AREA,
    film: float = 1.0,
    usual: float = ORDINARY_MINUTES,
) -> float:
    """How much of the plate's wet time a wait takes up.

    Args:
        wait: from leaving the bath to the developer [min]
        temperature: of the air [°C], -5 to 50
        humidity: relative [%], 1 to 100
        air_speed: along the wet face [m/s], 0 to 15; 0 in the closed holder
        plate_area: of one face [cm²]
        film: thickness against the usual film [times]
        usual: minutes on an ordinary day [min]

    Returns:
        the share [%]; over 100 the plate was drying

    Raises:
        BenchError: outside these ranges, or a wait below 0

    Source: as `minutes`.

    >>> round(share_used(5, 20, 50))   # five minutes on an ordinary day
    50
    """
    if not wait >= 0:
        raise BenchError(f"wait of {wait:g} min: 0 or more is wanted")
    return 100 * wait / minutes(temperature, humidity, air_speed, plate_area, film, usual)


_ORDINARY_EVAPORATION = evaporation(20.0, 50.0)


def _half_minutes(value: float) -> str:
    """Minutes in words, rounded down to a half below ten."""
    return f"{value // 0.5 * 0.5 if value < 10 else value // 1:g} min"


def _work(
    temperature: float,
    humidity: float,
    air: str,
    air_speed: float,
    film: str,
    plate: float,
    own_minutes: float,
    wait: float,
) -> Worked:
    speed = air_speed or AIR_SPEEDS[air]
    there = minutes(temperature, humidity, speed, plate, FILMS[film], own_minutes)
    leaving = evaporation(temperature, humidity, speed) * plate / 10_000
    amounts = [
        Amount("minutes", "wet from the bath to the developer", there, "min", figures=2),
        Amount("evaporation", "water leaving the plate each minute", leaving, "g", figures=2, aside=True),
    ]
    do = [f"Have the developer on within {_half_minutes(there)} of lifting the plate out of the bath."]
    if wait:
        used = 100 * wait / there
        amounts[1:1] = [
            Amount("share_used", "share of it your wait takes", used, "%", figures=2),
            Amount("minutes_left", "left after your wait", max(0.0, there - wait), "min", figures=2),
        ]
        do.append(_said_of(used))
    do.append("To gain time: keep the plate in its closed holder, wet blotting paper behind it, out of sun and wind.")
    return Worked(amounts=tuple(amounts), do=tuple(do), beware=_doubts(there, temperature, air_speed, air))


def _said_of(used: float) -> str:
    if used > 100:
        return "Your wait is longer than that: expect the film to dry from the top and edges. Shorten the way or damp the air."
    if used > LITTLE_LEFT:
        return "Your wait takes nearly all of it: one more delay and the film starts to dry."
    return "Your wait is well within it: look elsewhere for the fault."


def _doubts(there: float, temperature: float, air_speed: float, air: str) -> tuple[str, ...]:
    doubts = ["Good to a factor of about two: use it to compare days, and put in own_minutes once you know yours."]
    if there in {LEAST_MINUTES, MOST_MINUTES}:
        doubts.append(f"The sum stops at {LEAST_MINUTES:g} and {MOST_MINUTES:g} min; beyond them it says nothing.")
    if there == MOST_MINUTES:
        doubts.append("Drying is not all: silver running down and dust still gather on a plate that waits.")
    if temperature < 0:
        doubts.append("Below 0 °C the film is taken to stay liquid; whether it does has not been checked.")
    if air_speed and air == "holder":
        doubts.append("The measured wind was taken, as over a bare plate: in the closed holder the air is still.")
    elif air_speed or air in {"draught", "wind"}:
        doubts.append("Moving air counts only while it blows on the bare film; in the closed holder it is still.")
    return tuple(doubts)


SUMS: tuple[Sum, ...] = (
    Sum(
        name="wet-window",
        title="How many minutes a plate stays wet from the bath to the developer",
        asks=(
            TEMPERATURE,
            HUMIDITY,
            Asked(
                name="air",
                ask="How does the air move along the wet film?",
                choices={
                    "holder": "the plate waits in the closed holder: 0 m/s",
                    "still": "no movement to be felt: 0 m/s",
                    "draught": "felt on a wet finger: about 0.5 m/s",
                    "wind": "felt on the face: about 3 m/s",
                },
                usual="holder",
                usual_because="nearly all of the wait is spent in it",
            ),
            Asked(
                name="air_speed",
                ask="How fast does the air move over the bare plate, if you measured it?",
                unit="m/s",
                range=(0.0, STRONGEST_WIND),
                usual=0.0,
                usual_because="the plate waits in its closed holder, or nobody measured",
                if_known=True,
            ),
            Asked(
                name="film",
                ask="How thick is the film you flow?",
                choices={"thin": "thin collodion, well drained", "usual": "as usual", "thick": "thick, slowly drained"},
                usual="usual",
                usual_because="most films are",
            ),
            Asked(
                name="plate",
                ask="How large is the plate?",
                unit="cm²",
                range=(10.0, 10_000.0),
                usual=ORDINARY_AREA,
                usual_because="13 x 18 cm is the size the ordinary minutes are told for",
            ),
            Asked(
                name="own_minutes",
                ask="How long does a 13 x 18 cm plate last you at 20 °C, 50 % and still air?",
                unit="min",
                range=(2.0, MOST_MINUTES),
                usual=ORDINARY_MINUTES,
                usual_because="books and workshop sheets speak of ten minutes",
            ),
            Asked(
                name="wait",
                ask="How long was the wait from the bath to the developer?",
                unit="min",
                range=(0.0, 120.0),
                usual=0.0,
                usual_because="the minutes alone are given",
                if_known=True,
            ),
        ),
        work=_work,
        formula="own minutes x film x (plate / 234 cm²)^(1/8) x evaporation on the ordinary day / evaporation now, "
        "with evaporation = (25 + 19 m/s) x (humidity ratio at the wet bulb - that of the air)",
        holds="-5 to 50 °C, 1 to 100 %, 0 to 15 m/s, near sea level, plate already cooled to the wet bulb; held to 1 to 30 min",
        accuracy="a factor of about two, judged; as a ratio between two days perhaps 30 %",
        sources=(
            "evaporation_rule",
            "ashrae_fundamentals ch. 1",
            "humphrey1857 p. 133",
            "workshop_sheet",
            "vogel_handbuch p. 145",
            "bjp1872 Correspondence, G. Spencer",
            "judged",
        ),
    ),
)
