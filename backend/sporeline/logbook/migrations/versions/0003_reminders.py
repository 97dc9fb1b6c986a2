"""What is due for whom, where phones take notices, calendar feeds."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def _logbook() -> sa.Column[str]:
    return sa.Column("logbook", sa.Text(), sa.ForeignKey("logbook.id"), primary_key=True)


def upgrade() -> None:
    op.create_table(
        "due_head",
        _logbook(),
        sa.Column("seq", sa.BigInteger(), nullable=False),
        sa.Column("outlook", sa.BigInteger(), nullable=False),
        sa.Column("members", sa.Text(), nullable=False),
        sa.Column("turn", sa.BigInteger(), nullable=False),
    )
    op.create_table(
        "due_subject",
        _logbook(),
        sa.Column("subject", sa.Text(), primary_key=True),
        sa.Column("again_at", sa.BigInteger(), nullable=False),
    )
    op.create_index("due_subject_again", "due_subject", ["logbook", "again_at"])
    op.create_table(
        "due_inside",
        _logbook(),
        sa.Column("record", sa.Text(), primary_key=True),
        sa.Column("container", sa.Text(), nullable=False),
    )
    op.create_index("due_inside_container", "due_inside", ["logbook", "container"])
    op.create_table(
        "due_need",
        _logbook(),
        sa.Column("subject", sa.Text(), primary_key=True),
        sa.Column("record", sa.Text(), primary_key=True),
    )
    op.create_index("due_need_record", "due_need", ["logbook", "record"])
    _due_row()
    _subscriptions_and_feeds()


def _due_row() -> None:
    op.create_table(
        "due_row",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer, "sqlite"), primary_key=True),
        sa.Column("logbook", sa.Text(), sa.ForeignKey("logbook.id"), nullable=False),
        sa.Column("task", sa.Text(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("due", sa.Text(), nullable=False),
        sa.Column("until", sa.Text()),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("next_try", sa.BigInteger(), nullable=False),
        sa.Column("lease_until", sa.BigInteger(), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("reached", sa.Text(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("changed", sa.BigInteger(), nullable=False),
        sa.UniqueConstraint("logbook", "task", "person", name="due_row_once"),
    )
    op.create_index("due_row_next", "due_row", ["state", "next_try"])
    op.create_index("due_row_subject", "due_row", ["logbook", "subject"])
    op.create_index("due_row_person", "due_row", ["person"])


def _subscriptions_and_feeds() -> None:
    op.create_table(
        "push_subscription",
        sa.Column("id", sa.Text(), primary_key=True),
        sa.Column("device", sa.Text(), sa.ForeignKey("device.id"), nullable=False, unique=True),
        sa.Column("person", sa.Text(), sa.ForeignKey("person.id"), nullable=False),
        sa.Column("endpoint", sa.Text(), nullable=False),
        sa.Column("endpoint_hash", sa.Text(), nullable=False, unique=True),
        sa.Column("p256dh", sa.Text(), nullable=False),
        sa.Column("auth", sa.Text(), nullable=False),
        sa.Column("vapid_key", sa.Text(), nullable=False),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.Column("accepted", sa.BigInteger()),
        sa.Column("refusals", sa.Integer(), nullable=False),
        sa.Column("refused_since", sa.BigInteger()),
        sa.Column("wait_until", sa.BigInteger(), nullable=False),
        sa.Column("dead", sa.Boolean(), nullable=False),
    )
    op.create_index("ix_push_subscription_person", "push_subscription", ["person"])
    op.create_table(
        "calendar_feed",
        sa.Column("person", sa.Text(), sa.ForeignKey("person.id"), primary_key=True),
        sa.Column("secret_hash", sa.Text(), nullable=False, unique=True),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.Column("fetched", sa.BigInteger()),
    )
