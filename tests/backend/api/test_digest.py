"""What of a phone's entries and photos the server lacks."""

from __future__ import annotations

import hashlib
from typing import Any

import pytest
from phones import Phone, first_owner

from tests.backend.pens import Pen, new_id


def test_lacking_entries_in_the_order_asked(owner: Phone) -> None:
    pen = Pen(owner)
    kept, held = pen.entry(), pen.entry(data={"ripeness": "brownish"})
    epoch = pen.bring(kept, held)["cursor"]["epoch"]
    one, other = new_id(), new_id()
    told = pen.digest(other, kept["id"], one, held["id"])
    assert told == {"epoch": epoch, "lacks": [other, one], "lacks_photos": []}


def test_photos_are_asked_for_in_this_logbook_alone(owner: Phone) -> None:
    photo = b"a picture"
    sha256 = hashlib.sha256(photo).hexdigest()
    headers = {"Upload-Offset": "0", "Upload-Complete": "?1"}
    put = owner.call("PUT", f"…/photos/{sha256}", data=photo, headers=headers)
    assert put.status_code == 201
    assert Pen(owner).digest(photos=(sha256, "b" * 64))["lacks_photos"] == ["b" * 64]
    assert Pen(first_owner(owner.app)).digest(photos=(sha256,))["lacks_photos"] == [sha256]


def test_as_many_as_may_be_asked(owner: Phone) -> None:
    ids = [new_id() for _ in range(2000)]
    photos = tuple(f"{n:064x}" for n in range(200))
    told = Pen(owner).digest(*ids, photos=photos)
    assert (told["lacks"], told["lacks_photos"]) == (ids, list(photos))


@pytest.mark.parametrize(
    ("body", "status"),
    [
        ({"ids": ["x"] * 2001}, 413),
        ({"photos": ["x"] * 201}, 413),
        ({"ids": "x"}, 422),
        ({"photos": [7]}, 422),
        ([], 422),
    ],
)
def test_what_is_no_digest(owner: Phone, body: Any, status: int) -> None:
    assert owner.post("…/digest", body).status_code == status


@pytest.mark.parametrize("odd", ["..", "../x", "", "A" * 64, "\x00"])
def test_odd_names_of_photos_are_lacking(owner: Phone, odd: str) -> None:
    assert Pen(owner).digest(photos=(odd,))["lacks_photos"] == [odd]
