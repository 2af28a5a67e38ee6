"""The command line of the daybook: options only; each command is one call into talk/."""

from typing import Any

import click

from diagnose.cli_shared import Context, given_around, later

AT = click.option("--at", "clock", default="", metavar="TIME", help="When it was, as 14:05; now, if not given.")
DAY = click.option("--day", default="", metavar="DATE", help="Which day, as 2026-05-01; today, if not given.")
WHO = click.option("--who", default="", metavar="NAME", help="Who made it, where several use the book. Never a sitter.")
NOTE = click.option("--note", default="", metavar="WORDS", help="Anything else about the work.")
WITH = click.option(
    "--with", "made_with", multiple=True, metavar="THING=NAME", help='What it was made with: holder=B collodion="May".'
)
CONDITION = click.option(
    "-c", "--condition", multiple=True, metavar="NAME=VALUE", help='Something about it: exposure_time="4 s".',
    shell_complete=later("complete_conditions"),
)  # fmt: skip
FORM = click.option(
    "--form", type=click.Choice(["json", "toml", "csv"]), help="Which form; by the file's ending, if not given."
)


@click.group(invoke_without_command=True)
@click.pass_context
def day(context: Context) -> None:
    """Keep the daybook, and review the day.

    Without a command it shows how the day stands.

    \b
    diagnose day good
    diagnose day mixed developer "500 mL"
    diagnose day filtered bath
    diagnose day review
    """  # noqa: D301
    if context.obj["no_book"]:
        raise click.UsageError("these commands are about the book; leave --no-book out", context)
    if context.invoked_subcommand is None:
        from diagnose.talk.day_standing import show_day

        show_day(given_around(context))


@day.command()
@WITH
@CONDITION
@AT
@DAY
@WHO
@NOTE
@click.pass_context
def good(context: Context, /, **options: Any) -> None:
    """Keep a good plate; they tell as much as the bad ones."""
    from diagnose.talk import day_book

    day_book.keep_plate(given_around(context), "good", (), options)


@day.command()
@click.argument("signs", nargs=-1, required=True, metavar="SIGN...", shell_complete=later("complete_symptoms"))
@WITH
@CONDITION
@AT
@DAY
@WHO
@NOTE
@click.pass_context
def bad(context: Context, /, signs: tuple[str, ...], **options: Any) -> None:
    """Keep a spoiled plate by its signs, without the talk."""
    from diagnose.talk import day_book

    day_book.keep_plate(given_around(context), "spoiled", signs, options)


@day.command()
@click.argument("words", nargs=-1, required=True)
@AT
@DAY
@WHO
@click.pass_context
def note(context: Context, /, words: tuple[str, ...], **options: Any) -> None:
    """Keep a remark on the day. No sitter's name, please."""
    from diagnose.talk import day_book

    day_book.keep_note(given_around(context), " ".join(words), options)


def work_command(name: str, said: str) -> None:
    """One command for one kind of work on what stands behind the plates."""

    @day.command(name=name, help=said)
    @click.argument("thing")
    @click.argument("amount", required=False, default="")
    @click.option("--name", default="", metavar="NAME", help="Which one, where there are several.")
    @AT
    @DAY
    @WHO
    @NOTE
    @click.pass_context
    def command(context: Context, /, thing: str, amount: str, **options: Any) -> None:
        from diagnose.talk import day_works

        day_works.keep_work(given_around(context), name, thing, amount, options)


for _name, _said in (
    ("mixed", "Keep that something new was mixed or opened."),
    ("took", "Keep which one is in use now: took holder --name B."),
    ("filtered", "Keep that the bath (or collodion) was filtered."),
    ("sunned", "Keep that the bath was sunned."),
    ("aired", "Keep that the bath was aired."),
    ("topped-up", "Keep that something was topped up."),
    ("acid-added", "Keep that acid was put to bath or developer."),
    ("alkali-added", "Keep that the bath was eased with alkali."),
    ("silver-added", "Keep that silver was put to the bath."),
    ("cleaned", "Keep that holder, tank or room was cleaned."),
):
    work_command(_name, _said)


@day.command()
@click.argument("remedy", shell_complete=later("complete_remedies"))
@click.option("--name", default="", metavar="NAME", help="On which one, where there are several.")
@AT
@DAY
@WHO
@NOTE
@click.pass_context
def did(context: Context, /, remedy: str, **options: Any) -> None:
    """Keep that a remedy was carried out, by its name."""
    from diagnose.talk import day_works

    day_works.keep_remedy(given_around(context), remedy, options)


@day.command(name="set")
@click.argument("values", nargs=-1, required=True, metavar="NAME=VALUE...", shell_complete=later("complete_conditions"))
@AT
@DAY
@click.pass_context
def set_values(context: Context, /, values: tuple[str, ...], **options: Any) -> None:
    """Keep what holds until it changes.

    \b
    diagnose day set room_temperature="28 °C" fixer=hypo holder=B
    diagnose day set room_temperature=

    Without a value it is not known any more.
    """  # noqa: D301
    from diagnose.talk import day_works

    day_works.keep_values(given_around(context), values, options)


@day.command()
@click.argument("number", type=int, required=False)
@click.argument("cause", required=False, default="", shell_complete=later("complete_causes"))
@click.option("--not-known", is_flag=True, help="Take a confirmed cause back.")
@click.pass_context
def confirm(context: Context, number: int | None, cause: str, not_known: bool) -> None:
    """Say which cause it turned out to be.

    \b
    diagnose day confirm 12 dirty-holder

    Only what is confirmed is learned from. Without a number it lists the plates that still wait.
    """  # noqa: D301
    if cause and not_known:
        raise click.UsageError("a cause and --not-known do not go together; leave one of them out", context)
    from diagnose.talk import day_desk

    day_desk.confirm(given_around(context), number, cause, not_known=not_known)


@day.command()
@click.pass_context
def undo(context: Context) -> None:
    """Take the last entry back; again, the one before it."""
    from diagnose.talk import day_desk

    day_desk.undo(given_around(context))


@day.command(name="list")
@click.argument("date", required=False, default="")
@click.pass_context
def list_day(context: Context, date: str) -> None:
    """List what was kept of a day; of today, if none is named."""
    from diagnose.talk import day_desk

    day_desk.list_entries(given_around(context), date)


@day.command()
@click.argument("date", required=False, default="")
@click.option("--from", "first", default="", metavar="DATE", help="From this day on.")
@click.option("--to", "last", default="", metavar="DATE", help="Up to this day.")
@click.option("--html", "page", default="", metavar="FILE", help="As a page to read and print, too.")
@click.option("--full", is_flag=True, help="All of it, not only what to do.")
@click.option("--json", "as_json", is_flag=True, help="As JSON.")
@click.pass_context
def review(context: Context, /, **options: Any) -> None:
    """Say what the failures share; one test for tomorrow.

    \b
    diagnose day review
    diagnose day review 2026-05-01 --html review.html
    diagnose day review --from 2026-05-01 --to 2026-05-31 --full
    """  # noqa: D301
    from diagnose.talk import day_reviewing

    day_reviewing.review(given_around(context), options)


@day.command()
@click.argument("file", required=False, default="-")
@DAY
@click.pass_context
def enter(context: Context, /, file: str, **options: Any) -> None:
    """Type in a paper log sheet, a line a plate.

    Typed lines are kept one by one; those of a FILE all together, or not at all.

    \b
    14:05 good
    14:20 bad comets, fog; holder B
    14:40 mixed developer 500 mL
    """  # noqa: D301
    from diagnose.talk import day_entering

    if not day_entering.enter(given_around(context), file, options["day"]):
        context.exit(1)


@day.command()
@click.option("-o", "--out", required=True, metavar="FILE", help="Where to write the page.")
@DAY
@click.pass_context
def sheet(context: Context, /, out: str, **options: Any) -> None:
    """Make a paper log sheet to print, A4 or Letter."""
    from diagnose.talk import day_papers

    day_papers.sheet(given_around(context), out, options["day"])


@day.command(name="export")
@click.argument("file", default="-")
@FORM
@click.option("--from", "first", default="", metavar="DATE", help="From this day on.")
@click.option("--to", "last", default="", metavar="DATE", help="Up to this day.")
@click.option("--no-notes", is_flag=True, help="Without notes, stories and names.")
@click.pass_context
def export_book(context: Context, /, file: str, **options: Any) -> None:
    """Write the book out as JSON, TOML or CSV."""
    from diagnose.talk import day_papers

    day_papers.export_book(given_around(context), file, options)


@day.command(name="import")
@click.argument("file")
@FORM
@click.pass_context
def import_book(context: Context, file: str, form: str | None) -> None:
    """Read entries in from JSON, TOML or CSV, all or none."""
    from diagnose.talk import day_papers

    day_papers.import_book(given_around(context), file, form)


@day.command()
@click.argument("what", type=click.Choice(["show", "on", "off", "reset"]), default="show")
@click.option("--json", "as_json", is_flag=True, help="The rates as JSON.")
@click.pass_context
def learning(context: Context, what: str, as_json: bool) -> None:
    """Show what confirmed causes taught; on, off, or reset.

    The rates of your studio stand beside the knowledge's own.
    """
    from diagnose.talk import day_learning

    day_learning.learning(given_around(context), what, as_json=as_json)


@day.command()
@click.option("--workers", default="all", metavar="N", help="How many processes; all cores, if not given.")
@click.option("--scheduler", default="", metavar="ADDRESS", help="A Dask scheduler to do it.")
@click.option("--json", "as_json", is_flag=True, help="As JSON lines.")
@click.pass_context
def again(context: Context, /, **options: Any) -> None:
    """Diagnose all spoiled plates of the book anew, with the knowledge of today."""
    from diagnose.talk import day_learning

    day_learning.again(given_around(context), options)


@day.command()
@click.pass_context
def where(context: Context) -> None:
    """Say where the book is."""
    from diagnose.talk import day_desk

    day_desk.where(given_around(context))


@day.command()
@click.argument("file")
@click.pass_context
def backup(context: Context, file: str) -> None:
    """Write a whole copy of the book to a file."""
    from diagnose.talk import day_desk

    day_desk.backup(given_around(context), file)


@day.command()
@click.pass_context
def check(context: Context) -> None:
    """Look whether the book is sound."""
    from diagnose.talk import day_desk

    if not day_desk.check(given_around(context)):
        context.exit(1)
