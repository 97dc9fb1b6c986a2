"""Persons, devices, members, invitations; the server's own state."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "server_state",
        sa.Column("name", sa.Text(), primary_key=True),
        sa.Column("value", sa.Text(), nullable=False),
    )
    op.create_table(
        "logbook",
        sa.Column("id", sa.Text(), primary_key=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("begun", sa.BigInteger(), nullable=False),
    )
    op.create_table(
        "person",
        sa.Column("id", sa.Text(), primary_key=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=False),
        sa.Column("begun", sa.BigInteger(), nullable=False),
    )
    op.create_table(
        "device",
        sa.Column("id", sa.Text(), primary_key=True),
        sa.Column("person", sa.Text(), sa.ForeignKey("person.id"), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("token_hash", sa.Text(), unique=True),
        sa.Column("begun", sa.BigInteger(), nullable=False),
        sa.Column("last_seen", sa.BigInteger()),
        sa.Column("shut_out", sa.BigInteger()),
    )
    op.create_index("ix_device_person", "device", ["person"])
    op.create_table(
        "shut_out",
        sa.Column("device", sa.Text(), sa.ForeignKey("device.id"), primary_key=True),
        sa.Column("logbook", sa.Text(), sa.ForeignKey("logbook.id"), primary_key=True),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
    )
    op.create_table(
        "member",
        sa.Column("logbook", sa.Text(), sa.ForeignKey("logbook.id"), primary_key=True),
        sa.Column("person", sa.Text(), sa.ForeignKey("person.id"), primary_key=True),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("since", sa.BigInteger(), nullable=False),
    )
    op.create_index("member_person", "member", ["person"])
    op.create_table(
        "invitation",
        sa.Column("id", sa.Text(), primary_key=True),
        sa.Column("code_hash", sa.Text(), nullable=False, unique=True),
        sa.Column("logbook", sa.Text(), sa.ForeignKey("logbook.id"), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("person", sa.Text(), sa.ForeignKey("person.id")),
        sa.Column("by", sa.Text()),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.Column("expires", sa.BigInteger(), nullable=False),
        sa.Column("used", sa.BigInteger()),
        sa.Column("used_by", sa.Text(), sa.ForeignKey("device.id")),
    )
    op.create_index("ix_invitation_logbook", "invitation", ["logbook"])
