"""Opening an invitation: a phone becomes known, its person a member.

The answer may be lost on the way, so the same phone may open the same invitation again for as long
as it has not used the session it was given.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, select

from sporeline.errors import Clash, NotValid
from sporeline.people import invitations
from sporeline.people.members import grant, let_device_in, logbook_named
from sporeline.people.sessions import Session, token_hash
from sporeline.people.tables import device, person


@dataclass(frozen=True)
class Newcomer:
    """What a phone says of itself and of who holds it; `person` may be empty on a further phone."""

    device: str
    label: str
    person: str | None = None
    name: str = ""
    initials: str = ""


@dataclass(frozen=True)
class Joined:
    """The answer. `token` is None when the phone keeps the session it has."""

    person: dict[str, str]
    device: dict[str, str]
    logbook: dict[str, str]
    token: str | None


@dataclass(frozen=True)
class _Opening:
    """All that decides: the invitation, the phone as it says and as it is known, its session."""

    offer: Row[Any]
    who: Newcomer
    known: Row[Any] | None
    session: Session | None

    def in_hand(self, person_id: str) -> bool:
        """Whether the phone is signed in for that person already."""
        session = self.session
        return session is not None and (session.device, session.person) == (
            self.who.device,
            person_id,
        )

    def again(self) -> bool:
        """Whether this repeats an opening whose answer was lost."""
        if self.offer.used is None or self.known is None:
            return False
        unanswered = self.known.last_seen is None or self.in_hand(self.known.person)
        return bool(self.offer.used_by == self.known.id and unanswered)


def join(
    c: Connection, code_hash: str, who: Newcomer, session: Session | None, token: str, now_ms: int
) -> Joined:
    """Open the invitation with that hash; `token` is what a new session would get.

    :raise NotThere, Clash: no such invitation, expired, used; a person or phone id of another.
    """
    offer = invitations.find(c, code_hash, now_ms)
    known = c.execute(select(device).where(device.c.id == who.device)).one_or_none()
    opening = _Opening(offer, who, known, session)
    if offer.used is not None and not opening.again():
        raise _used()
    person_id = _person(c, opening, now_ms)
    _require_own_device(opening, person_id)
    given = None if opening.in_hand(person_id) else token
    if given is not None:
        _give_token(c, opening, person_id, given, now_ms)
    if offer.person is not None:
        let_device_in(c, offer.logbook, who.device)
    grant(c, offer.logbook, person_id, offer.role, now_ms)
    invitations.spend(c, offer.id, who.device, now_ms)
    return _joined(c, offer.logbook, person_id, who.device, given)


def _person(c: Connection, opening: _Opening, now_ms: int) -> str:
    """The person the phone will act for, made if new.

    :raise NotValid: the phone must say who holds it. :raise Clash: `person-taken`.
    """
    who, session = opening.who, opening.session
    if opening.offer.person is not None:
        return str(opening.offer.person)
    if who.person is None:
        raise NotValid("This invitation is for someone new: say who.", where="person")
    if c.scalar(select(person.c.id).where(person.c.id == who.person)) is None:
        new = {"id": who.person, "name": who.name, "initials": who.initials, "begun": now_ms}
        c.execute(person.insert().values(new))
    elif not opening.again() and (session is None or session.person != who.person):
        raise Clash(
            "Someone of that id is known here already; nothing was changed.",
            code="person-taken",
            where="person.id",
            fix="If it is you, ask for an invitation as a further phone of yours.",
        )
    return who.person


def _require_own_device(opening: _Opening, person_id: str) -> None:
    """A known phone id must be shown to be this person's. :raise Clash: `device-taken`."""
    known = opening.known
    if known is None or opening.in_hand(person_id):
        return
    shown = opening.again() or opening.offer.person == person_id
    if known.person != person_id or not shown:
        raise Clash(
            "A phone of that id is known here already; nothing was changed.",
            code="device-taken",
            where="device.id",
            fix="If it is yours, ask for an invitation as a further phone of yours.",
        )


def _give_token(c: Connection, opening: _Opening, person_id: str, token: str, now_ms: int) -> None:
    who = opening.who
    session = {"label": who.label, "token_hash": token_hash(token), "last_seen": None}
    if opening.known is None:
        new = {"id": who.device, "person": person_id, "begun": now_ms, **session}
        c.execute(device.insert().values(new))
    else:
        c.execute(device.update().where(device.c.id == who.device).values(session))


def _joined(
    c: Connection, logbook_id: str, person_id: str, device_id: str, token: str | None
) -> Joined:
    someone = c.execute(select(person).where(person.c.id == person_id)).one()
    phone = c.execute(select(device).where(device.c.id == device_id)).one()
    return Joined(
        {"id": someone.id, "name": someone.name, "initials": someone.initials},
        {"id": phone.id, "label": phone.label},
        logbook_named(c, logbook_id),
        token,
    )


def _used() -> Clash:
    return Clash(
        "This invitation was used before. What is on this phone stays as it is.",
        code="invitation-used",
        where="invitation",
        fix="Ask for a new invitation.",
    )
