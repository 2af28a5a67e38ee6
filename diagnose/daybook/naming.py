"""The things behind the plates by any word for them."""

from diagnose.daybook.book import THINGS, Thing, Work
from diagnose.daybook.entering_words import THING_WORDS
from diagnose.errors import PlateError, near
from diagnose.facts import plain
from diagnose.plate import shown

WORK_OF_COMMAND: dict[str, Work] = {
    "mixed": "new",
    "took": "taken",
    "filtered": "filtered",
    "sunned": "sunned",
    "aired": "aired",
    "topped-up": "topped-up",
    "acid-added": "acid-added",
    "alkali-added": "alkali-added",
    "silver-added": "silver-added",
    "cleaned": "cleaned",
}

LIQUIDS: tuple[Thing, ...] = ("bath", "collodion", "developer", "fixer", "varnish", "water")
# What a work can be done to; the others can be done to anything.
FITS: dict[Work, tuple[Thing, ...]] = {
    "filtered": LIQUIDS,
    "topped-up": LIQUIDS,
    "sunned": ("bath", "water"),
    "aired": ("bath", "room"),
    "acid-added": ("bath", "developer"),
    "alkali-added": ("bath",),
    "silver-added": ("bath",),
    "cleaned": ("bath", "holder", "camera", "room", "plates", "water"),
}


def thing_for(work: Work, words: str) -> Thing:
    """The thing that is meant, if the work can be done to it.

    Args:
        work: what was done
        words: the thing as typed

    Raises:
        PlateError: there is no such thing, or that is not done to it

    >>> thing_for("sunned", "silver tank")
    'bath'
    """
    thing, fitting = thing_named(words), FITS.get(work, THINGS)
    if thing not in fitting:
        done = work.replace("-", " ")
        raise PlateError(f"{shown(words)} and {done} do not go together; {done} is kept of: {', '.join(fitting)}")
    return thing


def thing_named(words: str) -> Thing:
    """The thing that is meant by a word for it.

    Args:
        words: as typed

    Raises:
        PlateError: it is none of them

    >>> thing_named("Silver tank")
    'bath'
    """
    wanted = plain(words)
    for thing, known in THING_WORDS.items():
        if wanted == thing or wanted in known:
            return thing
    every = [word for several in THING_WORDS.values() for word in several]
    hint = near(words[:100], every) or f"use one of: {', '.join(THINGS)}"
    raise PlateError(f"nothing here is called {shown(words)!r}; {hint}")
