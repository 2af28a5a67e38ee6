"""What the works of a daybook are in the terms of the knowledge: which remedy a work was, and what a remedy does to which thing."""

from collections.abc import Mapping

from diagnose.daybook.book import PlateEntry, Thing, WorkEntry
from diagnose.entries.knowledge import Knowledge

# A work that is one remedy of the knowledge by another name. What is not here speaks for itself ("new"), or says too little.
REMEDY_OF: dict[tuple[str, str], str] = {
    ("filtered", "bath"): "filter-the-bath",
    ("sunned", "bath"): "sun-the-bath",
    ("aired", "bath"): "air-the-bath",
    ("acid-added", "bath"): "acidify-the-bath",
    ("alkali-added", "bath"): "ease-acid-of-bath",
    ("silver-added", "bath"): "strengthen-the-bath",
    ("topped-up", "bath"): "let-bath-settle-and-top-up",
    ("cleaned", "bath"): "let-bath-settle-and-top-up",
    ("filtered", "collodion"): "decant-or-filter-collodion",
    ("acid-added", "developer"): "add-acid-to-developer",
    ("cleaned", "holder"): "wipe-holder-and-back",
    ("cleaned", "plates"): "clean-plate-again",
    ("cleaned", "room"): "damp-down-dust",
    ("aired", "room"): "clear-the-air",
    ("filtered", "varnish"): "strain-the-varnish",
}
# Remedies that set another one in the place of the thing: all that stood in the old one is gone with it.
SWAPS: dict[str, str] = {
    "rest-bath-use-reserve": "bath",
    "replace-the-bath": "bath",
    "use-other-collodion": "collodion",
    "replace-wet-collodion": "collodion",
    "use-matched-collodion": "collodion",
    "use-proved-cotton": "collodion",
    "use-powdery-cotton": "collodion",
    "mix-fresh-developer": "developer",
    "change-the-fixer": "fixer",
    "mix-fixer-from-sure-salt": "fixer",
    "mend-holder": "holder",
    "use-glass-or-metal": "plates",
    "use-supple-varnish": "varnish",
}
# Those that make a new one, rather than take another from the shelf.
RENEWALS = frozenset({"replace-the-bath", "mix-fresh-developer", "change-the-fixer", "mix-fixer-from-sure-salt"})
SWAPPED = "swapped"  # what they are as a deed: the thing of that name is another one now, and nobody knows how old
# What a remedy is as a treatment, where it is one and `REMEDY_OF` does not say so already.
TREATMENTS_OF: dict[str, tuple[str, ...]] = {
    "clear-the-crystals": ("filtered",),
    "dilute-filter-restore-bath": ("filtered", "silver-added"),
    "thin-the-bath": ("topped-up",),
    "let-bath-settle-and-top-up": ("cleaned", "topped-up"),
    "blend-old-with-fresh": ("topped-up",),
    "blend-with-ordinary-spirit": ("topped-up",),
    "balance-the-solvents": ("topped-up",),
    "thin-the-collodion": ("topped-up",),
    "wash-and-varnish-holder": ("cleaned",),
    "right-the-varnish": ("topped-up",),
    "tame-the-varnish": ("topped-up",),
}
# What a remedy is done to; where it is done to no one thing, it stands under none.
TOUCHED: dict[str, Thing] = {
    "collodion": "collodion",
    "silver-bath": "bath",
    "holder": "holder",
    "camera": "camera",
    "exposure": "light",
    "developer": "developer",
    "fixer": "fixer",
    "wash": "water",
    "varnish": "varnish",
    "room": "room",
    "plate": "plates",
}


def remedy_of(work: WorkEntry) -> str:
    """The remedy a work was; "" where it was none that has a name.

    Args:
        work: from the book
    """
    return work.remedy or REMEDY_OF.get((work.work, work.thing), "")


def deeds(work: WorkEntry) -> frozenset[str]:
    """Everything that was done by one work: the treatment, the remedy it was, and what that remedy does besides.

    Args:
        work: from the book
    """
    found = {work.work, *TREATMENTS_OF.get(work.remedy, ())}
    if remedy := remedy_of(work):
        found.add(remedy)
    found |= {treatment for (treatment, thing), name in REMEDY_OF.items() if (thing, name) == (work.thing, work.remedy)}
    if SWAPS.get(work.remedy) == work.thing:
        found.add("new" if work.remedy in RENEWALS else SWAPPED)
    return frozenset(found)


def things_of(remedy: str, knowledge: Knowledge) -> tuple[str, ...]:
    """The things in which a remedy puts something right: what it touches, and where the standing causes it cures stand.

    Args:
        remedy: its name
        knowledge: the craft
    """
    entry = knowledge.remedies.get(remedy)
    if entry is None:
        return ()
    touched = [touched_by(remedy, knowledge)]
    cured = (
        cause.stands_in
        for cause in knowledge.causes.values()
        if cause.stands_in and any(link.do == remedy for link in cause.remedy)
    )
    return tuple(thing for thing in dict.fromkeys((*touched, *cured)) if thing)


def touched_by(remedy: str, knowledge: Knowledge) -> str:
    """The thing a remedy is done to; "" where it is done to none.

    Args:
        remedy: its name
        knowledge: the craft
    """
    entry = knowledge.remedies.get(remedy)
    return SWAPS.get(remedy) or TOUCHED.get(entry.touches) or "" if entry else ""


def newly_tried(plate: PlateEntry, before: PlateEntry | None) -> tuple[str, ...]:
    """The remedies told of a plate as tried, in order, without those told of the plate before it already.

    Args:
        plate: from the book
        before: the plate before it; None where it is the first
    """
    tried, told = _tried(plate), _tried(before) if before else ()
    return tried[len(told) :] if told and tried[: len(told)] == told else tried


def _tried(plate: PlateEntry) -> tuple[str, ...]:
    tried = plate.told.get("tried", ())
    steps = tried if isinstance(tried, list | tuple) else ()
    names = (step.get("remedy") if isinstance(step, Mapping) else getattr(step, "remedy", None) for step in steps)
    return tuple(name for name in names if isinstance(name, str))
