"""The log of entries and what is derived from it."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def key() -> sa.Column:
    return sa.Column("key", sa.Integer(), sa.ForeignKey("logbook_head.key"), primary_key=True)


def seq() -> sa.Column:
    return sa.Column("seq", sa.BigInteger(), primary_key=True, autoincrement=False)


def upgrade() -> None:
    op.create_table(
        "logbook_head",
        sa.Column("key", sa.Integer(), primary_key=True),
        sa.Column("logbook", sa.Text(), sa.ForeignKey("logbook.id"), nullable=False, unique=True),
        sa.Column("epoch", sa.Text(), nullable=False),
        sa.Column("head", sa.BigInteger(), nullable=False),
        sa.Column("backed_up_epoch", sa.Text()),
        sa.Column("backed_up_seq", sa.BigInteger()),
        sa.Column("backed_up_at", sa.BigInteger()),
    )
    op.create_table(
        "entry",
        key(),
        seq(),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("received", sa.BigInteger(), nullable=False),
        sa.Column("held", sa.Boolean(), nullable=False),
        sa.Column("vouched", sa.Boolean(), nullable=False),
        sa.Column("via", sa.Text()),
        sa.Column("errors", sa.Text()),
        sa.Column("only_for", sa.Text()),
        sa.UniqueConstraint("key", "id"),
    )
    op.create_table("entry_moved", key(), seq(), sa.Column("id", sa.Text(), nullable=False))
    op.create_table(
        "filing",
        key(),
        sa.Column("record", sa.Text(), primary_key=True),
        seq(),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "record",
        key(),
        sa.Column("id", sa.Text(), primary_key=True),
        sa.Column("type", sa.Text()),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("changed", sa.BigInteger(), nullable=False),
    )
    op.create_index("record_type", "record", ["key", "type"])
    op.create_index("record_changed", "record", ["key", "changed"])
    op.create_table(
        "photo_named",
        key(),
        sa.Column("sha256", sa.Text(), primary_key=True),
        sa.Column("type", sa.Text(), nullable=False),
    )
    op.create_table(
        "number_block",
        key(),
        sa.Column("series", sa.Text(), primary_key=True),
        sa.Column("last", sa.Integer(), primary_key=True, autoincrement=False),
        sa.Column("first", sa.Integer(), nullable=False),
        sa.Column("device", sa.Text()),
    )
    op.create_index("number_block_device", "number_block", ["key", "device"])
    op.create_table(
        "outlook",
        key(),
        sa.Column("about", sa.Text(), primary_key=True),
        sa.Column("n", sa.BigInteger(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
    )
    op.create_index("outlook_n", "outlook", ["key", "n"])
