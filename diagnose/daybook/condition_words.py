"""Conditions in a few plain words: what the book knows of the next plate, and what was told of one.

A condition that is not named here is called by its own name with blanks, which most of them can bear.
"""

from collections.abc import Callable, Iterable, Mapping

from diagnose.daybook.saying import counted
from diagnose.daybook.standing import FromBook
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.units import UnitError, read_amount

LONGEST_VALUE = 60  # letters of what was told
MINUTES_UP_TO, HOURS_UP_TO = 1.0, 48.0  # h; from here on the larger unit is said

# {} is the answer in words.
_SENTENCES = {
    "support": "plates of {}",
    "substratum": "subbing: {}",
    "room_temperature": "room {}",
    "room_humidity": "air {} damp",
    "collodion_spirit": "alcohol of the collodion: {}",
    "collodion_salt_kind": "salts of the collodion: {}",
    "collodion_temperature": "collodion {} warm",
    "collodion_solvents": "ether and alcohol of the collodion: {}",
    "collodion_salts": "salt in the collodion: {}",
    "collodion_volume": "{} of collodion",
    "collodion_ether": "ether in the collodion: {}",
    "bath_strength": "bath {} by the hydrometer",
    "bath_temperature": "bath {} warm",
    "bath_acid": "bath made acid with {}",
    "bath_volume": "{} of silver bath",
    "bath_full": "the tank wants {}",
    "bath_gravity": "the hydrometer reads {} in the bath",
    "bath_wanted": "bath wanted at {}",
    "bath_ph": "pH paper in the bath: {}",
    "bath_age": "silver bath: {}",
    "bath_plates": "{} through the bath",
    "light": "light: {}",
    "window_glass": "glass of the window: {}",
    "developer_temperature": "developer {} warm",
    "developer_strength": "iron sulphate in the developer: {}",
    "developer_alcohol": "alcohol in the developer: {}",
    "developer_acid": "acetic acid in the developer: {}",
    "developer_acid_wanted": "acetic acid wanted in the developer: {}",
    "fixer": "fixer: {}",
    "fixer_temperature": "fixer {} warm",
    "fixer_plates": "{} in each litre of fixer",
    "fixer_volume": "fixer to make: {}",
    "hypo_form": "hypo: {}",
    "wash_water": "water for washing: {}",
    "mixing_water": "water for mixing: {}",
    "varnish_body": "varnish flows: {}",
    "plate_size": "plates {}",
    "nitric_percent": "nitric acid of {}",
    "acetic_percent": "acetic acid of {}",
}
_YES_OR_NO = {
    "plate_edged": ("edges albumenised, subbed or roughened", "edges left bare"),
    "edges_sealed": ("cut edges smooth and sealed", "cut edges not sealed"),
    "safe_light": ("safe light dim, and orange or red", "safe light may not be safe"),
    "fumes_present": ("fumes in the darkroom", "no fumes in the darkroom"),
    "collodion_thick": ("collodion grown thick", "collodion not thick"),
    "collodion_wet": ("water may be in the collodion", "no water in the collodion"),
    "collodion_matched": ("this collodion has worked in this bath", "this collodion never yet worked in this bath"),
    "drainings_returned": ("drainings go back into the bottle", "drainings kept apart"),
    "cotton_proved": ("collodion of this lot proved", "collodion of this lot not proved yet"),
    "bath_new": ("bath new", "bath no longer new"),
    "bath_iodised": ("bath iodised when new", "bath not iodised when new"),
    "bath_smells_of_spirit": ("bath smells of alcohol or ether", "bath does not smell of alcohol or ether"),
    "bath_covered": ("bath covered, and filtered this week", "bath not covered, or not filtered this week"),
    "metal_in_bath": ("metal may have touched the bath", "no metal touched the bath"),
    "fixer_in_bath": ("fixer or developer may be in the bath", "no fixer or developer in the bath"),
    "dipper_clean": ("dipper clean, bath deep enough", "dipper not clean, or bath not deep enough"),
    "flash_enough": ("flash has been enough before", "flash not yet known to be enough"),
    "developer_acid_short": ("developer may be short of acid", "developer not short of acid"),
    "developer_reused": ("developer used again", "developer not used again"),
    "developer_mixed_right": ("developer surely mixed right", "developer perhaps not mixed right"),
    "acid_in_developer_raised": ("more acid than usual in the developer", "no more acid than usual in the developer"),
    "fixer_salt_sure": ("salt of the fixer sure", "salt of the fixer not sure"),
    "varnish_spirit_strong": ("varnish with near-pure alcohol", "varnish without near-pure alcohol"),
    "varnish_softened": ("varnish softened with oil or wax", "varnish not softened"),
}
_CHANGED = {
    "changed_collodion": "collodion",
    "changed_bath": "bath",
    "changed_developer": "developer",
    "changed_fixer": "fixer",
    "changed_plates": "plates",
    "changed_camera": "holder and camera",
    "changed_place": "darkroom",
    "changed_weather": "weather",
    "changed_water": "water",
    "changed_light": "light",
    "changed_varnish": "varnish",
}
_AGES = {"collodion_age": "collodion", "developer_age": "developer"}


def said(condition: str, value: str, knowledge: Knowledge) -> str:
    """A condition and its answer in a few words.

    Args:
        condition: its name
        value: as told
        knowledge: for the answers' words

    >>> said("bath_new", "no", Knowledge.__new__(Knowledge))
    'bath no longer new'
    """
    answer = value.strip().casefold()
    if condition in _YES_OR_NO and answer in {"yes", "no"}:
        return _YES_OR_NO[condition][answer == "no"]
    if condition in _CHANGED and answer in {"yes", "no"}:
        same = "changed" if answer == "yes" else "the same"
        return f"{_CHANGED[condition]} {same} since the last good plate"
    if condition in _AGES and (days := _amount(value, "d")) is not None:
        age = f"{counted(days, 'day')} old" if round(days) else "of today"
        return f"{_AGES[condition]} {age}"
    if condition == "collodion_rested" and (hours := _amount(value, "h")) is not None:
        return f"collodion has stood {_span(hours)}"
    words = _answer(condition, value, knowledge)
    if condition.endswith("_plates") and (plates := _amount(value, "plates")) is not None:
        words = counted(plates, "plate")
    sentence = _SENTENCES.get(condition)
    if sentence is None:
        entry = knowledge.conditions.get(condition)
        return f"{condition.replace('_', ' ')}{' ' if entry and entry.kind == 'quantity' else ': '}{words}"
    return sentence.replace("{}", words)


def with_reason(item: FromBook, knowledge: Knowledge) -> str:
    """What the book knows, with where it comes from, and nothing said twice.

    Args:
        item: from `from_book`
        knowledge: for the answers' words
    """
    why = printable(item.words)
    for doubled in (f"{item.value} ", "it was "):
        why = why.removeprefix(doubled)
    if item.condition in _CHANGED and item.value == "no":
        return said(item.condition, item.value, knowledge)
    if item.condition in _CHANGED:
        return f"{_CHANGED[item.condition]} changed: {why}"
    return f"{said(item.condition, item.value, knowledge)} ({why})"


def gathered(items: Iterable[FromBook], words: Callable[[FromBook], str]) -> list[str]:
    """Everything the book knows, what changed first, and what did not change together at the end.

    Args:
        items: from `from_book`
        words: one of them in words
    """
    items = list(items)
    same = [item for item in items if item.condition in _CHANGED and item.value == "no"]
    others = sorted((item for item in items if item not in same), key=lambda item: item.condition not in _CHANGED)
    said_of = [words(item) for item in others]
    if not same:
        return said_of
    return [*said_of, f"as for the last good plate: {', '.join(_CHANGED[item.condition] for item in same)}"]


def told_briefly(conditions: Mapping[str, str], knowledge: Knowledge) -> list[str]:
    """What was told of a plate, each in a few words.

    Args:
        conditions: as `Plate` has them
        knowledge: for the answers' words
    """
    return [said(name, value, knowledge) for name, value in conditions.items()]


def _answer(condition: str, value: str, knowledge: Knowledge) -> str:
    entry = knowledge.conditions.get(condition)
    words = entry.answers.get(value.strip().casefold(), value) if entry else value
    clean = printable({"?": "not known"}.get(words.strip(), words)).strip()
    return clean if len(clean) <= LONGEST_VALUE else f"{clean[: LONGEST_VALUE - 3]}..."


def _amount(value: str, unit: str) -> float | None:
    try:
        return read_amount(value, unit)
    except UnitError:
        return None


def _span(hours: float) -> str:
    if hours < MINUTES_UP_TO:
        return counted(hours * 60, "minute")
    return counted(hours, "hour") if hours < HOURS_UP_TO else counted(hours / 24, "day")
