"""When something happened, as people say it: a day, or a day with its hour and zone.

`YYYY-MM-DD` or `YYYY-MM-DDTHH:MM:SS±HH:MM[Area/City]` (RFC 9557). Whether a zone has that offset on
that day is not asked: rules of zones change, and what a person saw does not.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import lru_cache

_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})").fullmatch
_HOUR = re.compile(
    r"T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]"
    r"[+-](?:0[0-9]|1[0-4]):[0-5][0-9]"
    r"\[[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+)*\]"
).fullmatch


@lru_cache(maxsize=4096)
def is_day(text: str) -> bool:
    """Whether this is a day that exists, from year 1 on."""
    parts = _DAY(text)
    if not parts:
        return False
    try:
        date(*map(int, parts.groups()))
    except ValueError:
        return False
    return True


def has_day_shape(text: str) -> bool:
    """Whether this is written as a day, be there such a day or not."""
    return _DAY(text) is not None


def has_hour_shape(text: str) -> bool:
    """Whether what follows the day is nothing, or an hour with offset and zone."""
    return not text or _HOUR(text) is not None


@lru_cache(maxsize=64)
def day_after(text: str) -> str:
    """The day after; the last day of the calendar stays itself."""
    day = date.fromisoformat(text)
    return (day + timedelta(days=1) if day < date.max else day).isoformat()
