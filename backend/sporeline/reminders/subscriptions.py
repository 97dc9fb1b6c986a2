"""Where phones take notices: one subscription per phone, which belongs to whoever is signed in."""

from __future__ import annotations

import base64
import binascii
import hashlib
from dataclasses import dataclass
from typing import Literal

from cryptography.hazmat.primitives.asymmetric import ec
from sqlalchemy import Connection, and_, delete, exists, func, select, update

from sporeline.errors import Clash, NotValid
from sporeline.people.sessions import IDLE_MS
from sporeline.people.tables import device, member, shut_out
from sporeline.reminders.push import Outcome, Subscription
from sporeline.reminders.tables import push_subscription as kept

MOST_PER_PERSON = 10
REFUSALS = 5
REFUSED_MS = 24 * 3_600_000
"""A subscription is dead after so many refusals in a row over at least so long: a wrong key answers
400 or 403 for ever, never 404 or 410."""

State = Literal["on", "off", "renew"]


@dataclass(frozen=True)
class Receiver:
    """A phone that may be sent a notice now or from `wait_until` (ms) on."""

    id: str
    subscription: Subscription
    wait_until: int


def check_keys(p256dh: str, auth: str) -> None:
    """The phone's public key must lie on P-256, its secret be 16 octets (RFC 8291 §3.1, §3.2).

    :raise NotValid: they do not; nothing could ever be encrypted for them.
    """
    try:
        ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), _octets(p256dh, 65))
    except ValueError as wrong:
        raise _bad_key("keys.p256dh") from wrong
    try:
        _octets(auth, 16)
    except ValueError as wrong:
        raise _bad_key("keys.auth") from wrong


def subscribe(
    c: Connection, id: str, phone: str, person: str, given: Subscription, key: str, now_ms: int
) -> None:
    """Keep a phone's subscription in place of its former one. `key`: the server's public key that
    it was made with.

    An endpoint known from another phone or person moves here: it is this browser, whoever uses it.

    :raise Clash: `too-many-phones`, the person has ten others.
    """
    hashed = hashlib.sha256(given.endpoint.encode()).hexdigest()
    c.execute(delete(kept).where((kept.c.device == phone) | (kept.c.endpoint_hash == hashed)))
    others = c.scalar(select(func.count()).where(kept.c.person == person)) or 0
    if others >= MOST_PER_PERSON:
        raise Clash(
            f"Notices go to {MOST_PER_PERSON} of your phones already. On this one they stay off; "
            "what is due stands in the app as ever.",
            code="too-many-phones",
            fix="Switch notices off on a phone that you no longer use.",
        )
    c.execute(
        kept.insert().values(
            id=id,
            device=phone,
            person=person,
            endpoint=given.endpoint,
            endpoint_hash=hashed,
            p256dh=given.p256dh,
            auth=given.auth,
            vapid_key=key,
            made=now_ms,
            refusals=0,
            wait_until=0,
            dead=False,
        )
    )


def unsubscribe(c: Connection, phone: str) -> None:
    """No more notices to this phone. Repeating it changes nothing."""
    c.execute(delete(kept).where(kept.c.device == phone))


def state_of(c: Connection, phone: str, key: str | None) -> State:
    """on · off · renew: the phone has to subscribe anew, with the server's present key."""
    row = c.execute(select(kept).where(kept.c.device == phone)).one_or_none()
    if row is None:
        return "off"
    return "renew" if row.dead or row.vapid_key != key else "on"


def receivers(c: Connection, person: str, logbook: str, key: str, now_ms: int) -> list[Receiver]:
    """The phones of a member that may be told of this logbook: signed in and not shut out."""
    shut = exists().where(shut_out.c.device == device.c.id, shut_out.c.logbook == logbook)
    query = (
        select(kept)
        .join(device, and_(device.c.id == kept.c.device, device.c.person == kept.c.person))
        .join(member, and_(member.c.person == kept.c.person, member.c.logbook == logbook))
        .where(
            kept.c.person == person,
            ~kept.c.dead,
            kept.c.vapid_key == key,
            device.c.token_hash.is_not(None),
            device.c.shut_out.is_(None),
            func.coalesce(device.c.last_seen, now_ms) > now_ms - IDLE_MS,
            ~shut,
        )
        .order_by(kept.c.made, kept.c.id)
    )
    return [
        Receiver(row.id, Subscription(row.endpoint, row.p256dh, row.auth), row.wait_until)
        for row in c.execute(query)
    ]


def note(c: Connection, id: str, outcome: Outcome, now_ms: int) -> None:
    """Keep what an answer says about a subscription: gone, to be spared for a while, refused."""
    this = kept.c.id == id
    if outcome.verdict == "gone":
        c.execute(delete(kept).where(this))
    elif outcome.verdict == "accepted":
        well = {"accepted": now_ms, "refusals": 0, "refused_since": None, "wait_until": 0}
        c.execute(update(kept).where(this).values(well))
    elif outcome.verdict == "later" and outcome.wait_s:
        c.execute(update(kept).where(this).values(wait_until=now_ms + outcome.wait_s * 1000))
    elif outcome.verdict == "refused":
        _note_refusal(c, id, now_ms)


def _note_refusal(c: Connection, id: str, now_ms: int) -> None:
    row = c.execute(select(kept).where(kept.c.id == id)).one_or_none()
    if row is None:
        return
    since = now_ms if row.refused_since is None else row.refused_since
    refusals = row.refusals + 1
    dead = refusals >= REFUSALS and now_ms - since >= REFUSED_MS
    c.execute(
        update(kept)
        .where(kept.c.id == id)
        .values(refusals=refusals, refused_since=since, dead=dead)
    )


def _octets(text: str, length: int) -> bytes:
    """base64url, with or without padding. :raise ValueError: not so many octets."""
    try:
        octets = base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, UnicodeEncodeError) as wrong:
        raise ValueError("not base64url") from wrong
    if len(octets) != length:
        raise ValueError(f"not {length} octets")
    return octets


def _bad_key(where: str) -> NotValid:
    return NotValid(
        "The keys of this phone's subscription cannot be used; notices stay off on it.",
        code="push-keys-refused",
        where=where,
        fix="Switch notices off and on again, so that the browser makes new ones.",
    )
