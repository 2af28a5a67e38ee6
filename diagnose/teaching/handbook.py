"""The handbook of a class: everything there is to teach, as one page of HTML that stands by itself and prints."""

from base64 import b64encode
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from diagnose import phrases
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import printable
from diagnose.teaching import glossary
from diagnose.teaching.looks import draw, pictures_can_be_drawn, words_of
from diagnose.teaching.page_shapes import CausePage, SymptomPage
from diagnose.teaching.pages import cause_page, cited, symptom_page
from diagnose.teaching.parting import Parting, seen_words
from diagnose.teaching.typeset import typeset

if TYPE_CHECKING:
    from jinja2 import Environment

WIDE = 280  # of a drawing [pixels]: sharp at 5 cm on paper; all of them together stay near 3 MB
SEED = 1  # the same drawings in every handbook, so that a class may speak of "the third comet from the left"


@dataclass(frozen=True)
class Picture:
    """A drawing as it stands on the page.

    Args:
        data: the file, as an address that holds it
        words: what is to be seen, for those who cannot see it
        wide: its width [pixels]
        high: its height [pixels]
    """

    data: str
    words: str
    wide: int
    high: int


def handbook(knowledge: Knowledge, *, pictures: bool | None = None, wide: int = WIDE) -> str:
    """The handbook as one self-contained page of HTML.

    Args:
        knowledge: the craft
        pictures: with drawings; None draws where the drawing libraries are installed
        wide: width of each drawing [pixels]

    Raises:
        PicturesMissing: drawings are wanted, and the drawing libraries are not installed
    """
    drawn = pictures_can_be_drawn() if pictures is None else pictures
    signs = {name: symptom_page(name, knowledge) for name in knowledge.symptoms}
    causes = {name: cause_page(name, knowledge) for name in knowledge.causes}
    script = _room().get_template("handbook.js").render()
    return (
        _room()
        .get_template("handbook.html")
        .render(
            knowledge=knowledge,
            signs=signs,
            causes=causes,
            by_look=by_first_seen(signs.values(), knowledge),
            by_stage=by_stage(causes, knowledge),
            born_in={name: stages_behind(page, knowledge) for name, page in signs.items()},
            pictures=drawings(knowledge, wide) if drawn else {},
            in_words={name: words_of(name, {}, knowledge) for name in signs},
            check_of=checks_by_finding(knowledge),
            words=glossary.glossary(knowledge),
            scales=glossary.scales(knowledge),
            cautions=sorted(knowledge.cautions.items(), key=lambda item: item[1].level != "danger"),
            sources={name: "; ".join(cited((name,), knowledge)) for name in cited_names(signs, causes, knowledge)},
            script=script,
            script_hash=b64encode(sha256(script.encode()).digest()).decode(),
        )
    )


def drawings(knowledge: Knowledge, wide: int = WIDE) -> dict[str, Picture]:
    """One drawing of every sign, as it is usual.

    Args:
        knowledge: the craft
        wide: width of each [pixels]

    Raises:
        PicturesMissing: the drawing libraries are not installed
    """
    found = {}
    for name, entry in knowledge.symptoms.items():
        drawing = draw(name, {}, SEED, wide=wide, family=entry.family)
        data = "data:image/png;base64," + b64encode(drawing.png()).decode()
        found[name] = Picture(data, drawing.words, len(drawing.rgb[0]), len(drawing.rgb))
    return found


def by_first_seen(signs: Iterable[SymptomPage], knowledge: Knowledge) -> list[tuple[str, list[SymptomPage]]]:
    """The signs under the step of the work at which one first sees them, in working order.

    Args:
        signs: their pages
        knowledge: the craft
    """
    steps = knowledge.attributes["first_seen"].values.values()
    pages = list(signs)
    groups = [(step, [page for page in pages if page.first_seen == step]) for step in steps]
    return [(step, found) for step, found in groups if found]


def by_stage(causes: Mapping[str, CausePage], knowledge: Knowledge) -> list[tuple[str, str, list[CausePage]]]:
    """The causes under the stage they are born in: its name, its title, its causes.

    Args:
        causes: their pages
        knowledge: the craft
    """
    groups = [
        (name, stage.title, [page for page in causes.values() if page.chain.born == name])
        for name, stage in knowledge.stages.items()
    ]
    return [group for group in groups if group[2]]


def stages_behind(page: SymptomPage, knowledge: Knowledge) -> tuple[str, ...]:
    """The stages in which causes of a sign are born.

    Args:
        page: the sign's
        knowledge: the craft
    """
    return tuple(dict.fromkeys(knowledge.stage_of(cause.cause) for cause in page.causes))


def cited_names(signs: Mapping[str, SymptomPage], causes: Mapping[str, CausePage], knowledge: Knowledge) -> list[str]:
    """Every source that is named on the page, by the alphabet.

    Args:
        signs: the pages of the signs
        causes: the pages of the causes
        knowledge: for checks, cautions and chemistry
    """
    told: list[tuple[str, ...]] = []
    for sign in signs.values():
        told += [near.source for near in sign.neighbours]
        told += [cause.source for cause in sign.causes]
    for page in causes.values():
        told.append(page.chain.sources)
        told += [shown.source for shown in page.signs]
        told += [dissent.source for dissent in page.dissent]
        told += [doing.source for doing in (*page.remedies, *page.prevention)]
    told += [check.from_ for check in knowledge.checks.values()]
    told += [caution.from_ for caution in knowledge.cautions.values()]
    told += [reaction.from_ for reaction in knowledge.reactions.values()]
    return sorted({named.partition(" ")[0] for source in told for named in source})


def checks_by_finding(knowledge: Knowledge) -> dict[str, str]:
    """Which check each finding, in the words of the pages, belongs to.

    Args:
        knowledge: the craft
    """
    return {
        phrases.finding(f"{name}={outcome.id}", knowledge): name
        for name, check in knowledge.checks.items()
        for outcome in check.outcome
    }


def best_of(parted_by: tuple[Parting, ...]) -> list[Parting]:
    """The best check and the best sign or place that part two causes; a fact about the day where there is neither.

    Args:
        parted_by: all of them, the best of each kind first
    """
    found: dict[str, Parting] = {}
    for part in parted_by:
        found.setdefault("sign" if part.kind == "place" else part.kind, part)
    return [part for kind, part in found.items() if kind != "fact" or len(found) == 1]


def anchor(kind: str, name: str) -> str:
    """Where something stands on the page.

    Args:
        kind: what it is
        name: its name in the knowledge
    """
    return f"{kind}-{name.replace('/', '.')}"


def equation(written: str) -> str:
    """An equation as it is printed here.

    Args:
        written: as the knowledge writes it
    """
    return typeset(written, low=True).replace("<->", "⇌").replace("->", "→")


@cache
def _room() -> "Environment":
    """Where the page is written; everything put in is escaped and printable."""
    from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

    def clean(value: Any) -> Any:
        return printable(value) if isinstance(value, str) and not hasattr(value, "__html__") else value

    room = Environment(
        loader=PackageLoader("diagnose.teaching", "templates"),
        autoescape=select_autoescape(disabled_extensions=("css", "js"), default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        finalize=clean,
    )
    room.filters.update(equation=equation, seen=seen_words, best=best_of, cost=glossary.cost)
    room.globals.update(anchor=anchor)
    return room
