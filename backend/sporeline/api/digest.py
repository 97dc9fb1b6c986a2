"""The digest: what of a phone's entries and photos is not here."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from sporeline.api import Blueprint, Schema, current_services, member_of
from sporeline.api.body import read_json
from sporeline.errors import NotValid, TooLarge
from sporeline.logbook import MOST_IDS, MOST_PHOTOS

blueprint = Blueprint("digest", __name__, url_prefix="/api/v1", description="Digest")

LARGEST = 256 * 1024


class DigestSchema(Schema):
    """Ids of entries and hashes of photos that the phone has."""

    ids = fields.List(fields.String(), validate=validate.Length(max=MOST_IDS))
    photos = fields.List(fields.String(), validate=validate.Length(max=MOST_PHOTOS))


class LacksSchema(Schema):
    """Those that this logbook does not have."""

    epoch = fields.String(required=True)
    lacks = fields.List(fields.String(), required=True)
    lacks_photos = fields.List(fields.String(), required=True)


@blueprint.call("POST", "/logbooks/<logbook>/digest", reads=DigestSchema, gives=LacksSchema)
def digest(logbook: str) -> Any:
    """After `history-diverged`: what is to be offered again. Each logbook answers for itself."""
    services = current_services()
    asked = _asked(read_json(LARGEST))
    return services.logbook.digest(member_of(logbook), *asked, services.photos)


def _asked(body: Any) -> tuple[list[str], list[str]]:
    """:raise NotValid: not what a digest takes. :raise TooLarge: too much at once."""
    if not isinstance(body, dict):
        raise NotValid(where="body")
    return _texts(body, "ids", MOST_IDS), _texts(body, "photos", MOST_PHOTOS)


def _texts(body: dict[str, Any], name: str, most: int) -> list[str]:
    texts = body.get(name, [])
    if not isinstance(texts, list) or not all(isinstance(text, str) for text in texts):
        raise NotValid(where=name)
    if len(texts) > most:
        raise TooLarge(where=name, fix=f"Ask for at most {most} at once.")
    return texts
