"""The command line of the teaching: options only; each command is one call into talk/."""

import click

from diagnose.cli_shared import Context, given_around, given_knowledge, given_look, later


@click.command()
@click.argument("names", nargs=-1, required=True, metavar="NAME...", shell_complete=later("complete_why"))
@click.option("--json", "as_json", is_flag=True, help="The page as JSON.")
@click.option("--safelight", is_flag=True, help="As before the command: red and amber on black.")
@click.option("--plain", is_flag=True, help="As before the command: no colour, no symbols.")
@click.pass_context
def why(context: Context, names: tuple[str, ...], as_json: bool, safelight: bool, plain: bool) -> None:
    """Teach why: the chain of a cause, or a sign and what may be behind it.

    A cause or a sign by any name it has; two causes are set side by side.

    \b
    diagnose why over-exposed
    diagnose why oyster shells
    diagnose why weak-bath lifted-too-soon
    """  # noqa: D301 - click wants the letter itself, not backslash and b
    from diagnose.talk.explaining_why import show_why

    context.obj["safelight"] = context.obj["safelight"] or safelight
    context.obj["plain"] = context.obj["plain"] or plain
    show_why(names, given_knowledge(context), given_look(context), as_json=as_json)


@click.command()
@click.option("-o", "--out", required=True, metavar="FILE", help="The page to write, such as handbook.html.")
@click.pass_context
def handbook(context: Context, out: str) -> None:
    """Make the handbook: one page to search, to read and to print for a class.

    Every sign with its drawing, every cause with its chain, checks, glossary, safety and sources, from the knowledge as it is.
    """
    from diagnose.talk.handbook_out import write_handbook

    write_handbook(given_around(context), out)
