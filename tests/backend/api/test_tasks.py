"""GET …/tasks: what is due, as the server holds it now, for those who may see it."""

from __future__ import annotations

from typing import Any

import pytest
from pen import Pen
from phones import Phone, first_owner, services_of

from sporeline.contract.taxa import growing_of
from sporeline.kernel.due import due
from sporeline.logbook import put_outlooks, read_records
from sporeline.logbook.heads import head_row
from sporeline.reminders.tasks import shipped_plan


def tasks(phone: Phone, query: str = "?on=2026-05-16") -> list[dict[str, Any]]:
    answer = phone.get(f"…/tasks{query}")
    assert answer.status_code == 200, answer.json
    found: list[dict[str, Any]] = answer.json["tasks"]
    return found


def ids(phone: Phone, query: str = "?on=2026-05-16") -> list[str]:
    return [task["id"] for task in tasks(phone, query)]


def test_one_task_as_it_travels(owner: Phone) -> None:
    pen = Pen(owner)
    box = pen.box()
    sowing = pen.sow(box)
    answer = owner.get("…/tasks?on=2026-05-16")
    assert answer.json == {
        "on": "2026-05-16",
        "tasks": [
            {
                "id": f"{box}/first-look/2026-05-02",
                "subject": box,
                "rule": "first-look",
                "due": "2026-05-16",
                "until": "2026-05-30",
                "ask": ["nothing", "green_film", "slime", "mould", "too_wet", "dry", "later"],
                "from_outlook": False,
                "covers": [sowing],
            }
        ],
    }


def test_without_a_day_it_is_today(owner: Phone, wall: Any) -> None:
    pen = Pen(owner)
    pen.sow(pen.box())
    assert owner.get("…/tasks").json == {"on": "2026-05-02", "tasks": []}
    wall.forward(days=14)
    assert len(tasks(owner, "")) == 1


def test_it_equals_the_kernel_on_the_records_the_server_holds(owner: Phone) -> None:
    pen = Pen(owner)
    shelf = pen.shelf()
    boxes = {}
    for n, taxon in enumerate(
        ["Osmunda regalis", "Dryopteris affinis", None, "Cyathea medullaris"]
    ):
        box = pen.box(f"box {n}", shelf)
        boxes[box] = {pen.sow(box, taxon): taxon}
    first = next(iter(boxes))
    pen.see(next(iter(boxes[first])), first, "green_film")
    with services_of(owner.app).database.read() as c:
        records: dict[str, Any] = {one["id"]: one for one in read_records(c, owner.logbook)}
    growing = {one: growing_of(taxon) for held in boxes.values() for one, taxon in held.items()}
    everything = [records[id] for box in boxes for id in (box, *boxes[box])]
    for day in ("2026-05-08", "2026-05-12", "2026-05-16", "2026-06-01", "2026-09-01"):
        expected = due(shipped_plan(), records[shelf], everything, growing, [], [], day)
        for box, sowings in boxes.items():
            inside = [records[one] for one in sowings]
            expected += due(shipped_plan(), records[box], inside, growing, [], [], day)
        expected = [task for task in expected if task["due"] <= day]
        expected.sort(key=lambda task: (task["due"], task["id"]))
        assert tasks(owner, f"?on={day}") == expected
    assert expected


def test_for_a_person_what_they_keep(owner: Phone) -> None:
    grower = owner.brings("grower")
    pen = Pen(owner)
    mine = pen.box(keeper=[{"person": owner.person}])
    theirs = pen.box(keeper=[{"person": grower.person}])
    for box in (mine, theirs):
        pen.sow(box)
    for asking in (owner, grower):
        assert [t["subject"] for t in tasks(asking, f"?on=2026-05-16&for={owner.person}")] == [mine]
        assert len(tasks(asking)) == 2


def test_a_plan_of_ones_own_is_followed_until_it_is_struck(owner: Phone) -> None:
    pen = Pen(owner)
    record = pen.new()
    rule = {
        "rule": "peek",
        "subject": "box",
        "anchor": [{"last": "box.placed"}],
        "wait": "P3D",
        "ends": {"by": "answer"},
        "ask": ["done"],
        "answers": {"done": [{"kind": "task.answered", "about": "subject", "data": {}}]},
        "question": "Peek?",
        "why": "To see.",
    }
    pen.write("plan.described", record, {"title": "mine"})
    entry = pen.write("plan.set", record, {"plan": {"rules": [rule]}})
    box = pen.box(shelf=pen.shelf(), plan=entry)
    pen.sow(box)
    assert ids(owner) == [f"{box}/peek/2026-05-02"]
    pen.write("entry.struck", record, {"entry": entry, "reason": "not so good"})
    assert ids(owner) == [f"{box}/first-look/2026-05-02"]


def test_an_outlook_moves_the_end_of_the_wait(owner: Phone) -> None:
    pen = Pen(owner)
    box = pen.box()
    sowing = pen.sow(box)
    services = services_of(owner.app)
    row = {
        "about": sowing,
        "n": 1,
        "on": "2026-05-10",
        "from": "2026-05-12",
        "to": "2026-05-15",
        "evidence": {},
    }
    with services.database.write() as c:
        head = head_row(c, owner.logbook)
        assert head is not None
        put_outlooks(c, head, [row])
    found = {task["rule"]: task for task in tasks(owner)}
    assert found["still-nothing"]["due"] == "2026-05-15"
    assert found["still-nothing"]["from_outlook"] is True
    services.reminders.tick()
    assert services.reminders.next_due_day("2026-05-02") == "2026-05-15"


def test_a_double_asks_nothing(owner: Phone) -> None:
    pen = Pen(owner)
    box, double = pen.box(), pen.box("box 4 again")
    pen.sow(double)
    pen.write("record.described", double, {"same_as": box})
    assert ids(owner) == [f"{box}/first-look/2026-05-02"]


def test_who_may_look(owner: Phone) -> None:
    pen = Pen(owner)
    pen.sow(pen.box())
    for role in ("grower", "watcher", "onlooker"):
        assert len(tasks(owner.brings(role))) == 1


def test_other_logbooks_are_not_there(owner: Phone) -> None:
    pen = Pen(owner)
    pen.sow(pen.box())
    stranger = first_owner(owner.app, "Other ferns")
    answer = stranger.get(f"/api/v1/logbooks/{owner.logbook}/tasks")
    assert (answer.status_code, answer.json["code"]) == (404, "no-such-logbook")
    assert tasks(stranger) == []


@pytest.mark.parametrize(
    ("query", "status", "where"),
    [
        ("?on=2026-02-30", 422, "on"),
        ("?on=tomorrow", 422, "on"),
        ("?for=me", 422, "for"),
        ("?for=01977a00-0000-7000-8000-000000000004", 404, "for"),
    ],
)
def test_questions_that_make_no_sense(owner: Phone, query: str, status: int, where: str) -> None:
    answer = owner.get(f"…/tasks{query}")
    assert (answer.status_code, answer.json["where"].split(".")[-1]) == (status, where)
