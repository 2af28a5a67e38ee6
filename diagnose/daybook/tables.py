"""The tables of a daybook, the same in a file and on a server.

Nothing is ever deleted. Every version of every entry stays in its table; `kept` marks the one that is read. An operation is what
one `add` or one `amend` did; taking it back marks it `undone` and puts the marks of its entries as they were before it.
"""

from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Double,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
)

from diagnose.daybook.keeping import KINDS

NEWEST = "0001"  # the newest of migrations/versions; a book that bears another name was written by another version
METADATA = MetaData()

# Bears the mark of a daybook, and which version of the program wrote it; Alembic keeps it.
VERSION = Table("daybook_version", METADATA, Column("version_num", String(32), primary_key=True))
OPERATIONS = Table(
    "operations",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("kind", Text, nullable=False),
    Column("undone", Boolean, nullable=False),
)
# The one running number over all entries, whatever their kind.
ENTRIES = Table(
    "entries",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("kind", Text, nullable=False),
)
SETTINGS = Table(
    "settings",
    METADATA,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)


def _column(field: str) -> Column[Any]:
    if field in {"told", "made_with"}:
        return Column(field, JSON, nullable=False)
    if field == "given":
        return Column(field, JSON(none_as_null=True))
    if field == "size":
        return Column(field, Double)
    return Column(field, Text, nullable=False)


def _table(kind: str) -> Table:
    """Every version of the entries of one kind."""
    return Table(
        kind,
        METADATA,
        Column("number", ForeignKey("entries.number"), primary_key=True),
        Column("operation", ForeignKey("operations.number"), primary_key=True),
        Column("kept", Boolean, nullable=False),
        Column("at", BigInteger, nullable=False),
        Column("day", Text, nullable=False),
        Column("clock", Text, nullable=False),
        *(_column(field) for field in KINDS[kind][1]),
        Index(f"{kind}_day", "day"),
    )


KEPT = {kind: _table(kind) for kind in KINDS}
