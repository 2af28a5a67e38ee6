"""Keeping what was done to the things behind the plates, and what holds until it changes."""

from collections.abc import Iterable
from dataclasses import replace

from diagnose.daybook.book import (
    THINGS,
    BookEntry,
    ValueEntry,
    WorkEntry,
)
from diagnose.daybook.exchange_words import amount_wrong
from diagnose.daybook.naming import WORK_OF_COMMAND, thing_for, thing_named
from diagnose.daybook.using import in_use
from diagnose.errors import PlateError, near
from diagnose.facts import understand
from diagnose.plate import Plate, shown
from diagnose.talk.around import Around
from diagnose.talk.clock import moment_of
from diagnose.talk.day_keeping import Options, keep, note_of


def keep_work(around: Around, command: str, thing: str, amount: str, options: Options) -> None:
    """Keep what was done to what stands behind the plates.

    Args:
        around: book and screen
        command: the command's name, such as "mixed"
        thing: as typed
        amount: as typed; "" where none was told
        options: name, clock, day, who, note

    Raises:
        PlateError: there is no such thing, or that is not done to it
    """
    moment = moment_of(options["day"], options["clock"])
    work = WORK_OF_COMMAND[command]
    known = thing_for(work, thing)
    entry = WorkEntry(
        moment=moment,
        work=work,
        thing=known,
        name=options["name"],
        amount=_amount(amount),
        who=options["who"],
        note=note_of(options["note"]),
    )
    with around.opened() as store:
        if not entry.name and entry.work != "new":
            entry = replace(entry, name=in_use(store.read(), moment).get(known, ""))
        keep(store, around, entry)


def keep_remedy(around: Around, remedy: str, options: Options) -> None:
    """Keep that a remedy was carried out.

    Args:
        around: book and screen
        remedy: its name
        options: name, clock, day, who, note

    Raises:
        PlateError: there is no such remedy
    """
    from diagnose.daybook.works import things_of

    known = around.knowledge.remedies
    if remedy not in known:
        raise PlateError(
            f"no remedy called {shown(remedy)!r}; {near(remedy, known) or 'answers name them with --json'}"
        )
    moment = moment_of(options["day"], options["clock"])
    things = things_of(remedy, around.knowledge)
    if not things:
        raise PlateError(f"{remedy} is done to no one thing; keep it with `diagnose day note`")
    thing = thing_named(things[0])
    with around.opened() as store:
        name = options["name"] or in_use(store.read(), moment).get(thing, "")
        entry = WorkEntry(
            moment=moment,
            work="mended",
            thing=thing,
            name=name,
            remedy=remedy,
            who=options["who"],
            note=note_of(options["note"]),
        )
        keep(store, around, entry)


def keep_values(around: Around, values: Iterable[str], options: Options) -> None:
    """Keep what holds until it changes.

    Args:
        around: book and screen
        values: NAME=VALUE, of conditions, or of things by their names
        options: clock, day

    Raises:
        PlateError: something cannot be used; nothing is kept
    """
    moment = moment_of(options["day"], options["clock"])
    told = [text.partition("=") for text in values]
    for name, equals, _ in told:
        if not equals:
            raise PlateError(f'cannot read {shown(name)!r}; write it like room_temperature="28 °C" or holder=B')
    conditions = {name.strip(): value.strip() for name, _, value in told}
    for name in conditions:
        _known(name, around)
    # "light" and "fixer" are things as well as conditions: what the condition accepts is meant first.
    uses = {name: value for name, value in conditions.items() if name in THINGS and not _answers(name, value, around)}
    others = {name: value for name, value in conditions.items() if name not in uses}
    understand(
        Plate(conditions={name: value for name, value in others.items() if value}, day=moment.day), around.knowledge
    )
    entries: list[BookEntry] = [
        WorkEntry(moment=moment, work="taken", thing=thing_named(thing), name=name) for thing, name in uses.items()
    ]
    with around.opened() as store:
        used = in_use(store.read(), moment)
        for name, value in others.items():
            lasts = around.knowledge.conditions[name].lasts if name in around.knowledge.conditions else ""
            entries.append(ValueEntry(moment=moment, condition=name, value=value, name=used.get(lasts, "")))
        keep(store, around, *entries)


def _answers(name: str, value: str, around: Around) -> bool:
    """Whether a condition of that name accepts the value."""
    if name not in around.knowledge.conditions:
        return False
    try:
        understand(Plate(conditions={name: value}), around.knowledge)
    except PlateError:
        return False
    return True


def _known(name: str, around: Around) -> None:
    """Complain of a name that is neither a condition nor a thing."""
    known = [*THINGS, *around.knowledge.conditions]
    if name not in known:
        hint = near(name[:100], known) or 'names are like room_temperature="28 °C", light=window or holder=B'
        raise PlateError(f"nothing here is called {shown(name)!r}; {hint}")


def _amount(text: str) -> str:
    if text and amount_wrong(text):
        raise PlateError(f"{shown(text)!r} is not an amount; write it like 500 mL or 10 g")
    return text
