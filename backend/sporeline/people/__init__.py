"""Persons, their phones, what they share and what each may do."""

from sporeline.people.invitations import Offer
from sporeline.people.joining import Joined, Newcomer
from sporeline.people.members import Membership
from sporeline.people.roles import Role, may, require
from sporeline.people.service import Invitation, People
from sporeline.people.sessions import Session

__all__ = [
    "Invitation",
    "Joined",
    "Membership",
    "Newcomer",
    "Offer",
    "People",
    "Role",
    "Session",
    "may",
    "require",
]
