"""A phone joins, says who it is, and signs out."""

from __future__ import annotations

from typing import Any

from flask import g, request
from marshmallow import fields

from sporeline import __version__
from sporeline.api import (
    Blueprint,
    Id,
    Schema,
    Words,
    current_services,
    current_session,
    session_if_any,
)
from sporeline.errors import ShutOut
from sporeline.people import Newcomer, Session

blueprint = Blueprint("session", __name__, url_prefix="/api/v1", description="Phones and sessions")


class DeviceSchema(Schema):
    """A phone: its id is drawn by itself."""

    id = Id(required=True)
    label = Words(80, required=True)


class PersonSchema(Schema):
    """A person: the id is drawn by the phone that first met them."""

    id = Id(required=True)
    name = Words(200, required=True)
    initials = Words(10, required=True)


class LogbookNameSchema(Schema):
    """A logbook as its members know it."""

    id = Id(required=True)
    name = Words(200, required=True)


class JoinSchema(Schema):
    """An invitation opened; `person` may be left out on a further phone of someone known."""

    invitation = Words(40, required=True)
    device = fields.Nested(DeviceSchema, required=True)
    person = fields.Nested(PersonSchema, load_default=None, allow_none=True)


class JoinedSchema(Schema):
    """`token` only for scripts, which send no Origin; a phone gets its cookie."""

    person = fields.Nested(PersonSchema, required=True)
    device = fields.Nested(DeviceSchema, required=True)
    logbook = fields.Nested(LogbookNameSchema, required=True)
    token = fields.String()


class MembershipSchema(LogbookNameSchema):
    """A logbook and the role in it."""

    role = fields.String(required=True)


class ServerSchema(Schema):
    """The server that answers."""

    version = fields.String(required=True)


class MeSchema(Schema):
    """Who this phone is here."""

    person = fields.Nested(PersonSchema, required=True)
    device = fields.Nested(DeviceSchema, required=True)
    logbooks = fields.List(fields.Nested(MembershipSchema), required=True)
    server = fields.Nested(ServerSchema, required=True)


@blueprint.call("POST", "/devices", takes=JoinSchema, gives=JoinedSchema, status=201, everyone=True)
def join(body: dict[str, Any]) -> dict[str, Any]:
    """Open an invitation. Safe to repeat until the session it gives was used."""
    joined = current_services().people.join(body["invitation"], _newcomer(body), _present())
    answer: dict[str, Any] = {
        "person": joined.person,
        "device": joined.device,
        "logbook": joined.logbook,
    }
    if joined.token is not None:
        g.new_cookie = joined.token
        if "Origin" not in request.headers:
            answer["token"] = joined.token
    return answer


@blueprint.call("GET", "/me", gives=MeSchema)
def me() -> dict[str, Any]:
    """Person, device, logbooks with roles, server version."""
    session = current_session()
    return {
        "person": {"id": session.person, "name": session.name, "initials": session.initials},
        "device": {"id": session.device, "label": session.label},
        "logbooks": current_services().people.logbooks(session),
        "server": {"version": __version__},
    }


@blueprint.call("DELETE", "/session", status=204)
def sign_out() -> None:
    """Sign this phone out. All data stays, here and on the phone."""
    current_services().people.sign_out(current_session())
    g.new_cookie = ""


def _newcomer(body: dict[str, Any]) -> Newcomer:
    phone, who = body["device"], body["person"] or {}
    return Newcomer(
        phone["id"],
        phone["label"],
        who.get("id"),
        who.get("name", ""),
        who.get("initials", ""),
    )


def _present() -> Session | None:
    """The session the phone has. One that was shut out counts as none: it may be invited back."""
    try:
        return session_if_any()
    except ShutOut:
        return None
