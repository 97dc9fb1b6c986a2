"""Writes entries as a phone does, through the exchange: what a test tells of its boxes and shelves."""

from __future__ import annotations

from typing import Any

from phones import Phone, services_of

CLOSED_BOX_FERN = "Dryopteris filix-mas"


class Pen:
    """One person's phone, writing. `day`: the day it all happens, `YYYY-MM-DD`."""

    def __init__(self, phone: Phone, day: str = "2026-05-02") -> None:
        self.phone = phone
        self.day = day
        self._services = services_of(phone.app)
        self._ids = self._services.ids
        self._made = 0

    def new(self) -> str:
        return self._ids.new()

    def write(self, kind: str, about: str, data: dict[str, Any], **given: Any) -> str:
        """One entry, sent at once; gives its id. `seen` is left empty for descriptions."""
        self._made += 1
        stamp = f"{self._services.clocks.wall() + self._made:012x}-00000000-{'0' * 15}1"
        entry = {
            "id": self.new(),
            "kind": kind,
            "v": 1,
            "about": about,
            "at": self.day,
            "made": stamp,
            "data": data,
            **given,
        }
        if kind.endswith((".described", ".given", ".set")) and kind != "cover.set":
            entry.setdefault("seen", {name: [] for name in data})
        body = {"cursor": None, "high": None, "entries": [entry], "limit": 1}
        answer = self.phone.post("…/exchange", body)
        assert answer.status_code == 200, answer.json
        (verdict,) = answer.json["stored"]
        assert verdict["state"] == "stored", verdict
        return str(entry["id"])

    def shelf(self, name: str = "north sill", **data: Any) -> str:
        shelf = self.new()
        self.write("shelf.described", shelf, {"stands": "sill", **data})
        self.write("record.described", shelf, {"name": name})
        return shelf

    def box(self, name: str = "box 4", shelf: str | None = None, **data: Any) -> str:
        box = self.new()
        self.write("box.described", box, {"vessel": "box", **data})
        self.write("record.described", box, {"name": name})
        if shelf is not None:
            self.place(box, shelf)
        return box

    def place(self, box: str, shelf: str) -> None:
        self.write("box.placed", box, {"shelf": shelf}, also=[shelf])

    def sow(self, box: str, taxon: str | None = CLOSED_BOX_FERN) -> str:
        """A sowing in a box, sown on this pen's day, named if `taxon`."""
        sowing = self.new()
        self.write("sowing.described", sowing, {"box": box})
        if taxon is not None:
            self.write("name.given", sowing, {"taxon": taxon, "sure": "certain"})
        self.write("spores.sown", sowing, {}, also=[box])
        return sowing

    def see(self, sowing: str, box: str, growth: str = "nothing") -> str:
        return self.write("growth.seen", sowing, {"growth": growth}, also=[box])

    def person(self, **data: Any) -> None:
        """Settings of the phone's own person; further ones see those written before."""
        self.write("person.described", self.phone.person, data)
