"""A fence around every test here: nothing leaves this machine."""

from __future__ import annotations

import socket
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from flask import Flask
from phones import Phone
from push_sink import PushSink

from sporeline.reminders.push import PushSender
from sporeline.reminders.vapid import Vapid, keep_key
from tests.backend.reminders.told import Told

WALL = 1_785_000_000_000
"""2026-07-25T17:20Z, where a test needs just any instant."""


@pytest.fixture(autouse=True)
def nothing_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    """A connection to anything but this machine is an error of the test."""
    connect = socket.socket.connect

    def fenced(self: socket.socket, address: Any) -> None:
        if self.family in (socket.AF_INET, socket.AF_INET6):
            assert address[0] in ("127.0.0.1", "::1"), f"a request left this machine: {address}"
        connect(self, address)

    monkeypatch.setattr(socket.socket, "connect", fenced)


@pytest.fixture
def sinks() -> Iterator[Callable[[], PushSink]]:
    made: list[PushSink] = []

    def make() -> PushSink:
        made.append(PushSink())
        return made[-1]

    yield make
    for sink in made:
        sink.close()


@pytest.fixture
def sink(sinks: Callable[[], PushSink]) -> PushSink:
    return sinks()


@pytest.fixture
def vapid(tmp_path: Any) -> Vapid:
    return Vapid(keep_key(tmp_path), "mailto:grower@example.org")


def loopback(_host: str, _port: int) -> list[str]:
    return ["127.0.0.1"]


@pytest.fixture
def senders(vapid: Vapid) -> Callable[..., PushSender]:
    """A sender that may reach the given hosts on this machine."""

    def make(*hosts: str, resolve: Any = loopback, wall: Any = lambda: WALL) -> PushSender:
        return PushSender(vapid, hosts, resolve, wall)

    return make


@pytest.fixture
def told(app: Flask, owner: Phone, sink: PushSink, vapid: Vapid, wall: Any) -> Told:
    """Noon of 2026-05-02, UTC; the owner's phone takes notices at 08:00 UTC."""
    told = Told(app, owner, sink, vapid, wall)
    told.switch_on(owner)
    return told
