"""What the operator's verbs ask of a running server, which alone may write.

The token is drawn at each start and stands in a file that only the server's account can read.
"""

from __future__ import annotations

import hmac
from typing import Any

from flask import request
from marshmallow import fields, validate

from sporeline.api import Blueprint, Id, Schema, current_services
from sporeline.api.people import NewInvitationSchema, told_invitation
from sporeline.errors import NotThere
from sporeline.people import Offer
from sporeline.people.roles import ROLES

blueprint = Blueprint(
    "operator", __name__, url_prefix="/api/v1/operator", description="The operator's verbs"
)


class OperatorInviteSchema(Schema):
    """`logbook` left out: the server's only one."""

    role = fields.String(load_default="grower", validate=validate.OneOf(ROLES))
    logbook = Id(load_default=None, allow_none=True)
    person = Id(load_default=None, allow_none=True)


@blueprint.call(
    "POST",
    "/invitations",
    takes=OperatorInviteSchema,
    gives=NewInvitationSchema,
    status=201,
    everyone=True,
)
def invite(body: dict[str, Any]) -> dict[str, Any]:
    """Invite someone, or a further phone of `person`. Not for phones."""
    _require_operator()
    services = current_services()
    logbook = services.people.chosen_logbook(body["logbook"])
    made = services.people.invite(Offer(logbook, body["role"], body["person"]))
    return told_invitation(made, services.settings.public_url)


def _require_operator() -> None:
    """Without the token this address does not exist."""
    expected = current_services().operator_token
    given = request.headers.get("Authorization", "")
    if not expected or not hmac.compare_digest(given.encode(), f"Bearer {expected}".encode()):
        raise NotThere(where=request.path)
