"""The first tables of the daybook."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make every table."""
    op.create_table("operations", _number(), _words("kind"), sa.Column("undone", sa.Boolean(), nullable=False))
    op.create_table("entries", _number(), _words("kind"))
    op.create_table("settings", sa.Column("name", sa.Text(), primary_key=True), _words("value"))
    _kind(
        "plates",
        _words("outcome"),
        sa.Column("told", sa.JSON(), nullable=False),
        sa.Column("made_with", sa.JSON(), nullable=False),
        sa.Column("size", sa.Double()),
        sa.Column("given", sa.JSON()),
        *map(_words, ("confirmed", "confirmed_by", "who", "note")),
    )
    _kind("works", *map(_words, ("work", "thing", "name", "remedy", "amount", "who", "note")))
    _kind("values", *map(_words, ("condition", "value", "name")))
    _kind("notes", *map(_words, ("note", "who")))


def _kind(name: str, *columns: sa.Column[Any]) -> None:
    op.create_table(
        name,
        sa.Column("number", sa.Integer(), sa.ForeignKey("entries.number"), primary_key=True),
        sa.Column("operation", sa.Integer(), sa.ForeignKey("operations.number"), primary_key=True),
        sa.Column("kept", sa.Boolean(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        _words("day"),
        _words("clock"),
        *columns,
    )
    op.create_index(f"{name}_day", name, ["day"])


def _number() -> sa.Column[Any]:
    return sa.Column("number", sa.Integer(), primary_key=True, autoincrement=False)


def _words(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=False)
