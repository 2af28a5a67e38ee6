"""The sum `wet-bulb`: how cool a wet plate gets, and where dew settles."""

from diagnose.bench.air import COLDEST, DAMPEST, DRIEST, HIGHEST, LOWEST, WARMEST, dew_point, pressure_at, wet_bulb
from diagnose.bench.sum import Amount, Asked, Sum, Worked

NEAR_FREEZING = 1.0  # °C; so close to it the sleeve may be ice or water
DOUBTFUL_HUMIDITY = 10.0  # %; cheap hygrometers say little below it


def _work(temperature: float, humidity: float, altitude: float) -> Worked:
    wet, dew = wet_bulb(temperature, humidity, pressure_at(altitude)), dew_point(temperature, humidity)
    beware = [
        "A thermometer in a wet sleeve shows this only while it is fanned; in still air it stays a little warmer."
    ]
    if abs(wet) < NEAR_FREEZING:
        beware.append("So near freezing the sleeve may be ice or water, and the two differ by up to a degree.")
    if humidity < DOUBTFUL_HUMIDITY:
        beware.append("Few hygrometers can be trusted in air so dry.")
    if dew < 0:
        beware.append("Below 0 °C it is frost that settles, not dew.")
    return Worked(
        amounts=(
            Amount("wet_bulb", "a wet plate cools towards", wet, "°C"),
            Amount("dew_point", "dew settles on what is colder than", dew, "°C"),
            Amount("cooling", "so a wet plate is cooler than the air by", temperature - wet, "degrees C"),
        ),
        do=(
            "Let glass, holder and lens come above the dew point before you coat, or they mist over.",
            "The more a wet plate cools, the faster it dries: ask wet-window for the minutes.",
        ),
        beware=tuple(beware),
    )


TEMPERATURE = Asked(name="temperature", ask="How warm is the air?", unit="°C", range=(COLDEST, WARMEST))
HUMIDITY = Asked(name="humidity", ask="How damp is the air (relative humidity)?", unit="%", range=(DRIEST, DAMPEST))

SUMS: tuple[Sum, ...] = (
    Sum(
        name="wet-bulb",
        title="How cool a wet plate gets in this air, and where dew settles",
        asks=(
            TEMPERATURE,
            HUMIDITY,
            Asked(
                name="altitude",
                ask="How high above the sea?",
                unit="m",
                range=(LOWEST, HIGHEST),
                usual=0.0,
                usual_because="1000 m move the wet bulb by less than one degree",
            ),
        ),
        work=_work,
        formula="the warmth drying water takes equals the warmth the air gives up in cooling to the wet bulb",
        holds="-5 to 50 °C, 1 to 100 %, -400 to 5000 m; below 0 °C a bulb of ice and frost instead of dew; "
        "in dry air near freezing the libraries part by 1 °C",
        accuracy="0.04 °C against two reference libraries; a hygrometer 5 % out moves the wet bulb by 0.7 °C, by 1.5 °C and "
        "more in hot dry air",
        sources=("ashrae_fundamentals ch. 1", "psychrolib 2.5.0", "coolprop HAPropsSI"),
    ),
)
