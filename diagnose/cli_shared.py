"""What every command of the command line shares: the knowledge and the look that were asked for, and completion."""

from collections.abc import Callable
from typing import Any

import click

Context = click.Context


def later(which: str) -> Callable[[Context, click.Parameter, str], list[str]]:
    """What the shell may complete, loaded only when it asks.

    Args:
        which: a function of `completing`
    """

    def complete(context: Context, parameter: click.Parameter, incomplete: str) -> list[str]:
        from diagnose import completing

        found: list[str] = getattr(completing, which)(context, parameter, incomplete)
        return found

    return complete


def given_knowledge(context: Context) -> Any:
    """The knowledge, with the folders that were named laid over it."""
    from diagnose.talk.folders import knowledge_of

    return knowledge_of(context.obj["folders"])


def given_look(context: Context) -> Any:
    """The look that was asked for."""
    from diagnose.talk.theme import make_look

    return make_look(safelight=context.obj["safelight"], plain=context.obj["plain"])


def given_around(context: Context) -> Any:
    """What the commands of the daybook need; the knowledge is read when it is asked for."""
    from diagnose.talk.around import Around

    given = context.obj
    return Around(given["book"], given_look(context), lambda: given_knowledge(context), given["units"])


def given_book(context: Context, knowledge: Any, number: int = 0) -> Any:
    """The daybook for a talk, opening already; None where none is wanted.

    Args:
        context: with the options
        knowledge: the craft
        number: of the plate in the book, where it was kept before
    """
    if context.obj["no_book"]:
        return None
    from diagnose.talk.book_in_hand import BookInHand
    from diagnose.talk.book_place import place_of

    return BookInHand(place_of(context.obj["book"]), knowledge, number)
