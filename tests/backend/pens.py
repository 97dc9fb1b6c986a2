"""What a test writes with: entries of a phone, and exchanges with them."""

from __future__ import annotations

import gzip
import json
from itertools import count
from typing import Any

from phones import Phone

from sporeline.contract.kinds import KERNEL_KINDS

Json = dict[str, Any]
_numbers = count(1)


def new_id() -> str:
    """A UUIDv7 that no other call gives; later ones sort later."""
    return f"019de28d-3c00-7000-8000-{next(_numbers):012x}"


class Pen:
    """Writes entries for a phone and brings them to its server."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone
        self.node = f"{next(_numbers):016x}"

    def entry(self, kind: str = "sori.seen", data: Json | None = None, **changed: Any) -> Json:
        """A good entry of this phone; `...` takes a part away."""
        data = {"ripeness": "ripe"} if data is None else data
        number = next(_numbers)
        made: Json = {
            "id": new_id(),
            "kind": kind,
            "v": 1,
            "about": new_id(),
            "at": "2026-05-01",
            "made": f"019de28d{number:04x}-00000000-{self.node}",
            "by": self.phone.person,
            "device": self.phone.device,
            "data": data,
        }
        if KERNEL_KINDS.get(kind, {}).get("nature") == "description":
            made["seen"] = {field: [] for field in data}
        made |= changed
        return {name: part for name, part in made.items() if part is not ...}

    def bring(self, *entries: Any, **asked: Any) -> Json:
        """One exchange that must succeed; a plain pull from the start without entries."""
        answer = self.ask(*entries, **asked)
        assert answer.status_code == 200, answer.json
        told: Json = answer.json
        return told

    def ask(self, *entries: Any, **asked: Any) -> Any:
        """One exchange, whatever comes of it."""
        body = {"cursor": None, "high": None, "entries": list(entries)} | asked
        return self.phone.post("…/exchange", body)

    def send(self, body: bytes, **headers: str) -> Any:
        """Raw bytes as the body of an exchange."""
        given = {"Content-Type": "application/json"} | headers
        return self.phone.post("…/exchange", data=body, headers=given)

    def pull(self, **asked: Any) -> list[Json]:
        """All lines there are for this phone, page by page."""
        lines: list[Json] = []
        cursor, more = None, True
        while more:
            answer = self.bring(**{"cursor": cursor, "high": cursor} | asked)
            lines += answer["entries"]
            cursor, more = answer["cursor"], answer["more"]
        return lines

    def digest(self, *ids: str, photos: tuple[str, ...] = ()) -> Json:
        """What the server lacks of these."""
        answer = self.phone.post("…/digest", {"ids": list(ids), "photos": list(photos)})
        assert answer.status_code == 200, answer.json
        told: Json = answer.json
        return told


def packed(body: Any) -> bytes:
    """A JSON body as gzip."""
    return gzip.compress(json.dumps(body).encode())


def content(line: Json) -> Json:
    """A line without what the server says beside it."""
    beside = {"seq", "received", "state", "vouched", "via", "errors"}
    return {name: part for name, part in line.items() if name not in beside}
