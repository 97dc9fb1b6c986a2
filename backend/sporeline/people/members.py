"""Who shares a logbook, in which role, with which phones; and shutting a phone out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, and_, exists, func, select

from sporeline.errors import Clash, NotMember, NotThere, ShutOut
from sporeline.people.roles import Role, greater
from sporeline.people.sessions import Session
from sporeline.people.tables import device, logbook, member, person, shut_out


@dataclass(frozen=True)
class Membership:
    """A session in a logbook it may see."""

    session: Session
    logbook: str
    role: Role


def role_in(c: Connection, session: Session, logbook_id: str) -> Role:
    """The session's role in that logbook.

    :raise NotMember: no such logbook, or not this person's; never told apart.
    :raise ShutOut: the person is a member, but this phone was shut out.
    """
    query = (
        select(member.c.role, shut_out.c.at)
        .select_from(member)
        .outerjoin(
            shut_out,
            and_(shut_out.c.logbook == member.c.logbook, shut_out.c.device == session.device),
        )
        .where(member.c.logbook == logbook_id, member.c.person == session.person)
    )
    row = c.execute(query).one_or_none()
    if row is None:
        raise NotMember
    if row.at is not None:
        raise ShutOut
    role: Role = row.role
    return role


def logbooks_of(c: Connection, session: Session) -> list[dict[str, str]]:
    """`[{"id", "name", "role"}]` of all logbooks this phone may see, oldest membership first."""
    shut = exists().where(
        shut_out.c.logbook == member.c.logbook, shut_out.c.device == session.device
    )
    query = (
        select(logbook.c.id, logbook.c.name, member.c.role)
        .join(member, member.c.logbook == logbook.c.id)
        .where(member.c.person == session.person, ~shut)
        .order_by(member.c.since, logbook.c.id)
    )
    return [dict(row) for row in c.execute(query).mappings()]


def begin_logbook(c: Connection, logbook_id: str, name: str, now_ms: int) -> None:
    """A new, empty logbook without members."""
    c.execute(logbook.insert().values(id=logbook_id, name=name, begun=now_ms))


def begin_own_logbook(
    c: Connection, session: Session, logbook_id: str, name: str, now_ms: int
) -> dict[str, str]:
    """A logbook begun on a phone: its person becomes owner. Repeating it changes nothing.

    :raise Clash: `logbook-taken`, the id serves others.
    """
    known = c.execute(select(logbook).where(logbook.c.id == logbook_id)).one_or_none()
    if known is None:
        begin_logbook(c, logbook_id, name, now_ms)
        grant(c, logbook_id, session.person, "owner", now_ms)
    elif not _is_member(c, logbook_id, session.person):
        raise Clash(
            "These records cannot begin under this id; nothing was changed.",
            code="logbook-taken",
            where="id",
            fix="Begin them again under a new id; what the phone holds goes along.",
        )
    return next(book for book in logbooks_of(c, session) if book["id"] == logbook_id)


def logbook_named(c: Connection, logbook_id: str) -> dict[str, str]:
    """`{"id", "name"}`. :raise NotMember: no such logbook."""
    row = c.execute(select(logbook).where(logbook.c.id == logbook_id)).one_or_none()
    if row is None:
        raise NotMember
    return {"id": row.id, "name": row.name}


def any_logbook(c: Connection) -> bool:
    """Whether any logbook was begun here."""
    return c.scalar(select(logbook.c.id).limit(1)) is not None


def only_logbook(c: Connection) -> str | None:
    """The id of the server's only logbook; None when there is none, or more than one."""
    found = c.scalars(select(logbook.c.id).limit(2)).all()
    return found[0] if len(found) == 1 else None


def grant(c: Connection, logbook_id: str, person_id: str, role: Role, now_ms: int) -> None:
    """Make someone a member, or raise their role; an invitation never lowers it."""
    this = and_(member.c.logbook == logbook_id, member.c.person == person_id)
    present = c.scalar(select(member.c.role).where(this))
    if present is None:
        new = {"logbook": logbook_id, "person": person_id, "role": role, "since": now_ms}
        c.execute(member.insert().values(new))
    else:
        c.execute(member.update().where(this).values(role=greater(role, present)))


def people_of(c: Connection, logbook_id: str) -> list[dict[str, Any]]:
    """Members with their phones, oldest first; times in milliseconds or None."""
    query = (
        select(person.c.id, person.c.name, person.c.initials, member.c.role)
        .join(member, member.c.person == person.c.id)
        .where(member.c.logbook == logbook_id)
        .order_by(member.c.since, person.c.id)
    )
    phones = _phones_of(c, logbook_id)
    return [{**row, "devices": phones.get(row["id"], [])} for row in c.execute(query).mappings()]


def change_role(c: Connection, logbook_id: str, person_id: str, role: Role) -> None:
    """:raise NotThere: no such member. :raise Clash: it would leave no owner."""
    _require_member(c, logbook_id, person_id)
    if role != "owner":
        _require_other_owner(c, logbook_id, person_id)
    this = and_(member.c.logbook == logbook_id, member.c.person == person_id)
    c.execute(member.update().where(this).values(role=role))


def remove(c: Connection, logbook_id: str, person_id: str) -> None:
    """End a membership; what the person wrote stays. Raises as `change_role`."""
    _require_member(c, logbook_id, person_id)
    _require_other_owner(c, logbook_id, person_id)
    this = and_(member.c.logbook == logbook_id, member.c.person == person_id)
    c.execute(member.delete().where(this))


def shut_device_out(
    c: Connection, by: Session, logbook_id: str, device_id: str, now_ms: int
) -> None:
    """Shut a member's phone out: of this logbook, or of all its person's, when they do it.

    :raise NotThere: no such phone here. :raise Clash: it is the phone in the hand.
    """
    row = c.execute(select(device).where(device.c.id == device_id)).one_or_none()
    if row is None or not _is_member(c, logbook_id, row.person):
        raise NotThere(code="no-such-device", where="device")
    if device_id == by.device:
        raise Clash(
            "This is the phone in your hand; nothing was changed.",
            code="this-phone",
            where="device",
            fix="Sign out on it instead, or shut it out from another phone.",
        )
    own = select(member.c.logbook).where(member.c.person == row.person)
    books = set(c.scalars(own)) if by.person == row.person else {logbook_id}
    already = select(shut_out.c.logbook).where(shut_out.c.device == device_id)
    for book in books - set(c.scalars(already)):
        new = {"device": device_id, "logbook": book, "at": now_ms, "by": by.person}
        c.execute(shut_out.insert().values(new))
    if set(c.scalars(own)) <= set(c.scalars(already)):
        c.execute(device.update().where(device.c.id == device_id).values(shut_out=now_ms))


def owns_device(c: Connection, person_id: str, device_id: str) -> bool:
    """Whether the phone is that person's."""
    query = select(device.c.id).where(device.c.id == device_id, device.c.person == person_id)
    return c.scalar(query) is not None


def let_device_in(c: Connection, logbook_id: str, device_id: str) -> None:
    """Undo shutting out, by a new invitation for that person."""
    this = and_(shut_out.c.device == device_id, shut_out.c.logbook == logbook_id)
    c.execute(shut_out.delete().where(this))
    c.execute(device.update().where(device.c.id == device_id).values(shut_out=None))


def _phones_of(c: Connection, logbook_id: str) -> dict[str, list[dict[str, Any]]]:
    query = (
        select(
            device.c.person,
            device.c.id,
            device.c.label,
            device.c.last_seen,
            func.coalesce(shut_out.c.at, device.c.shut_out).label("shut_out"),
        )
        .join(member, member.c.person == device.c.person)
        .outerjoin(
            shut_out,
            and_(shut_out.c.device == device.c.id, shut_out.c.logbook == member.c.logbook),
        )
        .where(member.c.logbook == logbook_id)
        .order_by(device.c.begun, device.c.id)
    )
    phones: dict[str, list[dict[str, Any]]] = {}
    for row in c.execute(query).mappings():
        phone = dict(row)
        phones.setdefault(phone.pop("person"), []).append(phone)
    return phones


def _is_member(c: Connection, logbook_id: str, person_id: str) -> bool:
    query = select(member.c.role).where(
        member.c.logbook == logbook_id, member.c.person == person_id
    )
    return c.scalar(query) is not None


def _require_member(c: Connection, logbook_id: str, person_id: str) -> None:
    if not _is_member(c, logbook_id, person_id):
        raise NotThere(
            "There is nobody of that id in these records. Nothing was changed.",
            code="no-such-person",
            where="person",
            fix="Look at the list of people again.",
        )


def _require_other_owner(c: Connection, logbook_id: str, person_id: str) -> None:
    query = (
        select(member.c.person)
        .where(member.c.logbook == logbook_id, member.c.role == "owner")
        .with_for_update()
    )
    if set(c.scalars(query)) == {person_id}:
        raise Clash(
            "These records would be left without an owner; nothing was changed.",
            code="last-owner",
            where="person",
            fix="Make someone else an owner first.",
        )
