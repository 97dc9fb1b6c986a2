"""A phone for the trials: writes random entries, exchanges over a raw socket that can be cut anywhere.

It follows the exchange as the app does: the outbox is what has no number, an unknown outcome is
tried again, and a diverged history is healed by asking for a digest and offering what is lacking.
"""

from __future__ import annotations

import gzip
import http.client
import json
import random
import socket
import urllib.parse
from typing import Any

Json = dict[str, Any]
DAY = "2026-05-02"


class Unknown(Exception):
    """The outcome of a request is not known: it may have been stored, or not."""


class Refused(Exception):
    """The server answered with an error."""

    def __init__(self, status: int, body: Json) -> None:
        super().__init__(f"{status} {body}")
        self.status, self.body = status, body


class Phone:
    """One simulated phone. `saved` is its vault: all entries by id, as it called them saved."""

    def __init__(self, url: str, name: str, seed: int) -> None:
        self.address = urllib.parse.urlsplit(url)
        self.name, self.dice = name, random.Random(f"{seed}/{name}")
        self.person, self.device = self.new_id(), self.new_id()
        self.node = f"{self.dice.getrandbits(64):016x}"
        self.ms = 1_777_700_000_000
        self.token = self.logbook = ""
        self.saved: dict[str, Json] = {}
        self.acknowledged: set[str] = set()
        self.numbers: dict[str, int] = {}
        self.cursor: Json | None = None
        self.high: Json | None = None

    def new_id(self) -> str:
        """A random UUIDv7."""
        ms, bits = 1_777_700_000_000, self.dice.getrandbits(74)
        value = ms << 80 | (7 << 12 | bits >> 62) << 64 | 2 << 62 | bits & (1 << 62) - 1
        text = f"{value:032x}"
        return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))

    def join(self, invitation: str) -> None:
        """Take up an invitation."""
        person = {"id": self.person, "name": self.name, "initials": self.name[:3].upper()}
        device = {"id": self.device, "label": f"{self.name}'s phone"}
        answer = self.call(
            "POST",
            "/api/v1/devices",
            {"invitation": invitation, "device": device, "person": person},
        )
        self.token, self.logbook = answer["token"], answer["logbook"]["id"]

    def write(self, record: str) -> Json:
        """One more entry about a record, saved on this phone."""
        self.ms += self.dice.randrange(1, 5_000)
        entry: Json = {"id": self.new_id(), "v": 1, "about": record, "at": DAY}
        entry |= {"made": f"{self.ms:012x}-00000000-{self.node}", "by": self.person}
        entry |= {"device": self.device}
        if self.dice.random() < 0.3:
            name = f"Grün {self.dice.randrange(10**6)} \N{HERB}"
            entry |= {"kind": "record.described", "data": {"name": name}, "seen": {"name": []}}
        else:
            ripeness = self.dice.choice(["none", "young", "turning", "ripe", "spent"])
            entry |= {"kind": "sori.seen", "data": {"ripeness": ripeness}}
        self.saved[entry["id"]] = entry
        return entry

    def outbox(self) -> list[Json]:
        """What has no number yet, oldest first."""
        return [entry for key, entry in self.saved.items() if key not in self.numbers][:500]

    def request(self) -> Json:
        """The body of the next exchange."""
        return {
            "cursor": self.cursor,
            "high": self.high,
            "now": f"{DAY}T18:05:00Z",
            "unsent": {"count": len(self.outbox()), "oldest": f"{DAY}T10:00:00Z"},
            "entries": self.outbox(),
            "limit": 2000,
        }

    def exchange(self) -> None:
        """Until nothing is unsent and nothing is left to pull; heals a diverged history."""
        while True:
            try:
                answer = self.call("POST", self.path("exchange"), self.request())
            except Refused as refused:
                if refused.status != 409:
                    raise
                self.heal()
                continue
            self.take(answer)
            if not answer["more"] and not self.outbox():
                return

    def take(self, answer: Json) -> None:
        """Write verdicts, entries and cursor, as one step."""
        for line in answer["stored"]:
            self.numbers[line["id"]] = line["seq"]
            self.acknowledged.add(line["id"])
        for entry in answer["entries"]:
            plain = {k: v for k, v in entry.items() if k not in SERVERS_WORDS}
            known = self.saved.setdefault(entry["id"], plain)
            assert known == plain, f"{entry['id']} came back altered: {known} {plain}"
            self.numbers[entry["id"]] = entry["seq"]
        self.cursor = answer["cursor"]
        if self.cursor and (self.high is None or self.cursor["seq"] >= self.high["seq"]):
            self.high = self.cursor

    def heal(self) -> None:
        """After 409: ask what the server lacks, offer it again, pull from the beginning."""
        self.cursor = self.high = None
        ids = list(self.saved)
        for start in range(0, len(ids), 2000):
            asked = {"ids": ids[start : start + 2000], "photos": []}
            for lacking in self.call("POST", self.path("digest"), asked)["lacks"]:
                self.numbers.pop(lacking, None)

    def path(self, what: str) -> str:
        """The address of a call about this phone's logbook."""
        return f"/api/v1/logbooks/{self.logbook}/{what}"

    def call(self, method: str, path: str, body: Json) -> Json:
        """One whole request. Unknown where the answer did not come whole."""
        return self.answer_to(self.raw(method, path, body))

    def raw(self, method: str, path: str, body: Json) -> bytes:
        """The bytes of a request."""
        packed = gzip.compress(json.dumps(body).encode())
        lines = [
            f"{method} {path} HTTP/1.1",
            f"Host: {self.address.netloc}",
            "Content-Type: application/json",
            "Content-Encoding: gzip",
            f"Content-Length: {len(packed)}",
            "Connection: close",
        ]
        if self.token:
            lines.append(f"Authorization: Bearer {self.token}")
        return "\r\n".join(lines).encode() + b"\r\n\r\n" + packed

    def answer_to(self, raw: bytes, cut: int | None = None, hear: int | None = None) -> Json:
        """Send `raw` (only its first `cut` bytes), read the answer (only its first `hear` bytes)."""
        try:
            with socket.create_connection((self.address.hostname, self.address.port), 20) as wire:
                wire.sendall(raw if cut is None else raw[:cut])
                if cut is not None:
                    raise Unknown
                if hear is not None:
                    _read(wire, hear)
                    raise Unknown
                return _parsed(wire)
        except (OSError, http.client.HTTPException) as gone:
            raise Unknown from gone


SERVERS_WORDS = {"seq", "received", "state", "vouched", "via", "errors"}


def _read(wire: socket.socket, length: int) -> None:
    while length > 0 and (got := wire.recv(length)):
        length -= len(got)


def _parsed(wire: socket.socket) -> Json:
    answer = http.client.HTTPResponse(wire)
    answer.begin()
    content = answer.read()
    body: Json = json.loads(content) if content else {}
    if answer.status >= 300:
        raise Refused(answer.status, body)
    return body
