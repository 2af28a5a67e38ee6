"""A stock solution: what goes in, how it is mixed, and how strong it should be."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Annotated, Literal

from diagnose.entries.cause import Dissent
from diagnose.entries.shapes import (
    Amount,
    Entry,
    Note,
    Sentence,
    ShortSentence,
    ShortText,
    Slug,
    Sources,
    Substance,
    YesOrNo,
)

if TYPE_CHECKING:
    from diagnose.bench.recipe import Part

SolutionKind = Literal["plate-cleaner", "collodion", "silver-bath", "developer", "fixer", "varnish"]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Instead(Entry):
    """Another form of a part, and how much of it does the work of one."""

    from_: Sources
    name: Substance
    times: Annotated[float, Amount(0.01, 100)]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Ingredient(Entry):
    """One part of a recipe; its amount is text such as "12 g", "118 mL", "3 drops" or "to 1 L"."""

    name: Substance
    what: ShortSentence
    state: Literal["solid", "liquid"]
    amount: ShortText
    percent: Annotated[float, Amount(0.01, 100)] | None = None
    holds: dict[Substance, ShortText] = field(default_factory=dict)
    never_over: YesOrNo = False
    note: Note = ""
    instead: tuple[Instead, ...] = ()


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class MixingStep(Entry):
    """One step of the mixing, in order: what goes in, what to do, what will be seen."""

    from_: Sources
    do: Sentence
    see: Note = ""
    puts_in: tuple[Substance, ...] = ()


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class StrengthRange(Entry):
    """How strong a solution was in one thing in the old books, or is at the present day."""

    from_: Sources
    of: Substance
    era: Literal["old", "today"]
    least: ShortText
    most: ShortText
    note: Note = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Solution(Entry):
    """What stands in a bottle of the darkroom; without parts, only strengths to compare are told."""

    from_: Sources
    title: ShortSentence
    use: Sentence
    kind: SolutionKind
    written_for: Literal["positive", "negative", "both"]
    makes: ShortText | None = None
    keeps: Note = ""
    book: Note = ""
    also: tuple[ShortSentence, ...] = ()
    part: tuple[Ingredient, ...] = ()
    step: tuple[MixingStep, ...] = ()
    strength: tuple[StrengthRange, ...] = ()
    beware: tuple[Sentence, ...] = ()
    dissent: tuple[Dissent, ...] = ()
    caution: tuple[Slug, ...] = ()

    @property
    def parts(self) -> tuple["Part", ...]:
        """What goes in, in numbers, as `bench.recipe.scaled` takes it; empty where there is no recipe."""
        from diagnose.bench.quantity import read_quantity, read_strength
        from diagnose.bench.recipe import Holding, Part

        return tuple(
            Part(
                item.name,
                *read_quantity(item.amount),
                percent=item.percent,
                holds=tuple(Holding(name, *read_strength(text)[:2]) for name, text in item.holds.items()),
                never_over=item.never_over,
            )
            for item in self.part
        )

    @property
    def volume(self) -> float:
        """The volume that the parts make [mL]; 0 where there is no recipe."""
        from diagnose.bench.quantity import read_quantity

        return read_quantity(self.makes).value if self.makes else 0.0
