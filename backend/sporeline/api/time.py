"""What time it is here, by both clocks."""

from __future__ import annotations

from typing import Any

from marshmallow import fields

from sporeline.api import Blueprint, Schema, current_services
from sporeline.clocks import Clocks

blueprint = Blueprint("time", __name__, url_prefix="/api/v1", description="The two clocks")


class TimeSchema(Schema):
    """`now` is always the real time; `today` may be moved in the demo."""

    now = fields.String(required=True)
    today = fields.String(required=True)
    clock = fields.String(required=True, metadata={"enum": ["real", "demo"]})
    shift_days = fields.Integer(required=True)


@blueprint.call("GET", "/time", gives=TimeSchema, everyone=True)
def read() -> dict[str, Any]:
    """Now and today."""
    return told_time(current_services().clocks)


def told_time(clocks: Clocks) -> dict[str, Any]:
    """Both clocks as they are told."""
    return {
        "now": clocks.now(),
        "today": clocks.calendar_today(),
        "clock": "demo" if clocks.demo else "real",
        "shift_days": clocks.shift_days,
    }
