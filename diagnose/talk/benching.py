"""The bench at the terminal: ask what is missing, work the sum, show it."""

import shlex
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict

from rich.text import Text

from diagnose.bench.sum import BenchError, MoreWantedError, Sum, Worked
from diagnose.entries.knowledge import Knowledge
from diagnose.entries.sums import find_sum
from diagnose.talk.bench_asking import Asking, Left, Told, ask_for, read_given
from diagnose.talk.bench_screens import Result, list_screen, result_screen
from diagnose.talk.letters import print_json
from diagnose.talk.listening import listen_to_terminal
from diagnose.talk.theme import Look

TOLD = "told"


def list_sums(knowledge: Knowledge, look: Look) -> None:
    """Every sum by what it is about.

    Args:
        knowledge: for the solutions
        look: where and how it is shown
    """
    look.show(list_screen(knowledge))


def work(
    name: str,
    given: Sequence[str],
    knowledge: Knowledge,
    look: Look,
    *,
    measures: str,
    as_json: bool,
    full: bool = False,
    before: Sequence[str] = (),
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
        before: options before the command, as they would be typed again
        listen: gives the next line typed

    Raises:
        BenchError: no such sum or input, something missing, or a value that cannot be used
    """
    sum_ = find_sum(name, knowledge.solutions)
    told = read_given(sum_, given)
    if as_json:
        _print_json(_result(sum_, sum_.reckon(_values(told)), told), knowledge)
        return
    try:
        worked = _asked_and_worked(sum_, told, Asking(look, listen, measures))
    except Left:
        look.show(Text("Left; nothing was worked out.", style="faint"))
        return
    except BenchError:
        if len(told) > len(given):
            _again("As you told it, to be mended:", as_command(sum_, told, before, full=full), look)
        raise
    look.show(result_screen(_result(sum_, worked, told), knowledge, measures, full=full))
    if len(told) > len(given):
        _again("The same again:", as_command(sum_, told, before, full=full), look)


def as_command(sum_: Sum, told: Mapping[str, Told], before: Sequence[str], *, full: bool) -> str:
    """The sum as it would be typed with everything told.

    Args:
        sum_: which sum
        told: what was told
        before: options before the command
        full: with everything
    """
    words = ["diagnose", *before, "bench", sum_.name, *(f"{name}={item.words}" for name, item in told.items())]
    return shlex.join(words + ["--full"] * full)


def _asked_and_worked(sum_: Sum, told: dict[str, Told], asking: Asking) -> Worked:
    """Ask for what must be told; for what may be known too, if nothing was told or the sum cannot do without."""
    everything = not told
    wanted = [item for item in sum_.asks if item.name not in told]
    try:
        ask_for([item for item in wanted if item.usual is None or (item.if_known and everything)], told, asking)
    except EOFError:
        missing = sum_.missing(_values(told))[0]
        raise BenchError(f"{sum_.name} wants {missing.name}: {missing.ask} Write {missing.name}=...") from None
    try:
        return sum_.reckon(_values(told))
    except MoreWantedError as error:
        before = len(told)
        if not everything:
            asking.look.show(Text(f"Not enough: {error}.", style="care"))
            ask_for([item for item in wanted if item.if_known], told, asking)
        if len(told) == before:
            raise
        return sum_.reckon(_values(told))


def _again(title: str, command: str, look: Look) -> None:
    look.show(Text(""), Text(title, style="faint"))
    look.line(command)


def _values(told: Mapping[str, Told]) -> dict[str, float | str]:
    return {name: item.value for name, item in told.items()}


def _result(sum_: Sum, worked: Worked, told: Mapping[str, Told]) -> Result:
    every = sum_.taken(_values(told))
    return Result(sum_, worked, {name: (value, TOLD if name in told else "") for name, value in every.items()})


def _print_json(result: Result, knowledge: Knowledge) -> None:
    from diagnose.sum_record import sum_record

    print_json(asdict(sum_record(result.sum, result.worked, result.taken, knowledge)))
