"""A logbook begun on a phone."""

from __future__ import annotations

from typing import Any

from sporeline.api import Blueprint, current_services, current_session
from sporeline.api.session import LogbookNameSchema, MembershipSchema

blueprint = Blueprint("logbooks", __name__, url_prefix="/api/v1", description="Logbooks")


@blueprint.call("POST", "/logbooks", takes=LogbookNameSchema, gives=MembershipSchema, status=201)
def begin(body: dict[str, Any]) -> dict[str, Any]:
    """Give a logbook that was begun on this phone its place here; its person becomes owner."""
    session = current_session()
    return current_services().people.begin_logbook(session, body["id"], body["name"])
