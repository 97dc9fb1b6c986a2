"""A logbook whose phones take notices at a push service on this machine."""

from __future__ import annotations

import dataclasses
import json
from typing import Any

from flask import Flask
from pen import Pen
from phones import Phone, services_of
from push_sink import Phone as Browser
from push_sink import PushSink
from sqlalchemy import select

from sporeline.database import Database
from sporeline.reminders import Reminders
from sporeline.reminders.push import PushSender
from sporeline.reminders.tables import due_row
from sporeline.reminders.vapid import Vapid

MINE = "/api/v1/devices/me/push"
FIRST = "Box 4: first look"


class Told:
    """Time passes, rounds are made, and what came to the phones is read."""

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

    def sown(self, **box: Any) -> tuple[str, str]:
        """A box and a sowing in it; its first look is due on 2026-05-16."""
        box_id = self.pen.box(**box)
        return box_id, self.pen.sow(box_id)
