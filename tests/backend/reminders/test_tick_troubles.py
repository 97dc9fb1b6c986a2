"""One round when something goes wrong: push services, workers, phones that are gone."""

from __future__ import annotations

import threading
from typing import Any

import pytest
from push_sink import Answer
from sqlalchemy import select

from sporeline.database import Database
from sporeline.reminders.push import PushSender
from sporeline.reminders.tables import (
    push_subscription,
)
from tests.backend.reminders.told import FIRST, MINE, Told

RETRIED = [(429, {"Retry-After": "600"}), (500, {}), (503, {"Retry-After": "600"}), (403, {})]


@pytest.mark.parametrize(("status", "headers"), RETRIED)
def test_trouble_at_the_push_service_is_tried_again(
    told: Told, status: int, headers: dict[str, str]
) -> None:
    told.sink.answers = [Answer(status, headers), Answer()]
    told.sown()
    told.tick()
    assert told.tick(days=14) == [FIRST]
    assert told.states()[0] == "open"
    wait = int(headers.get("Retry-After", "60"))
    assert told.tick(seconds=wait - 1) == []
    assert told.tick(seconds=2) == [FIRST]
    assert told.states()[0] == "told"
    assert told.tick(hours=1) == []


@pytest.mark.parametrize("status", [404, 410])
def test_a_subscription_that_is_gone_is_forgotten(told: Told, status: int) -> None:
    told.sink.answer(status)
    told.sown()
    told.tick()
    assert told.tick(days=14) == [FIRST]
    assert told.states()[0] == "unreached"
    assert told.owner.get(MINE).json == {"state": "off"}
    assert told.tick(hours=1) == []


def test_too_large_is_not_tried_again(told: Told) -> None:
    told.sink.answer(413)
    told.sown()
    told.tick()
    assert told.tick(days=14) == [FIRST]
    assert told.tick(days=1) == []
    assert told.owner.get(MINE).json == {"state": "on"}


def test_refused_for_a_day_a_subscription_is_dead_and_the_phone_is_told_so(told: Told) -> None:
    told.sink.answer(403)
    told.sown()
    told.tick()
    told.tick(days=14)
    for _ in range(6):
        told.tick(hours=6)
    assert told.owner.get(MINE).json == {"state": "renew"}
    assert told.tick(hours=6) == []
    told.sink.answer(201)
    told.switch_on(told.owner)
    assert told.tick(days=1) == [FIRST]


def test_only_the_phone_that_failed_is_tried_again(told: Told) -> None:
    told.wall.forward(seconds=1)
    told.switch_on(told.owner.further(), "two")
    told.sink.answers = [Answer(201), Answer(500), Answer(201)]
    told.sown()
    told.tick()
    told.wall.forward(days=14)
    told.reminders.tick()
    assert [one.path for one in told.sink.received] == ["/push/one", "/push/two"]
    told.wall.forward(seconds=61)
    told.reminders.tick()
    assert [one.path for one in told.sink.received][2:] == ["/push/two"]
    assert told.states()[0] == "told"


def test_a_worker_killed_between_send_and_mark_leads_to_a_second_one_under_the_same_tag(
    told: Told,
) -> None:
    told.sown()
    told.tick()
    told.wall.forward(days=14)

    class Killed(BaseException):
        pass

    def killed(*_: Any) -> None:
        raise Killed

    dying = told.worker(told.services.database)
    dying._ticker._settle = killed  # type: ignore[method-assign, assignment]
    with pytest.raises(Killed):
        dying.tick()
    assert told.tick(seconds=60) == [FIRST]  # what the dead one sent; its lease still holds
    assert told.states()[0] == "open"
    told.wall.forward(seconds=600)
    told.reminders.tick()
    (request,) = told.sink.received
    assert told.titles() == [FIRST]
    assert request.headers["topic"]
    assert told.states()[0] == "told"


def test_a_phone_service_that_hangs_up_loses_nothing(told: Told) -> None:
    """No answer at all: the notice goes out again."""
    told.sink.close()
    told.sown()
    told.tick()
    told.tick(days=14)
    assert told.states()[0] == "open"


def test_three_workers_tell_each_row_once(told: Told, database_url: str) -> None:
    for n in range(12):
        told.pen.sow(told.pen.box(f"box {n}"))
    told.tick()
    told.wall.forward(days=14)
    postgresql = told.services.database.kind == "postgresql"
    databases = [Database(database_url) if postgresql else told.services.database for _ in range(3)]
    threads = [threading.Thread(target=told.worker(database).tick) for database in databases]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for database in databases if postgresql else ():
        database.close()
    assert sorted(told.titles()) == sorted(f"Box {n}: first look" for n in range(12))
    assert told.states().count("told") == 12


def test_trouble_with_one_row_does_not_stop_the_others(
    told: Told, monkeypatch: pytest.MonkeyPatch
) -> None:
    for n in (4, 5):
        told.pen.sow(told.pen.box(f"box {n}"))
    told.tick()
    told.wall.forward(days=14)
    send = PushSender.send
    bodies: list[bytes] = []

    def broken_at_first(self: PushSender, to: Any, body: bytes, **named: Any) -> Any:
        bodies.append(body)
        if len(bodies) == 1:
            raise RuntimeError("broken")
        return send(self, to, body, **named)

    monkeypatch.setattr(PushSender, "send", broken_at_first)
    with pytest.raises(RuntimeError, match="broken"):
        told.reminders.tick()
    (other,) = told.titles()
    (broken,) = told.tick(seconds=601)  # the lease is over
    assert {other, broken} == {FIRST, "Box 5: first look"}


def test_subscription_health_is_kept(told: Told) -> None:
    told.sown()
    told.tick()
    told.tick(days=14)
    with told.services.database.read() as c:
        row = c.execute(select(push_subscription)).one()
    assert (row.accepted, row.refusals) == (told.wall.ms, 0)
