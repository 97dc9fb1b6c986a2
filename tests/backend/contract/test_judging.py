"""What makes an entry held, code by code; and that nothing else does."""

from __future__ import annotations

from typing import Any

import pytest

from sporeline.contract.faults import SENTENCES
from sporeline.contract.judging import (
    days_ahead,
    faults_of,
    half_characters,
    is_entry,
    may_be_filed,
    records_of,
)
from tests.backend.contract.entries import described, entry, id_of

FIX = {
    "lat_e7": 541234000,
    "lon_e7": -24321000,
    "uncertainty_m": 9,
    "datum": "WGS84",
    "audience": "growers",
}
KEEPER = {"person": id_of(9), "from": "2026-05-01", "to": "2026-05-14"}
PHOTO = {"sha256": "a" * 64, "bytes": 300_000, "type": "image/jpeg", "w": 1600, "h": 1200}
LATER = {"task": f"{id_of(2)}/first-look/2026-05-01", "answer": "later"}

GOOD: list[dict[str, Any]] = [
    entry(),
    entry(at="2026-05-02"),
    entry(at="2024-02-29"),
    entry(span={"to": "2022-05-31", "said": "about spring 22"}, at="2022-03-01"),
    entry(also=[id_of(5), id_of(6)]),
    entry(colour="blue", data={"ripeness": "ripe", "new": {"deep": [1, "two", None, True]}}),
    entry("shelf.walked", {}),
    entry("frond.cut", {"taken": "pinna", "plants": 10_000}),
    entry("photo.taken", {"photo": PHOTO, "shows": "the sori"}),
    entry("entry.struck", {"entry": id_of(8), "reason": "the other clump", "instead": id_of(9)}),
    described("record.described", {"name": "Ostrel Gill", "note": None}),
    described("record.described", {"name": "x"}, seen={"name": [id_of(7), id_of(8)]}),
    described("name.given", {"taxon": None, "sure": "unknown"}),
    described("place.fixed", FIX),
    described("place.fixed", FIX | {"lat_e7": 0}),
    described("box.described", {"vessel": "jar", "keeper": [KEEPER, {"person": id_of(9)}]}),
    described(
        "person.described", {"notice_at": "07:30", "quiet": {"from": "21:00", "to": "07:00"}}
    ),
    described("person.described", {"away": [{"from": "2026-05-01", "to": "2026-05-01"}]}),
    described("plan.set", {"plan": {"rules": [{"rule": "first-look"}], "n": 1}}),
    described("packet.described", {"from": id_of(5)}),
]

BAD: list[tuple[str, str, dict[str, Any]]] = [
    ("unknown-kind", "kind", entry("frond.eaten", {})),
    ("unknown-kind", "kind", entry(kind=7, data={})),
    ("unknown-version", "v", entry(v=2)),
    ("unknown-version", "v", entry(v=True)),
    ("unknown-version", "v", entry(v="1")),
    ("missing", "about", entry(about=...)),
    ("not-an-id", "about", entry(about="plant 3")),
    ("not-an-id", "about", entry(about=id_of(2).upper())),
    ("not-an-id", "about", entry(about=id_of(2).replace("-7000-", "-4000-"))),
    ("not-an-id", "by", entry(by=5)),
    ("not-an-id", "device", entry(device="a1")),
    ("not-a-stamp", "made", entry(made="019DE28D3C00-00000000-00000000000000a1")),
    ("not-a-stamp", "made", entry(made=...)),
    ("not-a-moment", "at", entry(at="2026-05-02T12:00:00Z")),
    ("not-a-moment", "at", entry(at="2026-05-02T12:00:00+02:00")),
    ("not-a-moment", "at", entry(at="2026-05-02T24:00:00+02:00[Europe/Berlin]")),
    ("not-a-moment", "at", entry(at=20260502)),
    ("no-such-day", "at", entry(at="2026-02-30")),
    ("no-such-day", "at", entry(at="2026-02-30T12:00:00+02:00[Europe/Berlin]")),
    ("no-such-day", "at", entry(at="2025-02-29")),
    ("not-a-day", "at", entry(at="yesterday")),
    ("not-a-day", "at", entry(at="2026-\u06605-02")),
    ("not-a-list", "also", entry(also=id_of(5))),
    ("not-an-id", "also.1", entry(also=[id_of(5), None])),
    ("twice", "also", entry(also=[id_of(5), id_of(5)])),
    ("too-many", "also", entry(also=[id_of(n) for n in range(10, 211)])),
    ("not-an-object", "span", entry(span="spring")),
    ("not-a-day", "span.to", entry(span={"said": "spring"})),
    ("not-text", "span.said", entry(span={"to": "2026-05-31"})),
    ("ends-before-it-begins", "span", entry(span={"to": "2026-05-01", "said": "spring"})),
    ("not-an-object", "data", entry(data=[])),
    ("missing", "data.ripeness", entry(data={})),
    ("not-one-of", "data.ripeness", entry(data={"ripeness": "brownish"})),
    ("not-one-of", "data.ripeness", entry(data={"ripeness": None})),
    ("not-one-of", "data.ripeness", entry(data={"ripeness": ["ripe"]})),
    ("not-a-whole-number", "data.plants", entry("frond.cut", {"taken": "more", "plants": 2.0})),
    ("not-a-whole-number", "data.plants", entry("frond.cut", {"taken": "more", "plants": True})),
    ("out-of-range", "data.plants", entry("frond.cut", {"taken": "more", "plants": 0})),
    ("out-of-range", "data.plants", entry("frond.cut", {"taken": "more", "plants": 10_001})),
    ("not-a-whole-number", "data.new.0", entry(data={"ripeness": "ripe", "new": [0.5]})),
    ("out-of-range", "data.new", entry(data={"ripeness": "ripe", "new": 2**53})),
    ("seen-differs", "seen", described("record.described", {"name": "x"}, seen=...)),
    ("seen-differs", "seen", described("record.described", {"name": "x"}, seen={})),
    ("seen-differs", "seen", described("record.described", {}, seen={"name": []})),
    ("not-an-id", "seen.name.0", described("record.described", {"name": "x"}, seen={"name": [1]})),
    ("not-a-list", "seen.name", described("record.described", {"name": "x"}, seen={"name": None})),
    ("empty", "data.name", described("record.described", {"name": ""})),
    ("not-text", "data.name", described("record.described", {"name": 31})),
    ("too-long", "data.name", described("record.described", {"name": "x" * 201})),
    ("too-long", "data.note", described("record.described", {"note": "x" * 4001})),
    ("missing", "data.taxon", described("name.given", {"sure": "unknown"})),
    ("not-one-of", "data.sure", described("name.given", {"taxon": "Osmunda", "sure": None})),
    ("no-such-place", "data.lat_e7", described("place.fixed", FIX | {"lat_e7": 0, "lon_e7": 0})),
    ("out-of-range", "data.uncertainty_m", described("place.fixed", FIX | {"uncertainty_m": 0})),
    ("out-of-range", "data.lat_e7", described("place.fixed", FIX | {"lat_e7": 900_000_001})),
    ("out-of-range", "data.lon_e7", described("place.fixed", FIX | {"lon_e7": -1_800_000_001})),
    ("not-one-of", "data.audience", described("place.fixed", FIX | {"audience": None})),
    ("no-such-place", "data.lat_e7", described("place.told", {"lat_e7": 0, "lon_e7": 0})),
    ("not-an-id", "data.from", described("packet.described", {"from": "MV 28"})),
    ("too-many", "data.packets", described("sowing.described", {"packets": [id_of(5)] * 21})),
    ("not-an-id", "data.packets.0", described("sowing.described", {"packets": [None]})),
    ("not-a-list", "data.keeper", described("box.described", {"keeper": KEEPER})),
    (
        "ends-before-it-begins",
        "data.keeper.0",
        described("box.described", {"keeper": [KEEPER | {"to": "2026-04-30"}]}),
    ),
    ("not-yes-or-no", "data.colony", described("plant.described", {"colony": 1})),
    ("not-an-hour", "data.notice_at", described("person.described", {"notice_at": "7:30"})),
    ("not-a-zone", "data.zone", described("person.described", {"zone": "Europe/Berlin!"})),
    ("not-an-object", "data.quiet", described("person.described", {"quiet": "21-7"})),
    ("not-a-plan", "data.plan", described("plan.set", {"plan": {"title": "none"}})),
    ("not-a-whole-number", "data.plan.x", described("plan.set", {"plan": {"rules": [], "x": 0.1}})),
    ("not-a-hash", "data.photo.sha256", entry("photo.taken", {"photo": PHOTO | {"sha256": "a"}})),
    ("missing", "data.entry", entry("entry.struck", {"reason": "wrong"})),
    ("no-such-day", "data.until", entry("task.answered", LATER | {"until": "2026-06-31"})),
]


@pytest.mark.parametrize("good", GOOD, ids=lambda good: str(good["kind"]))
def test_good_entries_have_no_faults(good: dict[str, Any]) -> None:
    assert faults_of(good) == []


@pytest.mark.parametrize(("code", "where", "bad"), BAD)
def test_each_fault_is_told_where_it_is(code: str, where: str, bad: dict[str, Any]) -> None:
    assert [(each["code"], each["where"]) for each in faults_of(bad)] == [(code, where)]


def test_all_faults_are_told_at_once() -> None:
    bad = described("place.fixed", {"lat_e7": 1.5, "datum": "ED50"}, at="2026-13-01", made="then")
    assert {each["where"] for each in faults_of(bad)} == {
        "at",
        "made",
        *(f"data.{field}" for field in ("lat_e7", "lon_e7", "uncertainty_m", "datum", "audience")),
    }


def test_a_fault_says_what_and_what_to_do() -> None:
    assert faults_of(entry(data={"ripeness": "brownish"})) == [
        {
            "code": "not-one-of",
            "where": "data.ripeness",
            "message": "“brownish” is not a ripeness.",
            "fix": "Choose none, young, turning, ripe, spent or unseen.",
        }
    ]


def test_a_wrong_value_is_said_again_in_short() -> None:
    (told,) = faults_of(entry(data={"ripeness": "b" * 5000 + "\u202e"}))
    assert len(told["message"]) < 100
    (told,) = faults_of(entry(at="\x00\u202e"))
    assert told["message"].startswith("“��”")


@pytest.mark.parametrize("today", ["2026-05-01", "2026-05-02", "2027-01-01"])
def test_one_day_ahead_is_allowed(today: str) -> None:
    assert days_ahead(entry(at="2026-05-02T00:30:00+14:00[Pacific/Kiritimati]"), today) == []


def test_more_than_one_day_ahead_is_not() -> None:
    ahead = entry(at="2026-05-02", span={"to": "2026-05-31", "said": "May"})
    found = days_ahead(ahead, "2026-04-30")
    assert [(each["code"], each["where"]) for each in found] == [
        ("ahead-of-today", "at"),
        ("ahead-of-today", "span.to"),
    ]
    assert [each["where"] for each in days_ahead(ahead, "2026-05-02")] == ["span.to"]


@pytest.mark.parametrize("at", ["9999-99-99", "later", None, 5, ""])
def test_a_day_that_is_none_is_not_ahead(at: object) -> None:
    assert days_ahead(entry(at=at, span="soon"), "2026-04-30") == []


@pytest.mark.parametrize("value", [None, [], "x", {}, {"id": 5}, {"id": "x"}, {"id": "A" * 36}])
def test_without_a_readable_id_it_is_no_entry(value: object) -> None:
    assert not is_entry(value)


def test_with_one_it_is() -> None:
    assert is_entry({"id": id_of(1)})


def test_filing_takes_what_can_be_read() -> None:
    assert records_of(entry(also=[id_of(5), 7, "x", id_of(2), id_of(5)])) == [id_of(2), id_of(5)]
    assert records_of(entry(also="x")) == [id_of(2)]
    assert len(records_of(entry(also=[id_of(n) for n in range(10, 500)]))) == 201
    assert may_be_filed(entry(data=None))
    assert not may_be_filed(entry(kind=None))
    assert not may_be_filed(entry(about="plant 3"))


def test_every_code_is_used_here() -> None:
    used = {code for code, _, _ in BAD}
    elsewhere = {"ahead-of-today", "role-does-not-allow", half_characters()["code"]}
    refusals = {"id-reused", "too-large", "not-an-entry"}
    assert used | elsewhere | refusals == SENTENCES.keys()
