"""Who a request comes from. A session is a phone's opaque token; only its hash is stored.

A session ends after 90 days without a sign of life: a phone may be out of signal for a whole season
of field work and still be signed in. Ending one never touches what the phone keeps.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from sqlalchemy import Connection, select

from sporeline.errors import ShutOut
from sporeline.people.tables import device, person

IDLE_MS = 90 * 86_400_000
SEEN_EVERY_MS = 3_600_000
"""A sign of life is written at most this often: reading stays reading."""


@dataclass(frozen=True)
class Session:
    """A person on one of their phones."""

    person: str
    device: str
    name: str
    initials: str
    label: str
    stale: bool = False
    """Its sign of life is to be written anew."""


def token_hash(token: str) -> str:
    """SHA-256: enough for a secret of 256 bits, which cannot be guessed from it."""
    return hashlib.sha256(token.encode()).hexdigest()


def signed_in(c: Connection, token: str, now_ms: int) -> Session | None:
    """The session this token opens; None for an unknown or ended one.

    :raise ShutOut: the phone was shut out of everything its person shares.
    """
    query = (
        select(device, person.c.name, person.c.initials)
        .join(person, person.c.id == device.c.person)
        .where(device.c.token_hash == token_hash(token))
    )
    row = c.execute(query).one_or_none()
    if row is None:
        return None
    if row.shut_out is not None:
        raise ShutOut
    seen = row.last_seen
    if seen is not None and now_ms - seen > IDLE_MS:
        return None
    stale = seen is None or now_ms - seen > SEEN_EVERY_MS
    return Session(row.person, row.id, row.name, row.initials, row.label, stale)


def seen(c: Connection, session: Session, now_ms: int) -> None:
    """Write the sign of life that keeps the session."""
    c.execute(device.update().where(device.c.id == session.device).values(last_seen=now_ms))


def end(c: Connection, session: Session) -> None:
    """Sign the phone out. Its person, entries and memberships stay."""
    c.execute(device.update().where(device.c.id == session.device).values(token_hash=None))
