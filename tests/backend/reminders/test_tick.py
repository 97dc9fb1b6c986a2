"""One round: what is told, when and to whom."""

from __future__ import annotations

import json
from typing import Any

import pytest
from pen import Pen

from sporeline.reminders import asked
from sporeline.reminders.tables import (
    due_head,
    due_inside,
    due_need,
    due_row,
    due_subject,
)
from tests.backend.reminders.told import FIRST, MINE, Told


def test_a_first_look_is_told_once_at_the_persons_hour(told: Told) -> None:
    told.pen.person(notice_at="07:30", zone="Europe/Paris")
    told.sown()
    assert told.tick() == []
    assert told.tick(days=13, hours=17, seconds=29 * 60) == []  # 2026-05-16T05:29Z
    assert told.tick(seconds=60) == [FIRST]
    assert told.tick(seconds=30) == []
    assert told.tick(hours=5) == []
    assert told.states() == ["told", "open"]  # and what comes if nothing came up


def test_what_the_phone_shows(told: Told) -> None:
    box, _ = told.sown()
    told.reminders.tick()
    told.wall.forward(days=14)
    told.reminders.tick()
    (shown,) = told.take()
    assert shown["tag"] == f"{box}/first-look"
    assert shown["navigate"] == f"/answer?task={box}%2Ffirst-look%2F2026-05-02"
    assert shown["body"].startswith("Dryopteris filix-mas. Look")


def test_a_person_who_hides_ferns_is_told_without(told: Told) -> None:
    told.pen.person(detail=False)
    told.sown()
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
    box, sowing = told.sown()
    told.tick(days=13)
    later = Pen(told.owner, "2026-05-16")
    told.wall.forward(days=0.8)  # 07:12 on the day it is due
    later.see(sowing, box)
    assert told.tick(hours=2) == []
    assert "told" not in told.states()


def test_answered_on_another_phone_after_it_was_told_closes_it(told: Told) -> None:
    box, sowing = told.sown()
    told.tick()
    assert told.tick(days=14) == [FIRST]
    other = Pen(told.owner.brings("grower"), "2026-05-16")
    other.see(sowing, box)
    told.reminders.tick()
    assert [row.state for row in told.rows() if row.rule == "first-look"] == ["closed"]


def test_answered_between_claim_and_send_is_not_told(told: Told) -> None:
    """The phone's answer comes in while the worker already holds the row."""
    box, sowing = told.sown()
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
    box, _ = told.sown()
    told.tick()
    assert told.tick(days=14) == [FIRST]
    task = f"{box}/first-look/2026-05-02"
    data = {"task": task, "answer": "later", "until": "2026-05-20"}
    Pen(told.owner, "2026-05-16").write("task.answered", box, data)
    assert told.tick(hours=1) == []
    assert told.tick(days=3) == []  # 13:00 on the 19th
    assert told.tick(days=1) == [FIRST]


def test_an_answer_struck_out_brings_the_task_back(told: Told) -> None:
    box, sowing = told.sown()
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
    told.sown()
    told.tick()
    assert told.tick(days=13, hours=18.5) == []
    assert told.tick(hours=0.5) == [FIRST]


def test_a_server_that_was_down_tells_late_but_not_at_night(told: Told) -> None:
    told.pen.person(notice_at="08:00", zone="UTC", quiet={"from": "22:00", "to": "07:00"})
    told.sown()
    told.tick()
    assert told.tick(days=14, hours=11) == []  # back at 23:00
    assert told.tick(hours=8) == [FIRST]


def test_a_changed_hour_counts_from_then_on(told: Told) -> None:
    told.sown()
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
    told.sown()
    told.tick()
    assert told.tick(days=14) == [FIRST, FIRST]


def test_who_keeps_it_is_told(told: Told) -> None:
    grower, watcher = told.owner.brings("grower"), told.owner.brings("watcher")
    told.switch_on(grower, "grower")
    told.switch_on(watcher, "watcher")
    told.sown(keeper=[{"person": watcher.person, "to": "2026-05-16"}])
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
    told.sown()
    told.tick()
    assert told.tick(days=14) == []
    assert told.tick(days=4, hours=20) == [FIRST]  # the 21st, 08:00


def test_who_left_or_was_shut_out_is_told_no_more(told: Told) -> None:
    gone, shut, out = (told.owner.brings("grower") for _ in range(3))
    for name, phone in (("gone", gone), ("shut", shut), ("out", out)):
        told.switch_on(phone, name)
    told.sown()
    told.tick()
    assert told.owner.delete(f"…/people/{gone.person}").status_code == 204
    assert told.owner.delete(f"…/devices/{shut.device}").status_code == 204
    assert out.delete("/api/v1/session").status_code == 204
    told.wall.forward(days=14)
    told.reminders.tick()
    assert [one.path for one in told.sink.received] == ["/push/one"]


def test_without_a_phone_it_stands_in_the_app_and_is_told_when_one_comes(told: Told) -> None:
    told.owner.delete(MINE)
    told.sown()
    told.tick()
    assert told.tick(days=14) == []
    assert told.states()[0] == "unreached"
    told.switch_on(told.owner)
    assert told.tick(hours=1) == []
    assert told.tick(days=1) == [FIRST]


def test_moving_the_demo_calendar_reaches_every_notice_hour_of_that_day(told: Told) -> None:
    told.pen.person(notice_at="21:00", zone="UTC", quiet={"from": "08:00", "to": "20:00"})
    told.sown()
    told.tick()
    day = told.reminders.next_due_day(told.services.clocks.calendar_today())
    assert day == "2026-05-16"
    told.services.clocks.move_to(day)
    assert told.tick() == [FIRST]
    assert told.tick(seconds=30) == []
    assert told.reminders.next_due_day(day) > day


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


def test_rows_thrown_away_are_reckoned_again(told: Told) -> None:
    told.sown(shelf=told.pen.shelf())
    told.tick()
    before = [(row.task, row.due, row.title) for row in told.rows()]
    with told.services.database.write() as c:
        for table in (due_row, due_need, due_inside, due_subject, due_head):
            c.execute(table.delete())
    told.tick()
    assert [(row.task, row.due, row.title) for row in told.rows()] == before
