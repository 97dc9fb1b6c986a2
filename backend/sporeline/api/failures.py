"""Every error leaves in the one shape: `{"code", "message", "where", "fix"}`."""

from __future__ import annotations

from typing import Any

from flask import Flask, Response, jsonify, request
from marshmallow import fields
from werkzeug.exceptions import HTTPException

from sporeline.api import Schema
from sporeline.errors import (
    Broken,
    Busy,
    NotJson,
    NotSignedIn,
    NotThere,
    NotValid,
    SporelineError,
    StorageFull,
    TooLarge,
    TooMany,
)

_BY_STATUS: dict[int, type[SporelineError]] = {
    kind.status: kind for kind in (NotJson, NotThere, TooLarge, NotValid, TooMany, Busy, Broken)
}


class ErrorSchema(Schema):
    """What happened and what is safe, where in the request, what to do. Codes stay."""

    code = fields.String(required=True)
    message = fields.String(required=True)
    where = fields.String(required=True)
    fix = fields.String(required=True)


def register(app: Flask) -> None:
    """Answer errors of our own tree, of Flask and its extensions, and unexpected ones alike."""
    app.register_error_handler(SporelineError, answer)
    app.register_error_handler(HTTPException, lambda wrong: _http(app, wrong))
    app.register_error_handler(Exception, lambda wrong: _unexpected(app, wrong))


def answer(wrong: SporelineError) -> Response:
    """The response for an error of our own tree."""
    response = jsonify(wrong.on_the_wire())
    response.status_code = wrong.status
    if isinstance(wrong, NotSignedIn):
        response.headers["WWW-Authenticate"] = "Bearer"
    if isinstance(wrong, (Busy, StorageFull, TooMany)):
        response.headers["Retry-After"] = "60"
    return response


def _http(app: Flask, wrong: HTTPException) -> Response:
    """What Flask, webargs and the limiter raise, told in our own words."""
    status = wrong.code or 500
    if status >= 500:
        return _unexpected(app, wrong)
    if messages := getattr(wrong, "data", {}).get("messages"):
        where, text = _first(messages)
        return answer(NotValid(f"{text} Nothing was changed.", where=where))
    kind = _BY_STATUS.get(status)
    error = kind(where=request.path) if kind else _other(status, wrong)
    response = answer(error)
    for name, value in wrong.get_headers(request.environ):
        if name in ("Allow", "Retry-After"):
            response.headers[name] = value
    return response


def _other(status: int, wrong: HTTPException) -> SporelineError:
    code = str(wrong.name).lower().replace(" ", "-")
    error = SporelineError(
        f"{wrong.description} Nothing was changed.",
        code=code,
        where=f"{request.method} {request.path}",
        fix="See /api/v1/openapi.json for what this address takes.",
    )
    error.status = status
    return error


def _unexpected(app: Flask, wrong: BaseException) -> Response:
    app.logger.error("%s %s failed", request.method, request.path, exc_info=wrong)
    return answer(Broken(where=request.path))


def _first(messages: Any, path: tuple[str, ...] = ()) -> tuple[str, str]:
    """The path and text of the first of webargs' nested messages, e.g. `person.name`."""
    if isinstance(messages, dict):
        key, inner = next(iter(messages.items()))
        skipped = not path and key in ("json", "query", "_schema")
        return _first(inner, path if skipped or key == "_schema" else (*path, str(key)))
    if isinstance(messages, list):
        return _first(messages[0], path)
    return ".".join(path), str(messages)
