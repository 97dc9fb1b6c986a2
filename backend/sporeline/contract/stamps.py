"""The shape of a stamp; what stamps mean is the kernel's."""

from __future__ import annotations

import re

_STAMP = re.compile(r"[0-9a-f]{12}-[0-9a-f]{8}-[0-9a-f]{16}").fullmatch


def is_stamp(value: object) -> bool:
    """`{12 hex ms}-{8 hex counter}-{16 hex node}`, lower case."""
    return isinstance(value, str) and _STAMP(value) is not None
