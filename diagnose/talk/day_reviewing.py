"""The day's review, and the invented day."""

from collections.abc import Mapping
from typing import Any

from diagnose.daybook.known import studio_craft
from diagnose.errors import BookError, PlateError
from diagnose.plate import day_number, shown
from diagnose.reasoning.craft import craft_of
from diagnose.talk.around import Around
from diagnose.talk.clock import today
from diagnose.talk.day_papers import write_out
from diagnose.talk.letters import print_json


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
        from diagnose.daybook.reviewed import review_record

        print_json(review_record(found))
    else:
        from diagnose.talk.day_review import show_review

        show_review(found, around.look, options["full"])
    if options["page"]:
        from diagnose.daybook.page import review_page

        write_out(around, options["page"], review_page(found))


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
