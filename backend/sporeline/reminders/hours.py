"""When a person is told: the notice hour of a local day, as an instant, and the quiet hours.

What is due is whole local days and needs no zone; only the hour does. Summer time never drops or
doubles a notice: an hour that a day skips becomes the first minute after the gap, an hour that
a day has twice means the first of the two.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import Any
from zoneinfo import ZoneInfo

DAY_MINUTES = 24 * 60
USUAL_MINUTE = 8 * 60
"""08:00, for a person who has not chosen an hour."""


@dataclass(frozen=True)
class Hours:
    """A person's notice hour, zone and quiet hours; minutes after local midnight."""

    at: int = USUAL_MINUTE
    zone: tzinfo = UTC
    quiet: tuple[int, int] | None = None
    """From (included) to (not included); from after to runs over midnight; equal = never."""


def hours_of(person: Mapping[str, Any]) -> Hours:
    """Hours from the fields of `person.described`; what is absent or unknown falls back.

    A zone this server does not know is UTC: a notice at an odd hour is better than none.
    """
    quiet = person.get("quiet") or {}
    start, end = _minute(quiet.get("from")), _minute(quiet.get("to"))
    at = _minute(person.get("notice_at"))
    return Hours(
        at=USUAL_MINUTE if at is None else at,
        zone=_zone(person.get("zone")),
        quiet=None if start is None or end is None or start == end else (start, end),
    )


def local_day(wall_ms: int, zone: tzinfo, shift_days: int = 0) -> str:
    """The calendar day (`YYYY-MM-DD`) in `zone` at `wall_ms`, moved by the demo's shift."""
    return (_local(wall_ms, zone).date() + timedelta(days=shift_days)).isoformat()


def notice_instant(day: str, hours: Hours, shift_days: int = 0) -> int:
    """Milliseconds since 1970 at which a person is told what is due on the calendar's `day`.

    `shift_days`: how far the calendar runs ahead of the wall clock (demo).
    """
    wall_day = date.fromisoformat(day) - timedelta(days=shift_days)
    return after_quiet(_instant(wall_day, hours.at, hours.zone), hours)


def midnight(day: str, hours: Hours, shift_days: int = 0) -> int:
    """When the calendar's `day` begins where the person is."""
    return _instant(date.fromisoformat(day) - timedelta(days=shift_days), 0, hours.zone)


def after_quiet(wall_ms: int, hours: Hours) -> int:
    """`wall_ms`, or the end of the quiet hours that it falls into. Never earlier than given."""
    if hours.quiet is None:
        return wall_ms
    start, end = hours.quiet
    local = _local(wall_ms, hours.zone)
    minute = local.hour * 60 + local.minute
    over_midnight = start > end
    within = minute >= start or minute < end if over_midnight else start <= minute < end
    if not within:
        return wall_ms
    tomorrow = over_midnight and minute >= start
    day = local.date() + timedelta(days=1 if tomorrow else 0)
    # In the hour that a day has twice, the first end of the quiet hours counts: hence the max.
    return max(wall_ms, _instant(day, end, hours.zone))


def _instant(day: date, minute: int, zone: tzinfo) -> int:
    """The first instant at which `zone` shows `minute` of `day`, or the first minute after."""
    wanted = datetime(day.year, day.month, day.day) + timedelta(minutes=minute)
    for _ in range(2 * DAY_MINUTES):  # the longest known gap is one whole day (Samoa 2011)
        aware = wanted.replace(tzinfo=zone, fold=0).astimezone(UTC)
        if aware.astimezone(zone).replace(tzinfo=None) == wanted:
            break
        wanted += timedelta(minutes=1)
    return int(aware.timestamp()) * 1000


def _local(wall_ms: int, zone: tzinfo) -> datetime:
    return datetime.fromtimestamp(wall_ms / 1000, UTC).astimezone(zone)


def _minute(text: object) -> int | None:
    """Minutes after midnight of `HH:MM`, or None."""
    if not isinstance(text, str):
        return None
    hour, colon, minute = text.partition(":")
    if not (colon and hour.isdecimal() and minute.isdecimal()):
        return None
    value = int(hour) * 60 + int(minute)
    return value if int(minute) < 60 and value < DAY_MINUTES else None


def _zone(name: object) -> tzinfo:
    try:
        return ZoneInfo(name) if isinstance(name, str) and name else UTC
    except (ValueError, OSError, KeyError):  # unknown, malformed, or a folder of the zone files
        return UTC
