"""Who shares a logbook, with which phones; roles, shutting out, invitations."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from sporeline.api import Blueprint, Id, Schema, current_services, member_of
from sporeline.clocks import instant
from sporeline.errors import NotThere
from sporeline.people import Invitation
from sporeline.people.roles import ROLES

blueprint = Blueprint(
    "people",
    __name__,
    url_prefix="/api/v1/logbooks/<logbook>",
    description="People, phones, invitations",
)


class PhoneSchema(Schema):
    """A member's phone."""

    id = fields.String(required=True)
    label = fields.String(required=True)
    last_seen = fields.String(allow_none=True, required=True)
    shut_out = fields.String(allow_none=True, required=True)


class MemberSchema(Schema):
    """A member."""

    id = fields.String(required=True)
    name = fields.String(required=True)
    initials = fields.String(required=True)
    role = fields.String(required=True)
    devices = fields.List(fields.Nested(PhoneSchema), required=True)


class MembersSchema(Schema):
    """All members, oldest first."""

    people = fields.List(fields.Nested(MemberSchema), required=True)


class RoleSchema(Schema):
    """One of the four roles."""

    role = fields.String(required=True, validate=validate.OneOf(ROLES))


class InviteSchema(Schema):
    """`person` set: a further phone of that person, whose role it has."""

    role = fields.String(load_default="grower", validate=validate.OneOf(ROLES))
    person = Id(load_default=None, allow_none=True)


class OpenInvitationSchema(Schema):
    """An invitation that can still be used; `by` is null when the operator made it."""

    id = fields.String(required=True)
    role = fields.String(required=True)
    person = fields.String(allow_none=True, required=True)
    by = fields.String(allow_none=True)
    expires = fields.String(required=True)


class OpenInvitationsSchema(Schema):
    """All that can still be used, oldest first."""

    invitations = fields.List(fields.Nested(OpenInvitationSchema), required=True)


class NewInvitationSchema(OpenInvitationSchema):
    """The code is told once. The link carries it after `#`, which no server log ever sees."""

    code = fields.String(required=True)
    url = fields.String(required=True)


@blueprint.call("GET", "/people", gives=MembersSchema)
def everyone(logbook: str) -> dict[str, Any]:
    """All members with their phones."""
    people = current_services().people.everyone(member_of(logbook))
    return {"people": [_told(someone) for someone in people]}


@blueprint.call("GET", "/people/<person>", gives=MemberSchema)
def one(logbook: str, person: str) -> dict[str, Any]:
    """One member with their phones."""
    for someone in current_services().people.everyone(member_of(logbook)):
        if someone["id"] == person:
            return _told(someone)
    raise NotThere(code="no-such-person", where="person")


@blueprint.call("PATCH", "/people/<person>", takes=RoleSchema, gives=MemberSchema)
def change_role(body: dict[str, Any], logbook: str, person: str) -> dict[str, Any]:
    """Change a member's role. Owners only; the last owner stays one."""
    current_services().people.change_role(member_of(logbook), person, body["role"])
    return one(logbook, person)


@blueprint.call("DELETE", "/people/<person>", status=204)
def remove(logbook: str, person: str) -> None:
    """End a membership. What the person wrote stays. Owners only."""
    current_services().people.remove(member_of(logbook), person)


@blueprint.call("DELETE", "/devices/<device>", status=204)
def shut_out(logbook: str, device: str) -> None:
    """Shut a phone out at once: by an owner, or by its own person from another phone."""
    current_services().people.shut_out(member_of(logbook), device)


@blueprint.call("POST", "/invitations", takes=InviteSchema, gives=NewInvitationSchema, status=201)
def invite(body: dict[str, Any], logbook: str) -> dict[str, Any]:
    """Invite someone (owners), or a further phone (owners; everyone their own)."""
    services = current_services()
    made = services.people.invite_by(member_of(logbook), body["role"], body["person"])
    return told_invitation(made, services.settings.public_url)


@blueprint.call("GET", "/invitations", gives=OpenInvitationsSchema)
def open_invitations(logbook: str) -> dict[str, Any]:
    """Invitations that can still be used, without their codes. Owners only."""
    found = current_services().people.open_invitations(member_of(logbook))
    return {"invitations": [{**each, "expires": instant(each["expires"])} for each in found]}


@blueprint.call("DELETE", "/invitations/<invitation>", status=204)
def take_back(logbook: str, invitation: str) -> None:
    """Take an unused invitation back. Owners only."""
    current_services().people.take_back(member_of(logbook), invitation)


def told_invitation(made: Invitation, public_url: str) -> dict[str, Any]:
    """A new invitation as it is told, once."""
    return {
        "id": made.id,
        "role": made.role,
        "person": made.person,
        "code": made.code,
        "url": f"{public_url}/join#{made.code}",
        "expires": instant(made.expires_ms),
    }


def _told(someone: dict[str, Any]) -> dict[str, Any]:
    phones = [
        {**phone, **{key: _instant(phone[key]) for key in ("last_seen", "shut_out")}}
        for phone in someone["devices"]
    ]
    return {**someone, "devices": phones}


def _instant(ms: int | None) -> str | None:
    return None if ms is None else instant(ms)
