"""`diagnose why`: which cause or sign is meant, and its page on the screen or as JSON."""

from dataclasses import asdict

from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError, printable
from diagnose.talk import why_screens
from diagnose.talk.letters import print_json
from diagnose.talk.theme import Look
from diagnose.teaching.naming import Named, named, slip
from diagnose.teaching.pages import cause_page, look_alike, symptom_page

LONGEST = 200  # letters of a name that are said back
Meant = tuple[str, str]  # "cause" or "sign", and its name


def show_why(names: tuple[str, ...], knowledge: Knowledge, look: Look, *, as_json: bool = False) -> None:
    """The page of what was named; two causes side by side; several meanings in a line each.

    Args:
        names: as typed; words without quotation marks may be one name
        knowledge: the craft
        look: where to show it
        as_json: as JSON, on the standard output

    Raises:
        PlateError: nothing goes by that name
    """
    found = meant(names, knowledge)
    settled = [_single(one) for one in found]
    if as_json:
        _print_json([_record(one, knowledge) for group in found for one in _all(group)])
    elif len(found) == 2 and all(one and one[0] == "cause" for one in settled):
        first, second = (one[1] for one in settled if one)
        pages = cause_page(first, knowledge), cause_page(second, knowledge)
        apart = look_alike(first, second, knowledge)
        look.show(why_screens.two_causes_screen(*pages, apart, plain=look.plain))
    else:
        for number, (group, one) in enumerate(zip(found, settled, strict=True)):
            if number:
                look.line("")
            if one is None:
                look.show(why_screens.which_screen(printable(group.words), _choices(group, knowledge)))
            elif one[0] == "cause":
                look.show(why_screens.cause_screen(cause_page(one[1], knowledge), knowledge))
            else:
                look.show(why_screens.symptom_screen(symptom_page(one[1], knowledge)))


def meant(names: tuple[str, ...], knowledge: Knowledge) -> list[Named]:
    """What was named: all words as one name if that means something, else each by itself.

    Args:
        names: as typed
        knowledge: the craft

    Raises:
        PlateError: one of them means nothing
    """
    whole = " ".join(names)
    if len(whole) <= LONGEST and named(whole, knowledge).all:
        return [named(whole, knowledge)]
    found = [named(name[:LONGEST], knowledge) for name in names]
    missing = [one.words for one in found if not one.all]
    if missing:
        said = whole if len(missing) == len(names) else missing[0]
        shown = printable(said[:60])
        raise PlateError(f"no cause or sign called {shown!r}; {slip((whole, *missing), knowledge)}")
    return found


def _single(found: Named) -> Meant | None:
    if len(found.all) != 1:
        return None
    return ("cause", found.causes[0]) if found.causes else ("sign", found.symptoms[0])


def _all(found: Named) -> list[Meant]:
    return [*(("cause", name) for name in found.causes), *(("sign", name) for name in found.symptoms)]


def _choices(found: Named, knowledge: Knowledge) -> list[tuple[str, str, str]]:
    """Each meaning: how to ask for it alone, its title, its one line."""
    causes = [(name, f"Cause: {knowledge.causes[name].title}", knowledge.causes[name].brief) for name in found.causes]
    signs = [
        (name, f"Sign: {knowledge.symptoms[name].title}", knowledge.symptoms[name].look) for name in found.symptoms
    ]
    return [*causes, *signs]


def _record(one: Meant, knowledge: Knowledge) -> dict[str, object]:
    kind, name = one
    page = cause_page(name, knowledge) if kind == "cause" else symptom_page(name, knowledge)
    return {"kind": kind, "name": name, "knowledge": knowledge.version, **asdict(page)}


def _print_json(records: list[dict[str, object]]) -> None:
    print_json(records[0] if len(records) == 1 else records)
