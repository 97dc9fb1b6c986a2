"""The room's front: each method is one or a few transactions, with the clocks it was given."""

from __future__ import annotations

import socket
import threading
from typing import Any

from sqlalchemy import Connection, func, select

from sporeline.clocks import Clocks
from sporeline.database import Database
from sporeline.errors import NotThere, SporelineError
from sporeline.ids import Ids
from sporeline.people import Membership, Session
from sporeline.reminders import calendars, rows, subscriptions
from sporeline.reminders.endpoints import check_endpoint
from sporeline.reminders.feed import feed_text
from sporeline.reminders.push import PushSender, Subscription
from sporeline.reminders.records import role_of, rules_of, whole_bench
from sporeline.reminders.tables import due_row
from sporeline.reminders.tasks import tasks_on
from sporeline.reminders.tick import Ticker, hours_in
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
        self,
        settings: Settings,
        database: Database,
        clocks: Clocks,
        ids: Ids,
        sender: PushSender | None,
    ) -> None:
        """`sender` None: nobody can be told; everything else works."""
        self._settings = settings
        self._database = database
        self._clocks = clocks
        self._ids = ids
        self.push_key = sender.key if sender else None
        """What phones subscribe with; None when this server sends no notices."""
        self._ticker = Ticker(database, clocks, sender, self.push_key)
        self._turn = threading.Lock()

    def tick(self) -> None:
        """One round: reckon what changed, tell what is due. One at a time in this process."""
        with self._turn:
            self._ticker.tick()

    def next_due_day(self, after: str) -> str | None:
        """The first day after `after` on which anything is due, in any logbook."""
        self._ticker.reckon_all()
        with self._database.read() as c:
            later = due_row.c.due > after, due_row.c.state != "closed"
            day: str | None = c.scalar(select(func.min(due_row.c.due)).where(*later))
        return day

    def tasks(self, here: Membership, day: str, person: str | None) -> dict[str, Any]:
        """`{"on", "tasks"}`: what is due up to that day of what `person` keeps, else of everything,
        reckoned from the records as they are now.

        :raise NotThere: `person` is no member of this logbook.
        """
        with self._database.read() as c:
            if person is not None and role_of(c, here.logbook, person) is None:
                raise NotThere(code="no-such-person", where="for")
            bench, subjects = whole_bench(c, here.logbook)
            rules = rules_of(c, here.logbook, bench)
            return {"on": day, "tasks": tasks_on(bench, subjects, rules, person, day)}

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
            self._tell_anew(c, session.person)

    def _tell_anew(self, c: Connection, person: str) -> None:
        now, shift = self._clocks.wall(), self._clocks.shift_days
        for logbook in calendars.logbooks_of(c, person):
            rows.reopen(c, logbook.id, person, hours_in(c, logbook.id, person), now, shift)

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
            name = ", ".join(logbook.name for logbook in calendars.logbooks_of(c, person))
        with self._database.write() as c:
            calendars.note_fetched(c, person, now)
        return feed_text(events, name)


def build(settings: Settings, database: Database, clocks: Clocks, ids: Ids) -> Reminders:
    """As the server uses it: its own key, real names of hosts."""
    contact = contact_from(settings.push_contact, settings.public_url)
    sender = None
    if contact is not None:
        vapid = Vapid(keep_key(settings.data_dir), contact)
        sender = PushSender(vapid, settings.push_hosts, look_up, clocks.wall)
    return Reminders(settings, database, clocks, ids, sender)


def look_up(host: str, port: int) -> list[str]:
    """The addresses of a host. :raise OSError: there are none."""
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    except UnicodeError as wrong:  # a label too long to be a name
        raise OSError(f"{host} is no name") from wrong
    return [str(address[4][0]) for address in found]
