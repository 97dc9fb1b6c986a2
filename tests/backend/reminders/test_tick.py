"""One round: what is told, when, to whom, how often; and what happens when it is cut off."""

from __future__ import annotations

import dataclasses
import json
import threading
from typing import Any

import pytest
from flask import Flask
from pen import Pen
from phones import Phone, services_of
from push_sink import Answer, PushSink
from push_sink import Phone as Browser
from sqlalchemy import select

from sporeline.database import Database
from sporeline.reminders import Reminders, asked
from sporeline.reminders.push import PushSender
from sporeline.reminders.tables import (
    due_head,
    due_inside,
    due_need,
    due_row,
    due_subject,
    push_subscription,
)
from sporeline.reminders.vapid import Vapid

MINE = "/api/v1/devices/me/push"


class Told:
    """A logbook whose phones take notices at a push service on this machine."""

    def __init__(self, app: Flask, owner: Phone, sink: PushSink, vapid: Vapid, wall: Any) -> None:
        self.app, self.owner, self.sink, self.wall = app, owner, sink, wall
        self.services = services_of(app)
        self.vapid = vapid
        self.browsers: dict[str, Browser] = {}
        self.reminders = self.worker(self.services.database)
        self.services.reminders = self.reminders
        self.pen = Pen(owner)

    def worker(self, database: Database) -> Reminders:
        """One more worker, as a second process would have."""
        settings = dataclasses.replace(self.services.settings, push_hosts=(self.sink.host,))
        sender = PushSender(
            self.vapid, settings.push_hosts, lambda *_: ["127.0.0.1"], self.services.clocks.wall
        )
        return Reminders(settings, database, self.services.clocks, self.services.ids, sender)

    def switch_on(self, phone: Phone, name: str = "one") -> None:
        browser = Browser(self.sink.host, name)
        self.browsers[f"/push/{name}"] = browser
        keys = {"p256dh": browser.subscription.p256dh, "auth": browser.subscription.auth}
        body = {"endpoint": browser.subscription.endpoint, "keys": keys}
        answer = phone.call("PUT", MINE, json=body)
        assert answer.status_code == 200, answer.json

    def tick(self, *, days: float = 0, hours: float = 0, seconds: float = 0) -> list[str]:
        """Let time pass, then one round; the titles that came meanwhile."""
        self.wall.forward(days=days, hours=hours, seconds=seconds)
        self.reminders.tick()
        return self.titles()

    def titles(self) -> list[str]:
        return [shown["title"] for shown in self.take()]

    def take(self) -> list[dict[str, str]]:
        """What came since the last look."""
        came, self.sink.received = self.sink.received, []
        return [json.loads(self.browsers[one.path].read(one.body))["notification"] for one in came]

    def rows(self) -> list[Any]:
        with self.services.database.read() as c:
            return list(c.execute(select(due_row).order_by(due_row.c.due, due_row.c.task)))

    def states(self) -> list[str]:
        return [row.state for row in self.rows()]


@pytest.fixture
def told(app: Flask, owner: Phone, sink: PushSink, vapid: Vapid, wall: Any) -> Told:
    """Noon of 2026-05-02, UTC; the owner's phone takes notices at 08:00 UTC."""
    told = Told(app, owner, sink, vapid, wall)
    told.switch_on(owner)
    return told


FIRST = "Box 4: first look"


def sown(told: Told, **box: Any) -> tuple[str, str]:
    box_id = told.pen.box(**box)
    return box_id, told.pen.sow(box_id)


def test_a_first_look_is_told_once_at_the_persons_hour(told: Told) -> None:
    told.pen.person(notice_at="07:30", zone="Europe/Paris")
    sown(told)
    assert told.tick() == []
    assert told.tick(days=13, hours=17, seconds=29 * 60) == []  # 2026-05-16T05:29Z
    assert told.tick(seconds=60) == [FIRST]
    assert told.tick(seconds=30) == []
    assert told.tick(hours=5) == []
    assert told.states() == ["told", "open"]  # and what comes if nothing came up


def test_what_the_phone_shows(told: Told) -> None:
    box, _ = sown(told)
    told.reminders.tick()
    told.wall.forward(days=14)
    told.reminders.tick()
    (shown,) = told.take()
    assert shown["tag"] == f"{box}/first-look"
    assert shown["navigate"] == f"/answer?task={box}%2Ffirst-look%2F2026-05-02"
    assert shown["body"].startswith("Dryopteris filix-mas. Look")


def test_a_person_who_hides_ferns_is_told_without(told: Told) -> None:
    told.pen.person(detail=False)
    sown(told)
    told.reminders.tick()
    told.wall.forward(days=14)
    told.reminders.tick()
    (shown,) = told.take()
    assert "Dryopteris" not in json.dumps(shown)


def test_no_place_no_note_no_given_name_of_a_plant_leaves(told: Told) -> None:
    pen = told.pen
    plant, place, packet = pen.new(), pen.new(), pen.new()
    pen.write("place.described", place, {"owner": "CANARY-OWNER"})
    pen.write("record.described", place, {"name": "CANARY-PLACE", "note": "CANARY-NOTE"})
    fix = {"lat_e7": 473_456_789, "lon_e7": 85_000_000, "uncertainty_m": 5, "datum": "WGS84"}
    pen.write(
        "place.fixed", plant, {**fix, "audience": "all"}, seen={n: [] for n in [*fix, "audience"]}
    )
    pen.write("plant.described", plant, {"place": place})
    pen.write("record.described", plant, {"name": "CANARY-PLANT"})
    pen.write("name.given", plant, {"taxon": "Asplenium viride", "sure": "probable"})
    pen.write("packet.described", packet, {"from": plant})
    box = pen.box(shelf=pen.shelf())
    sowing = pen.new()
    pen.write("sowing.described", sowing, {"box": box, "packets": [packet]})
    pen.write("record.described", sowing, {"note": "CANARY-NOTE"})
    pen.write("spores.sown", sowing, {}, also=[box])
    told.reminders.tick()
    told.wall.forward(days=60)
    told.reminders.tick()
    shown = told.take()
    assert any("Asplenium viride" in one["body"] for one in shown)
    text = json.dumps(shown)
    assert "CANARY" not in text
    assert "473456789" not in text
    feed = told.app.test_client().get(
        told.owner.post("/api/v1/me/calendar").json["url"].removeprefix("https://ferns.example")
    )
    assert "Asplenium viride" in feed.text
    assert "CANARY" not in feed.text


def test_answered_before_its_notice_is_never_told(told: Told) -> None:
    box, sowing = sown(told)
    told.tick(days=13)
    later = Pen(told.owner, "2026-05-16")
    told.wall.forward(days=0.8)  # 07:12 on the day it is due
    later.see(sowing, box)
    assert told.tick(hours=2) == []
    assert "told" not in told.states()


def test_answered_on_another_phone_after_it_was_told_closes_it(told: Told) -> None:
    box, sowing = sown(told)
    told.tick()
    assert told.tick(days=14) == [FIRST]
    other = Pen(told.owner.brings("grower"), "2026-05-16")
    other.see(sowing, box)
    told.reminders.tick()
    assert [row.state for row in told.rows() if row.rule == "first-look"] == ["closed"]


def test_answered_between_claim_and_send_is_not_told(told: Told) -> None:
    """The phone's answer comes in while the worker already holds the row."""
    box, sowing = sown(told)
    told.tick()
    told.wall.forward(days=14)
    claim = told.reminders._ticker._claim
    answered = Pen(told.owner, "2026-05-16")

    def slow_claim() -> Any:
        rows = claim()
        if rows:
            answered.see(sowing, box)
        return rows

    told.reminders._ticker._claim = slow_claim  # type: ignore[method-assign]
    assert told.tick() == []


def test_later_is_told_again_on_the_day_it_was_put_off_to(told: Told) -> None:
    box, _ = sown(told)
    told.tick()
    assert told.tick(days=14) == [FIRST]
    task = f"{box}/first-look/2026-05-02"
    data = {"task": task, "answer": "later", "until": "2026-05-20"}
    Pen(told.owner, "2026-05-16").write("task.answered", box, data)
    assert told.tick(hours=1) == []
    assert told.tick(days=3) == []  # 13:00 on the 19th
    assert told.tick(days=1) == [FIRST]


def test_an_answer_struck_out_brings_the_task_back(told: Told) -> None:
    box, sowing = sown(told)
    told.tick(days=14)
    pen = Pen(told.owner, "2026-05-16")
    look = pen.see(sowing, box)
    told.tick()
    told.titles()
    pen.write("entry.struck", sowing, {"entry": look, "reason": "another box"}, also=[box])
    assert told.tick() == []  # its hour is over for today
    assert told.tick(days=1) == [FIRST]


def test_quiet_hours_put_a_notice_off(told: Told) -> None:
    told.pen.person(notice_at="06:00", zone="UTC", quiet={"from": "22:00", "to": "07:00"})
    sown(told)
    told.tick()
    assert told.tick(days=13, hours=18.5) == []
    assert told.tick(hours=0.5) == [FIRST]


def test_a_server_that_was_down_tells_late_but_not_at_night(told: Told) -> None:
    told.pen.person(notice_at="08:00", zone="UTC", quiet={"from": "22:00", "to": "07:00"})
    sown(told)
    told.tick()
    assert told.tick(days=14, hours=11) == []  # back at 23:00
    assert told.tick(hours=8) == [FIRST]


def test_a_changed_hour_counts_from_then_on(told: Told) -> None:
    sown(told)
    told.tick()
    told.pen.person(notice_at="18:00", zone="Asia/Kolkata")
    told.tick()
    assert told.tick(days=14) == []
    assert told.tick(hours=0.5) == [FIRST]  # 12:30Z


def test_what_turns_up_after_its_hour_waits_for_the_next(told: Told) -> None:
    Pen(told.owner, "2026-04-18").sow(told.pen.box())
    assert told.tick() == []  # due since this morning, and it is noon
    assert told.tick(hours=20) == [FIRST]


def test_a_round_is_one_notice_for_its_shelf(told: Told) -> None:
    shelf = told.pen.shelf()
    for n in range(3):
        box = told.pen.box(f"box {n}", shelf)
        Pen(told.owner, "2026-05-02").see(told.pen.sow(box), box, "green_film")
    told.tick()
    told.wall.forward(days=7)
    told.reminders.tick()
    shown = told.take()
    assert [one["title"] for one in shown] == ["North sill: walk the shelf"]
    assert shown[0]["body"].startswith("3 boxes")
    assert shown[0]["tag"] == f"{shelf}/round"


def test_every_phone_of_the_person_is_told(told: Told) -> None:
    told.switch_on(told.owner.further(), "two")
    sown(told)
    told.tick()
    assert told.tick(days=14) == [FIRST, FIRST]


def test_who_keeps_it_is_told(told: Told) -> None:
    grower, watcher = told.owner.brings("grower"), told.owner.brings("watcher")
    told.switch_on(grower, "grower")
    told.switch_on(watcher, "watcher")
    sown(told, keeper=[{"person": watcher.person, "to": "2026-05-16"}])
    other = told.pen.box("box 5")
    told.pen.sow(other)
    told.tick()
    told.wall.forward(days=14)
    told.reminders.tick()
    came = sorted(one.path for one in told.sink.received)
    assert came == ["/push/grower", "/push/one", "/push/watcher"]
    titles = {one.path: title for one, title in zip(told.sink.received, told.titles(), strict=True)}
    assert titles["/push/watcher"] == FIRST
    assert titles["/push/one"] == titles["/push/grower"] == "Box 5: first look"


def test_a_shelf_handed_over_comes_back(told: Told) -> None:
    watcher = told.owner.brings("watcher")
    told.switch_on(watcher, "watcher")
    shelf = told.pen.shelf(
        keeper=[
            {"person": told.owner.person, "to": "2026-05-15"},
            {"person": watcher.person, "from": "2026-05-16", "to": "2026-05-17"},
            {"person": told.owner.person, "from": "2026-05-18"},
        ]
    )
    box = told.pen.box(shelf=shelf)
    told.pen.sow(box)
    told.tick()
    told.wall.forward(days=14)
    told.reminders.tick()
    assert [one.path for one in told.sink.received] == ["/push/watcher"]
    told.take()
    told.wall.forward(days=2)  # nobody answered; the owner is back
    told.reminders.tick()
    told.wall.forward(days=1)
    told.reminders.tick()
    assert [one.path for one in told.sink.received] == ["/push/one"]


def test_days_away_are_left_alone(told: Told) -> None:
    told.pen.person(away=[{"from": "2026-05-10", "to": "2026-05-20"}])
    sown(told)
    told.tick()
    assert told.tick(days=14) == []
    assert told.tick(days=4, hours=20) == [FIRST]  # the 21st, 08:00


def test_who_left_or_was_shut_out_is_told_no_more(told: Told) -> None:
    gone, shut, out = (told.owner.brings("grower") for _ in range(3))
    for name, phone in (("gone", gone), ("shut", shut), ("out", out)):
        told.switch_on(phone, name)
    sown(told)
    told.tick()
    assert told.owner.delete(f"…/people/{gone.person}").status_code == 204
    assert told.owner.delete(f"…/devices/{shut.device}").status_code == 204
    assert out.delete("/api/v1/session").status_code == 204
    told.wall.forward(days=14)
    told.reminders.tick()
    assert [one.path for one in told.sink.received] == ["/push/one"]


def test_without_a_phone_it_stands_in_the_app_and_is_told_when_one_comes(told: Told) -> None:
    told.owner.delete(MINE)
    sown(told)
    told.tick()
    assert told.tick(days=14) == []
    assert told.states()[0] == "unreached"
    told.switch_on(told.owner)
    assert told.tick(hours=1) == []
    assert told.tick(days=1) == [FIRST]


RETRIED = [(429, {"Retry-After": "600"}), (500, {}), (503, {"Retry-After": "600"}), (403, {})]


@pytest.mark.parametrize(("status", "headers"), RETRIED)
def test_trouble_at_the_push_service_is_tried_again(
    told: Told, status: int, headers: dict[str, str]
) -> None:
    told.sink.answers = [Answer(status, headers), Answer()]
    sown(told)
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
    sown(told)
    told.tick()
    assert told.tick(days=14) == [FIRST]
    assert told.states()[0] == "unreached"
    assert told.owner.get(MINE).json == {"state": "off"}
    assert told.tick(hours=1) == []


def test_too_large_is_not_tried_again(told: Told) -> None:
    told.sink.answer(413)
    sown(told)
    told.tick()
    assert told.tick(days=14) == [FIRST]
    assert told.tick(days=1) == []
    assert told.owner.get(MINE).json == {"state": "on"}


def test_refused_for_a_day_a_subscription_is_dead_and_the_phone_is_told_so(told: Told) -> None:
    told.sink.answer(403)
    sown(told)
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
    sown(told)
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
    sown(told)
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
    sown(told)
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


def test_moving_the_demo_calendar_reaches_every_notice_hour_of_that_day(told: Told) -> None:
    told.pen.person(notice_at="21:00", zone="UTC", quiet={"from": "08:00", "to": "20:00"})
    sown(told)
    told.tick()
    day = told.reminders.next_due_day(told.services.clocks.calendar_today())
    assert day == "2026-05-16"
    told.services.clocks.move_to(day)
    assert told.tick() == [FIRST]
    assert told.tick(seconds=30) == []
    assert told.reminders.next_due_day(day) > day


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
    assert told.titles() == ["Box 5: first look"]
    assert told.tick(seconds=601) == [FIRST]  # the lease is over


def test_cost_follows_what_changed(told: Told, monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry about one box reckons that box and its shelf, not the other twenty."""
    shelf = told.pen.shelf()
    boxes = [told.pen.box(f"box {n}", shelf if n < 2 else None) for n in range(20)]
    sowings = [told.pen.sow(box) for box in boxes]
    told.tick()
    reckoned: list[str] = []
    ask = asked.Asker.ask

    def counted(self: Any, bench: Any, subject: Any, rules: Any) -> Any:
        reckoned.append(subject["id"])
        return ask(self, bench, subject, rules)

    monkeypatch.setattr(asked.Asker, "ask", counted)
    told.tick()
    assert reckoned == []
    told.pen.write("name.given", sowings[0], {"taxon": "Osmunda regalis", "sure": "probable"})
    told.tick()
    assert sorted(reckoned) == sorted([boxes[0], shelf])


def test_subscription_health_is_kept(told: Told) -> None:
    sown(told)
    told.tick()
    told.tick(days=14)
    with told.services.database.read() as c:
        row = c.execute(select(push_subscription)).one()
    assert (row.accepted, row.refusals) == (told.wall.ms, 0)


def test_rows_thrown_away_are_reckoned_again(told: Told) -> None:
    sown(told, shelf=told.pen.shelf())
    told.tick()
    before = [(row.task, row.due, row.title) for row in told.rows()]
    with told.services.database.write() as c:
        for table in (due_row, due_need, due_inside, due_subject, due_head):
            c.execute(table.delete())
    told.tick()
    assert [(row.task, row.due, row.title) for row in told.rows()] == before
