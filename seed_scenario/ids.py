"""Ids and label codes that are the same in every playing of the story."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator

from sporeline.kernel.code import draw_code


def story_id(ms: int, key: str) -> str:
    """A UUIDv7 (RFC 9562): its time from the story, the rest from the key."""
    bits = int.from_bytes(hashlib.sha256(key.encode()).digest()[:10], "big")
    version = (7 << 12) | ((bits >> 62) & 0xFFF)
    value = (ms << 80) | (version << 64) | (0b10 << 62) | (bits & (2**62 - 1))
    text = f"{value:032x}"
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))


def story_code(key: str) -> str:
    """A label code drawn from the key."""
    return draw_code(_picker(key))


def _picker(key: str) -> Callable[[int], int]:
    draws = _draws(key)
    return lambda below: next(draws) % below


def _draws(key: str) -> Iterator[int]:
    turn = 0
    while True:
        yield from hashlib.sha256(f"{key}/{turn}".encode()).digest()
        turn += 1
