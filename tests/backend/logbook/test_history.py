"""Epochs, numbers that moved, verdicts that changed."""

from __future__ import annotations

from typing import Any

import pytest
from phones import Phone, services_of

from sporeline.contract import judging
from sporeline.contract.registry import KINDS
from sporeline.logbook import Logbooks, read_records, rejudge, renew_epoch
from tests.backend.conftest import NOON, Wall
from tests.backend.pens import Pen, content, new_id


@pytest.fixture
def pen(owner: Phone) -> Pen:
    return Pen(owner)


def learn(monkeypatch: pytest.MonkeyPatch, owner: Phone, kind: str) -> None:
    """The server is brought up to date with a version that knows one kind more."""
    known = dict(KINDS) | {(kind, 1): KINDS["sori.seen", 1]}
    view = judging.KERNEL_KINDS["sori.seen"]
    for module in (judging, rejudge):
        monkeypatch.setattr(module, "KERNEL_KINDS", {**judging.KERNEL_KINDS, kind: view})
    monkeypatch.setattr("sporeline.logbook.filing.KERNEL_KINDS", judging.KERNEL_KINDS)
    monkeypatch.setattr(judging, "KINDS", known)
    services = services_of(owner.app)
    Logbooks(services.database, services.clocks, services.ids).catch_up()


def test_a_new_epoch_makes_every_phone_ask_again(owner: Phone, pen: Pen) -> None:
    pen.bring(pen.entry())
    cursor = pen.bring()["cursor"]
    with services_of(owner.app).database.write() as c:
        renew_epoch(c, owner.logbook, epoch := new_id())
    answer = pen.ask(cursor=cursor, high=None)
    assert (answer.status_code, answer.json["epoch"]) == (409, epoch)
    assert pen.bring()["cursor"] == {**cursor, "epoch": epoch}


def test_an_unknown_kind_is_held_and_counts_once_it_is_known(
    owner: Phone, pen: Pen, monkeypatch: pytest.MonkeyPatch
) -> None:
    new = pen.entry("frond.drawn")
    wrong = pen.entry("frond.drawn", {"ripeness": "brownish"})
    (verdict, *_) = pen.bring(new, wrong, pen.entry())["stored"]
    assert (verdict["state"], verdict["errors"][0]["code"]) == ("held", "unknown-kind")
    place = {"epoch": pen.bring()["cursor"]["epoch"], "seq": 1, "entry": new["id"]}
    learn(monkeypatch, owner, "frond.drawn")
    lines = pen.bring(cursor=place, high=place)["entries"]
    assert [(line["id"], line["seq"]) for line in lines][-1] == (new["id"], 4)
    assert content(lines[-1]) == new
    assert (lines[-1]["state"], lines[-1]["received"]) == ("stored", NOON)
    assert [line["state"] for line in pen.pull()] == ["held", "stored", "stored"]
    with services_of(owner.app).database.read() as c:
        (record,) = read_records(c, owner.logbook, ids=[new["about"]])
    assert (record["held"], record["states"]["ripeness"]["value"]) == ([], "ripe")
    (again,) = pen.bring(new)["stored"]
    assert (again["seq"], again["state"], again["again"]) == (4, "stored", True)


def test_what_was_held_by_day_or_role_stays_held(
    owner: Phone, pen: Pen, monkeypatch: pytest.MonkeyPatch, wall: Wall
) -> None:
    watcher = Pen(owner.brings("watcher"))
    by_role = watcher.entry("cover.set", {"cover": "off"})
    by_day = pen.entry("frond.drawn", at="2026-06-01")
    watcher.bring(by_role)
    pen.bring(by_day)
    wall.forward(days=60)
    learn(monkeypatch, owner, "frond.drawn")
    assert [line["state"] for line in pen.pull()] == ["held", "held"]


def test_nothing_is_done_when_nothing_was_learnt(owner: Phone, pen: Pen) -> None:
    pen.bring(pen.entry("frond.drawn"))
    services = services_of(owner.app)
    Logbooks(services.database, services.clocks, services.ids).catch_up()
    assert [line["seq"] for line in pen.pull()] == [1]


def test_an_earlier_receipt_that_changes_the_order_is_delivered_again(
    owner: Phone, pen: Pen
) -> None:
    """A phone with a clock a year ahead; the server was restored and the entry offered again."""
    ahead = pen.entry(made=f"{NOON + 31_536_000_000:012x}-00000000-{pen.node}", by=new_id())
    pen.bring(ahead, pen.entry())
    cursor = pen.bring()["cursor"]
    (verdict,) = pen.bring({**ahead, "received": NOON - 86_400_000})["stored"]
    assert (verdict["seq"], verdict["received"], verdict["again"]) == (3, NOON - 86_400_000, True)
    (line,) = Pen(owner).bring(cursor=cursor, high=cursor)["entries"]
    assert (line["id"], line["seq"], line["received"]) == (ahead["id"], 3, NOON - 86_400_000)
    assert content(line) == ahead
    old = {**cursor, "seq": 1, "entry": ahead["id"]}
    assert len(pen.bring(cursor=old, high=old)["entries"]) == 2, "an old place stays good"


def test_an_earlier_receipt_that_changes_nothing_is_not(pen: Pen) -> None:
    entry = pen.entry(by=new_id())
    pen.bring(entry)
    (verdict,) = pen.bring({**entry, "received": NOON - 86_400_000})["stored"]
    assert (verdict["seq"], verdict["received"]) == (1, NOON - 86_400_000)


def test_moved_twice_in_one_request(pen: Pen) -> None:
    ahead = pen.entry(made=f"{NOON + 31_536_000_000:012x}-00000000-{pen.node}", by=new_id())
    pen.bring(ahead)
    answer = pen.bring(
        {**ahead, "received": NOON - 1000}, pen.entry(), {**ahead, "received": NOON - 2000}
    )
    lines: list[dict[str, Any]] = pen.pull()
    assert [line["received"] for line in lines if line["id"] == ahead["id"]] == [NOON - 2000]
    assert max(line["seq"] for line in answer["stored"]) == max(line["seq"] for line in lines)
