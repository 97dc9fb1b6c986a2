"""What is due, as the server reckons it."""

from __future__ import annotations

from typing import Any

from marshmallow import fields

from sporeline.api import Blueprint, Id, Schema, current_services, member_of

blueprint = Blueprint("tasks", __name__, url_prefix="/api/v1", description="What is due")


class AskSchema(Schema):
    """`on`: a day, today if unsaid; `for`: only what that person keeps."""

    on = fields.Date(load_default=None)
    for_ = Id(data_key="for", load_default=None)


class TaskSchema(Schema):
    """One thing to look at or do; `id` is `{subject}/{rule}/{day it is counted from}`."""

    id = fields.String(required=True)
    subject = fields.String(required=True)
    rule = fields.String(required=True)
    due = fields.String(required=True)
    until = fields.String(required=True, allow_none=True)
    ask = fields.List(fields.String(), required=True)
    from_outlook = fields.Boolean(required=True)
    covers = fields.List(fields.String(), required=True)


class TasksSchema(Schema):
    """By day, then id."""

    on = fields.String(required=True)
    tasks = fields.List(fields.Nested(TaskSchema), required=True)


@blueprint.call("GET", "/logbooks/<logbook>/tasks", asks=AskSchema, gives=TasksSchema)
def read(asked: dict[str, Any], logbook: str) -> dict[str, Any]:
    """What is due up to a day, from all that the server holds now."""
    services = current_services()
    day = asked["on"].isoformat() if asked["on"] else services.clocks.calendar_today()
    return dict(services.reminders.tasks(member_of(logbook), day, asked["for_"]))
