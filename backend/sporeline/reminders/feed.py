"""The calendar feed's text (RFC 5545): one whole-day event per open task.

Whole days, because a task belongs to a day: no zone can move it, summer time cannot double or
drop it, and it stands above the hours of the day instead of pretending to an appointment. The hour
of a notice is the phone's business. Calendars fetch when they like, so the feed reminds nobody; it
shows what is coming.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from icalendar import Calendar, Event

from sporeline.reminders.notices import say

REFRESH = timedelta(hours=6)


@dataclass(frozen=True)
class Dated:
    """One task as a calendar shows it. `changed_ms`: wall clock of its last change."""

    uid: str
    day: str
    title: str
    body: str
    url: str
    sequence: int
    changed_ms: int
    cancelled: bool


def feed_text(events: Iterable[Dated], logbook_name: str) -> bytes:
    """The feed as bytes, lines folded and ended as RFC 5545 §3.1 asks.

    Without `METHOD`, so that `DTSTAMP` is the time of an event's last change (§3.8.7.2) and equal
    tasks give equal bytes.
    """
    calendar = Calendar()
    calendar.add("PRODID", "-//sporeline//what is due//EN")
    calendar.add("VERSION", "2.0")
    calendar.add("CALSCALE", "GREGORIAN")
    name = say("notices.feed.name", name=_plain(logbook_name))
    calendar.add("NAME", name)  # RFC 7986 §5.1, and the older name of the same
    calendar.add("X-WR-CALNAME", name)
    calendar.add("REFRESH-INTERVAL", REFRESH, parameters={"VALUE": "DURATION"})  # RFC 7986 §5.7
    calendar.add("X-PUBLISHED-TTL", "PT6H")
    for event in events:
        calendar.add_component(_event(event))
    return bytes(calendar.to_ical())


def _event(dated: Dated) -> Event:
    day = date.fromisoformat(dated.day)
    changed = datetime.fromtimestamp(dated.changed_ms // 1000, UTC)
    event = Event()
    event.add("UID", dated.uid)
    event.add("DTSTAMP", changed)
    event.add("LAST-MODIFIED", changed)
    event.add("SEQUENCE", dated.sequence)
    event.add("DTSTART", day)
    event.add("DTEND", day + timedelta(days=1))
    event.add("SUMMARY", _plain(dated.title))
    event.add("DESCRIPTION", _plain(dated.body))
    event.add("URL", dated.url)
    event.add("STATUS", "CANCELLED" if dated.cancelled else "CONFIRMED")
    event.add("TRANSP", "TRANSPARENT")  # what is due does not make a person busy
    return event


def _plain(text: str) -> str:
    """Without control characters, which RFC 5545 §3.1 bars; escaping is the library's."""
    return "".join(character if character.isprintable() else " " for character in text)
