"""What the room keeps. All but `push_subscription` and `calendar_feed` can be reckoned again.

Ids are UUID text, days `YYYY-MM-DD`, times milliseconds of the wall clock; lists are JSON text.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    ForeignKey,
    Index,
    Integer,
    Table,
    Text,
    UniqueConstraint,
)

from sporeline.database import metadata

due_head = Table(
    "due_head",
    metadata,
    Column("logbook", ForeignKey("logbook.id"), primary_key=True),
    Column("seq", BigInteger, nullable=False),
    Column("outlook", BigInteger, nullable=False),
    Column("members", Text, nullable=False),
    Column("turn", BigInteger, nullable=False),
)
"""Up to which entry and which outlook a logbook was reckoned, for which members and roles. `turn`
counts up at each reckoning: who reckoned from an older one may not write."""

due_subject = Table(
    "due_subject",
    metadata,
    Column("logbook", ForeignKey("logbook.id"), primary_key=True),
    Column("subject", Text, primary_key=True),
    Column("again_at", BigInteger, nullable=False),
    Index("due_subject_again", "logbook", "again_at"),
)
"""Boxes and shelves; `again_at`: from when the passing of time alone may change what is due."""

due_inside = Table(
    "due_inside",
    metadata,
    Column("logbook", ForeignKey("logbook.id"), primary_key=True),
    Column("record", Text, primary_key=True),
    Column("container", Text, nullable=False),
    Index("due_inside_container", "logbook", "container"),
)
"""What each record says it is in: a sowing its box, a box its shelf, a double its elder."""

due_need = Table(
    "due_need",
    metadata,
    Column("logbook", ForeignKey("logbook.id"), primary_key=True),
    Column("subject", Text, primary_key=True),
    Column("record", Text, primary_key=True),
    Index("due_need_record", "logbook", "record"),
)
"""From which records a subject's tasks were reckoned; also of such that were not there yet."""

due_row = Table(
    "due_row",
    metadata,
    Column("id", BigInteger().with_variant(Integer, "sqlite"), primary_key=True),
    Column("logbook", ForeignKey("logbook.id"), nullable=False),
    Column("task", Text, nullable=False),
    Column("person", Text, nullable=False),
    Column("subject", Text, nullable=False),
    Column("rule", Text, nullable=False),
    Column("due", Text, nullable=False),
    Column("until", Text),
    Column("title", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("state", Text, nullable=False),
    Column("next_try", BigInteger, nullable=False),
    Column("lease_until", BigInteger, nullable=False),
    Column("tries", Integer, nullable=False),
    Column("reached", Text, nullable=False),
    Column("sequence", Integer, nullable=False),
    Column("changed", BigInteger, nullable=False),
    UniqueConstraint("logbook", "task", "person", name="due_row_once"),
    Index("due_row_next", "state", "next_try"),
    Index("due_row_subject", "logbook", "subject"),
    Index("due_row_person", "person"),
)
"""One row per task and person. `state`: open (to be told at `next_try`), told, unreached (no phone
took it; it stands in the app), closed (answered, or no longer theirs). `reached`: the subscriptions
that took the notice already."""

push_subscription = Table(
    "push_subscription",
    metadata,
    Column("id", Text, primary_key=True),
    Column("device", ForeignKey("device.id"), nullable=False, unique=True),
    Column("person", ForeignKey("person.id"), nullable=False, index=True),
    Column("endpoint", Text, nullable=False),
    Column("endpoint_hash", Text, nullable=False, unique=True),
    Column("p256dh", Text, nullable=False),
    Column("auth", Text, nullable=False),
    Column("vapid_key", Text, nullable=False),
    Column("made", BigInteger, nullable=False),
    Column("accepted", BigInteger),
    Column("refusals", Integer, nullable=False),
    Column("refused_since", BigInteger),
    Column("wait_until", BigInteger, nullable=False),
    Column("dead", Boolean, nullable=False),
)
"""Where a phone takes notices. `dead`: refused again and again; the phone is told to subscribe
anew."""

calendar_feed = Table(
    "calendar_feed",
    metadata,
    Column("person", ForeignKey("person.id"), primary_key=True),
    Column("secret_hash", Text, nullable=False, unique=True),
    Column("made", BigInteger, nullable=False),
    Column("fetched", BigInteger),
)
"""A person's feed of all their logbooks; the secret itself is told once and not kept."""
