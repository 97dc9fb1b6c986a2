"""W(N): N entries of about 300 bytes made with no signal on one phone, ten to a record, one in
twenty a description. W1(N): the same, all about one record."""

from __future__ import annotations

import json
import random
from typing import Any

Json = dict[str, Any]
WORDS = [
    "moss",
    "bank",
    "ford",
    "ledge",
    "wall",
    "shade",
    "north",
    "dry",
    "wet",
    "crozier",
    "pinna",
    "scale",
    "stalk",
    "base",
    "tip",
    "late",
]
DAY_MS = 1_777_593_600_000  # 1 May 2026


def entries(count: int, records: int, person: str, device: str, seed: int) -> list[str]:
    """JSON texts of `count` entries."""
    dice = random.Random(seed)
    about = [_id(dice) for _ in range(records)]
    return [
        json.dumps(
            _entry(dice, number, about[number % records], person, device), ensure_ascii=False
        )
        for number in range(count)
    ]


def _entry(dice: random.Random, number: int, about: str, person: str, device: str) -> Json:
    entry: Json = {
        "id": _id(dice),
        "v": 1,
        "about": about,
        "at": f"2026-04-{number % 28 + 1:02}T12:00:00+02:00[Europe/Berlin]",
        "made": f"{DAY_MS + number:012x}-00000000-00000000000000a1",
        "by": person,
        "device": device,
    }
    note = " ".join(dice.choices(WORDS, k=6))
    if number % 20 == 0:
        return entry | {"kind": "record.described", "data": {"note": note}, "seen": {"note": []}}
    if number % 2:
        return entry | {"kind": "sori.seen", "data": {"ripeness": "ripe", "said": note}}
    return entry | {"kind": "growth.seen", "data": {"growth": "prothalli", "said": note}}


def _id(dice: random.Random) -> str:
    bits = dice.getrandbits(74)
    value = DAY_MS << 80 | (7 << 12 | bits >> 62) << 64 | 2 << 62 | bits & (1 << 62) - 1
    text = f"{value:032x}"
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))
