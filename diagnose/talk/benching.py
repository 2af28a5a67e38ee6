"""The bench at the terminal: list the sums, ask what is missing, show the result."""

import json
import shlex
import sys
from collections.abc import Callable, Sequence
from dataclasses import asdict

from rich.console import Group, RenderableType
from rich.text import Text

from diagnose import amounts
from diagnose.bench.sum import Asked, BenchError, Sum, Worked
from diagnose.bench.table import MODULES
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.sums import find_sum
from diagnose.errors import near, printable
from diagnose.talk import blocks
from diagnose.talk.listening import as_amount, listen_to_terminal, pick
from diagnose.talk.theme import Look
from diagnose.units import UNITS, UnitError, accepted, read_amount

TOLD = "told"
Values = dict[str, float | str]


def list_sums(knowledge: Knowledge, look: Look) -> None:
    """Every sum by what it is about.

    Args:
        knowledge: for the solutions
        look: where and how it is shown
    """
    for title, group in MODULES:
        look.show(blocks.heading(title))
        for sum_ in group:
            look.show(blocks.item(Text.assemble((sum_.name, "number"), f"  {sum_.title}"), hang=4))
    look.show(blocks.heading("Solutions, scaled to the volume you want"))
    for name, solution in knowledge.solutions.items():
        look.show(blocks.item(Text.assemble((name, "number"), f"  {solution.title}"), hang=4))
    look.show(
        Text(""),
        Text("diagnose bench NAME asks what it needs; diagnose bench NAME volume=... says it outright.", style="faint"),
    )


def work(
    name: str,
    given: Sequence[str],
    knowledge: Knowledge,
    look: Look,
    *,
    measures: str,
    as_json: bool,
    full: bool = False,
    listen: Callable[[str], str] = listen_to_terminal,
) -> None:
    """Work one sum and show it.

    Args:
        name: which
        given: "input=value", as typed
        knowledge: the cautions' words
        look: where and how it is shown
        measures: "metric", "us" or "imperial"
        as_json: print JSON, and ask nothing
        full: how it was worked, too
        listen: gives the next line typed

    Raises:
        BenchError: no such sum or input, something missing, or a value that cannot be used
    """
    sum_ = find_sum(name, knowledge.solutions)
    values = read_given(sum_, given)
    if not as_json:
        ask_missing(sum_, values, look, listen)
    every = sum_.taken(values)
    worked = sum_.work(**every)
    taken = {key: (value, TOLD if key in values else "") for key, value in every.items()}
    if as_json:
        from diagnose.sum_record import sum_record

        utf8 = (sys.stdout.encoding or "utf-8").casefold().startswith("utf")
        record = asdict(sum_record(sum_, worked, taken, knowledge))
        print(json.dumps(record, indent=2, ensure_ascii=not utf8))  # noqa: T201
        return
    look.show(result_screen(sum_, worked, taken, knowledge, measures, full=full))
    if len(values) > len(given):
        look.show(Text(""), Text("The same again:", style="faint"))
        look.line(as_command(sum_, values, measures))


def read_given(sum_: Sum, given: Sequence[str]) -> Values:
    """What was typed after the name.

    Args:
        sum_: which sum
        given: "input=value"

    Raises:
        BenchError: an input is unknown, told twice, or its value cannot be used
    """
    values: Values = {}
    for word in given:
        name, equals, text = word.partition("=")
        if not equals:
            raise BenchError(f"cannot read {printable(word[:40])!r}; write input=value, such as {_example(sum_)}")
        if name in values:
            raise BenchError(f"{name} is told twice; keep one")
        values[name] = read_value(sum_.asked(name), text)
    return values


def read_value(asked: Asked, text: str) -> float | str:
    """One value as typed.

    Args:
        asked: what was asked
        text: an amount with its unit, or a choice

    Raises:
        BenchError: it cannot be read, or cannot be right
    """
    word = printable(text[:200]).strip()
    if asked.choices:
        value: float | str = word.casefold()
        if value not in asked.choices:
            hint = near(word, asked.choices)
            raise BenchError(
                f"{asked.name}: no answer {word[:40]!r}; use one of: {', '.join(asked.choices)}"
                + (f"; {hint}" if hint else "")
            )
        return value
    try:
        value = read_amount(word, asked.unit)
    except UnitError as error:
        raise BenchError(f"{asked.name}: {error}") from None
    if wrong := asked.complaint(value):
        raise BenchError(f"{asked.name}: {wrong}")
    return value


def ask_missing(sum_: Sum, values: Values, look: Look, listen: Callable[[str], str]) -> None:
    """Ask for everything that must be told and is not, one plain question each; what may be known too, if nothing was told.

    Args:
        sum_: which sum
        values: what is told; the answers are put in
        look: where and how it is asked
        listen: gives the next line typed

    Raises:
        BenchError: the input ended before everything was told
    """
    nothing_told = not values
    for asked in sum_.asks:
        if asked.name in values or (asked.usual is not None and not (asked.if_known and nothing_told)):
            continue
        look.show(Text(asked.ask, style="title"))
        if asked.choices:
            for number, words in enumerate(asked.choices.values(), start=1):
                look.show(blocks.numbered(number, words))
        else:
            skip = "; just Enter if not known" if asked.if_known else ""
            look.show(Text(f"({accepted_in(asked)}{skip})", style="faint"))
        while asked.name not in values:
            try:
                typed = listen(look.prompt).strip()
            except EOFError:
                if asked.if_known:
                    return
                raise BenchError(f"{sum_.name} wants {asked.name}: {asked.ask} Write {asked.name}=...") from None
            if typed.casefold() == "q":
                raise BenchError("left; nothing was worked out")
            if asked.if_known and typed in {"", "?"}:
                break
            try:
                meant = pick(typed, list(asked.choices)) if asked.choices else as_amount(typed, asked.unit)
                values[asked.name] = read_value(asked, meant or typed)
            except BenchError as error:
                look.show(Text(str(error), style="care"))


def accepted_in(asked: Asked) -> str:
    """How an amount may be typed, with its bounds."""
    unit = (
        ""
        if asked.unit in {"SG", "pH", "f-number", "ISO", "times", "stops"}
        else f"; a bare number is taken as {asked.unit}"
    )
    return f"{amounts.accepted_words(asked)}{unit}"


def result_screen(
    sum_: Sum,
    worked: Worked,
    taken: dict[str, tuple[float | str, str]],
    knowledge: Knowledge,
    measures: str,
    *,
    full: bool,
) -> RenderableType:
    """The result, what to do, what can hurt, what is in doubt, what was taken as usual; with `full` how it was worked.

    Args:
        sum_: which
        worked: its result
        taken: input -> (value, who told it; "" for the usual)
        knowledge: the cautions' words
        measures: "metric", "us" or "imperial"
        full: formula, range, accuracy and sources too
    """
    lines: list[RenderableType] = [blocks.heading(sum_.title)]
    for number, amount in enumerate(worked.amounts):
        style = "act" if number == 0 else "why"
        lines.append(blocks.item(amounts.result_line(amount, measures), style=style, hang=2))
    names = dict.fromkeys((*sum_.cautions, *worked.cautions))
    lines += blocks.dangers_and_cares(names, knowledge, whole=full)
    lines += [blocks.numbered(number, line) for number, line in enumerate(worked.do, start=1)]
    lines += [blocks.labelled("Mind", line, "care") for line in worked.beware]
    told = [amounts.taken_line(sum_.asked(name), value, who) for name, (value, who) in taken.items() if who]
    usual = [
        f"{amounts.taken_line(sum_.asked(name), value, '' if full else 'usual')}; {name}=... changes it"
        for name, (value, who) in taken.items()
        if not who and not sum_.asked(name).if_known
    ]
    lines += [blocks.labelled("Told", "; ".join(told), "faint")] if told and full else []
    lines += [blocks.labelled("Taken", line, "faint") for line in usual]
    if full:
        for label, text in (
            ("How", sum_.formula),
            ("Holds", sum_.holds),
            ("How well", sum_.accuracy),
            ("From", "; ".join(sum_.sources)),
        ):
            lines.append(blocks.labelled(label, text, "faint"))
    else:
        lines.append(blocks.labelled("How well", f"{sum_.accuracy} (--full says how, and from where)", "faint"))
    return Group(*lines)


def as_command(sum_: Sum, values: Values, measures: str) -> str:
    """The sum as it would be typed with everything told.

    Args:
        sum_: which
        values: what was told
        measures: how amounts are shown
    """
    units = "" if measures == "metric" else f"--units {measures} "
    told = (
        f"{name}={value if isinstance(value, str) else f'{value:g} {sum_.asked(name).unit}'}"
        for name, value in values.items()
    )
    return f"diagnose {units}bench {sum_.name} {' '.join(shlex.quote(word) for word in told)}"


def _example(sum_: Sum) -> str:
    asked = sum_.asks[0]
    if asked.choices:
        return f"{asked.name}={next(iter(asked.choices))}"
    return f'{asked.name}="... {asked.unit}"' if asked.unit.casefold() in UNITS else accepted(asked.unit)
