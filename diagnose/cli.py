"""The command line: options only; each command is one call into talk/."""

import gc
import os
import sys
from typing import Any, NoReturn

import click

from diagnose.cli_commands import Commands
from diagnose.cli_shared import Context, given_around, given_book, given_knowledge, given_look, later
from diagnose.errors import BookError, DiagnoseError, KnowledgeError, printable

INTERRUPTED = 130
BUG = 3


@click.group(
    cls=Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96},
)
@click.option("--safelight", is_flag=True, help="Red and amber on black, for the darkroom.")
@click.option("--plain", is_flag=True, help="No colour, no symbols: for screen readers and simple terminals.")
@click.option(
    "--knowledge", "folders", multiple=True, metavar="FOLDER", help="Your own knowledge, laid over the program's."
)
@click.option(
    "--units",
    type=click.Choice(["metric", "us", "imperial"]),
    default="metric",
    help="Amounts of the bench in these units, too.",
)
@click.option(
    "--book", metavar="FILE", help="Your daybook; its usual place, if not given. A server's address will do, too."
)
@click.option("--no-book", is_flag=True, help="Keep nothing of the talk.")
@click.option("--lesson", is_flag=True, help="Say what you think before the tool does; one change a plate.")
@click.version_option(package_name="wetplate-diagnose", message="%(prog)s %(version)s")
@click.pass_context
def main(
    context: Context,
    safelight: bool,
    plain: bool,
    folders: tuple[str, ...],
    units: str,
    book: str | None,
    no_book: bool,
    lesson: bool,
) -> None:
    """Say why a wet plate came out spoiled, and the one thing to change before the next pour.

    Without a command it asks you about the plate.
    """
    context.obj = {"safelight": safelight, "plain": plain, "folders": folders, "units": units}
    context.obj |= {"book": book, "no_book": no_book, "lesson": lesson}
    if context.invoked_subcommand is None:
        from diagnose.plate import Plate
        from diagnose.talk import commands

        knowledge = given_knowledge(context)
        in_hand = given_book(context, knowledge)
        commands.run_dialog(
            knowledge, given_look(context), Plate(), "sitter-waiting", _before(context), units, in_hand, lesson=lesson
        )


@main.command()
@click.argument("signs", nargs=-1, metavar="[SIGN]...", shell_complete=later("complete_symptoms"))
@click.option(
    "--shows",
    multiple=True,
    metavar="SIGN[:place=...,colour=...]",
    help="A sign the plate shows; any word for it will do.",
    shell_complete=later("complete_symptoms"),
)
@click.option(
    "--not-there",
    multiple=True,
    metavar="SIGN",
    help="A sign looked for and not there.",
    shell_complete=later("complete_symptoms"),
)
@click.option(
    "--unsure",
    multiple=True,
    metavar="SIGN",
    help="A sign that may be there.",
    shell_complete=later("complete_symptoms"),
)
@click.option(
    "--cannot-tell",
    multiple=True,
    metavar="SIGN",
    help="A sign you cannot tell.",
    shell_complete=later("complete_symptoms"),
)
@click.option(
    "-c",
    "--condition",
    multiple=True,
    metavar="NAME=VALUE",
    help='Something about the session: room_temperature="28 °C".',
    shell_complete=later("complete_conditions"),
)
@click.option(
    "--check",
    "checks",
    multiple=True,
    metavar="CHECK=OUTCOME",
    help="A check you made and how it came out.",
    shell_complete=later("complete_checks"),
)
@click.option(
    "--tried",
    multiple=True,
    metavar="REMEDY=RESULT",
    help="What you tried: RESULT is no-change, better or cured.",
    shell_complete=later("complete_remedies"),
)
@click.option(
    "--day", default="", metavar="DATE", help="Day of the plate, as 2026-05-01; ages may be told by a label's date."
)
@click.option("--file", metavar="FILE", help="A plate in TOML or JSON; - reads standard input.")
@click.option("--find-out", is_flag=True, help="Change one thing a plate, to learn; the default is a waiting sitter.")
@click.option("--json", "as_json", is_flag=True, help="The whole answer as JSON (see `diagnose schema`).")
@click.option("--full", is_flag=True, help="The whole answer: plan, reasons, what would change it.")
@click.option("--trace", is_flag=True, help="Every rule that fired, and why.")
@click.option(
    "--why",
    metavar="CAUSE",
    help="How one cause comes about, and its account.",
    shell_complete=later("complete_causes"),
)
@click.option(
    "--why-not", metavar="CAUSE", help="Why one cause does not lead.", shell_complete=later("complete_causes")
)
@click.option("--talk", is_flag=True, help="Go on from here with questions.")
@click.option("--lesson", is_flag=True, help="With --talk: say what you think first; one change a plate.")
@click.option("--keep", is_flag=True, help="Keep the plate in your daybook, and use what the book knows.")
@click.option(
    "--kept", type=int, default=0, metavar="NUMBER", help="Go on with a plate of your daybook, by its number."
)
@click.option(
    "--batch",
    metavar="FILE",
    help="Many plates: a JSON table a line in, leading causes and first action a line out; --full: the whole answer.",
)
@click.option("--out", metavar="FILE", help="With --batch: write here; run again, it goes on where it was broken off.")
@click.option("--workers", metavar="N", help="With --batch: so many processes, or all.")
@click.option("--scheduler", metavar="ADDRESS", help="With --batch: let a Dask cluster do it.")
@click.option("--safelight", is_flag=True, help="As before the command: red and amber on black.")
@click.option("--plain", is_flag=True, help="As before the command: no colour, no symbols.")
@click.pass_context
def plate(context: Context, /, signs: tuple[str, ...], **options: Any) -> None:
    """Diagnose one plate in one go.

    \b
    diagnose plate comets "oyster shells" -c holder_wiped=no
    diagnose plate --shows fog:colour=grey --check proving-plate=fogs --json
    diagnose plate --file plate.toml

    A plate file has the tables [symptoms], [conditions] and [checks]:

    \b
    [symptoms]
    comets = { place = "scattered" }
    fog = false
    [conditions]
    room_temperature = "28 °C"
    """  # noqa: D301 - click wants the letter itself, not backslash and b
    from diagnose.answer import diagnose
    from diagnose.talk import commands, screens
    from diagnose.talk.telling import tell

    if options["batch"]:
        from diagnose.talk.batching import run_batch

        context.exit(run_batch(given_knowledge(context), options, measures=context.obj["units"], signs=signs))
    for flag in ("safelight", "plain"):
        context.obj[flag] = context.obj[flag] or options[flag]
    told = tell(
        options["file"],
        present=(*signs, *options["shows"]),
        absent=options["not_there"],
        unsure=options["unsure"],
        unknown=options["cannot_tell"],
        conditions=options["condition"],
        checks=options["checks"],
        tried=options["tried"],
        day=options["day"],
    )
    knowledge = given_knowledge(context)
    mode = "find-out" if options["find_out"] else "sitter-waiting"
    look = given_look(context)
    if options["keep"] and context.obj["no_book"]:
        raise click.UsageError("--no-book keeps nothing, and --keep keeps the plate; leave one of them out", context)
    talking = options["talk"] or options["lesson"]
    if options["keep"] and not talking:
        from diagnose.talk.day_book import keep_told

        diagnosis = keep_told(given_around(context), told, mode)
    else:
        diagnosis = diagnose(told, knowledge, mode=mode, measures=context.obj["units"])
    shows = ("as_json", "full", "trace", "why", "why_not")
    if talking or (options["kept"] and not any(options[name] for name in shows)):
        in_hand = given_book(context, knowledge, options["kept"])
        lesson = options["lesson"] or context.obj["lesson"]
        commands.run_dialog(knowledge, look, told, mode, _before(context), context.obj["units"], in_hand, lesson=lesson)
    elif options["as_json"]:
        commands.print_json(diagnosis)
    elif options["why"]:
        against = tuple(commands.cause_named(name, diagnosis) for name in (options["why_not"],) if name)
        asked = commands.cause_named(options["why"], diagnosis)
        look.show(screens.why_screen(asked, diagnosis, against), screens.turn_screen(diagnosis))
    elif options["why_not"]:
        look.show(screens.why_not_screen(commands.cause_named(options["why_not"], diagnosis), diagnosis))
    else:
        commands.show_answer(diagnosis, look, full=options["full"], trace=options["trace"])


@main.command()
@click.argument("what", type=click.Choice(["plate", "day"]), default="plate")
@click.option("--find-out", is_flag=True, help="Change one thing a plate, to learn.")
@click.option("--html", "page", default="", metavar="FILE", help="Of the day: as a page to read and print, too.")
@click.pass_context
def demo(context: Context, what: str, find_out: bool, page: str) -> None:
    """Diagnose a demonstration plate from an invented afternoon, or review an invented day."""
    from diagnose.talk import commands

    if what == "day":
        from diagnose.talk.day_reviewing import demonstrate

        demonstrate(given_around(context), page)
        return
    mode = "find-out" if find_out else "sitter-waiting"
    commands.run_demo(given_knowledge(context), given_look(context), mode)


@main.command()
@click.argument("words", nargs=-1)
@click.pass_context
def symptoms(context: Context, words: tuple[str, ...]) -> None:
    """Find a sign by any word for it; without a word, all of them."""
    from diagnose.talk import commands

    if not commands.list_symptoms(" ".join(words), given_knowledge(context), given_look(context)):
        context.exit(1)


@main.group()
def knowledge() -> None:
    """Look after the knowledge files."""


@knowledge.command(name="check")
@click.argument("folders", nargs=-1, metavar="[FOLDER]...")
@click.option("--judged", is_flag=True, help="List the links that rest on judgement alone.")
@click.pass_context
def check_files(context: Context, folders: tuple[str, ...], judged: bool) -> None:
    """Check every knowledge file; all problems at once, each with its line and what to do."""
    from diagnose.talk import commands

    if not commands.check_knowledge(folders or context.obj["folders"], given_look(context), judged=judged):
        context.exit(1)


@knowledge.command(name="numbers")
@click.argument("cause", shell_complete=later("complete_causes"))
@click.pass_context
def show_numbers(context: Context, cause: str) -> None:
    """Show where each number behind a cause comes from."""
    from diagnose.talk import commands

    commands.show_numbers(cause, given_knowledge(context), given_look(context))


@knowledge.command(name="folder")
def show_folder() -> None:
    """Say where the knowledge files are."""
    from diagnose.entries.compiled import knowledge_folder

    click.echo(knowledge_folder())


@main.command()
@click.argument("name", required=False, shell_complete=later("complete_bench"))
@click.argument("given", nargs=-1, metavar="[INPUT=VALUE]...", shell_complete=later("complete_bench"))
@click.option("--json", "as_json", is_flag=True, help="The result as JSON (see `diagnose schema bench`).")
@click.option("--full", is_flag=True, help="How it was worked, too: formula, range, sources.")
@click.pass_context
def bench(context: Context, name: str | None, given: tuple[str, ...], as_json: bool, full: bool) -> None:
    """Work a sum of the darkroom; without a name, list them.

    \b
    diagnose bench silver-to-add volume="900 mL" strength="38 gr/oz" wanted="90 g/L"
    diagnose bench wet-window

    What is not given is asked. Amounts want their unit, any of their kind.
    """  # noqa: D301
    from diagnose.talk import benching

    knowledge = given_knowledge(context)
    if name is None:
        benching.list_sums(knowledge, given_look(context))
    else:
        benching.work(
            name,
            given,
            knowledge,
            given_look(context),
            measures=context.obj["units"],
            as_json=as_json,
            full=full,
            before=_before(context),
        )


@main.command()
@click.argument("which", type=click.Choice(["answer", "plate", "bench", "batch", "review"]), default="answer")
def schema(which: str) -> None:
    """Print the JSON Schema of an answer, a plate file, a sum's result, a batch's answer, or a review."""
    from diagnose.talk import commands

    commands.print_schema(which)


@main.command()
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
def completion(shell: str) -> None:
    """Print the lines that make your shell complete commands, signs and conditions.

    \b
    bash: diagnose completion bash >> ~/.bashrc
    """  # noqa: D301
    from click.shell_completion import get_completion_class

    maker = get_completion_class(shell)
    if maker is not None:
        click.echo(maker(main, {}, "diagnose", "_DIAGNOSE_COMPLETE").source())


def _before(context: Context) -> list[str]:
    """The options given before the command, as they would be typed again."""
    given = context.obj
    flags = [f"--{name}" for name in ("safelight", "plain") if given[name]]
    flags += ["--units", given["units"]] if given["units"] != "metric" else []
    if given["no_book"]:
        flags.append("--no-book")
    elif given["book"]:
        from diagnose.talk.book_place import without_password

        flags += ["--book", without_password(given["book"])]
    return flags + [part for folder in given["folders"] for part in ("--knowledge", folder)]


def run() -> NoReturn:
    """Run the command line and leave with its exit code.

    0 done, 1 something told cannot be used, 2 the command is not used like that, 3 a bug, 130 interrupted.
    """
    from diagnose.talk.letters import print_anywhere

    # One short run makes many small things that live to its end: looking for garbage among them is a tenth of its time.
    gc.set_threshold(100_000, 20, 20)
    try:
        print_anywhere()
        code = main.main(prog_name="diagnose", standalone_mode=False)
        sys.stdout.flush()
    except (click.exceptions.Abort, KeyboardInterrupt):
        code = INTERRUPTED
    except click.ClickException as error:
        error.show()
        code = error.exit_code
    except KnowledgeError as error:
        _say(*map(str, error.problems), f"diagnose: {error}; mend them, then run `diagnose knowledge check`")
        code = error.exit_code
    except DiagnoseError as error:
        # The daybook tells several problems a line each; every other line break was typed by somebody, and is no line of ours.
        _say(*(f"diagnose: {error}".splitlines() if isinstance(error, BookError) else [f"diagnose: {error}"]))
        code = error.exit_code
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = 0
    except OSError as error:
        _say(f"diagnose: cannot write or read: {error.strerror or error}; nothing was changed")
        code = 1
    except Exception as error:  # noqa: BLE001 - the last stop: anything that comes here is a bug of ours
        from diagnose.talk.bug import keep_log

        _say(*keep_log(error))
        code = BUG
    gc.freeze()  # nothing is looked through once more on the way out
    sys.exit(code if isinstance(code, int) else 0)


def _say(*lines: str) -> None:
    for line in lines:
        print(printable(line), file=sys.stderr)  # noqa: T201
