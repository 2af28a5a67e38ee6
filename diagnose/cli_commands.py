"""The commands as a group; those of daybook and teaching are made when they are wanted, because a start must be quick."""

import click

from diagnose.cli_shared import Context
from diagnose.errors import DiagnoseError

TEACHING = ("handbook", "why")


class Commands(click.Group):
    """The commands; a sign typed in a command's place is told where it belongs."""

    def list_commands(self, ctx: Context) -> list[str]:
        """The names of all commands."""
        return sorted((*super().list_commands(ctx), "day", "drill", *TEACHING))

    def get_command(self, ctx: Context, cmd_name: str) -> click.Command | None:
        """A command by its name; some are made when they are wanted: a start must be quick."""
        if cmd_name == "day":
            from diagnose.cli_day import day

            return day
        if cmd_name == "drill":
            from diagnose.cli_drill import drill

            return drill
        if cmd_name in TEACHING:
            from diagnose import cli_teach

            command: click.Command = getattr(cli_teach, cmd_name)
            return command
        return super().get_command(ctx, cmd_name)

    def resolve_command(self, ctx: Context, args: list[str]) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or say what was probably meant."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            from diagnose.entries.compiled import read_knowledge
            from diagnose.facts import find_symptom

            try:
                known = find_symptom(args[0], read_knowledge())
            except DiagnoseError:
                known = None
            if known:
                raise click.UsageError(
                    f"{args[0]!r} is a sign, not a command; write: diagnose plate {args[0]}", ctx
                ) from None
            raise error from None
