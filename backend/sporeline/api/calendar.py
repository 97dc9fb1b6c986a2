"""The calendar feed: opening and ending it, and what a calendar program fetches."""

from __future__ import annotations

from typing import Any

from flask import Response
from marshmallow import fields

from sporeline.api import Blueprint, Schema, current_services, current_session
from sporeline.errors import NotThere

blueprint = Blueprint("calendar", __name__, description="What is due, in one's own calendar")

MINE = "/api/v1/me/calendar"


class FeedAddressSchema(Schema):
    """The secret address, told this once."""

    url = fields.String(required=True)


class FeedStateSchema(Schema):
    """on · off; when it was opened and last fetched (ms)."""

    state = fields.String(required=True, metadata={"enum": ["on", "off"]})
    made = fields.Integer(required=True, allow_none=True)
    fetched = fields.Integer(required=True, allow_none=True)


@blueprint.call("POST", MINE, gives=FeedAddressSchema, status=201)
def begin() -> dict[str, Any]:
    """Open this person's feed under a new address; the former one ends."""
    services = current_services()
    secret = services.reminders.open_feed(current_session())
    return {"url": f"{services.settings.public_url}/calendar/{secret}.ics"}


@blueprint.call("GET", MINE, gives=FeedStateSchema)
def state() -> dict[str, Any]:
    """Whether there is a feed, and whether anyone reads it."""
    return dict(current_services().reminders.feed_state(current_session()))


@blueprint.call("DELETE", MINE, status=204)
def end() -> None:
    """End this person's feed at once."""
    current_services().reminders.close_feed(current_session())


@blueprint.call("GET", "/calendar/<secret>.ics", everyone=True)
def feed(secret: str) -> Response:
    """What is due for the person whose secret this is, as a calendar (RFC 5545)."""
    text = current_services().reminders.feed(secret)
    if text is None:
        raise NotThere
    response = Response(text, content_type="text/calendar; charset=utf-8")
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["X-Robots-Tag"] = "noindex, nofollow"
    return response
