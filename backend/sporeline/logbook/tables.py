"""The log and what is derived from it.

`key` is a small number for a logbook within this database: it stands in every row and index of the
log, where 36 characters of an id would double the size of the indexes.
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
    type_coerce,
)

from sporeline.database import metadata

head = Table(
    "logbook_head",
    metadata,
    Column("key", Integer, primary_key=True),
    Column("logbook", ForeignKey("logbook.id"), nullable=False, unique=True),
    Column("epoch", Text, nullable=False),
    Column("head", BigInteger, nullable=False),
    Column("backed_up_epoch", Text),
    Column("backed_up_seq", BigInteger),
    Column("backed_up_at", BigInteger),
)
"""Where a logbook's numbering stands. Whoever writes to a logbook locks its row first."""


def _key() -> Column[int]:
    return Column("key", ForeignKey("logbook_head.key"), primary_key=True)


entry = Table(
    "entry",
    metadata,
    _key(),
    Column("seq", BigInteger, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False),
    Column("text", Text, nullable=False),
    Column("received", BigInteger, nullable=False),
    Column("held", Boolean, nullable=False),
    Column("vouched", Boolean, nullable=False),
    Column("via", Text),
    Column("errors", Text),
    Column("only_for", Text),
    UniqueConstraint("key", "id"),
)
"""`text`: the JSON of the content, as it is joined into answers. `via`: the device that brought
what its author has not. `errors`: why it is held. `only_for`: its author, when nobody but growers
may see it beside them."""

is_held = type_coerce(entry.c.held, Integer)
is_vouched = type_coerce(entry.c.vouched, Integer)
"""As the database gives them, true or 1: thousands of rows need not be made into bool one by one."""

moved = Table(
    "entry_moved",
    metadata,
    _key(),
    Column("seq", BigInteger, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False),
)
"""Numbers under which an entry once stood: a phone's cursor may still point there."""

filing = Table(
    "filing",
    metadata,
    _key(),
    Column("record", Text, primary_key=True),
    Column("seq", BigInteger, primary_key=True, autoincrement=False),
    sqlite_with_rowid=False,
)
"""Which entries concern which record, by `about` and `also`."""

record = Table(
    "record",
    metadata,
    _key(),
    Column("id", Text, primary_key=True),
    Column("type", Text),
    Column("body", Text, nullable=False),
    Column("changed", BigInteger, nullable=False),
    Index("record_type", "key", "type"),
    Index("record_changed", "key", "changed"),
)
"""The folded records; `changed` is the head of the logbook when it was last folded."""

photo_named = Table(
    "photo_named",
    metadata,
    _key(),
    Column("sha256", Text, primary_key=True),
    Column("type", Text, nullable=False),
)
"""Photos that an entry of this logbook names, held and struck ones too."""

number_block = Table(
    "number_block",
    metadata,
    _key(),
    Column("series", Text, primary_key=True),
    Column("last", Integer, primary_key=True, autoincrement=False),
    Column("first", Integer, nullable=False),
    Column("device", Text),
    Index("number_block_device", "key", "device"),
)
"""Running numbers that were handed out. No device: a gap that nobody gets."""

outlook = Table(
    "outlook",
    metadata,
    _key(),
    Column("about", Text, primary_key=True),
    Column("n", BigInteger, nullable=False),
    Column("body", Text, nullable=False),
    Index("outlook_n", "key", "n"),
)
"""What is likely of a record, as it travels; the highest `n` wins."""
