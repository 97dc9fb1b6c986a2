"""One round: reckon what changed, then tell what is due.

At least once, never lost: a row is marked told only after a push service took the notice, so a
worker that dies in between leads to the notice being sent again under the same tag and topic, where
it takes the place of the first. Nothing is sent from inside a transaction.
"""

from __future__ import annotations

import json
import logging
from dataclasses import dataclass
from typing import Any, Protocol

from sqlalchemy import Row, select

from sporeline import logbook as log
from sporeline.clocks import Clocks
from sporeline.database import Database, get_state, put_state
from sporeline.people.tables import logbook as logbook_table
from sporeline.reminders import reckon, rows, subscriptions
from sporeline.reminders.asked import Now
from sporeline.reminders.hours import Hours, after_quiet, hours_of
from sporeline.reminders.notices import Notice, push_body
from sporeline.reminders.push import Outcome, Subscription
from sporeline.reminders.subscriptions import Receiver

MOST_AT_ONCE = 20
"""Rows per claim: few enough that the lease outlasts them."""

WAITS_S = (60, 300, 900, 3600, 3 * 3600, 6 * 3600)
"""Between tries; the last one goes on until the task is answered."""

USEFUL_S = 3 * 86_400
"""How long a push service keeps a notice for a phone that is off: no signal for a weekend."""

SHIFT = "reminders.shift_days"
_log = logging.getLogger(__name__)


class Sender(Protocol):
    """What the tick needs of `PushSender`."""

    def send(self, to: Subscription, body: bytes, *, ttl_s: int, topic: str) -> Outcome: ...


@dataclass
class Ticker:
    """`key`: the server's public key; None, with `sender` None: nobody can be told."""

    database: Database
    clocks: Clocks
    sender: Sender | None
    key: str | None

    def __post_init__(self) -> None:
        self._shift_at_start = self.clocks.shift_days

    def tick(self) -> None:
        """Reckon, then tell. Trouble with one logbook or one row does not stop the others.

        :raise Exception: the first trouble, after everything else is done.
        """
        arrived = self._calendar_moved()
        troubles = self.reckon_all(everything=arrived)
        if arrived:
            with self.database.write() as c:
                rows.hasten(c, self.clocks.calendar_today(), self.clocks.wall())
            self._keep_shift()
        troubles += self._tell(quiet_aside=arrived)
        if troubles:
            raise troubles[0]

    def reckon_all(self, *, everything: bool = False) -> list[Exception]:
        """Bring the rows of all logbooks up to date; the troubles met."""
        met = [self._reckoned(book, everything) for book in self._logbooks()]
        return [trouble for trouble in met if trouble is not None]

    def reckon(self, logbook: str, *, everything: bool = False) -> None:
        """Bring the rows of a logbook up to date. Whoever was quicker has done it already."""
        now = self._now()
        with self.database.read() as c:
            reckoned = reckon.read(c, logbook, now, everything=everything)
        if reckoned is not None:
            with self.database.write() as c:
                reckon.write(c, reckoned, now)

    def _reckoned(self, logbook: str, everything: bool) -> Exception | None:
        try:
            self.reckon(logbook, everything=everything)
        except Exception as trouble:  # noqa: BLE001 (the others are reckoned all the same)
            _log.exception("reckoning logbook %s failed", logbook)
            return trouble
        return None

    def _tell(self, *, quiet_aside: bool) -> list[Exception]:
        troubles = []
        while claimed := self._claim():
            for row in claimed:
                try:
                    self._deliver(row, quiet_aside)
                except Exception as trouble:  # noqa: BLE001 (tried again when the lease ends)
                    _log.exception("telling task %s failed", row.task)
                    troubles.append(trouble)
        return troubles

    def _claim(self) -> list[Row[Any]]:
        """Rows to tell; nothing is written where there are none."""
        now = self.clocks.wall()
        with self.database.read() as c:
            if not rows.anything_to_tell(c, now):
                return []
        with self.database.write() as c:
            return rows.claim(c, now, MOST_AT_ONCE)

    def _deliver(self, claimed: Row[Any], quiet_aside: bool) -> None:
        """Tell one claimed row, if it is still to be told."""
        self.reckon(claimed.logbook)  # answered a moment ago, on some phone?
        now = self.clocks.wall()
        with self.database.read() as c:
            row = rows.open_row(c, claimed.id, claimed.lease_until)
            hours = hours_in(c, claimed.logbook, claimed.person)
            phones = self._receivers(c, claimed, now)
        if row is None or now >= claimed.lease_until:
            return
        if not quiet_aside and (later := after_quiet(now, hours)) > now:
            self._settle(row, "open", json.loads(row.reached), later, {})
            return
        reached = json.loads(row.reached)
        left = [phone for phone in phones if phone.id not in reached]
        outcomes = {phone.id: self._send(row, phone, now) for phone in left}
        reached += [id for id, outcome in outcomes.items() if outcome.verdict == "accepted"]
        again = [one for one in outcomes.values() if one.verdict in ("later", "refused")]
        state = "open" if again else "told" if reached else "unreached"
        next_try = after_quiet(now + _wait_s(row.tries, again) * 1000, hours)
        self._settle(row, state, reached, next_try, outcomes)

    def _send(self, row: Row[Any], phone: Receiver, now: int) -> Outcome:
        if phone.wait_until > now:
            return Outcome("later", wait_s=(phone.wait_until - now) // 1000 + 1)
        assert self.sender is not None  # there are no receivers without a key
        body = push_body(Notice(row.title, row.body), row.task, row.subject, row.rule)
        topic = f"{row.subject}/{row.rule}"
        return self.sender.send(phone.subscription, body, ttl_s=USEFUL_S, topic=topic)

    def _settle(
        self,
        row: Row[Any],
        state: str,
        reached: list[str],
        next_try: int,
        outcomes: dict[str, Outcome],
    ) -> None:
        now = self.clocks.wall()
        with self.database.write() as c:
            rows.settle(c, row, state, reached, next_try)
            for id, outcome in outcomes.items():
                subscriptions.note(c, id, outcome, now)

    def _receivers(self, c: Any, row: Row[Any], now: int) -> list[Receiver]:
        if self.key is None or self.sender is None:
            return []
        return subscriptions.receivers(c, row.person, row.logbook, self.key, now)

    def _calendar_moved(self) -> bool:
        """Whether the demo's calendar moved since the last round, or since the first start."""
        with self.database.read() as c:
            kept = get_state(c, SHIFT)
        if kept is None:
            self._keep_shift()
            return self.clocks.shift_days != self._shift_at_start
        return kept != str(self.clocks.shift_days)

    def _keep_shift(self) -> None:
        with self.database.write() as c:
            put_state(c, SHIFT, str(self.clocks.shift_days))

    def _logbooks(self) -> list[str]:
        with self.database.read() as c:
            return list(c.scalars(select(logbook_table.c.id).order_by(logbook_table.c.id)))

    def _now(self) -> Now:
        return Now(self.clocks.wall(), self.clocks.shift_days)


def hours_in(c: Any, logbook: str, person: str) -> Hours:
    """A person's hours as their record in that logbook says."""
    for record in log.read_records(c, logbook, ids=[person]):
        return hours_of(record["fields"].get("person.described", {}))
    return Hours()


def _wait_s(tries: int, again: list[Outcome]) -> int:
    wanted = max((outcome.wait_s for outcome in again), default=0)
    return max(WAITS_S[min(max(tries, 1), len(WAITS_S)) - 1], wanted)
