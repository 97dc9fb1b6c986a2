"""A phone of the story: writes entries with its own clock and ids and exchanges them over HTTP.

It goes in by the front door only: the API, and the kernel rules that every phone has.
"""

from __future__ import annotations

import datetime as dt
import gzip
import hashlib
import json
import urllib.request
from typing import Any
from zoneinfo import ZoneInfo

from sporeline.kernel.clock import Clock, tick

from .ids import story_id

Json = dict[str, Any]
BATCH = 400
FIRST_DAY_MS = 1_748_649_600_000  # 31 May 2025, the story's first day


class Phone:
    """One person's phone. `wall_ms` is the real time at which the story is played."""

    def __init__(self, url: str, initials: str, person: Json, zone: str, wall_ms: int) -> None:
        self.url, self.initials, self.who, self.zone = url, initials, person, ZoneInfo(zone)
        self.zone_name, self.wall_ms = zone, wall_ms
        self.person = story_id(FIRST_DAY_MS, f"person {initials}")
        self.device = story_id(FIRST_DAY_MS, f"device {initials}")
        node = hashlib.sha256(f"node {initials}".encode()).hexdigest()[:16]
        self.clock = Clock(wall_ms - 3_600_000, 0, node)
        self.token = self.logbook = ""
        self.unsent: list[Json] = []
        self.cursor: Json | None = None
        self.heads: dict[tuple[str, str, str], list[str]] = {}
        self.written = 0

    def join(self, invitation: str) -> None:
        """Take up an invitation; from then on the phone is a device of its person."""
        answer = self._call(
            "POST",
            "/api/v1/devices",
            {
                "invitation": invitation,
                "device": {"id": self.device, "label": self.who["device"]},
                "person": {
                    "id": self.person,
                    "name": self.who["name"],
                    "initials": self.initials,
                },
            },
        )
        self.token, self.logbook = answer["token"], answer["logbook"]["id"]

    def write(
        self,
        day: dt.date,
        hour: str,
        kind: str,
        about: str,
        data: Json,
        also: list[str] | None = None,
    ) -> str:
        """One entry, kept until the next exchange. Descriptions list the heads this phone knows."""
        self.written += 1
        self.clock, made = tick(self.clock, self.clock.ms)
        local = dt.datetime.combine(day, dt.time.fromisoformat(hour), self.zone)
        entry = {
            "id": story_id(int(local.timestamp() * 1000), f"{self.initials} {self.written}"),
            "kind": kind,
            "v": 1,
            "about": about,
            "at": f"{local.isoformat(timespec='seconds')}[{self.zone_name}]",
            "made": made,
            "by": self.person,
            "device": self.device,
            "data": data,
        }
        if also:
            entry["also"] = also
        if _describes(kind):
            entry["seen"] = {field: self.heads.get((about, kind, field), []) for field in data}
            self._learn(entry)
        self.unsent.append(entry)
        return str(entry["id"])

    def exchange(self) -> None:
        """Send what is unsent and take what is new, until both sides have all."""
        more = True
        while more or self.unsent:
            batch, self.unsent = self.unsent[:BATCH], self.unsent[BATCH:]
            answer = self._call(
                "POST", f"/api/v1/logbooks/{self.logbook}/exchange", self._ask(batch)
            )
            _complain(answer, batch)
            for entry in answer["entries"]:
                if _describes(entry["kind"]):
                    self._learn(entry)
            self.cursor, more = answer["cursor"], answer["more"]

    def send_photo(self, sha256: str, content: bytes) -> None:
        """Put a photo's bytes where its entry says they are."""
        path = f"/api/v1/logbooks/{self.logbook}/photos/{sha256}"
        headers = {"Upload-Offset": "0", "Upload-Complete": "?1", "Content-Type": "image/jpeg"}
        self._send("PUT", path, content, headers)

    def _ask(self, batch: list[Json]) -> Json:
        now = dt.datetime.fromtimestamp(self.wall_ms / 1000, dt.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        return {
            "cursor": self.cursor,
            "high": self.cursor,
            "now": now,
            "unsent": {"count": len(batch), "oldest": now},
            "entries": batch,
            "limit": 2000,
        }

    def _learn(self, entry: Json) -> None:
        for field, seen in entry.get("seen", {}).items():
            key = (entry["about"], entry["kind"], field)
            kept = [head for head in self.heads.get(key, []) if head not in seen]
            self.heads[key] = [*kept, entry["id"]]

    def _call(self, method: str, path: str, body: Json) -> Json:
        headers = {"Content-Type": "application/json", "Content-Encoding": "gzip"}
        answer = self._send(method, path, gzip.compress(json.dumps(body).encode()), headers)
        return json.loads(answer)  # type: ignore[no-any-return]

    def _send(self, method: str, path: str, body: bytes, headers: dict[str, str]) -> bytes:
        if self.token:
            headers["Authorization"] = f"Bearer {self.token}"
        request = urllib.request.Request(self.url + path, body, headers, method=method)
        with urllib.request.urlopen(request, timeout=60) as answer:
            return bytes(answer.read())


def _describes(kind: str) -> bool:
    return kind.endswith(".described") or kind in {
        "name.given",
        "plan.set",
        "place.fixed",
        "place.told",
    }


def _complain(answer: Json, batch: list[Json]) -> None:
    """The story is ours: an entry of it that the server holds or refuses is a fault of the story."""
    wrong = [line for line in answer["stored"] if line["state"] != "stored"] + answer["refused"]
    if wrong:
        kinds = {entry["id"]: entry["kind"] for entry in batch}
        first = wrong[0]
        raise ValueError(f"{len(wrong)} entries of the story did not stand, first {first} {kinds}")
