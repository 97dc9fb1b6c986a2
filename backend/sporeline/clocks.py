"""The two clocks. `wall` is always real; `calendar` says which day it is and may be moved (demo).

Sessions, invitations, leases and `received` go by the wall; what is due goes by the calendar.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta


class Clocks:
    """Both clocks; `wall` gives milliseconds since 1970, UTC. Days are those of UTC.

    `keep` stores a new shift of the calendar before it counts.
    """

    def __init__(
        self,
        wall: Callable[[], int],
        shift_days: int = 0,
        *,
        demo: bool = False,
        keep: Callable[[int], None] = lambda shift_days: None,
    ) -> None:
        self.wall = wall
        self.shift_days = shift_days
        self.demo = demo
        self._keep = keep

    def calendar_today(self) -> str:
        """`YYYY-MM-DD` by the calendar clock."""
        return (self._wall_day() + timedelta(days=self.shift_days)).isoformat()

    def move_to(self, day: str) -> None:
        """Let the calendar show `day` (`YYYY-MM-DD`) from now on, also after a restart."""
        shift_days = (date.fromisoformat(day) - self._wall_day()).days
        self._keep(shift_days)
        self.shift_days = shift_days

    def now(self) -> str:
        """The wall clock as `YYYY-MM-DDTHH:MM:SSZ`."""
        return instant(self.wall())

    def _wall_day(self) -> date:
        return datetime.fromtimestamp(self.wall() / 1000, UTC).date()


def instant(ms: int) -> str:
    """Milliseconds since 1970 as `YYYY-MM-DDTHH:MM:SSZ`; parts of a second are dropped."""
    return datetime.fromtimestamp(ms // 1000, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
