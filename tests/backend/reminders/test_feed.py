"""The calendar feed as bytes. What other readers make of it is asked in tests/outside."""

from __future__ import annotations

import pytest

from sporeline.reminders.feed import Dated, feed_text

TASK = "01977a00-0000-7000-8000-000000000004/first-look/2026-06-01"


def dated(**changed: object) -> Dated:
    given: dict[str, object] = {
        "uid": f"{TASK}@ferns.example.org",
        "day": "2026-06-01",
        "title": "Box 4: first look",
        "body": "Look through the lid.",
        "url": "https://ferns.example.org/answer?task=x",
        "sequence": 0,
        "changed_ms": 1_785_000_000_000,
        "cancelled": False,
    }
    return Dated(**{**given, **changed})  # type: ignore[arg-type]


def lines(*events: Dated, name: str = "Our ferns") -> list[str]:
    """Unfolded lines (RFC 5545 §3.1)."""
    text = feed_text(events, name).decode()
    assert text.endswith("\r\n")
    return text.replace("\r\n ", "").removesuffix("\r\n").split("\r\n")


def test_one_whole_day_event_per_task() -> None:
    assert [line for line in lines(dated()) if line.startswith(("DT", "UID", "SEQ", "STATUS"))] == [
        "DTSTART;VALUE=DATE:20260601",
        "DTEND;VALUE=DATE:20260602",
        "DTSTAMP:20260725T172000Z",
        f"UID:{TASK}@ferns.example.org",
        "SEQUENCE:0",
        "STATUS:CONFIRMED",
    ]


def test_a_task_that_is_gone_is_cancelled_under_its_own_uid() -> None:
    before, after = lines(dated()), lines(dated(cancelled=True, sequence=1))
    assert "STATUS:CANCELLED" in after
    assert "SEQUENCE:1" in after
    assert {x for x in before if x.startswith("UID")} == {x for x in after if x.startswith("UID")}


@pytest.mark.parametrize("day", ["2026-03-29", "2026-10-25", "2026-02-28", "2026-12-31"])
def test_a_day_is_a_day_whatever_the_clocks_do(day: str) -> None:
    assert f"DTSTART;VALUE=DATE:{day.replace('-', '')}" in lines(dated(day=day))


def test_no_line_is_longer_than_75_octets() -> None:
    text = feed_text([dated(title="ß" * 300, body="\U0001f33f" * 300)], "n" * 300)
    assert max(len(line) for line in text.split(b"\r\n")) <= 75
    text.decode()  # folding never cuts a character


def test_a_name_cannot_smuggle_in_a_line() -> None:
    evil = "x\r\nEND:VEVENT\nATTENDEE:mailto:a@example.org\u2028\x00;,\\"
    found = lines(dated(title=evil, body=evil), name=evil)
    assert [line for line in found if line.startswith(("ATTENDEE", "END:VEVENT"))] == ["END:VEVENT"]
    assert r"SUMMARY:x  END:VEVENT ATTENDEE:mailto:a@example.org  \;\,\\" in found


def test_equal_tasks_give_equal_bytes() -> None:
    assert feed_text([dated()], "a") == feed_text([dated()], "a")


def test_an_empty_feed_is_a_calendar_still() -> None:
    found = lines()
    assert (found[0], found[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR")
    assert "VERSION:2.0" in found
