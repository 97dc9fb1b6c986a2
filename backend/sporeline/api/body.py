"""Reading a request's JSON, plain or gzip, never more of it than a limit."""

from __future__ import annotations

import json
import zlib
from typing import Any

from flask import Request, request

from sporeline.errors import NotJson, TooLarge

ORDINARY = 64 * 1024
"""Bytes, unpacked: enough for every call but the exchange."""


def read_json(limit: int = ORDINARY) -> Any:
    """The body as JSON (RFC 7493: UTF-8, no doubled names, no NaN).

    :raise TooLarge: more than `limit` bytes, counted after unpacking.
    :raise NotJson: no JSON content type, damaged gzip, or text that is not I-JSON.
    """
    if request.mimetype != "application/json":
        raise NotJson(where="Content-Type")
    return parse(read_bytes(request, limit))


def read_bytes(request: Request, limit: int) -> bytes:
    """The unpacked body of a request; see `read_json`."""
    if (request.content_length or 0) > limit:
        raise TooLarge
    packed = request.stream.read(limit + 1)
    encoding = request.headers.get("Content-Encoding", "identity").lower()
    if encoding == "gzip":
        return _unpacked(packed, limit)
    if encoding != "identity":
        raise NotJson(where="Content-Encoding")
    if len(packed) > limit:
        raise TooLarge
    return packed


def parse(body: bytes) -> Any:
    """:raise NotJson: not I-JSON."""
    try:
        return json.loads(
            body.decode("utf-8"), object_pairs_hook=_object, parse_constant=_no_constant
        )
    except (ValueError, RecursionError) as wrong:  # includes UnicodeDecodeError
        raise NotJson from wrong


def _unpacked(packed: bytes, limit: int) -> bytes:
    unpacking = zlib.decompressobj(wbits=zlib.MAX_WBITS | 16)
    try:
        body = unpacking.decompress(packed, limit + 1)
    except zlib.error as wrong:
        raise NotJson(where="Content-Encoding") from wrong
    if len(body) > limit:
        raise TooLarge
    if not unpacking.eof:
        raise NotJson(where="Content-Encoding")
    return body


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a name stands twice in one object")
    return found


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is not JSON")
