"""Entries for the tests of the contract: one good one, and ways to spoil it."""

from __future__ import annotations

from typing import Any


def id_of(n: int) -> str:
    """A UUIDv7 with a number in it."""
    return f"019de28d-3c00-7000-8000-{n:012x}"


def entry(kind: str = "sori.seen", data: Any = None, **changed: Any) -> dict[str, Any]:
    """A good entry of that kind, with parts of it changed; `...` takes one away."""
    data = {"ripeness": "ripe"} if data is None and kind == "sori.seen" else data
    made = {
        "id": id_of(1),
        "kind": kind,
        "v": 1,
        "about": id_of(2),
        "at": "2026-05-02T12:00:00+02:00[Europe/Berlin]",
        "made": "019de28d3c00-00000000-00000000000000a1",
        "by": id_of(3),
        "device": id_of(4),
        "data": data,
    } | changed
    return {name: value for name, value in made.items() if value is not ...}


def described(kind: str, data: dict[str, Any], **changed: Any) -> dict[str, Any]:
    """A good description: it has seen nothing open."""
    return entry(kind, data, **({"seen": {field: [] for field in data}} | changed))
