"""The folded records, as other rooms read them."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable
from typing import Any

from sqlalchemy import Connection, Select, select

from sporeline.logbook.filing import Refold, beside, refold
from sporeline.logbook.heads import among
from sporeline.logbook.tables import entry, filing, head, is_held, photo_named, record

StoredRecord = dict[str, Any]
"""A folded record (`kernel.record.Record`) without `facts` and `heads`."""

AT_ONCE = 500


def read_records(
    c: Connection,
    logbook: str,
    *,
    types: Collection[str] | None = None,
    ids: Collection[str] | None = None,
) -> list[StoredRecord]:
    """Records of this logbook, by id; all, or those of some types, or those with some ids."""
    query = select(record.c.body).where(record.c.key == _key(logbook))
    if types is not None:
        query = query.where(record.c.type.in_(list(types)))
    if ids is None:
        return _bodies(c, query)
    return _bodies(c, query.where(among(c, record.c.id, ids)))


def read_entries(c: Connection, logbook: str, ids: Iterable[str]) -> list[dict[str, Any]]:
    """These entries with `state` and `received` beside them, in the order of their numbers."""
    columns = (entry.c.text, entry.c.received, is_held)
    here = (entry.c.key == _key(logbook)) & among(c, entry.c.id, ids)
    return [beside(*row) for row in c.execute(select(*columns).where(here).order_by(entry.c.seq))]


def changed_since(c: Connection, logbook: str, seq: int) -> list[str]:
    """Ids of the records that were folded again after the logbook's head was `seq`."""
    here = (record.c.key == _key(logbook)) & (record.c.changed > seq)
    return list(c.scalars(select(record.c.id).where(here).order_by(record.c.id)))


def type_of_photo(c: Connection, logbook: str, sha256: str) -> str | None:
    """The media type that an entry of this logbook gives to a photo; None: no entry names it."""
    here = (photo_named.c.key == _key(logbook)) & (photo_named.c.sha256 == sha256)
    return c.scalar(select(photo_named.c.type).where(here))


def rebuild(c: Connection, logbook: str) -> int:
    """Throw the records away and fold all of them anew; gives how many there are.

    All count as changed at the present head; whoever stands there already must look at all.
    """
    row = c.execute(select(head).where(head.c.logbook == logbook).with_for_update()).one_or_none()
    if row is None:
        return 0
    c.execute(record.delete().where(record.c.key == row.key))
    ids = list(c.scalars(select(filing.c.record).where(filing.c.key == row.key).distinct()))
    for at in range(0, len(ids), AT_ONCE):  # not all of a large logbook in memory at once
        refold(c, row.key, Refold(ids[at : at + AT_ONCE], row.head))
    return len(ids)


def _bodies(c: Connection, query: Select[Any]) -> list[StoredRecord]:
    return [json.loads(body) for body in c.scalars(query.order_by(record.c.id))]


def _key(logbook: str) -> Any:
    return select(head.c.key).where(head.c.logbook == logbook).scalar_subquery()
