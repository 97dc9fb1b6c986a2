"""The calendar feed's secret address: one per person, told once, kept as a hash, revocable.

A secret in an address goes against OWASP ASVS 14.2.1; calendar programs can send nothing else. So
the feed shows little, answers one person's tasks only, and can be ended at any time.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Row, delete, select, update

from sporeline.people.tables import logbook, member
from sporeline.reminders.feed import Dated
from sporeline.reminders.notices import answer_path
from sporeline.reminders.tables import calendar_feed, due_row

TOMBSTONE_MS = 60 * 86_400_000
"""How long a task that is gone is still told as cancelled."""


def open_feed(c: Connection, person: str, secret: str, now_ms: int) -> None:
    """Begin the feed of a person under a new secret; the former one ends."""
    close_feed(c, person)
    hashed = _hash(secret)
    c.execute(calendar_feed.insert().values(person=person, secret_hash=hashed, made=now_ms))


def close_feed(c: Connection, person: str) -> None:
    """End the feed. Repeating it changes nothing."""
    c.execute(delete(calendar_feed).where(calendar_feed.c.person == person))


def feed_of(c: Connection, person: str) -> dict[str, Any]:
    """`{"state", "made", "fetched"}`, times in milliseconds or None; never the secret."""
    query = select(calendar_feed).where(calendar_feed.c.person == person)
    row = c.execute(query).one_or_none()
    if row is None:
        return {"state": "off", "made": None, "fetched": None}
    return {"state": "on", "made": row.made, "fetched": row.fetched}


def person_of(c: Connection, secret: str) -> str | None:
    """Whose feed this secret opens."""
    query = select(calendar_feed.c.person).where(calendar_feed.c.secret_hash == _hash(secret))
    return c.scalar(query)


def note_fetched(c: Connection, person: str, now_ms: int) -> None:
    """So that the person sees whether anyone reads the feed."""
    this = calendar_feed.c.person == person
    c.execute(update(calendar_feed).where(this).values(fetched=now_ms))


def events_of(c: Connection, person: str, public_url: str, now_ms: int) -> list[Dated]:
    """The person's tasks in the logbooks they belong to now, and what was cancelled of late."""
    query = (
        select(due_row)
        .join(member, (member.c.logbook == due_row.c.logbook) & (member.c.person == person))
        .where(
            due_row.c.person == person,
            (due_row.c.state != "closed") | (due_row.c.changed >= now_ms - TOMBSTONE_MS),
        )
        .order_by(due_row.c.due, due_row.c.task)
    )
    host = public_url.partition("://")[2]
    return [_dated(row, public_url, host) for row in c.execute(query)]


def logbooks_of(c: Connection, person: str) -> Sequence[Row[Any, Any]]:
    """`id` and `name` of the person's logbooks, oldest membership first."""
    query = (
        select(logbook.c.id, logbook.c.name)
        .join(member, member.c.logbook == logbook.c.id)
        .where(member.c.person == person)
        .order_by(member.c.since, logbook.c.id)
    )
    return c.execute(query).all()


def _dated(row: Row[Any], public_url: str, host: str) -> Dated:
    return Dated(
        uid=f"{row.logbook}/{row.task}@{host}",
        day=row.due,
        title=row.title,
        body=row.body,
        url=public_url + answer_path(row.task),
        sequence=row.sequence,
        changed_ms=row.changed,
        cancelled=row.state == "closed",
    )


def _hash(secret: str) -> str:
    """SHA-256: enough for a secret of 256 bits, which cannot be guessed from it."""
    return hashlib.sha256(secret.encode()).hexdigest()
