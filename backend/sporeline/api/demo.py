"""Moving the demo's calendar. Outside the demo this address does not exist."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from marshmallow import fields

from sporeline.api import Blueprint, Schema, current_services
from sporeline.api.time import TimeSchema, told_time
from sporeline.errors import Clash, NotValid

blueprint = Blueprint("demo", __name__, url_prefix="/api/v1/demo", description="The demo's clock")

FARTHEST_DAYS = 3660
"""How far a demo may go in one step: about ten years."""


class MoveSchema(Schema):
    """`next`: to the next day on which something is due. Else `YYYY-MM-DD`, never backwards."""

    to = fields.String(required=True)


@blueprint.call("POST", "/clock", takes=MoveSchema, gives=TimeSchema)
def move(body: dict[str, Any]) -> dict[str, Any]:
    """Move the calendar forward; what is due by then is told at once."""
    services = current_services()
    today = services.clocks.calendar_today()
    services.clocks.move_to(_next_due(today) if body["to"] == "next" else _later(today, body["to"]))
    services.reminders.tick()
    return told_time(services.clocks)


def _next_due(today: str) -> str:
    day = current_services().reminders.next_due_day(today)
    if day is None:
        raise Clash(
            "Nothing is due in the time ahead; the calendar stays.",
            code="nothing-due",
            where="to",
            fix="Sow something first, or name a day.",
        )
    return day


def _later(today: str, wanted: str) -> str:
    try:
        day = date.fromisoformat(wanted)
    except ValueError as wrong:
        raise NotValid(where="to", fix="Send `next` or a day as YYYY-MM-DD.") from wrong
    if not timedelta(0) <= day - date.fromisoformat(today) <= timedelta(days=FARTHEST_DAYS):
        raise NotValid(
            f"The calendar stands at {today} and goes forward only, ten years at most at once.",
            where="to",
            fix="Name a later day.",
        )
    return day.isoformat()
