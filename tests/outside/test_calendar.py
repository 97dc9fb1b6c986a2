"""The calendar feed as vobject reads it (RFC 5545, with RFC 7986); icalendar wrote it."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
import vobject

from sporeline.reminders.feed import Dated, feed_text

CHANGED = 1_785_000_000_000


def dated(n: int, day: str, **changed: object) -> Dated:
    given: dict[str, object] = {
        "uid": f"01977a00-0000-7000-8000-00000000000{n}/first-look/{day}@ferns.example.org",
        "day": day,
        "title": f"Box {n}: first look",
        "body": "Look through the lid, then tap what you see.",
        "url": f"https://ferns.example.org/answer?task={n}%2Ffirst-look",
        "sequence": n,
        "changed_ms": CHANGED,
        "cancelled": False,
    }
    return Dated(**{**given, **changed})  # type: ignore[arg-type]


def read(*events: Dated, name: str = "Our ferns") -> vobject.base.Component:
    return vobject.readOne(feed_text(events, name).decode(), validate=True)


# Both days on which the clocks change in Europe, America and on Lord Howe in 2026 (IANA tz
# database), a leap day, and the ends of a year.
DAYS = [
    "2026-03-29",
    "2026-10-25",
    "2026-03-08",
    "2026-11-01",
    "2026-04-05",
    "2026-10-04",
    "2028-02-29",
    "2026-12-31",
    "2027-01-01",
]


def test_each_task_is_one_whole_day_also_where_the_clocks_change() -> None:
    calendar = read(*[dated(n, day) for n, day in enumerate(DAYS)])
    starts = [event.dtstart.value for event in calendar.vevent_list]
    ends = [event.dtend.value for event in calendar.vevent_list]
    assert starts == [date.fromisoformat(day) for day in DAYS]  # a date has no zone: §3.3.4
    assert {end - start for start, end in zip(starts, ends, strict=True)} == {timedelta(days=1)}
    assert not any(isinstance(start, datetime) for start in starts)


def test_what_rfc_5545_section_3_6_1_requires_is_there() -> None:
    calendar = read(dated(3, "2026-06-01"))
    assert calendar.version.value == "2.0"
    assert calendar.prodid.value
    event = calendar.vevent
    assert event.uid.value.endswith("@ferns.example.org")
    assert event.dtstamp.value == datetime.fromtimestamp(CHANGED / 1000, UTC)
    assert event.sequence.value == "3"
    assert event.summary.value == "Box 3: first look"
    assert event.url.value == "https://ferns.example.org/answer?task=3%2Ffirst-look"


def test_what_is_done_is_cancelled() -> None:
    events = read(dated(1, "2026-06-01"), dated(2, "2026-06-02", cancelled=True)).vevent_list
    assert [event.status.value for event in events] == ["CONFIRMED", "CANCELLED"]


@pytest.mark.parametrize(
    "text",
    [
        "Box 4; the big, deep one: first look",
        "back\\slash \\n \\, \\;",
        "Straßenfarn × Hirschzunge \U0001f33f" * 12,
        '"quoted" and ^caret^',
    ],
)
def test_text_comes_back_as_it_was(text: str) -> None:
    """Escaping: RFC 5545 §3.3.11."""
    event = read(dated(1, "2026-06-01", title=text, body=text), name="x").vevent
    assert (event.summary.value, event.description.value) == (text, text)


def test_lines_are_folded_at_75_octets_between_characters() -> None:
    """RFC 5545 §3.1: at most 75 octets without the line break, each broken by CRLF."""
    text = feed_text([dated(1, "2026-06-01", title="\U0001f33fß" * 99)], "ß" * 99)
    lines = text.split(b"\r\n")
    assert lines[-1] == b""
    assert b"\n" not in b"".join(lines)
    assert max(map(len, lines)) <= 75
    assert any(len(line) > 70 for line in lines)
    for line in lines:
        line.decode("utf-8")
