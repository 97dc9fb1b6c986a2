"""Records follow from entries, batch by batch as all at once."""

from __future__ import annotations

from typing import Any

import pytest
from phones import Phone, first_owner, services_of

from sporeline import logbook
from sporeline.contract.kinds import KERNEL_KINDS
from sporeline.kernel.fold import fold
from tests.backend.pens import Pen, new_id


@pytest.fixture
def pen(owner: Phone) -> Pen:
    return Pen(owner)


def records(phone: Phone, **chosen: Any) -> list[dict[str, Any]]:
    with services_of(phone.app).database.read() as c:
        return logbook.read_records(c, phone.logbook, **chosen)


def test_a_record_is_folded_from_all_its_batches(owner: Phone, pen: Pen) -> None:
    box, shelf = new_id(), new_id()
    described = pen.entry("box.described", {"vessel": "jar"}, about=box)
    placed = pen.entry("box.placed", {"shelf": shelf}, about=box, also=[shelf])
    wrong = pen.entry("cover.set", {"cover": "ajar"}, about=box)
    pen.bring(placed)
    pen.bring(described, wrong)
    (record,) = records(owner, ids=[box])
    assert record["type"] == "box"
    assert record["fields"] == {"box.described": {"vessel": "jar"}}
    assert record["states"]["shelf"]["value"] == shelf
    assert record["held"] == [wrong["id"]]
    assert "facts" not in record
    assert {each["id"] for each in records(owner)} == {box, shelf}


def test_a_strike_takes_back_what_was_struck(owner: Phone, pen: Pen) -> None:
    seen = pen.entry()
    pen.bring(seen)
    strike = pen.entry("entry.struck", {"entry": seen["id"], "reason": "no"}, about=seen["about"])
    pen.bring(strike)
    (record,) = records(owner)
    assert (record["states"], record["struck"]) == ({}, [seen["id"]])


def test_records_are_read_by_type_and_by_id(owner: Phone, pen: Pen) -> None:
    boxes = [pen.entry("box.described", {}, about=new_id()) for _ in range(600)]
    shelf = pen.entry("shelf.described", {})
    pen.bring(*boxes[:500])
    pen.bring(*boxes[500:], shelf)
    ids = [box["about"] for box in boxes]
    assert [each["id"] for each in records(owner, types=("box",))] == ids
    assert [each["id"] for each in records(owner, ids=ids[5:590])] == ids[5:590]
    assert records(owner, types=("box",), ids=[shelf["about"], new_id()]) == []
    assert records(owner, ids=[]) == []
    assert len(records(owner, types=("box", "shelf"))) == 601


def test_records_of_another_logbook_are_not_read(owner: Phone, pen: Pen) -> None:
    entry = pen.entry()
    pen.bring(entry)
    other = first_owner(owner.app)
    assert records(other) == []
    with services_of(owner.app).database.read() as c:
        assert logbook.read_entries(c, other.logbook, [entry["id"]]) == []
        assert logbook.changed_since(c, other.logbook, 0) == []
        assert logbook.head_of(c, other.logbook) == 0


def test_what_changed_since(owner: Phone, pen: Pen) -> None:
    old, again = pen.entry(), pen.entry()
    pen.bring(old, again)
    later = pen.entry(about=again["about"])
    with services_of(owner.app).database.read() as c:
        head = logbook.head_of(c, owner.logbook)
    pen.bring(later, old)
    with services_of(owner.app).database.read() as c:
        assert logbook.head_of(c, owner.logbook) == head + 1
        assert logbook.changed_since(c, owner.logbook, head) == [again["about"]]


def test_entries_are_read_with_their_state(owner: Phone, pen: Pen) -> None:
    good, bad = pen.entry(), pen.entry(data={})
    pen.bring(good, bad)
    with services_of(owner.app).database.read() as c:
        found = logbook.read_entries(c, owner.logbook, [bad["id"], good["id"], new_id()])
    assert [each["state"] for each in found] == ["stored", "held"]
    assert {name: found[0][name] for name in good} == good


def test_held_entries_of_any_shape_do_no_harm(owner: Phone, pen: Pen) -> None:
    about = new_id()
    odd: list[dict[str, Any]] = [
        {"id": new_id()},
        {"id": new_id(), "about": about},
        {"id": new_id(), "about": about, "kind": "entry.struck", "data": None},
        {"id": new_id(), "about": about, "kind": "record.described", "seen": [], "data": []},
        {"id": new_id(), "about": about, "kind": "photo.taken", "data": {"photo": {"sha256": 5}}},
        {"id": new_id(), "about": about, "kind": "sori.seen", "v": {}, "also": {"x": 1}, "at": 5},
        {"id": new_id(), "about": [], "kind": {}, "v": [], "made": None, "by": 5, "device": []},
        {"id": new_id(), "about": about, "kind": "place.fixed", "also": [None, about, 5]},
    ]
    answer = pen.bring(*odd, pen.entry(about=about))
    assert [line["state"] for line in answer["stored"]] == ["held"] * 8 + ["stored"]
    (record,) = records(owner, ids=[about])
    assert len(record["held"]) == 5
    assert record["states"]["ripeness"]["value"] == "ripe"


def test_rebuilt_records_are_the_same(owner: Phone, pen: Pen) -> None:
    box = new_id()
    for cover in ("closed", "half", "ajar"):
        pen.bring(pen.entry("cover.set", {"cover": cover}, about=box, also=[new_id()]))
    before = records(owner)
    with services_of(owner.app).database.write() as c:
        assert logbook.rebuild(c, owner.logbook) == 4
    assert records(owner) == before
    lines = [line for line in pen.pull() if line["about"] == box]
    folded = fold(box, lines, KERNEL_KINDS)
    (record,) = records(owner, ids=[box])
    assert {name: folded[name] for name in record} == record  # type: ignore[literal-required]


def test_photos_are_named_by_entries_of_this_logbook(owner: Phone, pen: Pen) -> None:
    photo = {"sha256": "a" * 64, "bytes": 5, "type": "image/jpeg", "w": 4, "h": 3}
    pen.bring(pen.entry("photo.taken", {"photo": photo}))
    pen.bring(pen.entry("photo.taken", {"photo": photo | {"type": "image/png"}}))
    pen.bring(pen.entry("photo.taken", {"photo": {"sha256": "b" * 64}}))
    other = first_owner(owner.app)
    with services_of(owner.app).database.read() as c:
        assert logbook.type_of_photo(c, owner.logbook, "a" * 64) == "image/jpeg"
        assert logbook.type_of_photo(c, owner.logbook, "b" * 64) == ""
        assert logbook.type_of_photo(c, owner.logbook, "c" * 64) is None
        assert logbook.type_of_photo(c, other.logbook, "a" * 64) is None


def test_outlooks_go_along_with_the_last_page(owner: Phone, pen: Pen) -> None:
    pen.bring(*(pen.entry() for _ in range(3)))
    row = {"about": new_id(), "n": 1, "on": "2026-05-01", "from": "2026-05-09", "to": "2026-05-30"}
    services = services_of(owner.app)

    def put(**changed: Any) -> None:
        with services.database.write() as c:
            head = logbook.lock_head(c, owner.logbook, "")
            logbook.put_outlooks(c, head, [{**row, "evidence": None, **changed}])

    put()
    assert pen.bring(limit=2)["outlooks"] == []
    assert pen.bring()["outlooks"] == [{**row, "evidence": None}]
    put(n=3, to="2026-06-01")
    put(n=2)
    assert [each["to"] for each in pen.bring()["outlooks"]] == ["2026-06-01"]
    assert pen.bring(outlooks=3)["outlooks"] == []
