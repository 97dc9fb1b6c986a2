"""The whole way, on a real server process: a phone subscribes, sows, and is told."""

from __future__ import annotations

import json
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from push_sink import Phone as Browser
from push_sink import PushSink
from served import Served

BOX = "019de28d-3c00-7000-8000-0000000000b1"
SOWING = "019de28d-3c00-7000-8000-0000000000c1"
TODAY = "2026-05-02"


def call(server: Served, token: str | None, method: str, path: str, body: Any = None) -> Any:
    headers = {"Content-Type": "application/json"}
    if token:
        headers["Authorization"] = f"Bearer {token}"
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(server.url + path, data, headers, method=method)
    with urllib.request.urlopen(request, timeout=30) as answer:
        return json.loads(answer.read() or b"null")


def entry(n: int, kind: str, about: str, data: dict[str, Any], **given: Any) -> dict[str, Any]:
    return {
        "id": f"019de28d-3c00-7000-8000-00000000ee{n:02d}",
        "kind": kind,
        "v": 1,
        "about": about,
        "at": TODAY,
        "made": f"019de28d3c{n:02d}-00000000-00000000000000a1",
        "data": data,
        **given,
    }


SOWN = [
    entry(1, "box.described", BOX, {"vessel": "box"}, seen={"vessel": []}),
    entry(2, "record.described", BOX, {"name": "box 4"}, seen={"name": []}),
    entry(3, "sowing.described", SOWING, {"box": BOX}, seen={"box": []}),
    entry(4, "spores.sown", SOWING, {}, also=[BOX]),
]


@pytest.fixture
def demo(tmp_path: Path, sink: PushSink) -> Iterator[Served]:
    settings = {
        "demo": "1",
        "demo_today": TODAY,
        "push_contact": "mailto:grower@example.org",
        "push_hosts": sink.host,
    }
    server = Served(tmp_path / "served", **settings)
    yield server
    server.end()


PERSON = {"id": "019de28d-3c00-7000-8000-0000000000e1", "name": "Marte Voss", "initials": "MV"}
DEVICE = {"id": "019de28d-3c00-7000-8000-0000000000d1", "label": "phone"}


def joined(server: Served, code: str) -> tuple[str, str]:
    """A token, and the path of the logbook."""
    body = {"invitation": code, "device": DEVICE, "person": PERSON}
    answer = call(server, None, "POST", "/api/v1/devices", body)
    return answer["token"], f"/api/v1/logbooks/{answer['logbook']['id']}"


def switched_on(server: Served, token: str, sink: PushSink) -> Browser:
    browser = Browser(sink.host)
    keys = {"p256dh": browser.subscription.p256dh, "auth": browser.subscription.auth}
    body = {"endpoint": browser.subscription.endpoint, "keys": keys}
    assert call(server, token, "PUT", "/api/v1/devices/me/push", body) == {"state": "on"}
    return browser


def move(server: Served, token: str, to: str) -> str:
    return str(call(server, token, "POST", "/api/v1/demo/clock", {"to": to})["today"])


def test_sown_moved_on_told_once_and_not_again_after_a_kill(demo: Served, sink: PushSink) -> None:
    code = demo.init()
    demo.start()
    token, book = joined(demo, code)
    browser = switched_on(demo, token, sink)
    pushed = {"cursor": None, "high": None, "entries": SOWN, "limit": 10}
    answer = call(demo, token, "POST", f"{book}/exchange", pushed)
    assert [line["state"] for line in answer["stored"]] == ["stored"] * 4
    feed = call(demo, token, "POST", "/api/v1/me/calendar")["url"]

    assert move(demo, token, "next") == "2026-05-16"
    (request,) = sink.received
    shown = json.loads(browser.read(request.body))["notification"]
    assert (shown["title"], shown["tag"]) == ("Box 4: first look", f"{BOX}/first-look")
    due = call(demo, token, "GET", f"{book}/tasks")["tasks"]
    assert [task["rule"] for task in due] == ["first-look"]
    with urllib.request.urlopen(feed, timeout=30) as calendar:
        assert b"DTSTART;VALUE=DATE:20260516" in calendar.read()

    demo.kill9()
    demo.start()
    assert move(demo, token, "2026-05-17") == "2026-05-17"
    assert len(sink.received) == 1
    assert feed.rpartition("/")[2] not in demo.printed
