"""Requests that are too large, torn, or none: nothing of them is stored."""

from __future__ import annotations

import json
from typing import Any

import pytest
from phones import Phone

from tests.backend.pens import Pen, packed


@pytest.fixture
def pen(owner: Phone) -> Pen:
    return Pen(owner)


def test_too_many_entries(pen: Pen) -> None:
    entries = [pen.entry() for _ in range(501)]
    answer = pen.ask(*entries)
    assert (answer.status_code, answer.json["code"]) == (413, "too-large")
    assert len(pen.digest(*(entry["id"] for entry in entries))["lacks"]) == 501
    assert len(pen.bring(*entries[:500])["stored"]) == 500


def test_more_than_one_mib_unpacked(pen: Pen) -> None:
    entry = pen.entry()
    body = {"cursor": None, "high": None, "entries": [entry], "later": "x" * 2**20}
    for sent in (pen.send(json.dumps(body).encode()), _gzipped(pen, packed(body))):
        assert (sent.status_code, sent.json["code"]) == (413, "too-large")
    assert pen.digest(entry["id"])["lacks"] == [entry["id"]]


@pytest.mark.parametrize("cut", [1, 10, -1, -8, -12])
def test_torn_gzip(pen: Pen, cut: int) -> None:
    entry = pen.entry()
    body = packed({"cursor": None, "high": None, "entries": [entry]})
    answer = _gzipped(pen, body[:cut])
    assert (answer.status_code, answer.json["code"]) == (400, "not-json")
    assert pen.digest(entry["id"])["lacks"] == [entry["id"]]
    assert _gzipped(pen, body).status_code == 200


def test_gzip_with_a_wrong_checksum(pen: Pen) -> None:
    entry = pen.entry()
    body = bytearray(packed({"cursor": None, "high": None, "entries": [entry]}))
    body[-6] ^= 1
    assert _gzipped(pen, bytes(body)).status_code == 400
    assert pen.digest(entry["id"])["lacks"] == [entry["id"]]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"\xff\xfe",
        b'{"entries":[],"entries":[]}',
        b'{"entries":[],"cursor":NaN}',
        b"<html>",
        b"[" * 100_000,
    ],
)
def test_what_is_no_json(pen: Pen, body: bytes) -> None:
    answer = pen.send(body)
    assert (answer.status_code, answer.json["code"]) == (400, "not-json")


@pytest.mark.parametrize(
    ("where", "wrong"),
    [
        ("entries", {"entries": None}),
        ("cursor", {"cursor": []}),
        ("cursor.seq", {"cursor": {"epoch": "e", "seq": "1", "entry": None}}),
        ("high.entry", {"high": {"epoch": "e", "seq": 1, "entry": 5}}),
        ("limit", {"limit": -1}),
        ("numbers", {"numbers": {}}),
        ("numbers.0", {"numbers": [7]}),
        ("numbers.0.left", {"numbers": [{"series": "box"}]}),
        ("outlooks", {"outlooks": True}),
    ],
)
def test_what_is_no_exchange(pen: Pen, where: str, wrong: dict[str, Any]) -> None:
    answer = pen.ask(**wrong)
    assert (answer.status_code, answer.json["code"]) == (422, "not-valid")
    assert answer.json["where"] == where


def _gzipped(pen: Pen, body: bytes) -> Any:
    return pen.send(body, **{"Content-Encoding": "gzip"})
