"""Outlooks: rows beside the entries, made here and never pushed."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, bindparam, select

from sporeline.logbook.heads import Head, insert_of
from sporeline.logbook.tables import outlook

_newer = (
    select(outlook.c.body)
    .where(outlook.c.key == bindparam("in_key"), outlook.c.n > bindparam("after"))
    .order_by(outlook.c.about)
)


def read_outlooks(c: Connection, key: int, after: int = 0) -> list[str]:
    """JSON texts of the rows with a higher `n`: `{"about", "n", "on", "from", "to", "evidence"}`."""
    return list(c.scalars(_newer, {"in_key": key, "after": after}))


def put_outlooks(c: Connection, head: Head, rows: Iterable[Mapping[str, Any]]) -> None:
    """Keep these instead of older ones about the same records."""
    kept = [
        {
            "key": head.key,
            "about": row["about"],
            "n": row["n"],
            "body": json.dumps(row, ensure_ascii=False, separators=(",", ":")),
        }
        for row in rows
    ]
    new = insert_of(c, outlook)
    same = {name: new.excluded[name] for name in ("n", "body")}
    keys = ["key", "about"]
    if kept:
        c.execute(
            new.on_conflict_do_update(
                index_elements=keys, set_=same, where=new.excluded.n > outlook.c.n
            ),
            kept,
        )
