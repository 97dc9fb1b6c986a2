"""Ids, secrets and draws, from injected randomness, so that a test can know them beforehand."""

from __future__ import annotations

import base64
import uuid
from collections.abc import Callable


class Ids:
    """`random_bytes(n)` must be fit for secrets; `wall` gives milliseconds since 1970."""

    def __init__(self, random_bytes: Callable[[int], bytes], wall: Callable[[], int]) -> None:
        self._random_bytes = random_bytes
        self._wall = wall

    def new(self) -> str:
        """A UUIDv7 (RFC 9562 §5.7) as text. It orders and names; it never opens anything."""
        value = (self._wall() & 0xFFFF_FFFF_FFFF) << 80 | int.from_bytes(self._random_bytes(10))
        value = value & ~(0xF << 76) | 7 << 76
        value = value & ~(0x3 << 62) | 2 << 62
        return str(uuid.UUID(int=value))

    def token(self) -> str:
        """A secret of 256 bits, safe in a header, a cookie and an address."""
        return base64.urlsafe_b64encode(self._random_bytes(32)).rstrip(b"=").decode()

    def draw(self, below: int) -> int:
        """A whole number from 0 to `below` − 1, each equally likely. `below` ≤ 256."""
        fair = 256 - 256 % below
        while (byte := self._random_bytes(1)[0]) >= fair:
            pass
        return byte % below
