"""What was learned from confirmed causes, and the archive diagnosed anew."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from diagnose.bands import percent
from diagnose.daybook.known import LEARNING, LEARNING_SINCE, studio_rates
from diagnose.talk import blocks
from diagnose.talk.around import Around
from diagnose.talk.clock import now
from diagnose.talk.letters import print_json

if TYPE_CHECKING:
    from diagnose.bulk import Rediagnosis


def learning(around: Around, what: str, *, as_json: bool) -> None:
    """What was learned, beside what the knowledge says by itself; on, off, or begin again.

    Args:
        around: book and screen
        what: "show", "on", "off" or "reset"
        as_json: the rates as JSON
    """
    from diagnose.daybook.learning import learning_on, rates_rows

    if what == "show" and around.empty():
        return
    with around.opened() as store:
        if what == "reset":
            store.set_setting(LEARNING_SINCE, str(now().at))
            around.say("Learning begins anew. What was confirmed before stays in the book, and counts no more.")
            return
        if what in {"on", "off"}:
            store.set_setting(LEARNING, what)
            words = {"on": "Confirmed causes count again.", "off": "The knowledge's own rates are used from now on."}
            around.say(words[what])
            return
        on = learning_on(store.setting(LEARNING))
        found = studio_rates(store.read(), around.knowledge, store.setting)
    rows = rates_rows(found, around.knowledge)
    if as_json:
        print_json({"on": on, "rows": [row._asdict() for row in rows]})
        return
    if not on:
        around.say("Learning is off: `diagnose day learning on` switches it on.", "care")
    around.look.show(
        blocks.heading(f"Learned from {found.plates} plate{'' if found.plates == 1 else 's'} with a confirmed cause")
    )
    for row in rows:
        said = f"{row.title}: {percent(row.studio)} of faults here, {percent(row.book)} by the knowledge alone"
        around.look.show(blocks.bulleted(f"{said} ({row.confirmed} confirmed)"))
    if not rows:
        around.say("Nothing yet: a cure, a decisive check, or `diagnose day confirm` teaches it.", "faint")


def again(around: Around, options: Mapping[str, Any]) -> None:
    """Diagnose every spoiled plate of the book anew.

    Args:
        around: book and screen
        options: workers, scheduler, as_json
    """
    if around.empty():
        return
    from diagnose.talk.batching import diagnose_again

    with around.opened() as store:
        book = store.read()
        learned = studio_rates(book, around.knowledge, store.setting)
    found = diagnose_again(
        book, around.knowledge, rates=learned, workers=options["workers"], scheduler=options["scheduler"]
    )
    if options["as_json"]:
        for plate in found.plates:
            print_json(plate._asdict(), indent=None)
        return
    _tell_anew(around, found)


def _tell_anew(around: Around, found: "Rediagnosis") -> None:
    """What the knowledge of today says of old plates: counts, then the plates on which another cause leads."""
    knowledge = around.knowledge

    def title(cause: str) -> str:
        return knowledge.causes[cause].title if cause in knowledge.causes else cause

    count = len(found.plates)
    around.look.show(blocks.heading(f"{count} spoiled plate{'' if count == 1 else 's'} diagnosed anew"))
    around.say(
        f"On {len(found.same)} the same cause leads, on {len(found.changed)} another one; {len(found.first_time)} had no "
        f"diagnosis before, {len(found.unread)} can no longer be read."
    )
    for plate in found.changed:
        was = f"{title(plate.old)} ({percent(plate.old_chance)})"
        said = f"{plate.day} number {plate.number}: {title(plate.new)} ({percent(plate.new_chance)}), was {was}"
        around.look.show(blocks.bulleted(said))
    for plate in found.unread:
        around.look.show(blocks.bulleted(f"{plate.day} number {plate.number}: {plate.problem}", style="care"))
