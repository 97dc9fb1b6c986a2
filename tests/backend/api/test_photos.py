"""Photos over HTTP: parts, the true offset, who may see them."""

from __future__ import annotations

import hashlib

import pytest
from phones import Phone

PICTURE = b"not really a picture, but bytes that were promised" * 400
NAME = hashlib.sha256(PICTURE).hexdigest()
PLANT = "019de28d-3c00-7000-8000-0000000000aa"


def put(phone: Phone, at: int, content: bytes, complete: str | None = None):  # type: ignore[no-untyped-def]
    headers = {"Upload-Offset": str(at)} | ({"Upload-Complete": complete} if complete else {})
    return phone.call("PUT", f"…/photos/{NAME}", data=content, headers=headers)


def name_it(phone: Phone, type_: str = "image/jpeg") -> None:
    photo = {"sha256": NAME, "bytes": len(PICTURE), "type": type_, "w": 10, "h": 10}
    entry = {
        "id": "019de28d-3c00-7000-8000-0000000000bb",
        "kind": "photo.taken",
        "v": 1,
        "about": PLANT,
        "at": "2026-05-01",
        "made": "019de28d3c00-00000000-00000000000000a1",
        "data": {"photo": photo},
    }
    body = {"cursor": None, "high": None, "entries": [entry], "limit": 10}
    answer = phone.post("…/exchange", body)
    assert answer.status_code == 200, answer.json
    assert answer.json["stored"][0]["state"] == "stored", answer.json


def test_parts_head_and_the_whole(owner: Phone) -> None:
    assert owner.call("HEAD", f"…/photos/{NAME}").status_code == 404
    assert put(owner, 0, PICTURE[:9000], "?0").status_code == 204
    head = owner.call("HEAD", f"…/photos/{NAME}")
    assert (head.headers["Upload-Offset"], head.headers["Upload-Complete"]) == ("9000", "?0")
    wrong = put(owner, 8999, PICTURE[8999:], "?1")
    assert (wrong.status_code, wrong.json["code"]) == (409, "wrong-offset")
    assert wrong.headers["Upload-Offset"] == "9000"
    assert put(owner, 9000, PICTURE[9000:], "?1").status_code == 201
    assert owner.call("HEAD", f"…/photos/{NAME}").headers["Upload-Complete"] == "?1"


def test_damaged_bytes_are_thrown_away(owner: Phone) -> None:
    damaged = put(owner, 0, PICTURE[:-1] + b"?", "?1")
    assert (damaged.status_code, damaged.json["code"]) == (422, "wrong-hash")
    assert owner.call("HEAD", f"…/photos/{NAME}").status_code == 404


def test_only_an_entry_that_names_it_opens_a_photo(owner: Phone) -> None:
    put(owner, 0, PICTURE, "?1")
    assert owner.get(f"…/photos/{NAME}").status_code == 404
    name_it(owner)
    got = owner.get(f"…/photos/{NAME}")
    assert (got.status_code, got.data, got.mimetype) == (200, PICTURE, "image/jpeg")
    assert got.headers["X-Content-Type-Options"] == "nosniff"
    assert "sandbox" in got.headers["Content-Security-Policy"]
    assert got.headers["Content-Disposition"].startswith("attachment")


def test_a_photo_is_entered_before_its_bytes_come(owner: Phone) -> None:
    name_it(owner)
    assert owner.get(f"…/photos/{NAME}").status_code == 404
    put(owner, 0, PICTURE, "?1")
    assert owner.get(f"…/photos/{NAME}").status_code == 200


def test_an_onlooker_sees_photos_and_sends_none(owner: Phone) -> None:
    onlooker = owner.brings("onlooker")
    assert put(onlooker, 0, PICTURE, "?1").status_code == 403
    put(owner, 0, PICTURE, "?1")
    name_it(owner)
    assert onlooker.get(f"…/photos/{NAME}").status_code == 200


@pytest.mark.parametrize("name", ["A" * 64, "0" * 63, "0" * 65, "..", "x" * 64])
def test_names_that_no_photo_can_have(owner: Phone, name: str) -> None:
    answer = owner.call("PUT", f"…/photos/{name}", data=b"x", headers={"Upload-Offset": "0"})
    assert answer.status_code in {404, 405}


@pytest.mark.parametrize("offset", ["", "-1", "x", "1" * 40])
def test_an_offset_that_is_none(owner: Phone, offset: str) -> None:
    headers = {"Upload-Offset": offset}
    answer = owner.call("PUT", f"…/photos/{NAME}", data=b"x", headers=headers)
    assert (answer.status_code, answer.json["where"]) == (422, "Upload-Offset")
