"""Entries kept in memory never stand for what the log says by now."""

from __future__ import annotations

from typing import Any

import pytest
from phones import Phone, services_of
from sqlalchemy import text

from sporeline.logbook import Asked, Logbooks, read_records, rebuild
from sporeline.logbook.heads import Head
from sporeline.logbook.recent import Recent
from sporeline.people import Membership
from tests.backend.conftest import NOON
from tests.backend.pens import Pen, new_id


def filed(**sizes: int) -> dict[str, list[dict[str, Any]]]:
    return {record: [{} for _ in range(size)] for record, size in sizes.items()}


def test_kept_until_somebody_else_writes() -> None:
    recent, head = Recent(), Head(1, "e", 7)
    recent.keep(Head(1, "e", 5), 7, filed(a=2))
    assert recent.take(head) == filed(a=2)
    assert recent.take(head) == {}, "it is given away"
    recent.keep(head, 7, filed(a=2))
    assert recent.take(Head(1, "e", 8)) == {}
    recent.keep(head, 7, filed(a=2))
    assert recent.take(Head(1, "new", 7)) == {}
    recent.keep(head, 7, filed(a=2))
    assert recent.take(Head(2, "e", 7)) == {}


def test_the_longest_unused_go_first() -> None:
    recent = Recent(most=5)
    recent.keep(Head(1, "e", 1), 1, filed(a=2, b=2))
    recent.keep(Head(2, "e", 1), 1, filed(c=2))
    assert recent.take(Head(1, "e", 1)) == filed(b=2)
    recent.keep(Head(3, "e", 1), 1, filed(d=9))
    assert recent.take(Head(2, "e", 1)) == {}
    assert recent.take(Head(3, "e", 1)) == {}, "too much for all of it"


def processes(owner: Phone) -> tuple[Membership, list[Logbooks]]:
    """Two servers on one database, and the member who asks them in turn."""
    services = services_of(owner.app)
    here = services.people.membership(services.people.session_of(owner.token), owner.logbook)  # type: ignore[arg-type]
    further = Logbooks(services.database, services.clocks, services.ids)
    return here, [services.logbook, further]


def test_what_another_process_wrote_is_not_missed(owner: Phone) -> None:
    pen, record = Pen(owner), new_id()
    here, servers = processes(owner)
    for turn in (0, 0, 1, 1, 0, 1, 0):
        entry = pen.entry("frond.cut", {"taken": "pinna", "plants": 1}, about=record)
        servers[turn].exchange(here, Asked(entries=[entry]))
    with services_of(owner.app).database.read() as c:
        (found,) = read_records(c, owner.logbook)
    assert found["sums"] == {"plants": 7}


def test_a_transaction_that_failed_leaves_nothing_behind(
    owner: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    pen, record = Pen(owner), new_id()
    here, (server, _) = processes(owner)
    entries = [pen.entry("frond.cut", {"taken": "part", "plants": 1}, about=record) for _ in "123"]
    server.exchange(here, Asked(entries=entries[:1]))

    def fail(c: Any, *_: Any) -> None:
        c.execute(text("SELECT broken"))

    with monkeypatch.context() as broken:
        broken.setattr("sporeline.logbook.numbers.present", fail)
        with pytest.raises(Exception, match="broken"):
            server.exchange(here, Asked(entries=entries[1:2]))
    server.exchange(here, Asked(entries=entries[2:]))
    with services_of(owner.app).database.write() as c:
        before = read_records(c, owner.logbook)
        rebuild(c, owner.logbook)
        assert before == read_records(c, owner.logbook)
    assert before[0]["sums"] == {"plants": 2}


def test_a_moved_entry_is_read_anew(owner: Phone) -> None:
    pen = Pen(owner)
    ahead = f"{NOON + 31_536_000_000:012x}-00000000-{pen.node}"
    early = pen.entry(made=ahead, by=new_id(), data={"ripeness": "young"})
    late = pen.entry(
        made=f"{NOON:012x}-00000000-{pen.node}", about=early["about"], data={"ripeness": "spent"}
    )
    pen.bring(early, late)
    with services_of(owner.app).database.read() as c:
        (found,) = read_records(c, owner.logbook)
    assert found["states"]["ripeness"]["value"] == "young", "the later stamp decides that day"
    pen.bring({**early, "received": NOON - 86_400_000})
    with services_of(owner.app).database.read() as c:
        (found,) = read_records(c, owner.logbook)
    assert found["states"]["ripeness"]["value"] == "spent"
