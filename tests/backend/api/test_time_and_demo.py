"""The two clocks as they are told, and the demo's calendar."""

from __future__ import annotations

from dataclasses import replace

import pytest
from phones import first_owner, services_of

from sporeline.app import create_app

CLOCK = "/api/v1/demo/clock"


@pytest.fixture
def demo(settings, wall):
    """Starts a demo on the same database as often as it is called; the last is closed here."""
    running = []

    def start(**given):
        if running:
            services_of(running.pop()).database.close()
        running.append(create_app(replace(settings, demo=True, **given), wall=wall))
        return running[0]

    yield start
    services_of(running.pop()).database.close()


def test_the_real_time(client):
    assert client.get("/api/v1/time").json == {
        "now": "2026-05-02T12:00:00Z",
        "today": "2026-05-02",
        "clock": "real",
        "shift_days": 0,
    }


def test_outside_the_demo_the_calendar_cannot_be_moved(client, owner):
    answer = owner.post(CLOCK, {"to": "2026-08-18"})
    assert (answer.status_code, answer.json["code"]) == (404, "not-there")


def test_the_demo_begins_at_its_day_and_a_restart_keeps_it(demo):
    app = demo(demo_today="2026-08-18")
    told = app.test_client().get("/api/v1/time").json
    assert (told["today"], told["clock"], told["shift_days"]) == ("2026-08-18", "demo", 108)
    assert told["now"] == "2026-05-02T12:00:00Z"
    moved = first_owner(app).post(CLOCK, {"to": "2026-09-01"})
    assert (moved.status_code, moved.json["today"]) == (200, "2026-09-01")
    again = demo(demo_today="2026-08-18")
    assert again.test_client().get("/api/v1/time").json["today"] == "2026-09-01"


def test_a_shift_of_the_demo_means_nothing_elsewhere(demo, settings, wall):
    services_of(demo(demo_today="2026-08-18")).database.close()
    real = create_app(settings, wall=wall)
    try:
        assert real.test_client().get("/api/v1/time").json["shift_days"] == 0
    finally:
        services_of(real).database.close()


class Reminders:
    """A stand-in for the room of reminders: what is due, and how often it was told to look."""

    def __init__(self, day):
        self.day = day
        self.ticks = 0

    def next_due_day(self, after):
        return self.day

    def tick(self):
        self.ticks += 1


def test_to_the_next_due_day(demo):
    app = demo()
    services = services_of(app)
    services.reminders = Reminders("2026-05-16")
    owner = first_owner(app)
    assert owner.post(CLOCK, {"to": "next"}).json["today"] == "2026-05-16"
    assert services.reminders.ticks == 1
    services.reminders.day = None
    nothing = owner.post(CLOCK, {"to": "next"})
    assert (nothing.status_code, nothing.json["code"]) == (409, "nothing-due")
    assert services.clocks.calendar_today() == "2026-05-16"


@pytest.mark.parametrize(
    "to", ["2026-05-01", "1970-01-01", "9999-01-01", "tomorrow", "2026-02-30", ""]
)
def test_never_backwards_never_nonsense(demo, to):
    app = demo()
    answer = first_owner(app).post(CLOCK, {"to": to})
    assert (answer.status_code, answer.json["where"]) == (422, "to")
    assert services_of(app).clocks.shift_days == 0


def test_the_wall_is_never_moved(demo, wall):
    """Sessions and invitations go by the wall: no demo step signs anyone out."""
    app = demo()
    owner = first_owner(app)
    assert owner.post(CLOCK, {"to": "2027-05-02"}).status_code == 200
    assert owner.get("/api/v1/me").status_code == 200
    assert owner.post("…/invitations", {"role": "grower"}).json["expires"] == "2026-05-05T12:00:00Z"
