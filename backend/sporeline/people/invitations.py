"""Invitations: a short code, once, for some days, that makes someone a member.

A code is hashed with the server's own secret: short codes could be tried out from a stolen copy.
"""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, select

from sporeline.errors import Clash, NotThere
from sporeline.people.roles import Role
from sporeline.people.tables import invitation, member

ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
"""The label alphabet: nothing that is read as something else."""
LENGTH = 8
GOOD_FOR_MS = 72 * 3_600_000


@dataclass(frozen=True)
class Offer:
    """What an invitation offers; `person` set = a further phone of that person."""

    logbook: str
    role: Role
    person: str | None = None
    by: str | None = None


def draw_code(draw: Callable[[int], int]) -> str:
    """Eight characters as `XXXX-XXXX`; about 39 bits."""
    letters = "".join(ALPHABET[draw(len(ALPHABET))] for _ in range(LENGTH))
    return f"{letters[:4]}-{letters[4:]}"


def code_hash(code: str, pepper: bytes) -> str:
    """Hash of a code as typed: case, spaces and hyphens do not matter."""
    plain = "".join(letter for letter in code.upper() if letter not in " -")
    return hmac.new(pepper, plain.encode(), hashlib.sha256).hexdigest()


def make(c: Connection, offer: Offer, id: str, hashed: str, now_ms: int) -> tuple[int, Role]:
    """Store an invitation; gives the time it expires, in milliseconds, and its role: for a further
    phone that is the person's own.

    :raise NotThere: `person` is set and no member of that logbook.
    """
    role = offer.role
    if offer.person is not None:
        query = select(member.c.role).where(
            member.c.logbook == offer.logbook, member.c.person == offer.person
        )
        present = c.scalar(query)
        if present is None:
            raise NotThere(
                "There is nobody of that id in these records; no invitation was made.",
                code="no-such-person",
                where="person",
                fix="Leave the person out to invite someone new.",
            )
        role = present
    expires = now_ms + GOOD_FOR_MS
    c.execute(
        invitation.insert().values(
            id=id,
            code_hash=hashed,
            logbook=offer.logbook,
            role=role,
            person=offer.person,
            by=offer.by,
            made=now_ms,
            expires=expires,
        )
    )
    return expires, role


def open_ones(c: Connection, logbook_id: str, now_ms: int) -> list[dict[str, Any]]:
    """Invitations that still can be used, newest last; never the codes."""
    query = (
        select(invitation)
        .where(
            invitation.c.logbook == logbook_id,
            invitation.c.used.is_(None),
            invitation.c.expires > now_ms,
        )
        .order_by(invitation.c.made, invitation.c.id)
    )
    keys = ("id", "role", "person", "by", "made", "expires")
    return [{key: row[key] for key in keys} for row in c.execute(query).mappings()]


def take_back(c: Connection, logbook_id: str, id: str) -> None:
    """:raise NotThere: no such invitation of this logbook that is still unused."""
    gone = c.execute(
        invitation.delete().where(
            invitation.c.id == id,
            invitation.c.logbook == logbook_id,
            invitation.c.used.is_(None),
        )
    )
    if not gone.rowcount:
        raise _unknown()


def find(c: Connection, hashed: str, now_ms: int) -> Row[Any]:
    """The invitation of that code, locked until the transaction ends.

    :raise NotThere: no such code. :raise Clash: `invitation-expired`.
    """
    query = select(invitation).where(invitation.c.code_hash == hashed).with_for_update()
    row = c.execute(query).one_or_none()
    if row is None:
        raise _unknown()
    if row.expires <= now_ms:
        raise Clash(
            "This invitation has expired. What is on this phone stays as it is.",
            code="invitation-expired",
            where="invitation",
            fix="Ask for a new invitation.",
        )
    return row


def spend(c: Connection, id: str, device: str, now_ms: int) -> None:
    """Mark as used; it opens nothing more."""
    c.execute(invitation.update().where(invitation.c.id == id).values(used=now_ms, used_by=device))


def _unknown() -> NotThere:
    return NotThere(
        "There is no such invitation. What is on this phone stays as it is.",
        code="no-such-invitation",
        where="invitation",
        fix="Check the eight characters, or ask for a new invitation.",
    )
