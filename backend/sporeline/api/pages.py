"""The phone app's own files. Any address that is a screen gets the same page; the app routes.

Files under /assets carry a hash of their content in their name and never change; all others are
asked for again each time, and answered 304 when nothing is new.
"""

from __future__ import annotations

import gzip
import mimetypes
from functools import lru_cache
from pathlib import Path

from flask import Blueprint, Response, request, send_file
from flask.blueprints import BlueprintSetupState
from werkzeug.routing import PathConverter
from werkzeug.security import safe_join

from sporeline.api import current_services
from sporeline.api.guard import PACKABLE, WORTH_PACKING
from sporeline.errors import NotThere

blueprint = Blueprint("pages", __name__)

FOREVER = "public, max-age=31536000, immutable"
EACH_TIME = "no-cache"
TYPES = {
    ".js": "text/javascript",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
}


class ScreenPath(PathConverter):
    """Every path but the server's own: an unknown call stays an error, and never gets a page."""

    regex = r"(?!api/|calendar/)[^/].*?"


@blueprint.record_once
def _know_paths(state: BlueprintSetupState) -> None:
    state.app.url_map.converters["screen"] = ScreenPath


@blueprint.get("/")
@blueprint.get("/<screen:path>")
def page(path: str = "") -> Response:
    """A file of the app, or its page for the address of a screen."""
    root = current_services().pages
    file = _file(root, path)
    if file is None:
        if Path(path).suffix:
            raise NotThere(where=request.path)
        file = _file(root, "index.html")
    if file is None:
        raise NotThere(
            "The phone app is not built on this server.",
            code="app-not-built",
            fix="Install sporeline as a package, or run the build in pwa/.",
        )
    return _answer(file, FOREVER if path.startswith("assets/") else EACH_TIME)


def _file(root: Path, path: str) -> Path | None:
    joined = safe_join(str(root), path) if path else None
    return Path(joined) if joined and Path(joined).is_file() else None


def _answer(file: Path, keep: str) -> Response:
    kind = (
        TYPES.get(file.suffix) or mimetypes.guess_type(file.name)[0] or "application/octet-stream"
    )
    response = send_file(file, mimetype=kind, conditional=True, etag=True)
    response.headers["Cache-Control"] = keep
    size = file.stat().st_size
    if kind.startswith((*PACKABLE, "application/wasm")) and size >= WORTH_PACKING:
        response.vary.add("Accept-Encoding")
        if request.accept_encodings["gzip"] and response.status_code == 200:
            response.direct_passthrough = False
            response.set_data(_packed(file, file.stat().st_mtime_ns))
            response.headers["Content-Encoding"] = "gzip"
    return response


@lru_cache(maxsize=256)
def _packed(file: Path, _changed: int) -> bytes:
    return gzip.compress(file.read_bytes(), compresslevel=9, mtime=0)
