"""The command line of the drill: options only; each command is one call into talk/."""

from typing import Any

import click

from diagnose.cli_shared import Context, given_around


@click.group(invoke_without_command=True)
@click.option("--count", type=click.IntRange(1, 500), default=10, show_default=True, help="How many plates.")
@click.option("--seed", default="", metavar="WORD", help="The same plates for the same seed; without it, fresh ones.")
@click.option("--level", type=click.Choice(["easy", "middle", "hard"]), help="How close the look-alikes are.")
@click.option(
    "--student", default="", metavar="NAME", help="Whatever you call the student; stays in the file of --keep."
)
@click.option("--keep", default="", metavar="FILE", help="Keep the answers there, and bring back what was missed.")
@click.option("--from-book", is_flag=True, help="Plates of your daybook with a confirmed cause, instead of drawn ones.")
@click.option("--pictures", default="", metavar="FOLDER", help="Write the drawings there.")
@click.option("--words", is_flag=True, help="No drawings: everything in words.")
@click.option(
    "--class", "paper", default="", metavar="FILE",
    help="Make a numbered set with an answer key instead: .html to print or project, .txt or .json.",
)  # fmt: skip
@click.option("--missed", default="", metavar="FILE", help="With --class: bring back what was missed in these answers.")
@click.option("--title", default="", metavar="WORDS", help="With --class: what stands above the set.")
@click.pass_context
def drill(context: Context, /, **options: Any) -> None:
    """Practise on invented plates: you say first, then the tool.

    \b
    diagnose drill --level easy
    diagnose drill --student Anna --keep class.jsonl
    diagnose drill --class set.html --seed may --count 12
    diagnose drill report class.jsonl
    """  # noqa: D301
    if context.invoked_subcommand is not None:
        return
    from diagnose.talk import drill_desk

    if options["paper"]:
        drill_desk.make_set(given_around(context), options)
    else:
        drill_desk.practise(given_around(context), options)


@drill.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("--student", default="", metavar="NAME", help="This one alone.")
@click.option("--json", "as_json", is_flag=True, help="The report as JSON.")
@click.pass_context
def report(context: Context, /, files: tuple[str, ...], **options: Any) -> None:
    """Show how sure each student is against how right, what is taken for what, and what to practise next."""
    from diagnose.talk import drill_desk

    drill_desk.show_report(given_around(context), files, options)
