"""The room's front: each method is one transaction, with the clock and the draws it was given."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sporeline.clocks import Clocks
from sporeline.database import Database
from sporeline.errors import NotValid
from sporeline.ids import Ids
from sporeline.people import invitations, joining, members, sessions
from sporeline.people.invitations import Offer
from sporeline.people.members import Membership
from sporeline.people.roles import Role, require
from sporeline.people.sessions import Session


@dataclass(frozen=True)
class Invitation:
    """A new invitation; the code is told here once and never again."""

    id: str
    code: str
    expires_ms: int
    role: Role
    person: str | None


class People:
    """Persons, phones, members and invitations. `pepper` is a secret of this server."""

    def __init__(self, database: Database, clocks: Clocks, ids: Ids, pepper: bytes) -> None:
        self._database = database
        self._clocks = clocks
        self._ids = ids
        self._pepper = pepper

    def session_of(self, token: str) -> Session | None:
        """The session a token opens, its sign of life written when it is due."""
        with self._database.read() as c:
            session = sessions.signed_in(c, token, self._clocks.wall())
        if session is not None and session.stale:
            with self._database.write() as c:
                sessions.seen(c, session, self._clocks.wall())
        return session

    def membership(self, session: Session, logbook: str) -> Membership:
        """:raise NotMember, ShutOut: see `members.role_in`."""
        with self._database.read() as c:
            return Membership(session, logbook, members.role_in(c, session, logbook))

    def sign_out(self, session: Session) -> None:
        """End the session; nothing else."""
        with self._database.write() as c:
            sessions.end(c, session)

    def join(self, code: str, who: joining.Newcomer, session: Session | None) -> joining.Joined:
        """Open an invitation; see `joining.join`."""
        hashed = invitations.code_hash(code, self._pepper)
        with self._database.write() as c:
            return joining.join(c, hashed, who, session, self._ids.token(), self._clocks.wall())

    def logbooks(self, session: Session) -> list[dict[str, str]]:
        """See `members.logbooks_of`."""
        with self._database.read() as c:
            return members.logbooks_of(c, session)

    def begin_logbook(self, session: Session, logbook: str, name: str) -> dict[str, str]:
        """See `members.begin_own_logbook`."""
        with self._database.write() as c:
            return members.begin_own_logbook(c, session, logbook, name, self._clocks.wall())

    def found_logbook(self, name: str) -> str:
        """A logbook that has no members yet, begun by the operator; gives its id."""
        logbook = self._ids.new()
        with self._database.write() as c:
            members.begin_logbook(c, logbook, name, self._clocks.wall())
        return logbook

    def has_logbook(self) -> bool:
        """Whether any logbook was begun here."""
        with self._database.read() as c:
            return members.any_logbook(c)

    def chosen_logbook(self, logbook: str | None) -> str:
        """The one that is named, or the server's only one.

        :raise NotValid: none is named, and there is none or more than one.
        """
        with self._database.read() as c:
            found = logbook or members.only_logbook(c)
        if found is None:
            raise NotValid(
                "This server holds no logbook yet, or several.",
                where="logbook",
                fix="Begin one with `sporeline init`, or name one with --logbook.",
            )
        return found

    def everyone(self, here: Membership) -> list[dict[str, Any]]:
        """See `members.people_of`."""
        require(here.role, "see")
        with self._database.read() as c:
            return members.people_of(c, here.logbook)

    def change_role(self, here: Membership, person: str, role: Role) -> None:
        """Only by someone who may; see `members.change_role`."""
        require(here.role, "people")
        with self._database.write() as c:
            members.change_role(c, here.logbook, person, role)

    def remove(self, here: Membership, person: str) -> None:
        """Only by someone who may; see `members.remove`."""
        require(here.role, "people")
        with self._database.write() as c:
            members.remove(c, here.logbook, person)

    def shut_out(self, here: Membership, device: str) -> None:
        """By an owner, or by the phone's own person; see `members.shut_device_out`."""
        with self._database.write() as c:
            if not members.owns_device(c, here.session.person, device):
                require(here.role, "people")
            members.shut_device_out(c, here.session, here.logbook, device, self._clocks.wall())

    def invite(self, offer: Offer) -> Invitation:
        """Make an invitation; who may is asked by the caller (`invite_by`) or is the operator."""
        code, id = invitations.draw_code(self._ids.draw), self._ids.new()
        hashed = invitations.code_hash(code, self._pepper)
        with self._database.write() as c:
            members.logbook_named(c, offer.logbook)
            expires, role = invitations.make(c, offer, id, hashed, self._clocks.wall())
        return Invitation(id, code, expires, role, offer.person)

    def invite_by(self, here: Membership, role: Role, person: str | None) -> Invitation:
        """An owner may invite anyone, and anyone a further phone of their own."""
        if person != here.session.person:
            require(here.role, "people")
        return self.invite(Offer(here.logbook, role, person, here.session.person))

    def open_invitations(self, here: Membership) -> list[dict[str, Any]]:
        """See `invitations.open_ones`; owners only."""
        require(here.role, "people")
        with self._database.read() as c:
            return invitations.open_ones(c, here.logbook, self._clocks.wall())

    def take_back(self, here: Membership, invitation: str) -> None:
        """See `invitations.take_back`; owners only."""
        require(here.role, "people")
        with self._database.write() as c:
            invitations.take_back(c, here.logbook, invitation)
