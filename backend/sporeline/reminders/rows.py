"""The due rows: one for each task and person, whatever else happens.

A row is told once at its time. Whoever sends takes a lease on it first, so several workers never
send the same row at once; a worker that dies leaves its rows to others when the lease ends.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import ColumnElement, Connection, Row, delete, insert, select, update

from sporeline.reminders.hours import Hours, local_day, notice_instant
from sporeline.reminders.tables import due_row

GRACE_MS = 15 * 60_000
"""A task that turns up this shortly after its notice hour is still told; later, at the next one."""

LEASE_MS = 10 * 60_000
FORGET_MS = 60 * 86_400_000
"""How long a closed row is kept: calendars are told that its task is gone."""


@dataclass(frozen=True)
class Wanted:
    """A task that a person is to be told of, in its words and at their hour."""

    task: str
    person: str
    rule: str
    due: str
    until: str | None
    title: str
    body: str
    hours: Hours


def keep_rows(
    c: Connection, logbook: str, subject: str, wanted: Sequence[Wanted], now_ms: int, shift: int
) -> None:
    """Make the rows of a subject what is wanted; what is wanted no more is closed."""
    here = (due_row.c.logbook == logbook) & (due_row.c.subject == subject)
    rows = {(row.task, row.person): row for row in c.execute(select(due_row).where(here))}
    for want in wanted:
        row = rows.pop((want.task, want.person), None)
        if row is None:
            base = {"logbook": logbook, "subject": subject}
            c.execute(insert(due_row).values(base | _new(want, now_ms, shift)))
        elif change := _changed(row, want, now_ms, shift):
            c.execute(update(due_row).where(due_row.c.id == row.id).values(change))
    for row in rows.values():
        if row.state != "closed":
            values = {"state": "closed", "sequence": row.sequence + 1, "changed": now_ms}
            c.execute(update(due_row).where(due_row.c.id == row.id).values(values))
        elif row.changed < now_ms - FORGET_MS:
            c.execute(delete(due_row).where(due_row.c.id == row.id))


def first_notice(due: str, hours: Hours, now_ms: int, shift: int) -> int:
    """When a task due on `due` is told, judged at `now_ms`: at the notice hour of that day, else at
    the next notice hour from now."""
    today = local_day(now_ms, hours.zone, shift)
    day = max(due, today)
    at = notice_instant(day, hours, shift)
    return at if at >= now_ms - GRACE_MS else notice_instant(_next(day), hours, shift)


def anything_to_tell(c: Connection, now_ms: int) -> bool:
    """Whether `claim` would find a row."""
    return c.scalar(select(due_row.c.id).where(*_come(now_ms)).limit(1)) is not None


def claim(c: Connection, now_ms: int, most: int) -> list[Row[Any]]:
    """Up to `most` rows whose time has come, for this worker alone until `lease_until`."""
    mine = (
        select(due_row.c.id)
        .where(*_come(now_ms))
        .order_by(due_row.c.next_try, due_row.c.id)
        .limit(most)
        .with_for_update(skip_locked=True)  # PostgreSQL; on SQLite there is one writer
    )
    ids = c.scalars(mine).all()
    lease = {"lease_until": now_ms + LEASE_MS, "tries": due_row.c.tries + 1}
    c.execute(update(due_row).where(due_row.c.id.in_(ids)).values(lease))
    query = select(due_row).where(due_row.c.id.in_(ids))
    return list(c.execute(query.order_by(due_row.c.next_try, due_row.c.id)))


def open_row(c: Connection, id: int, lease_until: int) -> Row[Any] | None:
    """A claimed row as it is now; None when it was closed or the lease went to another."""
    mine = (due_row.c.id == id) & (due_row.c.lease_until == lease_until)
    return c.execute(select(due_row).where(mine, due_row.c.state == "open")).one_or_none()


def settle(c: Connection, row: Row[Any], state: str, reached: Sequence[str], next_try: int) -> None:
    """Write what became of a claimed row and give its lease back; a closed row stays closed."""
    mine = (due_row.c.id == row.id) & (due_row.c.lease_until == row.lease_until)
    values = {"state": state, "reached": json.dumps(reached), "next_try": next_try}
    open_ = due_row.c.state == "open"
    c.execute(update(due_row).where(mine, open_).values(values | {"lease_until": 0}))


def hasten(c: Connection, day: str, now_ms: int) -> None:
    """The demo's calendar reached `day`: what is due by then and was not told is told now."""
    waiting = due_row.c.state.in_(("open", "unreached")) & (due_row.c.due <= day)
    values = {"state": "open", "next_try": now_ms, "lease_until": 0}
    c.execute(update(due_row).where(waiting).values(values))


def reopen(c: Connection, logbook: str, person: str, hours: Hours, now_ms: int, shift: int) -> None:
    """A phone takes notices now: what no phone took before is told at the next notice hour."""
    here = (due_row.c.logbook == logbook) & (due_row.c.person == person)
    rows = c.execute(select(due_row).where(here, due_row.c.state == "unreached")).all()
    for row in rows:
        at = first_notice(row.due, hours, now_ms, shift)
        values = {"state": "open", "next_try": at, "tries": 0}
        c.execute(update(due_row).where(due_row.c.id == row.id).values(values))


def _come(now_ms: int) -> tuple[ColumnElement[bool], ...]:
    return (
        due_row.c.state == "open",
        due_row.c.next_try <= now_ms,
        due_row.c.lease_until < now_ms,
    )


def _new(want: Wanted, now_ms: int, shift: int) -> dict[str, Any]:
    return {
        "task": want.task,
        "person": want.person,
        "rule": want.rule,
        "changed": now_ms,
        "sequence": 0,
        **_shown(want),
        **_untold(want, now_ms, shift),
    }


def _shown(want: Wanted) -> dict[str, Any]:
    return {"due": want.due, "until": want.until, "title": want.title, "body": want.body}


def _untold(want: Wanted, now_ms: int, shift: int) -> dict[str, Any]:
    return {
        "state": "open",
        "next_try": first_notice(want.due, want.hours, now_ms, shift),
        "lease_until": 0,
        "tries": 0,
        "reached": "[]",
    }


def _changed(row: Row[Any], want: Wanted, now_ms: int, shift: int) -> dict[str, Any]:
    """What is to be written of a task that is there already; nothing where all is as it was."""
    change: dict[str, Any] = {}
    if any(getattr(row, name) != value for name, value in _shown(want).items()):
        change = {**_shown(want), "sequence": row.sequence + 1, "changed": now_ms}
    if row.state == "closed":
        change |= {"sequence": row.sequence + 1, "changed": now_ms}
    if row.state == "closed" or want.due > row.due:  # back again, or put off: to be told anew
        return change | _untold(want, now_ms, shift)
    if row.state == "open" and row.next_try > now_ms and row.tries == 0:  # hours may have changed
        at = first_notice(want.due, want.hours, now_ms, shift)
        return change | ({"next_try": at} if at != row.next_try else {})
    return change


def _next(day: str) -> str:
    return (date.fromisoformat(day) + timedelta(days=1)).isoformat()
