"""Bodies: JSON of RFC 7493, plain or gzip, never more than the limit."""

from __future__ import annotations

import gzip
import json
import zlib

import pytest
from flask import Flask, jsonify

from sporeline.api import body, failures
from sporeline.errors import NotJson, TooLarge


@pytest.fixture(scope="module")
def echo():
    """A route that gives back what it read, at most 1000 bytes of it."""
    app = Flask("echo")
    failures.register(app)

    @app.post("/")
    def read():
        return jsonify(body.read_json(limit=1000))

    return app.test_client()


def post(echo, data, encoding=None, kind="application/json"):
    headers = {} if encoding is None else {"Content-Encoding": encoding}
    return echo.post("/", data=data, headers=headers, content_type=kind)


def code(answer):
    return answer.status_code, answer.json["code"]


def test_plain_and_packed_read_alike(echo):
    text = json.dumps({"name": "Hart’s tongue", "n": [1, None, True]}).encode()
    assert post(echo, text).json == post(echo, gzip.compress(text), "gzip").json
    assert post(echo, text).json["name"] == "Hart’s tongue"


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"{",
        b'{"a":1,"a":2}',
        b'[{"a":{"b":1,"b":1}}]',
        b"[NaN]",
        b"[-Infinity]",
        b'"\xff"',
        b"[" * 900,
        b"<html>sign in to this network</html>",
        b"\xef\xbb\xbf{}",
    ],
)
def test_what_is_no_json_is_refused(echo, text):
    assert code(post(echo, text)) == (400, "not-json")


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", ""])
def test_only_json_is_read_as_json(echo, kind):
    assert code(post(echo, b"{}", kind=kind)) == (400, "not-json")


def test_the_limit_counts_what_is_unpacked(echo):
    fits = json.dumps("x" * 998).encode()
    over = json.dumps("x" * 999).encode()
    assert len(fits) == 1000
    assert post(echo, fits).status_code == 200
    assert post(echo, gzip.compress(fits), "gzip").status_code == 200
    assert code(post(echo, over)) == (413, "too-large")
    assert code(post(echo, gzip.compress(over), "gzip")) == (413, "too-large")


def test_a_bomb_is_never_unpacked_whole(monkeypatch):
    bomb = gzip.compress(b" " * 50_000_000)
    assert len(bomb) < 60_000
    unpacked = []
    unpacker = zlib.decompressobj

    class Counting:
        def __init__(self, wbits):
            self._real = unpacker(wbits=wbits)

        def decompress(self, data, limit):
            out = self._real.decompress(data, limit)
            unpacked.append(len(out))
            return out

    monkeypatch.setattr(zlib, "decompressobj", Counting)
    with pytest.raises(TooLarge):
        body._unpacked(bomb, 1000)
    assert unpacked == [1001]


def test_depth_does_not_break_the_reader():
    with pytest.raises(NotJson):
        body.parse(b"[" * 100_000 + b"]" * 100_000)


@pytest.mark.parametrize("cut", [1, 10, 20])
def test_a_torn_packed_body_is_refused(cut):
    whole = gzip.compress(b'{"a": "some words that do not repeat"}')
    with pytest.raises(NotJson):
        body._unpacked(whole[:-cut], 1000)


@pytest.mark.parametrize("encoding", ["br", "gzip, gzip", "deflate"])
def test_other_ways_of_packing_are_refused(echo, encoding):
    assert code(post(echo, b"{}", encoding)) == (400, "not-json")


def test_gzip_that_is_none_is_refused(echo):
    assert code(post(echo, b"{}", "gzip")) == (400, "not-json")
