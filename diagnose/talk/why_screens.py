"""Why it happened, on the screen: a cause or a sign as it is taught, and a cause joined to the plate in hand."""

from collections.abc import Iterable

from rich.console import Console, ConsoleOptions, Group, RenderableType, RenderResult
from rich.table import Table
from rich.text import Text

from diagnose.answer import Diagnosis
from diagnose.bands import band, percent
from diagnose.entries.knowledge import Knowledge
from diagnose.talk.blocks import INDENT, bulleted, dangers_and_cares, heading, item, labelled, numbered
from diagnose.teaching.joined import Rival, contrast_words, joined
from diagnose.teaching.mechanism import Step
from diagnose.teaching.page_shapes import CausePage, Doing, LookAlike, SymptomPage
from diagnose.teaching.pages import cited
from diagnose.teaching.parting import Parting, seen_words
from diagnose.teaching.typeset import typeset

WIDE_ENOUGH = 70  # columns for two causes side by side
SHOWN_EACH = 2  # what parts a look-alike: the best of it; two causes named together show all
STAYS = "It stays until it is put right: look at the {}."


def cause_screen(page: CausePage, knowledge: Knowledge) -> RenderableType:
    """A cause as it is taught.

    Args:
        page: what there is to teach
        knowledge: for sources and cautions in full
    """
    chain = page.chain
    stays = STAYS.format(page.stands_in) if page.stands_in else "A slip on one plate: the next can be clean."
    lines: list[RenderableType] = [
        heading(chain.title),
        item(chain.brief),
        labelled("How common", f"{page.usual} among spoiled plates", indent=INDENT),
        labelled("Of what kind", f"{page.kind}. {stays}"),
        labelled("Born in", chain.born_words),
        labelled("First shows", f"{chain.first_shows_words}: {_titles(chain.first_signs, knowledge)}"),
        heading("How it comes about"),
    ]
    for step in chain.steps:
        lines += step_lines(step)
    lines.append(heading("How it looks"))
    for sign in page.signs:
        where = f", {sign.where}" if sign.where else ""
        lines.append(bulleted(f"{sign.title} ({seen_words(sign.seen)}){where}"))
    if page.look_alikes:
        lines.append(heading("Taken for"))
    for alike in page.look_alikes:
        lines += _alike_lines(alike)
    if page.dissent:
        lines.append(heading("Where the books differ"))
        lines += [item(f"{told.says} ({'; '.join(told.source)})", hang=2) for told in page.dissent]
    lines += [*_doing_lines("What to do", page.remedies), *_doing_lines("What keeps it away", page.prevention)]
    if page.practise:
        lines += [
            heading("What to practise"),
            item(page.practise),
            item("(an exercise of our own: judged)", style="faint"),
        ]
    if page.cautions:
        lines += [heading("Mind"), *dangers_and_cares(page.cautions, knowledge)]
    lines += [heading("Sources"), *(bulleted(said, style="faint") for said in cited(_all_sources(page), knowledge))]
    return Group(*lines)


def symptom_screen(page: SymptomPage) -> RenderableType:
    """A sign as it is taught.

    Args:
        page: what there is to teach
    """
    lines: list[RenderableType] = [heading(page.title), item(f"{page.look}.")]
    if page.synonyms:
        lines.append(labelled("Also called", ", ".join(page.synonyms)))
    if page.period:
        lines.append(labelled("In old books", ", ".join(page.period)))
    if page.on_negative:
        lines.append(labelled("On a negative", page.on_negative))
    lines.append(labelled("Usually first seen", page.first_seen))
    lines.append(heading("How it differs from its neighbours"))
    for near in page.neighbours:
        lines.append(labelled(near.title, near.differs))
        lines.append(item(f"({'; '.join(near.source)})", INDENT + 2, "faint"))
    lines.append(heading("What may be behind it, the likeliest first"))
    for number, cause in enumerate(page.causes, start=1):
        where = f", {cause.where}" if cause.where else ""
        said = f"{cause.stage}; {cause.usual}; shows it: {seen_words(cause.seen)}{where}"
        lines.append(numbered(number, f"{cause.title} ({said})"))
        lines.append(item(cause.why, INDENT + 2))
        if cause.check:
            lines.append(labelled("Tell it by", cause.check, indent=INDENT + 2))
        lines.append(item(f"diagnose why {cause.cause} ({'; '.join(cause.source)})", INDENT + 2, "faint"))
    return Group(*lines)


def two_causes_screen(first: CausePage, second: CausePage, apart: LookAlike, *, plain: bool = False) -> RenderableType:
    """Two causes side by side: what parts them.

    Args:
        first: one cause
        second: the other
        apart: what parts the second from the first
        plain: one below the other
    """
    lines: list[RenderableType] = [heading(f"{first.chain.title}, or: {second.chain.title}?")]
    lines += [item(said) for said in apart.apart]
    if apart.alike:
        lines.append(labelled("Nothing parts them", apart.alike))
    names = first.chain.title, second.chain.title
    top = [
        ("In short", first.chain.brief, second.chain.brief),
        ("Born in", first.chain.born_words, second.chain.born_words),
    ]
    top.append(("First shows", first.chain.first_shows_words, second.chain.first_shows_words))
    rows = [*top, *((_asked(part), part.first, part.second) for part in apart.parted_by)]
    lines.append(SideBySide(names, rows, plain=plain))
    lines += [item(f"diagnose why {page.chain.cause}", style="faint") for page in (first, second)]
    return Group(*lines)


def which_screen(words: str, found: Iterable[tuple[str, str, str]]) -> RenderableType:
    """Several things go by one name: each in a line, with how to ask for it alone.

    Args:
        words: as typed
        found: how to ask for it, its title, its one line
    """
    lines: list[RenderableType] = [heading(f"“{words}” may mean more than one thing:")]
    for ask, title, brief in found:
        lines += [labelled(title, brief), item(f"diagnose why {ask}", INDENT + 2, "key")]
    return Group(*lines)


def step_lines(step: Step, said: str = "") -> list[RenderableType]:
    """A step of a chain: what happens, the chemistry, what it shows, the source.

    Args:
        step: the step
        said: how its sign was answered on this plate, if there is one
    """
    lines: list[RenderableType] = [numbered(step.number, step.words)]
    for line in step.chemistry:
        lines.append(labelled("Chemistry", line.says, indent=INDENT + 2))
        if line.equation:
            lines.append(item(typeset(line.equation), INDENT + 4, "number", hang=2))
    if step.shows:
        lines.append(item(f"shows as: {step.sign}{f' ({said})' if said else ''}", INDENT + 2, "number"))
    sources = dict.fromkeys((*step.source, *(named for line in step.chemistry for named in line.source)))
    lines.append(item(f"({'; '.join(sources)})", INDENT + 2, "faint"))
    return lines


def joined_screen(cause: str, diagnosis: Diagnosis, rivals: tuple[str, ...] = ()) -> RenderableType:
    """How a cause brings about what was seen on this plate, step by step, and why not its rivals.

    Args:
        cause: whose chain
        diagnosis: what is believed of the plate
        rivals: causes the student names against it
    """
    knowledge = diagnosis.craft.knowledge
    entry, found = knowledge.causes[cause], joined(cause, diagnosis, rivals)
    chain = found.chain
    lines: list[RenderableType] = [
        heading(entry.title),
        item(entry.brief),
        item(found.fits),
        labelled("Born in", f"{chain.born_words}. First shows {chain.first_shows_words}."),
        heading("How it comes about"),
    ]
    for step in found.steps:
        lines += step_lines(step.step, step.said)
    if entry.look_alike:
        lines.append(heading("Taken for"))
        lines += [item(f"{knowledge.causes[alike.cause].title}: {alike.apart}") for alike in entry.look_alike]
    if entry.dissent:
        lines.append(heading("Where the books differ"))
        lines += [item(f"{dissent.says} ({'; '.join(dissent.from_)})") for dissent in entry.dissent]
    if entry.practise:
        lines.append(labelled("Practise", entry.practise, indent=0))
    for rival in found.rivals:
        lines += _rival_lines(rival, found.probability, diagnosis, entry.title)
    return Group(*lines)


class SideBySide:
    """Rows of two columns where there is room, one below the other where there is not.

    Args:
        names: of the two columns
        rows: what it is about, and what each side says
        plain: one below the other, whatever the room
    """

    def __init__(self, names: tuple[str, str], rows: list[tuple[str, str, str]], *, plain: bool) -> None:
        self.names, self.rows, self.plain = names, rows, plain

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Lay them out for the width there is."""
        if self.plain or options.max_width < WIDE_ENOUGH:
            for about, first, second in self.rows:
                yield heading(about)
                yield labelled(self.names[0], first)
                yield labelled(self.names[1], second)
            return
        table = Table(box=None, pad_edge=False, padding=(0, 2, 1, 0), header_style="key", expand=True)
        for name in ("", *self.names):
            table.add_column(name, ratio=1, overflow="fold")
        for about, first, second in self.rows:
            table.add_row(Text(about, style="key"), Text(first, style="why"), Text(second, style="why"))
        yield table


def _alike_lines(alike: LookAlike) -> list[RenderableType]:
    said = " ".join(alike.apart) or alike.alike
    lines: list[RenderableType] = [labelled(alike.title, said)]
    lines += [
        bulleted(f"{_asked(part)}. Here: {part.first}. There: {part.second}.", INDENT + 2)
        for part in _best(alike.parted_by)
    ]
    return lines


def _best(parted_by: tuple[Parting, ...]) -> list[Parting]:
    """The best check and the best of the rest, so that a page stays short."""
    checks = [part for part in parted_by if part.kind == "check"][:1]
    rest = [part for part in parted_by if part.kind in {"sign", "place"}]
    return [*checks, *rest][:SHOWN_EACH]


def _asked(part: Parting) -> str:
    return f"{part.words}?" if part.kind == "fact" else part.words.removesuffix("?")


def _doing_lines(title: str, doings: tuple[Doing, ...]) -> list[RenderableType]:
    lines: list[RenderableType] = [heading(title)] if doings else []
    for doing in doings:
        surely = f"; helps {seen_words(doing.surely)}" if doing.surely else ""
        when = f"; where: {doing.when}" if doing.when else ""
        lines.append(bulleted(f"{doing.title} ({doing.cost}{surely}{when})"))
        if doing.surely:
            lines.append(item(doing.say, INDENT + 2))
    return lines


def _rival_lines(rival: Rival, chance: float, diagnosis: Diagnosis, title: str) -> list[RenderableType]:
    words = f"“{rival.title}” is {band(rival.probability)}, {percent(rival.probability)}; “{title}” {percent(chance)}."
    head = f"Why not “{rival.title}”?" if not rival.ahead else f"“{rival.title}” stands higher"
    lines: list[RenderableType] = [heading(head), item(words)]
    for contrast in rival.because:
        said = (f"{contrast.decibans:5.1f}  ", "number"), (contrast_words(contrast, diagnosis), "why")
        lines.append(item(Text.assemble(*said), hang=7))
    if rival.would_part:
        lines.append(labelled("What would part them", "not told yet", indent=INDENT))
    lines += [
        bulleted(f"{_asked(part)}. If “{title}”: {part.first}. If “{rival.title}”: {part.second}.", INDENT + 2)
        for part in rival.would_part[:3]
    ]
    return lines


def _titles(names: Iterable[str], knowledge: Knowledge) -> str:
    return "; ".join(knowledge.symptoms[name].title for name in names)


def _all_sources(page: CausePage) -> tuple[str, ...]:
    found = [*page.chain.sources]
    found += [named for sign in page.signs for named in sign.source]
    found += [named for told in page.dissent for named in told.source]
    found += [named for doing in (*page.remedies, *page.prevention) for named in doing.source]
    keys: dict[str, str] = {}
    for named in found:
        keys.setdefault(named.partition(" ")[0], "")
    return tuple(keys)
