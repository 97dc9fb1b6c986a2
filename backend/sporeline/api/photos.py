"""Photos: how much is here, take up a part, give the bytes to who may see them."""

from __future__ import annotations

import re

from flask import Response, make_response, request, send_file

from sporeline.api import Blueprint, current_services, member_of
from sporeline.errors import NotThere, NotValid, TooLarge
from sporeline.people.roles import require
from sporeline.photos import LARGEST, Offset, PhotoStore, WrongOffset

blueprint = Blueprint("photos", __name__, url_prefix="/api/v1", description="Photos")

RULE = "/logbooks/<logbook>/photos/<sha256>"
PICTURES = {"image/jpeg", "image/png", "image/webp"}
"""What a browser may be told that it is; anything else is only bytes to keep."""
_HASH = re.compile(r"[0-9a-f]{64}\Z")


@blueprint.call("HEAD", RULE)
def offset(logbook: str, sha256: str) -> Response:
    """How much of the photo is here: `Upload-Offset` and `Upload-Complete`; 404 when nothing."""
    here = _store().offset(logbook, _named(sha256))
    if here is None:
        raise NotThere
    return _told(here, 200)


@blueprint.call("PUT", RULE, status=201)
def append(logbook: str, sha256: str) -> Response:
    """Add the part that begins at `Upload-Offset`; `Upload-Complete: ?1` says that it is the last.

    201 when the photo is whole, 204 when more is wanted, 409 with the true offset, 422 when the
    bytes are not those of the name (the part is thrown away).
    """
    require(member_of(logbook).role, "look")
    last = {"?1": True, "?0": False}.get(request.headers.get("Upload-Complete", ""))
    try:
        here = _store().append(logbook, _named(sha256), _begins_at(), _part(), last)
    except WrongOffset as wrong:
        return _told(Offset(wrong.offset, False), 409, wrong.on_the_wire())
    return _told(here, 201 if here.complete else 204)


@blueprint.call("GET", RULE)
def content(logbook: str, sha256: str) -> Response:
    """The bytes, for a member of a logbook that has an entry naming this photo."""
    services = current_services()
    path = _store().path(logbook, _named(sha256))
    with services.database.read() as connection:
        said = services.logbook.type_of_photo(connection, logbook, sha256)
    if path is None or said is None:
        raise NotThere
    kind = said if said in PICTURES else "application/octet-stream"
    response = send_file(path, mimetype=kind, download_name=sha256, as_attachment=True)
    response.headers["Content-Security-Policy"] = "sandbox; default-src 'none'"
    response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    response.headers["Cache-Control"] = "private, no-store"
    return response


def _store() -> PhotoStore:
    store: PhotoStore = current_services().photos
    return store


def _named(sha256: str) -> str:
    """:raise NotThere: not the name of any photo."""
    if not _HASH.match(sha256):
        raise NotThere(where="sha256")
    return sha256


def _begins_at() -> int:
    """:raise NotValid: `Upload-Offset` is missing or no number."""
    text = request.headers.get("Upload-Offset", "")
    if not text.isdecimal() or len(text) > 10:
        raise NotValid("`Upload-Offset` is missing or no number.", where="Upload-Offset")
    return int(text)


def _part() -> bytes:
    """:raise TooLarge: more than a photo may have."""
    if (request.content_length or 0) > LARGEST:
        raise TooLarge
    part = request.stream.read(LARGEST + 1)
    if len(part) > LARGEST or (request.content_length or 0) > len(part):
        raise TooLarge if len(part) > LARGEST else NotValid("The part was cut short.")
    return part


def _told(here: Offset, status: int, body: dict[str, object] | None = None) -> Response:
    response = make_response(body if body is not None else "", status)
    response.headers["Upload-Offset"] = str(here.bytes)
    response.headers["Upload-Complete"] = "?1" if here.complete else "?0"
    response.headers["Cache-Control"] = "no-store"
    return response
