"""What a phone has not seen yet, line by line, as stored text."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, bindparam, select

from sporeline.logbook.heads import Head, Place
from sporeline.logbook.tables import entry, is_held, is_vouched
from sporeline.people import Session
from sporeline.people.roles import Role, may

MOST_LINES = 2000
MOST_BYTES = 1024 * 1024

_after = (
    select(
        entry.c.seq,
        entry.c.id,
        entry.c.text,
        entry.c.received,
        is_held.label("held"),
        is_vouched.label("vouched"),
        entry.c.via,
        entry.c.errors,
        entry.c.only_for,
    )
    .where(entry.c.key == bindparam("in_key"), entry.c.seq > bindparam("after"))
    .order_by(entry.c.seq)
    .limit(bindparam("most"))
)


@dataclass(frozen=True)
class Reader:
    """Who reads, and which entries they have already because they brought them just now."""

    session: Session
    role: Role
    has: Collection[str] = ()


@dataclass(frozen=True)
class Page:
    """`lines`: JSON texts. `place`: the last line that was looked at, given or not."""

    lines: list[str]
    place: Place
    more: bool


def since(
    c: Connection, head: Head, place: Place | None, reader: Reader, limit: int = MOST_LINES
) -> Page:
    """Lines after a place, in the order of their numbers, at most `limit` and 1 MiB.

    Entries that this role may not have are left out whole, never altered; the place moves past
    them.
    """
    here = place or Place(head.epoch, 0, None)
    lines: list[str] = []
    room = MOST_BYTES
    most = max(1, min(limit, MOST_LINES))
    rows = c.execute(_after, {"in_key": head.key, "after": here.seq, "most": most})
    for row in rows:
        given = row.id not in reader.has and _may_have(row, reader)
        line = _line(row) if given else ""
        room -= len(line)
        if room < 0 and lines:
            break
        here = Place(head.epoch, row.seq, row.id)
        if given:
            lines.append(line)
    rows.close()
    return Page(lines, here, head.seq > here.seq)


def _may_have(row: Row[*tuple[Any, ...]], reader: Reader) -> bool:
    hidden = row.only_for is not None and row.only_for != reader.session.person
    return not hidden or may(reader.role, "see-positions")


def _line(row: Row[*tuple[Any, ...]]) -> str:
    """The stored text with what the server says beside it put in at its end."""
    beside = f',"seq":{row.seq},"received":{row.received}'
    if row.held:
        beside += f',"state":"held","errors":{row.errors or "[]"}'
    else:
        beside += ',"state":"stored"'
    if row.vouched:
        beside += ',"vouched":true'
    elif row.via is not None:
        beside += f',"vouched":false,"via":"{row.via}"'
    return f"{row.text[:-1]}{beside}}}"
