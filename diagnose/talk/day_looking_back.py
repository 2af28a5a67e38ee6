"""Looking back: the day's review, what was learned, the archive diagnosed anew, the invented day."""

import json
import sys
from collections.abc import Mapping
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from diagnose.bands import percent
from diagnose.daybook.known import LEARNING, LEARNING_SINCE, studio_craft, studio_rates
from diagnose.errors import BookError, PlateError
from diagnose.plate import day_number, shown
from diagnose.reasoning.craft import craft_of
from diagnose.talk import blocks
from diagnose.talk.around import Around
from diagnose.talk.clock import now, today
from diagnose.talk.day_papers import write_out

if TYPE_CHECKING:
    from diagnose.bulk import Rediagnosis


def review(around: Around, options: Mapping[str, Any]) -> None:
    """What the day's failures share, and the one test for tomorrow.

    Args:
        around: book and screen
        options: date, first, last, page, full, as_json

    Raises:
        PlateError: something is no date
    """
    first, last = _days(options["date"], options["first"], options["last"])
    if around.empty():
        return
    from diagnose.daybook.review import review as look_back

    with around.opened() as store:
        book = store.read()
        craft = studio_craft(book, craft_of(around.knowledge), store.setting)
    if not first and not last and today() in book.days:
        first = last = today()
    found = look_back(book, craft, first, last, measures=around.measures)
    _show(around, found, options)


def demonstrate(around: Around, page: str) -> None:
    """Review the invented day.

    Args:
        around: the screen
        page: a file to write it to as a page, too; "" for none
    """
    from diagnose.daybook.demonstration import STORY, demonstration_book
    from diagnose.daybook.review import review as look_back

    found = look_back(demonstration_book(), craft_of(around.knowledge), measures=around.measures, story=STORY)
    _show(around, found, {"page": page, "full": True, "as_json": False})


def _show(around: Around, found: Any, options: Mapping[str, Any]) -> None:
    if options["as_json"]:
        print(json.dumps(asdict(found), indent=2, ensure_ascii=not _utf8()))  # noqa: T201
    else:
        from diagnose.talk.day_review import show_review

        show_review(found, around.look, options["full"])
    if options["page"]:
        from diagnose.daybook.page import review_page

        write_out(around, options["page"], review_page(found))


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
        print(json.dumps({"on": on, "rows": [row._asdict() for row in rows]}, indent=2, ensure_ascii=not _utf8()))  # noqa: T201
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
            print(json.dumps(plate._asdict(), ensure_ascii=not _utf8()))  # noqa: T201
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


def _days(date: str, first: str, last: str) -> tuple[str, str]:
    """The first and the last day that are meant; "" where none is said."""
    for text in (date, first, last):
        if text and day_number(text) is None:
            raise PlateError(f"{shown(text)!r} is not a date; write it as 2026-05-01")
    if date and (first or last):
        raise BookError("say one day, or --from and --to; not both")
    if date:
        return date, date
    if first and last and first > last:
        raise BookError(f"--from {first} comes after --to {last}; the other way round")
    return first, last or (today() if first else "")


def _utf8() -> bool:
    return (sys.stdout.encoding or "utf-8").casefold().startswith("utf")
