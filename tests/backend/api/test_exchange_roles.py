"""Who may write and see what, by role."""

from __future__ import annotations

import pytest
from phones import Phone

from tests.backend.pens import Pen, new_id


@pytest.fixture
def pen(owner: Phone) -> Pen:
    return Pen(owner)


FIX = {"lat_e7": 5, "lon_e7": 6, "uncertainty_m": 9, "datum": "WGS84"}


def test_positions_for_growers_are_left_out_for_others(owner: Phone, pen: Pen) -> None:
    secret = pen.entry("place.fixed", FIX | {"audience": "growers"})
    broken = pen.entry("place.fixed", FIX | {"audience": "everybody"})
    newer = pen.entry("place.fixed", FIX | {"audience": "growers"}, v=2)
    told = pen.entry("place.fixed", FIX | {"audience": "all"})
    last = pen.entry()
    cursor = pen.bring(secret, told, last, broken, newer)["cursor"]
    for role in ("watcher", "onlooker"):
        reader = Pen(owner.brings(role))
        answer = reader.bring()
        assert [line["id"] for line in answer["entries"]] == [told["id"], last["id"]]
        assert answer["cursor"] == cursor, "the place moves past what is left out"
        assert answer["more"] is False
    assert len(Pen(owner.brings("grower")).pull()) == 5


def test_who_wrote_a_position_has_it_in_whatever_role(owner: Phone, pen: Pen) -> None:
    theirs = Pen(owner.brings("grower"))
    secret = theirs.entry("place.fixed", FIX | {"audience": "growers"})
    theirs.bring(secret)
    path = f"…/people/{theirs.phone.person}"
    assert owner.call("PATCH", path, json={"role": "onlooker"}).status_code == 200
    assert [line["id"] for line in theirs.pull()] == [secret["id"]]


def test_roles_decide_what_counts(owner: Phone, pen: Pen) -> None:
    watcher, onlooker = Pen(owner.brings("watcher")), Pen(owner.brings("onlooker"))
    for reader, looks in ((watcher, "stored"), (onlooker, "held")):
        me = reader.phone.person
        answer = reader.bring(
            reader.entry("growth.seen", {"growth": "prothalli"}),
            reader.entry("shelf.walked", {}),
            reader.entry("person.described", {"notice_at": "07:30"}, about=me),
            reader.entry("person.described", {"notice_at": "07:30"}, about=owner.person),
            reader.entry("cover.set", {"cover": "off"}),
            reader.entry("entry.struck", {"entry": new_id(), "reason": "no"}),
        )
        states = [line["state"] for line in answer["stored"]]
        assert states == [looks, looks, "stored", "held", "held", "held"]
        assert answer["stored"][4]["errors"][-1]["code"] == "role-does-not-allow"
        assert answer["numbers"] == []
    everything = pen.entry("cover.set", {"cover": "off"})
    assert pen.bring(everything)["stored"][0]["state"] == "stored"


def test_held_by_role_stays_held_when_offered_by_another(owner: Phone, pen: Pen) -> None:
    watcher = Pen(owner.brings("watcher"))
    entry = watcher.entry("cover.set", {"cover": "off"})
    watcher.bring(entry)
    (again,) = pen.bring(entry)["stored"]
    assert (again["state"], again["again"]) == ("held", True)
