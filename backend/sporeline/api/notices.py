"""Notices by web push: the server's key, and where this phone takes them."""

from __future__ import annotations

from typing import Any

from marshmallow import fields

from sporeline.api import Blueprint, Schema, current_services, current_session
from sporeline.reminders import Subscription

blueprint = Blueprint("notices", __name__, url_prefix="/api/v1", description="Notices")

MINE = "/devices/me/push"


class KeySchema(Schema):
    """The applicationServerKey; null when this server sends no notices."""

    key = fields.String(required=True, allow_none=True)


class PushKeysSchema(Schema):
    """base64url, as `PushSubscription.toJSON()` gives them."""

    p256dh = fields.String(required=True)
    auth = fields.String(required=True)


class SubscriptionSchema(Schema):
    """A `PushSubscription`; `key`: the applicationServerKey it was made with."""

    endpoint = fields.String(required=True)
    keys = fields.Nested(PushKeysSchema, required=True)
    key = fields.String(load_default=None, allow_none=True)


class PushStateSchema(Schema):
    """on · off · renew: unsubscribe, subscribe with the present key, and put it here again."""

    state = fields.String(required=True, metadata={"enum": ["on", "off", "renew"]})


@blueprint.call("GET", "/push/key", gives=KeySchema)
def key() -> dict[str, Any]:
    """The key that phones subscribe with (RFC 8292)."""
    return {"key": current_services().reminders.push_key}


@blueprint.call("PUT", MINE, takes=SubscriptionSchema, gives=PushStateSchema)
def subscribe(body: dict[str, Any]) -> dict[str, Any]:
    """Tell this phone what is due. Repeating it changes nothing."""
    given = Subscription(body["endpoint"], body["keys"]["p256dh"], body["keys"]["auth"])
    session, reminders = current_session(), current_services().reminders
    reminders.subscribe(session, given, body["key"])
    return {"state": reminders.subscription_state(session)}


@blueprint.call("GET", MINE, gives=PushStateSchema)
def state() -> dict[str, Any]:
    """Whether this phone is told."""
    return {"state": current_services().reminders.subscription_state(current_session())}


@blueprint.call("DELETE", MINE, status=204)
def unsubscribe() -> None:
    """No more notices to this phone."""
    current_services().reminders.unsubscribe(current_session())
