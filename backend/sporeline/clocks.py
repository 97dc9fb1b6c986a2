"""The two clocks. `wall` is always real; `calendar` says which day it is and may be moved (demo).

Sessions, invitations, leases and `received` go by the wall; what is due goes by the calendar.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta


class Clocks:
    """Both clocks; `wall` gives milliseconds since 1970, UTC. Days are those of UTC."""

    def __init__(self, wall: Callable[[], int], shift_days: int = 0, *, demo: bool = False) -> None:
        self.wall = wall
        self.shift_days = shift_days
        self.demo = demo

    def calendar_today(self) -> str:
        """`YYYY-MM-DD` by the calendar clock."""
        return (self._wall_day() + timedelta(days=self.shift_days)).isoformat()

    def shift_to(self, day: str) -> int:
        """The shift in days with which the calendar would show `day` (`YYYY-MM-DD`)."""
        return (date.fromisoformat(day) - self._wall_day()).days

    def now(self) -> str:
        """The wall clock as `YYYY-MM-DDTHH:MM:SSZ`."""
        return instant(self.wall())

    def _wall_day(self) -> date:
        return datetime.fromtimestamp(self.wall() / 1000, UTC).date()


def instant(ms: int) -> str:
    """Milliseconds since 1970 as `YYYY-MM-DDTHH:MM:SSZ`; parts of a second are dropped."""
    return datetime.fromtimestamp(ms // 1000, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
