"""The words for what stands behind the plates, and for what is done to it."""

from diagnose.daybook.book import Thing, Work
from diagnose.facts import plain

THING_WORDS: dict[Thing, tuple[str, ...]] = {
    "bath": ("bath", "silver bath", "silver", "silver tank"),
    "collodion": ("collodion", "collodion bottle"),
    "developer": ("developer", "dev", "iron"),
    "fixer": ("fixer", "fix", "hypo", "cyanide", "fixing bath"),
    "holder": ("holder", "plate holder", "dark slide", "slide", "back"),
    "camera": ("camera", "lens"),
    "room": ("room", "darkroom", "tent", "dark tent"),
    "weather": ("weather",),
    "plates": ("plates", "plate", "glass", "metal", "aluminium", "tin"),
    "varnish": ("varnish",),
    "light": ("light", "lamp", "lamps", "flash"),
    "water": ("water", "wash water"),
}
TITLES: dict[Thing, str] = {
    "bath": "silver bath",
    "collodion": "collodion",
    "developer": "developer",
    "fixer": "fixer",
    "holder": "holder",
    "camera": "camera",
    "room": "darkroom",
    "weather": "weather",
    "plates": "plates",
    "varnish": "varnish",
    "light": "light",
    "water": "water",
}
WORK_OF_COMMAND: dict[str, Work] = {
    "mixed": "new",
    "filtered": "filtered",
    "sunned": "sunned",
    "aired": "aired",
    "topped-up": "topped-up",
    "acid-added": "acid-added",
    "alkali-added": "alkali-added",
    "silver-added": "silver-added",
    "cleaned": "cleaned",
}
DONE: dict[Work, str] = {
    "new": "new {thing}",
    "filtered": "{thing} filtered",
    "sunned": "{thing} sunned",
    "aired": "{thing} aired",
    "topped-up": "{thing} topped up",
    "acid-added": "acid put to the {thing}",
    "alkali-added": "alkali put to the {thing}",
    "silver-added": "silver put to the {thing}",
    "cleaned": "{thing} cleaned",
    "mended": "{remedy}",
}


def thing_named(words: str) -> Thing | None:
    """The thing that is meant by a word for it; None where it is none of them.

    Args:
        words: as typed
    """
    wanted = plain(words)
    return next((thing for thing, known in THING_WORDS.items() if wanted == thing or wanted in known), None)


def title_of(thing: Thing, name: str = "") -> str:
    """A thing as it is spoken of.

    Args:
        thing: which kind
        name: which one, where there are several

    >>> title_of("holder", "B"), title_of("bath")
    ('holder B', 'silver bath')
    """
    return f"{TITLES[thing]} {name}".strip()
