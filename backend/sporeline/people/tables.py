"""Who there is and who shares what. Ids are UUIDv7 text, times are milliseconds of the wall clock."""

from __future__ import annotations

from sqlalchemy import BigInteger, Column, ForeignKey, Index, Table, Text, UniqueConstraint

from sporeline.database import metadata

logbook = Table(
    "logbook",
    metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("begun", BigInteger, nullable=False),
)

person = Table(
    "person",
    metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("initials", Text, nullable=False),
    Column("begun", BigInteger, nullable=False),
)

device = Table(
    "device",
    metadata,
    Column("id", Text, primary_key=True),
    Column("person", ForeignKey("person.id"), nullable=False, index=True),
    Column("label", Text, nullable=False),
    Column("token_hash", Text, unique=True),
    Column("begun", BigInteger, nullable=False),
    Column("last_seen", BigInteger),
    Column("shut_out", BigInteger),
)
"""`token_hash` is empty when signed out; `last_seen` is empty until the token was used once;
`shut_out` is set when the phone is shut out of every logbook of its person."""

shut_out = Table(
    "shut_out",
    metadata,
    Column("device", ForeignKey("device.id"), primary_key=True),
    Column("logbook", ForeignKey("logbook.id"), primary_key=True),
    Column("at", BigInteger, nullable=False),
    Column("by", Text, nullable=False),
)
"""One logbook's owner decides for that logbook alone: another's phones are not theirs to judge."""

member = Table(
    "member",
    metadata,
    Column("logbook", ForeignKey("logbook.id"), primary_key=True),
    Column("person", ForeignKey("person.id"), primary_key=True),
    Column("role", Text, nullable=False),
    Column("since", BigInteger, nullable=False),
    Index("member_person", "person"),
)

invitation = Table(
    "invitation",
    metadata,
    Column("id", Text, primary_key=True),
    Column("code_hash", Text, nullable=False),
    Column("logbook", ForeignKey("logbook.id"), nullable=False, index=True),
    Column("role", Text, nullable=False),
    Column("person", ForeignKey("person.id")),
    Column("by", Text),
    Column("made", BigInteger, nullable=False),
    Column("expires", BigInteger, nullable=False),
    Column("used", BigInteger),
    Column("used_by", ForeignKey("device.id")),
    UniqueConstraint("code_hash"),
)
"""`person` set: a further phone of that person. `by` empty: the operator, on the server itself."""
