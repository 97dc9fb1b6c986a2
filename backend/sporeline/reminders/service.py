"""The room's front: each method is one or a few transactions, with the clocks it was given."""

from __future__ import annotations

import socket
from typing import Any

from sqlalchemy import func, select

from sporeline.clocks import Clocks
from sporeline.database import Database
from sporeline.errors import SporelineError
from sporeline.ids import Ids
from sporeline.people import Session
from sporeline.reminders import calendars, subscriptions
from sporeline.reminders.endpoints import check_endpoint
from sporeline.reminders.feed import feed_text
from sporeline.reminders.push import Subscription
from sporeline.reminders.tables import due_row
from sporeline.reminders.vapid import Vapid, contact_from, keep_key
from sporeline.settings import Settings


class NoNotices(SporelineError):
    """This server has no address that push services may write to, so it can send none."""

    status = 503
    code = "no-notices-here"
    message = "This server sends no notices; what is due stands in the app as ever."
    fix = "Whoever runs the server has to set push_contact."


class Reminders:
    """What is due for whom, told once at their own hour."""

    def __init__(
        self, settings: Settings, database: Database, clocks: Clocks, ids: Ids, vapid: Vapid | None
    ) -> None:
        """`vapid` None: nobody may be told; everything else works."""
        self._settings = settings
        self._database = database
        self._clocks = clocks
        self._ids = ids
        self._vapid = vapid

    def tick(self) -> None:
        """One round: reckon what changed, tell what is due."""

    def next_due_day(self, after: str) -> str | None:
        """The first day after `after` on which anything is due, in any logbook."""
        with self._database.read() as c:
            later = due_row.c.due > after, due_row.c.state != "closed"
            day: str | None = c.scalar(select(func.min(due_row.c.due)).where(*later))
        return day

    @property
    def push_key(self) -> str | None:
        """What phones subscribe with; None when this server sends no notices."""
        return self._vapid.public if self._vapid else None

    def subscribe(self, session: Session, given: Subscription, key: str | None) -> None:
        """Tell this phone from now on. `key`: what it subscribed with, the present one if unsaid.

        :raise NoNotices: this server sends none. :raise NotValid: an address or keys that cannot
        be used. :raise Clash: ten other phones already.
        """
        if self.push_key is None:
            raise NoNotices
        check_endpoint(given.endpoint, self._settings.push_hosts)
        subscriptions.check_keys(given.p256dh, given.auth)
        with self._database.write() as c:
            subscriptions.subscribe(
                c,
                self._ids.new(),
                session.device,
                session.person,
                given,
                key or self.push_key,
                self._clocks.wall(),
            )

    def unsubscribe(self, session: Session) -> None:
        """No more notices to this phone."""
        with self._database.write() as c:
            subscriptions.unsubscribe(c, session.device)

    def subscription_state(self, session: Session) -> subscriptions.State:
        """See `subscriptions.state_of`."""
        with self._database.read() as c:
            return subscriptions.state_of(c, session.device, self.push_key)

    def open_feed(self, session: Session) -> str:
        """Begin this person's feed anew; gives its secret, once."""
        secret = self._ids.token()
        with self._database.write() as c:
            calendars.open_feed(c, session.person, secret, self._clocks.wall())
        return secret

    def close_feed(self, session: Session) -> None:
        """End this person's feed."""
        with self._database.write() as c:
            calendars.close_feed(c, session.person)

    def feed_state(self, session: Session) -> dict[str, Any]:
        """See `calendars.feed_of`."""
        with self._database.read() as c:
            return calendars.feed_of(c, session.person)

    def feed(self, secret: str) -> bytes | None:
        """The feed that this secret opens, or None."""
        now = self._clocks.wall()
        with self._database.read() as c:
            person = calendars.person_of(c, secret)
            if person is None:
                return None
            events = calendars.events_of(c, person, self._settings.public_url, now)
            name = ", ".join(calendars.names_of(c, person))
        with self._database.write() as c:
            calendars.note_fetched(c, person, now)
        return feed_text(events, name)


def build(settings: Settings, database: Database, clocks: Clocks, ids: Ids) -> Reminders:
    """As the server uses it: its own key, real names of hosts."""
    contact = contact_from(settings.push_contact, settings.public_url)
    vapid = Vapid(keep_key(settings.data_dir), contact) if contact else None
    return Reminders(settings, database, clocks, ids, vapid)


def look_up(host: str, port: int) -> list[str]:
    """The addresses of a host. :raise OSError: there are none."""
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    except UnicodeError as wrong:  # a label too long to be a name
        raise OSError(f"{host} is no name") from wrong
    return [str(address[4][0]) for address in found]
