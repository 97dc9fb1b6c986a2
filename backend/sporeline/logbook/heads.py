"""Where a logbook's numbering stands, and whether a phone's place in it is one of ours.

The number is a counter row, raised in the transaction that writes the entries: its lock makes the
order of commits the order of numbers. A sequence would not (a reader at 101 never sees 100 again).
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    Insert,
    Row,
    Table,
    Text,
    any_,
    bindparam,
    func,
    literal,
    select,
)
from sqlalchemy.dialects import postgresql, sqlite

from sporeline.errors import Diverged
from sporeline.logbook.tables import entry, head, moved


@dataclass(frozen=True)
class Head:
    """A logbook's row. `seq`: the highest number given so far."""

    key: int
    epoch: str
    seq: int
    backed_up: dict[str, Any] | None = None
    """`{"epoch", "seq", "at"}` of the last verified backup; `at` in milliseconds."""


@dataclass(frozen=True)
class Place:
    """A phone's place in the history: a number and the entry that stood there (0: none yet)."""

    epoch: str
    seq: int
    entry: str | None


_by_logbook = select(head).where(head.c.logbook == bindparam("in_logbook"))
_standing, _stood_before = (
    select(table.c.id).where(table.c.key == bindparam("in_key"), table.c.seq == bindparam("at"))
    for table in (entry, moved)
)


def head_row(c: Connection, logbook: str) -> Head | None:
    """Where it stands; None when nothing was ever written to it."""
    return _told(c.execute(_by_logbook, {"in_logbook": logbook}).one_or_none())


def head_of(c: Connection, logbook: str) -> int:
    """The highest number given so far; 0 when none was."""
    return c.scalar(select(head.c.head).where(head.c.logbook == logbook)) or 0


def lock_head(c: Connection, logbook: str, new_epoch: str) -> Head:
    """Lock the logbook for this transaction; must come before anything else is read of it.

    A logbook that nobody has written to yet gets its row, with `new_epoch`.
    """
    query, which = _by_logbook.with_for_update(), {"in_logbook": logbook}
    found = _told(c.execute(query, which).one_or_none())
    if found is None:
        new = insert_of(c, head).values(logbook=logbook, epoch=new_epoch, head=0)
        c.execute(new.on_conflict_do_nothing())
        found = _told(c.execute(query, which).one())
    assert found is not None
    return found


def raise_head(c: Connection, locked: Head, seq: int) -> None:
    """Set the highest number given."""
    if seq != locked.seq:
        c.execute(head.update().where(head.c.key == locked.key).values(head=seq))


def check_place(c: Connection, here: Head, place: Place | None) -> None:
    """:raise Diverged: that place is not in this history."""
    if place is None:
        return
    if place.epoch != here.epoch or not _stood(c, here.key, place):
        raise Diverged(here.epoch, here.seq)


def insert_of(c: Connection, table: Table) -> Any:
    """An insert that knows `ON CONFLICT`, which both databases have and SQL itself has not."""
    dialect = postgresql if c.dialect.name == "postgresql" else sqlite
    made: Insert = dialect.insert(table)
    return made


def among(c: Connection, column: ColumnElement[str], ids: Iterable[str]) -> ColumnElement[bool]:
    """Whether the column has one of many values, as one parameter whatever their number."""
    if c.dialect.name == "postgresql":
        return column == any_(literal(list(ids), postgresql.ARRAY(Text)))
    return column.in_(select(func.json_each(json.dumps(list(ids))).table_valued("value").c.value))


def _stood(c: Connection, key: int, place: Place) -> bool:
    """Whether that entry stands at that number, or did until its verdict changed."""
    if place.seq <= 0:
        return place.seq == 0
    here = {"in_key": key, "at": place.seq}
    stands = c.scalar(_standing, here) or c.scalar(_stood_before, here)
    return stands is not None and stands == place.entry


def _told(row: Row[*tuple[Any, ...]] | None) -> Head | None:
    if row is None:
        return None
    at = row.backed_up_at
    mark = {"epoch": row.backed_up_epoch, "seq": row.backed_up_seq, "at": at}
    return Head(row.key, row.epoch, row.head, mark if at is not None else None)
