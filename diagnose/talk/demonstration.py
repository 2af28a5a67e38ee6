"""The demonstration plate. The scenario, the place and the people are invented."""

STORY = (
    "An invented afternoon at an invented village fair: the tent is hot, the sixth sitter of the day is waiting, and the plate "
    "has silvery, shell-like marks creeping in from the edge that stood lowest in the holder. The holder has not been wiped since "
    "the morning."
)
PLATE: dict[str, object] = {
    "story": STORY,
    "symptoms": {"oyster-shell-marks": {"place": "lower-part", "colour": "silvery"}, "fog": False},
    "conditions": {
        "room_temperature": "29 °C",
        "wait_before_developer": "5 min",
        "holder_wiped": "no",
        "bath_plates": "25 plates",
        "fixer": "hypo",
    },
}
