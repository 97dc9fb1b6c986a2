"""The exchange: what a phone wrote goes up, what it lacks comes down."""

from __future__ import annotations

from typing import Any

from flask import Response
from marshmallow import fields

from sporeline.api import Blueprint, Schema, current_services, member_of
from sporeline.api.body import read_json
from sporeline.errors import NotValid, TooLarge
from sporeline.logbook import MOST_ENTRIES, MOST_LINES, Asked, Left, Place

blueprint = Blueprint("exchange", __name__, url_prefix="/api/v1", description="Exchange")

LARGEST = 1024 * 1024
"""Bytes of a request, unpacked."""


class PlaceSchema(Schema):
    """A place in the history: a number and the entry that stood there (null at 0)."""

    epoch = fields.String(required=True)
    seq = fields.Integer(required=True)
    entry = fields.String(required=True, allow_none=True)


class UnsentSchema(Schema):
    """What the phone has not sent yet, with this request."""

    count = fields.Integer(required=True)
    oldest = fields.String(required=True, allow_none=True)


class LeftSchema(Schema):
    """`to`: the last number of the series that the phone was ever given; 0 for none."""

    series = fields.String(required=True)
    left = fields.Integer(required=True)
    to = fields.Integer()


class ExchangeSchema(Schema):
    """At most 500 entries and 1 MiB unpacked; at most 2,000 lines and 1 MiB come back."""

    cursor = fields.Nested(PlaceSchema, required=True, allow_none=True)
    high = fields.Nested(PlaceSchema, required=True, allow_none=True)
    now = fields.String()
    unsent = fields.Nested(UnsentSchema)
    entries = fields.List(fields.Dict(), required=True)
    limit = fields.Integer()
    numbers = fields.List(fields.Nested(LeftSchema))
    outlooks = fields.Integer()


class FaultSchema(Schema):
    """One thing that is wrong with an entry."""

    code = fields.String(required=True)
    where = fields.String(required=True)
    message = fields.String(required=True)
    fix = fields.String(required=True)


class VerdictSchema(Schema):
    """`again`: it was known and equal."""

    id = fields.String(required=True)
    seq = fields.Integer(required=True)
    state = fields.String(required=True, metadata={"enum": ["stored", "held"]})
    received = fields.Integer(required=True)
    errors = fields.List(fields.Nested(FaultSchema), required=True)
    again = fields.Boolean()


class RefusalSchema(FaultSchema):
    """Never stored; `index`: its place in `entries`, `id` where it has a readable one."""

    id = fields.String()
    index = fields.Integer(required=True)


class BackedUpSchema(Schema):
    """Up to where the last verified backup reaches."""

    epoch = fields.String(required=True)
    seq = fields.Integer(required=True)
    at = fields.String(required=True)


class BlockSchema(Schema):
    """Running numbers for this phone."""

    series = fields.String(required=True)
    from_ = fields.Integer(required=True, data_key="from")
    to = fields.Integer(required=True)


class ExchangedSchema(Schema):
    """Each of `entries` has `seq`, `received`, `state` and `vouched` beside its content."""

    stored = fields.List(fields.Nested(VerdictSchema), required=True)
    refused = fields.List(fields.Nested(RefusalSchema), required=True)
    entries = fields.List(fields.Dict(), required=True)
    outlooks = fields.List(fields.Dict(), required=True)
    cursor = fields.Nested(PlaceSchema, required=True)
    more = fields.Boolean(required=True)
    server_now = fields.String(required=True)
    today = fields.String(required=True)
    shift_days = fields.Integer(required=True)
    backed_up = fields.Nested(BackedUpSchema, required=True, allow_none=True)
    numbers = fields.List(fields.Nested(BlockSchema), required=True)


@blueprint.call("POST", "/logbooks/<logbook>/exchange", reads=ExchangeSchema, gives=ExchangedSchema)
def exchange(logbook: str) -> Response:
    """One round trip, safe to repeat.

    409 `history-diverged` with `epoch` and `head` when the phone's place is not in this history;
    413 when it is too much; on every error nothing was stored.
    """
    text = current_services().logbook.exchange(member_of(logbook), _asked(read_json(LARGEST)))
    return Response(text, content_type="application/json")


def _asked(body: Any) -> Asked:
    """Read by hand, for speed: entries are judged one by one, and each has its own verdict.

    :raise NotValid: not what an exchange takes. :raise TooLarge: too many entries.
    """
    if not isinstance(body, dict):
        raise NotValid(where="body")
    entries = body.get("entries")
    if not isinstance(entries, list):
        raise NotValid(where="entries")
    if len(entries) > MOST_ENTRIES:
        raise TooLarge(where="entries", fix=f"Send at most {MOST_ENTRIES} entries at once.")
    return Asked(
        cursor=_place(body.get("cursor"), "cursor"),
        high=_place(body.get("high"), "high"),
        entries=entries,
        limit=_whole(body.get("limit", MOST_LINES), "limit"),
        numbers=_numbers(body.get("numbers", [])),
        outlooks=_whole(body.get("outlooks", 0), "outlooks"),
    )


def _place(value: Any, where: str) -> Place | None:
    if value is None:
        return None
    if not isinstance(value, dict) or not isinstance(value.get("epoch"), str):
        raise NotValid(where=where)
    entry = value.get("entry")
    if entry is not None and not isinstance(entry, str):
        raise NotValid(where=f"{where}.entry")
    return Place(value["epoch"], _whole(value.get("seq"), f"{where}.seq"), entry)


def _numbers(value: Any) -> dict[str, Left]:
    if not isinstance(value, list):
        raise NotValid(where="numbers")
    return dict(_left(each, f"numbers.{at}") for at, each in enumerate(value))


def _left(value: Any, where: str) -> tuple[str, Left]:
    if not isinstance(value, dict) or not isinstance(value.get("series"), str):
        raise NotValid(where=where)
    to = value.get("to")
    known = None if to is None else _whole(to, f"{where}.to")
    return value["series"], Left(_whole(value.get("left"), f"{where}.left"), known)


def _whole(value: Any, where: str) -> int:
    if type(value) is not int or not 0 <= value < 2**53:
        raise NotValid(where=where)
    return value
